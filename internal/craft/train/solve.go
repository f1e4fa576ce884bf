package train

import (
	"math"
	"math/big"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Solve reckons the trains. The error is meas.Faults with every mistake of
// the query; what was not given is just not reckoned.
func Solve(q Query) (Answer, error) {
	if f := q.Check(); len(f) > 0 {
		return Answer{}, f
	}
	s := solver{q: q, a: Answer{Query: q, Complete: true, Anchor: Anchor{Kind: ByNothing}}}
	s.gravity()
	for _, t := range q.Trains {
		if t.empty() {
			continue
		}
		c := newChain(t)
		if t.isGoing() {
			s.going(c)
		} else {
			s.striking(c)
		}
		s.a.Trains = append(s.a.Trains, s.turned(c))
		s.missing(c)
		s.plausible(c)
		s.modules(&s.a.Trains[len(s.a.Trains)-1])
	}
	s.power()
	s.order()
	return s.a, nil
}

// solver fills an answer.
type solver struct {
	q Query
	a Answer
}

// turning is a train being reckoned: the ratio of each mesh (nil where a
// count is missing), the beats of the last arbor and the turns an hour of
// every arbor that is known.
type turning struct {
	Train
	rows   []Arbor
	ratios []*big.Rat // ratios[i] between arbor i and i+1
	first  []*big.Rat // turns for one of the first arbor
	turns  []*big.Rat // an hour
	about  []bool     // the turns rest on a measurement
	beats  *big.Rat   // for one turn of the last arbor
	pins   int        // arbor of the pins, -1 where not asked
}

func newChain(t Train) *turning {
	c := &turning{Train: t, rows: t.Rows(), pins: -1}
	n := len(c.rows)
	c.ratios = make([]*big.Rat, n-1)
	c.turns, c.about = make([]*big.Rat, n), make([]bool, n)
	for i := range c.ratios {
		if w, p := c.rows[i].Wheel, c.rows[i+1].Pinion; w.Known() && p.Known() {
			c.ratios[i] = big.NewRat(int64(w.Teeth), int64(p.Teeth))
		}
	}
	c.first = c.relative(0)
	return c
}

// relative is the turns of every arbor for one of arbor i.
func (c *turning) relative(i int) []*big.Rat {
	t := make([]*big.Rat, len(c.rows))
	t[i] = big.NewRat(1, 1)
	c.spread(t)
	return t
}

// spread carries known turns over to arbors not yet known.
func (c *turning) spread(t []*big.Rat) {
	for i, r := range c.ratios {
		if t[i] != nil && t[i+1] == nil && r != nil {
			t[i+1] = new(big.Rat).Mul(t[i], r)
		}
	}
	for i := len(c.ratios) - 1; i >= 0; i-- {
		if r := c.ratios[i]; t[i] == nil && t[i+1] != nil && r != nil {
			t[i] = new(big.Rat).Quo(t[i+1], r)
		}
	}
}

// set fixes the turns of an arbor and of all that hang together with it.
func (c *turning) set(i int, turns *big.Rat, about bool) {
	if c.turns[i] != nil {
		return
	}
	before := make([]bool, len(c.turns))
	for k := range c.turns {
		before[k] = c.turns[k] != nil
	}
	c.turns[i] = turns
	c.spread(c.turns)
	for k := range c.turns {
		c.about[k] = c.about[k] || (about && !before[k] && c.turns[k] != nil)
	}
}

func (c *turning) last() int { return len(c.rows) - 1 }

// beatsAt is the beats an hour if arbor i turned once an hour; nil where a
// count between it and the escapement is missing.
func (c *turning) beatsAt(i int) *big.Rat {
	if c.beats == nil {
		return nil
	}
	b := new(big.Rat).Set(c.beats)
	for _, r := range c.ratios[i:] {
		if r == nil {
			return nil
		}
		b.Mul(b, r)
	}
	return b
}

// gravity is the stated or the standard one.
func (s *solver) gravity() {
	if g := s.q.Gravity; g.Set {
		s.a.Gravity = meas.Result[unit.Acceleration]{Value: g.Value, U: g.U, HasU: g.HasU, Set: true}
		return
	}
	s.a.Gravity, s.a.Standard = meas.Exactly(standardGravity.V), true
}

// going reckons the train with the escapement.
func (s *solver) going(c *turning) {
	c.beats = s.beatsOfLast(c)
	s.anchor(c)
	hour := -1
	if a := s.a.Anchor; a.Kind == ByHourArbor {
		hour = *a.Arbor
	}
	s.second(c)
	for i, t := range c.turns {
		if t != nil && hour < 0 && t.Cmp(one) == 0 && !c.about[i] {
			hour = i
		}
	}
	if s.q.ArborTurn.Set {
		hour = -1
		for i, t := range c.turns {
			if t != nil && t.Cmp(one) == 0 && !c.about[i] {
				hour = i
			}
		}
	}
	usualNames(c.rows, hour, -1, true)
	s.sayAnchor(c)
	s.beating(c)
	s.motion(c, hour)
	s.seconds(c)
}

// beatsOfLast is the beats for one turn of the last arbor, nil where the
// escape wheel is not known.
func (s *solver) beatsOfLast(c *turning) *big.Rat {
	if s.q.PerTurn.Known() {
		return s.q.PerTurn.Rat()
	}
	w := c.rows[c.last()].Wheel
	if !w.Known() {
		return nil
	}
	return big.NewRat(int64(w.Teeth)*int64(s.perTooth()), 1)
}

func (s *solver) perTooth() int {
	if s.q.PerTooth > 0 {
		return s.q.PerTooth
	}
	return 2
}

// beating fills in the beats, the pendulum and what was stated about them.
func (s *solver) beating(c *turning) {
	last := c.turns[c.last()]
	if last != nil && c.beats != nil {
		b := Exact{r: new(big.Rat).Mul(last, c.beats), About: c.about[c.last()]}
		s.a.BeatsPerHour = b
		s.a.BeatsPerMinute = Exact{r: new(big.Rat).Quo(b.r, sixty), About: b.About}
		s.a.SecondsPerBeat = Exact{r: new(big.Rat).Quo(hourSeconds, b.r), About: b.About}
		s.a.Pendulum = pendulumFor(b.Float(), s.a.Gravity)
		s.workBeats(c)
	}
	s.compare()
}

// pendulumFor is the length to the centre of swing for n beats an hour.
func pendulumFor(n float64, g meas.Result[unit.Acceleration]) meas.Result[unit.Length] {
	beat := 3600 / n
	return meas.Propagate(func(x []float64) unit.Length {
		return unit.Length(x[0] * beat * beat / (math.Pi * math.Pi))
	}, meas.Input{Name: "gravity", Value: float64(g.Value), U: float64(g.U)})
}

// beatsFor is the beats an hour of a pendulum: 3600 √(g/L)/π.
func beatsFor(x []float64) unit.Ratio { return unit.Ratio(3600 / math.Pi * math.Sqrt(x[1]/x[0])) }

// pendulumBeats is the beats an hour of the stated pendulum, with the doubt
// of its length and of gravity.
func (s *solver) pendulumBeats() meas.Result[unit.Ratio] {
	if !s.q.Pendulum.Set {
		return meas.Result[unit.Ratio]{}
	}
	return meas.Propagate(beatsFor, meas.From("length of the pendulum", s.q.Pendulum), s.gravityInput())
}

// gravityInput is gravity with its doubt: where it was not stated, that of
// not knowing the place.
func (s *solver) gravityInput() meas.Input {
	in := meas.Input{Name: "gravity", Value: float64(s.a.Gravity.Value), U: float64(s.a.Gravity.U)}
	if s.a.Standard {
		in.Name, in.U = "gravity, which was not stated", gravitySpread.V
	}
	return in
}

// seconds finds an arbor of one turn a minute.
func (s *solver) seconds(c *turning) {
	for i, t := range c.turns {
		if t != nil && !c.about[i] && t.Cmp(sixty) == 0 {
			at := i
			s.a.SecondsHand = &at
			return
		}
	}
}

// turned is the train as answered.
func (s *solver) turned(c *turning) Turned {
	t := Turned{Name: c.field(), Arbors: make([]ArborAnswer, len(c.rows)), Meshes: make([]Mesh, len(c.ratios))}
	for i, a := range c.rows {
		x := ArborAnswer{Arbor: a, TurnsPerHour: Exact{r: c.turns[i], About: c.about[i]}, TurnsPerFirst: exactly(c.first[i])}
		if c.turns[i] != nil {
			x.Period = Exact{r: new(big.Rat).Quo(hourSeconds, c.turns[i]), About: c.about[i]}
		}
		t.Arbors[i] = x
	}
	for i := range c.ratios {
		t.Meshes[i] = c.mesh(i)
	}
	if c.isGoing() && c.beats != nil && c.first[c.last()] != nil {
		t.BeatsPerTurn = exactly(new(big.Rat).Mul(c.beats, c.first[c.last()]))
	}
	s.running(c, &t)
	return t
}

// mesh reckons what happens between wheel i and pinion i+1.
func (c *turning) mesh(i int) Mesh {
	m := Mesh{Driver: i, Ratio: exactly(c.ratios[i])}
	w, p := c.rows[i].Wheel, c.rows[i+1].Pinion
	if m.Ratio.Known() {
		d := gcd(int(w.Teeth), int(p.Teeth))
		m.RepeatWheel, m.RepeatPinion, m.Hunting = int(p.Teeth)/d, int(w.Teeth)/d, d == 1
		if t := c.turns[i]; t != nil {
			m.RepeatPeriod = Exact{r: new(big.Rat).Quo(big.NewRat(3600*int64(m.RepeatWheel), 1), t), About: c.about[i]}
		}
	}
	switch {
	case w.Known() && c.turns[i] != nil:
		m.contacts(c.turns[i], w.Teeth, c.about[i])
	case p.Known() && c.turns[i+1] != nil:
		m.contacts(c.turns[i+1], p.Teeth, c.about[i+1])
	}
	return m
}

func (m *Mesh) contacts(turns *big.Rat, n Teeth, about bool) {
	r := new(big.Rat).Mul(turns, big.NewRat(int64(n), 1))
	m.ContactsPerHour = Exact{r: r, About: about}
	m.ContactPeriod = Exact{r: new(big.Rat).Quo(hourSeconds, r), About: about}
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
