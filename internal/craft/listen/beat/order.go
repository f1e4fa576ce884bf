package beat

import "math"

// nth puts x in such an order that x[k] is what it were if x was sorted, none
// before it greater and none after it less, and returns it.
func nth[T float32 | float64](x []T, k int) T {
	lo, hi := 0, len(x)-1
	for lo < hi {
		pivot := middleOf3(x[lo], x[lo+(hi-lo)/2], x[hi])
		i, j := lo, hi
		for i <= j {
			for x[i] < pivot {
				i++
			}
			for x[j] > pivot {
				j--
			}
			if i <= j {
				x[i], x[j] = x[j], x[i]
				i, j = i+1, j-1
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return x[k]
		}
	}
	return x[k]
}

func middleOf3[T float32 | float64](a, b, c T) T { return max(min(a, b), min(max(a, b), c)) }

// deviations is how many median absolute deviations v lies above the median.
func deviations(all []float64, v float64) float64 {
	x := append([]float64(nil), all...)
	half := len(x) / 2
	median := nth(x, half)
	for i, y := range x {
		x[i] = math.Abs(y - median)
	}
	return (v - median) / max(nth(x, half), 1e-300)
}
