package beat

import "math"

// lsb is the step between whole numbers of 16 bits.
const lsb = 1.0 / 32768

// sample is one as it came; 0 where it is not held.
func (t *tape) sample(at int64) float32 {
	i := int(at - t.base)
	switch {
	case i < 0 || i >= t.n:
		return 0
	case t.src16 != nil:
		return float32(t.i16[i]) * lsb
	}
	return t.f32[i]
}

// settle finds the level that samples a to b rest at; what may be chance, or
// is below one step, is taken for 0.
func (t *tape) settle(a, b int64) {
	var sum, squares, n float64
	for i := a; i < b; i += levelStride {
		v := float64(t.sample(i))
		sum, squares, n = sum+v, squares+v*v, n+1
	}
	mean := sum / max(1, n)
	chance := math.Sqrt(max(0, squares/max(1, n)-mean*mean) / max(1, n))
	if t.rest = float32(mean); math.Abs(mean) < max(lsb, 5*chance) {
		t.rest = 0
	}
}

// sounding is the part of samples a to b that has sound in it: what is as
// good as silent at either end is left out, but for a tenth of a second.
func (t *tape) sounding(a, b int64) (from, to int64) {
	margin := int64(t.src.Rate() / 10)
	from, to = a, b
	for silent := t.sample(a); from < b && near(t.sample(from), silent, lsb); {
		from++
	}
	if from == b {
		return a, b
	}
	for silent := t.sample(b - 1); to > from && near(t.sample(to-1), silent, lsb); {
		to--
	}
	return max(a, from-margin), min(b, to+margin)
}

func near(x, y, within float32) bool { return x-y <= within && y-x <= within }

// same tells whether a sample is exactly the one before it.
func (t *tape) same(at int64) bool { return t.sample(at) == t.sample(at-1) }

// hushed tells whether the sound of samples a to b, but for those about from
// to to, often dies away into the steps that it is written in: exact silence
// comes of itself then.
func (t *tape) hushed(a, b, from, to int64) bool {
	block := int64(t.src.Rate() / 100)
	step := t.step(a, b)
	hushed, all := 0, 0
	for i := a; i+block <= b; i += block {
		if i+10*block > from && i < to+10*block {
			continue
		}
		all++
		first, j := t.sample(i), i
		for j < i+block && near(t.sample(j), first, 2*step) {
			j++
		}
		if j == i+block {
			hushed++
		}
	}
	return hushed*hushedShare >= all
}

// hushedShare is one in so many of the blocks that must be faint.
const hushedShare = 10

// step is that between the numbers that samples a to b are written in.
func (t *tape) step(a, b int64) float32 {
	step := float32(1)
	for i := a + 1; i < b; i++ {
		if d := t.sample(i) - t.sample(i-1); d != 0 {
			step = min(step, max(d, -d))
		}
	}
	return max(step, lsb)
}
