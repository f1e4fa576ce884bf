package ratio

import (
	"math/big"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/cite"
)

// Checks compares printed figures with those reckoned here.
func Checks() []cite.Check {
	return append(derhamChecks(), append(goodrichChecks(), fractionChecks()...)...)
}

func value(r *big.Rat) float64 {
	f, _ := r.Float64()
	return f
}

func rat(a, b int64) *big.Rat { return big.NewRat(a, b) }

func derhamChecks() []cite.Check {
	d := func(place string) cite.Ref { return cite.Ref{Source: "derham", Place: place} }
	down, up := Rule360(rat(147, 170), 1, 360), Rule360(rat(170, 147), 1, 360)
	in := func(all []By360, pinion train.Teeth) By360 {
		for _, b := range all {
			if b.Pair.Pinion == pinion {
				return b
			}
		}
		return By360{Fourth: new(big.Rat)}
	}
	sixty := in(down, 60)
	relative := new(big.Rat).Quo(sixty.Pair.Rat(), rat(147, 170))
	whole := new(big.Rat).Mul(Pair{36, 4}.Rat(), new(big.Rat).Mul(Pair{8, 7}.Rat(), Pair{5, 1}.Rat()))
	size, _ := PinionSize(rat(2, 1), Pair{60, 6})
	return []cite.Check{
		{What: "170 to 147 as 360 to a fourth", Ref: d("pp. 19–20"), Printed: "311", Got: value(sixty.Fourth), Tol: .5},
		{What: "147 to 170 as 360 to a fourth", Ref: d("pp. 19–20"), Printed: "416", Got: value(in(up, 45).Fourth), Tol: .5},
		{What: "wheel of 60, by 6", Ref: d("p. 20"), Printed: "52", Got: float64(sixty.Pair.Wheel)},
		{What: "52/60 over 147/170, in parts of 441", Ref: d("p. 20"), Printed: "442", Got: 441 * value(relative)},
		{What: "36/4 · 8/7 · 5/1, in parts of 28", Ref: d("p. 18"), Printed: "1440", Got: 28 * value(whole)},
		{What: "variations of 36 · 8 from 8 to 36: 36 · 8, 32 · 9, 24 · 12 and two he leaves out", Ref: d("p. 17"), Printed: "288", Got: float64(Variations(288, 8, 36)[1][0] * Variations(288, 8, 36)[1][1])},
		{What: "pinion of 6 for 60 teeth on 2 in, in", Ref: d("p. 74"), Printed: ".2", Got: value(size)},
	}
}

func goodrichChecks() []cite.Check {
	g := cite.Ref{Source: "goodrich", Place: "ch. XIV"}
	p255 := cite.Ref{Source: "goodrich", Place: "ch. XIV, p. 255"}
	lost, _ := Lost(rat(5400, 1), 30, []Pair{{72, 8}}, 8)
	round, _ := Barrel(rat(192, 1), rat(12, 1), rat(40, 1), 2)
	size, _ := PinionSize(rat(13, 4), Pair{12, 1})
	return []cite.Check{
		{What: "lost wheel of 5,400 beats, escape 30, 72/8 left, 8 leaves", Ref: p255, Printed: "80", Got: value(lost)},
		{What: "way round a barrel of 8 days, 12 h a turn, 40 in on two parts, in", Ref: p255, Printed: "5", Got: value(round)},
		{What: "wheel of 7 1/2 to 1 on 12 leaves", Ref: g, Printed: "90", Got: value(new(big.Rat).Mul(rat(15, 2), rat(12, 1)))},
		{What: "teeth to the inch of 96 on 3 in", Ref: g, Printed: "32", Got: value(rat(96, 3))},
		{What: "3.25 in shared by 12, in", Ref: g, Printed: ".270", Got: value(size), Tol: .001},
	}
}

func fractionChecks() []cite.Check {
	hayes := cite.Ref{Source: "hayes", Place: "Brocot's example 191/23", Note: "search excerpt"}
	lagrange := cite.Ref{Source: "lagrange", Place: "pp. 39–42"}
	walk := Walk(rat(191, 23), longest)
	over, _ := new(big.Float).SetInt(Over(walk[0], rat(191, 23))).Float64()
	// A year of 365 d 5 h 48 m 49 s: days to be put in.
	year := Convergents(rat(20929, 86400))
	under := func(n int64) float64 {
		for _, f := range year {
			if f.Ratio.Num().Int64() == n {
				return value(new(big.Rat).SetInt(f.Ratio.Denom()))
			}
		}
		return 0
	}
	saturn := Convergents(rat(77708431, 2640858))
	month := new(big.Rat).SetFrac64(2551443*100-12, 100*86400) // 29 d 12 h 44 m 2.88 s
	beckett := rat(98*113, 15*25)
	return []cite.Check{
		{What: "191/23 begins at 8/1, off by −7", Ref: hayes, Printed: "-7", Got: over},
		{What: "leap days of a year of 365 d 5 h 48 m 49 s: 7 in", Ref: lagrange, Printed: "29", Got: under(7)},
		{What: "the same: 8 in", Ref: lagrange, Printed: "33", Got: under(8)},
		{What: "Saturn's wheels for 77708431/2640858: teeth to 7 leaves", Ref: cite.Ref{Grade: cite.Memory, Note: "Huygens' planetarium"}, Printed: "206", Got: value(new(big.Rat).SetInt(denominated(saturn, 7).Num()))},
		{What: "a moon of 98/15 · 113/25 in days: long by, s", Ref: cite.Ref{Source: "beckett", Place: "p. 140"}, Printed: "6.7", Got: 86400 * value(new(big.Rat).Sub(beckett, month))},
	}
}

// denominated is the convergent with a denominator, 0/1 where there is none.
func denominated(all []Fraction, d int64) *big.Rat {
	for _, f := range all {
		if f.Ratio.Denom().Int64() == d {
			return f.Ratio
		}
	}
	return new(big.Rat)
}
