package ratio

import (
	"fmt"
	"math/big"
	"strings"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// What an answer lists.
const (
	nearestTrains = 12
	mostWalk      = 40
	mostLines     = 10 // of continued division in the working
	most360       = 6
	firstWithin   = 1e-3 // of the ratio; ten times as far where that gives too few
	lastWithin    = 0.1
)

// Solve finds fractions and trains near the ratio. The error is a meas.Faults
// with every mistake in the inputs.
func Solve(q Query) (Answer, error) {
	a := Answer{Query: q}
	if f := q.Check(); len(f) > 0 {
		return a, f
	}
	a.Limits, a.Ratio = q.limits(), new(big.Rat).Set(q.Wanted.R)
	if a.Ratio.Cmp(big.NewRat(1, 1)) < 0 {
		a.Ratio.Inv(a.Ratio)
		a.Turned = true
	}
	a.layTurn()
	a.Quotients = Quotients(a.Ratio)
	for _, f := range WithBetween(a.Ratio) {
		a.Fractions = append(a.Fractions, Near{f, a.off(f.Ratio, f.Miss)})
	}
	for _, f := range Walk(a.Ratio, mostWalk) {
		a.Walk = append(a.Walk, Near{f, a.off(f.Ratio, f.Miss)})
	}
	for _, b := range Rule360(a.Ratio, a.Limits.LeafFrom, max(a.Limits.LeafTo, 60)) {
		if len(a.By360) < most360 && b.Pair.Wheel <= a.Limits.WheelTo {
			a.By360 = append(a.By360, Rounded{b, a.off(b.Pair.Rat(), b.Miss)})
		}
	}
	for within := firstWithin; len(a.Trains) < nearestTrains && within <= lastWithin*1.01; within *= 10 {
		a.Trains = nil
		for _, t := range Search(a.Ratio, a.Limits, within, nearestTrains) {
			a.Trains = append(a.Trains, Offer{t, a.off(t.Ratio, t.Miss)})
		}
	}
	if len(a.Trains) > 0 && a.Trains[0].Exact() {
		a.Exact = Ways(a.Ratio, a.Limits)
	}
	a.Complete = len(a.Trains) > 0
	a.work()
	a.find()
	return a, nil
}

// layTurn takes the time of a turn as typed, or of the two times.
func (a *Answer) layTurn() {
	q := a.Query
	switch {
	case q.Turn.Set:
		a.Turn = meas.Result[unit.Duration]{Value: q.Turn.Value, Set: true}
	case q.Wanted.Turn > 0:
		a.Turn = meas.Exactly(unit.Duration(q.Wanted.Turn))
	default:
		return
	}
	r, _ := a.Ratio.Float64()
	a.Slow = meas.Exactly(unit.Duration(r * float64(a.Turn.Value)))
}

// off is what a ratio does in the place of the wanted one.
func (a *Answer) off(ratio, miss *big.Rat) Off {
	part, _ := new(big.Rat).Quo(miss, ratio).Float64()
	o := Off{Rate: unit.Rate(-part)}
	if a.Turn.Set {
		m, _ := miss.Float64()
		o.Turn = meas.Exactly(unit.Duration(m * float64(a.Turn.Value)))
	}
	return o
}

func (a *Answer) work() {
	a.Working = append(a.Working, FactorStep(a.Ratio))
	a.Working = append(a.Working, ContinuedSteps(a.Ratio, mostLines)...)
	if len(a.By360) > 0 {
		a.Working = append(a.Working, a.By360[0].Step(a.Ratio))
	}
	if len(a.Trains) > 0 {
		t := a.Trains[0]
		wheels, leaves := []string{}, []string{}
		for _, p := range t.Pairs {
			wheels, leaves = append(wheels, fmt.Sprint(int(p.Wheel))), append(leaves, fmt.Sprint(int(p.Pinion)))
		}
		a.Working = append(a.Working, cite.Step{Name: "The nearest train", Formula: "Π wheels / Π pinions", Numbers: strings.Join(wheels, " · ") + " / (" + strings.Join(leaves, " · ") + ")",
			Result: Written(t.Ratio) + " = " + decimal(t.Ratio, 9), Ref: cite.Ref{Grade: cite.Exact, Note: "all sets of wheels and pinions within the limits are looked at"}})
	}
}

func (a *Answer) find() {
	say := func(level meas.Level, code, text, next string, about ...string) {
		a.Findings = append(a.Findings, meas.Finding{Level: level, Code: code, Text: text, Next: next, About: about, Ref: cite.Ref{Grade: cite.Exact}})
	}
	l := a.Limits
	if !a.Complete {
		low, high := reach(l)
		say(meas.Doubt, "out-of-reach", fmt.Sprintf("No train within the limits comes within a tenth of the ratio: wheels from %d to %d and pinions from %d to %d make from %s to %s with so many pairs (%d).",
			l.WheelFrom, l.WheelTo, l.LeafFrom, l.LeafTo, unit.Significant(low, 3), unit.Significant(high, 3), l.Pairs), "Take another number of pairs, or wider limits.", "pairs", "wheel-to", "leaf-from")
	}
	if a.Turned {
		say(meas.Note, "turned", "The ratio is under one; it is worked the other way up, so that wheels drive pinions.", "", "wanted")
	}
	if a.Complete && !a.Trains[0].Exact() {
		for _, n := range []struct {
			n    *big.Int
			most train.Teeth
			what string
		}{{a.Ratio.Num(), l.WheelTo, "wheels"}, {a.Ratio.Denom(), l.LeafTo, "pinions"}} {
			if p := largest(n.n); p > int64(n.most) {
				say(meas.Note, "prime", fmt.Sprintf("%d is prime and more than the %d teeth that the %s may have, so the ratio itself cannot be cut; what follows comes near it.", p, n.most, n.what), "", "wanted")
			}
		}
	}
	if !a.Turn.Set {
		say(meas.Note, "no-turn", "Enter what one turn of the quicker arbor takes, to see in seconds what each turn of the slower is off by.", "", "turn")
	}
}

// reach is the least and the greatest ratio within the limits.
func reach(l Limits) (low, high float64) {
	low, high = 1, 1
	for range l.Pairs {
		low *= float64(l.WheelFrom) / float64(l.LeafTo)
		high *= float64(l.WheelTo) / float64(l.LeafFrom)
	}
	return low, high
}
