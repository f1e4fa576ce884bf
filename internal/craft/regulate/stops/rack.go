package stops

import (
	"fmt"
	"math"
	"slices"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/circular"
)

// hours on the snail.
const hours = 12

// warns is how long before the blow the rack is let fall, s, at most.
const warns = 5 * 60.0

// counting is what counts the blows, as it was said here or of the train.
func (s *solver) counting() train.Counting {
	if s.q.Counts != "" || s.q.Train == nil {
		return s.q.Counts
	}
	for _, t := range s.q.Train.Trains {
		if t.Name == train.Strike {
			return t.Counts
		}
	}
	return ""
}

// rackTests are what a rack and its snail may do: load the train from the
// warning to the strike, hang at one hour, drag the farther it falls, or catch
// the snail where it was not gathered up.
func (s *solver) rackTests() []*test {
	if s.counting() != train.ByRack {
		return nil
	}
	all := []*test{s.rackWarning()}
	if at := s.strokes(); at.can >= least {
		all = append(all, s.rackHour(at), s.rackFall(at))
	}
	if t := s.rackStep(); t != nil {
		all = append(all, t)
	}
	return all
}

// shareOf is how much of the time a clock that goes on shows such a place, in
// the steps in which the hands were read.
func (s *solver) shareOf(such func(dial float64) bool) float64 {
	step, _ := s.steps()
	if step == 0 {
		step = 1
	}
	n, in := 0, 0
	for d := 0.0; d < s.turn; d += step {
		if n++; such(d) {
			in++
		}
	}
	return float64(in) / float64(n)
}

// dialZone is a test of the stops in such places of the dial, of those that
// idx names.
func (s *solver) dialZone(x Suspect, idx []int, such func(dial float64) bool) *test {
	in := make([]bool, len(idx))
	for k, i := range idx {
		in[k] = such(s.spots[i].dial)
	}
	return zone(x, in, s.shareOf(such), func(w *world, k int) bool { return such(w.dial[idx[k]]) })
}

// rackWarning: stops from the warning, at which the rack falls, to the strike.
func (s *solver) rackWarning() *test {
	every := s.every()
	var idx []int
	for i := range s.spots {
		idx = append(idx, i)
	}
	t := s.dialZone(Suspect{Kind: Warning, Names: []string{"the rack let fall, from the warning to the strike"}}, idx, func(dial float64) bool {
		past := math.Mod(dial, every)
		return past >= every-warns || past <= strikes
	})
	t.suspect.Words = counted(t.suspect.Hold, len(idx)) + " came from the warning to the strike, with the rack let fall"
	t.suspect.Next = "Let it warn by hand with the power on and watch the arc: whether the lifting piece binds as it is at its highest, whether the warning piece presses on its pin, and whether the rack falls with more than its own weight or a light spring."
	return t
}

// every is from one strike to the next, s.
func (s *solver) every() float64 {
	if s.q.Strikes == StrikesHalves {
		return 1800
	}
	return 3600
}

// strokes are the stops that came as the strike had warned or ran, with the hour
// it was to strike.
type strokes struct {
	hour  []int  // of those stops, from 1 to 12
	sure  []bool // by stop: it was seen so
	maybe []bool // by stop: nobody looked, and the hands tell
	can   int    // stops that are one or the other
}

// strokes finds them. At a half the rack does not fall.
func (s *solver) strokes() strokes {
	n := len(s.spots)
	out := strokes{sure: make([]bool, n), maybe: make([]bool, n)}
	for i, p := range s.spots {
		past := math.Mod(p.dial, 3600)
		switch p.Strike {
		case AtRest:
			continue
		case Warned, Striking:
			if past > lifts && past < 3600-lifts {
				continue // at the half, or the strike is out of step
			}
			out.sure[i] = true
		default:
			if out.maybe[i] = true; !atStrike(p.dial) {
				out.can++
				continue
			}
		}
		out.can++
		out.hour = append(out.hour, hourAt(p.dial))
	}
	return out
}

// drawn are the hours of a set of stops that came by chance, put into room.
func (x strokes) drawn(w *world, room []int) []int {
	for i, dial := range w.dial {
		switch {
		case x.sure[i]:
			room = append(room, int(dial/3600)%hours+1)
		case x.maybe[i] && atStrike(dial):
			room = append(room, hourAt(dial))
		}
	}
	return room
}

// atStrike tells the time of the lifting and the blow.
func atStrike(dial float64) bool {
	past := math.Mod(dial, 3600)
	return past >= 3600-lifts || past <= strikes
}

// hourAt is the hour that is struck next from ten minutes before it on.
func hourAt(dial float64) int {
	return (int(math.Floor((dial+lifts)/3600))+hours-1)%hours + 1
}

// rackHour: stops at the strike of one hour, with the tail on one step and the
// rack at one tooth.
func (s *solver) rackHour(x strokes) *test {
	odds := make([][]float64, x.can+1) // by stops at the strike, by those of one hour
	for n := range odds {
		odds[n] = make([]float64, n+1)
		for k := range odds[n] {
			odds[n][k] = fullest(n, k)
		}
	}
	score := func(hour []int) float64 {
		if len(hour) < least {
			return 1
		}
		_, held := most(hour)
		return odds[len(hour)][held]
	}
	at, held := most(x.hour)
	n := len(x.hour)
	sus := Suspect{Kind: RackHour, Names: []string{"the rack at one hour, on one step of the snail"}, Stops: n, Hold: held, Width: 1.0 / hours}
	sus.Words = fmt.Sprintf("%s that came at the strike were at %s o’clock", counted(held, n), figure(at))
	sus.Next = fmt.Sprintf("Turn the hands to %s o’clock and let it warn: look where the tail comes down on the snail, whether it hangs on the edge of that step, and at the tooth of the rack that the hook holds there.", figure(at))
	return x.test(sus, score, func(more int) float64 { return fullest(n+more, held+more) })
}

// test is a test of the hours of the stops at the strike; where there are too
// few it is only among what was looked at.
func (x strokes) test(sus Suspect, score func(hour []int) float64, sure func(more int) float64) *test {
	room := make([]int, 0, len(x.sure))
	return &test{suspect: sus, score: score(x.hour), hidden: len(x.hour) < least, sure: sure,
		null: func(w *world) float64 { return score(x.drawn(w, room)) }}
}

// most is the hour that comes most often, the earliest of several, and how
// often.
func most(hour []int) (at, held int) {
	var n [hours + 1]int
	for _, h := range hour {
		n[h]++
	}
	for h, c := range n {
		if c > held {
			at, held = h, c
		}
	}
	return at, held
}

// fullest is the chance that of n hours drawn alike some hour comes at least k
// times: that none does is n! times the sum of the products of 1/(mᵢ! 12^mᵢ).
func fullest(n, k int) float64 {
	if k <= 1 {
		return 1
	}
	ways := make([]float64, n+1) // the sum over the hours so far, by how many are drawn
	ways[0] = 1
	for range hours {
		next := make([]float64, n+1)
		for have, w := range ways {
			for m := 0; m < k && have+m <= n; m++ {
				next[have+m] += w * math.Exp(circular.LogBinomial(have+m, m)-float64(m)*math.Log(hours))
			}
		}
		ways = next
	}
	return math.Max(0, math.Min(1, 1-ways[n]))
}

// rackFall: stops at the strike of many blows, at which the rack has fallen far
// and the gathering pallet turns often.
func (s *solver) rackFall(x strokes) *test {
	odds := make([][]float64, x.can+1) // by stops at the strike, by their blows
	for n := range odds {
		odds[n] = blowsAbove(n)
	}
	score := func(hour []int) float64 {
		if len(hour) < least {
			return 1
		}
		return odds[len(hour)][total(hour)]
	}
	n, sum, late := len(x.hour), total(x.hour), 0
	for _, h := range x.hour {
		if h > hours/2 {
			late++
		}
	}
	sus := Suspect{Kind: RackFall, Names: []string{"the rack far fallen, to be gathered by many turns"}, Stops: n, Hold: late, Width: 0.5}
	sus.Words = fmt.Sprintf("%s that came at the strike were at seven o’clock or later, with %d blows on the mean", counted(late, n), int(math.Round(float64(sum)/float64(max(n, 1)))))
	sus.Next = "Let it strike one and then twelve: see whether its spring presses harder the farther the rack falls, whether the rack rubs there on plate or pillar, and whether gathering pallet and hook take every tooth; find the tooth at which it first hangs."
	return x.test(sus, score, func(more int) float64 { return blowsAbove(n + more)[sum*(n+more)/n] })
}

func total(of []int) (sum int) {
	for _, x := range of {
		sum += x
	}
	return sum
}

// blowsAbove is the chance, for each sum, that n hours drawn alike come to it
// or more.
func blowsAbove(n int) []float64 {
	ways := []float64{1}
	for range n {
		next := make([]float64, len(ways)+hours)
		for sum, w := range ways {
			for h := 1; h <= hours; h++ {
				next[sum+h] += w / hours
			}
		}
		ways = next
	}
	for sum := len(ways) - 2; sum >= 0; sum-- {
		ways[sum] += ways[sum+1]
	}
	return ways
}

// rackStep: stops after twelve and before one, where a tail that was left on
// the snail meets its high step; nil where fewer than three may have been so.
func (s *solver) rackStep() *test {
	var idx []int
	for i, p := range s.spots {
		if p.Strike != AtRest { // at rest the rack is gathered up
			idx = append(idx, i)
		}
	}
	if len(idx) < least {
		return nil
	}
	t := s.dialZone(Suspect{Kind: RackStep, Names: []string{"the rack’s tail at the high step of the snail"}}, idx, func(dial float64) bool {
		past := math.Mod(dial, 12*3600)
		return past > strikes && past <= 3600
	})
	t.suspect.Words = counted(t.suspect.Hold, len(idx)) + " came after twelve and before one"
	t.suspect.Next = "See whether it struck twelve to the end, and whether the strike is wound: where the rack is not gathered up its tail stays on the snail, and the step from twelve to one stops the clock. See that the tail springs aside there, where it was made to."
	return t
}

// withStrikes states that a clock with a rack strikes the hours, where nothing
// was said of it.
func (s *solver) withStrikes() {
	if s.q.Strikes == "" && slices.Contains([]train.Counting{train.ByRack, train.ByCountWheel}, s.counting()) {
		s.q.Strikes = StrikesHours
	}
}
