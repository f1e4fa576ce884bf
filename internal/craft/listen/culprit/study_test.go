package culprit_test

import (
	"fmt"
	"math"
	"os"
	"slices"
	"testing"

	"seatboard/internal/craft/listen/culprit"
	"seatboard/internal/kit/unit"
)

// seeds is how many records a study makes: many with SEATBOARD_STUDY=1.
func seeds(t *testing.T, few, many int) int {
	t.Helper()
	if os.Getenv("SEATBOARD_STUDY") == "" {
		t.Logf("%d records only; SEATBOARD_STUDY=1 makes %d", few, many)
		return few
	}
	return many
}

// share is k of n with twice its standard deviation.
func share(k, n int) string {
	p := float64(k) / float64(n)
	return fmt.Sprintf("%.2f ± %.2f %%", 100*p, 200*math.Sqrt(max(p*(1-p), 1/float64(n))/float64(n)))
}

func accused(a culprit.Answer) bool {
	return slices.ContainsFunc(a.Suspects, func(s culprit.Suspect) bool {
		return s.Standing == culprit.Found || s.Standing == culprit.Unlike
	})
}

// Clocks without a fault: nothing may be found in more than one of a hundred.
func TestFalseAlarms(t *testing.T) {
	n := seeds(t, 40, 1000)
	p, teeth := parts(t, "96/8 60/8 56/7 30")
	for _, c := range []clock{
		{beats: 600, beat: 1, pm: 50 * us},
		{beats: 600, beat: 1, pm: 50 * us, fm: 1 * us},
		{beats: 600, beat: 1, pm: 50 * us, fm: 5 * us},
		{beats: 600, beat: 1, pm: 20 * us, fm: 20 * us},
		{beats: 1800, beat: 0.5, pm: 200 * us, fm: 2 * us, drift: 1e-6, silent: 0.03},
	} {
		var part, tooth, peak, any int
		for i := range n {
			c.out = 9e-3
			a := solve(t, culprit.Query{Parts: p, EscapeTeeth: teeth, Beats: c.make(uint64(1000 + i))})
			x, y, z := accused(a), len(a.Odd) > 0, len(a.Peaks) > 0
			for _, v := range []struct {
				is bool
				n  *int
			}{{x, &part}, {y, &tooth}, {z, &peak}, {x || y || z, &any}} {
				if v.is {
					*v.n++
				}
			}
		}
		t.Logf("%d beats, PM %.0f FM %.0f µs: parts %s, teeth %s, peaks %s, any %s", c.beats, c.pm/us, c.fm/us, share(part, n), share(tooth, n), share(peak, n), share(any, n))
		if any > n/100+1+int(3*math.Sqrt(float64(n)/100)) {
			t.Errorf("%d beats, PM %.0f FM %.0f µs: %d false of %d", c.beats, c.pm/us, c.fm/us, any, n)
		}
	}
}

// A sinusoid of 20 µs in 97 s and one tooth of 100 µs, ten minutes.
func TestPower(t *testing.T) {
	n := seeds(t, 40, 1000)
	for _, c := range []struct {
		pm, fm      float64
		beats       int
		least, most float64 // share of parts found, in the long study
		tooth       float64
	}{
		{20, 0, 600, .99, 1, .99},
		{50, 0, 600, .99, 1, .99},
		{50, 1, 600, .99, 1, .99},
		{20, 5, 600, .3, 1, .99},
		{100, 0, 600, .3, .9, .3},
		{200, 0, 600, 0, .3, 0},
		{100, 0, 1800, .9, 1, .98},
	} {
		k := clock{beats: c.beats, beat: 1, out: 9e-3, teeth: 30, pm: c.pm * us, fm: c.fm * us, sway: []sway{{20 * us, 97, 1}}, late: map[int]float64{22: 100 * us, 37: 100 * us}}
		var found, inside, right, only, span, toothIn, wrong int
		for i := range n {
			a := solve(t, culprit.Query{Parts: arbors(), EscapeTeeth: 30, Beats: k.make(uint64(5000 + i))})
			s := find(a, "third wheel")
			if s.Standing == culprit.Found {
				found++
			}
			if s.Amplitude.Has(20 * us) {
				inside++
			}
			if slices.Contains(a.Odd, 11) {
				right++
			}
			if slices.Equal(a.Odd, []int{11}) {
				only++
			}
			if a.Span == 15 {
				span++
			}
			if a.Teeth[11].Late.Has(100 * us) {
				toothIn++
			}
			if e := find(a, "escape wheel"); e.Standing == culprit.Found || len(a.Peaks) > 0 {
				wrong++
			}
		}
		t.Logf("%d beats, PM %.0f FM %.0f µs: part %s, 20 µs inside %s; right tooth %s, and only it %s, span %s, 100 µs inside %s; others accused %s",
			c.beats, c.pm, c.fm, share(found, n), share(inside, n), share(right, n), share(only, n), share(span, n), share(toothIn, n), share(wrong, n))
		slack := 3 / math.Sqrt(float64(n))
		if n < 500 {
			slack = 0.12
		} else {
			slack /= 5
		}
		if f := float64(found) / float64(n); f < c.least-slack || f > c.most+slack {
			t.Errorf("PM %g FM %g: part found in %.3f", c.pm, c.fm, f)
		}
		if f := float64(right) / float64(n); f < c.tooth-slack {
			t.Errorf("PM %g FM %g: tooth found in %.3f", c.pm, c.fm, f)
		}
	}
}

// The limits of an amplitude hold it in 95 of 100 records.
func TestCoverage(t *testing.T) {
	n := seeds(t, 60, 1000)
	for _, c := range []struct{ amplitude, pm, fm float64 }{{0, 50, 1}, {6, 50, 1}, {12, 50, 1}, {25, 50, 1}, {40, 50, 5}, {100, 200, 0}} {
		k := clock{beats: 600, beat: 1, out: 9e-3, pm: c.pm * us, fm: c.fm * us, sway: []sway{{c.amplitude * us, 97, 1}}}
		inside := 0
		for i := range n {
			a := solve(t, culprit.Query{Parts: arbors()[2:3], EscapeTeeth: 30, Beats: k.make(uint64(9000 + i))})
			s := find(a, "third wheel")
			if s.Harmonic != 1 || s.Amplitude.Has(unit.Duration(c.amplitude*us)) {
				inside++
			}
		}
		t.Logf("%g µs, PM %g FM %g µs: inside %s", c.amplitude, c.pm, c.fm, share(inside, n))
		if p, sd := float64(inside)/float64(n), math.Sqrt(.05*.95/float64(n)); p < .95-3.5*sd {
			t.Errorf("%g µs: %.3f inside", c.amplitude, p)
		}
	}
}
