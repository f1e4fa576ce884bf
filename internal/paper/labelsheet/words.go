package labelsheet

import (
	"fmt"
	"slices"
	"strings"

	"seatboard/internal/kit/pic"
)

// Sizes of type in millimetres at full scale, and the least that is read at
// arm's length (common practice, no source).
const (
	numberSize    = 5.0
	nameSize      = 3.6
	cautionSize   = 3.6
	authoritySize = 2.4
	shortSize     = 2.8
	lineHeight    = 1.18
	leastScale    = 0.5 // 2.5 mm for the number, 1.8 mm for the name
	thinScale     = 0.2 // below leastScale only so that a number need not be cut
	scaleStep     = 0.02
)

// set is the words of a label at some scale.
type set struct {
	scale     float64
	number    []string
	name      []string
	caution   []string
	authority []string
	cut       bool // the name is not whole
}

func (s set) height() float64 {
	return s.scale * lineHeight * (numberSize*float64(len(s.number)) + nameSize*float64(len(s.name)) + cautionSize*float64(len(s.caution)) + authoritySize*float64(len(s.authority)) + shortSize)
}

// words sets number, name, cautions and short id into a box, as large as they
// fit.
func (l *layer) words(x Label, b box) []pic.Item {
	s := l.fit(x, b)
	if lacks := l.ruler.Lacks(x.whole() + x.Name); lacks != "" {
		l.warns.add(noLetters, x, lacks)
	}
	if s.cut {
		l.warns.add(cutName, x, "")
	}
	if s.scale < leastScale {
		l.warns.add(smallType, x, fmt.Sprintf("%.1f mm", s.scale*numberSize))
	}
	var out []pic.Item
	y := b.y + max(0, (b.h-s.height())/2)
	lines := func(texts []string, size float64, style pic.Lettering) {
		for _, text := range texts {
			y += s.scale * size * lineHeight
			out = append(out, pic.Text{P: pic.Pt{X: b.x, Y: y - 0.25*s.scale*size}, S: text, Style: style, Size: s.scale * size})
		}
	}
	lines(s.number, numberSize, pic.Name)
	lines(s.caution, cautionSize, pic.Name)
	lines(s.authority, authoritySize, pic.Plain)
	lines(s.name, nameSize, pic.Plain)
	lines([]string{x.Short}, shortSize, pic.Plain)
	return out
}

// telling is how much of its cautions a label says, and the least scale at
// which it is said so.
type telling struct {
	words, authority bool
	least            float64
}

// tellings lists them, the most first; without a caution all are the same.
func tellings(x Label) []telling {
	if len(x.Cautions) == 0 {
		return []telling{{least: leastScale}}
	}
	return []telling{{true, true, 0.76}, {true, false, 0.62}, {false, false, leastScale}}
}

// fit finds the largest scale at which all is whole; then the least at which
// the name is cut; then one at which number and cautions have room, however
// small.
func (l *layer) fit(x Label, b box) set {
	all := tellings(x)
	for _, t := range all {
		for scale := 1.2; scale >= t.least; scale -= scaleStep {
			if s, ok := l.try(x, b, scale, 3, t); ok {
				return s
			}
		}
	}
	last := all[len(all)-1]
	for scale := leastScale; scale >= thinScale; scale -= scaleStep {
		for lines := 2; lines >= 0; lines-- {
			if s, ok := l.cutTo(x, b, scale, lines, last); ok {
				return s
			}
		}
	}
	s := set{scale: thinScale, number: l.number(x, b.w, thinScale), cut: x.Name != ""}
	l.warn(&s, x, b.w, last)
	for most := l.widest(s, x); (most > b.w || len(s.caution) > 0 && s.height() > b.h) && s.scale > 0.01; most = l.widest(s, x) {
		s.scale *= 0.9
	}
	return s
}

// warn puts the cautions into a set; false where a word is wider than the
// line.
func (l *layer) warn(s *set, x Label, width float64, t telling) bool {
	ok := true
	add := func(to *[]string, text string, size float64, bold bool) {
		lines, whole := l.wrap(text, width, s.scale*size, bold)
		*to, ok = append(*to, lines...), ok && whole
	}
	var names, authorities []string
	for _, c := range x.Cautions {
		switch {
		case t.words:
			add(&s.caution, "! "+c.Words, cautionSize, true)
		case !slices.Contains(names, c.Name):
			names = append(names, c.Name)
		}
		if !slices.Contains(authorities, c.Authority) {
			authorities = append(authorities, c.Authority)
		}
	}
	if len(names) > 0 {
		add(&s.caution, "! "+strings.Join(names, ", "), cautionSize, true)
	}
	if t.authority && len(authorities) > 0 {
		add(&s.authority, strings.Join(authorities, "; "), authoritySize, false)
	}
	return ok
}

func (l *layer) widest(s set, x Label) float64 {
	most := l.ruler.Width(x.Short, s.scale*shortSize, false)
	for _, t := range s.number {
		most = max(most, l.ruler.Width(t, s.scale*numberSize, true))
	}
	for _, t := range s.caution {
		most = max(most, l.ruler.Width(t, s.scale*cautionSize, true))
	}
	return most
}

// number is the number on one line, or broken before the part's.
func (l *layer) number(x Label, width, scale float64) []string {
	if x.Part == "" || l.ruler.Width(x.whole(), scale*numberSize, true) <= width {
		return []string{x.whole()}
	}
	return []string{x.Clock, "." + x.Part}
}

func (l *layer) try(x Label, b box, scale float64, most int, t telling) (set, bool) {
	s := set{scale: scale, number: l.number(x, b.w, scale)}
	told := l.warn(&s, x, b.w, t)
	var ok bool
	s.name, ok = l.wrap(x.Name, b.w, scale*nameSize, false)
	return s, ok && told && len(s.name) <= most && s.height() <= b.h && l.widest(s, x) <= b.w
}

// cutTo leaves so many lines to the name and cuts what is over.
func (l *layer) cutTo(x Label, b box, scale float64, lines int, t telling) (set, bool) {
	s := set{scale: scale, number: l.number(x, b.w, scale)}
	told := l.warn(&s, x, b.w, t)
	name, whole := l.wrap(x.Name, b.w, scale*nameSize, false)
	if len(name) > lines || !whole {
		s.cut = true
		name = name[:min(lines, len(name))]
		if n := len(name); n > 0 {
			name[n-1] = l.shorten(name[n-1]+" …", b.w, scale*nameSize)
		}
	}
	s.name = name
	return s, told && s.height() <= b.h && l.widest(s, x) <= b.w
}

// shorten takes letters off before the … until the line fits.
func (l *layer) shorten(s string, width, size float64) string {
	r := []rune(strings.TrimSuffix(s, " …"))
	for len(r) > 0 && l.ruler.Width(string(r)+"…", size, false) > width {
		r = r[:len(r)-1]
	}
	return strings.TrimRight(string(r), " ,") + "…"
}

// wrap breaks a text at spaces; false where a word is wider than the line.
func (l *layer) wrap(s string, width, size float64, bold bool) (lines []string, ok bool) {
	ok = true
	for _, word := range strings.Fields(s) {
		last := len(lines) - 1
		if last >= 0 && l.ruler.Width(lines[last]+" "+word, size, bold) <= width {
			lines[last] += " " + word
			continue
		}
		lines = append(lines, word)
		ok = ok && l.ruler.Width(word, size, bold) <= width
	}
	return lines, ok
}

// A label of a tape is as long as its words, within these millimetres.
const (
	shortTape = 12
	longTape  = 80
)

// longEnough is the room that the words of a tape's label want in length at
// the scale that its width gives.
func (l *layer) longEnough(x Label, h float64) float64 {
	lines := 1.0
	if x.Name == "" {
		lines = 0
	}
	high := numberSize + nameSize*lines + cautionSize*float64(len(x.Cautions)) + shortSize
	scale := min(1.2, max(leastScale, h/(lineHeight*high)))
	want := max(l.ruler.Width(x.whole(), scale*numberSize, true), l.ruler.Width(strings.Join(strings.Fields(x.Name), " "), scale*nameSize, false), l.ruler.Width(x.Short, scale*shortSize, false))
	for _, c := range x.Cautions {
		want = max(want, l.ruler.Width("! "+c.Words, scale*cautionSize, true))
	}
	return min(max(want+0.1, shortTape), longTape)
}

// warning is a kind of thing to know before printing.
type warning int

const (
	noCode warning = iota
	smallCode
	smallType
	cutName
	noLetters
)

// warnings counts the labels they are of, with the first of each kind; copies
// come one after the other and count once.
type warnings struct {
	n     [noLetters + 1]int
	last  [noLetters + 1]Label
	first [noLetters + 1]Label
	what  [noLetters + 1]string
}

func (w *warnings) add(kind warning, x Label, what string) {
	if w.n[kind] > 0 && w.last[kind].Short == x.Short {
		return
	}
	w.last[kind] = x
	if w.n[kind] == 0 {
		w.first[kind], w.what[kind] = x, what
	}
	w.n[kind]++
}

func (w *warnings) words() []string {
	sentences := [...]string{
		noCode:    "%s no code: its cells would be %s, and nothing reads that. The short id is printed all the same; a larger label or a shorter address brings the code back.",
		smallCode: "%s a code with cells of %s. Cameras read 0.4 mm and more; try one before you print the rest, or take a larger label or a shorter address.",
		smallType: "%s so little room that the number is %s high.",
		cutName:   "%s a name that has no room and is cut%s; the number and the short id are whole.",
		noLetters: "%s letters that cannot be printed: %s.",
	}
	var out []string
	for kind, n := range w.n {
		if n == 0 {
			continue
		}
		who := w.first[kind].whole() + " has"
		if n > 1 {
			who = fmt.Sprintf("%s and %d more have", w.first[kind].whole(), n-1)
		}
		out = append(out, fmt.Sprintf(sentences[kind], who, w.what[kind]))
	}
	return out
}
