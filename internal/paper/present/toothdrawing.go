package present

import (
	"fmt"
	"math"
	"strings"

	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/craft/tooth"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// cutFit is how far, in mm, a drawing deviates from the flanks.
const cutFit = 0.001

// toothDrawings are the parts to be made and the cutters for them.
func toothDrawings(a tooth.Answer) []doc.Drawing {
	var out []doc.Drawing
	for _, p := range toothParts(a) {
		out = append(out, partDrawing(a, p))
		if !p.gear.Lantern {
			out = append(out, cutterDrawing(a, p))
		}
	}
	return out
}

func partDrawing(a tooth.Answer, p toothPart) doc.Drawing {
	k := p.closeUp()
	d := doc.Drawing{Name: strings.ToLower(p.name), Title: fmt.Sprintf("%s, %d %s", p.name, p.gear.Count, p.teeth), Data: partData(a, p), Notes: toothNotes(a)}
	d.Views = []doc.View{{Name: "True size", Scale: 1, Picture: wholePart(a, p)}}
	d.Views = append(d.Views, doc.View{Name: phrase.Capital(p.teeth) + ", " + times(k), Scale: k, Picture: someTeeth(p, k)})
	return d
}

// times writes a scale: "20 : 1".
func times(k float64) string { return unit.Number(k, 0) + " : 1" }

// closeUp is the scale at which a tooth is seen well on paper.
func (t toothPart) closeUp() float64 {
	_, corner := t.around()
	return enlargement(max(2*corner.X, t.gear.Tip.MM()-corner.Y))
}

// partData is the block of sizes beside the views.
func partData(a tooth.Answer, p toothPart) []doc.Datum {
	s, mate := p.sizes, a.Pinion
	of := "pinion of"
	if !p.gear.Driver {
		mate, of = a.Wheel, "wheel of"
	}
	data := []doc.Datum{{Name: phrase.Capital(p.teeth), Value: fmt.Sprint(s.Count)}, {Name: "Form", Value: formWords(a.Form)}}
	add := func(name string, r meas.Result[unit.Length], decimals int) {
		if r.Set {
			data = append(data, doc.Datum{Name: name, Value: r.Text("mm", decimals)})
		}
	}
	add("Module", a.Module, 4)
	data = append(data, doc.Datum{Name: "Diametral pitch", Value: a.DiametralPitch.Text("", 2) + " to the inch"})
	add("Over the tips", s.Over, 3)
	add("Pitch circle", s.Pitch, 3)
	if !p.gear.Lantern {
		add("Bottom of spaces", s.Root, 3)
		add("Depth of cut", s.Depth, 3)
		add("Tooth on pitch circle", s.Tooth, 3)
		add("Space on pitch circle", s.Space, 3)
		if s.RootRadius > 0 {
			add("Radius at the bottom", meas.Exactly(s.RootRadius), 3)
			add("Flat between, at the bottom", s.SpaceBottom, 3)
			add("From there to the mate's tips", s.RootRoom, 3)
		}
		if s.TipRadius > 0 {
			add("Radius at the tip", meas.Exactly(s.TipRadius), 3)
		}
		add("Run-out of blank", s.RunOut, 3)
	} else {
		data = append(data, doc.Datum{Name: "Inside the pins", Value: s.Root.Text("mm", 3)}, doc.Datum{Name: "Diameter of a pin", Value: unit.Text(p.gear.Tip-p.gear.Root, "mm", 3)})
	}
	data = append(data, doc.Datum{Name: "Works with", Value: fmt.Sprintf("%s %d", of, mate.Count)})
	add("Centres apart", a.Distance, 3)
	if b := a.Body; p.gear.Driver && len(b.Supposed) > 0 {
		data = append(data, doc.Datum{Name: "Supposed, not stated", Value: strings.Join(b.Supposed, ", ")})
	}
	return data
}

// toothNotes are what to know before it is cut.
func toothNotes(a tooth.Answer) []string {
	notes := []string{"Flanks drawn within " + unit.Text(unit.Millimetres(cutFit), "µm", 0) + " of the curve, as arcs."}
	for _, f := range a.Findings {
		if f.Level >= meas.Clash {
			notes = append(notes, strings.TrimSpace(f.Text+" "+f.Next)+" ("+f.Ref.String()+")")
		}
	}
	return notes
}

// mmView is a picture at true size with the centre of the part at a point.
type mmView struct {
	p  *pic.Picture
	at pic.Pt
}

func (v mmView) pt(p geom.Pt) pic.Pt { return pic.Pt{X: v.at.X + p.X, Y: v.at.Y - p.Y} }

func (v mmView) outline(fill pic.Fill, paths ...geom.Path) pic.Outline {
	o := pic.Outline{Pen: pic.Ink, Fill: fill}
	for _, p := range paths {
		o.Paths = append(o.Paths, p.Map(func(q geom.Pt) geom.Pt { return geom.Pt(v.pt(q)) }, true))
	}
	return o
}

func (v mmView) layer(name string, items ...pic.Item) { v.p.Add(pic.Group{Layer: name, Items: items}) }

// wholePart is the part at true size.
func wholePart(a tooth.Answer, t toothPart) pic.Picture {
	const beside, below = 8.0, 16.0
	r := t.gear.Tip.MM()
	p := pic.Picture{W: 2 * (r + beside), H: 2*r + beside + below, Scale: pic.TrueSize, Title: fmt.Sprintf("%s of %d at true size", t.name, t.gear.Count)}
	v := mmView{&p, pic.Pt{X: r + beside, Y: r + beside}}
	paths := t.gear.Outline(cutFit)
	if t.gear.Driver {
		paths = append(paths, bodyPaths(a.Body)...)
	}
	v.layer(outlineLayer, v.outline(pic.Empty, paths...))
	c, reach := v.at, r+4
	v.layer(centreLayer, pic.Circle{C: c, R: t.gear.Pitch.MM(), Pen: pic.Chain},
		pic.Line{A: pic.Pt{X: c.X - reach, Y: c.Y}, B: pic.Pt{X: c.X + reach, Y: c.Y}, Pen: pic.Chain},
		pic.Line{A: pic.Pt{X: c.X, Y: c.Y - reach}, B: pic.Pt{X: c.X, Y: c.Y + reach}, Pen: pic.Chain})
	v.layer(dimLayer, pic.Dim{A: v.pt(geom.Pt{X: -r}), B: v.pt(geom.Pt{X: r}), S: "⌀ " + unit.Number(2*r, 3), Off: -(r + 8)})
	return p
}

// bodyPaths are the hole and what is cut out between the crossings.
func bodyPaths(b tooth.Body) []geom.Path {
	var out []geom.Path
	if b.Hole > 0 {
		out = append(out, geom.Round(geom.Pt{}, b.Hole.MM()/2))
	}
	rim, hub, arm := b.Rim.MM(), b.Hub.MM(), b.Arm.MM()/2
	for i := range b.Crossings {
		from, to := 2*math.Pi*float64(i)/float64(b.Crossings), 2*math.Pi*float64(i+1)/float64(b.Crossings)
		outer, inner := math.Asin(arm/rim), math.Asin(min(arm/hub, 1))
		out = append(out, geom.Path{From: geom.Polar(hub, from+inner), Closed: true, Segs: []geom.Seg{
			{To: geom.Polar(rim, from+outer)},
			{To: geom.Polar(rim, to-outer), Bulge: math.Tan((to - from - 2*outer) / 4)},
			{To: geom.Polar(hub, to-inner)},
			{To: geom.Polar(hub, from+inner), Bulge: -math.Tan((to - from - 2*inner) / 4)}}})
	}
	return out
}

// someTeeth is a tooth between halves of its neighbours, in mm of the part;
// px is a CSS pixel on the paper in them.
func someTeeth(t toothPart, k float64) pic.Picture {
	px := 25.4 / 96 / k
	paths, corner := t.around()
	tall := t.gear.Tip.MM() - corner.Y
	side, head := 50*px, 60*px
	p := pic.Picture{W: 2 * (corner.X + side), H: tall + head + 10*px, Scale: pic.TrueSize, Title: t.name + ": one tooth in its space"}
	at := pic.Pt{X: p.W / 2, Y: head}
	v := mmView{&p, pic.Pt{X: at.X, Y: at.Y + t.gear.Tip.MM()}}
	v.layer(outlineLayer, v.outline(pic.Hatch, paths...))
	view := toothView{part: t, at: at, k: 1, px: px}
	v.layer(centreLayer, view.circle(t.gear.Pitch.MM(), 1.12*t.gear.Step(), pic.Chain))
	v.layer(dimLayer, view.sizes(corner.X)...)
	return p
}

// cutterDrawing is the space between two teeth as a cutter has to be ground.
func cutterDrawing(a tooth.Answer, t toothPart) doc.Drawing {
	k := t.closeUp()
	name := strings.ToLower(t.name)
	d := doc.Drawing{Name: name + "-cutter", Title: fmt.Sprintf("Cutter for a %s of %d", name, t.gear.Count), Notes: toothNotes(a),
		Views: []doc.View{{Name: "True size", Scale: 1, Picture: cutterPicture(t, 1)}, {Name: "Profile, " + times(k), Scale: k, Picture: cutterPicture(t, k)}}}
	add := func(name, value string) { d.Data = append(d.Data, doc.Datum{Name: name, Value: value}) }
	add("Module", a.Module.Text("mm", 4))
	add("Depth of cut", t.sizes.Depth.Text("mm", 3))
	if r := t.sizes.RootRadius; r > 0 {
		add("Rounded at the edge by", unit.Text(r, "mm", 3))
		add("Flat of the edge", t.sizes.SpaceBottom.Text("mm", 3))
	}
	add("Straight up to", t.sizes.Dedendum.Text("mm", 3))
	add("Angle of the sides, both", unit.Text(unit.Angle(t.gear.Step()-2*t.gear.Half), "°", 2))
	for _, w := range t.sizes.Cutter.Widths {
		add("Wide at "+unit.Text(w.Height, "mm", 3), unit.Text(w.Wide, "mm", 3))
	}
	if c := t.sizes.Cutter; c.Arc > 0 {
		add("Beyond, an arc of", unit.Text(c.Arc, "mm", 3)+" within "+unit.Text(c.Deviation, "µm", 1))
	}
	return d
}

// cutterPicture has the cutting edge at the bottom and its stock above.
func cutterPicture(t toothPart, k float64) pic.Picture {
	px, g := 25.4/96/k, t.gear
	if k == 1 {
		px = 0.04 // nothing is written beside it
	}
	space := g.Space(cutFit)
	tip, foot := g.Tip.MM(), g.Root.MM()*math.Cos(g.Step()/2-t.foot())
	wide, high := 0.0, 0.0
	for _, w := range t.sizes.Cutter.Widths {
		wide, high = max(wide, w.Wide.MM()), max(high, w.Height.MM())
	}
	stock := high - (tip*math.Cos(g.Step()/2) - foot) + 0.25*high
	p := pic.Picture{W: wide + 110*px, H: 1.25*high + 46*px, Scale: pic.TrueSize, Title: "Cutter for the " + strings.ToLower(t.name)}
	// The middle of the space points down the paper: outwards is up.
	v := mmView{&p, pic.Pt{X: p.W / 2, Y: 20*px + 1.25*high + foot}}
	upright := space.Map(func(q geom.Pt) geom.Pt { return q.Turn(math.Pi / 2) }, false)
	last := len(upright.Segs) - 1
	right, left := upright.From, upright.Segs[last-1].To
	upright.Segs = append(upright.Segs[:last:last], geom.Seg{To: left.Plus(geom.Pt{Y: stock})}, geom.Seg{To: right.Plus(geom.Pt{Y: stock})}, geom.Seg{To: right})
	v.layer(outlineLayer, v.outline(pic.Hatch, upright))
	v.layer(centreLayer, pic.Line{A: v.pt(geom.Pt{Y: foot - 8*px}), B: v.pt(geom.Pt{Y: foot + 1.25*high + 8*px}), Pen: pic.Chain})
	if k > 1 {
		half := wide/2 + 20*px
		pitch := g.Pitch.MM() * math.Cos(g.Step()/2-g.Half)
		v.layer(dimLayer,
			pic.Dim{A: v.pt(geom.Pt{Y: foot}), B: v.pt(geom.Pt{Y: foot + high}), S: unit.Number(high, 3), Off: -half},
			pic.Dim{A: v.pt(geom.Pt{Y: foot}), B: v.pt(geom.Pt{Y: pitch}), S: unit.Number(pitch-foot, 3), Off: half})
	}
	return p
}

// foot is half the angle of a tooth where it stands on the root circle.
func (t toothPart) foot() float64 {
	p, _ := t.gear.Flank[0].At(0)
	return p.Angle()
}
