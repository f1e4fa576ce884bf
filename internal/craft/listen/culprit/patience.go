package culprit

import (
	"math"

	"seatboard/internal/kit/unit"
)

// standTeeth says how sure the teeth together are, and how long to listen
// where they cannot be told yet.
func (s *search) standTeeth(a *Answer) {
	if s.q.EscapeTeeth == 0 {
		return
	}
	clear := len(a.Teeth) > 0
	for _, t := range a.Teeth {
		clear = clear && math.Max(float64(t.Late.High), -float64(t.Late.Low)) <= float64(Matters)
	}
	switch {
	case len(a.Odd) > 0:
		a.TeethStanding = Found
	case clear:
		a.TeethStanding = Clear
	default:
		a.TeethStanding, a.TeethFor = NotYet, s.teethFor(len(a.Teeth) > 0)
	}
}

// spanMore is how many times as long it takes where the span of the anchor
// must be found too: measured on clocks made by the tests.
const spanMore = 1.2

// teethFor is the length of one record that finds one tooth out by Matters
// nine times in ten, or clears it; seen tells whether this one shows teeth.
func (s *search) teethFor(seen bool) unit.Duration {
	z := float64(s.q.EscapeTeeth)
	density := make([]float64, len(s.noise.nodes)) // of one tooth among the others
	for k := 1; k < s.q.EscapeTeeth; k++ {
		for i, n := range s.noise.nodes {
			density[i] += n.density(float64(k)/(2*z)) / (z - 1)
		}
	}
	if s.q.EscapeTeeth < 2 {
		return 0
	}
	tries, more := z/teethShare, 1.0
	if s.q.Span == 0 { // every span is tried, and the right one must stand out
		tries, more = tries*z/pairsShare, spanMore
	}
	// The evidence over the square of the size is visits / density.
	chance := func(x float64) float64 { // of an evidence over a density of 1
		sum := 0.0
		for i, n := range s.noise.nodes {
			sum += n.belief * tail1(s.noise.free, x/density[i])
		}
		return sum
	}
	top := 0.0
	for _, d := range density {
		top = math.Max(top, d)
	}
	need := bisect(chance, nominal/tries, 0, 400*top)
	visits := bisect(func(v float64) float64 {
		sum := 0.0
		for i, n := range s.noise.nodes {
			sum += n.belief * math.Erfc((math.Sqrt(need)-math.Sqrt(v)*float64(Matters))/math.Sqrt(2*density[i])) / 2
		}
		return sum
	}, power, 0, 1e4*need/math.Pow(float64(Matters), 2))
	beats := math.Max(more*visits*z, 1.1*ringVisits*2*z)
	if heard := s.runs[0].length(); seen && beats < heard {
		beats = 1.5 * heard
	}
	return s.within(beats)
}
