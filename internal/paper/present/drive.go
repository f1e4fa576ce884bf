package present

import (
	"fmt"
	"strings"

	"seatboard/internal/craft/drive"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Drive sets out the answer of a drive.
func Drive(a drive.Answer) doc.Doc {
	d := doc.Doc{Title: "Drive"}
	if a.Query.Name != "" {
		d.Title += ", " + a.Query.Name
	}
	open := doc.Section{Body: []doc.Block{}}
	if f := driveFacts(a); len(f) > 0 {
		open.Body = append(open.Body, f)
	}
	if len(a.Working) == 0 && len(a.Findings) == 0 {
		open.Body = append(open.Body, doc.Para{Text: "Nothing follows yet. The barrel's diameter, the line's and the turns give the fall; the case and the weight's length give where it hangs."})
	}
	open.Body = append(open.Body, notices(a.Findings)...)
	open.Margin = driveMargin(a)
	d.Sections = append(d.Sections, open)
	for _, s := range []*doc.Section{fallSection(a), lineSection(a), weightSection(a), springSection(a), fuseeSection(a)} {
		if s != nil {
			d.Sections = append(d.Sections, *s)
		}
	}
	return d
}

func driveMargin(a drive.Answer) []doc.Block {
	out := remarks(a.Findings)
	if len(a.Working) == 0 {
		return out
	}
	out = append(out, doc.Working{Title: "Working", Steps: a.Working})
	add := func(of string, shares []meas.Share) {
		if b := budget(of, shares); len(b.Lines) > 1 {
			out = append(out, b)
		}
	}
	add("the fall", a.Fall.Total.Budget)
	add("what is left at the floor", a.Fall.LeftWhenDue.Budget)
	if a.Swing != nil {
		add("the hour of sympathetic swing", a.Swing.Level.Budget)
	}
	add("the work of a beat", a.Power.PerBeat.Budget)
	add("the weight's mass", a.Weight.Mass.Budget)
	add("the breaking load", a.Line.BreakingLoad.Budget)
	add("the turns of the spring", a.Spring.Turns.Budget)
	add("the spring's torque", a.Spring.TorquePerTurn.Budget)
	add("the turns of the fusee", a.Fusee.Turns.Budget)
	if n := len(a.Fusee.Points); n > 0 {
		add("the fusee's radius at the last turn", a.Fusee.Points[n-1].Radius.Budget)
	}
	return append(out, sources(a.Working, a.Findings))
}

func driveFacts(a drive.Answer) doc.Facts {
	var f doc.Facts
	add := func(label string, v fact, note string) {
		if v.value != "" {
			f = append(f, doc.Fact{Label: label, Value: v.value, Unit: v.unit, Doubt: v.doubt, Note: note})
		}
	}
	if a.Fall.RunningTime.Set {
		symbol, decimals := "d", 1
		if a.Fall.RunningTime.Value < 2*unit.Day {
			symbol, decimals = "h", 1
		}
		add("Runs", quantity(a.Fall.RunningTime, symbol, decimals), runsNote(a))
	}
	add("Weight falls", quantity(a.Fall.Total, "m", 3), fallNote(a))
	if a.Fall.LandsAfter.Set {
		f = append(f, doc.Fact{Label: "On the floor after", Value: drive.Span(a.Fall.LandsAfter.Value), Note: a.Fall.LandsWhen})
	} else if a.Fall.LeftWhenDue.Set {
		add("Left at the floor", quantity(a.Fall.LeftWhenDue, "mm", 0), "when winding falls due after "+drive.Span(a.Fall.WindingDue.Value))
	}
	if a.Swing != nil && a.Swing.Level.Set {
		f = append(f, doc.Fact{Label: "Hangs as long as the pendulum", Value: drive.Clock(a.Swing.Level.Value), Note: "may swing with it from " + a.Swing.Words})
	}
	add("Weight", quantity(a.Weight.Mass, "kg", 3), weightNote(a))
	add("Energy a beat", quantity(a.Power.PerBeat, "µJ", 1), "into the train, before its losses")
	add("Power", quantity(a.Power.Power, "µW", 1), "into the train, "+a.Power.PerDay.Text("J", 2)+" a day")
	if a.Line.Factor.Set {
		add("Line holds", quantity(a.Line.Factor, "", 0), "times its pull, new; "+unit.Number(float64(a.Line.FactorAsked.Value), 0)+" times asked")
	} else {
		add("Line breaks at", quantity(a.Line.BreakingLoad, "N", 0), "new, as tabulated")
	}
	add("Turns of the spring", quantity(a.Spring.Turns, "", 2), "coils wound less coils down")
	add("Most turns", quantity(a.Spring.MaxTurns, "", 2), "with a spring of "+a.Spring.BestLength.Text("mm", 0))
	add("Torque of a turn", quantity(a.Spring.TorquePerTurn, "N mm", 1), "without friction between the coils")
	add("Fusee turns", quantity(a.Fusee.Turns, "", 2), "with "+a.Fusee.Chain.Text("mm", 0)+" of chain")
	return f
}

func runsNote(a drive.Answer) string {
	var parts []string
	if a.Query.Turns.Set {
		parts = append(parts, trimNought(unit.Number(float64(a.Query.Turns.Value), 2))+" turns of the barrel")
	}
	if a.Fall.TurnTime.Set {
		parts = append(parts, "one in "+drive.Span(a.Fall.TurnTime.Value))
	}
	return strings.Join(parts, ", ")
}

// trimNought drops the noughts behind a decimal point.
func trimNought(s string) string {
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

func fallNote(a drive.Answer) string {
	switch {
	case a.Fall.Room.Set:
		return "the case leaves " + a.Fall.Room.Text("m", 3)
	case a.Fall.PerTurn.Set:
		return a.Fall.PerTurn.Text("mm", 1) + " in a turn of the barrel"
	}
	return "as measured"
}

func weightNote(a drive.Answer) string {
	note := "by its dimensions"
	if a.Query.WeightMass.Set {
		note = "as weighed"
	}
	if a.Weight.Mass.Set {
		note += ", " + unit.Text(a.Weight.Mass.Value, "lb", 2)
	}
	return note
}

// rows gathers a two-column table of results.
type rows struct{ t doc.Table }

func results(caption string) *rows {
	return &rows{doc.Table{Caption: caption, Columns: []doc.Column{{Head: "What"}, {Head: "Value", Number: true}, {Head: "±", Number: true}, {Head: "Unit"}}}}
}

func addRow[Q unit.Quantity](r *rows, what string, x meas.Result[Q], symbol string, decimals int) {
	if !x.Set {
		return
	}
	f := quantity(x, symbol, decimals)
	r.t.Rows = append(r.t.Rows, []string{what, f.value, trimDoubt(f.doubt), f.unit})
}

func fallSection(a drive.Answer) *doc.Section {
	r := results("Barrel and fall")
	addRow(r, "Middle of the line on the barrel", a.Fall.CentreDiameter, "mm", 2)
	addRow(r, "Line paid out in a turn", a.Fall.LinePerTurn, "mm", 1)
	addRow(r, "Fall in a turn", a.Fall.PerTurn, "mm", 1)
	addRow(r, "Fall in a day", a.Fall.PerDay, "mm", 1)
	if a.Fall.WindingDue.Set {
		addRow(r, "Turns needed for "+drive.Span(a.Fall.WindingDue.Value), a.Fall.TurnsNeeded, "", 2)
	}
	addRow(r, "Room in the case", a.Fall.Room, "mm", 0)
	addRow(r, "Bare barrel that would use the room", a.Fall.BarrelForRoom, "mm", 1)
	addRow(r, "Turns that fit on the barrel", a.Line.TurnsThatFit, "", 1)
	addRow(r, "Line on the barrel, wound", a.Line.OnBarrel, "m", 3)
	addRow(r, "Line, whole, without knots", a.Line.Length, "m", 3)
	var body []doc.Block
	if fig, ok := fallFigure(a); ok {
		body = append(body, fig)
	}
	if len(r.t.Rows) > 0 {
		body = append(body, r.t)
	}
	if len(body) == 0 {
		return nil
	}
	return &doc.Section{Heading: "The fall", Body: body}
}

// hangTable is the numbers of the figure: where the weight hangs, in the
// columns that are known.
func hangTable(a drive.Answer) *doc.Table {
	t := &doc.Table{Caption: "Where the weight hangs", Columns: []doc.Column{{Head: "After winding"}}}
	first := a.Hangs[0]
	if first.When != "" {
		t.Columns = append(t.Columns, doc.Column{Head: "When"})
	}
	columns := []struct {
		head string
		of   func(drive.Hang) meas.Result[unit.Length]
	}{
		{"Fallen", func(h drive.Hang) meas.Result[unit.Length] { return h.Fallen }},
		{"Under the seat board", func(h drive.Hang) meas.Result[unit.Length] { return h.Below }},
		{"Above the floor", func(h drive.Hang) meas.Result[unit.Length] { return h.AboveFloor }},
		{"Free length", func(h drive.Hang) meas.Result[unit.Length] { return h.Free }},
	}
	for _, c := range columns {
		if c.of(first).Set {
			t.Columns = append(t.Columns, doc.Column{Head: c.head, Unit: "mm", Number: true})
		}
	}
	for _, h := range a.Hangs {
		row := []string{h.Label}
		if first.When != "" {
			row = append(row, h.When)
		}
		for _, c := range columns {
			if c.of(first).Set {
				row = append(row, unit.Number(c.of(h).Value.MM(), 0))
			}
		}
		t.Rows = append(t.Rows, row)
	}
	if first.Below.Set {
		t.Note = "Depths are those of the weight's lower end."
	}
	if first.Free.Set {
		t.Note += " The free length is that to its middle."
	}
	return t
}

func lineSection(a drive.Answer) *doc.Section {
	r := results("Strength and bending")
	l := a.Line
	addRow(r, "Pull, weight at rest", l.Tension, "N", 1)
	addRow(r, "Strength of the material", l.Strength, "MPa", 0)
	addRow(r, "Breaking load, new", l.BreakingLoad, "N", 0)
	addRow(r, "Factor asked", l.FactorAsked, "", 0)
	addRow(r, "Working load", l.WorkingLoad, "N", 0)
	addRow(r, "Factor reached", l.Factor, "", 1)
	addRow(r, "Bare barrel over line", l.BendRatio, "", 1)
	addRow(r, "Bare barrel over one wire", l.WireBendRatio, "", 0)
	if len(r.t.Rows) == 0 || !l.Tension.Set && !l.BreakingLoad.Set {
		return nil
	}
	r.t.Note = "Used line is weaker than new."
	return &doc.Section{Heading: "The line", Body: []doc.Block{r.t}}
}

func weightSection(a drive.Answer) *doc.Section {
	w := a.Weight
	if !w.MassPerInch.Set {
		return nil
	}
	r := results("The weight by its dimensions")
	addRow(r, "Density", w.Density, "kg/m³", 0)
	addRow(r, "For each inch of height", w.MassPerInch, "lb", 3)
	addRow(r, "Mass by dimensions", w.ByDimensions, "kg", 3)
	addRow(r, "The same", w.ByDimensions, "lb", 2)
	addRow(r, "Height for the mass wanted", w.Height, "mm", 1)
	return &doc.Section{Heading: "The weight", Body: []doc.Block{r.t}}
}

func springSection(a drive.Answer) *doc.Section {
	s := a.Spring
	r := results("Turns and torque")
	addRow(r, "Space filled", s.Fill, "%", 0)
	addRow(r, "Coils wound", s.Coils, "", 2)
	addRow(r, "Coils down", s.CoilsDown, "", 2)
	addRow(r, "Turns", s.Turns, "", 2)
	addRow(r, "Most turns, with the best length", s.MaxTurns, "", 2)
	addRow(r, "Best length", s.BestLength, "mm", 0)
	addRow(r, "Thickness of the coil, down", s.Band, "mm", 2)
	addRow(r, "The same with the best length", s.BestBand, "mm", 2)
	addRow(r, "Torque of a turn", s.TorquePerTurn, "N mm", 1)
	addRow(r, "Stress of a turn", s.StressPerTurn, "MPa", 0)
	addRow(r, "Torque at the turns stated", s.Torque, "N mm", 0)
	addRow(r, "Stress at the turns stated", s.Stress, "MPa", 0)
	addRow(r, "Energy held at the turns stated", s.Energy, "J", 2)
	if a.Query.SpringNewThickness.Set {
		with := " with " + a.Query.SpringNewThickness.String()
		addRow(r, "Torque"+with+", times", s.NewTorque, "", 3)
		addRow(r, "Turns"+with, s.NewTurns, "", 2)
		addRow(r, "Most turns"+with, s.NewMaxTurns, "", 2)
		addRow(r, "Best length"+with, s.NewBest, "mm", 0)
	}
	if len(r.t.Rows) == 0 || !s.MaxTurns.Set && !s.TorquePerTurn.Set && !s.Turns.Set {
		return nil
	}
	body := []doc.Block{r.t}
	if fig, ok := springFigure(a); ok {
		body = []doc.Block{fig, r.t}
	}
	return &doc.Section{Heading: "The mainspring", Body: body}
}

func fuseeSection(a drive.Answer) *doc.Section {
	if len(a.Fusee.Points) == 0 {
		return nil
	}
	turns := "Turn"
	if a.Query.FuseeBarrel.Set {
		turns = "Turn of the barrel"
	}
	t := doc.Table{Caption: "Radii of the fusee, to the middle of its chain", Columns: []doc.Column{{Head: turns, Number: true}, {Head: "Turn of the fusee", Number: true}, {Head: "Torque", Unit: "N mm", Number: true}, {Head: "Radius", Unit: "mm", Number: true}, {Head: "±", Unit: "mm", Number: true}}}
	for _, p := range a.Fusee.Points {
		radius := quantity(p.Radius, "mm", 2)
		t.Rows = append(t.Rows, []string{unit.Number(p.Turn, 2), p.FuseeTurn.Text("", 2), quantity(p.Torque, "N mm", 0).value, radius.value, trimDoubt(radius.doubt)})
	}
	t.Note = fmt.Sprintf("The chain on it is %s.", a.Fusee.Chain.Text("mm", 0))
	if a.Fusee.Torque.Set {
		t.Note += " The torque on the fusee is " + a.Fusee.Torque.Text("N mm", 0) + " all along."
	}
	if a.Fusee.Running.Set {
		t.Note += " It runs " + drive.Span(a.Fusee.Running.Value) + "."
	}
	return &doc.Section{Heading: "The fusee", Body: []doc.Block{fuseeFigure(a, &t)}}
}
