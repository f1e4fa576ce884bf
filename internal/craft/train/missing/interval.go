package missing

import (
	"math"
	"math/big"
	"math/bits"
)

// span is a speed or a ratio: what it may be, exactly, and where it is most
// likely. An exact one has low, high and mid the same.
type span struct {
	low, mid, high *big.Rat
	rel            float64 // relative standard doubt of mid, 0 where exact
}

// widths is how many doubts each way a measured span reaches; what lies
// outside is left out.
const widths = 3

func exact(r *big.Rat) span { return span{low: r, mid: r, high: r} }

func whole(n int) span { return exact(big.NewRat(int64(n), 1)) }

// doubted is a measured value with its relative standard doubt. Its bounds
// are rounded outwards to nine figures and are exact from then on.
func doubted(mid float64, rel float64) span {
	if !(rel > 0) {
		return exact(rational(mid))
	}
	reach := math.Min(widths*rel, 0.9)
	return span{low: rational(outward(mid*(1-reach), math.Floor)), mid: rational(mid), high: rational(outward(mid*(1+reach), math.Ceil)), rel: rel}
}

// outward rounds to nine significant figures.
func outward(x float64, round func(float64) float64) float64 {
	scale := math.Pow10(8 - int(math.Floor(math.Log10(math.Abs(x)))))
	return round(x*scale) / scale
}

// rational is the decimal that is printed as x with twelve figures at most.
func rational(x float64) *big.Rat {
	r, ok := new(big.Rat).SetString(big.NewFloat(x).Text('g', 12))
	if !ok {
		return new(big.Rat)
	}
	return r
}

func (s span) exact() bool { return s.low.Cmp(s.high) == 0 }

// times is the span of a product of two that know nothing of each other.
func (s span) times(o span) span {
	return span{mul(s.low, o.low), mul(s.mid, o.mid), mul(s.high, o.high), math.Hypot(s.rel, o.rel)}
}

// over is the span of a quotient.
func (s span) over(o span) span {
	return span{quo(s.low, o.high), quo(s.mid, o.mid), quo(s.high, o.low), math.Hypot(s.rel, o.rel)}
}

// by multiplies by an exact ratio.
func (s span) by(r *big.Rat) span {
	return span{mul(s.low, r), mul(s.mid, r), mul(s.high, r), s.rel}
}

// meets tells whether two spans have something in common.
func (s span) meets(o span) bool { return s.low.Cmp(o.high) <= 0 && o.low.Cmp(s.high) <= 0 }

func mul(a, b *big.Rat) *big.Rat { return new(big.Rat).Mul(a, b) }
func quo(a, b *big.Rat) *big.Rat { return new(big.Rat).Quo(a, b) }

func float(r *big.Rat) float64 {
	f, _ := r.Float64()
	return f
}

// bounds is a span as fractions of whole numbers, for the search: none of
// its numbers is above 2⁶².
type bounds struct {
	lowN, lowD, highN, highD uint64
	none                     bool // no product of whole counts can be so: it is beyond all reach
}

// mostPart is the largest number in bounds; the rest of 64 bits is room for
// the counts it is multiplied with.
const mostPart = 1 << 40

// boundsOf makes bounds of a span. An exact ratio whose lowest terms are
// beyond every product that is searched cannot be met; bounds of a measured
// one are rounded outwards until they fit.
func boundsOf(s span) bounds {
	if s.exact() {
		if !small(s.mid) {
			return bounds{none: true}
		}
		n, d := s.mid.Num().Uint64(), s.mid.Denom().Uint64()
		return bounds{n, d, n, d, false}
	}
	low, high := fit(s.low, -1), fit(s.high, 1)
	if low == nil || high == nil {
		return bounds{none: true}
	}
	return bounds{low.Num().Uint64(), low.Denom().Uint64(), high.Num().Uint64(), high.Denom().Uint64(), false}
}

func small(r *big.Rat) bool {
	limit := big.NewInt(mostPart)
	return r.Sign() > 0 && r.Num().Cmp(limit) <= 0 && r.Denom().Cmp(limit) <= 0
}

// fit is the ratio, or the nearest on that side of a denominator that fits.
func fit(r *big.Rat, side int) *big.Rat {
	if small(r) {
		return r
	}
	for d := int64(1_000_000_000); d >= 1; d /= 10 {
		n := mul(r, big.NewRat(d, 1))
		f := new(big.Int).Quo(n.Num(), n.Denom())
		if side > 0 {
			f.Add(f, big.NewInt(1))
		}
		if f.Sign() > 0 && f.Cmp(big.NewInt(mostPart)) <= 0 {
			return new(big.Rat).SetFrac(f, big.NewInt(d))
		}
	}
	return nil
}

// products is the whole numbers x for which low ≤ x·wheels/pinions ≤ high.
func (b bounds) wheels(wheels, pinions uint64) (low, high uint64) {
	return ceilDiv(b.lowN, pinions, b.lowD*wheels), floorDiv(b.highN, pinions, b.highD*wheels)
}

// pinions is the whole numbers x for which low ≤ wheels/(x·pinions) ≤ high.
func (b bounds) pinions(wheels, pinions uint64) (low, high uint64) {
	return ceilDiv(b.highD, wheels, b.highN*pinions), floorDiv(b.lowD, wheels, b.lowN*pinions)
}

// floorDiv is a·b/c rounded down, the largest number where it does not fit.
func floorDiv(a, b, c uint64) uint64 {
	hi, lo := bits.Mul64(a, b)
	if hi >= c {
		return math.MaxUint64
	}
	q, _ := bits.Div64(hi, lo, c)
	return q
}

// ceilDiv is a·b/c rounded up.
func ceilDiv(a, b, c uint64) uint64 {
	hi, lo := bits.Mul64(a, b)
	if hi >= c {
		return math.MaxUint64
	}
	q, rest := bits.Div64(hi, lo, c)
	if rest > 0 {
		q++
	}
	return q
}
