package stops

import (
	"math"

	"seatboard/internal/kit/circular"
	"seatboard/internal/kit/num"
)

// atLeast is the chance that of m trials with chance p each at least c come.
func atLeast(m, c int, p float64) float64 {
	if c <= 0 {
		return 1
	}
	if p <= 0 || p >= 1 {
		return math.Max(0, math.Min(1, math.Ceil(p)))
	}
	sum := 0.0
	for k := c; k <= m; k++ {
		sum += math.Exp(circular.LogBinomial(m, k) + float64(k)*math.Log(p) + float64(m-k)*math.Log1p(-p))
	}
	return math.Min(1, sum)
}

// exactSum is how many are summed by the alternating series; beyond, the sum
// is as good as normal.
const exactSum = 18

// sumAbove is the chance that n numbers, each anywhere from 0 to 1, come to
// sum or more (Irwin and Hall).
func sumAbove(n int, sum float64) float64 {
	if n > exactSum {
		return num.NormalCDF((float64(n)/2 - sum) / math.Sqrt(float64(n)/12))
	}
	if sum <= float64(n)/2 {
		return 1 - sumBelow(n, sum)
	}
	return sumBelow(n, float64(n)-sum)
}

// sumBelow is for sum <= n/2, where the series keeps its digits.
func sumBelow(n int, sum float64) float64 {
	if sum <= 0 {
		return 0
	}
	lg, _ := math.Lgamma(float64(n + 1))
	total, sign := 0.0, 1.0
	for k := 0; float64(k) < sum; k++ {
		total += sign * math.Exp(circular.LogBinomial(n, k)+float64(n)*math.Log(sum-float64(k))-lg)
		sign = -sign
	}
	return math.Max(0, math.Min(1, total))
}

// rankOdds is the chance, for each whole sum, that n of the ranks drawn
// without putting back come to it or less. Ranks are whole numbers, twice the
// middle rank where values are alike.
func rankOdds(ranks []int, n int) []float64 {
	most := 0
	for _, r := range ranks {
		most += r
	}
	ways := make([][]float64, n+1)
	for i := range ways {
		ways[i] = make([]float64, most+1)
	}
	ways[0][0] = 1
	top := 0
	for i, r := range ranks {
		top += r
		for k := min(n, i+1); k >= 1; k-- {
			for s := top; s >= r; s-- {
				ways[k][s] += ways[k-1][s-r]
			}
		}
	}
	out := ways[n]
	all := 0.0
	for s, w := range out {
		all += w
		out[s] = all
	}
	for s := range out {
		out[s] /= all
	}
	return out
}

// middleRanks gives each value twice its rank, the mean of the ranks where
// values are alike.
func middleRanks(values []float64) []int {
	out := make([]int, len(values))
	for i, v := range values {
		below, same := 0, 0
		for _, w := range values {
			switch {
			case w < v:
				below++
			case w == v:
				same++
			}
		}
		out[i] = 2*below + same + 1
	}
	return out
}

// fewestHeld is the least crowd among n that is looked for: more than half of
// few, a third of many.
func fewestHeld(n int) int { return min(n/2+1, max(3, (n+2)/3)) }

// crowd is the most telling arc of sorted places: of all sizes of crowd the
// one with the least chance, when each width is wider by blur turns for the
// reading's doubt.
func crowd(sorted []float64, blur float64) (arc circular.Arc, held int, chance float64) {
	chance, held = 1, 0
	n := len(sorted)
	for k := fewestHeld(n); k <= n; k++ {
		a := circular.Shortest(sorted, k)
		if a.Width+blur > 0.5 {
			continue
		}
		if p, _ := circular.Hold(n, k, a.Width+blur); p < chance || held == 0 {
			arc, held, chance = a, k, p
		}
	}
	return arc, held, chance
}

// crowding is the less of two chances: that of the most telling arc, and that
// of a mean vector as long, for which e^(−n R²) is a bound where it tells
// anything.
func crowding(sorted []float64, blur float64) float64 {
	_, _, p := crowd(sorted, blur)
	_, length := circular.Mean(sorted)
	return math.Min(p, math.Exp(-float64(len(sorted))*length*length))
}

// looks is how many chances crowding among n is the least of.
func looks(n int) float64 { return float64(n - fewestHeld(n) + 2) }

// together is the chance of what several stretches say, each with its own
// chance (Fisher's sum of logarithms).
func together(chances []float64) float64 {
	if len(chances) == 1 {
		return chances[0]
	}
	sum := 0.0
	for _, p := range chances {
		sum -= 2 * math.Log(math.Max(p, 1e-300))
	}
	return 1 - num.ChiSquaredCDF(sum, 2*float64(len(chances)))
}
