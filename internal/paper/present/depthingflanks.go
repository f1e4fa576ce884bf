package present

import (
	"seatboard/internal/craft/mesh"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// flanksFigure draws one tooth and one leaf as they were turned; its numbers
// are points of the flanks that meet, for whoever draws or cuts them, and for
// the page that turns them.
func flanksFigure(a mesh.Answer) doc.Figure {
	t := doc.Table{Caption: "Points of the flanks that meet, from the bottom to the tip", Columns: []doc.Column{{Head: "Of"}, {Head: "Along the middle", Unit: "mm", Number: true}, {Head: "Beside it", Unit: "mm", Number: true}}}
	row := func(of string, p geom.Pt) {
		t.Rows = append(t.Rows, []string{of, unit.Number(p.X, 4), unit.Number(p.Y, 4)})
	}
	row("centre of the pinion", geom.Pt{X: a.Turn.Distance})
	row("wheel's pitch circle", geom.Pt{X: a.Pair.Wheel.Pitch.MM()})
	row("pinion's pitch circle", geom.Pt{X: a.Pair.Pinion.Pitch.MM()})
	for i, of := range [...]string{"tooth", "leaf"} {
		for _, p := range sampled(a.Flanks[i]) {
			row(of, p)
		}
	}
	t.Note = "Each from the centre of its own wheel or pinion along the middle of the tooth."
	return doc.Figure{Name: "flanks", Caption: "One tooth of the wheel and one leaf, with their pitch circles.", Numbers: &t, Wide: flanksPicture(a, wideFigure), Narrow: flanksPicture(a, narrowFigure)}
}

const flankHigh = 190.0

// flanksPicture sets the tooth at the left and the leaf at the right, points
// upwards, at one scale.
func flanksPicture(a mesh.Answer, width float64) pic.Picture {
	k, _ := meshScale(a)
	half := width / 2
	bottom := [2]float64{a.Pair.Wheel.Root.MM(), a.Pair.Pinion.Root.MM()}
	tip := [2]float64{a.Pair.Wheel.Tip.MM(), a.Pair.Pinion.Tip.MM()}
	pitch := [2]float64{a.Pair.Wheel.Pitch.MM(), a.Pair.Pinion.Pitch.MM()}
	k = min(k, (flankHigh-20)/max(tip[0]-bottom[0], tip[1]-bottom[1]))
	p := pic.Picture{W: width, H: flankHigh + 40, Title: "A tooth and a leaf", Desc: "The tooth stands " + unit.Text(unit.Millimetres(tip[0]-pitch[0]), "mm", 3) + " over its pitch circle, the leaf " + unit.Text(unit.Millimetres(tip[1]-pitch[1]), "mm", 3) + " over its own."}
	for i, name := range [...]string{"Tooth", "Leaf"} {
		at := func(q geom.Pt) pic.Pt {
			return pic.Pt{X: half*float64(i) + half/2 + q.Y*k, Y: flankHigh - (q.X-bottom[i])*k}
		}
		var pts []pic.Pt
		back := sampled([2][]geom.Curve{a.Pair.Wheel.Flank, a.Pair.Pinion.Flank}[i])
		for _, q := range back {
			pts = append(pts, at(geom.Pt{X: q.X, Y: -q.Y}))
		}
		front := sampled(a.Flanks[i])
		for j := len(front) - 1; j >= 0; j-- {
			pts = append(pts, at(front[j]))
		}
		wide := 0.0 // of the pitch circle beside the tooth
		for _, q := range pts {
			wide = max(wide, q.X-half*float64(i)-half/2)
		}
		wide = min(wide+30, half/2-4)
		y := at(geom.Pt{X: pitch[i]}).Y
		mid := half*float64(i) + half/2
		p.Add(pic.Poly{Pts: pts, Closed: true, Pen: pic.Ink, Fill: [2]pic.Fill{pic.Hatch, pic.Hatch2}[i]},
			pic.Line{A: pic.Pt{X: mid - wide, Y: y}, B: pic.Pt{X: mid + wide, Y: y}, Pen: pic.Chain},
			pic.Text{P: pic.Pt{X: mid, Y: flankHigh + 28}, S: name, Anchor: pic.Middle, Style: pic.Name})
	}
	return p
}
