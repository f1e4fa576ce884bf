package mesh

import (
	"cmp"
	"math"
	"slices"

	"seatboard/internal/kit/num"
)

// Teeth are told by how many are between: −1 is the one in front of a tooth,
// 1 the one behind it. So many are looked at to find the one that carries.
const (
	foremost = -1
	hindmost = 3
)

// stepped is how far tooth i has pushed the leaf of tooth 0, when that stands
// at step k.
func (g *gearing) stepped(i, k int) float64 {
	return g.drive.stepped(k-i*g.parts) + float64(i)*g.leafPitch
}

// led is the same at any angle.
func (g *gearing) led(i int, angle float64) float64 {
	return g.drive.at(angle-float64(i)*g.pitch) + float64(i)*g.leafPitch
}

// carrier is the tooth that carries at step k: the one whose leaf is farthest
// on; of those that are equally far the one in front.
func (g *gearing) carrier(k int) int {
	best, on := 0, math.Inf(-1)
	for i := foremost; i <= hindmost; i++ {
		if x := g.stepped(i, k); x > on+level {
			best, on = i, x
		}
	}
	return best
}

// carry turns the pair from one angle of tooth 0 to another, hands every
// moment over, and notes which tooth carries where.
func (g *gearing) carry(t *Turn, in, out float64, take func(Moment)) {
	take(g.moment(in, 0))
	now, since := 0, in
	end := func(angle float64) {
		// A tooth that lets its leaf go carries no more, though none follows.
		by := float64(now) * g.pitch
		if to := min(angle-by, g.drive.last); to > since-by+level {
			t.Carries = append(t.Carries, Span{since - by, to})
		}
		since = angle
	}
	step := g.drive.step
	for k := int(math.Floor(in/step)) + 1; float64(k)*step < out-1e-9*step; k++ {
		next := g.carrier(k)
		if next != now {
			at := g.change(now, next, max(in, float64(k-1)*step), float64(k)*step)
			take(g.moment(at, now))
			end(at)
			now = next
			take(g.moment(at, now))
		}
		take(g.momentAt(k, now))
	}
	if now != 0 { // it carries again before it gives over
		at := g.change(now, 0, max(in, math.Floor(out/step)*step), out)
		take(g.moment(at, now))
		end(at)
		now = 0
	}
	take(g.moment(out, 0))
	end(out)
	slices.SortFunc(t.Carries, func(a, b Span) int { return cmp.Compare(a.From, b.From) })
	if len(t.Carries) == 0 { // they butt, and none of it counts
		t.Carries = []Span{{in, out}}
	}
}

// change is the angle of tooth 0 between two at which one tooth comes as far
// as another that carries, or ahead of it.
func (g *gearing) change(from, to int, low, high float64) float64 {
	margin := level
	if to < from {
		margin = -level
	}
	x, err := num.Root(func(a float64) float64 { return g.led(from, a) - g.led(to, a) + margin }, low, high, 1e-14)
	if err != nil {
		return high
	}
	return x
}

// close is how far, in modules on the pinion's pitch circle, a pair may stand
// back and still be told as one of two: teeth cut one by one are no more alike.
// A choice of this program, without a source.
const close = 0.01

// two is where two pairs are within an angle of the pinion of carrying, about
// the place at which a tooth gives over for good; nil where it lets its leaf
// go before.
func (g *gearing) two(over, within float64) *Two {
	f := &g.drive
	if over > f.last {
		return nil
	}
	early, late := max(f.begin+g.pitch, f.begin), min(f.last, over+g.pitch)
	apart := func(a float64) float64 { return math.Abs(g.led(0, a)-g.led(1, a)) - within }
	edge := func(to float64) float64 {
		way := math.Copysign(f.step, to-over)
		in := over
		for (to-in)*way > 0 {
			out := in + way
			if (to-out)*way < 0 {
				out = to
			}
			if apart(out) > 0 {
				if x, err := num.Root(apart, in, out, 1e-12); err == nil {
					return x
				}
				return in
			}
			in = out
		}
		return in
	}
	return &Two{Span: Span{edge(early), edge(late)}, Over: over, Within: within}
}

// moment is the pair when tooth 0 stands at an angle and tooth i carries.
func (g *gearing) moment(angle float64, i int) Moment {
	m := Moment{Wheel: angle, Pinion: g.led(i, angle)}
	t, ok := g.drive.touch(angle - float64(i)*g.pitch)
	m.Play = g.play(m.Pinion, angle, 0, false)
	g.bears(&m, t, ok && t.Leaf+float64(i)*g.leafPitch >= m.Pinion-level)
	return m
}

// momentAt is the same at step k.
func (g *gearing) momentAt(k, i int) Moment {
	f := &g.drive
	m := Moment{Wheel: float64(k) * f.step, Pinion: g.stepped(i, k)}
	var t touch
	j := k - i*g.parts - f.first
	ok := j >= 0 && j < len(f.touches)
	if ok {
		t = f.touches[j]
	} else {
		t, ok = f.touch(float64(k-i*g.parts) * f.step)
	}
	m.Play = g.play(m.Pinion, m.Wheel, k, true)
	g.bears(&m, t, ok && t.Leaf+float64(i)*g.leafPitch >= m.Pinion-level)
	return m
}

// bears puts the touch into a moment, and what passes in it where it bears.
func (g *gearing) bears(m *Moment, t touch, bears bool) {
	m.Touch, m.Press = t.P, t.N
	if bears {
		g.press(m)
	}
}
