package train

import (
	"math"
	"math/big"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// GoodrichTrains is the 79 trains of Goodrich's table, each from the arbor
// that the table begins with, in its order.
func GoodrichTrains() []Query {
	var out []Query
	for _, r := range goodrichTable() {
		out = append(out, printedQuery(r["train"], "1", r["first_turn"], r["beats_per_turn"]))
	}
	return out
}

// PrintedTrains is the going trains of the other works, each once; the arbor
// of one turn an hour is stated where the print says it.
func PrintedTrains() []Query {
	var out []Query
	seen := map[string]bool{}
	for _, r := range printedTrains() {
		if key := r["train"] + " " + r["hour_arbor"]; !seen[key] {
			seen[key] = true
			out = append(out, printedQuery(r["train"], r["hour_arbor"], r["arbor_turn"], r["per_turn"]))
		}
	}
	return out
}

// PrintedMotions is the motion works of the printed table.
func PrintedMotions() []Chain {
	var out []Chain
	for _, r := range records(motionCSV) {
		out = append(out, MustChain(r["motion"]))
	}
	return out
}

// printedQuery makes a query of a row of the program's own tables.
func printedQuery(chain, hour, turn, perTurn string) Query {
	q, err := Parse(chain)
	if err != nil {
		panic(err)
	}
	q.HourArbor = hour
	if err := q.PerTurn.UnmarshalText([]byte(perTurn)); err != nil {
		panic(err)
	}
	if q.ArborTurn, err = meas.Parse[unit.Duration](turn, "h"); err != nil {
		panic(err)
	}
	return q
}

// ExactOf is a ratio as an Exact; nil is not known.
func ExactOf(r *big.Rat) Exact {
	if r == nil {
		return Exact{}
	}
	return exactly(new(big.Rat).Set(r))
}

// Decimal is the ratio of the shortest decimal that is x, what a person typed
// and not its binary neighbour; nil for what is not a number.
func Decimal(x float64) *big.Rat { return decimalRat(x) }

// Find is the place of an arbor named by its number from the barrel, 1 first,
// by its name or by the usual name of its place; -1 where there is none.
func (t Train) Find(arbor string) int { return findArbor(t.Rows(), arbor) }

// PendulumBeats is the beats an hour of the stated pendulum with all its
// doubt: of its length, where none was stated that of one taken roughly, and
// of gravity.
func (q Query) PendulumBeats() meas.Result[unit.Ratio] {
	s := solver{q: q}
	s.gravity()
	r := s.pendulumBeats()
	if r.Set && !q.Pendulum.HasU {
		r.U, r.HasU = unit.Ratio(math.Hypot(float64(r.U), float64(r.Value)*unstatedLength.V/2)), true
	}
	return r
}

// WheelModule is the module in mm that the diameter over the tips allows a
// wheel of n teeth; nil where it was not measured.
func (a Arbor) WheelModule(n Teeth) *Bracket { return tipModule(a.WheelDiameter, n, wheelTip.V) }

// PinionModule is the module in mm that the diameter over the tips allows a
// pinion of n leaves; nil where it was not measured or is a lantern pinion.
func (a Arbor) PinionModule(n Teeth) *Bracket {
	if a.Pinion.Lantern {
		return nil
	}
	return tipModule(a.PinionDiameter, n, pinionTip.V)
}

// DepthModule is the module in mm that the distance to the next arbor allows
// a wheel with a pinion; nil where it was not measured.
func (a Arbor) DepthModule(wheel, pinion Teeth) *Bracket {
	if !a.Depth.Set {
		return nil
	}
	sum := float64(wheel + pinion)
	mid := 2 * a.Depth.Value.MM() / sum
	off := mid*depthSlack.V + 2*2*a.Depth.U.MM()/sum
	return &Bracket{mid - off, mid + off}
}

// PinPlace is the arbor of the pins that lift the hammer, from 0: the stated
// one, else the first for ten pins and more and the second for fewer; -1
// where there is none.
func (t Train) PinPlace() int {
	return (&turning{Train: t, rows: t.Rows()}).pinArbor()
}
