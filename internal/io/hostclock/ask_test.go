package hostclock

import (
	"context"
	"encoding/binary"
	"errors"
	"math"
	"net"
	"testing"
	"time"

	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/kit/unit"
)

// serve answers SNTP on the loopback with a clock that is ahead by so much.
// The stratum is 0 for a server that refuses, 2 for a good one, -1 for none
// that answers.
func serve(t *testing.T, ahead time.Duration, stratum int) string {
	t.Helper()
	c, err := net.ListenPacket("udp", "127.0.0.1:0")
	if err != nil {
		t.Skip("no loopback: ", err)
	}
	t.Cleanup(func() { c.Close() })
	go func() {
		b := make([]byte, 512)
		for {
			n, from, err := c.ReadFrom(b)
			if err != nil {
				return
			}
			if n < 48 || stratum < 0 {
				continue
			}
			now := time.Now().Add(ahead)
			a := make([]byte, 48)
			a[0], a[1], a[2], a[3] = 4<<3|4, byte(stratum), 6, 0xec // version 4, a server; precision 2^-20 s
			binary.BigEndian.PutUint32(a[8:], 66)                   // dispersion: 1 ms
			copy(a[24:32], b[40:48])
			for _, at := range []int{16, 32, 40} {
				binary.BigEndian.PutUint32(a[at:], uint32(now.Unix()+2208988800))
				binary.BigEndian.PutUint32(a[at+4:], uint32(float64(now.Nanosecond())/1e9*(1<<32)))
			}
			c.WriteTo(a, from)
		}
	}()
	return c.LocalAddr().String()
}

func TestAsk(t *testing.T) {
	for _, ahead := range []time.Duration{0, 1500 * time.Millisecond, -3 * time.Hour} {
		o, err := Ask(context.Background(), serve(t, ahead, 2))
		if err != nil {
			t.Fatal(err)
		}
		if d := math.Abs(float64(o.Behind) - ahead.Seconds()); d > float64(o.Limit) || o.Limit < 1e-3 || o.Stratum != 2 || o.When.IsZero() {
			t.Errorf("behind %.6f s, want %.6f within %.6f: %+v", o.Behind, ahead.Seconds(), o.Limit, o)
		}
	}
}

func TestAskWithoutAnAnswer(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	server := serve(t, 0, -1)
	go func() { cancel() }()
	if _, err := Ask(ctx, server); !errors.Is(err, ErrServer) || !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
	if _, err := Ask(context.Background(), serve(t, 0, 0)); !errors.Is(err, ErrRefuse) {
		t.Errorf("a server that refuses: %v", err)
	}
	for _, bad := range []string{"", "a:b:c:d", "127.0.0.1:99999999"} {
		if _, err := Ask(context.Background(), bad); !errors.Is(err, ErrServer) {
			t.Errorf("%q: %v", bad, err)
		}
	}
}

func TestRateBetween(t *testing.T) {
	now := time.Now()
	a := Offset{Behind: 0.1, Limit: 2e-3, When: now}
	b := Offset{Behind: 0.064, Limit: 3e-3, When: now.Add(time.Hour)}
	r := RateBetween(a, b) // gained 36 ms in the hour
	if !r.Set || math.Abs(float64(r.Value)-1e-5) > 1e-9 || math.Abs(float64(r.Half())-5e-3/3600) > 1e-9 {
		t.Errorf("%+v, want 10 ppm ± 1.39 ppm", r)
	}
	b.When = b.When.Round(0)
	if r := RateBetween(a, b); r.Set {
		t.Error("an instant without a steady reading gave a rate")
	}
	if r := RateBetween(a, a); r.Set {
		t.Error("no time gave a rate")
	}
}

func TestClock(t *testing.T) {
	c := Start()
	last := unit.Duration(-1)
	for range 1000 {
		now := c.Now()
		if now < last {
			t.Fatal("the count went back")
		}
		last = now
	}
}

func TestNotKnownIsNotDisciplined(t *testing.T) {
	if h := (Status{Disciplined: true}).Host(); h.Kind != sampleclock.Undisciplined || h.Rate == 0 {
		t.Errorf("%+v", h)
	}
}
