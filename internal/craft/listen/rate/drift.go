package rate

import (
	"fmt"
	"math"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/num"
	"seatboard/internal/kit/unit"
)

// pieces is into how many the longest run is cut to see whether its rate
// holds; each must have at least so many beats.
const (
	pieces       = 4
	beatsInPiece = 8
)

// chance is how seldom a clock that only wanders is said to change its rate.
const chance = 0.01

// onward is by how much more than it did the rate may go on changing.
const onward = 1.25

// drift compares the rates of the pieces of the longest run. Where they
// differ by more than scatter and wander allow, the rate itself is changing,
// and it is said. A walk of the rate is in the limits of Expect already; a
// change that goes one way is not, so they reach at least as far as it would
// come by the middle of the next stretch, and a quarter more.
func (a *Answer) drift(r *record, f *fit, nominal float64) {
	s := &r.stretches[0]
	for i := range r.stretches {
		if len(r.stretches[i].y) > len(s.y) {
			s = &r.stretches[i]
		}
	}
	halves, ok := r.cut(s, f, 2)
	quarters, enough := r.cut(s, f, pieces)
	if !ok || !enough {
		return
	}
	steady := math.Min(spread(halves, f.freedom), spread(quarters, f.freedom))
	if steady > chance/2 {
		return
	}
	step, expected := 0.0, 0.0
	for k := 1; k < pieces; k++ {
		d := quarters[k].period - quarters[k-1].period
		step += d * d / (pieces - 1)
		expected += (quarters[k].variance + quarters[k-1].variance) / (pieces - 1)
	}
	beat := r.about + f.mean
	a.say(halves, beat)
	if nominal > 0 && a.Expect.Set {
		wide := unit.Rate(onward * pieces / 2 * math.Sqrt(max(step-expected, step/4)) * nominal / (beat * beat))
		e := &a.Expect
		e.Low, e.High = min(e.Low, e.Value-wide), max(e.High, e.Value+wide)
		e.U = (e.High - e.Low) / (2 * z95)
	}
}

// piece is the period of a part of a run, s off the line, with its variance.
type piece struct{ period, variance float64 }

// cut fits each of k parts of a run at the same ratio.
func (r *record) cut(s *stretch, f *fit, k int) ([]piece, bool) {
	var out []piece
	for i := range k {
		p := s.part(i*len(s.y)/k, (i+1)*len(s.y)/k)
		one := record{stretches: []stretch{p}, exact: r.exact}
		one.recount()
		if one.used < beatsInPiece {
			return nil, false
		}
		g := one.fit(f.lambda)
		out = append(out, piece{g.period, g.periodVar * f.rss / f.freedom})
	}
	return out, true
}

// spread is the chance that pieces of one rate differ by so much.
func spread(p []piece, freedom float64) float64 {
	sum, weight := 0.0, 0.0
	for _, x := range p {
		sum, weight = sum+x.period/x.variance, weight+1/x.variance
	}
	mean, chi := sum/weight, 0.0
	for _, x := range p {
		chi += (x.period - mean) * (x.period - mean) / x.variance
	}
	n := float64(len(p) - 1)
	return 1 - num.FisherCDF(chi/n, n, freedom)
}

// say puts the change into words.
func (a *Answer) say(halves []piece, beat float64) {
	change := (halves[1].period - halves[0].period) / beat * 86400
	by := "longer"
	if change < 0 {
		by = "shorter"
	}
	a.Findings = append(a.Findings, meas.Finding{
		Level: meas.Doubt, Code: "drifting-rate", Ref: cite.Ref{Grade: cite.Computed, Note: "pieces of the record set against each other"},
		Text: fmt.Sprintf("The rate is changing while it is listened to: the beats of the second half are %s by %s s a day.", by, unit.Significant(math.Abs(change), 2)),
		Next: "Let the clock settle, then listen again; the mean rate is of this stretch only.",
	})
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
