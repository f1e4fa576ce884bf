package divide

import (
	"fmt"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// The counts that a circle is divided into.
const (
	Fewest = 2
	Most   = 1200
)

// Query is what is to be divided, and with what.
type Query struct {
	Count    int                       `json:"count,omitempty"` // 0: only which counts the plates reach
	Plates   Plates                    `json:"plates"`
	Compound bool                      `json:"compound,omitempty"` // two circles of one plate may be used
	Diameter meas.Reading[unit.Length] `json:"diameter"`           // of the rim, for errors as lengths
}

// Check returns every mistake in the query; fields are the form's names.
func (q Query) Check() meas.Faults {
	var f meas.Faults
	if q.Count != 0 && (q.Count < Fewest || q.Count > Most) {
		f = append(f, meas.Fault{Field: "count", Text: fmt.Sprintf("A circle is divided into %d to %d here; %d was entered", Fewest, Most, q.Count)})
	}
	if q.Plates.Empty() {
		f = append(f, meas.Fault{Field: "plates", Text: "Enter the plates, like plate A: 60 72 96, or head 40:1 with 15 16 17"})
	}
	if d := q.Diameter; d.Set && !(d.Value > 0 && d.Value <= 2) {
		f = append(f, meas.Fault{Field: "diameter", Text: "The diameter of the rim must be above 0 and at most 2 m; " + d.Entered + " was entered"})
	}
	return f
}
