package present

import (
	"fmt"
	"strconv"
	"strings"

	"seatboard/internal/craft/divide"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// Divide sets out how a circle is divided: the move, the table to tick at the
// lathe, and the counts that the plates reach.
func Divide(a divide.Answer) doc.Doc {
	d := doc.Doc{Title: "Dividing a circle"}
	open := doc.Section{}
	if a.Query.Count > 0 {
		d.Title = fmt.Sprintf("Dividing a circle into %d", a.Query.Count)
		open.Body = append(open.Body, doc.Say{Text: divideWords(a)}, divideFacts(a))
	}
	open.Body = append(open.Body, titled(notices(a.Findings), "It does not fit the plates")...)
	open.Margin = append(remarks(a.Findings), doc.Working{Steps: a.Working}, sources(a.Working, a.Findings))
	d.Sections = append(d.Sections, open)
	if len(a.Moves) > 0 {
		d.Sections = append(d.Sections, doc.Section{Heading: "Tooth by tooth", Body: []doc.Block{movesTable(a)}})
	}
	if t := waysTable(a); len(t.Rows) > 1 {
		d.Sections = append(d.Sections, doc.Section{Heading: "Other ways", Body: []doc.Block{t}})
	}
	d.Sections = append(d.Sections, doc.Section{Heading: "What the plates reach", Body: []doc.Block{reachFigure(a)}})
	return d
}

func divideWords(a divide.Answer) string {
	switch {
	case a.Complete:
		return "At each tooth " + a.Ways[0].Words() + "."
	case len(a.Close) > 0 && a.Close[0].SameMove:
		return "Not exact. Nearest: at each tooth " + a.Close[0].Way.Words() + "."
	case len(a.Close) > 0:
		return "Not exact. Nearest: by the table, hole by hole."
	}
	return "These plates cannot divide it."
}

func divideFacts(a divide.Answer) doc.Facts {
	f := doc.Facts{{Label: "Divisions", Value: strconv.Itoa(a.Query.Count), Note: unit.Number(360/float64(a.Query.Count), 4) + "° each"}}
	if a.Complete {
		w := a.Ways[0]
		return append(f, wayFact(w), doc.Fact{Label: "Exact", Value: "yes", Note: "the last space is as wide as the others"})
	}
	if len(a.Close) > 0 {
		x := a.Close[0]
		f = append(f, wayFact(x.Way), doc.Fact{Label: "A tooth is off by up to", Value: unit.Significant(unit.In(x.Tooth, "′"), 2), Unit: "′"})
		if x.OnRim.Set {
			q := quantity(meas.Exactly(x.OnRim.Value), "µm", 0)
			f = append(f, doc.Fact{Label: "On the rim", Value: q.value, Unit: q.unit, Note: "at " + a.Query.Diameter.Written("mm") + " across"})
		}
	}
	return f
}

func wayFact(w divide.Way) doc.Fact {
	note := w.By
	if w.Second > 0 {
		note += ", second circle " + strconv.Itoa(w.Second)
	}
	return doc.Fact{Label: map[bool]string{true: "Ring", false: "Circle"}[w.Ratio == 0], Value: strconv.Itoa(w.Circle), Unit: "holes", Note: note}
}

// movesTable is the table to tick at the lathe: the place of each tooth, three
// beside each other.
func movesTable(a divide.Answer) doc.Table {
	const beside = 3
	way, exact := firstWay(a)
	t := doc.Table{Caption: "Where each tooth is cut", Note: movesNote(way)}
	for range beside {
		t.Columns = append(t.Columns, doc.Column{Head: "Tooth", Number: true}, doc.Column{Head: "At", Number: true})
		if !exact {
			t.Columns = append(t.Columns, doc.Column{Head: "Off", Unit: "′", Number: true})
		}
		t.Columns = append(t.Columns, doc.Column{Head: "Cut"})
	}
	rows := (len(a.Moves) + beside - 1) / beside
	for r := range rows {
		var row []string
		for c := range beside {
			i := c*rows + r
			cells := []string{"", "", "[ ]"}
			if i < len(a.Moves) {
				m := a.Moves[i]
				cells[0], cells[1] = strconv.Itoa(m.Division), placeWords(way, m)
				if !exact {
					cells = []string{cells[0], cells[1], unit.Number(unit.In(m.Off, "′"), 1), "[ ]"}
				}
			} else {
				cells = make([]string, len(t.Columns)/beside)
			}
			row = append(row, cells...)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func firstWay(a divide.Answer) (divide.Way, bool) {
	if a.Complete {
		return a.Ways[0], true
	}
	return a.Close[0].Way, false
}

func movesNote(w divide.Way) string {
	switch {
	case w.Ratio == 0:
		return fmt.Sprintf("Holes of the ring of %d, from the one begun at.", w.Circle)
	case w.Second > 0:
		return fmt.Sprintf("Turns of the crank from the beginning, hole in the circle of %d, hole in the circle of %d.", w.Circle, w.Second)
	}
	return fmt.Sprintf("Turns of the crank from the beginning + holes in the circle of %d.", w.Circle)
}

func placeWords(w divide.Way, m divide.Move) string {
	switch {
	case w.Ratio == 0:
		return strconv.Itoa(m.Hole)
	case w.Second > 0:
		return fmt.Sprintf("%d + %d, %d", m.Turns, m.Hole, m.SecondHole)
	}
	return fmt.Sprintf("%d + %d", m.Turns, m.Hole)
}

// waysTable lists all ways, or those that come near.
func waysTable(a divide.Answer) doc.Table {
	if !a.Complete {
		t := doc.Table{Caption: "The nearest", Columns: []doc.Column{{Head: "With"}, {Head: "Circle", Unit: "holes"}, {Head: "How"}, {Head: "Tooth off", Unit: "′", Number: true}, {Head: "Space off", Unit: "′", Number: true}}}
		for _, x := range a.Close {
			how := "the nearest hole each time"
			if x.SameMove {
				how = x.Way.Words() + ", each time"
			}
			t.Rows = append(t.Rows, []string{x.Way.By, circles(x.Way), how, unit.Significant(unit.In(x.Tooth, "′"), 2), unit.Significant(unit.In(x.Space, "′"), 2)})
		}
		return t
	}
	t := doc.Table{Caption: "All exact ways, the simplest first", Columns: []doc.Column{{Head: "With"}, {Head: "Circle", Unit: "holes"}, {Head: "At each tooth"}}}
	for _, w := range a.Ways {
		t.Rows = append(t.Rows, []string{w.By, circles(w), w.Words()})
	}
	return t
}

func circles(w divide.Way) string {
	if w.Second > 0 {
		return fmt.Sprintf("%d and %d", w.Circle, w.Second)
	}
	return strconv.Itoa(w.Circle)
}

// reachFigure shows the counts that the plates reach, and lists those that
// they do not.
func reachFigure(a divide.Answer) doc.Figure {
	kinds := map[int]divide.Kind{}
	for _, r := range a.Reached {
		kinds[r.Count] = r.Kind
	}
	total := divide.ReachTo - divide.ReachFrom + 1
	t := doc.Table{Caption: "Counts that are not reached", Columns: []doc.Column{{Head: "Up to"}, {Head: "Not reached"}}}
	for from := 0; from < divide.ReachTo; from += 50 {
		t.Rows = append(t.Rows, []string{strconv.Itoa(from + 50), unreached(kinds, max(from+1, divide.ReachFrom), from+50)})
	}
	caption := fmt.Sprintf("%d of the %d counts from %d to %d are reached", len(a.Reached), total, divide.ReachFrom, divide.ReachTo)
	return doc.Figure{Name: "reach", Caption: caption, Wide: reachPicture(a, kinds, 20, caption), Narrow: reachPicture(a, kinds, 10, caption), Numbers: &t}
}

func unreached(kinds map[int]divide.Kind, from, to int) string {
	var out []string
	for n := from; n <= to; n++ {
		if kinds[n] == "" {
			out = append(out, strconv.Itoa(n))
		}
	}
	if len(out) == 0 {
		return "none"
	}
	return strings.Join(out, " ")
}

// reachPicture has a cell for each count: plain where a ring does it, hatched
// for a circle of a head, shaded for two circles, struck through where nothing
// does.
func reachPicture(a divide.Answer, kinds map[int]divide.Kind, across int, caption string) pic.Picture {
	const w, h, left, top = 34.0, 26.0, 6.0, 30.0
	rows := divide.ReachTo / across
	p := pic.Picture{Title: caption, Desc: "A table of counts; those struck through are not reached.", W: 2*left + w*float64(across), H: top + h*float64(rows) + 8}
	p.Add(pic.Text{P: pic.Pt{X: left, Y: 18}, S: "Struck through: not reached. " + twoCirclesWords(a), Style: pic.Label})
	for n := divide.ReachFrom; n <= divide.ReachTo; n++ {
		at := pic.Pt{X: left + w*float64((n-1)%across), Y: top + h*float64((n-1)/across)}
		r := pic.Rect{Min: at, W: w, H: h, Pen: pic.Hair}
		style := pic.Plain
		switch kinds[n] {
		case "":
			style = pic.Label
		case divide.Compound:
			r.Fill = pic.Shaded
		}
		if n == a.Query.Count {
			r.Pen = pic.Chosen
		}
		p.Add(r, pic.Text{P: pic.Pt{X: at.X + w/2, Y: at.Y + 18}, S: strconv.Itoa(n), Anchor: pic.Middle, Style: style})
		if kinds[n] == "" {
			p.Add(pic.Line{A: pic.Pt{X: at.X + 4, Y: at.Y + h - 5}, B: pic.Pt{X: at.X + w - 4, Y: at.Y + 5}, Pen: pic.Ink})
		}
	}
	return p
}

func twoCirclesWords(a divide.Answer) string {
	if a.Query.Compound {
		return "Shaded: by two circles."
	}
	return ""
}
