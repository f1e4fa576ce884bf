package present

import (
	"math"

	"seatboard/internal/craft/pendulum"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// arcFigure draws the circular error against the arc, with this clock's arc.
func arcFigure(a pendulum.Answer) doc.Figure {
	t := doc.Table{Caption: "Loss against a very small arc", Columns: []doc.Column{{Head: "Half arc", Unit: "°", Number: true}, {Head: "Loss", Unit: "s a day", Number: true}}}
	top := arcTop(a)
	for i := 1; i <= 8; i++ {
		deg := top * float64(i) / 8
		t.Rows = append(t.Rows, []string{unit.Number(deg, 3), unit.Number(lossAt(deg), 2)})
	}
	return doc.Figure{Name: "arc", Caption: "What the pendulum loses by the width of its swing; where the arc changes, the rate moves along the curve.", Numbers: &t,
		Wide: arcCurve(a, wideFigure), Narrow: arcCurve(a, narrowFigure)}
}

// arcTop is the widest arc drawn, in degrees.
func arcTop(a pendulum.Answer) float64 {
	top := math.Max(a.Query.Arc.Value.Degrees(), a.Query.ToArc.Value.Degrees()) * 1.5
	return math.Min(math.Max(math.Ceil(top), 2), 90)
}

// lossAt is the loss in s/day at a half arc in degrees.
func lossAt(deg float64) float64 { return -pendulum.CircularError(unit.Deg(deg)).PerDay() }

// arcSheet is the frame of the curve.
type arcSheet struct {
	w, most, peak float64 // pixels, degrees, s/day
}

const (
	arcLeft, arcRight = 62.0, 24.0
	arcHead, arcFoot  = 34.0, 46.0
	arcHigh           = 220.0
)

func (s arcSheet) x(deg float64) float64  { return arcLeft + deg/s.most*(s.w-arcLeft-arcRight) }
func (s arcSheet) y(loss float64) float64 { return arcHead + arcHigh - loss/s.peak*arcHigh }

func arcCurve(a pendulum.Answer, width float64) pic.Picture {
	s := arcSheet{width, arcTop(a), lossAt(arcTop(a))}
	p := pic.Picture{W: width, H: arcHead + arcHigh + arcFoot, Title: "Circular error against the half arc"}
	s.frame(&p)
	var curve []pic.Pt
	for i := 0; i <= 48; i++ {
		deg := s.most * float64(i) / 48
		curve = append(curve, pic.Pt{X: s.x(deg), Y: s.y(lossAt(deg))})
	}
	p.Add(pic.Poly{Pts: curve, Pen: pic.Steel})
	deg := a.Query.Arc.Value.Degrees()
	p.Desc = "At " + unit.Number(deg, 2) + "° from the vertical it loses " + unit.Number(lossAt(deg), 2) + " s a day."
	s.stem(&p, deg, pic.Chosen)
	words := "loses " + unit.Number(lossAt(deg), 2)
	if to := a.Query.ToArc; to.Set {
		s.stem(&p, to.Value.Degrees(), pic.Dashed)
		s.nameOther(&p, to.Value.Degrees(), deg)
		p.Desc += " At " + unit.Number(to.Value.Degrees(), 2) + "° it loses " + unit.Number(lossAt(to.Value.Degrees()), 2) + " s a day."
	}
	// The words stand above the curve, which is hollow upwards: left of the
	// point, or as far left as there is room and as high as the curve wants.
	right := math.Max(s.x(deg)-8, arcLeft+8+pic.TextWidth(words, pic.Mark))
	over := s.most * (right - arcLeft) / (s.w - arcLeft - arcRight)
	y := math.Max(math.Min(s.y(lossAt(deg)), s.y(lossAt(math.Min(over, s.most))))-10, arcHead+16)
	p.Add(pic.Text{P: pic.Pt{X: right, Y: y}, S: words, Anchor: pic.End, Style: pic.Mark})
	return p
}

// nameOther names the loss at the other arc, under the curve at the right of
// its stem, where the words have room there.
func (s arcSheet) nameOther(p *pic.Picture, deg, first float64) {
	words := "loses " + unit.Number(lossAt(deg), 2)
	left, y := s.x(deg)+8, s.y(lossAt(deg))+18
	right := left + pic.TextWidth(words, pic.Label)
	crossed := first > deg && s.x(first) < right+8
	if right > s.w-4 || y > s.y(0)-6 || crossed {
		return
	}
	p.Add(pic.Text{P: pic.Pt{X: left, Y: y}, S: words})
}

// frame draws the grid and its figures.
func (s arcSheet) frame(p *pic.Picture) {
	end := s.w - arcRight
	p.Add(pic.Line{A: pic.Pt{X: arcLeft, Y: s.y(0)}, B: pic.Pt{X: end, Y: s.y(0)}, Pen: pic.Ink},
		pic.Text{P: pic.Pt{X: 4, Y: 15}, S: "loss, s a day"},
		pic.Text{P: pic.Pt{X: end, Y: s.y(0) + 40}, S: "half arc", Anchor: pic.End})
	places := 1
	if s.peak >= 100 {
		places = 0
	}
	for i := 0; i <= 4; i++ {
		loss, deg := s.peak*float64(i)/4, s.most*float64(i)/4
		if i > 0 {
			p.Add(pic.Line{A: pic.Pt{X: arcLeft, Y: s.y(loss)}, B: pic.Pt{X: end, Y: s.y(loss)}, Pen: pic.Hair})
		}
		p.Add(pic.Text{P: pic.Pt{X: arcLeft - 8, Y: s.y(loss) + 5}, S: unit.Number(loss, places), Anchor: pic.End},
			pic.Text{P: pic.Pt{X: s.x(deg), Y: s.y(0) + 20}, S: degrees(deg), Anchor: pic.Middle})
	}
}

// degrees writes an angle without needless noughts.
func degrees(deg float64) string {
	places := 0
	for places < 2 && math.Abs(deg*math.Pow10(places)-math.Round(deg*math.Pow10(places))) > 1e-9 {
		places++
	}
	return unit.Number(deg, places) + "°"
}

// stem marks an arc on the curve.
func (s arcSheet) stem(p *pic.Picture, deg float64, pen pic.Pen) {
	top := pic.Pt{X: s.x(deg), Y: s.y(lossAt(deg))}
	p.Add(pic.Line{A: pic.Pt{X: top.X, Y: s.y(0)}, B: top, Pen: pen}, pic.Circle{C: top, R: 4, Pen: pic.Chosen, Fill: pic.Ground})
}
