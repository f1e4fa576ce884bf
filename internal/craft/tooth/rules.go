package tooth

import (
	"math"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/cite"
)

// Where the proportions are from.
var (
	cycloidRule = cite.Ref{Source: "beckett", Place: "pp. 276–277", Grade: cite.Exact, Note: "epicycloid of a circle of half the pinion's pitch radius"}
	willisRule  = cite.Ref{Source: "beckett", Place: "p. 278, table of Willis"}
	pinRule     = cite.Ref{Source: "goodrich", Place: "ch. XIV, lantern pinions", Note: "epicycloid of the whole pitch circle, and its parallel by plane geometry"}
	heightRule  = cite.Ref{Source: "goodrich", Place: "ch. XIV, heights of teeth"}
	leafRule    = cite.Ref{Source: "goodrich", Place: "ch. XIV, leaves and spaces"}
	fineRule    = cite.Ref{Source: "bs978", Grade: cite.Memory}
	usage       = cite.Ref{Grade: cite.CommonPractice}
	shapeRule   = cite.Ref{Grade: cite.Exact, Note: "plane geometry"}
	latheRule   = cite.Ref{Source: "eis2"}
)

// goodrichHeights are those printed for the teeth of a wheel over its pitch
// circle, as parts of the pitch radius of the pinion.
var goodrichHeights = []struct {
	leaves     train.Teeth
	over, part float64 // over/part of the radius
	wrong      bool    // it is more than the tooth has at its point
}{
	{6, 5, 12, false}, {7, 2, 5, false}, {8, 7, 20, false}, {9, 3, 7, true}, {10, 2, 5, true}, {12, 2, 7, false},
}

// heightRules are the ways to tell how high the teeth of a wheel are, in
// modules over the pitch circle; the last is the point.
func heightRules(wheel, leaves train.Teeth, form Form) []Rule {
	if form == LanternOf {
		return lanternHeights(wheel, leaves)
	}
	point := PointHeight(wheel, leaves)
	out := []Rule{{"as long as it drives", exactHeight(wheel, leaves), cycloidRule}, {"0.95 of the point", shorter * point, fineRule}}
	for _, g := range goodrichHeights {
		if g.leaves == leaves && !g.wrong {
			out = append(out, Rule{"printed for this pinion in Goodrich", g.over / g.part * float64(leaves) / 2, heightRule})
		}
	}
	return append(out, Rule{"to the point", point, cycloidRule})
}

// exactHeight is that of the exact form.
func exactHeight(wheel, leaves train.Teeth) float64 {
	e := profile(wheel, leaves, toothPart)
	return e.out(min(e.pointed(), overlap*2*math.Pi/float64(wheel))) - e.Base
}

func lanternHeights(wheel, leaves train.Teeth) []Rule {
	l := layout{Design{Form: LanternOf, Wheel: wheel, Leaves: leaves}, 1, float64(wheel) / 2, float64(leaves) / 2}
	_, pin, e, err := l.pinSpace()
	if err != nil {
		return nil
	}
	k, err := l.beside(e, pin)
	if err != nil {
		return nil
	}
	high := func(turn float64) float64 {
		p, _ := Parallel{Of: e.to(turn), Off: -pin, To: 1}.At(1)
		return p.Len() - l.R
	}
	return []Rule{{"as long as it drives", high(k.last), pinRule}, {"to the point", high(k.point), pinRule}}
}

// pinionHeights bounds how high the leaves of a pinion are over the pitch
// circle, in modules: rounded by half their width and less, to the highest
// pointed arch of the standard.
var pinionHeights = cite.Value[[2]float64]{V: [2]float64{0.4, 0.855}, Ref: fineRule}

// heightSpan is the least and the most of the rules.
func heightSpan(rules []Rule) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, r := range rules {
		low, high = min(low, r.Height), max(high, r.Height)
	}
	return low, high
}
