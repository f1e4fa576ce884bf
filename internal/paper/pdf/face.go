package pdf

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"seatboard/internal/paper/theme"
)

// face is one face of the theme with its measures.
type face struct {
	family string
	data   []byte
	font   *sfnt.Font
	buf    sfnt.Buffer
	known  map[rune]glyph
}

// glyph is whether the face has a letter and how wide it is, in ems.
type glyph struct {
	there bool
	width float64
}

// faces are those of a document; lacking collects what none of them has.
type faces struct {
	sans, bold, serif *face
	lacking           map[rune]bool
}

func newFaces() (*faces, error) {
	f := &faces{lacking: map[rune]bool{}}
	for _, x := range []struct {
		to           **face
		name, family string
	}{{&f.sans, "sans-400", "sans"}, {&f.bold, "sans-600", "bold"}, {&f.serif, "serif-600", "serif"}} {
		data, err := fs.ReadFile(theme.Files(), "print/"+x.name+".ttf")
		if err != nil {
			return nil, fmt.Errorf("pdf: %w", err)
		}
		font, err := sfnt.Parse(data)
		if err != nil {
			return nil, fmt.Errorf("pdf: face %s: %w", x.name, err)
		}
		*x.to = &face{family: x.family, data: data, font: font, known: map[rune]glyph{}}
	}
	return f, nil
}

func (f *face) glyph(r rune) glyph {
	g, ok := f.known[r]
	if ok {
		return g
	}
	if i, err := f.font.GlyphIndex(&f.buf, r); err == nil && i != 0 {
		units := f.font.UnitsPerEm()
		if advance, err := f.font.GlyphAdvance(&f.buf, i, fixed.I(int(units)), 0); err == nil {
			g = glyph{true, float64(advance) / 64 / float64(units)}
		}
	}
	f.known[r] = g
	return g
}

// width is how wide a text is, in the unit of the size.
func (f *face) width(s string, size float64) float64 {
	sum := 0.0
	for _, r := range s {
		sum += f.glyph(r).width
	}
	return sum * size
}

// has tells whether the face has every letter of a text.
func (f *face) has(s string) bool {
	for _, r := range s {
		if !f.glyph(r).there {
			return false
		}
	}
	return true
}

// standIns are set where the face lacks a letter.
var standIns = strings.NewReplacer("⁻", "−", "\u2011", "-", "\u202f", "\u00a0", "\u2009", "\u00a0", "\u2028", " ", "\u2029", " ", "\u00ad", "", "\ufeff", "", "\u200b", "")

// missingLetter is set for a letter that no face has.
const missingLetter = '�'

// printable is a text as the face can set it, and notes what it cannot.
func (fs *faces) printable(f *face, s string) string {
	s = standIns.Replace(s)
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r) && r != '\u00a0', unicode.IsControl(r):
			return ' '
		case r == missingLetter || !f.glyph(r).there:
			fs.lacking[r] = true
			return missingLetter
		}
		return r
	}, s)
}

// lackingLetters are the letters that could not be set, in order.
func (fs *faces) lackingLetters() []rune {
	var out []rune
	for r := range fs.lacking {
		out = append(out, r)
	}
	slices.Sort(out)
	return out
}

// Ruler measures type before it is set. It is not safe for two goroutines.
type Ruler struct{ faces *faces }

// NewRuler makes a ruler; it fails only if the program was built wrongly.
func NewRuler() (*Ruler, error) {
	f, err := newFaces()
	return &Ruler{f}, err
}

// Width is how wide a text is set, in the unit of the size, in the plain or
// the semibold face.
func (r *Ruler) Width(s string, size float64, semibold bool) float64 {
	f := r.faces.sans
	if semibold {
		f = r.faces.bold
	}
	return f.width(r.faces.printable(f, s), size)
}

// Lacks lists the letters of a text that cannot be set, "" for none.
func (r *Ruler) Lacks(s string) string {
	r.faces.lacking = map[rune]bool{}
	r.faces.printable(r.faces.sans, s)
	return string(r.faces.lackingLetters())
}
