package desk

import (
	"fmt"

	"seatboard/internal/craft/divide"
	"seatboard/internal/craft/tooth"
	"seatboard/internal/craft/tooth/escapewheel"
	"seatboard/internal/craft/tooth/ratchet"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/paper/present"
)

// Division is a circle of teeth that is cut by what an answer says.
type Division struct {
	What     string // "the wheel of 56"
	Count    int
	Diameter meas.Reading[unit.Length] // of the rim, where it was typed
}

// Divisions lists the circles that an answer is cut by.
func Divisions(answer any) []Division {
	switch a := answer.(type) {
	case tooth.Answer:
		var out []Division
		if a.Query.Part != tooth.ThePinion {
			out = append(out, Division{fmt.Sprintf("the wheel of %d", a.Query.Wheel), int(a.Query.Wheel), a.Query.WheelOutside})
		}
		if a.Query.Part != tooth.TheWheel {
			out = append(out, Division{fmt.Sprintf("the pinion of %d", a.Query.Leaves), int(a.Query.Leaves), a.Query.PinionOutside})
		}
		return out
	case escapewheel.Answer:
		return []Division{{fmt.Sprintf("the escape wheel of %d", a.Query.Count), int(a.Query.Count), a.Query.Diameter}}
	case ratchet.Answer:
		return []Division{{fmt.Sprintf("the ratchet of %d", a.Query.Count), int(a.Query.Count), a.Query.Diameter}}
	}
	return nil
}

// By sets out how plates divide it: the move and the table to tick. A caution
// whose authority said has already is not said again.
func (d Division) By(p divide.Plates, said doc.Doc) (doc.Doc, error) {
	a, err := divide.Solve(divide.Query{Count: d.Count, Plates: p, Diameter: d.Diameter})
	if err != nil {
		return doc.Doc{}, err
	}
	all := present.Divide(a)
	one := doc.Section{Margin: all.Sections[0].Margin}
	for _, b := range all.Sections[0].Body { // how far to move
		if n, ok := b.(doc.Notice); !ok || n.Kind != doc.CautionNotice || !cautions(said, n.Ref.Source) {
			one.Body = append(one.Body, b)
		}
	}
	if len(a.Moves) > 0 {
		one.Body = append(one.Body, all.Sections[1].Body...) // the table; the rest is of the plates
	}
	return doc.Doc{Title: "Dividing " + d.What, Sections: []doc.Section{one}}, nil
}

// cautions tells whether a document has a caution of that authority.
func cautions(d doc.Doc, source string) bool {
	for _, s := range d.Sections {
		for _, b := range s.Body {
			if n, ok := b.(doc.Notice); ok && n.Kind == doc.CautionNotice && n.Ref.Source == source {
				return true
			}
		}
	}
	return false
}
