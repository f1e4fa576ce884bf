package web

import (
	"net/url"
	"strconv"
	"strings"

	"seatboard/internal/book/estimate"
	"seatboard/internal/book/proposal"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// draftForm is the tasks and terms of a proposal as typed.
type draftForm struct {
	Rows  []taskRow
	Terms []recordField
	Whole []recordField // correlation and level
	Open  bool
}

// taskRow is one task as typed.
type taskRow struct {
	Cells     []listCell // what, low, likely, high
	Decision  string     // its name; a choice
	Decisions []optionView
	More      []listCell // why, can undo, chapter, left out
	Error     string     // of the decision
}

const (
	spareTasks = 2 // empty rows, so that the list grows without script
	mostRows   = 500
)

func taskName(row int, field string) string { return "tasks." + strconv.Itoa(row) + "." + field }

// draftTyped is a draft as it would be typed.
func draftTyped(d proposal.Draft) url.Values {
	v := url.Values{"not_included": {d.NotIncluded}, "terms": {d.Terms}}
	put := func(name, value string) {
		if value != "" {
			v.Set(name, value)
		}
	}
	put("correlation", d.Query.Correlation.Entered)
	put("level", d.Query.Level.Entered)
	for i, t := range d.Query.Tasks {
		put(taskName(i+1, "what"), t.What)
		put(taskName(i+1, "chapter"), t.Chapter)
		for _, h := range []struct {
			name string
			r    meas.Reading[unit.Duration]
		}{{"low", t.Low}, {"likely", t.Likely}, {"high", t.High}} {
			put(taskName(i+1, h.name), strings.TrimSuffix(h.r.Entered, " h"))
		}
		put(taskName(i+1, "decision"), string(t.Decision))
		put(taskName(i+1, "why"), t.Why)
		put(taskName(i+1, "can_undo"), t.CanUndo)
		if t.LeftOut {
			v.Set(taskName(i+1, "left_out"), "yes")
		}
	}
	return v
}

// draftFormOf lays out the form with what was typed.
func draftFormOf(typed url.Values, faults meas.Faults) draftForm {
	var f draftForm
	rows := typedRows(typed)
	for i := 1; i <= len(rows)+spareTasks; i++ {
		at := i
		if i <= len(rows) {
			at = rows[i-1]
		} else if len(rows) > 0 {
			at = rows[len(rows)-1] + i - len(rows)
		}
		f.Rows = append(f.Rows, taskRowOf(typed, at, faults))
	}
	field := func(name, label, hint string, size, lines int) recordField {
		value := strings.Join(typed[name], "\n")
		return recordField{Name: name, Label: label, Hint: hint, Size: size, Lines: lines, Error: faultOf(faults, name), target: &value}
	}
	f.Terms = []recordField{
		field("not_included", "Not included, besides", "A line each: carriage, new glass, gilding", 0, 2),
		field("terms", "Limits and terms", "What could change it, how long it holds, when to ask before going on", 0, 3),
	}
	f.Whole = []recordField{
		field("correlation", "How much the tasks go wrong together", "0 to 0.99; 0.3 where nothing is said", 6, 0),
		field("level", "How many jobs of a hundred the range holds", "50 % to 99 %; 80 % where nothing is said", 6, 0),
	}
	for _, x := range f.Whole {
		f.Open = f.Open || x.Error != "" || x.Value() != ""
	}
	return f
}

func taskRowOf(typed url.Values, at int, faults meas.Faults) taskRow {
	cell := func(field, label string, size int) listCell {
		name := taskName(at, field)
		return listCell{Name: name, Label: label, Value: strings.TrimSpace(strings.Join(typed[name], " ")), Error: faultOf(faults, name), Size: size}
	}
	r := taskRow{Decision: taskName(at, "decision"), Error: faultOf(faults, taskName(at, "decision"))}
	r.Cells = []listCell{cell("what", "Task", 22), cell("low", "Low, h", 4), cell("likely", "Likely, h", 4), cell("high", "High, h", 4)}
	for _, d := range estimate.Decisions() {
		r.Decisions = append(r.Decisions, optionView{string(d), string(d), typed.Get(r.Decision) == string(d)})
	}
	out := cell("left_out", "Not included", 0)
	out.Check = true
	r.More = []listCell{cell("why", "Why", 20), cell("can_undo", "Can it be undone", 16), cell("chapter", "Chapter", 10), out}
	return r
}

// typedRows lists the rows in which something was typed, in order.
func typedRows(form url.Values) []int {
	var out []int
	for i := 1; i <= mostRows; i++ {
		for _, field := range []string{"what", "low", "likely", "high", "decision", "why", "can_undo", "chapter", "left_out"} {
			if strings.TrimSpace(form.Get(taskName(i, field))) != "" {
				out = append(out, i)
				break
			}
		}
	}
	return out
}

// readDraft reads the form; the faults are of what cannot be read. The tasks
// keep the rows they were typed in until all can be.
func readDraft(form url.Values) (proposal.Draft, meas.Faults) {
	d := proposal.Draft{NotIncluded: typed(form["not_included"]), Terms: typed(form["terms"])}
	var faults meas.Faults
	rows := typedRows(form)
	for i, at := range rows {
		get := func(field string) string { return typed(form[taskName(at, field)]) }
		t := estimate.Task{N: i + 1, What: get("what"), Chapter: get("chapter"), Decision: estimate.Decision(get("decision")), Why: get("why"), CanUndo: get("can_undo"), LeftOut: get("left_out") != ""}
		for _, h := range []struct {
			name string
			r    *meas.Reading[unit.Duration]
		}{{"low", &t.Low}, {"likely", &t.Likely}, {"high", &t.High}} {
			faults = append(faults, readHours(get(h.name), taskName(at, h.name), h.r)...)
		}
		if t.LeftOut && !t.Low.Set && !t.Likely.Set && !t.High.Set {
			none := meas.Of(unit.Duration(0)) // named, and nothing is reckoned of it
			t.Low, t.Likely, t.High = none, none, none
		}
		d.Query.Tasks = append(d.Query.Tasks, t)
	}
	for _, x := range []struct {
		name string
		r    *meas.Reading[unit.Ratio]
	}{{"correlation", &d.Query.Correlation}, {"level", &d.Query.Level}} {
		if s := typed(form[x.name]); s != "" {
			r, err := meas.Parse[unit.Ratio](s, "")
			if err != nil {
				faults = append(faults, meas.Fault{Field: x.name, Text: "“" + meas.Clip(s) + "” is not a share; write it like 0.3 or 80 %"})
			}
			*x.r = r
		}
	}
	for _, f := range d.Query.Check() { // its fields count the tasks, the form its rows
		if row, field, ok := cutRow(f.Field); ok {
			f.Field = taskName(rows[row-1], field)
		}
		if faultOf(faults, f.Field) == "" {
			faults = append(faults, f)
		}
	}
	return d, faults
}

// cutRow takes "tasks.3.low" apart.
func cutRow(field string) (row int, name string, ok bool) {
	parts := strings.SplitN(field, ".", 3)
	if len(parts) != 3 || parts[0] != "tasks" {
		return 0, "", false
	}
	row, err := strconv.Atoi(parts[1])
	return row, parts[2], err == nil && row > 0
}

// readHours reads the hours of a task: a number is hours, 1:30 is an hour and
// a half.
func readHours(s, name string, into *meas.Reading[unit.Duration]) meas.Faults {
	if s == "" {
		return nil
	}
	if h, m, ok := strings.Cut(s, ":"); ok {
		hours, err := strconv.Atoi(h)
		minutes, err2 := strconv.Atoi(m)
		if err != nil || err2 != nil || hours < 0 || minutes < 0 || minutes > 59 {
			return meas.Faults{{Field: name, Text: "“" + meas.Clip(s) + "” is not a number of hours; write it like 1:30 or 1.5"}}
		}
		*into = meas.Of(unit.Duration(float64(hours)*3600 + float64(minutes)*60))
		into.Entered = s
		return nil
	}
	r, err := meas.Parse[unit.Duration](s, "h")
	if err != nil {
		return meas.Faults{{Field: name, Text: "“" + meas.Clip(s) + "” is not a number of hours; write it like 1:30 or 1.5"}}
	}
	*into = r
	return nil
}
