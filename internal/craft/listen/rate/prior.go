package rate

import "math"

// prior is what is held of the ratio of walk to scatter before any beat is
// heard: the square root of the information that so many beats can have of
// its logarithm (Jeffreys), the scale taken out. It is little where the beats
// could not tell one ratio from another, and needs no tuning to a clock.
//
// In the cosine transform of the beats the variances are 1 + λ/(4 sin²(πk/2n))
// exactly; the lowest and the highest are used up by period and side offset.
type prior struct {
	floor  []float64 // 4 sin²(πk/2n), in bands
	weight []float64 // numbers in the band
	total  float64
}

// priorOf prepares it for a run of n beats.
func priorOf(n int) prior {
	var p prior
	last := max(n-2, 2)
	for k := 2; k <= last; {
		to := min(last, k+k/24) // bands of 4 %
		s := math.Sin(math.Pi * float64(k+to) / 4 / float64(n))
		p.floor = append(p.floor, 4*s*s)
		p.weight = append(p.weight, float64(to-k+1))
		p.total += float64(to - k + 1)
		k = to + 1
	}
	return p
}

// log is the logarithm of the density over the logarithm of lambda.
func (p prior) log(lambda float64) float64 {
	sum := 0.0
	for i, f := range p.floor {
		sum += p.weight[i] * lambda / (f + lambda)
	}
	mean, info := sum/p.total, 0.0
	for i, f := range p.floor {
		d := lambda/(f+lambda) - mean
		info += p.weight[i] * d * d / p.total
	}
	return math.Log(info+1e-30) / 2
}

// peak is the logarithm of the density where it is greatest.
func (p prior) peak() float64 {
	top := math.Inf(-1)
	for x := p.floor[0] / 10; x < most; x *= 1.5 {
		top = max(top, p.log(x))
	}
	return top
}
