package culprit_test

import (
	"testing"

	"seatboard/internal/craft/listen/culprit"
)

func TestParts(t *testing.T) {
	p, teeth := parts(t, "96/8 60/8 56/7 30")
	if teeth != 30 {
		t.Errorf("%d teeth", teeth)
	}
	for _, x := range p {
		t.Logf("%-32s %-8s arbor %d  %10.4f s %10.4f beats", x.Name, x.Kind, x.Arbor, float64(x.Period), x.Beats)
	}
}

func TestEccentric(t *testing.T) {
	p, teeth := arbors(), 30
	q := culprit.Query{Parts: p, EscapeTeeth: teeth, Scatter: 50 * us, Wander: 1 * us,
		Beats: clock{beats: 600, beat: 1, teeth: 30, out: 9e-3, pm: 50 * us, fm: 1 * us, sway: []sway{{20 * us, 97, 1}}}.make(5)}
	a := solve(t, q)
	for _, s := range a.Suspects {
		t.Logf("%-14s h%d %s chance %.2g %s smallest %.1f µs listen %.0f s at %.0f° with %v", s.Part.Name, s.Harmonic, s.Amplitude.Text("µs"), s.Chance, s.Standing, float64(s.Smallest)/us, float64(s.ListenFor), s.LatestAt.Degrees(), s.With)
	}
}

func BenchmarkSolve3600(b *testing.B) {
	p, teeth := parts(b, "96/8 60/8 56/7 30")
	q := culprit.Query{Parts: p, EscapeTeeth: teeth, Scatter: 50 * us, Wander: 1 * us,
		Beats: clock{beats: 3600, beat: 1, teeth: 30, out: 9e-3, pm: 50 * us, fm: 1 * us, sway: []sway{{20 * us, 480, 1}}}.make(5)}
	for b.Loop() {
		solve(b, q)
	}
}

func BenchmarkSolve36000(b *testing.B) {
	p, teeth := parts(b, "96/8 60/8 56/7 30")
	q := culprit.Query{Parts: p, EscapeTeeth: teeth, Scatter: 50 * us, Wander: 1 * us,
		Beats: clock{beats: 36000, beat: 1, teeth: 30, out: 9e-3, pm: 50 * us, fm: 1 * us, sway: []sway{{20 * us, 480, 1}}}.make(5)}
	for b.Loop() {
		solve(b, q)
	}
}

func show(t *testing.T, a culprit.Answer) {
	t.Helper()
	for _, s := range a.Suspects {
		t.Logf("%-32s h%d %s [%.1f %.1f] chance %.2g %s smallest %.1f µs listen %.0f s at %.0f° with %v", s.Part.Name, s.Harmonic, s.Amplitude.Text("µs"), float64(s.Amplitude.Low)/us, float64(s.Amplitude.High)/us, s.Chance, s.Standing, float64(s.Smallest)/us, float64(s.ListenFor), s.LatestAt.Degrees(), s.With)
	}
	for _, x := range a.Teeth {
		t.Logf("tooth %d %s chance %.2g", x.Number, x.Late.Text("µs"), x.Chance)
	}
	t.Logf("odd %v span %d peaks %v", a.Odd, a.Span, a.Peaks)
}

func TestTooth(t *testing.T) {
	q := culprit.Query{Parts: arbors(), EscapeTeeth: 30, Scatter: 50 * us, Wander: 1 * us,
		Beats: clock{beats: 600, beat: 1, teeth: 30, out: 9e-3, late: map[int]float64{22: 100 * us, 37: 100 * us}, pm: 50 * us, fm: 1 * us, sway: []sway{{20 * us, 97, 1}}}.make(5)}
	show(t, solve(t, q))
	p, teeth := parts(t, "96/8 60/8 56/7 30")
	q = culprit.Query{Parts: p, EscapeTeeth: teeth,
		Beats: clock{beats: 3600, beat: 1, out: 9e-3, pm: 50 * us, fm: 1 * us, sway: []sway{{20 * us, 60, 1}, {15 * us, 60. / 7, 1}}}.make(5)}
	show(t, solve(t, q))
}

func TestFreePeriod(t *testing.T) {
	p, teeth := parts(t, "96/8 60/8 56/7 30")
	beats := clock{beats: 1800, beat: 1, out: 9e-3, pm: 50 * us, fm: 1 * us, sway: []sway{{30 * us, 97.3, 1}}}.make(5)
	show(t, solve(t, culprit.Query{Parts: p, EscapeTeeth: teeth, Beats: beats}))
	show(t, solve(t, culprit.Query{Beats: beats}))
}
