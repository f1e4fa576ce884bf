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
	bottom := math.Tan((g.Step() + 2*tooth.From.Angle()) / 4) // tooth.From has a negative angle
	out := geom.Path{From: tooth.From, Closed: true, Segs: make([]geom.Seg, 0, int(g.Count)*(len(tooth.Segs)+1))}
	for i := range int(g.Count) {
		sin, cos := math.Sincos(float64(i) * g.Step())
		for _, s := range tooth.Segs {
			out.Segs = append(out.Segs, geom.Seg{To: geom.Pt{X: s.To.X*cos - s.To.Y*sin, Y: s.To.X*sin + s.To.Y*cos}, Bulge: s.Bulge})
		}
		out.Segs = append(out.Segs, geom.Seg{To: tooth.From.Turn(float64(i+1) * g.Step()), Bulge: bottom})
	}
	out.Segs[len(out.Segs)-1].To = out.From
	return []geom.Path{out}
}

// Tooth is one tooth, open at the root circle, from its lower side (y < 0)
// over the tip to its upper side. A gear of pins has none.
func (g Gear) Tooth(most float64) geom.Path {
	if g.Lantern {
		return geom.Path{}
	}
	from, _ := g.Flank[0].At(0)
	up := geom.Path{From: from}
	for _, c := range g.Flank {
		if s, straight := c.(Straight); straight {
			up.Segs = append(up.Segs, geom.Seg{To: s.To})
			continue
		}
		up.Segs = append(up.Segs, geom.Fit(c, most)...)
	}
	low := up.Map(func(p geom.Pt) geom.Pt { return geom.Pt{X: p.X, Y: -p.Y} }, true)
	// The two sides meet on the x axis, to the last bit.
	tip := geom.Pt{X: up.Segs[len(up.Segs)-1].To.X}
	low.Segs[len(low.Segs)-1].To, up.Segs[len(up.Segs)-1].To = tip, tip
	low.Segs = append(low.Segs, up.Reverse().Segs...)
	return low
}

// Space is what a cutter takes out between two teeth, as a closed path: down
// one side, across the bottom, up the other side and straight from tip to
// tip. Its middle is the x axis, which points outwards.
func (g Gear) Space(most float64) geom.Path {
	if g.Lantern {
		return geom.Path{}
	}
	tooth := g.Tooth(most)
	up := geom.Path{From: tooth.From, Segs: tooth.Segs[:len(tooth.Segs)/2]} // the lower side of the next tooth
	up = up.Map(func(p geom.Pt) geom.Pt { return p.Turn(g.Step() / 2) }, false)
	out := up.Map(func(p geom.Pt) geom.Pt { return geom.Pt{X: p.X, Y: -p.Y} }, true).Reverse()
	out.Closed = true
	out.Segs = append(out.Segs, geom.Seg{To: up.From, Bulge: math.Tan(up.From.Angle() / 2)})
	out.Segs = append(out.Segs, up.Segs...)
	out.Segs = append(out.Segs, geom.Seg{To: out.From})
	return out
}
