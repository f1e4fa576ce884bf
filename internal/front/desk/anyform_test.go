package desk

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatboard/internal/front/form"
)

// typedSome is what a person may type into any field, sense or not.
var typedSome = []string{"", "0", "1", "2", "3", "7", "8", "12", "30", "60", "96", "400", "0.5", "-1", "-0.001", "1e9", "1e-9", "99999999999", "5 ± 100", "60 ± 0", "± 3", "nan", "infinity", "1/0", "1/3",
	"50 mm", "0.01 mm", "3 km", "12 in", "1 kg", "90°", "0°", "180°", "89.999°", "51° 28′ N", "1 d", "8 d", "1 s", "3600", "yes", "no", "steel", "20 °C", "9.81", "?", "96/8 60/8 ?/7 30", "78/8 56/7 48/6", "8)96 8)60 7)56 30", "10:47", "🕰", "a;b\nc"}

var word = regexp.MustCompile(`'([^']*)'|(\S+)`)

// exampleValues reads an example as the command line does; false where it is
// of a clock or a file.
func exampleValues(c Calculation, e Example) (map[string][]string, bool) {
	values, name := map[string][]string{}, ""
	arg := ""
	for _, f := range c.Begin().Form.Fields() {
		if f.Arg {
			arg = f.Name
		}
	}
	for _, m := range word.FindAllStringSubmatch(e.Args, -1) {
		w := m[1] + m[2]
		switch {
		case strings.HasPrefix(w, "--"):
			name = strings.TrimPrefix(w, "--")
		case name != "":
			values[name], name = append(values[name], w), ""
		default:
			values[arg] = append(values[arg], w)
		}
	}
	return values, values["clock"] == nil && c.Begin().Form.Known(values) != nil
}

// Whatever is typed into whatever fields of an example, there is an answer
// that can be read, written and drawn, or a list of mistakes.
func TestAnyFormIsAnswered(t *testing.T) {
	var all []Calculation
	for _, c := range All() {
		if c.Name != "regulate" { // has its own
			all = append(all, c)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom(all).Draw(t, "calculation")
		values, ok := exampleValues(c, rapid.SampledFrom(c.Examples).Draw(t, "example"))
		if !ok {
			t.Skip("of a clock")
		}
		fields := c.Begin().Form.Fields()
		for range rapid.IntRange(0, 4).Draw(t, "changes") {
			f := rapid.SampledFrom(fields).Draw(t, "field")
			some := typedSome
			for _, o := range f.Options {
				some = append(some[:len(some):len(some)], o.Value, o.Value, o.Value)
			}
			name := f.Name
			if f.Kind == form.Grid {
				name = fmt.Sprintf("%s.%d.%s", f.Name, rapid.IntRange(1, 4).Draw(t, "row"), rapid.SampledFrom(f.Columns).Draw(t, "column").Name)
			}
			values[name] = []string{rapid.SampledFrom(some).Draw(t, name)}
		}
		answered(t, c, values)
	})
}

// The drawings of a clock leave out what is said to make none: no example of
// such a calculation does, and one at least of each of the others.
func TestDraws(t *testing.T) {
	for _, c := range All() {
		drawn := 0
		for _, e := range c.Examples {
			if values, ok := exampleValues(c, e); ok && !c.Long() {
				o, err := c.Work(t.Context(), values)
				if err == nil {
					drawn += len(o.Doc.Drawings())
				}
			}
		}
		if (drawn > 0) != c.Draws {
			t.Errorf("%s: %d drawings in its examples, and Draws is %v", c.Name, drawn, c.Draws)
		}
	}
}
