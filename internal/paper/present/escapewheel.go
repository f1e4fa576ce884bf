package present

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"seatboard/internal/craft/tooth/escapewheel"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// EscapeWheel sets out an escape wheel to be cut and where its pallets stand.
func EscapeWheel(a escapewheel.Answer) doc.Doc {
	d := doc.Doc{Title: fmt.Sprintf("Escape wheel of %d, %s", a.Query.Count, strings.ReplaceAll(string(a.Query.Kind), "pin-", "pin "))}
	open := doc.Section{Body: []doc.Block{escapeFacts(a)}}
	open.Body = append(open.Body, notices(a.Findings)...)
	open.Margin = append(remarks(a.Findings), doc.Working{Steps: a.Working})
	if b := budget("the diameter", a.Diameter.Budget); len(b.Lines) > 1 {
		open.Margin = append(open.Margin, b)
	}
	open.Margin = append(open.Margin, sources(a.Working, a.Findings))
	d.Sections = append(d.Sections, open)
	if a.Pins != nil {
		d.Sections = append(d.Sections, doc.Section{Heading: "Where the pallets stand", Body: []doc.Block{pinTable(a)}}, doc.Section{Heading: "To be made", Body: []doc.Block{pinDrawing(a)}})
		return d
	}
	if t := palletTable(a); len(t.Rows) > 0 {
		d.Sections = append(d.Sections, doc.Section{Heading: "Where the pallets stand", Body: []doc.Block{t}})
	}
	if a.Tooth != nil {
		d.Sections = append(d.Sections, doc.Section{Heading: "To be cut", Body: []doc.Block{escapeDrawing(a)}})
	}
	return d
}

func escapeFacts(a escapewheel.Answer) doc.Facts {
	of, over, planted := "Teeth", "Over the tips", "for pallets on the tangents"
	if a.Query.Kind == escapewheel.PinWheel {
		of, over, planted = "Pins", "Circle of the pins", "the arbor of the pallets on the tangent"
	}
	f := doc.Facts{{Label: of, Value: strconv.Itoa(int(a.Query.Count)), Note: unit.Text(a.PerTooth, "°", 3) + " each"}}
	add := func(label string, r meas.Result[unit.Length], note string) {
		if q := quantity(r, "mm", 2); q.value != "" {
			f = append(f, doc.Fact{Label: label, Value: q.value, Unit: q.unit, Doubt: q.doubt, Note: note})
		}
	}
	add(over, a.Diameter, map[string]string{
		escapewheel.FromTyped: "as measured", escapewheel.FromDistance: "from the distance of the centres", escapewheel.FromSpan: "from the span of the pallets",
	}[a.DiameterFrom])
	if a.Spaces > 0 {
		note := "as counted"
		if a.SpacesFrom != escapewheel.FromTyped {
			note = unit.Number(a.SpacesMeasured, 2) + " by the measurements"
		}
		f = append(f, doc.Fact{Label: "Spaces embraced", Value: unit.Number(a.Spaces, 1), Note: note})
	}
	add("Centre to centre", a.Distance, planted)
	if a.Pins != nil {
		add("Pin", a.Pins.Pin, "")
		add("Thickness of a pallet", a.PalletWidth, "where the pins pass")
	}
	if a.Tooth != nil {
		f = append(f, doc.Fact{Label: "Cutter", Value: unit.Number(a.Tooth.Cutter.Degrees(), 1), Unit: "°", Note: "between the sides of a space, at the root"})
	}
	return f
}

func palletTable(a escapewheel.Answer) doc.Table {
	t := doc.Table{Caption: "Pallets on the tangents", Columns: []doc.Column{{Head: "What"}, {Head: "Length", Unit: "mm", Number: true}, {Head: "±", Number: true}, {Head: "In radii of the wheel", Number: true}}}
	if a.Spaces == 0 {
		return t
	}
	add := func(what string, ratio float64, r meas.Result[unit.Length]) {
		q := quantity(r, "mm", 3)
		in := ""
		if ratio > 0 {
			in = unit.Number(ratio, 4)
		}
		if in != "" || q.value != "" {
			t.Rows = append(t.Rows, []string{what, q.value, trimDoubt(q.doubt), in})
		}
	}
	add("Centre to centre", a.DistanceRatio, a.Distance)
	add("Pallet arbor to the tips held", a.PalletRatio, a.PalletRadius)
	add("Span of the tips embraced", a.SpanRatio, a.Span)
	add("Width of a pallet, after land and drop", 0, a.PalletWidth)
	add("Travel of the lift at the pallet", 0, a.LiftTravel)
	t.Note = "Half angle " + unit.Text(a.HalfAngle, "°", 3) + "."
	return t
}

// escapeDrawing is the wheel at true size, and two teeth enlarged.
func escapeDrawing(a escapewheel.Answer) doc.Drawing {
	w := a.Tooth
	r := a.Diameter.Value.MM() / 2
	title := fmt.Sprintf("Escape wheel, %d teeth, %s", a.Query.Count, a.Query.Kind)
	v := beginView(title, "The wheel seen from the side on which it turns clockwise.", square(r), 10, 6)
	v.cut(w.Teeth.Outline())
	if a.Query.Bore.Set {
		v.cut(geom.Round(geom.Pt{}, a.Query.Bore.Value.MM()/2))
	}
	v.guide(geom.Round(geom.Pt{}, r))
	v.cross(geom.Pt{}, r+3)
	v.dim(geom.Pt{X: -r, Y: 0}, geom.Pt{X: r, Y: 0}, -(r + 8), "⌀ "+unit.Number(2*r, 2))
	d := doc.Drawing{Name: "escape-wheel", Title: title, Views: []doc.View{v.view("True size", 1), escapeDetail(a)}}
	datum := func(name, value string) { d.Data = append(d.Data, doc.Datum{Name: name, Value: value}) }
	datum("Teeth", fmt.Sprintf("%d, %s each", a.Query.Count, unit.Text(a.PerTooth, "°", 3)))
	datum("Over the tips", a.Diameter.Text("mm", 3))
	datum("At the root", unit.Text(2*w.Root, "mm", 3))
	datum("Depth of a space", unit.Text(w.Depth, "mm", 3))
	datum("Undercut of the face", unit.Text(w.Undercut, "°", 1))
	datum("Land of the tip", unit.Text(w.Land, "mm", 3))
	datum("Thickness at the root", unit.Text(w.Base, "mm", 3))
	datum("Space at the root", unit.Text(w.Bottom, "mm", 3))
	if w.BackRadius > 0 {
		datum("Back, hollow, radius", unit.Text(w.BackRadius, "mm", 2))
	}
	datum("Sides of a space, at the root", unit.Text(w.Cutter, "°", 1))
	if a.Spaces > 0 {
		datum("Spaces embraced", unit.Number(a.Spaces, 1))
		datum("Centre to centre", a.Distance.Text("mm", 3))
	}
	d.Notes = drawingNotes(a.Findings)
	d.Notes = append(d.Notes, "The wheel turns clockwise as drawn. Corners are drawn sharp.")
	return d
}

// drawingNotes are what a drawing has to say beside the part: what can hurt,
// with its authority, and what was not measured.
func drawingNotes(findings []meas.Finding) []string {
	var out []string
	for _, f := range findings {
		if f.Level == meas.Danger || f.Code == "chosen" {
			s := f.Text
			if f.Level == meas.Danger {
				s += " " + f.Next
			}
			out = append(out, s+" ("+f.Ref.String()+")")
		}
	}
	return out
}

// escapeDetail is two teeth enlarged.
func escapeDetail(a escapewheel.Answer) doc.View {
	w := a.Tooth
	piece := w.Teeth.Run(2).Map(func(p geom.Pt) geom.Pt { return p.Turn(-w.Teeth.Step()) }, false)
	box := piece.Bounds()
	scale := enlargement(math.Max(box.W(), box.H()))
	margin := 14 / scale
	v := beginView("Two teeth, "+times(scale), "Two teeth with the undercut of the face, the land of the tip and the depth.", box, margin, 0)
	v.cut(piece)
	tip := a.Diameter.Value.MM() / 2
	root := w.Root.MM()
	v.guide(straight(geom.Pt{X: root - margin/2}, geom.Pt{X: tip + margin/2}))
	v.dim(geom.Pt{X: root, Y: box.Max.Y}, geom.Pt{X: tip, Y: box.Max.Y}, -margin/2, unit.Number(tip-root, 2))
	return v.view("Two teeth, "+times(scale), scale)
}
