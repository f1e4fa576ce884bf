package shop

import (
	"context"
	"strings"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/trial"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
)

// Gates is a clock on trial with how it stands with its gates.
type Gates struct {
	Trial
	Aim      trial.Aim
	Said     bool // the aim was said for this clock; else it is what is common
	Standing trial.Standing
	Now      time.Time // when it stands so, in the zone of the shop
}

// Gates loads a clock's trial and judges its gates.
func (s *Shop) Gates(ctx context.Context, clock int64) (Gates, error) {
	t, err := s.Trial(ctx, clock)
	if err != nil {
		return Gates{}, err
	}
	beats, err := s.beatsOf(ctx, clock)
	if err != nil {
		return Gates{}, err
	}
	return s.judge(t, beats), nil
}

// beatsOf lists the beat errors that were heard of a clock.
func (s *Shop) beatsOf(ctx context.Context, clock int64) ([]trial.Heard, error) {
	var out []trial.Heard
	err := s.store.View(ctx, func(tx *store.Tx) error {
		all, err := tx.Listenings(clock)
		for _, l := range all {
			if e := l.Gist.BeatError; e.Set && !l.Started.IsZero() && l.Removed.IsZero() {
				out = append(out, trial.Heard{At: l.Started, Error: e})
			}
		}
		return err
	})
	return out, explain(err)
}

// judge judges the gates of a trial as of now.
func (s *Shop) judge(t Trial, beats []trial.Heard) Gates {
	g := Gates{Trial: t, Now: s.now().In(s.Zone())}
	if g.Aim, g.Said = t.Book.Aim(); !g.Said {
		g.Aim = trial.DefaultAim()
	}
	f := t.Book.Facts(*t.Query)
	f.Now, f.Asked, f.Beat, f.Promise = g.Now, t.Questions, beats, t.Clock.Promise
	if t.Answer != nil && t.Answer.Complete {
		f.Answer = t.Answer
		f.Move = t.Query.Wanted.Move
		f.MoveFrom, _ = t.Book.SetForHome()
	}
	g.Standing = trial.Judge(g.Aim, f)
	return g
}

// SetAim keeps what counts as right for a clock, with its gates.
func (s *Shop) SetAim(ctx context.Context, by string, clock int64, seen int, aim trial.Aim) error {
	_, err := s.AddTrial(ctx, by, clock, seen, trial.OfAim(aim))
	return err
}

// BeginGate begins a gate; at is from when it counts, now where it is zero.
// What is commonly asked is written down with it where nothing was said for
// this clock.
func (s *Shop) BeginGate(ctx context.Context, by string, clock int64, seen int, key string, at time.Time) error {
	g, _, err := s.gateOf(ctx, clock, key)
	if err != nil {
		return err
	}
	if at.After(s.now()) {
		return badInput(meas.Faults{{Field: "from", Text: "This is yet to come; write from when it counts"}})
	}
	var events []trial.Event
	if !g.Said {
		events = append(events, trial.OfAim(g.Aim))
	}
	e := trial.OfGate(trial.Began, key, "")
	e.At = instant(at)
	_, err = s.AddTrial(ctx, by, clock, seen, append(events, e)...)
	return err
}

// FailGate begins a gate anew, from at or now, for a reason; a signed one is
// thereby open again.
func (s *Shop) FailGate(ctx context.Context, by string, clock int64, seen int, key, why string, at time.Time) error {
	_, now, err := s.gateOf(ctx, clock, key)
	if err != nil {
		return err
	}
	var faults meas.Faults
	if strings.TrimSpace(why) == "" {
		faults = append(faults, meas.Fault{Field: "why", Text: "Say why it begins anew"})
	}
	switch {
	case now.Began.IsZero():
		faults = append(faults, meas.Fault{Field: "gate", Text: now.Gate.Name + " has not begun; begin it first"})
	case at.After(s.now()):
		faults = append(faults, meas.Fault{Field: "from", Text: "This is yet to come; write from when it counts"})
	case !at.IsZero() && at.Before(now.Began):
		faults = append(faults, meas.Fault{Field: "from", Text: "The gate began only later, " + now.Began.In(s.Zone()).Format(atMinute)})
	}
	if len(faults) > 0 {
		return badInput(faults)
	}
	e := trial.OfGate(trial.Failed, key, why)
	e.At = instant(at)
	_, err = s.AddTrial(ctx, by, clock, seen, e)
	return err
}

// WriteResets writes down why a gate began anew, where nobody did.
func (s *Shop) WriteResets(ctx context.Context, by string, clock int64, seen int, key string) error {
	_, now, err := s.gateOf(ctx, clock, key)
	if err != nil {
		return err
	}
	events := now.Unwritten()
	if len(events) == 0 {
		return &Problem{Code: Conflict, Message: "This is written down already.", Hint: "Nothing is left to do."}
	}
	_, err = s.AddTrial(ctx, by, clock, seen, events...)
	return err
}

// SignGate passes a gate in the name of who does it. One that is not ready is
// signed with a reason only, which stays beside it.
func (s *Shop) SignGate(ctx context.Context, by string, clock int64, seen int, key, why string) error {
	g, now, err := s.gateOf(ctx, clock, key)
	if err != nil {
		return err
	}
	why = strings.TrimSpace(why)
	switch {
	case g.Standing.Current >= len(g.Standing.Gates) || g.Standing.Gates[g.Standing.Current].Gate.Key != key:
		return badInput(meas.Faults{{Field: "gate", Text: now.Gate.Name + " is not the one that is under way"}})
	case now.State == trial.NotBegun:
		return badInput(meas.Faults{{Field: "gate", Text: now.Gate.Name + " has not begun; begin it first"}})
	case now.State != trial.Ready && why == "":
		return badInput(meas.Faults{{Field: "why", Text: "Not all is right: " + openTests(now) + ". Say why it is signed all the same"}})
	case now.State == trial.Ready:
		why = "" // nothing is to be explained
	}
	_, err = s.AddTrial(ctx, by, clock, seen, append(now.Unwritten(), trial.OfGate(trial.Passed, key, why))...)
	return err
}

// openTests names what is not right of a gate.
func openTests(g trial.GateStanding) string {
	var names []string
	for _, t := range g.Tests {
		if t.Verdict != trial.Right {
			names = append(names, strings.ToLower(t.Name[:1])+t.Name[1:]+" – "+string(t.Verdict))
		}
	}
	return strings.Join(names, "; ")
}

// WaiveGates gives up the gates that are not signed, or are in doubt, for a
// reason, and moves the clock on to going home.
func (s *Shop) WaiveGates(ctx context.Context, by string, clock int64, seen int, why string) error {
	g, err := s.Gates(ctx, clock)
	if err != nil {
		return err
	}
	if strings.TrimSpace(why) == "" {
		return badInput(meas.Faults{{Field: "why", Text: "Say why it goes home without them"}})
	}
	aim := g.Aim
	aim.Gates = nil
	for _, x := range g.Standing.Gates {
		if x.State == trial.Signed {
			aim.Gates = append(aim.Gates, x.Gate)
		}
	}
	e := trial.OfAim(aim)
	e.Why = why
	if _, err := s.AddTrial(ctx, by, clock, seen, e); err != nil {
		return err
	}
	c := g.Clock
	c.Stage = job.GoingHome
	_, err = s.SaveClock(ctx, by, c)
	return err
}

// readyToGo is the problem of sending a clock home that is on trial and has
// not passed its gates, nil where nothing is against it.
func (s *Shop) readyToGo(ctx context.Context, c job.Clock) error {
	was, err := s.File(ctx, c.ID)
	if err != nil || was.Clock.Stage != job.Trial {
		return err
	}
	g, err := s.Gates(ctx, c.ID)
	if err != nil || g.Standing.Passed {
		return err
	}
	return &Problem{Code: BadInput, Message: "This clock has not passed its gates.", Hint: "Sign them, or write why it goes home without: Trial, Gates.", Fields: meas.Faults{{Field: "stage", Text: "This clock has not passed its gates"}}}
}

// gateOf loads a clock's gates with the one of that key.
func (s *Shop) gateOf(ctx context.Context, clock int64, key string) (Gates, trial.GateStanding, error) {
	g, err := s.Gates(ctx, clock)
	if err != nil {
		return g, trial.GateStanding{}, err
	}
	for _, x := range g.Standing.Gates {
		if x.Gate.Key == key {
			return g, x, nil
		}
	}
	return g, trial.GateStanding{}, badInput(meas.Faults{{Field: "gate", Text: "“" + key + "” is not one of this clock’s gates"}})
}

// instant is an instant as it is kept, zero where there is none.
func instant(t time.Time) time.Time {
	if t.IsZero() {
		return t
	}
	return job.Instant(t)
}
