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
		s.on = append(s.on, pulse{v.whole, at, gain})
		return
	}
	s.on = append(s.on, pulse{v.main, at, gain})
	for _, t := range v.other {
		jitter := float64(s.recipe.ImpactSpread) * s.recipe.SampleRate * s.impacts.NormFloat64()
		s.on = append(s.on, pulse{t, at + jitter, gain})
	}
}

// add puts the part of the pulse that lies in the block on top of it and
// tells whether more is to come. Between the points of the table it follows
// the cubic through four of them; the fraction is the same for every sample.
func (p pulse) add(block []float32, from int64) bool {
	first := int64(math.Ceil(p.at - float64(p.t.origin-1)/over))
	first = max(first, from)
	where := float64(p.t.origin) + over*(float64(first)-p.at)
	i := int(math.Floor(where))
	c := lagrange(where - float64(i))
	y, g := p.t.y, p.gain
	for n := first - from; n < int64(len(block)); n++ {
		if i+2 >= len(y) {
			return false
		}
		if i >= 1 {
			q := y[i-1 : i+3 : i+3]
			block[n] += g * (c[0]*q[0] + c[1]*q[1] + c[2]*q[2] + c[3]*q[3])
		}
		i += over
	}
	return true
}

// lagrange weighs the points at −1, 0, 1 and 2 for a value at f, 0 to 1.
func lagrange(f float64) [4]float32 {
	return [4]float32{
		float32(-f * (f - 1) * (f - 2) / 6), float32((f + 1) * (f - 1) * (f - 2) / 2),
		float32(-(f + 1) * f * (f - 2) / 2), float32((f + 1) * f * (f - 1) / 6),
	}
}
