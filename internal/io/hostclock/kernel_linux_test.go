package hostclock

import (
	"context"
	"math"
	"testing"

	"golang.org/x/sys/unix"

	"seatboard/internal/craft/listen/sampleclock"
)

func TestKernelAnswers(t *testing.T) {
	for _, c := range []struct {
		name  string
		state int
		t     unix.Timex
		on    bool
		kind  sampleclock.Discipline
	}{
		{"steered, small figures", 0, unix.Timex{Maxerror: 900, Esterror: 50, Tick: 10000}, true, sampleclock.NearServer},
		{"steered, no estimate", 0, unix.Timex{Maxerror: 16000, Tick: 10000}, true, sampleclock.FarServer},
		{"steered, poorly", 0, unix.Timex{Maxerror: 90000, Esterror: 8000, Tick: 10000}, true, sampleclock.PoorServer},
		{"flag says no", 0, unix.Timex{Status: staUnsync, Tick: 10000}, false, sampleclock.Undisciplined},
		{"state says no", timeError, unix.Timex{Maxerror: 16000000, Tick: 10000}, false, sampleclock.Undisciplined},
	} {
		s := read(c.state, &c.t)
		if s.Disciplined != c.on || s.Host().Kind != c.kind || !s.Known || s.How == "" {
			t.Errorf("%s: %+v, host %+v", c.name, s, s.Host())
		}
	}
	if h := read(0, &unix.Timex{Esterror: 8000}).Host(); math.Abs(float64(h.Wander)-8e-3) > 1e-12 {
		t.Errorf("wander %g, want the kernel's 8 ms", h.Wander)
	}
	if f := read(0, &unix.Timex{Freq: -65536 * 12, Tick: 10001}).FrequencyPPM; f != 88 {
		t.Errorf("frequency %g ppm, want 88", f)
	}
}

func TestAskTheKernel(t *testing.T) {
	s := Disciplined(context.Background())
	t.Logf("%+v", s)
	if s.How == "" {
		t.Error("the status says nothing")
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if s := Disciplined(ctx); s.Known {
		t.Error("asked though told to stop")
	}
}
