package stops

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"seatboard/internal/craft/drive"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/circular"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// solver is one question under way.
type solver struct {
	q        Query
	trained  *train.Answer
	driven   *drive.Answer
	spots    []spot
	touches  []regulate.Touch
	readings []regulate.Reading
	untold   []Untold
	working  []cite.Step
	findings []meas.Finding
	draws    int     // 0 for as many as suit the stops
	turn     float64 // of the hour hand, s
}

// Solve says what the stops have in common. The error is meas.Faults.
func Solve(q Query) (Answer, error) { return solve(q, 0) }

func solve(q Query, count int) (Answer, error) {
	if f := q.Check(); len(f) > 0 {
		return Answer{}, f
	}
	s := &solver{q: q.onDial(), draws: count, turn: q.turn()}
	if err := s.borrow(); err != nil {
		return Answer{}, err
	}
	s.withStrikes()
	s.lay()
	a := Answer{Query: s.q, Places: s.places(), Complete: len(s.spots) >= least}
	if a.Complete {
		s.test(&a)
	}
	s.remark()
	a.Untold, a.Wanted = s.untold, s.wanted()
	a.Verdict, a.Next = s.verdict(a)
	a.Working, a.Findings = s.working, byLevel(s.findings)
	return a, nil
}

// onDial is the query with hours as its dial shows them: 1 to 12, with 0 for
// twelve, or 1 to 24.
func (q Query) onDial() Query {
	q.Stops = slices.Clone(q.Stops)
	for i := range q.Stops {
		h := &q.Stops[i].Hands
		if h.Hour %= int(q.turn() / 3600); h.Hour == 0 && q.turn() > 12*3600 {
			h.Hour = 24
		}
	}
	return q
}

// borrow has train and drive worked out by their own chapters.
func (s *solver) borrow() error {
	if s.q.Train != nil {
		a, err := train.Solve(*s.q.Train)
		if err != nil {
			return err
		}
		s.trained = &a
	}
	if s.q.Drive != nil {
		a, err := drive.Solve(*s.q.Drive)
		var faults meas.Faults
		if err != nil && !errors.As(err, &faults) {
			return err
		}
		if err == nil {
			s.driven = &a
		}
	}
	return nil
}

// test looks at all that can be looked at, and draws chance against it.
func (s *solver) test(a *Answer) {
	rings, tests := s.rings(), s.tests()
	a.Draws = s.count()
	minute, second := s.steps()
	f := simulate(newWorld(s.turn, len(s.spots), len(s.spots)+len(s.airs()), minute, second), a.Draws, rings, tests)
	for _, g := range rings {
		a.Suspects = append(a.Suspects, s.judge(g, f))
	}
	for _, t := range tests {
		if t.hidden {
			continue
		}
		x := t.suspect
		x.Own, x.Chance = t.score, f.chance(t.score)
		x.Found = x.Chance <= Likely
		if t.sure != nil {
			x.Needed = needed(x.Stops, x.Chance/math.Max(x.Own, 1e-300), t.sure)
		}
		a.Suspects = append(a.Suspects, x)
	}
	slices.SortStableFunc(a.Suspects, func(x, y Suspect) int {
		return cmp.Or(cmp.Compare(x.Chance, y.Chance), cmp.Compare(x.Own, y.Own), -cmp.Compare(x.Period, y.Period))
	})
	s.sum(*a, len(rings)+len(tests))
}

// needed is how many stops in all are sure where those to come lie in the
// place as well; 0 where more than MaxStops. many is what one chance is
// multiplied by for all that is looked at.
func needed(n int, many float64, score func(more int) float64) int {
	for more := 0; n+more <= MaxStops; more++ {
		if score(more)*math.Max(many, 1) <= Sure {
			return n + more
		}
	}
	return 0
}

// judge makes a suspect of a ring.
func (s *solver) judge(g *ring, f family) Suspect {
	turns := s.observed(g)
	x := Suspect{Kind: g.kind, Names: g.names, Period: unit.Duration(g.period), Teeth: g.teeth, Stops: g.tested(), Doubt: g.blur / 2, Next: g.next}
	score := g.score(turns, make([]float64, 0, len(turns)))
	var all []float64
	for k, idx := range g.groups {
		var of []float64
		for _, i := range idx {
			of = append(of, turns[i])
		}
		arc, held, p := crowd(circular.Sorted(of), g.blur)
		if p >= 1 {
			held = 0
		}
		x.Hold += held
		x.Width = math.Max(x.Width, math.Min(1, arc.Width+g.blur))
		for _, i := range idx {
			x.Marks = append(x.Marks, Mark{Stop: s.spots[i].ID, Turn: turns[i], Stretch: k, In: held > 0 && arc.Has(turns[i])})
		}
		if k == len(g.groups)-1 && held > 0 {
			x.teethOf(arc, g.blur, turns[idx[len(idx)-1]])
		}
		all = append(all, of...)
	}
	x.Own, x.Chance = score, f.chance(score)
	if len(g.groups) == 1 && g.own == nil {
		direction, length := circular.Mean(all)
		x.Spread = &Spread{Direction: direction, Length: length, Chance: circular.Rayleigh(len(all), length)}
	}
	x.Found = x.Chance <= Likely && x.Hold > 1
	if len(g.groups) == 1 && x.Hold > 1 && g.own == nil {
		x.Needed = needed(x.Stops, x.Chance/math.Max(x.Own, 1e-300), func(more int) float64 {
			p, _ := circular.Hold(x.Stops+more, x.Hold+more, x.Width)
			return p
		})
	}
	if x.Words = s.ringWords(x, len(g.groups), g.from); g.from == byStrike {
		x.Words = strikeWords(x)
	}
	return x
}

// teethOf says where the place lies from the tooth that was in mesh at the
// last stop.
func (x *Suspect) teethOf(arc circular.Arc, blur, last float64) {
	if x.Teeth == 0 {
		return
	}
	from := circular.Wrap(arc.From-last-blur/2+0.5) - 0.5
	z := float64(x.Teeth)
	x.Before, x.Beyond = int(math.Floor(from*z)), int(math.Ceil((from+arc.Width+blur)*z))
}

func (s *solver) say(level meas.Level, code, text, next string) {
	s.findings = append(s.findings, meas.Finding{Level: level, Code: code, Text: text, Next: next, Ref: cite.Ref{Grade: cite.Exact}})
}

func byLevel(f []meas.Finding) []meas.Finding {
	slices.SortStableFunc(f, func(x, y meas.Finding) int { return int(y.Level) - int(x.Level) })
	return f
}
