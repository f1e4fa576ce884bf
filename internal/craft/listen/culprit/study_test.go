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
	p, teeth := parts(t, "96/8 60/8 56/7 30")
	for _, c := range []clock{
		{beats: 600, beat: 1, pm: 50 * us},
		{beats: 600, beat: 1, pm: 50 * us, fm: 1 * us},
		{beats: 600, beat: 1, pm: 50 * us, fm: 5 * us},
		{beats: 600, beat: 1, pm: 20 * us, fm: 20 * us},
		{beats: 1800, beat: 0.5, pm: 200 * us, fm: 2 * us, drift: 1e-6, silent: 0.03},
	} {
		t.Run(fmt.Sprintf("%d beats PM %.0f FM %.0f", c.beats, c.pm/us, c.fm/us), func(t *testing.T) {
			n := seeds(t, 10, 1000)
			var part, tooth, peak, any int
			for i := range n {
				c.out = 9e-3
				a := solve(t, culprit.Query{Parts: p, EscapeTeeth: teeth, Beats: c.make(uint64(1000 + i))})
				x, y, z := accused(a), len(a.Odd) > 0, len(a.Peaks) > 0
				part, tooth, peak, any = part+one(x), tooth+one(y), peak+one(z), any+one(x || y || z)
			}
			t.Logf("parts %s, teeth %s, peaks %s, any %s", share(part, n), share(tooth, n), share(peak, n), share(any, n))
			if any > n/100+1+int(3*math.Sqrt(float64(n)/100)) {
				t.Errorf("%d false of %d", any, n)
			}
		})
	}
}

func one(is bool) int {
	if is {
		return 1
	}
	return 0
}

// A sinusoid of 20 µs in 97 s and one tooth of 100 µs.
func TestPower(t *testing.T) {
	for _, c := range []struct {
		pm, fm float64
		beats  int
		span   int     // told
		part   float64 // share of records in which it is found at least
		tooth  float64
	}{
		{20, 0, 600, 0, .99, .99},
		{50, 0, 600, 0, .99, .99},
		{50, 1, 600, 0, .99, .99},
		{20, 5, 600, 0, .6, .99},
		{100, 0, 600, 0, .3, .15},
		{100, 0, 600, 15, .3, .6},
		{200, 0, 600, 0, 0, 0},
		{100, 0, 1800, 0, .95, .98},
	} {
		t.Run(fmt.Sprintf("%d beats PM %.0f FM %.0f span %d", c.beats, c.pm, c.fm, c.span), func(t *testing.T) {
			n := seeds(t, 8, 1000)
			k := clock{beats: c.beats, beat: 1, out: 9e-3, teeth: 30, pm: c.pm * us, fm: c.fm * us, sway: []sway{{20 * us, 97, 1}}, late: map[int]float64{22: 100 * us, 37: 100 * us}}
			var found, inside, right, only, span, toothIn, wrong int
			for i := range n {
				a := solve(t, culprit.Query{Parts: arbors(), EscapeTeeth: 30, Span: c.span, Beats: k.make(uint64(5000 + i))})
				s := find(a, "third wheel")
				found += one(s.Standing == culprit.Found)
				inside += one(s.Harmonic != 1 || s.Amplitude.Has(20*us))
				right += one(slices.Contains(a.Odd, 11))
				only += one(slices.Equal(a.Odd, []int{11}))
				span += one(a.Span == 15)
				toothIn += one(a.Teeth[11].Late.Has(100 * us))
				wrong += one(find(a, "escape wheel").Standing == culprit.Found || len(a.Peaks) > 0)
			}
			t.Logf("part %s, 20 µs inside %s; right tooth %s, and only it %s, span %s, 100 µs inside %s; others accused %s",
				share(found, n), share(inside, n), share(right, n), share(only, n), share(span, n), share(toothIn, n), share(wrong, n))
			few(t, "part found", found, n, c.part)
			few(t, "tooth found", right, n, c.tooth)
		})
	}
}

// few fails where k of n is less than a share by more than luck.
func few(t *testing.T, what string, k, n int, least float64) {
	t.Helper()
	sd := math.Sqrt(max(least*(1-least), 1/float64(n)) / float64(n))
	if p := float64(k) / float64(n); p < least-3*sd {
		t.Errorf("%s in %d of %d, wanted %.3f", what, k, n, least)
	}
}

// The limits of an amplitude hold it in 95 of 100 records.
func TestCoverage(t *testing.T) {
	for _, c := range []struct{ amplitude, pm, fm float64 }{{0, 50, 1}, {6, 50, 1}, {12, 50, 1}, {25, 50, 1}, {40, 50, 5}, {100, 20, 20}, {100, 200, 0}} {
		t.Run(fmt.Sprintf("%g µs PM %g FM %g", c.amplitude, c.pm, c.fm), func(t *testing.T) {
			n := seeds(t, 10, 1000)
			k := clock{beats: 600, beat: 1, out: 9e-3, pm: c.pm * us, fm: c.fm * us, sway: []sway{{c.amplitude * us, 97, 1}}}
			inside, seen := 0, 0
			for i := range n {
				a := solve(t, culprit.Query{Parts: arbors()[2:3], EscapeTeeth: 30, Beats: k.make(uint64(9000 + i))})
				if s := find(a, "third wheel"); s.Harmonic == 1 {
					seen++
					inside += one(s.Amplitude.Has(unit.Duration(c.amplitude * us)))
				}
			}
			t.Logf("inside %s", share(inside, seen))
			few(t, "inside", inside, seen, .94)
		})
	}
}

// A record as long as was asked for tells: the tooth that is out, and which
// of two parts of like period it is.
func TestAsLongAsAsked(t *testing.T) {
	n := seeds(t, 4, 300)
	for _, c := range []struct {
		pm, fm float64
		beats  int // heard at first
		span   int
	}{{50, 1, 120, 0}, {200, 1, 600, 0}, {200, 2, 200, 15}} {
		t.Run(fmt.Sprintf("teeth, %d beats PM %.0f FM %.0f span %d", c.beats, c.pm, c.fm, c.span), func(t *testing.T) {
			found, long := 0, 0.0
			for i := range n {
				k := clock{beats: c.beats, beat: 1, out: 9e-3, teeth: 30, pm: c.pm * us, fm: c.fm * us, late: map[int]float64{22: 100 * us, 37: 100 * us}}
				q := culprit.Query{Parts: arbors(), EscapeTeeth: 30, Span: c.span, Beats: k.make(uint64(20000 + i))}
				a := solve(t, q)
				if a.TeethStanding == culprit.Found {
					found++
					continue
				}
				if a.TeethStanding != culprit.NotYet || !(a.TeethFor > 0) {
					t.Errorf("%q, listen for %v", a.TeethStanding, a.TeethFor)
					continue
				}
				long += float64(a.TeethFor) / float64(n)
				k.beats = int(a.TeethFor)
				q.Beats = k.make(uint64(30000 + i))
				found += one(slices.Contains(solve(t, q).Odd, 11))
			}
			t.Logf("found %s, %.0f s", share(found, n), long)
			few(t, "found", found, n, 0.85)
		})
	}
	t.Run("like parts", func(t *testing.T) {
		found := 0
		for i := range n {
			p := append(arbors()[2:], culprit.Part{Name: "fly", Kind: culprit.Turn, Arbor: 4, Period: 99, Beats: 99})
			k := clock{beats: 600, beat: 1, out: 9e-3, pm: 50 * us, fm: 1 * us, sway: []sway{{60 * us, 97, 1}}}
			q := culprit.Query{Parts: p, EscapeTeeth: 30, Beats: k.make(uint64(20000 + i))}
			s := find(solve(t, q), "third wheel")
			if s.Standing != culprit.Unlike {
				continue // the wander was judged too great to name either
			}
			if s.ListenFor < 2000 || s.ListenFor > 20000 {
				t.Errorf("%+v", s)
			}
			k.beats = int(s.ListenFor)
			q.Beats = k.make(uint64(30000 + i))
			a := solve(t, q)
			found += one(find(a, "third wheel").Standing == culprit.Found && find(a, "fly").Standing != culprit.Found && find(a, "fly").Standing != culprit.Unlike)
		}
		t.Logf("told apart %s", share(found, n))
		few(t, "told apart", found, n, 0.9)
	})
}
