package present

import (
	"fmt"
	"math"

	"seatboard/internal/craft/drive"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// springFigure draws the barrel in plan with its spring wound and down; ok is
// false where the spring's length is not known.
func springFigure(a drive.Answer) (doc.Figure, bool) {
	if !a.Spring.WoundRadius.Set || !a.Spring.Band.Set || !a.Query.SpringBarrel.Set {
		return doc.Figure{}, false
	}
	t := results("What is drawn")
	addRow(t, "Radius of the coil on the arbor, wound", a.Spring.WoundRadius, "mm", 2)
	addRow(t, "Thickness of the coil at the wall, down", a.Spring.Band, "mm", 2)
	addRow(t, "Coils wound", a.Spring.Coils, "", 2)
	addRow(t, "Coils down", a.Spring.CoilsDown, "", 2)
	return doc.Figure{
		Name: "spring", Caption: "The spring in its barrel, in plan and to scale: wound on the arbor, and down against the wall.",
		Wide: springPicture(a, 640), Narrow: springPicture(a, 340), Numbers: &t.t,
	}, true
}

func springPicture(a drive.Answer, width float64) pic.Picture {
	radius := math.Min(width/4-22, 128)
	middle := radius + 26
	p := pic.Picture{
		Title: "The mainspring wound and down", W: width, H: 2*radius + 84,
		Desc: fmt.Sprintf("%s coils wound on the arbor, %s down at the wall: %s turns.", a.Spring.Coils.Text("", 1), a.Spring.CoilsDown.Text("", 1), a.Spring.Turns.Text("", 1)),
	}
	scale := radius / (float64(a.Query.SpringBarrel.Value) / 2)
	arbor := float64(a.Query.SpringArbor.Value) / 2 * scale
	up := float64(a.Spring.WoundRadius.Value) * scale
	down := radius - float64(a.Spring.Band.Value)*scale
	pitch := float64(a.Query.SpringThickness.Value) * scale
	for i, c := range []struct {
		x, in, out float64
		words      string
	}{
		{width / 4, arbor, up, "wound: " + unit.Number(float64(a.Spring.Coils.Value), 1) + " coils"},
		{width * 3 / 4, down, radius, "down: " + unit.Number(float64(a.Spring.CoilsDown.Value), 1) + " coils"},
	} {
		at := pic.Pt{X: c.x, Y: middle}
		p.Add(ring(at, radius, radius+9, pic.Ink, pic.Hatch))
		drawBand(&p, at, c.in, c.out, pitch)
		p.Add(pic.Circle{C: at, R: arbor, Pen: pic.Ink, Fill: pic.Hatch2},
			pic.Text{P: pic.Pt{X: c.x, Y: 2*middle + 6}, S: c.words, Anchor: pic.Middle, Style: []pic.Lettering{pic.Name, pic.Label}[i]})
	}
	return p
}

// drawBand draws the coils as one spiral, or as a cut ring where the lines
// would run together.
func drawBand(p *pic.Picture, c pic.Pt, in, out, pitch float64) {
	const closest = 2
	if pitch < closest {
		p.Add(ring(c, in, out, pic.Ink, pic.Hatch))
		return
	}
	const perTurn = 48
	n := int((out - in) / pitch * perTurn)
	pts := make([]pic.Pt, 0, n+1)
	for i := 0; i <= n; i++ {
		t := 2 * math.Pi * float64(i) / perTurn
		r := in + pitch*float64(i)/perTurn
		pts = append(pts, pic.Pt{X: c.X + r*math.Cos(t), Y: c.Y + r*math.Sin(t)})
	}
	p.Add(pic.Poly{Pts: pts, Pen: pic.Hair})
}

// ring is the area between two circles.
func ring(c pic.Pt, in, out float64, pen pic.Pen, fill pic.Fill) pic.Group {
	const n = 72
	var pts []pic.Pt
	for _, half := range []struct{ r, way float64 }{{out, 1}, {in, -1}} {
		for i := 0; i <= n; i++ {
			t := half.way * 2 * math.Pi * float64(i) / n
			pts = append(pts, pic.Pt{X: c.X + half.r*math.Cos(t), Y: c.Y + half.r*math.Sin(t)})
		}
	}
	return pic.Group{Items: []pic.Item{
		pic.Poly{Pts: pts, Closed: true, Pen: pic.NoLine, Fill: fill},
		pic.Circle{C: c, R: in, Pen: pen}, pic.Circle{C: c, R: out, Pen: pen},
	}}
}

// fuseeFigure draws the fusee from the side: radius over its turns.
func fuseeFigure(a drive.Answer, t *doc.Table) doc.Figure {
	return doc.Figure{
		Name: "fusee", Caption: "The fusee from the side, to scale in its radii: the outline that keeps its torque even.",
		Wide: fuseePicture(a, 640), Narrow: fuseePicture(a, 340), Numbers: t,
	}
}

func fuseePicture(a drive.Answer, width float64) pic.Picture {
	points := a.Fusee.Points
	least, most := points[0], points[0]
	for _, x := range points {
		if x.Radius.Value < least.Radius.Value {
			least = x
		}
		if x.Radius.Value > most.Radius.Value {
			most = x
		}
	}
	const left, top, high = 24.0, 44.0, 180.0
	long := width - 2*left
	axis := top + high/2
	turns := float64(points[len(points)-1].FuseeTurn.Value)
	x := func(turn float64) float64 { return left + long*turn/turns }
	y := func(r unit.Length) float64 { return float64(r) / float64(most.Radius.Value) * high / 2 }
	p := pic.Picture{Title: "The fusee", W: width, H: top + high + 46, Desc: fmt.Sprintf("From %s to %s in %s turns.", unit.Text(most.Radius.Value, "mm", 1), unit.Text(least.Radius.Value, "mm", 1), unit.Number(turns, 1))}
	var upper, lower []pic.Pt
	for _, q := range points {
		upper = append(upper, pic.Pt{X: x(float64(q.FuseeTurn.Value)), Y: axis - y(q.Radius.Value)})
		lower = append([]pic.Pt{{X: x(float64(q.FuseeTurn.Value)), Y: axis + y(q.Radius.Value)}}, lower...)
	}
	p.Add(pic.Poly{Pts: append(upper, lower...), Closed: true, Pen: pic.Ink, Fill: pic.Ground},
		pic.Line{A: pic.Pt{X: left - 14, Y: axis}, B: pic.Pt{X: width - left + 14, Y: axis}, Pen: pic.Dashed})
	for i := 1; i < len(points)-1; i++ {
		q := points[i]
		p.Add(pic.Line{A: pic.Pt{X: x(float64(q.FuseeTurn.Value)), Y: axis - y(q.Radius.Value)}, B: pic.Pt{X: x(float64(q.FuseeTurn.Value)), Y: axis + y(q.Radius.Value)}, Pen: pic.Hair})
	}
	first, last := points[0], points[len(points)-1]
	p.Add(pic.Text{P: pic.Pt{X: left, Y: 20}, S: "r " + unit.Text(first.Radius.Value, "mm", 1), Style: pic.Name},
		pic.Text{P: pic.Pt{X: width - left, Y: 20}, S: "r " + unit.Text(last.Radius.Value, "mm", 1), Anchor: pic.End, Style: pic.Name},
		pic.Text{P: pic.Pt{X: width / 2, Y: top + high + 30}, S: unit.Number(turns, 2) + " turns", Anchor: pic.Middle})
	return p
}
