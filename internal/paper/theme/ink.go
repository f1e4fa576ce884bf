package theme

import "seatboard/internal/kit/pic"

// The colours on white paper, those of the light theme, as #rrggbb.
const (
	Ink   = "#1c1e22"
	Soft  = "#4f4a42"
	Steel = "#1d4a73"
	Brass = "#7d5a12"
	Good  = "#27604f"
	Bad   = "#96301f"
)

// Stroke is how a pen draws on paper. Widths and dashes are CSS pixels.
type Stroke struct {
	Colour string    // #rrggbb, "" for no line
	Width  float64   // of the line
	Dash   []float64 // lengths of dash and gap in turn, none for a line without gaps
}

// PenOnPaper is the stroke of a pen.
func PenOnPaper(p pic.Pen) Stroke {
	switch p {
	case pic.Hair:
		return Stroke{Colour: Soft, Width: 0.6}
	case pic.Dashed:
		return Stroke{Colour: Soft, Width: 0.8, Dash: []float64{4, 3}}
	case pic.Chain:
		return Stroke{Colour: Soft, Width: 0.6, Dash: []float64{14, 3, 1, 3}}
	case pic.Heavy:
		return Stroke{Colour: Ink, Width: 2.2}
	case pic.Chosen:
		return Stroke{Colour: Brass, Width: 2.2}
	case pic.Steel:
		return Stroke{Colour: Steel, Width: 2}
	case pic.Good:
		return Stroke{Colour: Good, Width: 1.6}
	case pic.Bad:
		return Stroke{Colour: Bad, Width: 2.4}
	case pic.NoLine:
		return Stroke{}
	}
	return Stroke{Colour: Ink, Width: 1.2}
}

// Face is how a lettering stands on paper; Size is in CSS pixels.
type Face struct {
	Colour   string
	Size     float64
	Semibold bool
}

// LetteringOnPaper is the face of a lettering.
func LetteringOnPaper(l pic.Lettering) Face {
	switch l {
	case pic.Name:
		return Face{Colour: Ink, Size: 16, Semibold: true}
	case pic.Mark:
		return Face{Colour: Brass, Size: 14}
	case pic.Alarm:
		return Face{Colour: Bad, Size: 14, Semibold: true}
	case pic.Fine:
		return Face{Colour: Good, Size: 14}
	case pic.Plain:
		return Face{Colour: Ink, Size: 14}
	}
	return Face{Colour: Soft, Size: 14}
}

// Hatching is a field of lines, so far apart in CSS pixels.
type Hatching struct {
	Degrees float64 // how far the lines are turned from upright, clockwise
	Apart   float64
	Pen     pic.Pen
}

// HatchingOnPaper is the hatching of a fill; false for a fill that has none.
func HatchingOnPaper(f pic.Fill) (Hatching, bool) {
	switch f {
	case pic.Hatch:
		return Hatching{45, 5, pic.Hair}, true
	case pic.Hatch2:
		return Hatching{-45, 5, pic.Hair}, true
	case pic.Shaded:
		return Hatching{-45, 6, pic.Chosen}, true
	}
	return Hatching{}, false
}
