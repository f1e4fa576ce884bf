package label

import (
	"fmt"
	"strconv"
	"strings"

	"seatboard/internal/book/ledger"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Kind is what labels are printed on.
type Kind string

// The kinds.
const (
	Sheet Kind = "sheet" // sheets with labels in rows and columns
	Tape  Kind = "tape"  // one label after the other: the page is the label
)

// Length is a length as entered.
type Length = meas.Reading[unit.Length]

// Profile is a sheet or a tape with its measures. Lengths that are not stated
// have the meaning beside them.
type Profile struct {
	Name string `json:"name"`
	Kind Kind   `json:"kind"`

	PageWidth  Length `json:"page_width"`  // of a sheet
	PageHeight Length `json:"page_height"` // of a sheet
	Width      Length `json:"width"`       // of a label; of a tape not stated: as long as its words
	Height     Length `json:"height"`      // of a label; of a tape its width
	Left       Length `json:"left"`        // from the sheet's edge to the first label; none
	Top        Length `json:"top"`         // likewise
	StepRight  Length `json:"step_right"`  // from a label to the next; the width
	StepDown   Length `json:"step_down"`   // likewise; the height
	Columns    int    `json:"columns"`
	Rows       int    `json:"rows"`

	Right     Length `json:"right"`      // by how much all is moved to the right, negative to the left
	Down      Length `json:"down"`       // likewise down
	BarAcross Length `json:"bar_across"` // what the bar of 100 mm measures as printed; 100 mm
	BarDown   Length `json:"bar_down"`   // likewise
}

// OnSheet is how many labels a sheet has; 0 for a tape.
func (p Profile) OnSheet() int {
	if p.Kind == Tape {
		return 0
	}
	return p.Columns * p.Rows
}

// Stock are profiles to begin with, from memory: common office stationery,
// no source.
func Stock() []Profile {
	as := func(v unit.Length, x float64, symbol string) Length {
		return Length{Value: v, Set: true, Entered: strconv.FormatFloat(x, 'f', -1, 64) + " " + symbol}
	}
	mm := func(x float64) Length { return as(unit.Millimetres(x), x, "mm") }
	in := func(x float64) Length { return as(unit.Inches(x), x, "in") }
	return []Profile{
		{Name: "A4, 21 labels of 63.5 × 38.1 mm", Kind: Sheet, PageWidth: mm(210), PageHeight: mm(297), Width: mm(63.5), Height: mm(38.1), Left: mm(7.25), Top: mm(15.15), StepRight: mm(66), StepDown: mm(38.1), Columns: 3, Rows: 7},
		{Name: "A4, 65 labels of 38.1 × 21.2 mm", Kind: Sheet, PageWidth: mm(210), PageHeight: mm(297), Width: mm(38.1), Height: mm(21.2), Left: mm(4.75), Top: mm(10.7), StepRight: mm(40.6), StepDown: mm(21.2), Columns: 5, Rows: 13},
		{Name: "A4, 189 labels of 25.4 × 10 mm", Kind: Sheet, PageWidth: mm(210), PageHeight: mm(297), Width: mm(25.4), Height: mm(10), Left: mm(8.6), Top: mm(13.5), StepRight: mm(27.9), StepDown: mm(10), Columns: 7, Rows: 27},
		{Name: "Letter, 30 labels of 2 5/8 × 1 in", Kind: Sheet, PageWidth: in(8.5), PageHeight: in(11), Width: in(2.625), Height: in(1), Left: in(0.1875), Top: in(0.5), StepRight: in(2.75), StepDown: in(1), Columns: 3, Rows: 10},
		{Name: "Tape of 12 mm", Kind: Tape, Height: mm(12)},
		{Name: "Tape of 24 mm", Kind: Tape, Height: mm(24)},
		{Name: "Roll of 62 mm, labels of 29 mm", Kind: Tape, Width: mm(62), Height: mm(29)},
	}
}

// The limits of a profile.
const (
	leastSide = 4    // mm, of a label
	mostSide  = 2000 // mm, of a page
	mostLines = 500  // rows or columns
	mostMoved = 50   // mm
)

// Check lists every mistake in a profile.
func (p Profile) Check() meas.Faults {
	c := checking{}
	if strings.TrimSpace(p.Name) == "" {
		c.add("name", "Enter a name for this profile, as you would ask for the sheet in a shop")
	}
	c.faults = append(c.faults, ledger.CheckText("name", p.Name)...)
	switch p.Kind {
	case Sheet:
		p.checkSheet(&c)
	case Tape:
		c.length("height", "The width of the tape", p.Height, true, leastSide, mostSide)
		c.length("width", "The length of the label", p.Width, false, leastSide, mostSide)
	default:
		c.add("kind", "Choose sheet or tape")
	}
	c.length("right", "How far it is moved to the right", p.Right, false, -mostMoved, mostMoved)
	c.length("down", "How far it is moved down", p.Down, false, -mostMoved, mostMoved)
	c.length("bar-across", "The bar across, as measured,", p.BarAcross, false, 80, 120)
	c.length("bar-down", "The bar down, as measured,", p.BarDown, false, 80, 120)
	return c.faults
}

func (p Profile) checkSheet(c *checking) {
	for _, n := range []struct {
		field, what string
		n           int
	}{{"columns", "labels side by side", p.Columns}, {"rows", "labels one below the other", p.Rows}} {
		if n.n < 1 || n.n > mostLines {
			c.add(n.field, fmt.Sprintf("Enter how many %s the sheet has, from 1 to %d", n.what, mostLines))
		}
	}
	c.length("page-width", "The width of the sheet", p.PageWidth, true, leastSide, mostSide)
	c.length("page-height", "The height of the sheet", p.PageHeight, true, leastSide, mostSide)
	c.length("width", "The width of a label", p.Width, true, leastSide, mostSide)
	c.length("height", "The height of a label", p.Height, true, leastSide, mostSide)
	c.length("left", "The distance of the first label from the left edge", p.Left, false, 0, mostSide)
	c.length("top", "The distance of the first label from the upper edge", p.Top, false, 0, mostSide)
	c.length("step-right", "The step to the next label on the right", p.StepRight, false, leastSide, mostSide)
	c.length("step-down", "The step to the next label below", p.StepDown, false, leastSide, mostSide)
	if len(c.faults) > 0 {
		return // what does not fit can be told once all is there
	}
	c.fits("width", "right", p.Left.Value, p.Width.Value, p.StepRight, p.Columns, p.PageWidth.Value)
	c.fits("height", "lower", p.Top.Value, p.Height.Value, p.StepDown, p.Rows, p.PageHeight.Value)
}

// checking gathers faults.
type checking struct{ faults meas.Faults }

func (c *checking) add(field, text string) {
	c.faults = append(c.faults, meas.Fault{Field: field, Text: text})
}

// length checks one length against limits in millimetres.
func (c *checking) length(field, what string, l Length, needed bool, least, most float64) {
	switch mm := l.Value.MM(); {
	case !l.Set && needed:
		c.add(field, "Enter "+strings.ToLower(what[:1])+what[1:])
	case l.Set && !(mm >= least && mm <= most):
		c.add(field, fmt.Sprintf("%s must be between %g and %g mm", what, least, most))
	}
}

// fits tells whether a row of labels stays on the sheet and apart. A twentieth
// of a millimetre is left to rounding.
func (c *checking) fits(field, edge string, start, size unit.Length, step Length, n int, page unit.Length) {
	by := size.MM()
	if step.Set {
		by = step.Value.MM()
	}
	if by < size.MM()-0.05 {
		c.add("step-"+map[string]string{"right": "right", "lower": "down"}[edge], "The step is less than the label: they would lie over one another")
	}
	if over := start.MM() + float64(n-1)*by + size.MM() - page.MM(); over > 0.05 {
		c.add(field, fmt.Sprintf("The labels run %.1f mm beyond the %s edge of the sheet; measure the sheet again", over, edge))
	}
}
