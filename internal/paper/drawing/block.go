package drawing

import (
	"fmt"
	"strings"

	"seatboard/internal/kit/pic"
	"seatboard/internal/paper/pdf"
)

// finish adds to a sheet what stands on every one.
func (l *layer) finish(i int) pdf.Sheet {
	s := l.sheets[i]
	items := append(frame(s.w, s.h), l.block(i)...)
	items = append(items, l.bars(s)...)
	if s.plan != nil {
		items = append(items, s.plan.key(s.tile, box{s.w - margin - 45, s.h - margin - blockH - bandH + 2, 32, bandH - 3})...)
	}
	items = append(items, s.items...)
	return pdf.Sheet{
		Picture: pic.Picture{Title: l.Title, Desc: fmt.Sprintf("Sheet %d of %d", i+1, len(l.sheets)), W: s.w, H: s.h, Scale: pic.TrueSize, Items: items},
		Across:  correction(l.o.BarAcross), Upward: correction(l.o.BarDown),
	}
}

// frame is the edge of the drawing and its centring marks.
func frame(w, h float64) []pic.Item {
	out := []pic.Item{pic.Rect{Min: pic.Pt{X: bound, Y: margin}, W: w - bound - margin, H: h - 2*margin, Pen: pic.Heavy}}
	for _, m := range [][2]pic.Pt{
		{{X: w / 2, Y: margin - 5}, {X: w / 2, Y: margin}}, {{X: w / 2, Y: h - margin + 5}, {X: w / 2, Y: h - margin}},
		{{X: bound - 5, Y: h / 2}, {X: bound, Y: h / 2}}, {{X: w - margin + 5, Y: h / 2}, {X: w - margin, Y: h / 2}},
	} {
		out = append(out, pic.Line{A: m[0], B: m[1], Pen: pic.Ink})
	}
	return out
}

// bars are 100 mm across in the band over the title block, and 100 mm down in
// the margin for binding, with room to write what they measure.
func (l *layer) bars(s sheet) []pic.Item {
	band := s.h - margin - blockH - bandH
	out := pdf.ScaleBar(pic.Pt{X: bound + 4, Y: band + 5}, false)
	down := pic.Pt{X: 14, Y: margin + 2}
	out = append(out, pdf.Bar(down, true)...)
	for i, words := range []string{"100 mm", "down.", "Measured:", "________", "mm"} {
		out = append(out, pic.Text{P: pic.Pt{X: 5, Y: down.Y + 104 + 3.2*float64(i)}, S: words, Style: pic.Plain, Size: small})
	}
	advice := []string{"Print at 100 %, not fitted", "to the page; measure both."}
	if c := l.o; correction(c.BarAcross) != 1 || correction(c.BarDown) != 1 {
		advice = []string{"Corrected for a printer", fmt.Sprintf("that made %.2f, %.2f mm.", 100/correction(c.BarAcross), 100/correction(c.BarDown))}
	}
	if s.plan != nil {
		return out
	}
	for i, words := range advice {
		out = append(out, pic.Text{P: pic.Pt{X: s.w - margin - 42, Y: band + 6 + 4*float64(i)}, S: words, Style: pic.Plain, Size: small + 0.3})
	}
	return out
}

// block is the title block.
func (l *layer) block(i int) []pic.Item {
	s := l.sheets[i]
	x, w := float64(bound), s.w-bound-margin
	top := s.h - margin - blockH
	number := l.Of
	if number == "" {
		number = "–"
	}
	rows := [][]field{
		{{"Title", l.Title, w - 75}, {"Clock", number, 45}, {"Sheet", fmt.Sprintf("%d of %d", i+1, len(l.sheets)), 30}},
		{{"Drawing", l.Name, w - 140}, {"Scale", l.scales(), 40}, {"Unit", "mm", 15}, {"Day of issue", l.o.Day.Format("2006-01-02"), 30}, {"Checked", "", 25}, {"Made with", "Seatboard", 30}},
	}
	out := []pic.Item{pic.Line{A: pic.Pt{X: x, Y: top}, B: pic.Pt{X: x + w, Y: top}, Pen: pic.Ink}}
	for r, row := range rows {
		y, at := top+float64(r)*blockH/2, x
		if r > 0 {
			out = append(out, pic.Line{A: pic.Pt{X: x, Y: y}, B: pic.Pt{X: x + w, Y: y}, Pen: pic.Hair})
		}
		for c, f := range row {
			if c > 0 {
				out = append(out, pic.Line{A: pic.Pt{X: at, Y: y}, B: pic.Pt{X: at, Y: y + blockH/2}, Pen: pic.Hair})
			}
			size := normal
			if f.label == "Title" {
				size = large - 0.7
			}
			out = append(out, l.words(f.label, at+1, y+2.8, 2, f.w-2, false), l.words(f.value, at+1, y+7.6, size, f.w-2, f.label == "Title"))
			at += f.w
		}
	}
	return out
}

type field struct {
	label, value string
	w            float64
}

// scales says which scales the views have.
func (l *layer) scales() string {
	out := []string{}
	for _, v := range sized(l.Views) {
		s := "1 : 1"
		switch {
		case v.Scale > 1:
			s = fmt.Sprintf("%.3g : 1", v.Scale)
		case v.Scale < 1:
			s = fmt.Sprintf("1 : %.3g", 1/v.Scale)
		}
		if len(out) == 0 || out[len(out)-1] != s {
			out = append(out, s)
		}
	}
	return strings.Join(out, ", ")
}

// words are a text that is cut where it has no room.
func (l *layer) words(s string, x, y, size, room float64, bold bool) pic.Item {
	style := pic.Plain
	if bold {
		style = pic.Name
	}
	return pic.Text{P: pic.Pt{X: x, Y: y}, S: l.cut(s, size, room, bold), Style: style, Size: size}
}

func (l *layer) wordsEnd(s string, x, y, size, room float64) pic.Item {
	return pic.Text{P: pic.Pt{X: x, Y: y}, S: l.cut(s, size, room, false), Style: pic.Plain, Size: size, Anchor: pic.End}
}

func (l *layer) cut(s string, size, room float64, bold bool) string {
	if l.ruler.Width(s, size, bold) <= room {
		return s
	}
	runes := []rune(s)
	for len(runes) > 0 && l.ruler.Width(string(runes)+"…", size, bold) > room {
		runes = runes[:len(runes)-1]
	}
	return string(runes) + "…"
}

// lines breaks a text at spaces.
func (l *layer) lines(s string, room, size float64) []string {
	var out []string
	line := ""
	for _, word := range strings.Fields(s) {
		next := strings.TrimSpace(line + " " + word)
		if line != "" && l.ruler.Width(next, size, false) > room {
			out, next = append(out, line), word
		}
		line = next
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}
