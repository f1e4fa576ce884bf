package train

import (
	"fmt"
	"math/big"
	"strings"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// motionProduct is the turns of the carrier for one of the hour hand; nil
// where nothing was entered or a count is missing.
func motionProduct(m Chain) *big.Rat {
	if len(m.arbors) < 2 {
		return nil
	}
	p := big.NewRat(1, 1)
	for i, a := range m.arbors[:len(m.arbors)-1] {
		w, pinion := a.Wheel, m.arbors[i+1].Pinion
		if !w.Known() || !pinion.Known() {
			return nil
		}
		p.Mul(p, big.NewRat(int64(w.Teeth), int64(pinion.Teeth)))
	}
	return p
}

func (s *solver) dialHours() int {
	if s.q.DialHours > 0 {
		return s.q.DialHours
	}
	return 12
}

// motion reckons the hour hand; hour is the arbor of one turn an hour, -1
// where there is none.
func (s *solver) motion(c *turning, hour int) {
	chain := s.q.Motion.arbors
	if len(chain) < 2 {
		return
	}
	m := Motion{Carrier: hour, DialHours: s.dialHours(), Product: exactly(motionProduct(s.q.Motion))}
	for i, a := range chain[:len(chain)-1] {
		m.Pairs = append(m.Pairs, Pair{a.Wheel, chain[i+1].Pinion})
	}
	if s.q.MotionArbor != "" {
		m.Carrier = findArbor(c.rows, s.q.MotionArbor)
	}
	s.a.Motion = &m
	switch {
	case !m.Product.Known():
		s.a.Complete = false
		s.find(meas.Doubt, "motion-work", "A count of the motion work is missing.", s.motionHint(c, m), productRef)
		return
	case m.Carrier < 0:
		s.find(meas.Doubt, "motion-work", "It is not known which arbor carries the motion work.", "State the arbor by its number from the barrel.", productRef)
		return
	case c.turns[m.Carrier] == nil:
		return
	}
	carrier := c.turns[m.Carrier]
	m.HoursPerTurn = Exact{r: new(big.Rat).Quo(m.Product.r, carrier), About: c.about[m.Carrier]}
	m.Right = m.HoursPerTurn.r.Cmp(big.NewRat(int64(m.DialHours), 1)) == 0
	s.workMotion(m, carrier)
	s.sayMotion(c, m, ratFloat(carrier))
}

// motionHint says what the work must make.
func (s *solver) motionHint(c *turning, m Motion) string {
	if m.Carrier < 0 || c.turns[m.Carrier] == nil {
		return ""
	}
	want := new(big.Rat).Mul(c.turns[m.Carrier], big.NewRat(int64(m.DialHours), 1))
	return fmt.Sprintf("The wheels of the motion work over its pinions must make %s.", exactly(want).Mixed())
}

// sayMotion finds the clash of the motion work with the dial.
func (s *solver) sayMotion(c *turning, m Motion, turns float64) {
	hours := m.HoursPerTurn.Float()
	if m.Right {
		return
	}
	dial := float64(m.DialHours)
	if m.HoursPerTurn.About { // it rests on the pendulum: say so only where it is well off
		n := s.pendulumBeats()
		doubt := float64(n.U / n.Value)
		if off := hours/dial - 1; off < 3*doubt+0.002 && off > -3*doubt-0.002 {
			s.a.Motion.Right = true
			return
		}
	}
	off := dial * (dial/hours - 1) * 60 // minutes the hour hand is ahead after one turn's time
	way := "ahead"
	if off < 0 {
		off, way = -off, "behind"
	}
	at := fmt.Sprintf("%s turn an hour", exactly(c.turns[m.Carrier]).Mixed())
	if c.about[m.Carrier] {
		at = figures(turns, 4) + " turns an hour"
	}
	s.find(meas.Clash, "motion-work", fmt.Sprintf("The motion work makes %s where %s is wanted from an arbor of %s: the hour hand goes round in %s h, and is %s min %s after %d h.",
		m.Product.Mixed(), exactly(new(big.Rat).Mul(c.turns[m.Carrier], big.NewRat(int64(m.DialHours), 1))).Mixed(), at,
		figures(hours, 5), figures(off, 4), way, m.DialHours),
		"Count the motion work again, and see which arbor carries it.", productRef, "motion")
}

// compare holds the beats of the train against those that were stated and
// the pendulum.
func (s *solver) compare() {
	b := s.a.BeatsPerHour
	if !b.Known() || b.About {
		return
	}
	if st := s.q.Beats; st.Known() && st.r.Cmp(b.r) != 0 {
		// the hands follow the train: it gains where more beats come than it wants
		rate := meas.Exactly(unit.Rate(st.Float()/b.Float() - 1))
		s.a.Rate = rate
		s.find(meas.Clash, "beats", fmt.Sprintf("The train wants %s beats an hour and %s were stated: the clock would %s.", b.Mixed(), st.Mixed(), gains(rate)),
			"Count the train again, or the beats over a longer time.", ruleRef, "beats-per-hour")
	}
	if s.q.Pendulum.Set {
		s.comparePendulum(b.Float())
	}
}

func (s *solver) comparePendulum(n float64) {
	rate := meas.Propagate(func(x []float64) unit.Rate { return unit.Rate(float64(beatsFor(x))/n - 1) },
		meas.From("length of the pendulum", s.q.Pendulum), s.gravityInput())
	s.a.Rate = rate
	p := s.pendulumBeats()
	off, doubt := float64(rate.Value), float64(rate.U)
	if !s.q.Pendulum.HasU {
		doubt += unstatedLength.V / 2 // an unstated doubt of the length is half of it in the rate
	}
	if off < 0 {
		off = -off
	}
	text := fmt.Sprintf("The pendulum of %s beats %s an hour and the train wants %s: the clock would %s.",
		s.q.Pendulum, rounded(p), s.a.BeatsPerHour.Mixed(), gains(rate))
	switch {
	case off > 2*doubt:
		s.find(meas.Clash, "pendulum", text, "Measure to the centre of swing, not to the middle of the bob; see whether a wheel or the pendulum is not the first one.", pendulumRef, "pendulum")
	default:
		s.find(meas.Note, "pendulum", text, "That is within the doubt of the length and of gravity.", pendulumRef, "pendulum")
	}
}

// gains says a rate in words: "gain 19 ± 8 s a day", "lose 53 min a day".
func gains(r meas.Result[unit.Rate]) string {
	way, v := "gain", r.Value
	if v < 0 {
		way, v = "lose", -v
	}
	by, symbol := unit.Duration(float64(v)*86400), "s"
	u := unit.Duration(float64(r.U) * 86400)
	switch {
	case by >= 2*3600:
		symbol = "h"
	case by >= 600:
		symbol = "min"
	}
	if r.HasU && u > 0 {
		return way + " " + meas.WithU(by, u, symbol) + " a day"
	}
	return way + " " + figures(unit.In(by, symbol), 3) + "\u00a0" + symbol + " a day"
}

// sumText writes "(60 · 56)/(8 · 7)" of the meshes from arbor i.
func (c *turning) sumText(i int) string {
	var w, p []string
	for k := i; k < len(c.ratios); k++ {
		w = append(w, fmt.Sprint(c.rows[k].Wheel.Teeth))
		p = append(p, fmt.Sprint(c.rows[k+1].Pinion.Teeth))
	}
	switch len(w) {
	case 0:
		return "1"
	case 1:
		return w[0] + "/" + p[0]
	}
	return "(" + strings.Join(w, " · ") + ")/(" + strings.Join(p, " · ") + ")"
}
