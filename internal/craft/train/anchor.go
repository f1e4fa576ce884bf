package train

import (
	"fmt"
	"math"
	"math/big"
	"strings"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Constant ratios; they are never written.
var (
	one         = big.NewRat(1, 1)
	sixty       = big.NewRat(60, 1)
	hourSeconds = big.NewRat(3600, 1)
)

// anchor decides what fixes the speed, in this order: the stated arbor;
// stated beats; the motion work on a stated arbor that cannot be the hour
// arbor; an arbor found by rule; the pendulum.
func (s *solver) anchor(c *turning) {
	switch {
	case s.q.HourArbor != "":
		s.byHourArbor(c, s.statedArbor(c), false)
	case s.q.Beats.Known() && c.beats != nil:
		s.a.Anchor.Kind = ByBeats
		c.set(c.last(), new(big.Rat).Quo(s.q.Beats.r, c.beats), false)
	default:
		s.found(c)
	}
}

// statedArbor is the place of the arbor the user named. "Centre", where no
// arbor was given that name, is the one found by rule.
func (s *solver) statedArbor(c *turning) int {
	named := strings.ToLower(strings.TrimSpace(s.q.HourArbor))
	if named == "centre" || named == "center" {
		for _, a := range c.rows {
			if strings.EqualFold(a.Name, named) {
				return findArbor(c.rows, named)
			}
		}
		if best, _ := s.candidates(c); best >= 0 {
			return best
		}
	}
	return findArbor(c.rows, s.q.HourArbor)
}

func (s *solver) byHourArbor(c *turning, i int, supposed bool) {
	s.a.Anchor.Kind, s.a.Anchor.Arbor, s.a.Anchor.Supposed = ByHourArbor, &i, supposed
	turns := one
	if t := s.q.ArborTurn; t.Set {
		if d := decimalRat(float64(t.Value)); d != nil && d.Sign() > 0 {
			turns = new(big.Rat).Quo(hourSeconds, d)
		}
	}
	c.set(i, turns, false)
}

// found is the speed that nobody stated.
func (s *solver) found(c *turning) {
	best, others := s.candidates(c)
	if m, ok := s.motionTurns(c); ok {
		at := findArbor(c.rows, s.q.MotionArbor)
		if b := c.beatsAt(at); b == nil || !likely(ratFloat(b)) {
			s.a.Anchor.Kind, s.a.Anchor.Arbor = ByMotion, &at
			c.set(at, m, false)
			return
		}
		best, others = at, nil
	}
	switch {
	case best >= 0:
		s.byHourArbor(c, best, true)
		s.a.Anchor.Others = others
	default:
		s.byPendulum(c)
	}
}

// byPendulum lets the stated pendulum fix the speed, about.
func (s *solver) byPendulum(c *turning) {
	n := s.pendulumBeats()
	if !n.Set || c.beats == nil {
		return
	}
	s.a.Anchor.Kind = ByPendulum
	c.set(c.last(), new(big.Rat).Quo(decimalRat(float64(n.Value)), c.beats), true)
}

// candidates finds the arbor that is likely to turn once an hour, and the
// others that could. Likely is one that gives 1,500 to 12,500 beats an hour
// or one of the counts of balances; before others goes what lies within the
// beats of all but two of Goodrich's 79 trains, then the balances. A stated
// pendulum decides where one of the arbors agrees with it nearly.
func (s *solver) candidates(c *turning) (best int, others []int) {
	best = -1
	bestRank := math.Inf(1)
	want := s.pendulumBeats()
	for i := range c.rows {
		b := c.beatsAt(i)
		if b == nil {
			continue
		}
		n := ratFloat(b)
		rank := rankOf(n)
		if want.Set {
			if off := math.Abs(math.Log(n / float64(want.Value))); off < math.Log(1.5) {
				rank = off - 1
			}
		}
		switch {
		case math.IsInf(rank, 1):
		case rank < bestRank:
			if best >= 0 {
				others = append(others, best)
			}
			best, bestRank = i, rank
		default:
			others = append(others, i)
		}
	}
	if bestRank < 0 { // the pendulum has spoken
		others = nil
	}
	return best, others
}

// rankOf is lower for more usual beats an hour, infinite for unlikely ones.
func rankOf(n float64) float64 {
	switch {
	case n >= usualBeats.V.Low && n <= usualBeats.V.High:
		return 0
	case balanceBeats(n):
		return 1
	case n >= likelyBeats.V.Low && n <= likelyBeats.V.High:
		return 2
	}
	return math.Inf(1)
}

func likely(n float64) bool { return !math.IsInf(rankOf(n), 1) }

func balanceBeats(n float64) bool {
	for _, b := range balanceCounts.V {
		if n == b {
			return true
		}
	}
	return false
}

// motionTurns is the turns an hour that the motion work asks of a stated
// carrier.
func (s *solver) motionTurns(c *turning) (*big.Rat, bool) {
	p := motionProduct(s.q.Motion)
	if p == nil || s.q.MotionArbor == "" {
		return nil, false
	}
	return p.Quo(p, big.NewRat(int64(s.dialHours()), 1)), true
}

// second lets a further fact fix arbors that a missing count cut off.
func (s *solver) second(c *turning) {
	if s.q.Beats.Known() && c.beats != nil {
		c.set(c.last(), new(big.Rat).Quo(s.q.Beats.r, c.beats), false)
	}
	if m, ok := s.motionTurns(c); ok {
		c.set(findArbor(c.rows, s.q.MotionArbor), m, false)
	}
	if n := s.pendulumBeats(); n.Set && c.beats != nil {
		c.set(c.last(), new(big.Rat).Quo(decimalRat(float64(n.Value)), c.beats), true)
	}
}

// sayAnchor says what was supposed and how to state it.
func (s *solver) sayAnchor(c *turning) {
	a := s.a.Anchor
	switch {
	case a.Kind == ByNothing && c.hasMissing():
		s.find(meas.Doubt, "hour-arbor", "With counts missing it cannot be told which arbor turns once an hour; only the ratios are given.",
			"State the arbor that carries the minute hand, by number from the barrel: in a train of four arbors it is mostly 2.", ruleRef)
	case a.Kind == ByNothing && c.beats == nil:
		s.find(meas.Doubt, "hour-arbor", "Nothing fixes the speed of the train; only the ratios are given.",
			"State the arbor that turns once an hour, by number from the barrel, or the beats an hour.", ruleRef)
	case a.Kind == ByNothing:
		s.find(meas.Doubt, "hour-arbor", fmt.Sprintf("No arbor, turning once an hour, would give %.0f to %.0f beats an hour; only the ratios are given.", likelyBeats.V.Low, likelyBeats.V.High),
			"State the beats an hour, the pendulum, the arbor that turns once an hour, or the motion work with the arbor that carries it.", ruleRef)
	case a.Supposed && len(a.Others) > 0:
		var with []string
		for _, i := range a.Others {
			with = append(with, fmt.Sprintf("arbor %d (%s) with %s beats an hour", i+1, c.rows[i].Name, exactly(c.beatsAt(i)).Mixed()))
		}
		s.find(meas.Doubt, "hour-arbor", fmt.Sprintf("Arbor %d (%s) is supposed to turn once an hour; it could also be %s.", *a.Arbor+1, c.rows[*a.Arbor].Name, strings.Join(with, " or ")),
			"State the arbor that carries the minute hand, by number from the barrel, or the pendulum.", ruleRef)
	case a.Supposed:
		s.find(meas.Note, "hour-arbor", fmt.Sprintf("Arbor %d (%s) is supposed to turn once an hour.", *a.Arbor+1, c.rows[*a.Arbor].Name),
			"If another arbor carries the minute hand, state it by its number from the barrel.", ruleRef)
	case a.Kind == ByPendulum:
		n := s.pendulumBeats()
		s.find(meas.Note, "hour-arbor", fmt.Sprintf("No arbor turns once an hour; the speed rests on the pendulum, %s beats an hour.", rounded(n)), "", ruleRef)
	}
}

// rounded writes a result to its doubt, or to five figures.
func rounded(n meas.Result[unit.Ratio]) string {
	if n.HasU {
		return n.Text("", 0)
	}
	return unit.Significant(float64(n.Value), 5)
}

func (c *turning) hasMissing() bool {
	for i, a := range c.rows {
		if a.Wheel.Status == Missing || (i > 0 && a.Pinion.Status == Missing) {
			return true
		}
	}
	return false
}

func ratFloat(r *big.Rat) float64 {
	f, _ := r.Float64()
	return f
}
