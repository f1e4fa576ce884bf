package picture

import (
	"fmt"
	"math"

	"seatboard/internal/kit/meas"
)

// MarkKind is the kind of a mark.
type MarkKind string

// The kinds of marks.
const (
	Arrow  MarkKind = "arrow"  // from X, Y to its head at X2, Y2
	Ring   MarkKind = "ring"   // round X, Y through X2, Y2
	Number MarkKind = "number" // N at X, Y
	Text   MarkKind = "text"   // Text beginning at X, Y
)

// Limits of marks.
const (
	MaxMarks    = 100
	MaxMarkText = 200 // letters
)

// Mark lies over a photograph and is kept beside it. Its places are pixels of
// the photograph in full size and upright, from its upper left corner.
type Mark struct {
	Kind MarkKind `json:"kind"`
	X    float64  `json:"x"`
	Y    float64  `json:"y"`
	X2   float64  `json:"x2,omitempty"` // of arrow and ring
	Y2   float64  `json:"y2,omitempty"`
	N    int      `json:"n,omitempty"` // of a number, 1 to 999
	Text string   `json:"text,omitempty"`
}

// Words says what a mark is and where, for those who do not see it.
func (m Mark) Words() string {
	at := func(x, y float64) string { return fmt.Sprintf("%.0f, %.0f", x, y) }
	switch m.Kind {
	case Arrow:
		return "arrow from " + at(m.X, m.Y) + " to " + at(m.X2, m.Y2)
	case Ring:
		return fmt.Sprintf("ring of %.0f pixels about %s", math.Hypot(m.X2-m.X, m.Y2-m.Y), at(m.X, m.Y))
	case Number:
		return fmt.Sprintf("number %d at %s", m.N, at(m.X, m.Y))
	}
	return fmt.Sprintf("“%s” at %s", m.Text, at(m.X, m.Y))
}

// NextNumber is the number that the next mark of numbers gets: one more than
// the highest there is.
func NextNumber(marks []Mark) int {
	n := 0
	for _, m := range marks {
		if m.Kind == Number {
			n = max(n, m.N)
		}
	}
	return n + 1
}

// check lists what is wrong with a mark; a size of 0 is not known.
func (m Mark) check(i, width, height int) meas.Faults {
	var f meas.Faults
	bad := func(text string) {
		f = append(f, meas.Fault{Field: fmt.Sprintf("marks[%d]", i), Text: text})
	}
	w, h := float64(width), float64(height)
	if width == 0 || height == 0 {
		w, h = MaxSide, MaxSide
	}
	inside := func(x, y float64) bool { return x >= 0 && y >= 0 && x <= w && y <= h } // false for NaN
	if !inside(m.X, m.Y) || !inside(m.X2, m.Y2) {
		bad("A mark lies on the photograph")
	}
	switch m.Kind {
	case Arrow, Ring:
		if math.Hypot(m.X2-m.X, m.Y2-m.Y) < 1 {
			bad("Draw an arrow or a ring at least one pixel long")
		}
	case Number:
		if m.N < 1 || m.N > 999 {
			bad("A number on a photograph is 1 to 999")
		}
	case Text:
		if m.Text == "" {
			bad("Write what the mark says")
		}
	default:
		bad("A mark is an arrow, a ring, a number or a text")
	}
	if !plain(m.Text, MaxMarkText) {
		bad(fmt.Sprintf("Write at most %d letters in a mark", MaxMarkText))
	}
	return f
}
