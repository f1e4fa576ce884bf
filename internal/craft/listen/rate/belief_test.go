package rate

import (
	"math"
	"os"
	"testing"
)

// trial is one kind of clock for TestBeliefStudy: wander and the rate's own
// walk by how well so many beats can tell them.
type trial struct {
	n     int
	told  float64 // variance of wander over that of scatter, times the square of the beats
	walks float64 // the rate's walk, times what makes as much doubt as all else
}

// shares counts in how many of 100 records the limits of Mean and of Expect
// hold under each belief, and how wide they are, under the first 1.
func (c trial) shares(seeds int, of, next []belief) (held, wide []float64) {
	held, wide = make([]float64, len(of)+len(next)), make([]float64, len(of)+len(next))
	span := float64(c.n - 1)
	lambda := c.told / span / span
	slow := c.walks * (24 + 4*c.told) / math.Pow(span, 4)
	for seed := range seeds {
		b, want := clock{seed: uint64(seed), n: c.n, beat: 1, pm: 1e-4, fm: 1e-4 * math.Sqrt(lambda), walk: 1e-4 * math.Sqrt(slow), beatError: 0.003}.beats()
		r, err := recordOf(b)
		if err != nil {
			continue
		}
		p := r.weigh(math.Log(r.gate(nil).lambda))
		few := 1 + 2/(p.fits[0].freedom+2)
		count1 := func(i int, l limits, truth float64) {
			held[i] += 100 * float64(count(l.low <= truth && truth <= l.high)) / float64(seeds)
			wide[i] += l.high - l.low
		}
		for i, held := range of {
			now := p.under(held)
			count1(i, now.mix(func(f fit) (float64, float64) { return f.mean, few * f.meanVar }).limits(), want.mean-r.about)
		}
		for i, held := range next {
			ahead := r.next(&p, held)
			count1(len(of)+i, ahead.mix(func(f fit) (float64, float64) { return f.period, few * f.periodVar }).limits(), want.next-r.about)
		}
	}
	for i := len(wide) - 1; i >= 0; i-- {
		first := 0
		if i >= len(of) {
			first = len(of)
		}
		wide[i] /= wide[first]
	}
	return held, wide
}

// TestBeliefStudy sets what is held beforehand beside its alternatives: the
// first three columns are of Mean, the others of Expect, each the share that
// holds and the width; the first of each is what is in use. It shows what
// each choice costs: whatever makes the limits narrower where wander, or the
// rate's walk, is nought lets them fail where it is just too small to be told.
func TestBeliefStudy(t *testing.T) {
	if os.Getenv("SEATBOARD_STUDY") == "" {
		t.Skip("skipped: how what is held beforehand was set. SEATBOARD_STUDY=1 runs it, SEATBOARD_STUDY_SEEDS narrows it")
	}
	seeds := int(number(t, "SEATBOARD_STUDY_SEEDS", 400))
	mean, next := ofMean(), ofNext()
	alike := func(b belief, none, small, grows float64) belief {
		return belief{all: b.all, none: none * b.none, small: small * b.small, grows: grows * b.grows}
	}
	of := []belief{mean, alike(mean, 0, 0, 1), alike(mean, 4, 0, 1)}
	to := []belief{next, alike(next, 0, 1, 1), alike(next, 4, 1, 1), alike(next, 1, 0, 1), alike(next, 1, 5, 1), alike(next, 1, 1, 1.3)}
	for _, n := range []int{31, 201, 1201} {
		for _, told := range []float64{0, 20, 100, 1000, 20000, 400000} {
			for _, walks := range []float64{0, 10, 100, 1000} {
				held, wide := trial{n, told, walks}.shares(seeds, of, to)
				t.Logf("%4d beats, wander %6.0f, walk %4.0f: %5.1f  %.2f", n, told, walks, held, wide)
				if held[0] < 85 || held[len(of)] < 60 {
					t.Errorf("what is in use fails in this cell")
				}
			}
		}
	}
}
