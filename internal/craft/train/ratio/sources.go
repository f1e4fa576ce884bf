package ratio

import "seatboard/internal/kit/cite"

// Sources lists what the rules are from.
func Sources() []cite.Entry {
	return []cite.Entry{
		{Name: "rule for a lost wheel", Value: "beats / (2 · escape teeth), less each pair, by the leaves", Ref: lostRule},
		{Name: "rule of 360", Value: "b : a = 360 : x", Ref: rule360},
		{Name: "variation of numbers", Value: "a · b = c · d", Ref: vary},
		{Name: "size of a pinion", Value: "wheel / teeth · leaves", Ref: sizeRule},
		{Name: "walk between two fractions", Value: "(a + c)/(b + d)", Ref: walkRule},
		{Name: "continued fractions", Value: "convergents and intermediate fractions", Ref: continuedRule},
	}
}
