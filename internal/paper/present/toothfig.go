package present

import (
	"fmt"
	"math"

	"seatboard/internal/craft/tooth"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// toothFigure draws one tooth of each part between its neighbours, enlarged,
// with its sizes.
func toothFigure(a tooth.Answer) doc.Figure {
	t := doc.Table{Caption: "What is marked in the figure", Columns: []doc.Column{{Head: "Part"}}}
	for _, head := range []string{"Tooth", "Space", "Tip to bottom", "Tip to pitch circle", "Pitch circle to bottom"} {
		t.Columns = append(t.Columns, doc.Column{Head: head, Unit: "mm", Number: true})
	}
	for _, p := range toothParts(a) {
		row := []string{p.name}
		for _, r := range []unit.Length{p.sizes.Tooth.Value, p.sizes.Space.Value, p.sizes.Depth.Value, p.sizes.Addendum.Value, p.sizes.Dedendum.Value} {
			row = append(row, unit.Number(r.MM(), 3))
		}
		t.Rows = append(t.Rows, row)
	}
	return doc.Figure{Name: "tooth", Caption: "One tooth of each with half of its neighbours, enlarged; the chain line is the pitch circle.", Numbers: &t,
		Wide: toothPicture(a, wideFigure), Narrow: toothPicture(a, narrowFigure)}
}

const (
	toothHigh  = 290.0 // a view in the figure
	toothRoom  = 206.0 // wide that the teeth themselves may be in it
	toothTall  = 190.0 // and high
	toothFit   = 0.002 // of a millimetre of the part, for a figure to look at
	wideEnough = 600.0
)

func toothPicture(a tooth.Answer, width float64) pic.Picture {
	all := toothParts(a)
	p := pic.Picture{W: width, H: toothHigh, Title: "Teeth of wheel and pinion", Desc: fmt.Sprintf("A tooth of a wheel of %d and a leaf of a pinion of %d, module %s.", a.Wheel.Count, a.Pinion.Count, a.Module.Text("mm", 3))}
	wide := width / float64(len(all))
	down := 0.0
	if width < wideEnough {
		wide, down, p.H = width, toothHigh, toothHigh*float64(len(all))
	}
	for i, part := range all {
		at := pic.Pt{X: wide * (float64(i) + 0.5), Y: 0}
		if down > 0 {
			at = pic.Pt{X: wide / 2, Y: down * float64(i)}
		}
		part.enlarged(&p, at)
	}
	return p
}

// enlarged draws a tooth in the middle under at.
func (t toothPart) enlarged(p *pic.Picture, at pic.Pt) {
	around, corner := t.around()
	k := min(toothRoom/(2*corner.X), toothTall/(t.gear.Tip.MM()-corner.Y))
	top := at.Y + 92
	v := toothView{part: t, at: pic.Pt{X: at.X, Y: top}, k: k, px: 1}
	p.Add(pic.Text{P: pic.Pt{X: at.X, Y: at.Y + 24}, S: fmt.Sprintf("%s, %d %s", t.name, t.gear.Count, t.teeth), Anchor: pic.Middle, Style: pic.Name})
	p.Add(pic.Outline{Paths: v.paths(around), Pen: pic.Ink, Fill: pic.Hatch})
	p.Add(v.circle(t.gear.Pitch.MM(), 1.12*t.gear.Step(), pic.Chain))
	p.Add(v.sizes(corner.X)...)
}

// around is a tooth upright between halves of its neighbours, closed by the
// rim; corner is the farthest that it reaches to the right and down.
func (t toothPart) around() (path []geom.Path, corner geom.Pt) {
	g, step := t.gear, t.gear.Step()
	if g.Lantern {
		for i := -1; i <= 1; i++ {
			path = append(path, geom.Round(geom.Polar(g.Pitch.MM(), math.Pi/2+float64(i)*step), (g.Tip.MM()-g.Root.MM())/2))
		}
		pin := geom.Polar(g.Pitch.MM(), math.Pi/2-step)
		return path, geom.Pt{X: pin.X + g.Tip.MM() - g.Pitch.MM(), Y: min(pin.Y, g.Root.MM()) - g.Tip.MM() + g.Pitch.MM()}
	}
	rim := max(g.Root.MM()-0.9*(g.Tip.MM()-g.Root.MM()), 0.35*g.Root.MM())
	out := archOf(g, math.Pi/2, rim)
	reach := math.Pi/2 - min(step, math.Pi/2)
	return []geom.Path{out}, geom.Pt{X: g.Tip.MM() * math.Cos(reach), Y: rim * math.Sin(math.Pi/2-step)}
}

// archOf is the piece of a gear from the middle of one tooth to the middle of
// the next but one, the tooth between in the direction of an angle, closed by
// an arc of the radius rim.
func archOf(g tooth.Gear, direction, rim float64) geom.Path {
	step, one, side := g.Step(), g.Tooth(toothFit), g.Side(toothFit)
	out := geom.Path{From: geom.Polar(g.Tip.MM(), direction-step), Closed: true}
	low := side.Map(func(p geom.Pt) geom.Pt { return geom.Pt{X: p.X, Y: -p.Y} }, true)
	for i, segs := range [][]geom.Seg{side.Reverse().Segs, one.Segs, low.Segs} {
		by := direction + float64(i-1)*step
		if to := one.From.Turn(by); i > 0 && g.Bottom() > 1e-9 {
			out.Segs = append(out.Segs, geom.Seg{To: to, Bulge: g.Bottom()})
		} else if i > 0 { // one round from side to side
			out.Segs[len(out.Segs)-1].To = to
		}
		for _, s := range segs {
			out.Segs = append(out.Segs, geom.Seg{To: s.To.Turn(by), Bulge: s.Bulge})
		}
	}
	return geom.Path{From: out.From, Closed: true, Segs: append(out.Segs,
		geom.Seg{To: geom.Polar(rim, direction+step)},
		geom.Seg{To: geom.Polar(rim, direction-step), Bulge: -math.Tan(step / 2)},
		geom.Seg{To: out.From})}
}

// toothView is a part enlarged: the tip of its tooth at a point of the
// picture, k pixels to the millimetre.
type toothView struct {
	part toothPart
	at   pic.Pt
	k    float64
	px   float64 // a CSS pixel in the unit of the picture
}

func (v toothView) pt(p geom.Pt) pic.Pt {
	return pic.Pt{X: v.at.X + v.k*p.X, Y: v.at.Y + v.k*(v.part.gear.Tip.MM()-p.Y)}
}

func (v toothView) paths(paths []geom.Path) []geom.Path {
	out := make([]geom.Path, len(paths))
	for i, p := range paths {
		out[i] = p.Map(func(q geom.Pt) geom.Pt { return geom.Pt(v.pt(q)) }, true)
	}
	return out
}

// circle is an arc about the centre of the part, to an angle each way of the
// upright.
func (v toothView) circle(radius, to float64, pen pic.Pen) pic.Arc {
	to = min(to, math.Pi)
	return pic.Arc{C: v.pt(geom.Pt{}), R: v.k * radius, From: -math.Pi/2 - to, To: -math.Pi/2 + to, Pen: pen}
}

// slender is the step, in radians, up to which the width of a space is
// written beside that of the tooth: beyond it the two are too far aslant.
const slender = 0.3

// sizes are the dimensions about the tooth; beside is how far to each side
// the teeth reach.
func (v toothView) sizes(beside float64) []pic.Item {
	g, s := v.part.gear, v.part.sizes
	mm := func(l unit.Length) string { return unit.Number(l.MM(), 3) }
	on := func(r, angle float64) pic.Pt { return v.pt(geom.Polar(r, math.Pi/2+angle)) }
	pitch, up := g.Pitch.MM(), v.k*(g.Tip-g.Pitch).MM()+14*v.px
	if g.Lantern {
		pin := v.part.gear.Tip - g.Root
		return []pic.Item{pic.Dim{A: on(g.Pitch.MM(), g.Half), B: on(g.Pitch.MM(), -g.Half), S: mm(pin), Off: up}}
	}
	items := []pic.Item{pic.Dim{A: on(pitch, g.Half), B: on(pitch, -g.Half), S: mm(s.Tooth.Value), Off: up}}
	if g.Step() < slender {
		items = append(items, pic.Dim{A: on(pitch, -g.Half), B: on(pitch, g.Half-g.Step()), S: mm(s.Space.Value), Off: up})
	}
	off := v.k*beside + 18*v.px
	items = append(items, v.rounds()...)
	return append(items,
		pic.Dim{A: on(g.Root.MM(), 0), B: on(g.Tip.MM(), 0), S: mm(s.Depth.Value), Off: -off},
		pic.Dim{A: on(g.Root.MM(), 0), B: on(pitch, 0), S: mm(s.Dedendum.Value), Off: off + 22*v.px},
		pic.Dim{A: on(pitch, 0), B: on(g.Tip.MM(), 0), S: mm(s.Addendum.Value), Off: off})
}

// rounds writes the radii of rounded corners beside them.
func (v toothView) rounds() []pic.Item {
	g := v.part.gear
	var items []pic.Item
	write := func(p geom.Pt, r unit.Length, up float64) {
		at := v.pt(p)
		to := pic.Pt{X: at.X - 26*v.px, Y: at.Y + up*v.px}
		items = append(items, pic.Line{A: at, B: to, Pen: pic.Hair}, pic.Text{P: pic.Pt{X: to.X - 3*v.px, Y: to.Y + 5*v.px}, S: "R " + unit.Number(r.MM(), 3), Anchor: pic.End, Style: pic.Plain, Size: v.letters()})
	}
	middle := func(c geom.Curve) geom.Pt { p, _ := c.At(0.5); return p.Turn(math.Pi / 2) }
	if g.RootRadius > 0 {
		write(middle(g.Flank[0]), g.RootRadius, 26)
	}
	if g.TipRadius > 0 {
		for _, c := range g.Flank[1:] {
			if r, ok := c.(tooth.Round); ok && math.Abs(r.Radius-g.TipRadius.MM()) < 1e-9 {
				write(middle(r), g.TipRadius, -30)
				break
			}
		}
	}
	return items
}

// letters is the height of what is written beside a tooth; 0 where the page
// has its own.
func (v toothView) letters() float64 {
	if v.px == 1 {
		return 0
	}
	return 14 * v.px
}
