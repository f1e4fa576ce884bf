package ratio

import (
	"fmt"
	"math/big"

	"seatboard/internal/kit/cite"
)

// Fraction is a ratio in whole numbers near the one that is wanted.
type Fraction struct {
	Ratio   *big.Rat `json:"ratio"`
	Miss    *big.Rat `json:"miss"`    // less the wanted one, exactly
	Between bool     `json:"between"` // of a continued fraction: an intermediate one
}

// continuedRule is where continued fractions are used for wheels.
var continuedRule = cite.Ref{Grade: cite.Exact, Note: "continued fractions, as Huygens used them for his planetarium"}

// longest bounds continued fractions and walks: a ratio of 400 digits has not
// more than some 2000 quotients, but nobody cuts the wheels.
const longest = 200

// Quotients are the partial quotients of the continued fraction of a ratio
// above nought: 415/93 is 4; 2, 6, 7. There are at most 200 of them.
func Quotients(r *big.Rat) []*big.Int {
	a, b := new(big.Int).Set(r.Num()), new(big.Int).Set(r.Denom())
	var out []*big.Int
	for b.Sign() != 0 && len(out) < longest {
		q, rest := new(big.Int).QuoRem(a, b, new(big.Int))
		out = append(out, q)
		a, b = b, rest
	}
	return out
}

// Convergents are the fractions that the continued fraction of a ratio gives
// when it is broken off, each nearer than any with smaller numbers; the last
// is the ratio itself.
func Convergents(r *big.Rat) []Fraction {
	var out []Fraction
	each(r, func(f Fraction) { out = append(out, f) })
	return out
}

// WithBetween are the convergents and the intermediate fractions between
// them: every fraction that is nearer than all with a smaller denominator, in
// the order of their denominators.
func WithBetween(r *big.Rat) []Fraction {
	var out []Fraction
	walkQuotients(r, func(i int, a *big.Int, before, last [2]*big.Int) {
		if i > 0 && a.BitLen() <= mostBetween { // of a longer row none has wheels that can be cut
			for k := max(a.Int64()/2, 1); k < a.Int64(); k++ {
				f := fractionOf(r, add(before[0], times(k, last[0])), add(before[1], times(k, last[1])), true)
				if nearer(f, out) {
					out = append(out, f)
				}
			}
		}
		f := fractionOf(r, add(before[0], new(big.Int).Mul(a, last[0])), add(before[1], new(big.Int).Mul(a, last[1])), false)
		if nearer(f, out) {
			out = append(out, f)
		}
	})
	return out
}

// mostBetween is the most bits of a quotient whose intermediate fractions are
// listed.
const mostBetween = 10

// nearer tells whether a fraction is nearer than all before it.
func nearer(f Fraction, before []Fraction) bool {
	return len(before) == 0 || new(big.Rat).Abs(f.Miss).Cmp(new(big.Rat).Abs(before[len(before)-1].Miss)) < 0
}

// each hands over the convergents.
func each(r *big.Rat, give func(Fraction)) {
	walkQuotients(r, func(_ int, a *big.Int, before, last [2]*big.Int) {
		give(fractionOf(r, add(before[0], new(big.Int).Mul(a, last[0])), add(before[1], new(big.Int).Mul(a, last[1])), false))
	})
}

// walkQuotients hands over each quotient with numerator and denominator of
// the two convergents before it; those before the first are 0/1 and 1/0.
func walkQuotients(r *big.Rat, give func(i int, a *big.Int, before, last [2]*big.Int)) {
	before, last := [2]*big.Int{big.NewInt(0), big.NewInt(1)}, [2]*big.Int{big.NewInt(1), big.NewInt(0)}
	for i, a := range Quotients(r) {
		give(i, a, before, last)
		next := [2]*big.Int{add(before[0], new(big.Int).Mul(a, last[0])), add(before[1], new(big.Int).Mul(a, last[1]))}
		before, last = last, next
	}
}

// fractionOf is a/b beside a wanted ratio; b must not be nought.
func fractionOf(r *big.Rat, a, b *big.Int, between bool) Fraction {
	x := new(big.Rat).SetFrac(a, b)
	return Fraction{Ratio: x, Miss: new(big.Rat).Sub(x, r), Between: between}
}

func add(a, b *big.Int) *big.Int         { return new(big.Int).Add(a, b) }
func times(k int64, a *big.Int) *big.Int { return new(big.Int).Mul(big.NewInt(k), a) }

// ContinuedSteps writes the working of the convergents: one line for each
// quotient, up to so many.
func ContinuedSteps(r *big.Rat, most int) []cite.Step {
	var out []cite.Step
	a, b := new(big.Int).Set(r.Num()), new(big.Int).Set(r.Denom())
	all := Convergents(r)
	for i, q := range Quotients(r) {
		if i >= most {
			break
		}
		rest := new(big.Int).Sub(a, new(big.Int).Mul(q, b))
		out = append(out, cite.Step{Name: fmt.Sprintf("Quotient %d", i+1), Formula: "dividend / divisor, rest", Numbers: fmt.Sprintf("%s / %s = %s, rest %s", short(a), short(b), short(q), short(rest)),
			Result: "so far " + Written(all[i].Ratio), Ref: continuedRule})
		a, b = b, rest
	}
	return out
}

// short writes a whole number, in powers of ten where it is long.
func short(n *big.Int) string {
	if s := n.String(); len(s) <= 18 {
		return s
	}
	return new(big.Float).SetInt(n).Text('g', 6)
}

// Written is a ratio as it is printed: "443/15", "29"; a long one as a
// decimal.
func Written(r *big.Rat) string {
	if s := r.RatString(); len(s) <= 24 {
		return s
	}
	f, _ := r.Float64()
	return fmt.Sprintf("%.12g", f)
}
