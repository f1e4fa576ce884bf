package rate

import (
	"math"

	"seatboard/internal/kit/num"
)

// gate settles which beats are odd: so far from where the others put them
// that less than one record in a hundred would have such a beat by chance.
// All are judged again after each change, so that none stays out without
// need. It returns the likeliest fit.
func (r *record) gate(base [][]float64) fit {
	f := r.likeliest(math.NaN())
	for range 8 {
		changed := false
		for i := range r.stretches {
			if r.judge(&r.stretches[i], &f, i) {
				changed = true
			}
		}
		if !changed {
			break
		}
		for i := range r.stretches {
			r.stretches[i].weights(pick(base, i))
		}
		r.recount()
		f = r.likeliest(math.Log(f.lambda))
	}
	return f
}

func pick(base [][]float64, i int) []float64 {
	if base == nil {
		return nil
	}
	return base[i]
}

// judge marks beats odd or takes them back, at one fit.
func (r *record) judge(s *stretch, f *fit, run int) (changed bool) {
	if f.freedom < 4 {
		return false
	}
	limit := num.StudentQuantile(1-0.005/float64(r.used), f.freedom-1)
	pl := s.places(f, f.offsets[run], 1/f.periodVar)
	size := make([]float64, len(pl))
	left := 0
	for i, p := range pl {
		t := math.Abs(p.err) / p.sd
		if !s.odd[i] { // its own part of the scatter taken out
			left++
			t *= math.Sqrt((f.freedom - 1) / max(f.freedom-t*t, 0.01))
		}
		size[i] = t
	}
	for i, t := range size {
		switch {
		case s.odd[i] && t < limit:
			s.odd[i], changed = false, true
			left++
		case !s.odd[i] && t > limit && worst(size, s.odd, i) && left > fewest && 4*left > 3*len(size):
			s.odd[i], changed = true, true
			left--
		}
	}
	return changed
}

// worst tells whether a beat is the farthest out of those about it: a wild
// beat makes its neighbours look wild.
func worst(size []float64, odd []bool, i int) bool {
	for k := max(i-2, 0); k <= min(i+2, len(size)-1); k++ {
		if !odd[k] && size[k] > size[i] {
			return false
		}
	}
	return true
}

// likeliest finds the most likely ratio, near the logarithm given, or
// anywhere where that is not a number.
func (r *record) likeliest(near float64) fit {
	n := r.longest()
	pr := priorOf(n)
	low, high, step := math.Log(0.03/(float64(n)*float64(n))), math.Log(most), 2.0
	if near == near {
		low, high, step = near-3, near+3, 1
	}
	best, at, top := fit{}, 0.0, math.Inf(-1)
	try := func(x float64) {
		f := r.fit(math.Exp(x))
		if l := f.log + pr.log(f.lambda); l > top {
			best, at, top = f, x, l
		}
	}
	for x := low; x <= high; x += step {
		try(x)
	}
	for step > 0.3 {
		step /= 2
		x := at
		try(x - step)
		try(x + step)
	}
	return best
}
