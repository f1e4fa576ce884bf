package train

import (
	"fmt"
	"math"
	"math/big"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// striking reckons a train without escapement: turns for one of the first
// arbor and, where pins are known, the mean turns an hour.
func (s *solver) striking(c *turning) {
	if c.Pins > 0 {
		c.pins = c.pinArbor()
		if blows := c.blowsPerTurn(); blows != nil {
			mean := big.NewRat(int64(c.blowsIn12h()), 12)
			c.set(0, mean.Quo(mean, blows), false)
		}
	}
	usualNames(c.rows, -1, c.pins, false)
}

// pinArbor is the arbor of the pins. Ten pins and more stand on a great
// wheel, fewer on the second.
func (c *turning) pinArbor() int {
	switch {
	case c.PinArbor != "":
		return findArbor(c.rows, c.PinArbor)
	case c.Pins >= 10 || len(c.rows) < 2:
		return 0
	}
	return 1
}

func (c *turning) blowsPerTurn() *big.Rat {
	if c.pins < 0 || c.first[c.pins] == nil {
		return nil
	}
	return new(big.Rat).Mul(c.first[c.pins], big.NewRat(int64(c.Pins), 1))
}

func (c *turning) blowsIn12h() int {
	if c.BlowsPer12h > 0 {
		return c.BlowsPer12h
	}
	return blowsIn12.V
}

// running fills in what one winding lasts.
func (s *solver) running(c *turning, t *Turned) {
	great := c.turns[0]
	if great != nil {
		t.GreatTurnsPer12h = Exact{r: new(big.Rat).Mul(great, big.NewRat(12, 1)), About: c.about[0]}
	}
	if !c.isGoing() {
		s.blows(c, t)
	}
	if !c.BarrelTurns.Set {
		return
	}
	turns := decimalRat(float64(c.BarrelTurns.Value))
	t.BarrelTurns = exactly(turns)
	if turns == nil || great == nil {
		return
	}
	h := new(big.Rat).Quo(turns, great)
	t.RunningHours = Exact{r: h, About: c.about[0]}
	t.RunningDays = Exact{r: new(big.Rat).Quo(h, big.NewRat(24, 1)), About: c.about[0]}
	perTurn := 3600 / ratFloat(great)
	t.Running = meas.Propagate(func(x []float64) unit.Duration { return unit.Duration(x[0] * perTurn) },
		meas.From("turns of the barrel", c.BarrelTurns))
	s.work("Running time of the "+c.field()+" train", "turns of the barrel · time of one turn",
		fmt.Sprintf("%s · %s h", t.BarrelTurns.Mixed(), Exact{r: new(big.Rat).Inv(great), About: c.about[0]}.Mixed()),
		fmt.Sprintf("%s h, %s days", t.RunningHours.Mixed(), t.RunningDays.Mixed()), runningRef)
	s.sayRunning(c, t)
}

// blows fills in the strike.
func (s *solver) blows(c *turning, t *Turned) {
	if c.pins < 0 {
		return
	}
	at := c.pins
	t.PinArbor, t.BlowsPer12h = &at, c.blowsIn12h()
	t.BlowsPerTurn = exactly(c.blowsPerTurn())
	if turns := decimalRat(float64(c.BarrelTurns.Value)); c.BarrelTurns.Set && turns != nil && t.BlowsPerTurn.Known() {
		t.BlowsInAll = exactly(turns.Mul(turns, t.BlowsPerTurn.r))
		s.work("Blows in one winding of the "+c.field(), "pins · turns of their arbor", fmt.Sprintf("%d · %s · %s", c.Pins, exactly(c.first[c.pins]).Mixed(), exactly(decimalRat(float64(c.BarrelTurns.Value))).Mixed()),
			t.BlowsInAll.Mixed()+" blows", strikeRef)
	}
	p := motionProduct(c.Report)
	if p == nil {
		return
	}
	p.Mul(p, big.NewRat(int64(c.Pins), 1))
	t.BlowsOfReport = exactly(p)
	for _, n := range []int{c.blowsIn12h(), blowsIn12.V, halfHours.V} {
		if p.Cmp(big.NewRat(int64(n), 1)) == 0 {
			return
		}
	}
	s.find(meas.Clash, "count-wheel", fmt.Sprintf("The count wheel of the %s goes round once in %s blows; %d are wanted for 12 hours, or %d with the half hours.", c.field(), t.BlowsOfReport.Mixed(), blowsIn12.V, halfHours.V),
		"Count the pins, the report and its wheel again.", strikeRef, c.field())
}

// usualTime is a running time that clocks were made for.
type usualTime struct {
	Name      string  // "8 days"
	Hours     float64 // as the sources name it
	Low, High float64 // hours that count as this
	Ref       cite.Ref
}

// sayRunning compares the running time with the usual ones.
func (s *solver) sayRunning(c *turning, t *Turned) {
	h := t.RunningHours.Float()
	best, bestOff := usualTimes.Rows[0], math.Inf(1)
	for _, u := range usualTimes.Rows {
		if h >= u.Low*(1-1e-12) && h <= u.High*(1+1e-12) {
			return
		}
		if off := math.Min(math.Abs(math.Log(h/u.Low)), math.Abs(math.Log(h/u.High))); off < bestOff {
			best, bestOff = u, off
		}
	}
	perTurn := h / t.BarrelTurns.Float()
	runs := figures(h/24, 4) + " days"
	if h < 72 {
		runs = figures(h, 4) + " h"
	}
	s.find(meas.Clash, "running-time", fmt.Sprintf("With %s turns of the barrel the %s train runs %s, which is no usual time; the nearest is %s, for which %s turns are needed.",
		t.BarrelTurns.Mixed(), c.field(), runs, best.Name, figures(best.Hours/perTurn, 3)),
		"Count the turns again, and the great wheel and its pinion.", best.Ref, c.field()+"-barrel-turns")
}
