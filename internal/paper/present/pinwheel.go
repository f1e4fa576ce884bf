package present

import (
	"fmt"
	"math"

	"seatboard/internal/craft/tooth/escapewheel"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// pinTable is where the arbor of the pallets is, and what is left for them.
func pinTable(a escapewheel.Answer) doc.Table {
	t := doc.Table{Caption: "Pins and pallets", Columns: []doc.Column{{Head: "What"}, {Head: "Length", Unit: "mm", Number: true}, {Head: "±", Number: true}, {Head: "In radii of the wheel", Number: true}}}
	add := func(what string, ratio float64, r meas.Result[unit.Length]) {
		q := quantity(r, "mm", 3)
		if q.value == "" {
			return
		}
		in := ""
		if ratio > 0 {
			in = unit.Number(ratio, 4)
		}
		t.Rows = append(t.Rows, []string{what, q.value, trimDoubt(q.doubt), in})
	}
	add("Circle through the middles of the pins", 2, a.Diameter)
	add("Pin", 0, a.Pins.Pin)
	add("Centre to centre", a.DistanceRatio, a.Distance)
	add("Pallet arbor to the pins held", a.PalletRatio, a.PalletRadius)
	add("Thickness of a pallet, after pin and drop", 0, a.PalletWidth)
	add("Travel of the lift at the pallet", 0, a.LiftTravel)
	t.Note = "Half of the way from pin to pin is " + unit.Text(unit.Length(a.Pins.Circle/1000*float64(a.PerTooth)/2), "mm", 3) + ": pallet, pin and drop share it."
	return t
}

// pinDrawing is the wheel with its pins at true size, the arbor of the pallets
// on the tangent at the pin that is held, and three pins enlarged.
func pinDrawing(a escapewheel.Answer) doc.Drawing {
	p := a.Pins
	r, rim := p.Circle, p.Rim.MM()
	title := fmt.Sprintf("Pin wheel, %d pins", p.Count)
	box := square(rim)
	arbor := geom.Pt{X: r, Y: -a.PalletRadius.Value.MM()}
	shown := a.PalletRadius.Set && a.PalletRadius.Value.MM() < 4*r
	if shown {
		box = box.With(arbor.Plus(geom.Pt{X: 14, Y: -3}))
	}
	v := beginView(title, "The wheel from the side on which its pins stand and it turns clockwise.", box, 10, 8)
	for i := range p.Count {
		v.cut(p.Outline(i))
		if p.Shape == escapewheel.HalfPins { // the hole that it stands in
			v.lines(centreLayer, pic.Dashed, geom.Round(geom.Polar(r, 2*math.Pi*float64(i)/float64(p.Count)), p.Pin.Value.MM()/2))
		}
	}
	v.cut(geom.Round(geom.Pt{}, rim), geom.Round(geom.Pt{}, p.Inner.MM()))
	if a.Query.Bore.Set {
		v.cut(geom.Round(geom.Pt{}, a.Query.Bore.Value.MM()/2))
	}
	v.guide(geom.Round(geom.Pt{}, r))
	v.cross(geom.Pt{}, rim+3)
	if shown {
		v.cross(arbor, 3)
		v.guide(straight(geom.Pt{X: r}, arbor), straight(geom.Pt{}, arbor))
		v.dim(geom.Pt{X: r}, arbor, -(rim - r + 6), unit.Number(a.PalletRadius.Value.MM(), 2))
	}
	v.dim(geom.Pt{X: -r}, geom.Pt{X: r}, -(rim + 8), "⌀ "+unit.Number(2*r, 2))
	d := doc.Drawing{Name: "escape-wheel", Title: title, Views: []doc.View{v.view("True size", 1), pinDetail(a)}, Data: pinData(a)}
	d.Notes = append(drawingNotes(a.Findings), "The wheel turns clockwise as drawn. Rim and crossings are the maker's; holes for the pins by the reamer that fits them.")
	if p.Shape == escapewheel.HalfPins {
		d.Notes = append(d.Notes, "Of each pin the half is left that leads; look at the old pins, or at where the pallets are worn, before one is filed.")
	}
	return d
}

func pinData(a escapewheel.Answer) []doc.Datum {
	p := a.Pins
	d := []doc.Datum{
		{Name: "Pins", Value: fmt.Sprintf("%d, %s each", p.Count, unit.Text(a.PerTooth, "°", 3))},
		{Name: "Circle of their middles", Value: a.Diameter.Text("mm", 3)},
		{Name: "Diameter of a pin", Value: p.Pin.Text("mm", 3)},
		{Name: "Shape", Value: map[escapewheel.Shape]string{escapewheel.RoundPins: "round", escapewheel.HalfPins: "half round"}[p.Shape]},
		{Name: "Between two pins", Value: unit.Text(p.Gap, "mm", 3)},
		{Name: "Rim, as drawn", Value: unit.Text(2*p.Rim, "mm", 2) + " over " + unit.Text(2*p.Inner, "mm", 2)},
	}
	if a.PalletWidth.Set {
		d = append(d, doc.Datum{Name: "Pallet, thickness", Value: a.PalletWidth.Text("mm", 3)})
	}
	if a.Distance.Set {
		d = append(d, doc.Datum{Name: "Centre to centre", Value: a.Distance.Text("mm", 3)}, doc.Datum{Name: "Pallet arbor to pins", Value: a.PalletRadius.Text("mm", 3)})
	}
	return d
}

// pinDetail is two pins enlarged, on a piece of the rim.
func pinDetail(a escapewheel.Answer) doc.View {
	p := a.Pins
	half := math.Pi / float64(p.Count)
	place := func(q geom.Path) geom.Path {
		return q.Map(func(x geom.Pt) geom.Pt { return x.Turn(-math.Pi/2 - half) }, false)
	}
	one, two := place(p.Outline(0)), place(p.Outline(1))
	box := one.Bounds().Join(two.Bounds())
	box = geom.Box{Min: box.Min.Minus(geom.Pt{X: p.Pin.Value.MM() / 2}), Max: box.Max.Plus(geom.Pt{X: p.Pin.Value.MM() / 2})}
	scale := enlargement(math.Max(box.W(), 4*box.H()))
	margin := 14 / scale
	v := beginView("Two pins, "+times(scale), "Two pins with their diameter and the way from one to the other.", box, 1.4*margin, margin)
	v.cut(one, two)
	turn := func(at float64) geom.Pt { return geom.Polar(p.Circle, at-math.Pi/2-half) }
	v.guide(geom.Path{From: turn(-half / 2), Segs: []geom.Seg{{To: turn(2.5 * half), Bulge: math.Tan(3 * half / 4)}}})
	a1, b1 := turn(0), turn(2*half)
	v.cross(a1, p.Pin.Value.MM()*0.8)
	v.cross(b1, p.Pin.Value.MM()*0.8)
	v.dim(a1, b1, -(p.Pin.Value.MM()/2 + margin), unit.Number(b1.Minus(a1).Len(), 3))
	r := p.Pin.Value.MM() / 2
	radial := a1.Unit().Times(r)
	v.dim(a1.Minus(radial), a1.Plus(radial), r+margin*0.7, "⌀ "+unit.Number(2*r, 3))
	return v.view("Two pins, "+times(scale), scale)
}
