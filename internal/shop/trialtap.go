package shop

import (
	"context"
	"math"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/trial"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/craft/regulate/tap"
	"seatboard/internal/io/hostclock"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// TapAsk is a row of taps at a clock, with instants by this computer.
type TapAsk struct {
	Taps  []time.Time
	Way   tap.Way
	Every unit.Duration // on the dial from mark to mark; of InBeat so many beats
	Beats int           // of InBeat: from tap to tap
	Beat  string        // of InBeat: as typed, "" for what the survey says, or a second
	Shown string        // by the dial at the first tap, as typed; may be ""
	U     unit.Duration // how far the instants may be from this computer's, one standard uncertainty

	Blows int // of Blow: as counted; below nought where they were not
	Hour  int // of Blow: 1 to 12; 0 for the nearest
}

// Tapped is what a row of taps says of a clock, and what of it can be kept.
type Tapped struct {
	Answer tap.Answer
	Hour   int                        // of Blow: that should have struck
	Lag    meas.Result[unit.Duration] // of Blow: the strike against the minute hand, early positive; not Set where not known
	Pairs  int                        // readings that Lag is from
	Host   *trial.Host                // where the time of day came from
	Events []trial.Event              // what is written down of it; none while it is not complete
}

// LookTaps reckons what taps say and writes nothing.
func (s *Shop) LookTaps(ctx context.Context, clock int64, ask TapAsk) (Tapped, error) {
	t, err := s.Trial(ctx, clock)
	if err != nil {
		return Tapped{}, err
	}
	q, faults := s.tapQuery(ctx, t, ask)
	if len(faults) > 0 {
		return Tapped{}, badInput(faults)
	}
	a, err := tap.Solve(q)
	if err != nil {
		return Tapped{}, err
	}
	out := Tapped{Answer: a, Host: &trial.Host{From: trial.ByComputer, U: q.Host}}
	if !a.Complete {
		return out, nil
	}
	r := regulate.Reading{At: job.Instant(a.At), How: regulate.ByTap, Error: a.Error.Value, U: float64(a.U)}
	if ask.Way == tap.Blow {
		out.Lag, out.Pairs = t.Book.StrikeLag(s.Zone())
		r.How = regulate.ByStrike
		out.Hour = s.hourOf(a.At, a.Error.Value)
		r.U = 0 // how far the strike is from the hand is not known
		if out.Lag.Set {
			r.Error -= out.Lag.Value
			r.U = math.Hypot(float64(a.U), float64(out.Lag.U))
		}
		if ask.Blows >= 0 {
			out.Events = append(out.Events, trial.OfStrike(out.Host, trial.Strike{At: job.Instant(a.At), Hour: out.Hour, Blows: ask.Blows}))
		}
	}
	out.Events = append(out.Events, trial.OfTaps(out.Host, q, r))
	return out, nil
}

// hourOf is the hour that a clock shows which is wrong by so much.
func (s *Shop) hourOf(at time.Time, wrong unit.Duration) int {
	shown := at.In(s.Zone()).Add(time.Duration(float64(wrong) * 1e9)).Add(30 * time.Minute)
	if h := shown.Hour() % 12; h != 0 {
		return h
	}
	return 12
}

// SaveTaps writes down what taps say, all or nothing. seen is how many entries
// the person had seen.
func (s *Shop) SaveTaps(ctx context.Context, by string, clock int64, seen int, ask TapAsk) ([]trial.Event, error) {
	got, err := s.LookTaps(ctx, clock, ask)
	if err != nil {
		return nil, err
	}
	if len(got.Events) == 0 {
		text := "There is no reading yet"
		for _, f := range got.Answer.Findings {
			if f.Level == meas.Doubt {
				text = f.Text + " " + f.Next
			}
		}
		return nil, badInput(meas.Faults{{Field: "taps", Text: text}})
	}
	return s.AddTrial(ctx, by, clock, seen, got.Events...)
}

// tapQuery puts what was tapped and typed, what the clock was lately wrong by
// and the doubt of this computer's clock together.
func (s *Shop) tapQuery(ctx context.Context, t Trial, ask TapAsk) (tap.Query, meas.Faults) {
	q := tap.Query{Way: ask.Way, Every: ask.Every, Host: hostDoubt(ctx, ask.U)}
	var faults meas.Faults
	if len(ask.Taps) == 0 {
		return q, meas.Faults{{Field: "taps", Text: "Tap as the hand comes to a mark"}}
	}
	q.Start = ask.Taps[0].In(s.Zone()).Truncate(time.Second)
	for _, at := range ask.Taps {
		q.Taps = append(q.Taps, unit.Duration(at.Sub(q.Start).Seconds()))
	}
	if ask.Way == tap.InBeat {
		var wrong string
		if q.Beat, wrong = s.beatTyped(ctx, t, ask.Beat); wrong != "" {
			faults = append(faults, meas.Fault{Field: "beat", Text: wrong})
		}
		q.Every = q.Beat * unit.Duration(max(1, ask.Beats))
	}
	switch {
	case ask.Way == tap.Blow && ask.Hour > 0:
		q.Shown = meas.Exactly(unit.Duration(ask.Hour % 12 * 3600))
	case ask.Shown != "":
		seen, wrong := trial.ParseSeen(ask.Shown)
		if wrong == "" && seen.Shown == nil {
			wrong = "Write what the dial showed at the first tap, like 9:14:00"
		}
		if wrong != "" {
			return q, append(faults, meas.Fault{Field: "shown", Text: wrong})
		}
		q.Shown = meas.Exactly(unit.Duration(math.Mod(seen.Shown.SinceMidnight().Seconds(), 12*3600)))
	}
	q.Near = nearOf(*t.Query, q.Start)
	return q, faults
}

// beatTyped is the beat of a clock: as typed, as its survey has it, or a second.
func (s *Shop) beatTyped(ctx context.Context, t Trial, text string) (unit.Duration, string) {
	if text != "" {
		b, err := unit.Parse[unit.Duration](text, "s")
		if err != nil || b < 0.1 || b > 10 {
			return 1, "“" + meas.Clip(text) + "” is not the time of a beat; write it like 1 s or 0.5 s"
		}
		return b, ""
	}
	if b := s.BeatOf(ctx, t.Survey); b > 0 {
		return b, ""
	}
	return 1, ""
}

// BeatOf is the time of a beat by a survey, by its train before its pendulum;
// 0 where it does not tell.
func (s *Shop) BeatOf(ctx context.Context, survey job.Survey) unit.Duration {
	w := s.worked(ctx, survey)
	switch {
	case w.Train != nil && w.Train.SecondsPerBeat.Known():
		return unit.Duration(w.Train.SecondsPerBeat.Float())
	case w.Pendulum != nil && w.Pendulum.Beat.Set:
		return w.Pendulum.Beat.Value
	}
	return 0
}

// nearOf is what a clock is thought to be wrong by at an instant, by its last
// reading or what it was set to: a day may bring a minute.
func nearOf(q regulate.Query, at time.Time) meas.Result[unit.Duration] {
	var last time.Time
	var out meas.Result[unit.Duration]
	take := func(when time.Time, wrong unit.Duration, u float64, known bool) {
		if when.After(at) || when.Before(last) {
			return
		}
		last = when
		out = meas.Result[unit.Duration]{}
		if known {
			days := at.Sub(when).Hours() / 24
			out = meas.Result[unit.Duration]{Value: wrong, U: unit.Duration(math.Hypot(max(u, 1), 60*days)), HasU: true, Set: true}
		}
	}
	for _, r := range q.Readings {
		if r.From.IsZero() && !r.Out {
			take(r.At, r.Error, r.U, true)
		}
	}
	for _, x := range q.Touches {
		if x.Kind == regulate.HandsSet || x.Kind == regulate.Started || x.Kind == regulate.Stopped {
			take(x.At, x.Error, float64(x.U), x.HasError)
		}
	}
	if math.Abs(float64(out.Value)) > 6*3600 {
		return meas.Result[unit.Duration]{}
	}
	return out
}

// hostDoubt is how far this computer's clock may be from true time, where that
// is known, with how far an instant may be from it.
func hostDoubt(ctx context.Context, u unit.Duration) unit.Duration {
	st := hostclock.Disciplined(ctx)
	if !st.Known || !st.Disciplined {
		return u
	}
	return unit.Duration(math.Hypot(float64(u), float64(max(st.Host().Wander, st.EstError))))
}
