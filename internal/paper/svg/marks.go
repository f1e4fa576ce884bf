package svg

import (
	"math"
	"strconv"

	"seatboard/internal/book/picture"
	"seatboard/internal/kit/pic"
)

// Marks sets the marks of a photograph as a layer that lies over it, whatever
// its size in the page: the coordinates are the photograph's own pixels. A
// line keeps its width on the screen by its class; lettering grows with the
// photograph. words is what a reader of the page says of it.
func Marks(marks []picture.Mark, width, height int, words string) string {
	w := writer{k: 1, digits: 2}
	w.s(`<svg xmlns="http://www.w3.org/2000/svg" class="marks" role="img" aria-label="`, esc(words), `" viewBox="0 0 `, strconv.Itoa(width), ` `, strconv.Itoa(height), `">`)
	for _, m := range marks {
		w.mark(m, markSize(width, height))
	}
	w.s("</svg>")
	return w.String()
}

// markSize is the height of lettering over a photograph, in its pixels.
func markSize(width, height int) float64 { return math.Round(float64(max(width, height)) / 28) }

// mark draws one mark, once wide and dark and once narrow and light, so that
// it is seen over anything.
func (w *writer) mark(m picture.Mark, size float64) {
	from, to := pic.Pt{X: m.X, Y: m.Y}, pic.Pt{X: m.X2, Y: m.Y2}
	switch m.Kind {
	case picture.Arrow:
		d := headOf(from, to, size)
		for _, class := range []string{"under", "over"} {
			w.s(`<path class="`, class, `" d="`, d, `"/>`)
		}
	case picture.Ring:
		r := math.Hypot(to.X-from.X, to.Y-from.Y)
		for _, class := range []string{"under", "over"} {
			w.s(`<circle class="`, class, `" cx="`, w.n(from.X), `" cy="`, w.n(from.Y), `" r="`, w.n(r), `"/>`)
		}
	case picture.Number:
		w.s(`<circle class="disc" cx="`, w.n(from.X), `" cy="`, w.n(from.Y), `" r="`, w.n(size*.8), `"/>`,
			`<text class="count" text-anchor="middle" x="`, w.n(from.X), `" y="`, w.n(from.Y+size*.36), `" font-size="`, w.n(size), `">`, strconv.Itoa(m.N), `</text>`)
	case picture.Text:
		w.s(`<text class="words" x="`, w.n(from.X), `" y="`, w.n(from.Y), `" font-size="`, w.n(size), `" stroke-width="`, w.n(size/5), `">`, esc(m.Text), `</text>`)
	}
}

// headOf is the path of an arrow: its shaft, and two strokes at its tip.
func headOf(from, to pic.Pt, size float64) string {
	along := math.Atan2(to.Y-from.Y, to.X-from.X)
	const open = 0.45 // rad, half the angle between the strokes
	at := func(a float64) string {
		return number(to.X-size*math.Cos(along+a)) + " " + number(to.Y-size*math.Sin(along+a))
	}
	tip := number(to.X) + " " + number(to.Y)
	return "M" + number(from.X) + " " + number(from.Y) + "L" + tip + "M" + at(open) + "L" + tip + "L" + at(-open)
}
