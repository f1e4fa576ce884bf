package identify

import (
	"cmp"
	"math"
	"slices"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/unit"
)

// The allowances.
var (
	screwAllowance = cite.Ref{Grade: cite.Memory, Note: "ISO 965-1, class 6g, for every series: 15 + 11 P and 180 P^(2/3) − 3.15/√P, in µm with P in mm"}
	holeAllowance  = cite.Ref{Grade: cite.CommonPractice, Note: "a tapped hole has from the whole depth of thread to 65 % of it"}
	wornAllowance  = cite.Ref{Grade: cite.CommonPractice, Note: "worn or filed crests have lost up to a quarter of the depth on each side"}
	wireAllowance  = cite.Ref{Grade: cite.CommonPractice, Note: "drawn within 1 %, or 5 µm where that is more"}
	drillAllowance = cite.Ref{Grade: cite.CommonPractice, Note: "ground to its size or up to 0.03 mm under it"}
	pinAllowance   = cite.Ref{Source: "iso286", Note: "m6 and h8 for parallel pins; 0.05 mm each way for the end of a taper"}
	woodAllowance  = cite.Ref{Source: "asmeb1861", Note: "+0.004 and, from memory, −0.007 in"}
	noneChance     = cite.Ref{Grade: cite.CommonPractice, Note: "half of the screws of an undated clock are taken to be of no standard, 0.85 before 1841, 0.3 after 1900"}
)

// under is how far a genuine screw may be under its major diameter, in m, by
// its pitch in m.
func under(pitch float64) float64 {
	p := pitch * 1000
	return (15 + 11*p + 180*math.Pow(p, 2.0/3) - 3.15/math.Sqrt(p)) * 1e-6
}

// span is what a genuine one may measure, in m.
type span struct{ low, high float64 }

// threadSpan is what the diameter of a thread may be.
func (q Query) threadSpan(t Thread) span {
	d, s := float64(t.Major), ShapeOf(t)
	switch q.What {
	case Hole:
		return span{float64(s.Bore), float64(s.Bore) + .35*(d-float64(s.Bore))}
	case WoodScrew:
		return span{d - .007*.0254, d + .004*.0254}
	}
	low := d - under(float64(t.Pitch))
	if q.Worn {
		low -= float64(s.Depth) / 2
	}
	return span{low, d}
}

// gaugeSpan is what a wire, drill or pin may be.
func gaugeSpan(g Gauge) span {
	d := float64(g.D)
	switch g.Gauge {
	case "Number drill", "Letter drill", "Metric drill", "Inch drill":
		return span{d - 30e-6, d}
	case "Parallel pin":
		return span{d - 18e-6, d + 12e-6}
	case "Taper pin":
		return span{d - 50e-6, d + 50e-6}
	}
	w := math.Max(.01*d, 5e-6)
	return span{d - w, d + w}
}

// density is how likely a measured value is, to the metre, of something that
// lies evenly in a span, with the standard uncertainty u of the measurement.
func (s span) density(x, u float64) float64 {
	return (below((s.high-x)/u) - below((s.low-x)/u)) / (s.high - s.low)
}

// off is how far a value is outside a span; negative under it.
func (s span) off(x float64) float64 {
	return math.Min(x-s.low, 0) + math.Max(x-s.high, 0)
}

// below is the normal distribution.
func below(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }

// bell is the density of a normal one.
func bell(x, at, u float64) float64 {
	z := (x - at) / u
	return math.Exp(-z*z/2) / (u * math.Sqrt(2*math.Pi))
}

// What is of no standard lies anywhere in these, evenly by ratio.
const (
	thinnest, thickest = .3e-3, 30e-3 // m
	finest, coarsest   = .08, .45     // pitch over diameter
	laterWeight        = .3           // a thread later than the clock must be a replacement
	tieOdds            = 5            // closer than this cannot be told apart
	mostCandidates     = 12
)

// noneBefore is the chance that a thing is of none of the standards before it
// was measured.
func (q Query) noneBefore() float64 {
	switch {
	case q.Year == 0:
		return .5
	case q.Year < 1841:
		return .85
	case q.Year > 1900:
		return .3
	}
	return .5
}

// weigh finds the chance of each candidate and of none.
func (q Query) weigh() (all []Candidate, none float64) {
	if q.threaded() {
		all, none = q.weighThreads()
	} else {
		all, none = q.weighGauges()
	}
	sum := none
	for _, c := range all {
		sum += c.Chance
	}
	if !(sum > 0) { // so far from everything that no chance is left to compare
		none, sum = 1, 1
	}
	for i := range all {
		all[i].Chance /= sum
	}
	none /= sum
	slices.SortStableFunc(all, func(a, b Candidate) int {
		return cmp.Or(cmp.Compare(b.Chance, a.Chance), cmp.Compare(math.Abs(float64(a.Off)), math.Abs(float64(b.Off))))
	})
	return all[:min(len(all), mostCandidates)], none
}

func (q Query) weighThreads() (all []Candidate, none float64) {
	d, u := float64(q.Diameter.Value), q.diameterDoubt()
	pitch, pitched := q.pitch()
	rows := 0
	for _, t := range threads() {
		if (t.Series == "Wood screw") != (q.What == WoodScrew) || t.Major > thickest {
			continue
		}
		rows++
		s := q.threadSpan(t)
		c := Candidate{Name: t.Name(), Thread: &t, Low: unit.Length(s.low), High: unit.Length(s.high), Off: unit.Length(s.off(d)), Chance: s.density(d, u)}
		f := familyOf(t.Series)
		c.Since = f.since
		if pitched {
			c.Chance *= bell(float64(pitch.Value), float64(t.Pitch), float64(pitch.U))
		}
		if q.Angle.Set {
			c.Chance *= bell(q.Angle.Value.Degrees(), f.form.angle, q.angleDoubt())
		}
		if c.Later = q.Year > 0 && f.since > q.Year; c.Later {
			c.Chance *= laterWeight
		}
		all = append(all, c)
	}
	none = 1 / (d * math.Log(thickest/thinnest))
	if pitched {
		none /= float64(pitch.Value) * math.Log(coarsest/finest)
	}
	if q.Angle.Set {
		none /= 30 // any angle from 40° to 70°
	}
	return q.share(all, none, rows)
}

// angleDoubt is the standard uncertainty of the angle, in degrees.
func (q Query) angleDoubt() float64 {
	if q.Angle.HasU && q.Angle.U > 0 {
		return q.Angle.U.Degrees()
	}
	return usualAngle
}

func (q Query) weighGauges() (all []Candidate, none float64) {
	d, u := float64(q.Diameter.Value), q.diameterDoubt()
	for _, g := range gauges() {
		if !slices.Contains(gaugesOf(q.What), g.Gauge) {
			continue
		}
		s := gaugeSpan(g)
		all = append(all, Candidate{Name: g.Name(), Gauge: &g, Low: unit.Length(s.low), High: unit.Length(s.high), Off: unit.Length(s.off(d)), Chance: s.density(d, u)})
	}
	return q.share(all, 1/(d*math.Log(thickest/thinnest)), len(all))
}

// share weighs by what was to be expected before it was measured.
func (q Query) share(all []Candidate, none float64, rows int) ([]Candidate, float64) {
	before := q.noneBefore()
	for i := range all {
		all[i].Chance *= (1 - before) / float64(max(rows, 1))
	}
	return all, none * before
}
