package form

import (
	"fmt"
	"strings"

	"seatboard/internal/craft/clean"
	"seatboard/internal/kit/meas"
)

// Clean declares the inputs of a cleaning batch: the pieces and the bath.
func Clean(q *clean.Query) Form {
	words := make([]string, 0, len(clean.Materials()))
	for _, m := range clean.Materials() {
		words = append(words, string(m))
	}
	pieces := Field{Name: "pieces", Label: "Parts", Kind: Area, Arg: true, set: func(s string) error { return readPieces(q, s) }}
	pieces.Hint = "A part on a line, then a colon and all that it is made of and carries: third wheel: brass-worked, steel. The materials are " + strings.Join(words, ", ")
	return Form{Name: "clean", Groups: append([]Group{{Legend: "What goes in", Fields: []Field{pieces}}}, bathGroups(q)...)}
}

// Bath declares the inputs of a cleaning batch whose pieces come from a
// take-down ledger.
func Bath(q *clean.Query) Form { return Form{Name: "bath", Groups: bathGroups(q)} }

func bathGroups(q *clean.Query) []Group {
	var liquids []Option
	for _, l := range clean.Liquids() {
		liquids = append(liquids, Option{l.Key, l.Name})
	}
	return []Group{
		{Legend: "The bath", Fields: []Field{
			Choice("liquid", "Liquid", &q.Liquid, liquids...),
			Text("product", "Product, as on the label", &q.Product),
			Quantity("time", "Time in the bath", "min", &q.Time).Hinted("Left empty, the longest that may be").Sized(8),
			yesNo("heated", "Is it heated?", &q.Heated),
			Quantity("temperature", "Temperature of the bath", "°C", &q.Temperature).Sized(8),
			yesNo("ultrasound", "With ultrasound?", &q.Ultrasound),
		}},
		{Legend: "From the safety data sheet", Fields: []Field{
			Quantity("flash-point", "Flash point", "°C", &q.FlashPoint).Sized(8),
			yesNo("no-flash", "Does the sheet say that there is none?", &q.NoFlash),
			listed("substances", "Substances, or their CAS numbers", &q.Substances).Hinted("With commas between"),
		}},
		{Legend: "How old the bath is", Folded: true, Fields: []Field{
			Quantity("age", "Since it was mixed", "d", &q.Age).Sized(8),
			Whole("uses", "Batches that went through it before", &q.Uses, 0, 100000),
			yesNo("blue", "Has it turned blue or green?", &q.Blue),
		}},
	}
}

// yesNo is a choice between yes and no; false where none was chosen.
func yesNo(name, label string, target *bool) Field {
	return Field{Name: name, Label: label, Kind: Select, Options: []Option{{"yes", "Yes"}, {"no", "No"}}, set: func(s string) error {
		switch strings.ToLower(s) {
		case "yes":
			*target = true
		case "no":
			*target = false
		default:
			return fmt.Errorf("“%s” is neither yes nor no", meas.Clip(s))
		}
		return nil
	}}
}

// listed is several texts on one line, with commas between.
func listed(name, label string, target *[]string) Field {
	return Field{Name: name, Label: label, Size: 30, set: func(s string) error {
		*target = nil
		for _, x := range strings.FieldsFunc(s, func(r rune) bool { return r == ',' || r == ';' || r == '\n' }) {
			if x = strings.TrimSpace(x); x != "" {
				*target = append(*target, x)
			}
		}
		return nil
	}}
}

// readPieces reads parts, one on a line: "third wheel: brass, steel". On a
// command line a semicolon ends a part as well.
func readPieces(q *clean.Query, s string) error {
	q.Pieces = nil
	var faults meas.Faults
	for _, line := range strings.FieldsFunc(s, func(r rune) bool { return r == '\n' || r == ';' }) {
		if line = strings.TrimSpace(line); line == "" {
			continue
		}
		name, made, _ := strings.Cut(line, ":")
		p := clean.Piece{Name: strings.TrimSpace(name)}
		for _, m := range strings.FieldsFunc(made, func(r rune) bool { return r == ',' || r == '+' }) {
			m := clean.Material(strings.ToLower(strings.Join(strings.Fields(m), "-")))
			switch {
			case m == "":
			case m.Known():
				p.Materials = append(p.Materials, m)
			default:
				faults = append(faults, meas.Fault{Text: fmt.Sprintf("“%s” of %s is not in the table of materials; write “unknown” where it is not known", meas.Clip(string(m)), meas.Clip(p.Name))})
			}
		}
		q.Pieces = append(q.Pieces, p)
	}
	if len(faults) > 0 {
		return faults
	}
	return nil
}
