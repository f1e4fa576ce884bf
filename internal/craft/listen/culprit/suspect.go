package culprit

import (
	"cmp"
	"math"
	"slices"

	"seatboard/internal/kit/unit"
)

// longestListen is beyond what anyone will record.
const longestListen unit.Duration = 7 * 86400

// answer puts the findings together.
func (s *search) answer() Answer {
	var a Answer
	s.ringed(&a)
	s.standTeeth(&a)
	a.Peaks = s.peaks()
	for i := range s.q.Parts {
		a.Suspects = append(a.Suspects, s.part(i))
	}
	slices.SortStableFunc(a.Suspects, func(x, y Suspect) int {
		return cmp.Or(cmp.Compare(x.Chance, y.Chance), cmp.Compare(y.evidence(), x.evidence()))
	})
	return a
}

// evidence orders suspects of the same chance.
func (x Suspect) evidence() float64 {
	if !x.Amplitude.Set || x.Amplitude.U <= 0 {
		return 0
	}
	return float64(x.Amplitude.Value / x.Amplitude.U)
}

// level is the chance of one harmonic at which it counts as found.
func (s *search) level(harmonic int) float64 { return nominal / s.tries(harmonic) }

// part sums up what is known of one part.
func (s *search) part(i int) Suspect {
	out := Suspect{Part: s.q.Parts[i], Harmonic: 1, Chance: 1, Standing: NotYet}
	var top *candidate
	clear, turnSeen := true, false
	for _, c := range s.suspect {
		if c.part != i || !c.known {
			continue
		}
		turnSeen = turnSeen || c.harmonic == 1
		if top == nil || c.chance < top.chance || c.chance == top.chance && c.evidence > top.evidence {
			top = c
		}
		clear = clear && s.noise.size(c).High <= Matters
	}
	if top == nil {
		out.ListenFor = s.listenFor(out.Part, 0)
		return out
	}
	out.Harmonic, out.Chance, out.Amplitude = top.harmonic, top.chance, s.noise.size(top)
	out.Smallest = unit.Duration(s.noise.findable(top.dof, top.f, s.level(top.harmonic)) / math.Sqrt(top.information))
	out.LatestAt = s.latestAt(top)
	out.With = s.names(top.alike)
	switch {
	case top.chance <= nominal && len(out.With) > 0:
		out.Standing, out.ListenFor = Unlike, s.tellFor(top)
	case top.chance <= nominal:
		out.Standing = Found
	case clear && turnSeen:
		out.Standing = Clear
	default:
		out.ListenFor = s.listenFor(out.Part, s.runs[0].length())
	}
	if out.Standing != Found && out.Standing != Unlike {
		out.Amplitude.Low = 0
	}
	return out
}

// latestAt is the turn from the first beat to where the beats are latest.
func (s *search) latestAt(c *candidate) unit.Angle {
	r := s.runs[0]
	a := c.latest - 2*math.Pi*c.f*float64(r.first)
	a = math.Mod(math.Mod(a, 2*math.Pi)+2*math.Pi, 2*math.Pi)
	return unit.Angle(a / float64(c.harmonic))
}

func (s *search) names(parts []int) []string {
	var out []string
	for _, p := range parts {
		if p >= 0 && !slices.Contains(out, s.q.Parts[p].Name) {
			out = append(out, s.q.Parts[p].Name)
		}
	}
	return out
}

// toldCycles is how many cycles two waves must come apart in one record for
// the one that is there to be told from the other.
const toldCycles = 1.25

// tellFor is the length of one record that tells a wave from those that are
// like it; 0 where it is past longestListen or they are the same.
func (s *search) tellFor(c *candidate) unit.Duration {
	if !(c.apart > 0) {
		return 0
	}
	return s.within(toldCycles / c.apart)
}

// within is the time of so many beats, 0 where it is past longestListen.
func (s *search) within(beats float64) unit.Duration {
	t := unit.Duration(beats * s.runs[0].beat)
	if t > longestListen {
		return 0
	}
	return t
}

// listenFor is the length of one record that finds Matters in a turn of the
// part nine times in ten; heard is the beats of this one. 0 where it is past
// longestListen.
func (s *search) listenFor(p Part, heard float64) unit.Duration {
	f := 1 / p.Beats
	if f > highest {
		return 0
	}
	k := s.noise.findable(2, f, s.level(1))
	beats := 2 * k * k * s.noise.best.density(f) / math.Pow(float64(Matters), 2)
	beats = math.Max(beats, 1.25*leastCycles*p.Beats)
	if beats < heard {
		beats = 1.5 * heard
	}
	return s.within(beats)
}
