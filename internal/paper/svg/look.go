package svg

import (
	"strings"

	"seatboard/internal/kit/pic"
	"seatboard/internal/paper/theme"
)

// classes leaves every colour and weight to the theme.
type classes struct{}

func penClass(p pic.Pen) string {
	names := [...]string{"p-ink", "p-hair", "p-dash", "p-heavy", "p-brass", "p-steel", "p-good", "p-bad", "p-none", "p-chain"}
	if int(p) >= len(names) {
		return names[0]
	}
	return names[p]
}

func fillClass(f pic.Fill) string {
	switch f {
	case pic.Ground:
		return "f-ground"
	case pic.Band:
		return "f-band"
	case pic.Solid:
		return "f-solid"
	case pic.BadFill:
		return "f-bad"
	}
	return "f-none"
}

func (classes) line(p pic.Pen) string { return ` class="` + penClass(p) + `"` }

func (classes) area(p pic.Pen, f pic.Fill) string {
	if hatched(f) {
		return ` class="` + penClass(p) + `"`
	}
	return ` class="` + penClass(p) + " " + fillClass(f) + `"`
}

func (classes) text(l pic.Lettering, size float64) string {
	names := [...]string{"t-label", "t-name", "t-mark", "t-alarm", "t-fine", "t-plain"}
	if int(l) >= len(names) {
		l = pic.Label
	}
	if size == 0 {
		return ` class="` + names[l] + `"`
	}
	return ` class="` + names[l] + `" font-size="` + number(size) + `"`
}

func (classes) paper(string, string) string { return "" }

// inks writes colours for white paper; pen is one CSS pixel in the unit of
// the file.
type inks struct{ pen float64 }

func (k inks) line(p pic.Pen) string {
	l := theme.PenOnPaper(p)
	if l.Colour == "" {
		return ` stroke="none"`
	}
	dash := ""
	if len(l.Dash) > 0 {
		lengths := make([]string, len(l.Dash))
		for i, x := range l.Dash {
			lengths[i] = number(x * k.pen)
		}
		dash = ` stroke-dasharray="` + strings.Join(lengths, " ") + `"`
	}
	return ` stroke="` + l.Colour + `" stroke-width="` + number(l.Width*k.pen) + `"` + dash
}

func (k inks) area(p pic.Pen, f pic.Fill) string {
	fill := ` fill="none"`
	switch f {
	case pic.Ground:
		fill = ` fill="#ffffff"`
	case pic.Band:
		fill = ` fill="` + theme.Steel + `" fill-opacity="0.18"`
	case pic.Solid:
		fill = ` fill="` + theme.Ink + `"`
	case pic.BadFill:
		fill = ` fill="` + theme.Bad + `"`
	case pic.Hatch, pic.Hatch2, pic.Shaded:
		fill = ""
	}
	return fill + k.line(p)
}

func (k inks) text(l pic.Lettering, size float64) string {
	face, weight := theme.LetteringOnPaper(l), ""
	if face.Semibold {
		weight = ` font-weight="600"`
	}
	if size == 0 {
		size = face.Size * k.pen
	}
	return ` font-size="` + number(size) + `" fill="` + face.Colour + `"` + weight +
		` stroke="#ffffff" stroke-width="` + number(4*k.pen) + `" stroke-linejoin="round" paint-order="stroke"`
}

func (inks) paper(w, h string) string {
	return `<rect width="` + w + `" height="` + h + `" fill="#ffffff"/>` + "\n"
}

func hatched(f pic.Fill) bool { return f == pic.Hatch || f == pic.Hatch2 || f == pic.Shaded }

// area is the attributes of a closed shape.
func (w *writer) area(p pic.Pen, f pic.Fill) string {
	s := w.look.area(p, f)
	if hatched(f) {
		s = ` fill="url(#` + esc(w.id) + suffix(f) + `)"` + s
	}
	return s
}

// suffix ends the id of a hatching's pattern.
func suffix(f pic.Fill) string {
	switch f {
	case pic.Hatch2:
		return "-h2"
	case pic.Shaded:
		return "-z"
	}
	return "-h"
}

// patterns writes the hatchings that are used, once each.
func (w *writer) patterns(items []pic.Item) {
	var used [int(pic.BadFill) + 1]bool
	mark(items, used[:])
	open := false
	for _, f := range []pic.Fill{pic.Hatch, pic.Hatch2, pic.Shaded} {
		if !used[f] {
			continue
		}
		if !open {
			w.s("<defs>\n")
			open = true
		}
		h, _ := theme.HatchingOnPaper(f)
		side, mid := number(h.Apart*w.pen), number(h.Apart*w.pen/2)
		look := w.look.line(h.Pen)
		if h.Pen == pic.Chosen {
			look = zoneLine(w.look, w.pen)
		}
		w.s(`<pattern id="`, esc(w.id), suffix(f), `" width="`, side, `" height="`, side,
			`" patternUnits="userSpaceOnUse" patternTransform="rotate(`, number(h.Degrees), `)"><line x1="`, mid, `" y1="0" x2="`, mid,
			`" y2="`, side, `"`, look, "/></pattern>\n")
	}
	if open {
		w.s("</defs>\n")
	}
}

// zoneLine is the thinner brass line of a shaded zone.
func zoneLine(l look, pen float64) string {
	if _, ok := l.(classes); ok {
		return ` class="p-zone"`
	}
	return ` stroke="` + theme.Brass + `" stroke-width="` + number(pen) + `"`
}

func mark(items []pic.Item, used []bool) {
	note := func(f pic.Fill) {
		if int(f) < len(used) {
			used[f] = true
		}
	}
	for _, it := range items {
		switch it := it.(type) {
		case pic.Poly:
			note(it.Fill)
		case pic.Rect:
			note(it.Fill)
		case pic.Circle:
			note(it.Fill)
		case pic.Outline:
			note(it.Fill)
		case pic.Group:
			mark(it.Items, used)
		case pic.Window:
			mark(it.Items, used)
		}
	}
}
