package synth

import "math"

// begin lets the beats sound that begin before a sample.
func (s *sound) begin(before float64) {
	for !s.ended {
		if s.waiting == nil {
			next, ok := s.work.next()
			if !ok {
				s.ended = true
				return
			}
			s.waiting = &next
		}
		at := place(s.recipe, s.waiting.at)
		if at-s.lead >= before {
			return
		}
		s.strike(*s.waiting, at)
		s.waiting = nil
	}
}

// strike lets one beat sound, and the extra one after it.
func (s *sound) strike(b stroke, at float64) {
	v := &s.voices[b.k&1]
	gain := s.peak
	if s.recipe.AmplitudeSpread > 0 {
		gain *= float32(max(0.1, 1+s.recipe.AmplitudeSpread*s.strength.NormFloat64()))
	}
	if !b.silent {
		s.sound(v, at, gain)
	}
	if b.extra > 0 {
		s.sound(v, place(s.recipe, b.extra), gain*float32(b.between))
	}
}

// sound puts a voice at a place, its impacts jittered where they are.
func (s *sound) sound(v *voice, at float64, gain float32) {
	if len(v.other) == 0 {
		s.on = append(s.on, pulse{&v.whole, at, gain})
		return
	}
	s.on = append(s.on, pulse{&v.main, at, gain})
	for i := range v.other {
		jitter := float64(s.recipe.ImpactSpread) * s.recipe.SampleRate * s.impacts.NormFloat64()
		s.on = append(s.on, pulse{&v.other[i], at + jitter, gain})
	}
}

// wave is a table laid out for playing: the points that are a whole sample
// apart stand together.
type wave struct {
	row    [over][]float32 // point i is row[i%over][i/over]
	points int
	origin int
}

func newWave(t table) wave {
	w := wave{points: len(t.y), origin: t.origin}
	n := (len(t.y) + over - 1) / over
	all := make([]float32, n*over)
	for i := range w.row {
		w.row[i] = all[i*n : (i+1)*n]
	}
	for i, y := range t.y {
		w.row[i%over][i/over] = y
	}
	return w
}

// before is the samples it reaches before its impact.
func (w wave) before() float64 { return float64(w.origin) / over }

// add puts the part of the pulse that lies in the block on top of it and
// tells whether more is to come. Between the points of the table it follows
// the cubic through four of them; the fraction is the same for every sample.
func (p *pulse) add(block []float32, from int64) bool {
	first := int64(math.Ceil(p.at - float64(p.w.origin-2)/over)) // the points before are empty
	first = max(first, from)
	where := float64(p.w.origin) + over*(float64(first)-p.at)
	i := int(math.Floor(where))
	if first-from >= int64(len(block)) {
		return true
	}
	if i < 1 || i+2 >= p.w.points {
		return false
	}
	c := lagrange(where - float64(i))
	for k := range c {
		c[k] *= p.gain
	}
	block = block[first-from:]
	n := min(len(block), (p.w.points-3-i)/over+1)
	block = block[:n]
	r0, r1, r2, r3 := p.row(i-1, n), p.row(i, n), p.row(i+1, n), p.row(i+2, n)
	for k := range block {
		block[k] += c[0]*r0[k] + c[1]*r1[k] + c[2]*r2[k] + c[3]*r3[k]
	}
	return i+n*over+2 < p.w.points
}

// row is n points a sample apart, from point i on.
func (p *pulse) row(i, n int) []float32 { return p.w.row[i%over][i/over:][:n:n] }

// lagrange weighs the points at −1, 0, 1 and 2 for a value at f, 0 to 1.
func lagrange(f float64) [4]float32 {
	return [4]float32{
		float32(-f * (f - 1) * (f - 2) / 6), float32((f + 1) * (f - 1) * (f - 2) / 2),
		float32(-(f + 1) * f * (f - 2) / 2), float32((f + 1) * f * (f - 1) / 6),
	}
}
