package mesh

import (
	"math"

	"seatboard/internal/kit/num"
)

// course is the angle of a leaf that one tooth pushes, against the angle of
// the tooth: at steps that are whole parts of a pitch of the wheel, and
// between them wherever it is asked for.
type course struct {
	closing
	step    float64   // radians of the wheel
	first   int       // the first step at which they touch
	touches []touch   // at the steps
	led     []float64 // the farthest that the leaf was pushed so far, radians
	peak    float64   // the farthest of all
	last    float64   // angle of the tooth where it is reached
}

// courseOf follows a tooth from where it comes within reach of the leaf until
// it pushes no farther; parts are the steps in a pitch, pitch the angle from
// tooth to tooth, back the angle by which a leaf may fall back before the
// course is left, radians.
func courseOf(c closing, pitch float64, parts int, back float64) course {
	f := course{closing: c, step: pitch / float64(parts), peak: math.Inf(-1)}
	if math.IsInf(c.begin, 0) {
		return f
	}
	f.first = int(math.Ceil(c.begin / f.step))
	for k := f.first; ; k++ {
		t, ok := c.touch(float64(k) * f.step)
		if !ok && len(f.touches) > 0 || t.Leaf < f.peak-back || k > f.first+4*parts {
			break
		}
		if !ok { // it comes into reach of the corner only between two steps
			f.first++
			continue
		}
		if t.Leaf > f.peak {
			f.peak, f.last = t.Leaf, t.Tooth
		}
		f.touches = append(f.touches, t)
		f.led = append(f.led, f.peak)
	}
	f.sharpen()
	return f
}

// sharpen finds the farthest point between the steps: where the pressure
// points at the wheel's centre, or where the tooth lets go.
func (f *course) sharpen() {
	n := len(f.touches)
	if n == 0 {
		return
	}
	k := int(math.Round(f.last/f.step)) - f.first
	if k < n-1 {
		least := num.Least(func(a float64) float64 {
			t, ok := f.touch(a)
			if !ok {
				return math.Inf(1)
			}
			return -t.Leaf
		}, f.last-f.step, f.last+f.step, 1e-10)
		f.take(least)
		return
	}
	in, out := f.last, f.last+f.step
	for range 60 {
		m := (in + out) / 2
		if m == in || m == out {
			break
		}
		if _, ok := f.touch(m); ok {
			in = m
		} else {
			out = m
		}
	}
	f.take(in)
}

func (f *course) take(a float64) {
	if t, ok := f.touch(a); ok && t.Leaf > f.peak {
		f.peak, f.last = t.Leaf, a
	}
}

// at is how far the leaf was pushed when the tooth stands at an angle; −Inf
// before they meet, and no farther after the tooth has let go.
func (f *course) at(angle float64) float64 {
	if angle < f.begin || len(f.touches) == 0 {
		return math.Inf(-1)
	}
	if angle >= f.last {
		return f.peak
	}
	led := math.Inf(-1)
	if k := int(math.Floor(angle/f.step)) - f.first; k >= 0 && k < len(f.led) {
		led = f.led[k]
	}
	if t, ok := f.touch(angle); ok {
		led = max(led, t.Leaf)
	}
	return led
}

// stepped is at for a whole step.
func (f *course) stepped(k int) float64 {
	switch i := k - f.first; {
	case i < 0:
		return math.Inf(-1)
	case i >= len(f.led):
		return f.peak
	default:
		return f.led[i]
	}
}

// level is an angle in radians below which two leaves are equally far on.
const level = 1e-12

// handover is where a tooth gives the pinion over to the one behind: its
// angle there. ahead is how far the leaf of the one behind would have to be
// farther on, in radians, for its tooth to come in: above nought they butt.
func handover(old, young *course, pitch, leafPitch float64, parts int) (at, ahead float64) {
	lead := func(a float64) float64 { return old.at(a) - young.at(a-pitch) - leafPitch }
	enters := young.begin + pitch
	if d := lead(enters); d < -level {
		return enters, -d
	}
	// The last step at which the older one is no less far on.
	low := enters
	for k := young.first + parts; ; k++ {
		if old.stepped(k)-young.stepped(k-parts)-leafPitch >= -level {
			low = max(low, float64(k)*old.step)
			continue
		}
		if float64(k)*old.step > old.last || k > young.first+6*parts {
			high := float64(k) * old.step
			x, err := num.Root(func(a float64) float64 { return lead(a) + level }, low, high, 1e-14)
			if err != nil {
				return low, 0
			}
			return x, 0
		}
	}
}
