package beat

import "math"

// epoch is where in a raw shape the main impact begins, in samples from its
// nominal place: after the strongest rise of its slope, the point that
// divides quiet from loud best (Akaike). The slope is taken because the
// band-pass rings before an impact. ok is false where nothing rises.
func (k *tools) epoch(raw []float32, before int) (at float64, ok bool) {
	slope := make([]float64, len(raw)-1)
	for i := range slope {
		slope[i] = float64(raw[i+1]) - float64(raw[i])
	}
	sum := make([]float64, len(slope)+1)
	for i, v := range slope {
		sum[i+1] = sum[i] + v*v
	}
	w := k.samples(1.5)
	best, rise := -1, 0.0
	for i := w; i+w < len(slope); i++ {
		if r := math.Sqrt(sum[i+w]-sum[i]) - math.Sqrt(sum[i]-sum[i-w]); r > rise {
			best, rise = i, r
		}
	}
	if best < 0 {
		return 0, false
	}
	a, b := max(0, best-k.samples(1.5)), min(len(slope), best+w)
	from, to := max(a+4, best-k.samples(1)), min(b-4, best+k.samples(0.4))
	lowest, change := math.Inf(1), best
	for i := from; i <= to; i++ {
		n1, n2 := float64(i-a), float64(b-i)
		v1, v2 := (sum[i]-sum[a])/n1+1e-30, (sum[b]-sum[i])/n2+1e-30
		if aic := n1*math.Log(v1) + n2*math.Log(v2); aic < lowest {
			lowest, change = aic, i
		}
	}
	return float64(change) + 0.5 - float64(before), true
}
