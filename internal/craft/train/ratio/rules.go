package ratio

import (
	"fmt"
	"math/big"
	"slices"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/cite"
)

// Pair is a wheel and the pinion that it drives.
type Pair struct {
	Wheel  train.Teeth `json:"wheel"`
	Pinion train.Teeth `json:"pinion"`
}

// String is "60/8".
func (p Pair) String() string { return fmt.Sprintf("%d/%d", p.Wheel, p.Pinion) }

// Rat is the turns of the pinion in one of the wheel.
func (p Pair) Rat() *big.Rat { return big.NewRat(int64(p.Wheel), int64(p.Pinion)) }

// The places of the rules.
var (
	lostRule = cite.Ref{Source: "goodrich", Place: "ch. XIV, p. 255", Note: "he gives it as Britten's"}
	rule360  = cite.Ref{Source: "derham", Place: "pp. 19–20", Note: "the method is Oughtred's"}
	vary     = cite.Ref{Source: "derham", Place: "p. 17"}
	sizeRule = cite.Ref{Source: "derham", Place: "p. 74"}
)

// Lost finds the wheel that is missing of a going train, by the rule that
// Goodrich gives: the beats an hour divided by twice the escape teeth are the
// turns of the escape wheel; these divided by each pair that is left; the rest
// times the leaves of the lost wheel's pinion. A result that is not whole
// means that one of the numbers is another. An escape of no teeth or a pair
// without teeth gives nil.
func Lost(beats *big.Rat, escape train.Teeth, left []Pair, leaves train.Teeth) (*big.Rat, []cite.Step) {
	if escape < 1 || leaves < 1 {
		return nil, nil
	}
	rest := new(big.Rat).Quo(beats, big.NewRat(2*int64(escape), 1))
	steps := []cite.Step{{Name: "Turns of the escape wheel an hour", Formula: "beats / (2 · escape teeth)", Numbers: fmt.Sprintf("%s / (2 · %d)", Written(beats), escape), Result: Written(rest), Ref: lostRule}}
	for _, p := range left {
		if p.Wheel < 1 || p.Pinion < 1 {
			return nil, nil
		}
		next := new(big.Rat).Quo(rest, p.Rat())
		steps = append(steps, cite.Step{Name: "Less the pair " + p.String(), Formula: "turns · leaves / teeth", Numbers: fmt.Sprintf("%s · %d / %d", Written(rest), p.Pinion, p.Wheel), Result: Written(next), Ref: lostRule})
		rest = next
	}
	teeth := new(big.Rat).Mul(rest, big.NewRat(int64(leaves), 1))
	steps = append(steps, cite.Step{Name: "Teeth of the lost wheel", Formula: "turns · leaves", Numbers: fmt.Sprintf("%s · %d", Written(rest), leaves), Result: Written(teeth), Ref: lostRule})
	return teeth, steps
}

// By360 is a wheel and a pinion, or two wheels, by the rule of 360.
type By360 struct {
	Fourth *big.Rat `json:"fourth"`  // the number that stands to 360 as the ratio
	By     int64    `json:"divisor"` // of 360
	Pair   Pair     `json:"pair"`
	Miss   *big.Rat `json:"miss"` // of the pair less the wanted ratio
}

// Rule360 finds pairs for a ratio as Derham teaches: as its second number to
// its first, so 360 to a fourth; both divided by what divides 360, and the
// fourth rounded. 360 has many divisors, so wheels that can be divided on any
// plate come out. The pinion is from least to most; pairs whose wheel would
// have over 1200 teeth are left out.
func Rule360(r *big.Rat, least, most train.Teeth) []By360 {
	fourth := new(big.Rat).Mul(r, big.NewRat(360, 1))
	var out []By360
	for by := int64(1); by <= 360; by++ {
		if pinion := train.Teeth(360 / by); 360%by == 0 && pinion >= least && pinion <= most {
			wheel := nearestWhole(new(big.Rat).Quo(fourth, big.NewRat(by, 1)))
			if !wheel.IsInt64() || wheel.Int64() < 1 || wheel.Int64() > int64(train.MostTeeth) {
				continue
			}
			p := Pair{train.Teeth(wheel.Int64()), pinion}
			out = append(out, By360{fourth, by, p, new(big.Rat).Sub(p.Rat(), r)})
		}
	}
	slices.SortStableFunc(out, func(a, b By360) int { return new(big.Rat).Abs(a.Miss).Cmp(new(big.Rat).Abs(b.Miss)) })
	return out
}

// Step is the working of a pair by the rule of 360.
func (b By360) Step(r *big.Rat) cite.Step {
	rounded := nearestWhole(b.Fourth)
	return cite.Step{Name: "By the rule of 360", Formula: "b : a = 360 : x, both divided by what divides 360",
		Numbers: fmt.Sprintf("360 · %s = %s; %v/360, by %d", Written(r), decimal(b.Fourth, 2), rounded, b.By), Result: fmt.Sprintf("%d/%d", b.Pair.Wheel, b.Pair.Pinion), Ref: rule360}
}

// nearestWhole rounds a ratio above nought, halves up.
func nearestWhole(r *big.Rat) *big.Int {
	n := new(big.Int).Lsh(r.Num(), 1)
	n.Add(n, r.Denom())
	return n.Quo(n, new(big.Int).Lsh(r.Denom(), 1))
}

// decimal writes a ratio with so many decimals.
func decimal(r *big.Rat, places int) string { return r.FloatString(places) }

// Variations are the pairs of whole numbers from least to most with the same
// product, the larger first: what Derham calls the variation of numbers, for
// putting other wheels in the place of two. 36 · 8 = 32 · 9 = 24 · 12.
func Variations(product, least, most train.Teeth) [][2]train.Teeth {
	var out [][2]train.Teeth
	for a := max(least, 1); a <= most && a*a <= product; a++ {
		if b := product / a; a*b == product && b >= least && b <= most {
			out = append(out, [2]train.Teeth{b, a})
		}
	}
	return out
}

// VariationStep is the working of the variations of a product.
func VariationStep(product, least, most train.Teeth) cite.Step {
	words := ""
	for i, v := range Variations(product, least, most) {
		if i > 0 {
			words += " = "
		}
		words += fmt.Sprintf("%d · %d", v[0], v[1])
	}
	return cite.Step{Name: "Other numbers with the same product", Formula: "a · b = c · d", Numbers: words, Result: fmt.Sprint(int(product)), Ref: vary}
}

// PinionSize is the diameter of a pinion by Derham's rule, from that of the
// wheel that drives it, in the unit of the wheel: the pitch circles touch. A
// wheel of no teeth gives nil.
func PinionSize(wheel *big.Rat, p Pair) (*big.Rat, cite.Step) {
	if p.Wheel < 1 {
		return nil, cite.Step{}
	}
	d := new(big.Rat).Mul(wheel, big.NewRat(int64(p.Pinion), int64(p.Wheel)))
	return d, cite.Step{Name: "Size of the pinion", Formula: "wheel / teeth · leaves", Numbers: fmt.Sprintf("%s / %d · %d", Written(wheel), p.Wheel, p.Pinion), Result: Written(d), Ref: sizeRule}
}

// Barrel is the way round a barrel for a fall, as Goodrich reckons it: the
// hours that it is to run by the hours of a turn are the turns, and the line
// that comes off, the fall times its parts, is shared among them. The unit is
// that of the fall. Hours or a turn of nought give nil.
func Barrel(hours, turn, fall *big.Rat, parts int64) (round *big.Rat, steps []cite.Step) {
	if hours.Sign() <= 0 || turn.Sign() <= 0 {
		return nil, nil
	}
	turns := new(big.Rat).Quo(hours, turn)
	line := new(big.Rat).Mul(fall, big.NewRat(parts, 1))
	round = new(big.Rat).Quo(line, turns)
	return round, []cite.Step{
		{Name: "Turns of the barrel", Formula: "hours / hours of a turn", Numbers: Written(hours) + " / " + Written(turn), Result: Written(turns), Ref: lostRule},
		{Name: "Way round the barrel", Formula: "fall · parts of the line / turns", Numbers: fmt.Sprintf("%s · %d / %s", Written(fall), parts, Written(turns)), Result: Written(round), Ref: lostRule},
	}
}
