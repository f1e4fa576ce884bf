package shop

import (
	"context"
	"strings"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/trial"
	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Winding is when a clock on trial wants to be wound, and what is asked about
// that.
type Winding struct {
	Last time.Time     // wound, as it is written down; zero where nothing is
	From time.Time     // where nothing is: the first thing that is written of its going
	Goes unit.Duration // from wound to down
	By   GoesBy
	Due  time.Time
	Down bool // had it not been wound since From it would be down
}

// GoesBy says where it is from how long a clock goes.
type GoesBy string

// Where it is from.
const (
	GoesSaid   GoesBy = "said"   // somebody wrote it down for this clock
	GoesSurvey GoesBy = "survey" // the sums of its drive
	GoesMost   GoesBy = "most"   // eight days, as most go: common practice, no source
)

// mostGo is how long most clocks go: common practice, no source.
const mostGo = 8 * unit.Day

// Asked tells whether something is wanting that a person must say: when it was
// wound last, or how long it goes.
func (w Winding) Asked() bool { return w.Last.IsZero() || w.By == GoesMost }

// Words say what the day of winding is from, and what is asked.
func (w Winding) Words() string {
	goes := phrase.Lasting(w.Goes)
	by := map[GoesBy]string{
		GoesSaid: "It goes " + goes + ", as was written down.", GoesSurvey: "By the survey of its drive it goes " + goes + ".",
		GoesMost: "How long it goes is not known: most go eight days (common practice, no source). Say how long this one goes.",
	}[w.By]
	switch {
	case !w.Last.IsZero():
		return by + " This is with some time in hand."
	case w.Down:
		return "No winding is written down. " + by + " It has gone for longer than that, so it was wound: when, last?"
	}
	return "No winding is written down. " + by + " It is reckoned as if it had been wound when it was written of first: when was it, in fact?"
}

// WindingOf is when a clock on trial wants to be wound: a day before it runs
// down, or a quarter of its going where that is less. False where nothing is
// written of its going, it stands, or somebody said that it is not to be
// reminded of.
func WindingOf(t Trial, now time.Time) (Winding, bool) {
	aim, _ := t.Book.Aim()
	_, still := t.Book.Still()
	if _, stands := t.Query.StandsSince(); still || stands || aim.Goes == trial.NotWound {
		return Winding{}, false
	}
	w := Winding{Goes: mostGo, By: GoesMost}
	if said, ok := aim.Going(); ok {
		w.Goes, w.By = said, GoesSaid
	} else if g := t.Goes; g.Set && g.Value > 0 {
		w.Goes, w.By = g.Value, GoesSurvey
	}
	begins := func(at time.Time) {
		if w.From.IsZero() || at.Before(w.From) {
			w.From = at
		}
	}
	for _, x := range t.Query.Touches {
		switch {
		case x.Kind == regulate.Wound && x.At.After(w.Last):
			w.Last = x.At
		case x.Kind == regulate.Started:
			begins(x.At)
		}
	}
	for _, r := range t.Query.Readings {
		begins(r.At)
	}
	goes := time.Duration(float64(w.Goes) * float64(time.Second))
	from := w.Last
	if from.IsZero() {
		from = w.From
	}
	if from.IsZero() {
		return Winding{}, false
	}
	w.Due = from.Add(goes - min(24*time.Hour, goes/4))
	if w.Last.IsZero() && w.Due.Before(now) { // it was wound, nobody knows when: asked at once
		w.Down, w.Due = from.Add(goes).Before(now), now.Truncate(time.Minute)
	}
	return w, true
}

// WindAsk is what a person says of a clock's winding, as typed.
type WindAsk struct {
	Wound string // when it was wound last; "" where that is not said
	Goes  string // from wound to down, a bare number in days; "" where that is not said
	Never bool   // it is not to be reminded of
}

// WindTrial writes down when a clock was wound last and how long it goes.
func (s *Shop) WindTrial(ctx context.Context, by string, clock int64, seen int, ask WindAsk) error {
	t, err := s.Trial(ctx, clock)
	if err != nil {
		return err
	}
	var faults meas.Faults
	var events []trial.Event
	aim, ok := t.Book.Aim()
	if !ok {
		aim = trial.DefaultAim()
	}
	was := aim.Goes
	switch goes := strings.TrimSpace(ask.Goes); {
	case ask.Never:
		aim.Goes = trial.NotWound
	case goes != "":
		aim.Goes = goes
		if _, ok := aim.Going(); !ok {
			faults = append(faults, meas.Fault{Field: "goes", Text: "Write how long it goes, in days, like 8; or 30 h"})
		}
	}
	at, wrong := trial.ParseMoment(ask.Wound, s.now(), s.Zone())
	switch {
	case wrong != "":
		faults = append(faults, meas.Fault{Field: "wound", Text: wrong})
	case at.After(s.now()):
		faults = append(faults, meas.Fault{Field: "wound", Text: "This is yet to come; write when it was wound last"})
	case !at.IsZero() && !ask.Never:
		events = append(events, trial.OfTouch(&trial.Host{From: trial.ByTyping}, regulate.Touch{At: job.Instant(at), Kind: regulate.Wound}))
	}
	if aim.Goes != was {
		events = append(events, trial.OfAim(aim))
	}
	if len(faults) == 0 && len(events) == 0 {
		faults = meas.Faults{{Field: "wound", Text: "Write when it was wound last, or how long it goes"}}
	}
	if len(faults) > 0 {
		return badInput(faults)
	}
	_, err = s.AddTrial(ctx, by, clock, seen, events...)
	return err
}
