package present

import (
	"math"
	"strconv"

	"seatboard/internal/craft/mesh"
	"seatboard/internal/craft/tooth"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// meshFigure draws the pair near the line of centres three times: where a
// tooth takes its leaf, on the line, and where it gives it over. Its numbers
// are the pitch as it is turned, so that a page can turn it too.
func meshFigure(a mesh.Answer) (doc.Figure, bool) {
	if len(a.Moments) < 2 {
		return doc.Figure{}, false
	}
	return doc.Figure{Name: "depthing", Caption: "The wheel at the left turns down and drives the pinion. The blue line is the way of the touch through a pitch.",
		Wide: meshPanels(a, wideFigure), Narrow: meshPanels(a, narrowFigure), Numbers: momentTable(a)}, true
}

// momentTable is one pitch in steps that are drawn and turned.
func momentTable(a mesh.Answer) *doc.Table {
	t := doc.Table{Caption: "One pitch, from the touch at which a tooth takes its leaf", Columns: []doc.Column{{Head: "Wheel", Unit: "°", Number: true}, {Head: "Pinion", Unit: "°", Number: true},
		{Head: "Touch along the line", Unit: "mm", Number: true}, {Head: "Touch across it", Unit: "mm", Number: true}, {Head: "Speed", Unit: "%", Number: true}, {Head: "Torque", Unit: "%", Number: true}}}
	step := max(1, len(a.Moments)/24)
	for i := 0; i < len(a.Moments); i += step {
		if i+step >= len(a.Moments) {
			i = len(a.Moments) - 1
		}
		m := a.Moments[i]
		t.Rows = append(t.Rows, []string{unit.Number(unit.Angle(m.Wheel).Degrees(), 3), unit.Number(unit.Angle(m.Pinion).Degrees(), 3),
			unit.Number(m.Touch.X-a.Pair.Wheel.Pitch.MM(), 4), unit.Number(m.Touch.Y, 4), unit.Number(100*m.Ratio, 2), unit.Number(100*m.Passed, 2)})
	}
	t.Note = "Angles from middle to middle of a tooth and its leaf, past the line of centres; the touch from where the wheel's pitch circle crosses that line."
	return &t
}

// meshPanel is one view of the pair: where the pitch point lies, and the
// pixels to a millimetre.
type meshPanel struct {
	a          mesh.Answer
	x, y, w, h float64
	pitch      pic.Pt
	k          float64
}

const (
	meshTitles  = 44.0 // of a view, above it
	meshGap     = 14.0
	meshPitch   = 118.0 // pixels to a pitch, about
	meshPresses = 46.0  // length of the line along which the tooth presses
)

// meshScale is pixels to a millimetre, a round number of times life size.
func meshScale(a mesh.Answer) (k float64, times string) {
	const perMM = 96 / 25.4
	pitch := 2 * math.Pi * a.Pair.Wheel.Pitch.MM() / float64(a.Query.Wheel)
	n := meshPitch / pitch / perMM
	ten := math.Pow10(int(math.Floor(math.Log10(n))))
	best := ten
	for _, x := range [...]float64{1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10} {
		if x*ten <= n {
			best = x * ten
		}
	}
	return best * perMM, strconv.FormatFloat(best, 'g', -1, 64) + " : 1"
}

func meshPanels(a mesh.Answer, width float64) pic.Picture {
	k, times := meshScale(a)
	p := pic.Picture{W: width, Title: "The pair near the line of centres, " + times,
		Desc: "A tooth takes its leaf " + unit.Text(unit.Angle(a.Turn.Lead()), "°", 1) + " of the pinion before the line of centres and gives it over " + unit.Text(unit.Angle(a.Turn.After()), "°", 1) + " after it."}
	across := width >= wideLeast
	w, h := width-2, 250.0
	if across {
		w = (width - 2 - 2*meshGap) / 3
		h = 300
	}
	y := meshTitles
	x := 1.0
	for i, m := range standing(a) {
		v := meshPanel{a: a, x: x, y: y, w: w, h: h, k: k, pitch: pic.Pt{X: x + 0.47*w, Y: y + 0.42*h}}
		p.Add(pic.Text{P: pic.Pt{X: x, Y: y - 26}, S: m.name, Style: pic.Name}, pic.Text{P: pic.Pt{X: x, Y: y - 7}, S: m.words})
		p.Add(v.draw(m.Moment)...)
		p.H = y + h + 1
		if across {
			x += w + meshGap
			continue
		}
		if y = p.H + meshGap + meshTitles; i == 2 {
			break
		}
	}
	p.Add(pic.Text{P: pic.Pt{X: width - 2, Y: p.H + 20}, S: times, Anchor: pic.End})
	p.H += 28
	return p
}

// stand is a moment that is drawn, with its name.
type stand struct {
	mesh.Moment
	name, words string
}

// standing are the beginning, the middle and the end of a tooth's action.
func standing(a mesh.Answer) []stand {
	t := a.Turn
	middle := a.Moments[0]
	for _, m := range a.Moments {
		if m.Ratio > 0 && math.Abs(m.Touch.Y) < math.Abs(middle.Touch.Y) {
			middle = m
		}
	}
	deg := func(x float64) string { return unit.Text(unit.Angle(math.Abs(x)), "°", 1) }
	side := func(x float64) string { // by the angle of the pinion past the line
		switch {
		case x < -1e-4:
			return deg(x) + " before the line"
		case x > 1e-4:
			return deg(x) + " after the line"
		}
		return "on the line of centres"
	}
	return []stand{
		{t.In, "Takes its leaf", side(t.In.Pinion - t.LineLeaf)},
		{middle, "Midway", side(roundTo(middle.Pinion-t.LineLeaf, unit.Deg(0.3)))},
		{t.Out, "Gives it over", side(t.Out.Pinion - t.LineLeaf)},
	}
}

// roundTo makes nought of what is less than a step.
func roundTo(x float64, least unit.Angle) float64 {
	if math.Abs(x) < float64(least) {
		return 0
	}
	return x
}

// at is a point of the pair, in mm from the wheel's centre, on the picture.
func (v *meshPanel) at(p geom.Pt) pic.Pt {
	return pic.Pt{X: v.pitch.X + (p.X-v.a.Pair.Wheel.Pitch.MM())*v.k, Y: v.pitch.Y + p.Y*v.k}
}

func (v *meshPanel) draw(m mesh.Moment) []pic.Item {
	box := pic.Rect{Min: pic.Pt{X: v.x, Y: v.y}, W: v.w, H: v.h, Pen: pic.Hair}
	wheel := v.body(v.a.Pair.Wheel, v.a.Flanks[0], func(p geom.Pt) geom.Pt { return p.Turn(m.Wheel) }, pic.Hatch)
	centre := geom.Pt{X: v.a.Turn.Distance}
	pinion := v.body(v.a.Pair.Pinion, v.a.Flanks[1], func(p geom.Pt) geom.Pt { return p.Turn(math.Pi - m.Pinion).Plus(centre) }, pic.Hatch2)
	items := append(wheel, pinion...)
	items = append(items, v.circle(geom.Pt{}, v.a.Pair.Wheel.Pitch.MM(), 0)...)
	items = append(items, v.circle(centre, v.a.Pair.Pinion.Pitch.MM(), math.Pi)...)
	items = append(items, pic.Line{A: pic.Pt{X: v.x, Y: v.pitch.Y}, B: pic.Pt{X: v.x + v.w, Y: v.pitch.Y}, Pen: pic.Chain})
	items = append(items, v.way()...)
	if m.Ratio > 0 || m == v.a.Turn.Out {
		reach := m.Press.Times(meshPresses / v.k)
		items = append(items, v.strokes([]geom.Pt{m.Touch.Minus(reach), m.Touch.Plus(reach)}, pic.Chosen)...)
		if c := v.at(m.Touch); c.X > v.x+4 && c.X < v.x+v.w-4 && c.Y > v.y+4 && c.Y < v.y+v.h-4 {
			items = append(items, pic.Circle{C: c, R: 4, Pen: pic.Ink, Fill: pic.BadFill})
		}
	}
	return append(items, box)
}

// way is that of the touch through a pitch, broken where another tooth leads.
func (v *meshPanel) way() []pic.Item {
	var items []pic.Item
	var run []geom.Pt
	leap := v.a.Pair.Wheel.Pitch.MM() * v.a.Pair.Wheel.Step() / 5
	for i, t := range v.a.Moments {
		n := len(run)
		if t.Ratio == 0 || n > 0 && (v.a.Moments[i-1].Wheel == t.Wheel || t.Touch.Minus(run[n-1]).Len() > leap) {
			items = append(items, v.strokes(run, pic.Steel)...)
			run = nil
		}
		if t.Ratio > 0 && (i%6 == 0 || i == len(v.a.Moments)-1 || n == 0 || changes(v.a.Moments, i)) {
			run = append(run, t.Touch)
		}
	}
	return append(items, v.strokes(run, pic.Steel)...)
}

// body is a gear cut, as far as it lies in the view.
func (v *meshPanel) body(g tooth.Gear, flank []geom.Curve, place func(geom.Pt) geom.Pt, fill pic.Fill) []pic.Item {
	if g.Lantern {
		var items []pic.Item
		for _, around := range v.near(g, place) {
			items = append(items, v.area(closedRound(g, around, place), fill)...)
		}
		return items
	}
	var edge []geom.Pt
	near := v.near(g, place)
	if len(near) == 0 {
		return nil
	}
	front, back := sampled(flank), sampled(g.Flank)
	for _, i := range near {
		turn := float64(i) * g.Step()
		for k := range back {
			edge = append(edge, place(geom.Pt{X: back[k].X, Y: -back[k].Y}.Turn(turn)))
		}
		for k := len(front) - 1; k >= 0; k-- {
			edge = append(edge, place(front[k].Turn(turn)))
		}
		gap := g.Step()/2 - front[0].Angle() // of half the bottom, from the flank to the middle
		for k := 1; k <= 3; k++ {
			edge = append(edge, place(geom.Polar(g.Root.MM(), turn+front[0].Angle()+gap*float64(k)/2)))
		}
	}
	if len(near) == int(g.Count) { // all round
		edge = append(edge, edge[0])
		return append(v.area(edge, fill), v.strokes(edge, pic.Ink)...)
	}
	outline := append([]geom.Pt{}, edge...)
	first, last := float64(near[0])*g.Step(), float64(near[len(near)-1])*g.Step()
	depth := max(g.Root.MM()-2*v.w/v.k, 0.05*g.Root.MM())
	for i := 0; i <= 6; i++ {
		outline = append(outline, place(geom.Polar(depth, last+g.Step()/2-(last-first+g.Step())*float64(i)/6)))
	}
	return append(v.area(outline, fill), v.strokes(edge, pic.Ink)...)
}

// near are the teeth that may lie in the view, in the order of their angles.
func (v *meshPanel) near(g tooth.Gear, place func(geom.Pt) geom.Pt) []int {
	var out []int
	half := int(g.Count) / 2
	centre := geom.Pt{X: v.a.Pair.Wheel.Pitch.MM() + (v.x+v.w/2-v.pitch.X)/v.k, Y: (v.y + v.h/2 - v.pitch.Y) / v.k}
	reach := math.Hypot(v.w, v.h)/2/v.k + g.Pitch.MM()*g.Step()
	for i := -half; i < int(g.Count)-half; i++ {
		if place(geom.Polar(g.Pitch.MM(), float64(i)*g.Step())).Minus(centre).Len() < reach {
			out = append(out, i)
		}
	}
	return out
}

// closedRound is a pin.
func closedRound(g tooth.Gear, i int, place func(geom.Pt) geom.Pt) []geom.Pt {
	const sides = 28
	var out []geom.Pt
	c, r := geom.Polar(g.Pitch.MM(), float64(i)*g.Step()), (g.Tip.MM()-g.Root.MM())/2
	for k := range sides {
		out = append(out, place(c.Plus(geom.Polar(r, 2*math.Pi*float64(k)/sides))))
	}
	return append(out, out[0])
}

// sampled is a flank as points, close enough for a picture.
func sampled(flank []geom.Curve) []geom.Pt {
	var out []geom.Pt
	for i, c := range flank {
		n := 7
		if _, ok := c.(tooth.Straight); ok {
			n = 1
		}
		for k := 0; k <= n; k++ {
			if k == 0 && i > 0 {
				continue
			}
			p, _ := c.At(float64(k) / float64(n))
			out = append(out, p)
		}
	}
	return out
}

// circle is as much of a circle as lies in the view, about the angle at which
// it crosses the line of centres.
func (v *meshPanel) circle(c geom.Pt, r, mid float64) []pic.Item {
	half := min(math.Pi, v.h/v.k/r)
	var pts []geom.Pt
	for i := 0; i <= 24; i++ {
		pts = append(pts, c.Plus(geom.Polar(r, mid+half*(float64(i)/12-1))))
	}
	return v.strokes(pts, pic.Dashed)
}
