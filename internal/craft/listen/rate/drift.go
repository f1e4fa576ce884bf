package rate

import (
	"fmt"
	"math"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/num"
	"seatboard/internal/kit/unit"
)

// halves is the number of beats that each half of a run must have for its
// rate to be set against the other's.
const halves = 15

// drift compares the two halves of the longest run. Where they differ by more
// than the noise found allows once in a thousand records, the rate itself is
// changing, which the model has no place for: it is said, and what is to be
// expected is stretched to where the change would lead.
func (a *Answer) drift(r *record, f *fit, nominal float64) {
	s := &r.stretches[0]
	for i := range r.stretches {
		if len(r.stretches[i].y) > len(s.y) {
			s = &r.stretches[i]
		}
	}
	cut := len(s.y) / 2
	if cut < halves {
		return
	}
	early, late := s.part(0, cut), s.part(cut, len(s.y))
	one, two := record{stretches: []stretch{early}, exact: r.exact}, record{stretches: []stretch{late}, exact: r.exact}
	one.recount()
	two.recount()
	if one.used < halves || two.used < halves {
		return
	}
	e, l := one.fit(f.lambda), two.fit(f.lambda)
	sigma := math.Sqrt(f.rss / f.freedom)
	change := l.period - e.period
	z := math.Abs(change) / (sigma * math.Sqrt(e.periodVar+l.periodVar))
	if !(z > num.StudentQuantile(1-0.0005, f.freedom)) {
		return
	}
	by := "longer"
	if change < 0 {
		by = "shorter"
	}
	a.Findings = append(a.Findings, meas.Finding{
		Level: meas.Doubt, Code: "drifting-rate", Ref: cite.Ref{Grade: cite.Computed, Note: "halves of the record set against each other"},
		Text: fmt.Sprintf("The rate is changing while it is listened to: the beats of the second half are %s by %s s a day.", by, unit.Number(math.Abs(change)/(r.about+f.mean)*86400, 3)),
		Next: "Let the clock settle, then listen again; the mean rate is of this stretch only.",
	})
	if nominal > 0 && a.Expect.Set {
		ahead := unit.Rate(-2 * change * nominal / ((r.about + f.mean) * (r.about + f.mean)))
		a.Expect.Low = min(a.Expect.Low, a.Expect.Low+ahead)
		a.Expect.High = max(a.Expect.High, a.Expect.High+ahead)
		a.Expect.U = (a.Expect.High - a.Expect.Low) / (2 * z95)
	}
}

// part is a piece of a stretch, counted from its own first beat.
func (s *stretch) part(from, to int) stretch {
	p := stretch{run: s.run, at: s.at[from:to], odd: s.odd[from:to], y: s.y[from:to], v: s.v[from:to]}
	for i := from; i < to; i++ {
		p.n = append(p.n, s.n[i]-s.n[from])
		p.side = append(p.side, s.side[i])
	}
	return p
}
