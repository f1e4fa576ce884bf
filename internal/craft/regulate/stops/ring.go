package stops

import (
	"fmt"
	"math"
	"math/big"
	"slices"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/circular"
	"seatboard/internal/kit/unit"
)

// reading is what the turn of a ring is read from.
type reading uint8

const (
	byTrain  reading = iota // the hands, less what they were set by
	byDial                  // the hands as they stand
	bySecond                // the seconds hand
	byStrike                // the blows that are past, by the hands as they stand
)

// ring is something that turns, with the stops that can be compared on it.
type ring struct {
	kind   Kind
	names  []string
	period float64 // s
	per    float64 // turns in one of the dial
	whole  bool    // per is a whole number
	from   reading
	groups [][]int   // of spots: those of one group can be compared
	shift  []float64 // s, taken off the dial of each spot
	blur   float64   // turns, the whole width of a reading's doubt
	teeth  int
	next   string
	strike *sequence // of byStrike
	own    *own      // chances where places do not lie anywhere alike; nil where they do
}

// turn is where the ring stands when the dial shows so much after so many
// turns of it; of a seconds hand second alone counts.
func (g *ring) turn(i int, dial, turns, second float64) float64 {
	switch g.from {
	case bySecond:
		return circular.Wrap(second / 60)
	case byStrike:
		return g.strike.at(i, dial, turns)
	}
	t := (dial - g.shift[i]) / g.period
	if !g.whole {
		t += turns * (g.per - math.Floor(g.per))
	}
	return circular.Wrap(t)
}

// tested is how many stops can be compared with another.
func (g *ring) tested() int {
	n := 0
	for _, idx := range g.groups {
		n += len(idx)
	}
	return n
}

// score is the chance of the most telling crowd of each group, taken
// together; turns is where each spot stands.
func (g *ring) score(turns, room []float64) float64 {
	if g.own != nil {
		return g.own.chance(g.raw(turns, room))
	}
	return g.raw(turns, room)
}

// raw is that where stops by chance would lie anywhere alike.
func (g *ring) raw(turns, room []float64) float64 {
	var odds [MaxStops]float64
	for k, idx := range g.groups {
		sorted := room[:0]
		for _, i := range idx {
			sorted = append(sorted, turns[i])
		}
		slices.Sort(sorted)
		p := crowding(sorted, g.blur)
		if len(g.groups) > 1 {
			p = math.Min(1, p*looks(len(idx)))
		}
		odds[k] = p
	}
	return together(odds[:len(g.groups)])
}

// pairs is how many chances the score is the least of.
func (g *ring) pairs() float64 {
	if len(g.groups) == 1 && g.own == nil {
		return looks(len(g.groups[0]))
	}
	return 1
}

// rings finds all that turns and can be told, and says what cannot.
func (s *solver) rings() []*ring {
	var all []*ring
	if s.trained != nil {
		all = s.trainRings()
	}
	for _, g := range s.dialRings() {
		all = s.merge(all, g)
	}
	all = append(all, s.strikeRings()...)
	return slices.DeleteFunc(all, func(g *ring) bool { return g.tested() == 0 })
}

// newRing makes a ring of an exact period in s; ok is false where it cannot
// be told, which is said.
func (s *solver) newRing(kind Kind, name string, period *big.Rat, from reading) (*ring, bool) {
	per := new(big.Rat).Quo(big.NewRat(int64(s.turn), 1), period)
	g := &ring{kind: kind, names: []string{name}, from: from, whole: per.IsInt(), shift: make([]float64, len(s.spots))}
	g.period, _ = period.Float64()
	g.per, _ = per.Float64()
	g.blur = 2 * s.hands() / g.period
	if s.hands() > coarse*g.period {
		return g, false
	}
	s.group(g)
	return g, true
}

// group finds which stops can be compared on the ring.
func (s *solver) group(g *ring) {
	shift, doubt, run := 0.0, 0.0, []int(nil)
	close := func() {
		if len(run) > 1 {
			g.groups = append(g.groups, run)
		}
		run, shift, doubt = nil, 0, 0
	}
	for i, p := range s.spots {
		l := p.link
		if l.before && g.from == byTrain {
			doubt = math.Hypot(doubt, l.u)
			if !l.known || doubt > coarse*g.period {
				close()
			}
			shift += l.by
			if len(run) == 0 {
				shift = 0
			}
		}
		if l.before && !g.whole && !l.sure {
			close()
		}
		g.shift[i] = shift
		run = append(run, i)
	}
	close()
}

// observed is where each spot stands on the ring.
func (s *solver) observed(g *ring) []float64 {
	out := make([]float64, len(s.spots))
	turns := 0.0
	for i, p := range s.spots {
		if i > 0 { // its place is the dial, less all settings, and so many turns of the dial
			turns += math.Round((p.link.run + float64(p.link.turns)*s.turn + p.link.by + s.spots[i-1].dial - p.dial) / s.turn)
		}
		out[i] = g.turn(i, p.dial, turns, float64(p.Hands.Second.Value))
	}
	return out
}

// trainRings are the arbors of the going train and the meshes.
func (s *solver) trainRings() []*ring {
	var all []*ring
	going := s.going()
	if going == nil {
		return nil
	}
	for i, a := range going.Arbors {
		period := a.Period.Rat()
		if period == nil || a.Period.About {
			continue
		}
		name := train.WheelName(a.Name)
		g, ok := s.newRing(Wheel, name, period, byTrain)
		g.teeth = int(a.Wheel.Teeth)
		if !ok && s.trained.SecondsHand != nil && *s.trained.SecondsHand == i {
			g, ok = s.secondRing(g)
		}
		g.next = s.wheelNext(going, i)
		s.admit(&all, g, ok)
	}
	for _, m := range going.Meshes {
		period := m.RepeatPeriod.Rat()
		if period == nil || m.RepeatPeriod.About {
			continue
		}
		wheel, pinion := train.WheelName(going.Arbors[m.Driver].Name), train.PinionName(going.Arbors[m.Driver+1].Name)
		seconds, _ := period.Float64()
		if slices.ContainsFunc(all, func(g *ring) bool { return math.Abs(g.period-seconds) < 1e-6 }) || seconds < s.hands()/coarse {
			continue // it repeats with an arbor, or too fast: the arbor says so
		}
		g, ok := s.newRing(Mesh, "one tooth of the "+wheel+" with one leaf of the "+pinion, period, byTrain)
		g.next = fmt.Sprintf("Mark the tooth of the %s and the leaf of the %s that are in mesh; they meet again after %s. Look at both for a burr, a bent tooth or dirt.", wheel, pinion, span(seconds))
		s.admit(&all, g, ok)
	}
	return all
}

// admit takes a ring in, or says why it cannot be told.
func (s *solver) admit(all *[]*ring, g *ring, ok bool) {
	switch {
	case !ok:
		why := fmt.Sprintf("It goes round in %s, and the hands were read to ± %s: they cannot tell where it stood. ", span(g.period), span(s.hands()))
		if math.Abs(g.period-60) < 1e-6 {
			why += "Look at the seconds hand at the next stop and write it behind the minute."
		} else {
			why += "Mark the tooth in mesh at each stop with a felt pen, and see whether it is the same one."
		}
		s.untold = append(s.untold, Untold{Name: g.names[0], Period: unit.Duration(g.period), Why: why})
	case len(g.groups) == 0 && g.kind == Wheel:
		why := "The hands were moved between the stops by an unknown amount, so that no two stops can be compared on the train. Write down where the hands stood and where they were set to."
		if !g.whole {
			why = "It does not come out even with the dial, and it is not known how often the hands went round between the stops. Write down when it was found and when it was last seen going."
		}
		s.untold = append(s.untold, Untold{Name: g.names[0], Period: unit.Duration(g.period), Why: why})
	default:
		*all = append(*all, g)
	}
}

// secondRing reads a ring of one turn a minute from the seconds hand, where
// stops enough have it.
func (s *solver) secondRing(g *ring) (*ring, bool) {
	var idx []int
	for i, p := range s.spots {
		if p.Hands.Second.Set {
			idx = append(idx, i)
		}
	}
	if len(idx) < least {
		return g, false
	}
	g.from, g.whole, g.blur, g.groups = bySecond, true, 2*secondU/60, [][]int{idx}
	return g, true
}

// going is the going train, nil where there is none.
func (s *solver) going() *train.Turned {
	for i, t := range s.trained.Trains {
		if t.Name == train.Going && len(t.Arbors) > 0 {
			return &s.trained.Trains[i]
		}
	}
	return nil
}

// dialRings are what turns with the hands, whatever they are set by: the
// motion work with what lifts the strike.
func (s *solver) dialRings() []*ring {
	var all []*ring
	add := func(name, next string, period *big.Rat, teeth int) {
		if g, ok := s.newRing(Dial, name, period, byDial); ok && g.whole && g.per >= 1 {
			g.next, g.teeth = next, teeth
			all = append(all, g)
		}
	}
	hour := "See whether hour hand and minute hand, or hour hand and dial, touch there; look at hour wheel and snail, and whether the rack tail catches at the step of the snail."
	minute := "See whether the hands touch each other, the dial or the glass there; look at cannon pinion and minute wheel, and at what the lifting piece does at that minute."
	add("hour hand with hour wheel and snail", hour, big.NewRat(int64(s.turn), 1), 0)
	add("minute hand with cannon pinion and lifting", minute, big.NewRat(3600, 1), 0)
	if s.trained == nil || s.trained.Motion == nil || !s.trained.Motion.Right || s.trained.Motion.HoursPerTurn.About {
		return all
	}
	motion := s.trained.Motion
	period := new(big.Rat).Quo(big.NewRat(int64(s.turn), 1), motion.Product.Rat()) // of the carrier
	for _, p := range motion.Pairs[:max(0, len(motion.Pairs)-1)] {
		period = new(big.Rat).Mul(period, big.NewRat(int64(p.Wheel.Teeth), int64(p.Pinion.Teeth)))
		if period.Cmp(big.NewRat(3600, 1)) != 0 {
			add("minute wheel", "Look at the minute wheel and its pinion, and at the pins that lift the strike.", period, int(p.Wheel.Teeth))
		}
	}
	return all
}

// merge takes in a ring of the dial; where the hands were never moved it goes
// round with the arbor of the same period and cannot be told from it.
func (s *solver) merge(all []*ring, g *ring) []*ring {
	never := !slices.ContainsFunc(s.spots, func(p spot) bool { return p.link.before && (p.link.set || !p.link.known) })
	for _, x := range all {
		if never && x.from == byTrain && math.Abs(x.period-g.period) < 1e-6 {
			x.names = append(x.names, g.names...)
			x.next += " " + g.next
			return all
		}
	}
	return append(all, g)
}
