package present

import (
	"math"

	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// frame is the field of a curve with its two scales, in pixels.
type frame struct {
	left, right, top, foot float64
	x0, x1, y0, y1         float64 // values at left, right, foot and top
}

func (f frame) x(v float64) float64 { return f.left + (v-f.x0)/(f.x1-f.x0)*(f.right-f.left) }
func (f frame) y(v float64) float64 { return f.foot - (v-f.y0)/(f.y1-f.y0)*(f.foot-f.top) }

// inX and inY keep a place within the field.
func (f frame) inX(v float64) float64 { return math.Min(math.Max(f.x(v), f.left), f.right) }
func (f frame) inY(v float64) float64 { return math.Min(math.Max(f.y(v), f.top), f.foot) }

// across draws a line of one value of y over the whole field.
func (f frame) across(v float64, pen pic.Pen) pic.Line {
	return pic.Line{A: pic.Pt{X: f.left, Y: f.y(v)}, B: pic.Pt{X: f.right, Y: f.y(v)}, Pen: pen}
}

// upright draws a line of one value of x over the whole field.
func (f frame) upright(v float64, pen pic.Pen) pic.Line {
	return pic.Line{A: pic.Pt{X: f.x(v), Y: f.top}, B: pic.Pt{X: f.x(v), Y: f.foot}, Pen: pen}
}

// roundStep is a step of 1, 2 or 5 times a power of ten that divides a span
// into n parts or fewer.
func roundStep(span float64, n int) float64 {
	rough := span / float64(max(n, 1))
	ten := math.Pow10(int(math.Floor(math.Log10(rough))))
	for _, k := range [...]float64{1, 2, 5} {
		if rough <= k*ten*(1+1e-9) {
			return k * ten
		}
	}
	return 10 * ten
}

// graduations are the multiples of a step from low to high.
func graduations(low, high, step float64) []float64 {
	var out []float64
	for i := math.Ceil(low/step - 1e-9); i*step <= high+1e-9*step; i++ {
		out = append(out, i*step)
	}
	return out
}

// placesOf is how many decimals a step of two figures or fewer needs.
func placesOf(step float64) int {
	places := 0
	for places < 9 && math.Abs(step-math.Round(step*math.Pow10(places))/math.Pow10(places)) > 1e-6*step {
		places++
	}
	return places
}

// timeScale is the unit that suits a span of time, in seconds, and its name.
func timeScale(span float64) (size float64, name string) {
	switch {
	case span < 150:
		return 1, "s"
	case span < 3*3600:
		return 60, "min"
	case span < 3*86400:
		return 3600, "h"
	}
	return 86400, "d"
}

// timeAxis draws figures of time under a field whose x is seconds, with words
// for what they count at its right end, below.
func (f frame) timeAxis(p *pic.Picture, words string) {
	size, name := timeScale(f.x1 - f.x0)
	step := roundStep((f.x1-f.x0)/size, int((f.right-f.left)/70))
	for _, v := range graduations(f.x0/size, f.x1/size, step) {
		x := f.x(v * size)
		p.Add(pic.Line{A: pic.Pt{X: x, Y: f.foot}, B: pic.Pt{X: x, Y: f.foot + 5}, Pen: pic.Hair},
			pic.Text{P: pic.Pt{X: x, Y: f.foot + 24}, S: unit.Number(v, placesOf(step)), Anchor: pic.Middle})
	}
	p.Add(pic.Text{P: pic.Pt{X: f.right, Y: f.foot + 44}, S: name + " " + words, Anchor: pic.End})
}

// rectangle is where words stand.
type rectangle struct{ x0, y0, x1, y1 float64 }

// places remembers where words stand, to keep others clear of them.
type places []rectangle

// take keeps a place where it is free, so far from the others.
func (p *places) take(b rectangle, apart float64) bool {
	for _, o := range *p {
		if b.x0 < o.x1+apart && o.x0 < b.x1+apart && b.y0 < o.y1+apart && o.y0 < b.y1+apart {
			return false
		}
	}
	*p = append(*p, b)
	return true
}
