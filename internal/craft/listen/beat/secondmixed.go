package beat

import "math"

// Two clocks of nearly the same beat sound like one that beats twice as fast:
// tick and tock of the first on one side, those of the second on the other.
// Beats of two clocks must never be given as those of one. Four things tell:
//
//   - Every second sound of a side comes late: the first clock is out of beat.
//     No one clock beats in fours.
//   - Every second sound of a side is missing, or
//   - is of another strength: it is another sound.
//   - The sides drift past one another: the clocks do not keep the same time.
//     A clock's beat error changes too, as its swing dies down, but by less.
type mixture struct {
	last   []mixBeat
	blocks []mixBlock
	d      []float64 // lag of the middle beats of the block now
}

type mixBeat struct {
	n       int64
	at, amp float64 // samples, strength against its side's usual
}

// mixBlock is how late a side was against the other over mixEvery beats.
type mixBlock struct{ at, lag, sd float64 }

const (
	mixEvery = 16 // beats after which it is judged again
	mixOver  = 96 // the last so many beats are judged
	mixFirst = 12 // times that it is judged as often as that, and then once in the last so many beats

	mixLate    = 1e-3 // s that every second sound of a side must be late, at the least
	mixSure    = 8.0  // standard deviations that it must be so
	mixTurns   = 12   // pairs of sounds of a side
	mixUnlike  = 0.3  // of the strength
	mixPresent = 0.85 // share of beats heard of the half of a side that is there
	mixAbsent  = 0.25 // and of the half that is missing

	mixParts = 2e-3 // s that the sides of what comes in fours move where two clocks are the cause

	mixFar  = 15e-3 // s that the sides drift at whatever speed,
	mixNear = 4e-3  // s that they drift if it is faster than
	mixFast = 8e-5  // this, s/s: seven seconds a day
)

// take takes a beat in and tells whether the beats cannot be those of one
// clock, and whether two clocks are the cause: an echo does not drift.
func (m *mixture) take(b mixBeat, rate float64) (refused, two bool) {
	m.last = append(m.last, b)
	if n := len(m.last); n >= 3 {
		a, b, c := m.last[n-3], m.last[n-2], m.last[n-1]
		if c.n-a.n == 2 {
			m.d = append(m.d, float64(2*(b.n&1)-1)*(b.at-(a.at+c.at)/2)/rate)
		}
	}
	if len(m.d) < mixEvery {
		return false, false
	}
	mean, sd := meanAndSD(m.d)
	m.blocks, m.d = append(m.blocks, mixBlock{b.at / rate, mean, sd}), m.d[:0]
	if len(m.last) > mixOver {
		m.last = append(m.last[:0], m.last[len(m.last)-mixOver:]...)
	}
	if n := len(m.blocks); n <= mixFirst || n%(mixOver/mixEvery) == 0 {
		refused = m.inFours(rate)
	}
	two = m.drifts()
	return refused || two, two || m.parts()
}

// inFours tells whether the sounds of a side differ turn and turn about.
func (m *mixture) inFours(rate float64) bool {
	var late, amp [4][]float64
	var heard [4]float64
	for i, b := range m.last {
		c := b.n & 3
		heard[c]++
		amp[c] = append(amp[c], b.amp)
		if x, y, ok := m.around(i); ok {
			late[c] = append(late[c], (b.at-(x+y)/2)/rate)
		}
	}
	turns := float64(m.last[len(m.last)-1].n-m.last[0].n+1) / 4
	for c := range 2 {
		a, b := heard[c]/turns, heard[c+2]/turns
		if turns >= mixTurns && max(a, b) > mixPresent && min(a, b) < mixAbsent {
			return true
		}
		if d, sd, ok := apart(late[c], late[c+2]); ok && d > 2*mixLate && d > mixSure*sd {
			return true
		}
		if d, sd, ok := apart(amp[c], amp[c+2]); ok && d > mixUnlike && d > mixSure*sd {
			return true
		}
	}
	return false
}

// around are the places of the same side's beats before and after one.
func (m *mixture) around(i int) (before, after float64, ok bool) {
	n := m.last[i].n
	for j := max(0, i-2); j < i; j++ {
		if m.last[j].n == n-2 {
			before, ok = m.last[j].at, true
		}
	}
	if !ok {
		return 0, 0, false
	}
	for j := i + 1; j < min(i+3, len(m.last)); j++ {
		if m.last[j].n == n+2 {
			return before, m.last[j].at, true
		}
	}
	return 0, 0, false
}

// apart is how far the means of two lie apart and its standard deviation.
func apart(a, b []float64) (d, sd float64, ok bool) {
	if len(a) < mixTurns/3 || len(b) < mixTurns/3 {
		return 0, 0, false
	}
	m1, s1 := meanAndSD(a)
	m2, s2 := meanAndSD(b)
	return math.Abs(m1 - m2), math.Hypot(s1/math.Sqrt(float64(len(a))), s2/math.Sqrt(float64(len(b)))), true
}

// drifts tells whether the sides move against one another steadily.
func (m *mixture) drifts() bool {
	if len(m.blocks) < 4 {
		return false
	}
	a, b := m.blocks[1], m.blocks[len(m.blocks)-1]
	mid := m.blocks[len(m.blocks)/2]
	far, span := b.lag-a.lag, b.at-a.at
	if math.Abs(far) < mixFar && (math.Abs(far) < mixNear || math.Abs(far) < mixFast*span) {
		return false
	}
	straight := math.Abs(mid.lag-a.lag-far*(mid.at-a.at)/span) < 0.25*math.Abs(far)
	return straight && math.Abs(far) > mixSure*math.Hypot(a.sd, b.sd)/math.Sqrt(mixEvery/3.0)
}

// parts tells whether the sides have moved against one another at all.
func (m *mixture) parts() bool {
	a, b := m.blocks[0], m.blocks[len(m.blocks)-1]
	far := math.Abs(b.lag - a.lag)
	return far > mixParts && far > mixSure*math.Hypot(a.sd, b.sd)/math.Sqrt(mixEvery)
}

func meanAndSD(x []float64) (mean, sd float64) {
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for _, v := range x {
		sd += (v - mean) * (v - mean)
	}
	return mean, math.Sqrt(sd / max(1, float64(len(x)-1)))
}
