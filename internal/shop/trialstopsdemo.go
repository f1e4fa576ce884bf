package shop

import (
	"context"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/trial"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// demoStops writes down five invented stops at one tooth of a third wheel of
// five minutes; each time it was set going as the hour came round again.
func (s *Shop) demoStops(ctx context.Context, clock int64) error {
	now := s.now()
	var out []trial.Event
	for _, d := range []struct {
		ago, hour, minute int
		strike            string
		room              float64
	}{{19, 2, 47, "at rest", 16.5}, {15, 5, 12, "at rest", 17}, {12, 11, 37, "not known", 15.5}, {8, 8, 22, "at rest", 17.5}, {3, 6, 57, "warned", 16}} {
		stood := time.Date(now.Year(), now.Month(), now.Day()-d.ago, d.hour, d.minute, 0, 0, now.Location())
		found, again := stood.Add(6*time.Hour), stood.Add(12*time.Hour)
		stop := trial.Stop{Found: job.Instant(found), Hour: d.hour, Minute: float64(d.minute), Strike: d.strike, Wound: job.Instant(found.AddDate(0, 0, -4)),
			Room: meas.Exactly(unit.Temperature(273.15 + d.room)), Pendulum: "hanging still"}
		for _, e := range []trial.Event{trial.OfStop(nil, stop), trial.OfTouch(nil, regulate.Touch{At: job.Instant(again), Kind: regulate.Started, Words: "as the hour came round"})} {
			e.When, e.Who = job.Instant(again), DemoName
			out = append(out, e)
		}
	}
	return s.demoLog(ctx, clock, out)
}
