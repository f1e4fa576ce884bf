package present

import (
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/pic"
)

// area is a filled shape, as much of it as lies in the view: cut at one side
// of the view after the other (Sutherland and Hodgman, 1974, from memory).
func (v *meshPanel) area(shape []geom.Pt, fill pic.Fill) []pic.Item {
	pts := make([]pic.Pt, len(shape))
	for i, p := range shape {
		pts[i] = v.at(p)
	}
	for _, e := range v.edges() {
		pts = e.keep(pts)
	}
	if len(pts) < 3 {
		return nil
	}
	return []pic.Item{pic.Poly{Pts: pts, Closed: true, Pen: pic.NoLine, Fill: fill}}
}

// strokes is a line, as much of it as lies in the view.
func (v *meshPanel) strokes(line []geom.Pt, pen pic.Pen) []pic.Item {
	var items []pic.Item
	var run []pic.Pt
	end := func() {
		if len(run) > 1 {
			items = append(items, pic.Poly{Pts: run, Pen: pen})
		}
		run = nil
	}
	for i := 1; i < len(line); i++ {
		a, b, ok := v.inside(v.at(line[i-1]), v.at(line[i]))
		if !ok {
			end()
			continue
		}
		if len(run) == 0 || run[len(run)-1] != a {
			end()
			run = append(run, a)
		}
		run = append(run, b)
	}
	end()
	return items
}

// edge is a side of the view: inside is where a·x + b·y ≥ c.
type edge struct{ a, b, c float64 }

func (v *meshPanel) edges() [4]edge {
	return [4]edge{{1, 0, v.x}, {-1, 0, -v.x - v.w}, {0, 1, v.y}, {0, -1, -v.y - v.h}}
}

func (e edge) over(p pic.Pt) float64 { return e.a*p.X + e.b*p.Y - e.c }

// keep cuts a closed shape at the side.
func (e edge) keep(pts []pic.Pt) []pic.Pt {
	var out []pic.Pt
	for i, b := range pts {
		a := pts[(i+len(pts)-1)%len(pts)]
		from, to := e.over(a), e.over(b)
		if (from < 0) != (to < 0) {
			out = append(out, between(a, b, from/(from-to)))
		}
		if to >= 0 {
			out = append(out, b)
		}
	}
	return out
}

func between(a, b pic.Pt, t float64) pic.Pt {
	return pic.Pt{X: a.X + (b.X-a.X)*t, Y: a.Y + (b.Y-a.Y)*t}
}

// inside is the part of a straight line that lies in the view.
func (v *meshPanel) inside(a, b pic.Pt) (from, to pic.Pt, ok bool) {
	low, high := 0.0, 1.0
	for _, e := range v.edges() {
		x, y := e.over(a), e.over(b)
		switch {
		case x < 0 && y < 0:
			return a, b, false
		case x < 0:
			low = max(low, x/(x-y))
		case y < 0:
			high = min(high, x/(x-y))
		}
	}
	if low >= high {
		return a, b, false
	}
	from, to = a, b
	if low > 0 {
		from = between(a, b, low)
	}
	if high < 1 {
		to = between(a, b, high)
	}
	return from, to, true
}
