package shop

import (
	"context"
	"errors"
	"time"

	"seatboard/internal/book/trial"
	"seatboard/internal/craft/pendulum"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/craft/regulate/home"
	"seatboard/internal/kit/cite"
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
	n.Answer, n.Faults, err = goingHome(s.worked(ctx, t.Survey).Pendulum, *t.Answer, n.Home)
	return n, explain(err)
}

// goingHome is what a clock with a trial will do in its home; faults are what
// cannot be read or reckoned of it.
func goingHome(p *pendulum.Answer, a regulate.Answer, h trial.Home) (out home.Answer, faults meas.Faults, err error) {
	var here pendulum.Query
	if p != nil {
		here = p.Query
	}
	q := homeOf(here, a)
	q.Want = meas.Of(a.Query.Wanted.Rate)
	if a.Query.Wanted.Band > 0 {
		q.Band = meas.Of(a.Query.Wanted.Band)
	}
	placed := q.Latitude.Set || q.Gravity.Set
	if faults = there(&q, h); len(faults) > 0 {
		return out, faults, nil
	}
	if out, err = home.Solve(q); errors.As(err, &faults) {
		return home.Answer{}, faults, nil
	}
	for i := range out.Findings {
		f := &out.Findings[i]
		switch known := h.Latitude != "" || h.Gravity != ""; {
		case f.Code != "no-gravity":
		case known && !placed:
			f.Next = "Write the latitude of the shop into the survey’s pendulum."
		case placed && !known:
			f.Next = "Write the latitude of its home under What counts as right."
		}
	}
	return out, nil, err
}

// solveForHome reckons a trial, and where the clock is set for its home takes
// what going there does into the advice. Where a home is written down and is
// not in the advice, it says that and why.
func solveForHome(ctx context.Context, b trial.Book, q regulate.Query, p *pendulum.Answer) (regulate.Answer, error) {
	aim, _ := b.Aim()
	if aim.Home == nil || !aim.Home.Says() {
		return regulate.Solve(ctx, q)
	}
	_, on := b.SetForHome()
	var h home.Answer
	var faults meas.Faults
	a, err := regulate.SolveMoved(ctx, q, func(a regulate.Answer) meas.Result[unit.Rate] {
		var wrong error
		if h, faults, wrong = goingHome(p, a, *aim.Home); wrong != nil {
			faults = meas.Faults{{Text: wrong.Error()}}
		}
		if !on {
			return meas.Result[unit.Rate]{}
		}
		return h.Gain
	})
	if err != nil || !a.Complete {
		return a, err
	}
	sayHome(&a, on, h, faults)
	return a, nil
}

// sayHome says beside the advice what the home does, with its working.
func sayHome(a *regulate.Answer, on bool, h home.Answer, faults meas.Faults) {
	say := func(level meas.Level, text, next string) {
		a.Findings = append(a.Findings, meas.Finding{Level: level, Code: "regulate.home", Text: text, Next: next, About: []string{"home"}})
	}
	switch {
	case len(faults) > 0:
		say(meas.Doubt, "The home that is written down cannot be reckoned with: "+faults[0].Text+". The advice is for here", "Put it right under What counts as right")
		return
	case !h.Gain.Set && on:
		say(meas.Doubt, "It is to be set for its home, and what going there does is not known: the place or the warmth here is not written down. The advice is for here", "Write the latitude into the survey’s pendulum, or the warmth with the readings")
		return
	case !on && h.Gain.Set:
		say(meas.Note, "A home is written down: by going there its rate changes by "+h.Gain.Text("s/d", 1)+". The advice is for here until the last gate", "Say “set it for home” to have it in the advice now")
		return
	case !on:
		return
	}
	steps := []cite.Step{}
	for _, x := range h.Working {
		switch x.Name {
		case "Gravity", "Gravity of the place", "Rate at the other place", "Change by warmth", "Change in all":
			steps = append(steps, x)
		}
	}
	a.Working = append(steps, a.Working...)
	for _, f := range h.Findings {
		if f.Code == "no-gravity" || f.Code == "no-warmth" || f.Code == "gravity-of-place" || f.Code == "gravity-and-place" {
			a.Findings = append(a.Findings, f)
		}
	}
}

// SetForHome writes down when a clock is regulated for its home: from now on,
// at its last gate, or not at all.
func (s *Shop) SetForHome(ctx context.Context, by string, clock int64, seen int, when trial.ForHome) error {
	g, err := s.Gates(ctx, clock)
	if err != nil {
		return err
	}
	if g.Aim.Home == nil || !g.Aim.Home.Says() {
		return &Problem{Code: BadInput, Message: "No home of this clock is written down.", Hint: "Write its latitude or the warmth there under What counts as right."}
	}
	if g.Aim.ForHome == when {
		return &Problem{Code: Conflict, Message: "This is written down already.", Hint: "Nothing is left to do."}
	}
	g.Aim.ForHome = when
	return s.SetAim(ctx, by, clock, seen, g.Aim)
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
