package present

import (
	"math"

	"seatboard/internal/kit/pic"
)

// barrel draws the barrel behind the great wheel with the turns of its line,
// as large as the train leaves room for.
func (d *platesDrawing) barrel() {
	const flange = 5.0
	left, right := d.x[0]+wheelThick/2, d.back-16
	if len(d.x) == 2 {
		right = d.x[1] - 14
	}
	px := d.barrelRadius(left, right)
	if !d.t.BarrelTurns.Known() || px < 8 || right-left < 30 {
		return
	}
	d.p.Add(pic.Rect{Min: pic.Pt{X: left, Y: d.y[0] - px}, W: right - left, H: 2 * px, Pen: pic.Ink, Fill: pic.Ground},
		pic.Rect{Min: pic.Pt{X: right - flange, Y: d.y[0] - px - 3}, W: flange, H: 2*px + 6, Pen: pic.Ink, Fill: pic.Hatch2})
	turns := math.Min(d.t.BarrelTurns.Float(), (right-left-flange)/4)
	pitch := (right - left - flange) / turns
	for k := 0.5; k < turns; k++ { // the line as it lies
		x := left + pitch*k
		d.p.Add(pic.Line{A: pic.Pt{X: x - pitch/4, Y: d.y[0] - px}, B: pic.Pt{X: x + pitch/4, Y: d.y[0] + px}, Pen: pic.Hair})
	}
	d.p.Add(pic.Text{P: pic.Pt{X: left + 6, Y: d.y[0] + px + 20}, S: d.t.BarrelTurns.Mixed() + " turns", Anchor: pic.Start, Style: pic.Label})
}

// barrelRadius is the radius, in px, that clears every part above the barrel.
func (d *platesDrawing) barrelRadius(left, right float64) float64 {
	r := 0.62 * d.size.wheel[0] / 2 * d.scale
	for i := 1; i < len(d.y); i++ {
		part := arborThick / 2
		if d.x[i-1] > left && d.x[i-1] < right {
			part = math.Max(part, d.size.pinion[i]/2*d.scale)
		}
		if d.x[i] > left && d.x[i] < right {
			part = math.Max(part, d.size.wheel[i]/2*d.scale)
		}
		r = math.Min(r, d.y[0]-d.y[i]-part-6)
	}
	return r
}
