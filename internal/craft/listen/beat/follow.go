package beat

import "math"

// follower predicts the beats: phase, beat and the offset of the two sides,
// each corrected by a share of what the last beat was out.
type follower struct {
	centre float64 // place of beat n less its side's offset
	beat   float64
	off    float64
	n      int64
	seen   float64    // beats taken in
	spread float64    // variance of the innovations, samples²
	amp    [2]float64 // usual strength of each side; 0 where not known yet
}

func (f *follower) side() int { return int(f.n & 1) }

func (f *follower) sign() float64 { return float64(2*f.side() - 1) }

// place is where beat n is expected.
func (f *follower) place() float64 { return f.centre + f.sign()*f.off }

// reach is how far from there it is looked for.
func (f *follower) reach(k *tools) int {
	r := 6*math.Sqrt(f.spread) + 10
	if f.seen < 12 {
		r = max(r, float64(k.samples(2.5)))
	}
	return int(min(r, f.beat/6))
}

// odd tells whether a sound is out of the ordinary in time or strength.
func (f *follower) odd(s sound) bool {
	return math.Abs(s.at-f.place()) > 3*math.Sqrt(f.spread)+1 || f.unlike(s, 0.6, 1.6)
}

// strange tells whether a sound that had to be mended is too unlike a beat in
// time or strength: then the click was all there was.
func (f *follower) strange(s sound) bool {
	if f.seen < 8 {
		return false
	}
	return math.Abs(s.at-f.place()) > 5*math.Sqrt(f.spread)+3 || f.unlike(s, 0.5, 2)
}

// plausible tells whether a sound is of about the usual strength.
func (f *follower) plausible(s sound) bool { return !f.unlike(s, 0.22, 3) }

// unlike tells whether a sound is weaker or stronger than such multiples of
// the usual; it is not where the usual is not known.
func (f *follower) unlike(s sound, least, most float64) bool {
	usual := f.amp[f.side()]
	return usual > 0 && (s.amp < least*usual || s.amp > most*usual)
}

// take corrects the prediction by a beat that was heard.
func (f *follower) take(s sound) {
	e := s.at - f.place()
	f.seen++
	m := f.seen
	g1, g2, g3 := max(2/(m+2), 0.12), max(3/((m+2)*(m+3)), 0.006), max(1/(m+2), 0.04)
	if m < 3 {
		g2 = 0
	}
	f.centre += g1 * e
	f.beat += g2 * e
	f.off += g3 * e * f.sign()
	own := min(e*e, 25*f.spread+1)
	f.spread += max(1/(m+4), 0.05) * (own - f.spread)
	a := &f.amp[f.side()]
	if *a == 0 {
		*a = s.amp
	}
	*a += max(1/(m+1), 0.08) * (s.amp - *a)
}

// advance goes on to the next beat.
func (f *follower) advance() {
	f.n++
	f.centre += f.beat
}
