package svg

import "seatboard/internal/kit/pic"

// classes leaves every colour and weight to the theme.
type classes struct{}

func penClass(p pic.Pen) string {
	names := [...]string{"p-ink", "p-hair", "p-dash", "p-heavy", "p-brass", "p-steel", "p-good", "p-bad", "p-none"}
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

func (classes) text(l pic.Lettering) string {
	names := [...]string{"t-label", "t-name", "t-mark", "t-alarm", "t-fine"}
	if int(l) >= len(names) {
		l = pic.Label
	}
	return ` class="` + names[l] + `"`
}

func (classes) paper(string, string) string { return "" }

// inks writes colours for white paper; pen is one CSS pixel in the unit of
// the file.
type inks struct{ pen float64 }

// The colours of a file, as the light theme has them, on white.
const (
	inkColour   = "#1c1e22"
	softColour  = "#4f4a42"
	steelColour = "#1d4a73"
	brassColour = "#7d5a12"
	goodColour  = "#27604f"
	badColour   = "#96301f"
)

func (k inks) line(p pic.Pen) string {
	colour, width, more := inkColour, 1.2, ""
	switch p {
	case pic.Hair:
		colour, width = softColour, 0.6
	case pic.Dashed:
		colour, width = softColour, 0.8
		more = ` stroke-dasharray="` + number(4*k.pen) + " " + number(3*k.pen) + `"`
	case pic.Heavy:
		width = 2.2
	case pic.Chosen:
		colour, width = brassColour, 2.2
	case pic.Steel:
		colour, width = steelColour, 2
	case pic.Good:
		colour, width = goodColour, 1.6
	case pic.Bad:
		colour, width = badColour, 2.4
	case pic.NoLine:
		return ` stroke="none"`
	}
	return ` stroke="` + colour + `" stroke-width="` + number(width*k.pen) + `"` + more
}

func (k inks) area(p pic.Pen, f pic.Fill) string {
	fill := ` fill="none"`
	switch f {
	case pic.Ground:
		fill = ` fill="#ffffff"`
	case pic.Band:
		fill = ` fill="` + steelColour + `" fill-opacity="0.18"`
	case pic.Solid:
		fill = ` fill="` + inkColour + `"`
	case pic.BadFill:
		fill = ` fill="` + badColour + `"`
	case pic.Hatch, pic.Hatch2, pic.Shaded:
		fill = ""
	}
	return fill + k.line(p)
}

func (k inks) text(l pic.Lettering) string {
	colour, size, weight := softColour, 14.0, ""
	switch l {
	case pic.Name:
		colour, size, weight = inkColour, 16, ` font-weight="600"`
	case pic.Mark:
		colour = brassColour
	case pic.Alarm:
		colour, weight = badColour, ` font-weight="600"`
	case pic.Fine:
		colour = goodColour
	}
	return ` font-size="` + number(size*k.pen) + `" fill="` + colour + `"` + weight +
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
		s = ` fill="url(#` + esc(w.id) + patternOf(f).suffix + `)"` + s
	}
	return s
}

// pattern is a hatching: lines so far apart at an angle.
type pattern struct {
	suffix, angle string
	apart         float64
	pen           pic.Pen
}

func patternOf(f pic.Fill) pattern {
	switch f {
	case pic.Hatch2:
		return pattern{"-h2", "-45", 5, pic.Hair}
	case pic.Shaded:
		return pattern{"-z", "-45", 6, pic.Chosen}
	}
	return pattern{"-h", "45", 5, pic.Hair}
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
		p := patternOf(f)
		side, mid := number(p.apart*w.pen), number(p.apart*w.pen/2)
		look := w.look.line(p.pen)
		if p.pen == pic.Chosen {
			look = zoneLine(w.look, w.pen)
		}
		w.s(`<pattern id="`, esc(w.id), p.suffix, `" width="`, side, `" height="`, side,
			`" patternUnits="userSpaceOnUse" patternTransform="rotate(`, p.angle, `)"><line x1="`, mid, `" y1="0" x2="`, mid,
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
	return ` stroke="` + brassColour + `" stroke-width="` + number(pen) + `"`
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
		case pic.Group:
			mark(it.Items, used)
		}
	}
}
