package beat

// usually is how a side's beats come: their strength, and the variance of
// their place about where it is expected, samples². An amp of 0 is not known.
type usually struct{ amp, spread float64 }

const (
	certainly = 20  // deviations above the noise from which on there is no choice to make
	wayOff    = 5.0 // deviations from its place beyond which one is as unlikely as another
)

// likeliest is the maximum of a fit that most likely is the beat. The fit of a
// sound swings, and under noise one of the swings beside the right one may
// come out highest; it lies where a beat seldom comes. i is the highest from
// pad on, place where the beat is expected in c.
func (m *matched) likeliest(c []float32, i int, place float64, as usually) int {
	score := func(j int) float64 {
		off := float64(j) - place
		return as.amp*m.d2/m.varD2*float64(c[j]) - min(off*off/max(as.spread, 1), wayOff*wayOff)/2
	}
	best, top := i, score(i)
	for j := pad + 1; j < len(c)-1; j++ {
		if c[j] > c[i]/2 && c[j] >= c[j-1] && c[j] > c[j+1] {
			if s := score(j); s > top {
				best, top = j, s
			}
		}
	}
	return best
}
