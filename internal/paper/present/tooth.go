package present

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"seatboard/internal/craft/tooth"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Tooth sets out a wheel and a pinion to be cut.
func Tooth(a tooth.Answer) doc.Doc {
	d := doc.Doc{Title: "Wheel and pinion to be cut", Lead: fmt.Sprintf("A wheel of %d and a pinion of %d, %s.", a.Wheel.Count, a.Pinion.Count, formWords(a.Form))}
	open := doc.Section{Body: []doc.Block{toothFacts(a)}}
	open.Body = append(open.Body, notices(a.Findings)...)
	open.Margin = append(remarks(a.Findings), doc.Working{Steps: a.Working})
	if b := budget("the module", a.Module.Budget); len(b.Lines) > 1 {
		open.Margin = append(open.Margin, b)
	}
	var refs []cite.Ref
	for _, r := range a.Rules {
		refs = append(refs, r.Ref)
	}
	open.Margin = append(open.Margin, sources(a.Working, a.Findings, refs...))
	open.Body = append(open.Body, toothSizes(a))
	d.Sections = append(d.Sections, open, doc.Section{Heading: "One tooth in its space", Body: []doc.Block{toothFigure(a)}})
	if t := cutterTable(a); len(t.Rows) > 0 {
		d.Sections = append(d.Sections, doc.Section{Heading: "The cutter", Body: []doc.Block{t}})
	}
	d.Sections = append(d.Sections, moduleSection(a))
	if len(a.Action.Ways) > 0 {
		d.Sections = append(d.Sections, doc.Section{Heading: "The line of centres", Body: []doc.Block{waysOfAction(a)}})
	}
	draw := doc.Section{Heading: "Drawings"}
	for _, w := range toothDrawings(a) {
		draw.Body = append(draw.Body, w)
	}
	d.Sections = append(d.Sections, draw)
	return d
}

// formWords names a form of teeth.
func formWords(f tooth.Form) string {
	return map[tooth.Form]string{
		tooth.Exact: "cycloidal as long as they drive", tooth.Rounded: "cycloidal and rounded short of the point",
		tooth.Arcs: "the teeth of two arcs", tooth.LanternOf: "a lantern of pins",
	}[f]
}

// toothPart is one of the pair, for tables and drawings.
type toothPart struct {
	name, teeth string // "Wheel", "teeth"
	gear        tooth.Gear
	sizes       tooth.Sizes
}

// toothParts are those that are to be made.
func toothParts(a tooth.Answer) []toothPart {
	leaves := "leaves"
	if a.Pair.Pinion.Lantern {
		leaves = "pins"
	}
	both := []toothPart{{"Wheel", "teeth", a.Pair.Wheel, a.Wheel}, {"Pinion", leaves, a.Pair.Pinion, a.Pinion}}
	switch a.Query.Part {
	case tooth.TheWheel:
		return both[:1]
	case tooth.ThePinion:
		return both[1:]
	}
	return both
}

func toothFacts(a tooth.Answer) doc.Facts {
	var f doc.Facts
	add := func(label string, v fact, note string) {
		f = append(f, doc.Fact{Label: label, Value: v.value, Unit: v.unit, Doubt: v.doubt, Note: note})
	}
	add("Module", quantity(a.Module, "mm", 4), a.DiametralPitch.Text("", 2)+" to the inch; pitch "+a.CircularPitch.Text("mm", 3))
	for _, p := range toothParts(a) {
		what := "the blank, before a tooth is cut"
		if p.gear.Lantern {
			what = "over the pins; their middles on " + p.sizes.Pitch.Text("mm", 3)
		}
		add(p.name+", over the tips", quantity(p.sizes.Over, "mm", 3), what)
		if !p.gear.Lantern {
			add(p.name+", depth of cut", quantity(p.sizes.Depth, "mm", 3), "a space "+p.sizes.Space.Text("mm", 3)+" wide on the pitch circle")
		}
	}
	add("Centres apart", quantity(a.Distance, "mm", 3), "pitch circles touching")
	if c := a.Action; c.Known && c.Before > 1e-9 && a.Form != tooth.LanternOf {
		add("Before the line of centres", fact{value: unit.Number(c.Before.Degrees(), 1), unit: "°"}, "of the pinion: where a leaf is met")
	}
	return f
}

// toothSizes sets the sizes of wheel and pinion side by side.
func toothSizes(a tooth.Answer) doc.Table {
	all := toothParts(a)
	t := doc.Table{Caption: "Sizes", Columns: []doc.Column{{Head: "What"}}, Note: "Widths are along the circle. The blank may run out on its arbor by no more than is stated, read at its edge."}
	for _, p := range all {
		t.Columns = append(t.Columns, doc.Column{Head: p.name, Unit: "mm", Number: true}, doc.Column{Head: "±", Number: true})
	}
	row := func(what string, of func(tooth.Sizes) meas.Result[unit.Length]) {
		line := []string{what}
		for _, p := range all {
			v := quantity(of(p.sizes), "mm", 3)
			line = append(line, v.value, trimDoubt(v.doubt))
		}
		t.Rows = append(t.Rows, line)
	}
	count := []string{"Count"}
	for _, p := range all {
		count = append(count, strconv.Itoa(int(p.sizes.Count)), "")
	}
	t.Rows = append(t.Rows, count)
	row("Over the tips: the blank", func(s tooth.Sizes) meas.Result[unit.Length] { return s.Over })
	row("Pitch circle", func(s tooth.Sizes) meas.Result[unit.Length] { return s.Pitch })
	row("Bottom of the spaces", func(s tooth.Sizes) meas.Result[unit.Length] { return s.Root })
	row("Pitch circle to tip", func(s tooth.Sizes) meas.Result[unit.Length] { return s.Addendum })
	row("Pitch circle to bottom", func(s tooth.Sizes) meas.Result[unit.Length] { return s.Dedendum })
	row("Depth of cut", func(s tooth.Sizes) meas.Result[unit.Length] { return s.Depth })
	row("Tooth on the pitch circle", func(s tooth.Sizes) meas.Result[unit.Length] { return s.Tooth })
	row("Space on the pitch circle", func(s tooth.Sizes) meas.Result[unit.Length] { return s.Space })
	row("Space at the bottom", func(s tooth.Sizes) meas.Result[unit.Length] { return s.SpaceBottom })
	rounds := func(what string, of func(tooth.Sizes) unit.Length) {
		row(what, func(s tooth.Sizes) meas.Result[unit.Length] {
			if of(s) == 0 {
				return meas.Result[unit.Length]{}
			}
			return meas.Exactly(of(s))
		})
		if last := t.Rows[len(t.Rows)-1]; strings.Join(last[1:], "") == "" {
			t.Rows = t.Rows[:len(t.Rows)-1]
		}
	}
	rounds("Radius at the bottom", func(s tooth.Sizes) unit.Length { return s.RootRadius })
	rounds("Room from there to the tips of the mate", func(s tooth.Sizes) unit.Length { return s.RootRoom.Value })
	rounds("Radius at the tip", func(s tooth.Sizes) unit.Length { return s.TipRadius })
	row("Run-out of the blank", func(s tooth.Sizes) meas.Result[unit.Length] { return s.RunOut })
	return withoutDoubts(t)
}

// withoutDoubts takes the columns of doubts off a table in which none is.
func withoutDoubts(t doc.Table) doc.Table {
	for i := len(t.Columns) - 1; i > 0; i-- {
		if t.Columns[i].Head == "±" && !slices.ContainsFunc(t.Rows, func(r []string) bool { return r[i] != "" }) {
			t.Columns = slices.Delete(t.Columns, i, i+1)
			for k := range t.Rows {
				t.Rows[k] = slices.Delete(t.Rows[k], i, i+1)
			}
		}
	}
	return t
}

// cutterTable is the profile of each cutter by points of its side.
func cutterTable(a tooth.Answer) doc.Table {
	t := doc.Table{Caption: "Width of the cutter, from its edge to the tips"}
	for _, p := range toothParts(a) {
		c := p.sizes.Cutter
		if len(c.Widths) == 0 {
			continue
		}
		at := len(t.Columns)
		t.Columns = append(t.Columns, doc.Column{Head: p.name + ", over the edge", Unit: "mm", Number: true}, doc.Column{Head: p.name + ", wide", Unit: "mm", Number: true})
		for i, w := range c.Widths {
			if i == len(t.Rows) {
				t.Rows = append(t.Rows, make([]string, at))
			}
			t.Rows[i] = append(t.Rows[i], unit.Number(w.Height.MM(), 3), unit.Number(w.Wide.MM(), 3))
		}
		if r := p.sizes.RootRadius; r > 0 {
			t.Note += p.name + ": rounded at the edge by " + unit.Text(r, "mm", 3) + ". "
		}
		t.Note += p.name + ": straight up to " + p.sizes.Dedendum.Text("mm", 3) + ", the sides running to the centre of the part."
		if c.Arc > 0 {
			t.Note += fmt.Sprintf(" Beyond, an arc of %s through both ends of the curve comes within %s of it.", unit.Text(c.Arc, "mm", 3), unit.Text(c.Deviation, "µm", 1))
		}
		t.Note += " "
	}
	t.Note = strings.TrimSpace(t.Note)
	for i := range t.Rows {
		for len(t.Rows[i]) < len(t.Columns) {
			t.Rows[i] = append(t.Rows[i], "")
		}
	}
	return t
}

// moduleSection says what each size makes of the module, and the rules for
// heights beside each other.
func moduleSection(a tooth.Answer) doc.Section {
	t := doc.Table{Caption: "What each size makes of the module", Columns: []doc.Column{{Head: "Size"}, {Head: "As stated"}, {Head: "Module", Unit: "mm", Number: true}, {Head: "From", Unit: "mm", Number: true}, {Head: "To", Unit: "mm", Number: true}},
		Note: "From and to: by all the rules below for the height of teeth, and two doubts of the size each way; a module stated without one, 1 %."}
	for _, m := range a.Measured {
		name := m.What
		if !m.Used {
			name += " (compared)"
		}
		t.Rows = append(t.Rows, []string{name, m.Size, unit.Number(m.Module.Value.MM(), 4), unit.Number(m.Low.MM(), 4), unit.Number(m.High.MM(), 4)})
	}
	s := doc.Section{Heading: "The module", Body: []doc.Block{t}}
	if a.Form == tooth.Arcs || len(a.Rules) == 0 {
		return s
	}
	h := doc.Table{Caption: "How high the teeth of the wheel are", Columns: []doc.Column{{Head: "Rule"}, {Head: "Over the pitch circle", Unit: "modules", Number: true}}}
	for _, r := range a.Rules {
		h.Rows = append(h.Rows, []string{r.Name, unit.Number(r.Height, 3)})
	}
	s.Body = append(s.Body, h)
	return s
}

// waysOfAction lists corrections with what each does to the action before the
// line of centres.
func waysOfAction(a tooth.Answer) doc.Table {
	t := doc.Table{Caption: "Where a leaf is met, by what is done about it", Columns: []doc.Column{{Head: "What"}, {Head: "Wheel", Number: true}, {Head: "Leaves", Number: true}, {Head: "Height", Unit: "modules", Number: true}, {Head: "Before the line", Unit: "°", Number: true}}}
	row := func(what string, wheel, leaves int, height float64, before unit.Angle) {
		met := "none"
		if before > 0 {
			met = unit.Number(before.Degrees(), 1)
		}
		t.Rows = append(t.Rows, []string{what, strconv.Itoa(wheel), strconv.Itoa(leaves), unit.Number(height, 3), met})
	}
	row("as laid out", int(a.Wheel.Count), int(a.Pinion.Count), float64(a.Wheel.Addendum.Value/a.Module.Value), a.Action.Before)
	for _, w := range a.Action.Ways {
		row(w.What, int(w.Wheel), int(w.Leaves), w.Height, w.Before)
	}
	if n := a.Action.LeastLeaves; n > 0 {
		t.Note = fmt.Sprintf("A wheel of %d drives %d leaves or more without action before the line.", a.Wheel.Count, n)
	}
	if n := a.Action.LeastWheel; n > 0 {
		t.Note += fmt.Sprintf(" %d leaves are driven so by a wheel of %d or more.", a.Pinion.Count, n)
	}
	return t
}
