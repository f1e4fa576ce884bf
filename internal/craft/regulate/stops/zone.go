package stops

import (
	"fmt"
	"math"
	"slices"
	"time"

	"seatboard/internal/craft/drive"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/num"
	"seatboard/internal/kit/unit"
)

// world is one set of stops that came by chance.
type world struct {
	dial, turns, second []float64 // of each spot
	wound               []float64 // part of the run, 0 to 1
	chance              []float64 // for what has no place of its own
	pick                []int     // an order of all airs
	place, room         []float64
	turn                float64 // s, of the dial
	step, secondStep    float64 // s, in which the hands were read; 0 for any
}

// test is one thing that is looked at beside what turns.
type test struct {
	suspect Suspect
	score   float64
	null    func(w *world) float64
	sure    func(more int) float64 // score with so many more stops in the place, nil where that says nothing
	hidden  bool                   // it was looked at, and too few stops bear on it to be told of
}

// zone is a test of how many stops lie in a zone that takes part share of the
// time; in holds those that could be tested.
func zone(suspect Suspect, in []bool, share float64, hit func(w *world, i int) bool) *test {
	held := 0
	for _, x := range in {
		if x {
			held++
		}
	}
	suspect.Stops, suspect.Hold, suspect.Width = len(in), held, share
	odds := make([]float64, len(in)+1)
	for c := range odds {
		odds[c] = atLeast(len(in), c, share)
	}
	return &test{suspect: suspect, score: odds[held],
		null: func(w *world) float64 {
			c := 0
			for i := range in {
				if hit(w, i) {
					c++
				}
			}
			return odds[c]
		},
		sure: func(more int) float64 { return atLeast(len(in)+more, held+more, share) },
	}
}

// tests finds all that is looked at beside what turns.
func (s *solver) tests() []*test {
	var all []*test
	for _, t := range []*test{s.strikeTest(), s.lowTest(), s.heightTest(), s.swingTest(), s.coldTest()} {
		if t != nil {
			all = append(all, t)
		}
	}
	return append(append(all, s.rackTests()...), s.touchTests()...)
}

// The strike loads the going train from so long before the blow till after.
const (
	lifts   = 10 * 60.0 // s
	strikes = 60.0      // s
)

// strikeTest: stops while the strike is lifted, warned or runs.
func (s *solver) strikeTest() *test {
	words := "in the ten minutes before the hour or as it strikes"
	switch s.q.Strikes {
	case StrikesHours:
	case StrikesHalves:
		words = "in the ten minutes before the hour or the half, or as it strikes"
	default:
		return nil
	}
	every := s.every()
	var idx []int
	for i := range s.spots {
		idx = append(idx, i)
	}
	t := s.dialZone(Suspect{Kind: Blow, Names: []string{"the load of the strike"}}, idx, func(dial float64) bool {
		past := math.Mod(dial, every)
		return past >= every-lifts || past <= strikes
	})
	t.suspect.Words = counted(t.suspect.Hold, len(idx)) + " came " + words
	t.suspect.Next = "Hold the lifting piece up by hand with the clock going and see whether the arc drops; look at the depth of the lifting, at the warning pin and at a dry or bent arm."
	return t
}

// run is how long the clock goes from wound to down, in s; 0 where not known.
func (s *solver) run() float64 {
	switch {
	case s.q.Run.Set:
		return float64(s.q.Run.Value)
	case s.driven != nil && s.driven.Fall.RunningTime.Set:
		return float64(s.driven.Fall.RunningTime.Value)
	case s.driven != nil && s.driven.Fall.WindingDue.Set:
		return float64(s.driven.Fall.WindingDue.Value)
	}
	if s.trained != nil {
		if g := s.going(); g != nil && g.RunningHours.Known() {
			return g.RunningHours.Float() * 3600
		}
	}
	return 0
}

// shares is how far through its run the clock was at each stop where that is
// known: by the height of the weight, else by the time since winding.
func (s *solver) shares() (at []float64) {
	run := s.run()
	for _, p := range s.spots {
		since := p.wound
		if t, ok := s.sinceByWeight(p); ok {
			since = t
		}
		if run > 0 && !math.IsNaN(since) {
			at = append(at, since/run)
		}
	}
	return at
}

// sinceByWeight is the time since winding by where the weight hangs.
func (s *solver) sinceByWeight(p spot) (float64, bool) {
	if s.driven == nil || !p.Weight.Set {
		return 0, false
	}
	above := func(t float64) float64 {
		h, ok := s.driven.At(unit.Duration(t))
		if !ok || !h.AboveFloor.Set {
			return math.NaN()
		}
		return float64(h.AboveFloor.Value - p.Weight.Value)
	}
	if n := len(s.driven.Hangs); n > 0 {
		end := float64(s.driven.Hangs[n-1].After)
		if t, err := num.Root(above, 0, end, 60); err == nil {
			return t, true
		}
	}
	return 0, false
}

// lowTest: stops late in the run, by the sum of the parts of it.
func (s *solver) lowTest() *test {
	at := s.shares()
	if len(at) < 2 {
		return nil
	}
	sum := 0.0
	for i, x := range at {
		at[i] = math.Min(x, 1)
		sum += at[i]
	}
	late := 0
	for _, x := range at {
		if x > 0.5 {
			late++
		}
	}
	mean := sum / float64(len(at))
	sus := Suspect{Kind: Low, Names: []string{"the weight low, or the spring nearly down"}, Stops: len(at), Hold: late, Width: 0.5,
		Words: fmt.Sprintf("%s came in the second half of the run; on the mean %s after winding", counted(late, len(at)), drive.Span(unit.Duration(mean*s.run()))),
		Next:  "Wind it half-way through the run for a while: if it goes on, look where the weight comes to lie (case, lead-off, knot, bob), at friction in the pulley, and at a spring set or dry."}
	return &test{suspect: sus, score: sumAbove(len(at), sum),
		null: func(w *world) float64 {
			x := 0.0
			for i := range at {
				x += w.wound[i]
			}
			return sumAbove(len(at), x)
		},
		sure: func(more int) float64 { return sumAbove(len(at)+more, mean*float64(len(at)+more)) },
	}
}

// swingTest: stops while the weight hangs in the zone of sympathetic swing.
func (s *solver) swingTest() *test {
	at, run := s.shares(), s.run()
	if s.driven == nil || s.driven.Swing == nil || len(at) < 2 {
		return nil
	}
	from, to := float64(s.driven.Swing.From.Value)/run, float64(s.driven.Swing.To.Value)/run
	hit := func(x float64) bool { return x >= from && x <= to }
	in := make([]bool, len(at))
	for i, x := range at {
		in[i] = hit(x)
	}
	t := zone(Suspect{Kind: Swing, Names: []string{"the weight swinging with the pendulum"}}, in, math.Min(1, to-from), func(w *world, i int) bool { return hit(w.wound[i]) })
	t.suspect.Words = counted(t.suspect.Hold, len(in)) + " came while the weight hangs as long as the pendulum (" + s.driven.Swing.Words + " after winding)"
	t.suspect.Next = "Watch the weight on those days; steady the case to the wall, see that the seat board is firm, or change the length at which the weight hangs."
	return t
}

// coldTest: stops in colder air than the trial's, by their ranks.
func (s *solver) coldTest() *test {
	var values []float64
	for _, p := range s.spots {
		if v, ok := s.roomAt(p); ok {
			values = append(values, v)
		}
	}
	n, sum := len(values), 0.0
	for _, v := range values {
		sum += v
	}
	others := s.airs()
	if n < 2 || len(others) < 5 {
		return nil
	}
	values = append(values, others...)
	ranks := middleRanks(values)
	odds := rankOdds(ranks, n)
	got, colder := 0, 0
	middle := slices.Sorted(slices.Values(others))[len(others)/2]
	for i, r := range ranks[:n] {
		got += r
		if values[i] < middle {
			colder++
		}
	}
	sus := Suspect{Kind: Cold, Names: []string{"cold: thick oil"}, Stops: n, Hold: colder, Width: 0.5,
		Words: fmt.Sprintf("%s came in air colder than the middle of the trial (%s); on the mean at %s", counted(colder, n), unit.Text(unit.Temperature(middle), "°C", 0), unit.Text(unit.Temperature(sum/float64(n)), "°C", 0)),
		Next:  "Clean and oil it anew where the oil is old or thick, and see the arc in the cold; until then keep the room as it was on the good days."}
	return &test{suspect: sus, score: odds[got], null: func(w *world) float64 {
		x := 0
		for _, k := range w.pick[:n] {
			x += ranks[k]
		}
		return odds[x]
	}}
}

// roomAt is the temperature of a stop: written down with it, or of the air
// read nearest to it.
func (s *solver) roomAt(p spot) (float64, bool) {
	if p.Room.Set {
		return float64(p.Room.Value), true
	}
	best, at, ok := airNear, 0.0, false
	for _, a := range s.q.Air {
		if gap := a.At.Sub(p.stopped).Abs(); a.Temperature.Set && gap <= best && !p.stopped.IsZero() {
			best, at, ok = gap, float64(a.Temperature.Value), true
		}
	}
	return at, ok
}

// airs are the temperatures of the trial, thinned evenly where there are many.
func (s *solver) airs() []float64 {
	var all []float64
	for _, a := range s.q.Air {
		if a.Temperature.Set {
			all = append(all, float64(a.Temperature.Value))
		}
	}
	slices.Sort(all)
	if len(all) <= airMost {
		return all
	}
	out := make([]float64, airMost)
	for i := range out {
		out[i] = all[(2*i+1)*len(all)/(2*airMost)]
	}
	return out
}

// touchTests: stops within a day after each kind of touch.
func (s *solver) touchTests() []*test {
	var first, last time.Time
	for _, p := range s.spots {
		if p.stopped.IsZero() {
			return nil
		}
		last = later(last, p.stopped)
	}
	first = s.q.Since
	if first.IsZero() {
		first = s.spots[0].stopped
		for _, t := range s.touches {
			if t.At.Before(first) {
				first = t.At
			}
		}
		for _, r := range s.readings {
			if r.At.Before(first) {
				first = r.At
			}
		}
	}
	span := last.Sub(first).Seconds()
	if span < 3*day {
		return nil
	}
	var all []*test
	for _, k := range regulate.Kinds() {
		name := touchName(k)
		if name == "" {
			continue
		}
		covered, any := s.afterTouches(k, first, last)
		if !any || covered/span > 0.6 {
			continue
		}
		in := make([]bool, len(s.spots))
		for i, p := range s.spots {
			in[i] = s.follows(k, p)
		}
		t := zone(Suspect{Kind: Touch, Names: []string{"what was done to it: " + name}}, in, covered/span, func(w *world, i int) bool { return w.chance[i] < covered/span })
		t.suspect.Words = counted(t.suspect.Hold, len(in)) + " came within a day after " + name
		t.suspect.Next = touchNext(k)
		all = append(all, t)
	}
	return all
}

// afterTouches is how much of the time from first to last lies within a day
// after a touch of the kind, in s.
func (s *solver) afterTouches(k regulate.Kind, first, last time.Time) (covered float64, any bool) {
	until := first
	for _, t := range s.touches {
		if t.Kind != k || t.At.After(last) {
			continue
		}
		any = true
		from, to := later(t.At, until), t.At.Add(soon)
		if to.After(last) {
			to = last
		}
		if to.After(from) {
			covered += to.Sub(from).Seconds()
			until = to
		}
	}
	return covered, any
}

func (s *solver) follows(k regulate.Kind, p spot) bool {
	for _, t := range s.touches {
		if gap := p.stopped.Sub(t.At); t.Kind == k && gap >= 0 && gap <= soon {
			return true
		}
	}
	return false
}

func touchNext(k regulate.Kind) string {
	switch k {
	case regulate.Wound:
		return "See what winding does: whether the weight or its pulley meets the seat board, the click holds, the key pulls the movement out of beat."
	case regulate.Moved, regulate.Levelled:
		return "Hear whether it is in beat and stands firm after that; see that crutch and pendulum are free all the way."
	case regulate.Oiled:
		return "See whether oil went where it must not be (hairspring, pallets of a lever, wheel teeth), and whether a pivot hole was left dry."
	}
	return "Do the same once more and watch the arc: see what it moves beside what was meant."
}

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}
