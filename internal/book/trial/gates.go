package trial

import (
	"time"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Facts is what is known of a clock when its gates are judged. Readings and
// touches are as they stand, replies applied.
type Facts struct {
	Now      time.Time // its zone is the one that words are in
	Readings []regulate.Reading
	Touches  []regulate.Touch
	Stops    []Stop
	Strikes  []Strike
	Marks    []Mark
	Beat     []Heard
	Answer   *regulate.Answer       // what the readings say; nil where nothing could be reckoned
	Asked    []regulate.Question    // what is asked and not settled
	Promise  string                 // the day it is promised for, as the clock's file has it
	Move     meas.Result[unit.Rate] // what it gains by going home, where it is set for that
	MoveFrom int                    // the entry since which it is; gates signed before are judged as it was then
}

// Mark is what was written down of a gate: it began, was passed, or begins
// anew.
type Mark struct {
	N    int // of the entry
	Kind Kind
	Gate string
	At   time.Time // from when it counts; of Passed when it was signed
	Who  string
	Why  string
}

// Heard is a beat error from a listening: tick to tock less tock to tick.
type Heard struct {
	At    time.Time
	Error meas.Interval[unit.Duration]
}

// Verdict is what can be said of one thing that is asked of a gate.
type Verdict string

// The verdicts.
const (
	Right    Verdict = "right"
	NotRight Verdict = "not right"
	Untold   Verdict = "cannot be told yet"
)

// State is how a gate stands.
type State string

// The states.
const (
	NotBegun State = "not begun"
	UnderWay State = "under way"
	Ready    State = "ready to sign"
	Missed   State = "not right"
	Signed   State = "signed"
	InDoubt  State = "signed, and in doubt"
)

// Standing is how a clock stands with its gates.
type Standing struct {
	Gates    []GateStanding `json:"gates"`
	Current  int            `json:"current"`           // the first gate that is not passed, from 0; their number where all are
	Passed   bool           `json:"passed"`            // every gate that is asked is signed and none is in doubt: it may go home
	Earliest time.Time      `json:"earliest,omitzero"` // before which the last gate cannot be signed; zero where all are passed
	Promised []string       `json:"promised"`          // what the owner was told, in words
}

// GateStanding is how one gate stands.
type GateStanding struct {
	Gate   Gate      `json:"gate"`
	Aim    unit.Rate `json:"aim"`  // what is asked of its rate here
	Band   unit.Rate `json:"band"` // each way
	Move   unit.Rate `json:"move"` // what it gains by going home, which is taken off Aim; 0 where it is not set for that
	State  State     `json:"state"`
	Began  time.Time `json:"began,omitzero"`
	From   time.Time `json:"from,omitzero"`  // the stretch that counts begins here
	Until  time.Time `json:"until,omitzero"` // and is long enough here
	Due    time.Time `json:"due,omitzero"`   // the next reading is wanted by now or by this
	Tests  []Test    `json:"tests"`
	Days   []Day     `json:"days"`
	Resets []Reset   `json:"resets"` // why it began anew, the first first
	Sign   *Sign     `json:"signed,omitempty"`
	Doubt  string    `json:"doubt,omitempty"` // why a signed gate is in doubt
}

// Test is one thing that is asked of a gate.
type Test struct {
	Key     string  `json:"key"` // "length", "going", "readings", "rate", "days", "questions", "beat", "strike"
	Name    string  `json:"name"`
	Verdict Verdict `json:"verdict"`
	Found   string  `json:"found"`            // in words
	Wanted  string  `json:"wanted,omitempty"` // what is still to do
}

// Day is one of the days of a stretch, 24 hours each.
type Day struct {
	From     time.Time                `json:"from"`
	Readings int                      `json:"readings"`
	Rate     meas.Interval[unit.Rate] `json:"rate"`
	Verdict  Verdict                  `json:"verdict"`
	Hours    []int                    `json:"hours"` // of the strike, heard and counted right
	Begun    bool                     `json:"begun"` // it has begun by now
	Over     bool                     `json:"over"`
}

// Reset is a reason for which the stretch began anew.
type Reset struct {
	At      time.Time `json:"at"`
	Words   string    `json:"words"`
	Touch   int       `json:"touch,omitempty"` // its ID, where it was a touch
	Written bool      `json:"written"`         // someone wrote it down for this gate
	Who     string    `json:"who,omitempty"`
}

// Sign says who passed a gate.
type Sign struct {
	N    int       `json:"n"` // of the entry
	At   time.Time `json:"at"`
	Who  string    `json:"who"`
	Why  string    `json:"why,omitempty"` // where it was signed though something was wanted
	From time.Time `json:"from"`          // the stretch that was signed
}

// Judge says how a clock stands with its gates. A rate is right or not right
// only where its 95 % limits say so; within its doubt it cannot be told yet.
// What was done to the clock begins the stretch anew by itself, whether or not
// it was written down for the gate.
func Judge(aim Aim, facts Facts) Standing {
	out := Standing{Current: len(aim.Gates), Passed: true}
	for i, g := range aim.Gates {
		s := judgeGate(aim, g, facts)
		if s.State != Signed {
			out.Passed = false
		}
		if s.Sign == nil && out.Current > i {
			out.Current = i
		}
		out.Gates = append(out.Gates, s)
	}
	for _, p := range []string{aim.Promise, facts.Promise} {
		if p != "" {
			out.Promised = append(out.Promised, p)
		}
	}
	out.Earliest = soonest(out, facts.Now)
	return out
}

// soonest is when the last gate can be signed, if all goes well from now on.
func soonest(s Standing, now time.Time) time.Time {
	var at time.Time
	for _, g := range s.Gates {
		if g.Sign != nil {
			continue
		}
		end := g.Until
		if end.Before(now) && g.State != Ready {
			end = now
		}
		if g.State == NotBegun || g.State == Missed { // a week that is not right begins anew
			end = now.Add(days(g.Gate.Days))
		}
		if g.State == NotBegun && at.After(now) {
			end = at.Add(days(g.Gate.Days))
		}
		if end.After(at) {
			at = end
		}
	}
	return at
}

func days(n float64) time.Duration { return time.Duration(n * 24 * float64(time.Hour)) }

func judgeGate(aim Aim, g Gate, f Facts) GateStanding {
	s := GateStanding{Gate: g, State: NotBegun}
	s.read(f.Marks)
	if f.Move.Set && (s.Sign == nil || s.Sign.N > f.MoveFrom) {
		s.Move = f.Move.Value
		if aim.Rate -= s.Move; s.Sign != nil && f.Move.HasU { // what the home does is reckoned anew all the time
			aim.Band += 2 * f.Move.U
		}
	}
	s.Aim, s.Band = aim.Rate, aim.Band
	if s.Began.IsZero() {
		return s
	}
	end := f.Now
	if s.Sign != nil {
		end = s.Sign.At
	}
	s.beginAnew(f, end)
	s.Until = s.From.Add(days(g.Days))
	st := stretch{aim: aim, move: s.Move, gate: g, facts: f, from: s.From, end: end, points: pointsIn(f.Answer, s.From, end), read: readingsIn(f, s.From, end)}
	s.Days = st.days()
	s.Tests = st.tests(s.Days)
	if s.Sign != nil {
		s.Sign.From = s.From
		s.State = Signed
		if s.Doubt = doubt(s); s.Doubt != "" {
			s.State = InDoubt
		}
		return s
	}
	if g.Gap > 0 {
		s.Due = st.last().Add(days(g.Gap))
	}
	s.State = Ready
	for _, t := range s.Tests {
		switch {
		case t.Verdict == NotRight:
			s.State = Missed
			return s
		case t.Verdict == Untold:
			s.State = UnderWay
		}
	}
	return s
}

// doubt says why a gate that was signed as right is not right by what is known
// now. What was signed with a reason was signed knowing so.
func doubt(s GateStanding) string {
	if s.Sign.Why != "" {
		return ""
	}
	for _, t := range s.Tests {
		plain := t.Key == "length" || t.Key == "readings"
		if t.Verdict == NotRight || plain && t.Verdict == Untold {
			return t.Name + ": " + t.Found
		}
	}
	return ""
}

// read takes in what was written down of a gate.
func (s *GateStanding) read(marks []Mark) {
	for _, m := range marks {
		if m.Gate != s.Gate.Key {
			continue
		}
		switch m.Kind {
		case Began:
			s.Began, s.From, s.Resets, s.Sign = m.At, m.At, nil, nil
		case Failed:
			if s.Began.IsZero() {
				s.Began = m.At
			}
			if m.At.After(s.From) {
				s.From = m.At
			}
			s.Resets, s.Sign = append(s.Resets, Reset{At: m.At, Words: m.Why, Written: true, Who: m.Who}), nil
		case Passed:
			if !s.Began.IsZero() {
				s.Sign = &Sign{N: m.N, At: m.At, Who: m.Who, Why: m.Why}
			}
		}
	}
}
