package shop

import (
	"context"
	"errors"
	"time"

	"seatboard/internal/book/trial"
	"seatboard/internal/craft/pendulum"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/craft/regulate/home"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// NewHome is a clock on trial with what it will do where it goes.
type NewHome struct {
	Trial
	Home   trial.Home // as typed with what counts as right
	Said   bool       // there is one
	Answer home.Answer
	Faults meas.Faults // what cannot be read or reckoned; then there is no answer
}

// NewHome works out what a clock on trial will do in its home: the place of
// the survey's pendulum against that of the home, the rate, the nut and the
// effect of warmth as the trial found them, else as they were held beforehand.
func (s *Shop) NewHome(ctx context.Context, clock int64) (NewHome, error) {
	t, err := s.Trial(ctx, clock)
	if err != nil {
		return NewHome{}, err
	}
	n := NewHome{Trial: t}
	aim, _ := t.Book.Aim()
	if aim.Home != nil {
		n.Home, n.Said = *aim.Home, true
	}
	var here pendulum.Query
	if p := s.worked(ctx, t.Survey).Pendulum; p != nil {
		here = p.Query
	}
	q := homeOf(here, *t.Answer)
	q.Want = meas.Of(t.Query.Wanted.Rate)
	if t.Query.Wanted.Band > 0 {
		q.Band = meas.Of(t.Query.Wanted.Band)
	}
	n.Faults = there(&q, n.Home)
	if len(n.Faults) > 0 {
		return n, nil
	}
	if n.Answer, err = home.Solve(q); err != nil && !errors.As(err, &n.Faults) {
		return n, explain(err)
	}
	return n, nil
}

// homeOf is what is known of a clock here.
func homeOf(p pendulum.Query, a regulate.Answer) home.Query {
	known := a.Query.Known
	q := home.Query{Latitude: p.Latitude, Height: p.Height, Gravity: p.Gravity, Divisions: known.Divisions,
		PerTurn: readingOf(known.PerTurn), PerKelvin: readingOf(known.PerKelvin), PerGram: readingOf(known.PerGram)}
	for _, c := range a.Causes {
		if !c.Told || !c.Value.Set {
			continue
		}
		switch c.Name {
		case "nut":
			q.PerTurn = meas.OfU(c.Value.Value, c.Value.U)
		case "temperature":
			q.PerKelvin = meas.OfU(c.Value.Value, c.Value.U)
		case "tray":
			q.PerGram = meas.OfU(c.Value.Value, c.Value.U)
		}
	}
	if w := a.Rate.Week; a.Complete && w.Set {
		q.Rate = meas.OfU(w.Value, w.U)
	}
	q.Warmth = lateWarmth(a.Query)
	return q
}

// lateWarmth is the mean temperature of the last week of a trial; its rate to
// come is reckoned in air like that.
func lateWarmth(q regulate.Query) meas.Reading[unit.Temperature] {
	sum, n := 0.0, 0.0
	for _, x := range q.Air {
		if x.Temperature.Set && q.Now.Sub(x.At) < 7*24*time.Hour && !x.At.After(q.Now) {
			sum, n = sum+float64(x.Temperature.Value), n+1
		}
	}
	if n == 0 {
		return meas.Reading[unit.Temperature]{}
	}
	return meas.Of(unit.Temperature(sum / n))
}

// readingOf is what is known as a reading.
func readingOf[Q unit.Quantity](r meas.Result[Q]) meas.Reading[Q] {
	return meas.Reading[Q]{Value: r.Value, U: r.U, HasU: r.HasU, Set: r.Set}
}

// there reads the home as it was typed. What is known of one place only is
// left out: a change needs both, and the answer says what it wants.
func there(q *home.Query, h trial.Home) meas.Faults {
	var faults meas.Faults
	readHome(&q.ToLatitude, &faults, "Latitude", h.Latitude, "°")
	readHome(&q.ToHeight, &faults, "Height above the sea", h.Height, "m")
	readHome(&q.ToGravity, &faults, "Gravity", h.Gravity, "m/s²")
	readHome(&q.ToWarmth, &faults, "The room there", h.Temperature, "°C")
	here, to := q.Latitude.Set || q.Gravity.Set, q.ToLatitude.Set || q.ToGravity.Set
	if !here || !to {
		var none home.Query
		q.Latitude, q.Height, q.Gravity = none.Latitude, none.Height, none.Gravity
		q.ToLatitude, q.ToHeight, q.ToGravity = none.Latitude, none.Height, none.Gravity
	}
	if !q.Warmth.Set || !q.ToWarmth.Set {
		q.Warmth, q.ToWarmth = meas.Reading[unit.Temperature]{}, meas.Reading[unit.Temperature]{}
	}
	return faults
}

func readHome[Q unit.Quantity](to *meas.Reading[Q], faults *meas.Faults, what, text, symbol string) {
	r, err := meas.Parse[Q](text, symbol)
	if err != nil {
		*faults = append(*faults, meas.Fault{Text: what + ": " + err.Error()})
		return
	}
	*to = r
}
