package tooth

import (
	"math"

	"seatboard/internal/kit/geom"
)

// Outline is the gear as closed paths of lines and arcs, counter-clockwise,
// that deviate from it by no more than most, in mm: one path round all teeth,
// or a circle for each pin of a lantern.
func (g Gear) Outline(most float64) []geom.Path {
	if g.Lantern {
		pins := make([]geom.Path, g.Count)
		for i := range pins {
			pins[i] = geom.Round(geom.Polar(g.Pitch.MM(), float64(i)*g.Step()), (g.Tip.MM()-g.Root.MM())/2)
		}
		return pins
	}
	tooth := g.Tooth(most)
	bottom := g.Bottom()
	out := geom.Path{From: tooth.From, Closed: true, Segs: make([]geom.Seg, 0, int(g.Count)*(len(tooth.Segs)+1))}
	for i := range int(g.Count) {
		sin, cos := math.Sincos(float64(i) * g.Step())
		for _, s := range tooth.Segs {
			out.Segs = append(out.Segs, geom.Seg{To: geom.Pt{X: s.To.X*cos - s.To.Y*sin, Y: s.To.X*sin + s.To.Y*cos}, Bulge: s.Bulge})
		}
		if to := tooth.From.Turn(float64(i+1) * g.Step()); bottom > flat {
			out.Segs = append(out.Segs, geom.Seg{To: to, Bulge: bottom})
		} else { // the roundings of two teeth meet
			out.Segs[len(out.Segs)-1].To = to
		}
	}
	out.Segs[len(out.Segs)-1].To = out.From
	return []geom.Path{out}
}

// flat is the least bulge of a bottom that is drawn.
const flat = 1e-9

// Bottom is the bulge of the arc across the bottom of a space.
func (g Gear) Bottom() float64 { return math.Tan((g.Step() - 2*g.foot()) / 4) }

// Side is the upper side of a tooth (y > 0) from the root circle to the tip
// on the x axis. A gear of pins has none.
func (g Gear) Side(most float64) geom.Path {
	if g.Lantern {
		return geom.Path{}
	}
	from, _ := g.Flank[0].At(0)
	side := geom.Path{From: from}
	for _, c := range g.Flank {
		side.Segs = append(side.Segs, pieces(c, most)...)
	}
	last := &side.Segs[len(side.Segs)-1].To
	last.Y = 0 // to the last bit, so that both sides meet
	return side
}

// Tooth is one tooth, open at the root circle, from its lower side over the
// tip to its upper side. A gear of pins has none.
func (g Gear) Tooth(most float64) geom.Path {
	up := g.Side(most)
	if len(up.Segs) == 0 {
		return up
	}
	low, down := mirrored(up), up.Reverse().Segs
	if top, round := g.Flank[len(g.Flank)-1].(Round); round && top.Centre.Y == 0 && math.Abs(top.Turn) < math.Pi/2 {
		// The top is one arc, from side to side.
		n := len(low.Segs) - 1
		low.Segs = append(low.Segs[:n], geom.Seg{To: down[0].To, Bulge: math.Tan(-top.Turn / 2)})
		down = down[1:]
	}
	low.Segs = append(low.Segs, down...)
	return low
}

// Space is what a cutter takes out between two teeth, as a closed path: down
// one side, across the bottom, up the other side and straight from tip to
// tip. Its middle is the x axis, which points outwards.
func (g Gear) Space(most float64) geom.Path {
	side := g.Side(most)
	if len(side.Segs) == 0 {
		return side
	}
	up := mirrored(side).Map(func(p geom.Pt) geom.Pt { return p.Turn(g.Step() / 2) }, false) // of the next tooth
	out := mirrored(up).Reverse()
	out.Closed = true
	if g.Bottom() > flat {
		out.Segs = append(out.Segs, geom.Seg{To: up.From, Bulge: g.Bottom()})
	} else {
		out.Segs[len(out.Segs)-1].To = up.From
	}
	out.Segs = append(out.Segs, up.Segs...)
	out.Segs = append(out.Segs, geom.Seg{To: out.From})
	return out
}

// mirrored is a path on the other side of the x axis.
func mirrored(p geom.Path) geom.Path {
	return p.Map(func(p geom.Pt) geom.Pt { return geom.Pt{X: p.X, Y: -p.Y} }, true)
}

// pieces is a piece of a flank as lines and arcs: what is straight or round
// as it is, else as few arcs as hold to it. Where they meet their directions
// differ by less than a degree.
func pieces(c geom.Curve, most float64) []geom.Seg {
	switch c := c.(type) {
	case Straight:
		return []geom.Seg{{To: c.To}}
	case Round:
		to, _ := c.At(1)
		return []geom.Seg{{To: to, Bulge: math.Tan(c.Turn / 4)}}
	}
	var out []geom.Seg
	for from := 0.0; from < 1; {
		s, to := farthest(c, from, spare*most)
		out, from = append(out, s), to
	}
	return out
}

// halvings is how finely the end of an arc is looked for on a curve.
const halvings = 14

// farthest is the longest arc along a curve from a parameter on.
func farthest(c geom.Curve, from, most float64) (geom.Seg, float64) {
	if s, off := along(c, from, 1, most); off <= most {
		return s, 1
	}
	low, high := from, 1.0
	var best geom.Seg
	for range halvings {
		mid := (low + high) / 2
		if s, off := along(c, from, mid, most); off <= most {
			low, best = mid, s
		} else {
			high = mid
		}
	}
	if low == from { // not smooth: a short chord
		p, _ := c.At(high)
		return geom.Seg{To: p}, high
	}
	return best, low
}

// spare leaves room for what lies between the points that are looked at.
const spare = 0.97

// looks is at how many points inside an arc its distance from the curve is
// looked at.
const looks = 15

// along is the arc between two points of a curve that comes nearest to it,
// and how far it is off at most.
func along(c geom.Curve, from, to, most float64) (geom.Seg, float64) {
	a, _ := c.At(from)
	b, _ := c.At(to)
	chord := b.Minus(a)
	var points [looks]geom.Pt
	for i := range points {
		points[i], _ = c.At(from + (to-from)*float64(i+1)/(looks+1))
	}
	off := func(bulge float64) float64 {
		centre, r, _, _ := geom.Seg{To: b, Bulge: bulge}.Arc(a)
		worst := 0.0
		for _, p := range points {
			worst = max(worst, math.Abs(p.Minus(centre).Len()-r))
		}
		return worst
	}
	mid := points[looks/2].Minus(a)
	middle := -2 * chord.Cross(mid) / chord.Dot(chord) // bulge of the arc near the middle point
	reach := min(max(8*most/chord.Len(), 1e-9), 0.1)   // of a chord shorter than most any arc would do, a loop too
	low, high := middle-reach, middle+reach
	for range 24 { // the distance falls and rises again
		if x, y := low+(high-low)*0.382, low+(high-low)*0.618; off(x) < off(y) {
			high = y
		} else {
			low = x
		}
	}
	if low <= 0 && high >= 0 {
		return geom.Seg{To: b}, straightOff(a, chord, points[:])
	}
	return geom.Seg{To: b, Bulge: (low + high) / 2}, off((low + high) / 2)
}

// straightOff is how far points are off a straight line.
func straightOff(from, way geom.Pt, points []geom.Pt) float64 {
	worst := 0.0
	for _, p := range points {
		worst = max(worst, math.Abs(way.Unit().Cross(p.Minus(from))))
	}
	return worst
}
