package table

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"seatboard/internal/kit/meas"
)

// Limits of a table.
const (
	MaxBytes = 16 << 20
	MaxRows  = 1 << 17
	maxCols  = 64
	maxCell  = 4096
)

// Plan says how a table is to be read.
type Plan struct {
	Separator rune
	Heading   bool      // a line names the columns
	Above     int       // rows above that line that are left out, a title
	Under     int       // and below it, of units
	Columns   []Meaning // by column
	Dates     Dates
	Comma     bool   // is the decimal mark
	Zone      string // of times without their own: "local", "UTC", "+01:00"
	Marks     int    // divisions of the nut, 0 where not known
}

// Check lists what is wrong with a plan; columns are named as the heading has
// them.
func (p Plan) Check(names []string) meas.Faults {
	var f meas.Faults
	add := func(field, format string, a ...any) {
		f = append(f, meas.Fault{Field: field, Text: fmt.Sprintf(format, a...)})
	}
	at := map[string]int{}
	for i, m := range p.Columns {
		field := "column-" + strconv.Itoa(i+1)
		if !m.Known() {
			add(field, "“%s” is nothing a column can mean", meas.Clip(string(m)))
			continue
		}
		g := m.group()
		if j, twice := at[g]; twice && m != Skip {
			add(field, "%s and %s both mean %s; leave one out", name(names, j), name(names, i), m.words())
		}
		at[g] = i
	}
	has := func(g string) bool { _, ok := at[g]; return ok }
	if y, m := has(string(Year)), has(string(Month)); (y || m) && !(y && m && has(string(Date))) {
		add("column-1", "A date in three columns needs a year, a month and the day, which is the date column")
	}
	switch {
	case has(string(At)) && has(string(Date)):
		add("column-"+strconv.Itoa(at[string(Date)]+1), "Choose one of the columns that say when")
	case !has(string(At)) && !has(string(Date)) && !has(string(Time)):
		add("column-1", "Say which column is the date of a reading")
	case has(string(Time)) && !has(string(Date)):
		add("column-"+strconv.Itoa(at[string(Time)]+1), "A time of day needs a column with its date")
	}
	if !has(anError) && !has(aRate) && !has(string(Touch)) && !has(temperature) && !has(pressure) && !has(humidity) && !has(halfArc) && !has(weight) {
		add("column-1", "Say which column is what the clock was wrong by, or its rate")
	}
	if !slices.Contains(Orders(), p.Dates) {
		add("dates", "Say how the days are written: the table can be read either way")
	}
	if _, err := ParseZone(p.Zone, time.UTC); err != nil {
		add("zone", "“%s” %s", meas.Clip(p.Zone), err)
	}
	return f
}

func (m Meaning) words() string {
	if q, _, ok := m.split(); ok {
		return q.words
	}
	for _, c := range Meanings() {
		if c.Meaning == m {
			return c.Words
		}
	}
	return string(m)
}

// name is what a column is called in a sentence.
func name(names []string, i int) string {
	if i < len(names) && strings.TrimSpace(names[i]) != "" {
		return "“" + meas.Clip(strings.TrimSpace(names[i])) + "”"
	}
	return "column " + strconv.Itoa(i+1)
}

// Override sets columns of a plan by their heading or number: "temp_F=skip",
// "2=error s". Each that cannot be is a fault.
func (p *Plan) Override(names []string, with []string) meas.Faults {
	var f meas.Faults
	for _, w := range with {
		col, m, ok := strings.Cut(w, "=")
		at := -1
		for i := range p.Columns {
			if strings.EqualFold(strings.TrimSpace(col), strconv.Itoa(i+1)) || i < len(names) && strings.EqualFold(strings.TrimSpace(names[i]), strings.TrimSpace(col)) {
				at = i
				break
			}
		}
		meaning := Meaning(strings.TrimSpace(m))
		switch {
		case !ok || at < 0:
			f = append(f, meas.Fault{Field: "map", Text: fmt.Sprintf("There is no column “%s”; write the heading or the number of a column and what it means, like 2=error s", meas.Clip(col))})
		case !meaning.Known():
			f = append(f, meas.Fault{Field: "map", Text: fmt.Sprintf("“%s” is nothing a column can mean; write one of %s", meas.Clip(m), listed())})
		default:
			p.Columns[at] = meaning
		}
	}
	return f
}

func listed() string {
	var out []string
	for _, c := range Meanings() {
		out = append(out, string(c.Meaning))
	}
	return strings.Join(out, ", ")
}
