package beat

import "math"

// sounds gathers a run's figures as they are now.
func (p *pursuit) sounds() sounds {
	h := p.h
	s := sounds{run: p.run, beat: h.seconds(p.f.beat)}
	var known int
	for side := range 2 {
		if u := p.keep[side]; u.known {
			s.epochs[side] = h.seconds(u.at)
			s.offsetU = duration(math.Hypot(float64(s.offsetU), float64(h.seconds(u.u))))
			known++
		}
	}
	if known < 2 {
		s.offsetU = 2e-3 // the shapes are laid on one another by likeness only
		s.epochs = [2]duration{}
	}
	s.tick, s.toc = p.shapeOf(0), p.shapeOf(1)
	s.snr = p.strength()
	return s
}

func (p *pursuit) shapeOf(side int) Shape {
	m := p.filters[side]
	return Shape{Start: -p.h.seconds(float64(m.before)), Step: p.h.seconds(1), Y: m.shape}
}

// strength is the power of the sound in the 10 ms after the impact over that
// of the noise.
func (p *pursuit) strength() float64 {
	var sum float64
	for side := range 2 {
		amp := p.f.amp[side]
		if amp == 0 {
			amp = p.f.amp[1-side] // its shape was just made anew
		}
		sum += p.filters[side].power * amp * amp / 2
	}
	return sum / max(p.noise.mean, least)
}

// finish says what is made of it all.
func (h *hearer) finish() error {
	e := h.ear
	e.mu.Lock()
	defer e.mu.Unlock()
	e.heard.Length = h.seconds(float64(h.tape.last()))
	e.heard.Complete = h.tape.err == nil
	e.heard.Peak = float64(min(h.tape.peak, 1))
	e.heard.Clipped = float64(h.tape.full) / float64(max(1, h.tape.looked))
	if k := looped(e.heard.Beats); k > 0 && !h.looked {
		first, again := e.heard.Beats[0], e.heard.Beats[k]
		e.heard.Marks = append(e.heard.Marks, Mark{At: again.At, Kind: Repeat, Size: again.At - first.At})
		h.cuts++
	}
	e.heard.Verdict, e.heard.Why = h.verdict(len(e.heard.Runs))
	return h.tape.err
}

// verdict says what the recording is, and why in a sentence.
func (h *hearer) verdict(runs int) (Verdict, string) {
	switch {
	case h.cuts > 0 && (runs > 0 || h.best >= standsOut):
		return Edited, "No rate can be had from it. Record anew and leave the file as it is."
	case runs > 0:
		return Regular, ""
	case h.mixed > 0:
		return TwoClocks, whyTwo
	case h.fours > 0:
		return NotSure, whyFours
	case h.tried > 0 && h.loudness() == "":
		return NotSure, whySome
	}
	return NoBeat, h.whyNone()
}

// What is said where something repeats that is not sure to be a clock.
const whySome = "Something repeats, but not so that it must be a clock. Bring the recorder nearer, away from other sounds, and record a minute or more."
