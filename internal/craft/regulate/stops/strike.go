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

// sequence is what a strike that counts by a wheel does in twelve hours: its
// train stands still but at the blows, so that how many of them are past tells
// where it stands, whatever turns between.
type sequence struct {
	per    float64   // turns of an arbor in one blow
	step   float64   // s, from one strike to the next
	blows  []int     // of each in twelve hours, from twelve on
	before []int     // struck from twelve o'clock on before each
	all    int       // in twelve hours
	turn   float64   // s, of the dial
	part   []float64 // of each stop, how much of its blows were struck: a half where it was striking
}

// newSequence is for 78 blows in twelve hours, or 90 with one at each half.
func newSequence(all int, turn float64) *sequence {
	q := &sequence{all: all, step: 3600, turn: turn}
	for h := range 12 {
		q.blows = append(q.blows, (h+11)%12+1)
		if all == 90 {
			q.blows = append(q.blows, 1)
			q.step = 1800
		}
	}
	sum := 0
	for _, b := range q.blows {
		q.before = append(q.before, sum)
		sum += b
	}
	return q
}

// at is where the arbor stands: the strike is the one that is next from ten
// minutes before it on.
func (q *sequence) at(i int, dial, turns float64) float64 {
	k := int(math.Floor((dial + lifts) / q.step))
	halfDays := turns*q.turn/43200 + math.Floor(float64(k)/float64(len(q.blows)))
	k %= len(q.blows)
	struck := halfDays*float64(q.all) + float64(q.before[k]) + q.part[i]*float64(q.blows[k])
	return circular.Wrap(struck * q.per)
}

// strikeRings are the wheels of the strike, on which those stops are compared
// that came as it warned or struck: else the train stood locked, and did
// nothing.
func (s *solver) strikeRings() []*ring {
	t := s.strikeTrain()
	if t == nil {
		return nil
	}
	struck, part := s.struck()
	if len(struck) < least {
		return nil
	}
	all, ok := countWheel(t)
	if s.counting() == train.ByRack {
		s.untold = append(s.untold, Untold{Name: "the strike’s own wheels", Why: "With a rack it strikes what the hands show, and they do not tell where its train stands. Mark the tooth of the strike that is in mesh at each such stop."})
		return nil
	}
	if !ok {
		s.untold = append(s.untold, Untold{Name: "the strike’s own wheels", Why: "The hands tell where they stood only where the strike counts by a wheel of 78 blows, or 90 with the halves: state pins and report of the strike train, if it has one. Else mark the tooth of the strike that is in mesh at each such stop."})
		return nil
	}
	var out []*ring
	add := func(name, next string, per *big.Rat, teeth int) {
		if g, ok := s.strikeRing(name, per, all, struck, part); ok {
			g.next, g.teeth = next, teeth
			out = append(out, g)
		}
	}
	for _, a := range t.Arbors {
		turns, blows := a.TurnsPerFirst.Rat(), t.BlowsPerTurn.Rat()
		if turns == nil || blows == nil || blows.Sign() <= 0 {
			continue
		}
		name := train.WheelName(a.Name)
		add(name+" of the strike", "Mark the tooth of the "+name+" of the strike that is in mesh as it warns there, let the strike off by hand hour after hour, and see whether it drags or hangs at that mark: a bent tooth, dirt, a pin of the hammer that lifts late, a bent arbor.",
			new(big.Rat).Quo(turns, blows), int(a.Wheel.Teeth))
	}
	add("count wheel", "Look at the count wheel at that hour: whether its slot is worn or dirty, whether the detent drops cleanly into it and lifts out of it, and how much the lifting has to do there.", big.NewRat(1, int64(all)), 0)
	return out
}

// strikeTrain is the train of the strike, nil where the survey has none.
func (s *solver) strikeTrain() *train.Turned {
	if s.trained == nil {
		return nil
	}
	i := slices.IndexFunc(s.trained.Trains, func(t train.Turned) bool { return t.Name == train.Strike && len(t.Arbors) > 0 })
	if i < 0 {
		return nil
	}
	return &s.trained.Trains[i]
}

// countWheel is how many blows the count wheel has in a turn; false where
// there is none, or it is not one of twelve hours.
func countWheel(t *train.Turned) (blows int, ok bool) {
	r := t.BlowsOfReport.Rat()
	if r == nil || !r.IsInt() || t.BlowsOfReport.About {
		return 0, false
	}
	n := int(r.Num().Int64())
	return n, n == 78 || n == 90
}

// struck are the stops that came as the strike had warned or was striking: as
// it was seen, and where nobody looked those in the time of the lifting. part
// is how much of its blows each had struck.
func (s *solver) struck() (idx []int, part []float64) {
	part = make([]float64, len(s.spots))
	for i, p := range s.spots {
		past := math.Mod(p.dial, 3600)
		switch {
		case p.Strike == Striking:
			part[i] = 0.5
		case p.Strike == Warned:
		case p.Strike == AtRest || !atStrike(p.dial):
			continue
		case past <= strikes:
			part[i] = 0.5
		}
		idx = append(idx, i)
	}
	return idx, part
}

// strikeRing is a wheel of the strike that turns so much in one blow; false
// where that tells nothing: it comes round with every blow, or nearly, or too
// few stops can be compared.
func (s *solver) strikeRing(name string, per *big.Rat, all int, struck []int, part []float64) (*ring, bool) {
	const most = 0.25 // of a turn in a blow
	one, _ := per.Float64()
	if one <= 0 || one > most {
		return nil, false
	}
	inAll := new(big.Rat).Mul(per, big.NewRat(int64(all), 1))
	g := &ring{kind: StrikeWheel, names: []string{name}, from: byStrike, whole: inAll.IsInt(), shift: make([]float64, len(s.spots)), blur: one}
	half, _ := inAll.Float64()
	g.period, g.per = 43200/half, half*s.turn/43200
	g.strike = newSequence(all, s.turn)
	g.strike.per, g.strike.part = one, part
	s.group(g)
	kept := g.groups[:0]
	for _, idx := range g.groups {
		if idx = slices.DeleteFunc(idx, func(i int) bool { return !slices.Contains(struck, i) }); len(idx) > 1 {
			kept = append(kept, idx)
		}
	}
	if g.groups = kept; g.tested() < least {
		return nil, false
	}
	place, room := make([]float64, len(s.spots)), make([]float64, 0, len(s.spots))
	g.own = drawOwn(newWorld(s.turn, len(s.spots), 0, 0, 0), s.count(), 0, func(w *world) float64 {
		for i := range place {
			place[i] = g.turn(i, w.dial[i], w.turns[i], 0)
		}
		return g.raw(place, room)
	})
	return g, true
}

// strikeWords are the words of a suspect of the strike.
func strikeWords(x Suspect) string {
	if x.Hold < 2 {
		return fmt.Sprintf("%s stops at the strike lie all round the %s", figure(x.Stops), x.Names[0])
	}
	return fmt.Sprintf("%s that came at the strike had the %s in the same %s", counted(x.Hold, x.Stops), x.Names[0], part(x.Width))
}

// turnOf names how a wheel of the strike goes round.
func (x Suspect) turnOf() string {
	if x.Kind == StrikeWheel {
		return "on the mean one turn in " + span(float64(x.Period)) + ", at the blows alone"
	}
	return "one turn in " + span(float64(unit.Duration(x.Period)))
}
