package train

import (
	"fmt"
	"strings"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Text is the train as a handbook prints it, whether it was typed so or arbor
// by arbor: "96/8 60/8 ?/7 30"; "" where there are no counts, and as typed
// where they cannot be read.
func (t Train) Text() string {
	if t.Chain.Err() != nil {
		return t.Chain.Entered()
	}
	return Chain{arbors: t.Rows()}.String()
}

// SizesText is the measured sizes of the train as [ParseSizes] reads them, a
// line for each arbor of which something was measured.
func (t Train) SizesText() string {
	var lines []string
	for i, a := range t.Rows() {
		line := fmt.Sprint(i + 1)
		for _, s := range []struct {
			what string
			r    meas.Reading[unit.Length]
		}{{"wheel", a.WheelDiameter}, {"pinion", a.PinionDiameter}, {"depth", a.Depth}} {
			if s.r.Set {
				line += " " + s.what + " " + s.r.Written("mm")
			}
		}
		if strings.Contains(line, " ") {
			lines = append(lines, line)
		}
	}
	return strings.Join(lines, "\n")
}
