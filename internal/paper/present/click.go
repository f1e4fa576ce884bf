package present

import (
	"fmt"
	"math"

	"seatboard/internal/craft/tooth/ratchet"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// clickDrawing is the click at true size, and in its place with the line of
// thrust.
func clickDrawing(a ratchet.Answer) doc.Drawing {
	c := a.Drawn
	title := fmt.Sprintf("Click for a ratchet of %d", a.Query.Count)
	d := doc.Drawing{Name: "click", Title: title, Views: []doc.View{clickAlone(a, title), clickInPlace(a)}}
	datum := func(name, value string) { d.Data = append(d.Data, doc.Datum{Name: name, Value: value}) }
	datum("Pivot to nose", a.Click.Text("mm", 3))
	datum("Pivot from the wheel's centre", a.Distance.Text("mm", 3))
	datum("Width of the arm", unit.Text(c.Arm, "mm", 3))
	datum("Hole for the pivot", unit.Text(c.Hole, "mm", 3))
	datum("Boss", unit.Text(c.Boss, "mm", 3))
	datum("Nose, side to side", unit.Text(c.Nose, "°", 1))
	datum("Space of the wheel", unit.Text(a.Opening, "°", 1))
	datum("Arm over the tips", unit.Text(c.Free, "mm", 3))
	datum("Draw at the tip", a.Draw.Text("°", 2))
	datum("Pulls itself in under", "µ = "+unit.Number(float64(a.Holds.Value), 3))
	if a.Force.Set {
		datum("Thrust, and on the pivot", a.Force.Text("N", 1))
	}
	d.Notes = append(drawingNotes(a.Findings), engages(a)+". In its place the blue line is the thrust, square to the face; the chain line goes to the pivot.",
		"The nose bears along the face and stays clear of the bottom. Corners are drawn sharp; tail, spring and screw are the maker's. Harden and temper the nose as the old one was.")
	return d
}

// clickAlone is the click as it is to be cut, with the line from its pivot to
// where it bears lying level.
func clickAlone(a ratchet.Answer, title string) doc.View {
	c := a.Drawn
	turn := -c.Bears.Minus(c.Pivot).Angle() + math.Pi
	lay := func(p geom.Pt) geom.Pt { return p.Minus(c.Pivot).Turn(turn) }
	cut := c.Outline.Map(lay, false)
	box := cut.Bounds()
	v := beginView(title, "The click seen from the side on which its wheel is held against turning clockwise: the pivot, the nose, and where it bears on its tooth.", box, 12, 2)
	v.cut(cut, geom.Round(geom.Pt{}, c.Hole.MM()/2))
	v.cross(geom.Pt{}, c.Boss.MM()/2+2)
	bears := lay(c.Bears)
	v.guide(straight(bears, geom.Pt{}))
	low := geom.Pt{Y: box.Max.Y}
	v.dim(geom.Pt{X: bears.X, Y: low.Y}, low, -5, unit.Number(a.Click.Value.MM(), 2))
	boss := geom.Pt{Y: c.Boss.MM() / 2}
	v.dim(geom.Pt{}.Minus(boss), boss, c.Boss.MM()/2+7, "⌀ "+unit.Number(c.Boss.MM(), 2))
	return v.view("True size", 1)
}

// clickInPlace is the click in the wheel, enlarged on paper.
func clickInPlace(a ratchet.Answer) doc.View {
	rim, box := clickSurroundings(a)
	size := math.Max(box.W(), box.H())
	scale := enlargement(size)
	if scale*size > 150 { // a large one stays as it is
		scale = 1
	}
	p := clickScene(a, rim, box, clickScale{k: 1, letters: 3.2 / scale, margin: 8 / scale})
	p.Scale = pic.TrueSize
	return doc.View{Name: "In its place, " + times(scale), Scale: scale, Picture: p}
}

// clickFigure is the same for the page.
func clickFigure(a ratchet.Answer) doc.Figure {
	rim, box := clickSurroundings(a)
	at := func(width, high float64) pic.Picture {
		const margin, words = 22, 90
		p := clickScene(a, rim, box, clickScale{k: min((width-2*margin-words)/box.W(), high/box.H()), margin: margin, beside: words})
		p.W = width
		return p
	}
	c := a.Drawn
	row := func(what string, p geom.Pt) []string {
		return []string{what, unit.Number(p.X, 3), unit.Number(p.Y, 3)}
	}
	t := doc.Table{Caption: "Points of the click in its place", Columns: []doc.Column{{Head: "What"}, {Head: "Across", Unit: "mm", Number: true}, {Head: "Down", Unit: "mm", Number: true}},
		Rows: [][]string{row("pivot", c.Pivot), row("end of the nose", c.Point), row("where it bears, at the tip of the tooth", c.Bears), row("a millimetre along the thrust from there", c.Bears.Plus(c.Thrust))},
		Note: "From the centre of the wheel."}
	return doc.Figure{Name: "click-in-place", Caption: "The tooth pushes along the blue line, square to its face. " + engages(a) + ": the line passes the pivot at " +
		unit.Text(unit.Length(float64(a.Click.Value)*math.Sin(float64(a.Draw.Value))), "mm", 2) + ", the click’s length by the sine of the draw.",
		Wide: at(wideFigure, 420), Narrow: at(narrowFigure, 420), Numbers: &t}
}

// clickSurroundings are the teeth about a click, and the box of both.
func clickSurroundings(a ratchet.Answer) (rim geom.Path, box geom.Box) {
	step := a.Teeth.Step()
	teeth := min(int(math.Ceil(a.Drawn.Pivot.Angle()/step))+3, int(a.Query.Count))
	rim = a.Teeth.Run(teeth).Map(func(p geom.Pt) geom.Pt { return p.Turn(-step) }, false)
	return rim, a.Drawn.Outline.Bounds().Join(rim.Bounds())
}

// clickScale is how a picture of a click is drawn: units of the picture to the
// millimetre, height of the letters (0: as the page has them), room round it
// and for words beside it.
type clickScale struct{ k, letters, margin, beside float64 }

func clickScene(a ratchet.Answer, rim geom.Path, box geom.Box, s clickScale) pic.Picture {
	c := a.Drawn
	letters := s.letters
	if letters == 0 {
		letters = 16
	}
	if s.beside == 0 {
		s.beside = 6 * letters
	}
	at := func(p geom.Pt) geom.Pt {
		return geom.Pt{X: (p.X-box.Min.X)*s.k + s.margin, Y: (p.Y-box.Min.Y)*s.k + s.margin}
	}
	end := c.Pivot.Minus(c.Bears).Len() + c.Boss.MM()/2
	p := pic.Picture{W: box.W()*s.k + 2*s.margin + s.beside, H: box.H()*s.k + 2*s.margin + 2*letters, Title: "The click in its place",
		Desc: "The nose of the click in the space before a tooth, the line of thrust square to the face of the tooth, the line from there to the pivot, and between them the draw of " + unit.Text(a.Draw.Value, "°", 1) + "."}
	layer := func(name string, items ...pic.Item) { p.Add(pic.Group{Layer: name, Items: items}) }
	line := func(pen pic.Pen, from, to geom.Pt) pic.Item {
		return pic.Outline{Pen: pen, Paths: []geom.Path{straight(at(from), at(to))}}
	}
	hole := geom.Round(c.Pivot, c.Hole.MM()/2)
	layer(outlineLayer, pic.Outline{Pen: pic.Ink, Paths: []geom.Path{rim.Map(at, false)}},
		pic.Outline{Pen: pic.Ink, Fill: pic.Hatch, Paths: []geom.Path{c.Outline.Map(at, false), hole.Map(at, false)}})
	arm := c.Boss.MM()*0.8 + 1.2*letters/s.k
	layer(centreLayer, line(pic.Chain, c.Bears, c.Pivot), line(pic.Chain, c.Pivot.Minus(geom.Pt{X: arm}), c.Pivot.Plus(geom.Pt{X: arm})), line(pic.Chain, c.Pivot.Minus(geom.Pt{Y: arm}), c.Pivot.Plus(geom.Pt{Y: arm})))
	thrust := c.Bears.Plus(c.Thrust.Times(end + 1.2*letters/s.k))
	mid := c.Bears.Plus(c.Thrust.Times(0.6 * end))
	beside := func(p geom.Pt, words string) pic.Item {
		q := at(p)
		return pic.Text{P: pic.Pt{X: at(geom.Pt{X: box.Max.X}).X + letters/2, Y: q.Y + letters/3}, S: words, Style: pic.Plain, Size: s.letters}
	}
	q := at(thrust)
	layer(dimLayer, line(pic.Steel, c.Bears.Minus(c.Thrust.Times(letters/s.k)), thrust), pic.Circle{C: pic.Pt(at(c.Bears)), R: letters / 4, Pen: pic.Ink, Fill: pic.BadFill},
		beside(mid, "draw "+unit.Text(a.Draw.Value, "°", 1)), pic.Text{P: pic.Pt{X: q.X - letters/2, Y: q.Y + letters/3}, S: "thrust", Anchor: pic.End, Style: pic.Plain, Size: s.letters})
	return p
}

// engages says in a sentence whether the click pulls itself in.
func engages(a ratchet.Answer) string {
	tan := float64(a.Holds.Value)
	switch {
	case tan > 0.0005:
		return "The click pulls itself in where the coefficient of friction is under " + unit.Number(tan, 3)
	case tan < -0.0005:
		return "The click is pushed out where the coefficient of friction is under " + unit.Number(-tan, 3)
	}
	return "The click is neither pulled in nor pushed out"
}

// clickFacts add what is known of the click.
func clickFacts(a ratchet.Answer, add func(label string, q fact, note string)) {
	if !a.Holds.Set {
		return
	}
	if tan := float64(a.Holds.Value); tan > 0.0005 {
		add("Pulls itself in", quantity(a.Holds, "", 3), "where the coefficient of friction is less; over it the spring has to carry the nose in")
	} else if tan < -0.0005 {
		out := meas.Exactly(-a.Holds.Value)
		add("Pushed out", quantity(out, "", 3), "where the coefficient of friction is less; over it the nose stays by friction")
	}
	add("Thrust on click and pivot", quantity(a.Force, "N", 1), "under the torque that it holds")
}
