package present

import (
	"cmp"
	"math"
	"strconv"

	"seatboard/internal/book/picture"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
)

// photoOf is a photograph in a document, under words of when it is from.
func photoOf(p picture.Photo, when string) doc.Photo {
	caption := cmp.Or(p.Caption, "Photograph of "+p.Received.Local().Format("2 January 2006 15:04"))
	if when != "" {
		caption = when + ": " + caption
	}
	out := doc.Photo{Name: p.UID, Caption: caption, W: float64(p.Width), H: float64(p.Height)}
	for _, m := range p.Marks {
		out.Marks = append(out.Marks, markItems(m, float64(max(p.Width, p.Height))/28)...)
	}
	return out
}

// markItems is a mark on a photograph, light under red so that it is seen over
// anything; size is the height of lettering in pixels of the photograph.
func markItems(m picture.Mark, size float64) []pic.Item {
	from, to := pic.Pt{X: m.X, Y: m.Y}, pic.Pt{X: m.X2, Y: m.Y2}
	words := func(s string, p pic.Pt, a pic.Anchor) pic.Item {
		return pic.Text{P: p, S: s, Anchor: a, Style: pic.Alarm, Size: size}
	}
	switch m.Kind {
	case picture.Arrow:
		along := math.Atan2(to.Y-from.Y, to.X-from.X)
		stroke := func(a float64) pic.Item {
			return pic.Line{A: to, B: pic.Pt{X: to.X - size*math.Cos(along+a), Y: to.Y - size*math.Sin(along+a)}, Pen: pic.Bad}
		}
		return []pic.Item{pic.Line{A: from, B: to, Pen: pic.Bad}, stroke(0.45), stroke(-0.45)}
	case picture.Ring:
		return []pic.Item{pic.Circle{C: from, R: math.Hypot(to.X-from.X, to.Y-from.Y), Pen: pic.Bad}}
	case picture.Number:
		return []pic.Item{pic.Circle{C: from, R: 0.8 * size, Pen: pic.Bad, Fill: pic.Ground}, words(strconv.Itoa(m.N), pic.Pt{X: from.X, Y: from.Y + 0.36*size}, pic.Middle)}
	}
	return []pic.Item{words(m.Text, from, pic.Start)}
}
