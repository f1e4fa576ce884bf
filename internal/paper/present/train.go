package present

import (
	"fmt"
	"strconv"
	"strings"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/unit"
)

// Train sets out the answer of the trains. The mesh enlarged is one that does
// not agree, or else the one nearest to the escapement that was counted.
func Train(a train.Answer) doc.Doc { return TrainChosen(a, 0, -1) }

// TrainChosen is Train with a mesh chosen: that of wheel mesh, from 0, in the
// train numbered from 0; a negative mesh leaves the choice to the answer.
func TrainChosen(a train.Answer, chosen, mesh int) doc.Doc {
	d := doc.Doc{Title: "Wheel trains"}
	open := doc.Section{}
	if f := trainFacts(a); len(f) > 0 {
		open.Body = append(open.Body, f)
	}
	open.Body = append(open.Body, notices(a.Findings)...)
	open.Margin = trainMargin(a)
	d.Sections = append(d.Sections, open)
	for i, t := range a.Trains {
		m := mesh
		if i != chosen || m < 0 || m >= len(t.Meshes) {
			m = tellingMesh(t)
		}
		d.Sections = append(d.Sections, trainSection(a, t, m))
	}
	if s := motionSection(a); s != nil {
		d.Sections = append(d.Sections, *s)
	}
	return d
}

func trainFacts(a train.Answer) doc.Facts {
	f := append(beatFacts(a), escapeFact(a)...)
	f = append(f, windingFacts(a)...)
	if m := a.Motion; m != nil && m.HoursPerTurn.Known() {
		note := "as the dial wants"
		if !m.Right {
			note = fmt.Sprintf("the dial wants %d", m.DialHours)
		}
		f = append(f, doc.Fact{Label: "Hour hand, one turn", Value: m.HoursPerTurn.Mixed(), Unit: "h", Note: note})
	}
	return f
}

// beatFacts are those of the escapement.
func beatFacts(a train.Answer) doc.Facts {
	var f doc.Facts
	if !a.BeatsPerHour.Known() {
		return nil
	}
	note := "exact from the counts"
	if a.BeatsPerHour.About {
		note = "about, from the pendulum"
	}
	f = append(f,
		doc.Fact{Label: "Beats an hour", Value: a.BeatsPerHour.Mixed(), Note: note},
		doc.Fact{Label: "One beat", Value: a.SecondsPerBeat.Mixed(), Unit: "s", Note: a.BeatsPerMinute.Mixed() + " beats a minute"})
	if p := quantity(a.Pendulum, "mm", 1); p.value != "" {
		note := "to the centre of swing, gravity " + a.Gravity.Text("m/s²", 5)
		if a.Standard {
			note += " (standard)"
		}
		f = append(f, doc.Fact{Label: "Pendulum for these beats", Value: p.value, Unit: p.unit, Doubt: p.doubt, Note: note})
	}
	if r := quantity(a.Rate, "s/d", 1); r.value != "" {
		f = append(f, doc.Fact{Label: "On what was stated", Value: r.value, Unit: "s a day", Doubt: r.doubt, Note: "gaining is plus"})
	}
	return f
}

// escapeFact is one turn of the last arbor of the going train.
func escapeFact(a train.Answer) doc.Facts {
	for _, t := range a.Trains {
		n := len(t.Arbors) - 1
		if t.Name != train.Going || n < 0 || !t.Arbors[n].Period.Known() || t.Arbors[n].Wheel.Status == train.None {
			continue
		}
		note := ""
		switch {
		case a.SecondsHand != nil && *a.SecondsHand == n:
			note = "it can carry a seconds hand"
		case a.SecondsHand != nil:
			note = fmt.Sprintf("arbor %d can carry a seconds hand", *a.SecondsHand+1)
		}
		return doc.Facts{{Label: "Escape wheel, one turn", Value: train.Interval(t.Arbors[n].Period), Note: note}}
	}
	return nil
}

// windingFacts say what a winding of each train lasts.
func windingFacts(a train.Answer) doc.Facts {
	var f doc.Facts
	for _, t := range a.Trains {
		label := "Runs"
		if len(a.Trains) > 1 {
			label = upperFirst(t.Name) + " runs"
		}
		if !t.RunningDays.Known() {
			continue
		}
		x := doc.Fact{Label: label, Value: t.RunningDays.Mixed(), Unit: "days", Note: t.BarrelTurns.Mixed() + " turns of the barrel"}
		if t.RunningHours.Float() < 72 {
			x.Value, x.Unit = t.RunningHours.Mixed(), "h"
		}
		if t.Running.HasU {
			x.Doubt = "± " + figuresOf(float64(t.Running.U)/86400*dayFactor(x.Unit))
		}
		f = append(f, x)
	}
	return f
}

func dayFactor(symbol string) float64 {
	if symbol == "h" {
		return 24
	}
	return 1
}

// figuresOf is a doubt in two figures.
func figuresOf(x float64) string { return strings.TrimSuffix(unit.Significant(x, 2), ".0") }

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	r := []rune(s)
	return strings.ToUpper(string(r[0])) + string(r[1:])
}

func trainMargin(a train.Answer) []doc.Block {
	out := remarks(a.Findings)
	if len(a.Working) > 0 {
		out = append(out, doc.Working{Title: "Working", Steps: a.Working})
	}
	if b := budget("the rate on the pendulum", a.Rate.Budget); len(b.Lines) > 1 {
		out = append(out, b)
	}
	return append(out, sources(a.Working, a.Findings))
}

// tellingMesh is the mesh worth a closer look.
func tellingMesh(t train.Turned) int {
	for i, m := range t.Meshes {
		if apart(m.ModuleWheel, m.ModulePinion) || apart(m.ModuleWheel, m.ModuleDepth) || apart(m.ModulePinion, m.ModuleDepth) {
			return i
		}
	}
	for i := len(t.Meshes) - 1; i >= 0; i-- {
		if t.Meshes[i].Ratio.Known() {
			return i
		}
	}
	return len(t.Meshes) - 1
}

func apart(a, b *train.Bracket) bool {
	return a != nil && b != nil && (a.Low > b.High || b.Low > a.High)
}

// trainSection is one train: plates, arbors, the chosen mesh and all meshes.
func trainSection(a train.Answer, t train.Turned, mesh int) doc.Section {
	s := doc.Section{Heading: upperFirst(t.Name) + " train"}
	arbors, meshes := arborTable(t), meshTable(t)
	s.Body = append(s.Body, doc.Figure{Name: figureName("plates", t), Caption: platesCaption(t),
		Wide: TrainPlates(t, mesh, wideFigure), Narrow: TrainPlates(t, mesh, narrowFigure), Numbers: &arbors})
	if mesh >= 0 && mesh < len(t.Meshes) {
		s.Body = append(s.Body, doc.Figure{Name: figureName("mesh", t), Caption: meshCaption(t, mesh),
			Wide: TrainMesh(t, mesh, wideFigure), Narrow: TrainMesh(t, mesh, narrowFigure), Numbers: &meshes, Choices: meshChoices(a, t, mesh)})
	}
	if w := wantedTable(a, t.Name); len(w.Rows) > 0 {
		s.Body = append(s.Body, w)
	}
	if b := strikeTable(t); len(b.Rows) > 0 {
		s.Body = append(s.Body, b)
	}
	return s
}

// meshChoices name the meshes of a train, for a page that lets one be chosen.
func meshChoices(a train.Answer, t train.Turned, mesh int) []doc.Choice {
	var out []doc.Choice
	for i, x := range a.Trains {
		if x.Name != t.Name {
			continue
		}
		for m := range t.Meshes {
			out = append(out, doc.Choice{Words: fmt.Sprintf("%s and %s", t.Arbors[m].Name, lowerFirst(t.Arbors[m+1].Name)), Value: MeshChoice(i, m), Chosen: m == mesh})
		}
	}
	return out
}

// MeshChoice names a mesh of a train, both from 0, as a choice.
func MeshChoice(trainAt, mesh int) string { return fmt.Sprintf("%d.%d", trainAt, mesh) }

// TrainWith is Train with the mesh that a choice names; an empty or unknown
// one leaves the choice to the answer.
func TrainWith(a train.Answer, choice string) doc.Doc {
	t, m, ok := strings.Cut(choice, ".")
	at, err1 := strconv.Atoi(t)
	mesh, err2 := strconv.Atoi(m)
	if !ok || err1 != nil || err2 != nil {
		return Train(a)
	}
	return TrainChosen(a, at, mesh)
}

// figureName is "plates" in the going train, "plates-strike" in another.
func figureName(what string, t train.Turned) string {
	if t.Name == train.Going {
		return what
	}
	return what + "-" + fileWord(t.Name)
}

// meshCaption says how true the drawing of a mesh is.
func meshCaption(t train.Turned, mesh int) string {
	s := "The mesh in brass above, from the face. Counts and pitch circles are true to each other; the shape of the teeth is supposed"
	if m := t.Meshes[mesh]; !m.Ratio.Known() {
		return s + ", and so is a count that is lost."
	}
	return s + "."
}

// fileWord is a train's name fit for a file name.
func fileWord(s string) string {
	out := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			return r
		case r >= 'A' && r <= 'Z':
			return r + 'a' - 'A'
		case r == ' ' || r == '-':
			return '-'
		}
		return -1
	}, s)
	if out == "" {
		return "train"
	}
	return out[:min(len(out), 24)]
}

// motionSection is the work under the dial.
func motionSection(a train.Answer) *doc.Section {
	if a.Motion == nil {
		return nil
	}
	m := *a.Motion
	t := doc.Table{Caption: "Pairs from the arbor that carries them to the hour hand", Columns: []doc.Column{{Head: "Pair"}, {Head: "Wheel driven", Number: true}, {Head: "Pinion that drives it", Number: true}}}
	for i, p := range m.Pairs {
		t.Rows = append(t.Rows, []string{strconv.Itoa(i + 1), p.Wheel.String(), p.Pinion.String()})
	}
	if m.Product.Known() {
		t.Note = "In all " + m.Product.Mixed() + " turns of the arbor that carries it for one of the hour hand."
	}
	return &doc.Section{Heading: "Motion work", Body: []doc.Block{t}, Margin: []doc.Block{doc.Sources{Refs: []cite.Ref{motionRef}}}}
}

var motionRef = cite.Ref{Source: "derham", Place: "p. 31", Grade: cite.Printed}
