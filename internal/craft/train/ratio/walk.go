package ratio

import (
	"fmt"
	"math/big"

	"seatboard/internal/kit/cite"
)

// walkRule is where the walk is described for clockwork.
var walkRule = cite.Ref{Source: "hayes", Place: "A. Brocot's method", Note: "the start of his example was seen"}

// Walk goes to a ratio above nought as A. Brocot did: from the whole numbers
// below and above it, always by the fraction whose numerator and denominator
// are the sums of those of the two nearest, one under and one over. It ends
// at the ratio, or after so many steps. The first two are the whole numbers.
func Walk(r *big.Rat, most int) []Fraction {
	low := [2]*big.Int{new(big.Int).Quo(r.Num(), r.Denom()), big.NewInt(1)}
	high := [2]*big.Int{add(low[0], big.NewInt(1)), big.NewInt(1)}
	out := []Fraction{fractionOf(r, low[0], low[1], false), fractionOf(r, high[0], high[1], false)}
	if out[0].Miss.Sign() == 0 {
		return out[:1]
	}
	for len(out) < min(most, longest) {
		mid := [2]*big.Int{add(low[0], high[0]), add(low[1], high[1])}
		f := fractionOf(r, mid[0], mid[1], false)
		out = append(out, f)
		switch f.Miss.Sign() {
		case 0:
			return out
		case -1:
			low = mid
		case 1:
			high = mid
		}
	}
	return out
}

// Over is the miss of a fraction as Brocot writes it: its numerator times the
// denominator of the wanted ratio, less the other product; a whole number,
// negative under the ratio.
func Over(f Fraction, wanted *big.Rat) *big.Int {
	a := new(big.Int).Mul(f.Ratio.Num(), wanted.Denom())
	return a.Sub(a, new(big.Int).Mul(f.Ratio.Denom(), wanted.Num()))
}

// WalkSteps writes the working of a walk, one line for each of its fractions.
func WalkSteps(r *big.Rat, most int) []cite.Step {
	var out []cite.Step
	for i, f := range Walk(r, most) {
		name := fmt.Sprintf("Step %d of the walk", i-1)
		if i < 2 {
			name = [...]string{"The whole number under it", "The whole number over it"}[i]
		}
		over := Over(f, r)
		sign := ""
		if over.Sign() > 0 {
			sign = "+"
		}
		out = append(out, cite.Step{Name: name, Formula: "(a + c)/(b + d)", Numbers: Written(f.Ratio), Result: "off by " + sign + short(over), Ref: walkRule})
	}
	return out
}
