package hostclock

import (
	"context"
	"errors"
	"fmt"
	"net"
	"time"

	"github.com/beevik/ntp"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Offset is one comparison of this computer's time of day with a server's.
type Offset struct {
	Server    string        `json:"server"`
	Behind    unit.Duration `json:"behind"`     // this computer is behind the server by so much: add it; negative when ahead
	Limit     unit.Duration `json:"limit"`      // greatest error of Behind, the server's own distance from true time included
	RoundTrip unit.Duration `json:"round_trip"` // of question and answer
	Stratum   int           `json:"stratum"`    // 1 is a server with a reference of its own
	When      time.Time     `json:"when"`       // by this computer, when the answer came
}

// Errors of Ask; what the network said is wrapped beside them.
var (
	ErrServer = errors.New("hostclock: the time server did not answer")
	ErrRefuse = errors.New("hostclock: the time server's answer cannot be used")
)

// longest is how long an answer is waited for.
const longest = 5 * time.Second

// Ask compares this computer's time of day with a time server's once, by
// SNTP: "host", "host:port" or "[address]:port". It is the only thing here
// that sends anything. Do not ask a public server oftener than every few
// minutes.
func Ask(ctx context.Context, server string) (Offset, error) {
	ctx, cancel := context.WithTimeout(ctx, longest)
	defer cancel()
	var stop func() bool
	dial := func(_, remote string) (net.Conn, error) {
		var d net.Dialer
		c, err := d.DialContext(ctx, "udp", remote)
		if err == nil {
			stop = context.AfterFunc(ctx, func() { c.Close() })
		}
		return c, err
	}
	r, err := ntp.QueryWithOptions(server, ntp.QueryOptions{Timeout: longest, Dialer: dial})
	when := time.Now()
	if stop != nil {
		stop()
	}
	if ctx.Err() != nil {
		return Offset{}, fmt.Errorf("%w: %s: %w", ErrServer, server, ctx.Err())
	}
	if err != nil {
		return Offset{}, fmt.Errorf("%w: %s: %w", ErrServer, server, err)
	}
	if err := r.Validate(); err != nil {
		return Offset{}, fmt.Errorf("%w: %s: %w", ErrRefuse, server, err)
	}
	return Offset{
		Server:    server,
		Behind:    unit.Duration(r.ClockOffset.Seconds()),
		Limit:     unit.Duration(max(r.RootDistance, r.RTT/2+r.Precision).Seconds()),
		RoundTrip: unit.Duration(r.RTT.Seconds()),
		Stratum:   int(r.Stratum),
		When:      when,
	}, nil
}

// RateBetween is the rate of this computer's steady count between two
// questions asked by the same run of the program: positive when it is fast.
// The limits are those of the two offsets added, so they are never exceeded
// by a server that keeps its word. Nothing is known where less than a second
// of the count passed, or where either instant came from a file. What a recorder was
// found against this count is put right by sampleclock's Fit.By.
func RateBetween(a, b Offset) meas.Interval[unit.Rate] {
	if a.When == a.When.Round(0) || b.When == b.When.Round(0) {
		return meas.Interval[unit.Rate]{} // no steady reading in it
	}
	count := b.When.Sub(a.When).Seconds()
	wall := b.When.Round(0).Sub(a.When.Round(0)).Seconds()
	span := wall + float64(b.Behind-a.Behind)
	if !(count > 1) || !(span > 1) {
		return meas.Interval[unit.Rate]{}
	}
	rate := count/span - 1
	half := float64(a.Limit+b.Limit) / span
	return meas.Around(unit.Rate(rate), unit.Rate(half/2), 2)
}
