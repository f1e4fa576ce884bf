package culprit

import (
	"math"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// believed gives the mean of g over what the noise may be: at each node the
// density over the best's, at a frequency.
func (z noise) believed(f float64, g func(ratio float64) float64) float64 {
	sum := 0.0
	for i, r := range z.ratios(f) {
		sum += z.nodes[i].belief * g(r)
	}
	return sum
}

// size is the amplitude behind an evidence with 95 % limits: the lower is the
// amplitude that gives as much or more in 2.5 of 100 records, the upper that
// which gives as little or less. Near nought the upper limit is kept to what
// one noise-free record would give, so that no luck makes it vanish.
func (z noise) size(c *candidate) meas.Interval[unit.Duration] {
	if !c.known || !(c.information > 0) {
		return meas.Interval[unit.Duration]{}
	}
	const normal95 = 1.959963984540054
	info, wider := c.information, student95(z.free)/normal95
	mean := z.believed(c.f, func(r float64) float64 { return r })
	u := math.Sqrt(mean / info)
	value := math.Sqrt(math.Max(c.evidence-mean*float64(c.dof-2), 0) / c.information)
	more := func(a float64) float64 {
		return z.believed(c.f, func(r float64) float64 { return beyond(c.dof, a*a*info/r, c.evidence/r) })
	}
	top := value + 12*u + math.Sqrt(c.evidence/info)
	low, high := 0.0, bisect(more, 0.975, 0, top)
	if more(0) < 0.025 {
		low = bisect(more, 0.025, 0, top)
	}
	high = math.Max(high, 1.7*u)
	value = math.Min(math.Max(value, low), high)
	low, high = math.Max(value-wider*(value-low), 0), value+wider*(high-value)
	return meas.Interval[unit.Duration]{Value: unit.Duration(value), Low: unit.Duration(low), High: unit.Duration(high), U: unit.Duration(u), Set: true}
}

// threshold is the evidence at which a chance, for one frequency, is p.
func (z noise) threshold(dof int, f, p float64) float64 {
	top := 4 * (40 + 2*float64(dof)) * math.Max(1, z.believed(f, func(r float64) float64 { return r }))
	for z.chance(dof, f, top) > p && top < 1e12 {
		top *= 2
	}
	return bisect(func(x float64) float64 { return z.chance(dof, f, x) }, p, 0, top)
}

// power is the share of records that find what is there.
const power = 0.9

// findable is the amplitude over its standard uncertainty by the best node
// that is found with that power at chance p for one frequency.
func (z noise) findable(dof int, f, p float64) float64 {
	x := z.threshold(dof, f, p)
	return bisect(func(a float64) float64 {
		return z.believed(f, func(r float64) float64 { return beyond(dof, a*a/r, x/r) })
	}, power, 0, 3*math.Sqrt(x)+10)
}
