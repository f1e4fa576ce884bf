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
