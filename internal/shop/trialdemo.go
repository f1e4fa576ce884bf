package shop

import (
	"context"
	"math"
	"math/rand/v2"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/trial"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// demoDays is how long the regulator of the demonstration has been on trial.
const demoDays = 22

// demoTrial writes down three invented weeks on trial: read morning and
// evening by eye, the room's temperature beside it, the nut touched twice,
// wound on Sundays, and one reading taken a minute wrong.
func (s *Shop) demoTrial(ctx context.Context, clock int64) error {
	return s.demoLog(ctx, clock, demoWeeks(s.now()))
}

// demoLog puts events into the log of a clock's trial as they are, with their
// own instants.
func (s *Shop) demoLog(ctx context.Context, clock int64, events []trial.Event) error {
	return s.store.Update(ctx, DemoName, func(tx *store.Tx) error {
		c, err := tx.Clock(clock)
		if err != nil {
			return err
		}
		l, b, _, err := s.readTrialLog(tx, c)
		if err != nil {
			return err
		}
		for _, e := range events {
			if _, faults := b.Add(e); len(faults) > 0 {
				return faults
			}
		}
		_, err = store.Append(tx, l, b.Log()...)
		return err
	})
}

// demoWeeks makes the events up; the last is before now.
func demoWeeks(now time.Time) []trial.Event {
	y, m, d := now.Date()
	noise := rand.New(rand.NewPCG(11, 1868))
	rate, fast := 9.4, 0.0 // s a day, s
	var out []trial.Event
	put := func(at time.Time, e trial.Event) {
		e.When, e.Who = job.Instant(at.Add(20*time.Second)), DemoName
		out = append(out, e)
	}
	host := &trial.Host{From: trial.ByPhone, U: 0.05, Kept: trial.KeptRight}
	last := time.Date(y, m, d-demoDays, 8, 40, 0, 0, now.Location())
	put(last, trial.OfTouch(host, regulate.Touch{At: job.Instant(last), Kind: regulate.Started, HasError: true, U: 1, Words: "hung on the stand, set by the phone"}))
	aim := trial.Presets()[0].Aim
	aim.Promise = "right to ten seconds a week, in the boathouse"
	aim.Home = &trial.Home{Place: "Skerrow Sound Lifeboat Station, the boathouse", Latitude: "58.6° N", Height: "6 m", Temperature: "11 ± 2 °C"}
	put(last, trial.OfAim(aim))
	put(last, trial.OfGate(trial.Began, "stand", ""))
	for half := 1; ; half++ {
		day, hour := half/2, []int{9, 17}[half%2]
		at := time.Date(y, m, d-demoDays+day, hour, 2+noise.IntN(40), noise.IntN(60), 0, now.Location())
		if !at.Before(now.Add(-time.Hour)) {
			return out
		}
		room := 17 + 1.9*math.Sin(float64(day)*0.7) + 0.7*float64(half%2)
		fast += (rate - 0.16*(room-17) + 0.25*noise.NormFloat64()) * at.Sub(last).Hours() / 24
		last = at
		seen := math.Round(2*(fast+0.35*noise.NormFloat64())) / 2
		if half == 19 {
			seen += 60
		}
		put(at, trial.OfReadings(host, "", regulate.Reading{At: job.Instant(at), How: regulate.ByHand, Error: unit.Duration(seen), U: 0.5}))
		put(at, trial.OfAir(host, "", regulate.Air{At: job.Instant(at), Temperature: meas.Exactly(unit.Temperature(273.15 + math.Round(2*room)/2))}))
		if nut := map[int]float64{11: -16.0 / 60, 26: -3.0 / 60}[half]; nut != 0 {
			put(at.Add(time.Minute), trial.OfTouch(host, regulate.Touch{At: job.Instant(at.Add(time.Minute)), Kind: regulate.NutTurned, Turns: nut}))
			rate += nut * 34.2
		}
		if at.Weekday() == time.Sunday && half%2 == 0 {
			put(at.Add(2*time.Minute), trial.OfTouch(host, regulate.Touch{At: job.Instant(at.Add(2 * time.Minute)), Kind: regulate.Wound}))
		}
	}
}
