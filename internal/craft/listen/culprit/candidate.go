package culprit

import "math"

// candidate is one frequency that is looked for: a harmonic of a part, or a
// period that belongs to none.
type candidate struct {
	part     int // -1 for a free period
	harmonic int
	f        float64
	inRing   bool  // it repeats with the escape wheel: judged with its teeth
	cycles   int   // so many times a turn of that
	whole    bool  // it is the escape wheel's own turn
	column   []int // by run, 0 where it is not resolved
	in       bool  // in the model
	dof      int

	evidence    float64 // over the variance of the noise
	information float64 // about the amplitude, over the same
	latest      float64 // phase at which the beats are latest, rad, from beat 0 of the longest run
	chance      float64 // that it is nothing, among all that was tried
	known       bool    // there is any evidence for or against it
	alike       []int   // parts that it cannot be told from
	apart       float64 // cycles a beat to the nearest of those
}

// Harmonics tried of each kind.
const (
	turnHarmonics    = 4
	contactHarmonics = 2
	wheelHarmonics   = 2    // of the escape wheel, where its teeth are told apart: once a turn and twice
	highest          = 0.47 // cycles a beat: near a half the sides of the beat do the same
)

// Separations in cycles over the run below which frequencies cannot be told
// apart, and below which one may be taken for the other.
const (
	sameCycles = 0.7
	nearCycles = 2
)

// enlist makes the candidates. Of two that cannot be told apart the first
// stands for both: turns before contacts, low harmonics before high.
func (s *search) enlist() {
	for h := 1; h <= turnHarmonics; h++ {
		for i, p := range s.q.Parts {
			if p.Kind == Turn {
				s.list(i, h, p)
			}
		}
	}
	for h := 1; h <= contactHarmonics; h++ {
		for i, p := range s.q.Parts {
			if p.Kind == Contact {
				s.list(i, h, p)
			}
		}
	}
}

func (s *search) list(part, h int, p Part) {
	c := &candidate{part: part, harmonic: h, f: float64(h) / p.Beats, column: make([]int, len(s.runs)), chance: 1}
	r := s.runs[0]
	if c.f > highest || !s.anyResolves(c.f) {
		return
	}
	if r.ring > 0 {
		k := math.Round(c.f * float64(r.ring))
		off := math.Abs(c.f-k/float64(r.ring)) * r.length()
		if c.inRing = off < sameCycles && k >= 1; c.inRing {
			c.cycles = int(k)
			c.whole = p.Kind == Turn && math.Abs(p.Beats-float64(r.ring)) < 1e-6
			if c.whole && h > wheelHarmonics {
				return
			}
		}
	}
	for _, d := range s.suspect {
		if apart := math.Abs(d.f - c.f); apart*r.length() < sameCycles && d.part != part {
			c.mistake(d.part, apart)
			d.mistake(part, apart)
		}
	}
	s.suspect = append(s.suspect, c)
}

// mistake notes a part that it may be taken for.
func (c *candidate) mistake(part int, apart float64) {
	if len(c.alike) == 0 || apart < c.apart {
		c.apart = apart
	}
	c.alike = append(c.alike, part)
}

func (s *search) anyResolves(f float64) bool {
	for _, r := range s.runs {
		if r.resolves(f) {
			return true
		}
	}
	return false
}

// Shares of the one chance in a hundred: harmonics of parts, teeth, and free
// periods; and within the first that of the fundamentals, for a part that is
// out of centre is what is met most. One wave has only as much evidence as
// the doubt about the wander leaves it, a tooth is met by no such doubt: so
// the waves have the greater share.
const (
	nominal     = 0.01
	partsShare  = 0.62
	teethShare  = 0.25
	freeShare   = 0.13
	firstsShare = 0.75
)

// tries is over how many harmonics, all as likely, a harmonic's chance is
// shared out: those that cannot be told apart count once.
func (s *search) tries(harmonic int) float64 {
	n := 0
	for i, c := range s.suspect {
		if c.part < 0 || (c.harmonic == 1) != (harmonic == 1) {
			continue
		}
		first := true
		for _, d := range s.suspect[:i] {
			first = first && (d.part < 0 || d.f != c.f)
		}
		if first {
			n++
		}
	}
	share := partsShare * firstsShare
	if harmonic > 1 {
		share = partsShare - share
	}
	return math.Max(float64(n), 1) / share
}

// weigh sets the evidence for a candidate that is in the model or out of it.
func (s *search) weigh(c *candidate) {
	if c.inRing {
		return
	}
	c.evidence, c.information, c.dof, c.known = 0, 0, 0, false
	for i, k := range c.column {
		if k == 0 || c.part < 0 && i > 0 { // free periods are judged in the longest run
			continue
		}
		dim := s.rawDim[i]
		w, ok := s.models[i].wave(k, s.raw[i][k*dim+k], s.raw[i][(k+1)*dim+k+1])
		if !ok {
			continue
		}
		if !c.known {
			c.latest = math.Atan2(w.s, w.c)
		}
		c.known = true
		c.dof += 2
		c.evidence += w.evidence() / s.square
		c.information += w.information() / s.square
	}
	c.chance = 1
	switch {
	case c.known && c.part >= 0:
		c.chance = familywise(s.single(c), s.tries(c.harmonic))
	case c.known:
		c.chance = s.freeChance(c)
	}
}

// single is the chance of the evidence at one frequency.
func (s *search) single(c *candidate) float64 {
	return s.noise.chance(c.dof, c.f, c.evidence)
}

// mostChosen bounds the periods taken into the model.
const mostChosen = 24

// choose takes into the model, one by one, the harmonics that chance does
// not make, the strongest first; each that is taken is judged again at the
// end with all the others beside it.
func (s *search) choose() {
	s.begin()
	for range mostChosen {
		best := s.strongest()
		free := s.freePeriod(best)
		if free != nil {
			s.suspect = append(s.suspect, free)
			s.put(free)
		} else if best != nil && best.chance <= nominal {
			s.put(best)
		} else {
			break
		}
		s.scale()
	}
	s.review()
}

// strongest weighs all that is out of the model.
func (s *search) strongest() *candidate {
	var best *candidate
	for _, c := range s.suspect {
		if c.in || c.inRing {
			continue
		}
		s.weigh(c)
		if c.known && c.part >= 0 && (best == nil || c.chance < best.chance || c.chance == best.chance && c.evidence > best.evidence) {
			best = c
		}
	}
	return best
}

// review drops what the others have made needless and weighs everything.
func (s *search) review() {
	for range 2 {
		for _, c := range s.suspect {
			s.weigh(c)
			if c.in && c.chance > nominal {
				s.remove(c)
				s.scale()
			}
		}
	}
	s.dropFree()
	for _, c := range s.suspect {
		s.weigh(c)
	}
}
