package present

import (
	"fmt"
	"strconv"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// arborTable lists a train arbor by arbor.
func arborTable(t train.Turned) doc.Table {
	out := doc.Table{Caption: "Arbors of the " + t.Name + " train", Columns: []doc.Column{
		{Head: "Arbor"}, {Head: "Pinion, leaves", Number: true}, {Head: "Wheel, teeth", Number: true}, {Head: "Turns an hour", Number: true}, {Head: "One turn", Number: true}, {Head: "Turns for one of the first", Number: true}}}
	sized, noted := false, false
	for _, x := range t.Arbors {
		noted = noted || x.Note != ""
		sized = sized || x.WheelDiameter.Set || x.PinionDiameter.Set || x.Depth.Set
	}
	if sized {
		out.Columns = append(out.Columns, doc.Column{Head: "Pinion across", Unit: "mm", Number: true}, doc.Column{Head: "Wheel across", Unit: "mm", Number: true}, doc.Column{Head: "Centre to next", Unit: "mm", Number: true})
	}
	if noted {
		out.Columns = append(out.Columns, doc.Column{Head: "Note"})
	}
	for i, x := range t.Arbors {
		row := []string{strconv.Itoa(i+1) + " " + x.Name, dash(x.Pinion.String()), dash(x.Wheel.String()), dash(x.TurnsPerHour.Mixed()), dash(train.Interval(x.Period)), dash(x.TurnsPerFirst.Mixed())}
		if sized {
			row = append(row, dash(lengthWords(x.PinionDiameter)), dash(lengthWords(x.WheelDiameter)), dash(lengthWords(x.Depth)))
		}
		if noted {
			row = append(row, x.Note)
		}
		out.Rows = append(out.Rows, row)
	}
	if t.PinArbor != nil {
		out.Note = "Turns an hour of a strike are the mean of 12 hours."
	}
	return out
}

// meshTable lists a train mesh by mesh.
func meshTable(t train.Turned) doc.Table {
	out := doc.Table{Caption: "Meshes of the " + t.Name + " train", Columns: []doc.Column{
		{Head: "Mesh"}, {Head: "Counts", Number: true}, {Head: "Ratio", Number: true}, {Head: "Tooth to tooth", Number: true}, {Head: "Same two teeth again", Number: true}, {Head: "Turns till then, wheel and pinion", Number: true}, {Head: "Every tooth meets every leaf"}}}
	modules := false
	for _, m := range t.Meshes {
		modules = modules || m.ModuleWheel != nil || m.ModulePinion != nil || m.ModuleDepth != nil
	}
	if modules {
		out.Columns = append(out.Columns, doc.Column{Head: "Module, wheel", Unit: "mm", Number: true}, doc.Column{Head: "Module, pinion", Unit: "mm", Number: true}, doc.Column{Head: "Module, depth", Unit: "mm", Number: true})
		out.Note = "Modules lie between the figures shown: the pitch diameter cannot be measured, and heights of teeth vary."
	}
	for i, m := range t.Meshes {
		hunting, repeat := "–", "–"
		if m.Ratio.Known() {
			repeat = fmt.Sprintf("%d and %d", m.RepeatWheel, m.RepeatPinion)
			hunting = map[bool]string{true: "yes", false: "no"}[m.Hunting]
		}
		row := []string{fmt.Sprintf("%s, %s", t.Arbors[i].Name, lowerFirst(t.Arbors[i+1].Name)), t.Arbors[i].Wheel.String() + "/" + t.Arbors[i+1].Pinion.String(),
			dash(m.Ratio.Mixed()), dash(train.Interval(m.ContactPeriod)), dash(train.Interval(m.RepeatPeriod)), repeat, hunting}
		if modules {
			row = append(row, bracketWords(m.ModuleWheel), bracketWords(m.ModulePinion), bracketWords(m.ModuleDepth))
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}

func bracketWords(b *train.Bracket) string {
	if b == nil {
		return "–"
	}
	return unit.Significant(b.Low, 3) + "–" + unit.Significant(b.High, 3)
}

func dash(s string) string {
	if s == "" {
		return "–"
	}
	return s
}

// wantedTable says what the missing counts of a train must make.
func wantedTable(a train.Answer, name string) doc.Table {
	t := doc.Table{Caption: "What the missing counts must make", Columns: []doc.Column{{Head: "Missing"}, {Head: "Wheels over pinions, or teeth", Number: true}, {Head: "±", Number: true}, {Head: "Would do"}}}
	for _, w := range a.Wanted {
		if w.Train != name {
			continue
		}
		doubt, product := "", w.Product.Mixed()
		if w.U > 0 {
			v, u, n := meas.Rounded(unit.Ratio(w.Product.Float()), unit.Ratio(w.U), "")
			product, doubt = unit.Number(v, n), unit.Number(u, n)
		}
		t.Rows = append(t.Rows, []string{upperFirst(w.What), product, dash(doubt), dash(w.Example)})
	}
	return t
}

// strikeTable lists the blows.
func strikeTable(t train.Turned) doc.Table {
	out := doc.Table{Caption: "Blows", Columns: []doc.Column{{Head: "What"}, {Head: "Blows", Number: true}}}
	add := func(what string, e train.Exact) {
		if e.Known() {
			out.Rows = append(out.Rows, []string{what, e.Mixed()})
		}
	}
	add("In one turn of the great wheel", t.BlowsPerTurn)
	add("In one winding", t.BlowsInAll)
	add("In one turn of the count wheel", t.BlowsOfReport)
	if len(out.Rows) > 0 {
		out.Rows = append(out.Rows, []string{"In 12 hours", strconv.Itoa(t.BlowsPer12h)})
	}
	return out
}
