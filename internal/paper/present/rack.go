package present

import (
	"fmt"
	"math"
	"strconv"

	"seatboard/internal/craft/strikework"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// rackDrawing is the rack with its arms at true size, the tail on the snail;
// the toothed part alone where the arms cannot be drawn.
func rackDrawing(a strikework.Answer) doc.Drawing {
	r := a.Rack
	title := fmt.Sprintf("Rack of %d teeth", r.Teeth)
	v := toothedRim(r, title)
	if r.Arms != nil {
		v = wholeRack(a, title)
	}
	d := doc.Drawing{Name: "rack", Title: title, Views: []doc.View{v.view("True size", 1), rackTeeth(r)}, Data: []doc.Datum{
		{Name: "Teeth", Value: strconv.Itoa(r.Teeth)},
		{Name: "Tooth to tooth", Value: unit.Text(r.Tooth, "°", 4)},
		{Name: "Pitch along the tips", Value: r.Pitch.Text("mm", 3)},
		{Name: "Radius over the tips", Value: unit.Number(r.Saw.Tip, 3) + "\u00a0mm"},
		{Name: "Depth of a tooth", Value: unit.Text(r.Depth, "mm", 3)},
		{Name: "Tail, pivot to pin", Value: a.Query.Tail.Written("mm")},
		{Name: "Pivot to the snail's centre", Value: unit.Text(r.Centres, "mm", 3)},
	}}
	d.Notes = drawingNotes(a.Findings)
	if m := r.Arms; m != nil {
		d.Data = append(d.Data, doc.Datum{Name: "Middle of the teeth to the tail", Value: unit.Text(m.Between, "°", 2)}, doc.Datum{Name: "Width of the arms", Value: unit.Text(m.Arm, "mm", 2)},
			doc.Datum{Name: "Hub, hole of the pivot", Value: unit.Text(m.Hub, "mm", 2) + ", " + unit.Text(m.Hole, "mm", 2)})
		if a.Query.Pin.Set {
			d.Data = append(d.Data, doc.Datum{Name: "Pin of the tail", Value: a.Query.Pin.Written("mm")})
		}
		d.Notes = append(d.Notes, "Drawn with its tail on the step of 1 o'clock; the snail is dashed. Falling, the rack turns clockwise as drawn. Corners are drawn sharp.")
	}
	d.Notes = append(d.Notes, "Look at the old work for the side on which the teeth face and the tail stands before it is cut; the drawing turned over is the other hand.")
	return d
}

// toothedRim is the teeth on a piece of their rim, with the place of the pivot.
func toothedRim(r *strikework.Rack, title string) *cutView {
	turn := -float64(r.Teeth) / 2 * float64(r.Tooth)
	cut := r.Outline().Map(func(p geom.Pt) geom.Pt { return p.Turn(turn) }, false)
	v := beginView(title, "The teeth of the rack on a piece of its rim, with the place of its pivot.", cut.Bounds().With(geom.Pt{}), 12, 0)
	v.cut(cut)
	v.cross(geom.Pt{}, 4)
	first, _ := r.Saw.Corners()
	v.dim(geom.Pt{}, first.Tip.Turn(turn), 0, "R "+unit.Number(r.Saw.Tip, 2))
	return v
}

// wholeRack has the teeth upwards.
func wholeRack(a strikework.Answer, title string) *cutView {
	r, m := a.Rack, a.Rack.Arms
	up := func(p geom.Pt) geom.Pt { return p.Turn(-math.Pi / 2) }
	cut := m.Outline.Map(up, false)
	pin, snail := up(m.Pin), up(m.Snail)
	// 1 o'clock of the snail is under the pin.
	at := pin.Minus(snail).Angle()
	steps := r.Snail().Map(func(p geom.Pt) geom.Pt { return p.Turn(at).Plus(snail) }, false)
	box := cut.Bounds().Join(steps.Bounds())
	v := beginView(title, "The rack with its arms and its tail, the pin of the tail on the step of 1 o'clock of the snail.", box, 14, 4)
	v.cut(cut, geom.Round(geom.Pt{}, m.Hole.MM()/2))
	if a.Query.Pin.Set {
		v.cut(geom.Round(pin, a.Query.Pin.Value.MM()/2))
	}
	v.lines(centreLayer, pic.Dashed, steps)
	v.guide(straight(geom.Pt{}, up(geom.Pt{X: r.Saw.Tip + 4})), straight(geom.Pt{}, pin), straight(geom.Pt{}, snail))
	v.cross(geom.Pt{}, m.Hub.MM()/2+3)
	v.cross(snail, 4)
	v.cross(pin, m.Arm.MM()/2+2)
	// Sizes stand outside the angle between teeth and tail, before the tail, and
	// beyond the snail, which the tail falls towards.
	side, beyond := 1.0, 0.0
	if m.Between < 0 {
		side = -1
	}
	for _, s := range steps.Segs {
		beyond = max(beyond, snail.Unit().Cross(s.To))
	}
	v.dim(geom.Pt{}, up(geom.Pt{X: r.Saw.Tip}), side*(rimHalf(r)+6), "R "+unit.Number(r.Saw.Tip, 2))
	v.dim(geom.Pt{}, pin, m.Arm.MM()/2+5, unit.Number(a.Query.Tail.Value.MM(), 2))
	v.dim(geom.Pt{}, snail, -(beyond + 5), unit.Number(r.Centres.MM(), 2))
	return v
}

// rimHalf is how far the teeth stand out beside their middle, mm.
func rimHalf(r *strikework.Rack) float64 {
	return r.Saw.Tip * math.Sin(min(float64(r.Teeth)*float64(r.Tooth)/2+float64(r.Tooth), math.Pi/2))
}

// rackTeeth are three teeth enlarged.
func rackTeeth(r *strikework.Rack) doc.View {
	piece := r.Saw.Run(3).Map(func(p geom.Pt) geom.Pt { return p.Turn(-math.Pi/2 - r.Saw.Step()) }, false)
	box := piece.Bounds()
	scale := enlargement(math.Max(box.W(), box.H()))
	margin := 14 / scale
	v := beginView("Three teeth, "+times(scale), "Three teeth of the rack with their pitch and depth.", box, margin, margin/2)
	v.cut(piece)
	s, _ := r.Saw.Corners()
	turn := func(p geom.Pt, teeth float64) geom.Pt { return p.Turn(-math.Pi/2 + (teeth-1)*r.Saw.Step()) }
	v.dim(turn(s.Tip, 0), turn(s.Tip, 1), margin/2, unit.Number(turn(s.Tip, 1).Minus(turn(s.Tip, 0)).Len(), 3))
	deep := turn(geom.Pt{X: r.Saw.Root}, 2)
	v.dim(deep, turn(geom.Pt{X: r.Saw.Tip}, 2), -margin/2, unit.Number(r.Depth.MM(), 2))
	return v.view("Three teeth, "+times(scale), scale)
}
