package present

import (
	"fmt"
	"math"

	"seatboard/internal/craft/pendulum"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Pendulum sets out the answer of a pendulum.
func Pendulum(a pendulum.Answer) doc.Doc {
	d := doc.Doc{Title: "Pendulum"}
	open := doc.Section{Body: []doc.Block{pendulumFacts(a)}}
	open.Body = append(open.Body, notices(a.Findings)...)
	open.Margin = append(remarks(a.Findings), doc.Working{Steps: a.Working})
	open.Margin = append(open.Margin, budgets(a)...)
	open.Margin = append(open.Margin, sources(a.Working, a.Findings))
	if f, ok := elevationFigure(a); ok { // beside the margin, which is long
		open.Body = append(open.Body, f)
	}
	d.Sections = append(d.Sections, open)
	if t := touches(a); len(t.Rows) > 0 {
		d.Sections = append(d.Sections, doc.Section{Heading: "What changes its rate", Body: []doc.Block{t}})
	}
	if a.Query.Arc.Set {
		d.Sections = append(d.Sections, doc.Section{Heading: "Circular error", Body: []doc.Block{arcFigure(a)}})
	}
	return d
}

func pendulumFacts(a pendulum.Answer) doc.Facts {
	var f doc.Facts
	add := func(label string, v fact, note string) {
		if v.value != "" {
			f = append(f, doc.Fact{Label: label, Value: v.value, Unit: v.unit, Doubt: v.doubt, Note: note})
		}
	}
	add("Length", quantity(a.Length, "mm", 1), lengthNote(a))
	add("Beats an hour", quantity(a.BeatsPerHour, "", 1), beatNote(a))
	add("On the beat stated", quantity(a.Rate, "s/d", 1), "the length as measured, against the beat")
	if a.Compound.Length.Set {
		add("Middle of the bob", quantity(a.Compound.BobCentre, "mm", 1), bobNote(a))
	}
	add("One turn of the nut", quantity(a.Nut.PerTurn, "s/d", 1), turnNote(a))
	add("One degree warmer", quantity(a.Warmth.PerKelvin, "s/d", 2), a.Query.Rod+" rod, not compensated")
	if a.Arc.Loss.Set {
		add("Circular error", quantity(a.Arc.Loss, "s/d", 2), "at "+a.Query.Arc.Written("°")+" from the vertical, against a very small arc")
	}
	add("At the other place", quantity(a.Place.Rate, "s/d", 1), placeNote(a))
	add("For the wanted change", quantity(a.Move.Turns, "", 2), moveNote(a))
	add("Gravity", quantity(a.Gravity, "m/s²", 4), map[string]string{
		pendulum.FromTyped: "as measured", pendulum.FromSeconds: "of the seconds pendulum stated",
		pendulum.FromPlace: "of latitude and height", pendulum.FromStandard: "conventional; name the place",
	}[a.GravityFrom])
	return f
}

func lengthNote(a pendulum.Answer) string {
	return "to the centre of swing, " + map[string]string{
		pendulum.FromTyped: "as measured", pendulum.FromBeat: "for that beat", pendulum.FromParts: "of rod and bob",
	}[a.LengthFrom]
}

func bobNote(a pendulum.Answer) string {
	switch {
	case a.Compound.Found:
		return "below the suspension, for that beat"
	case a.Compound.Raise.Set:
		return "below the suspension, as measured; for the beat " + wayOf(float64(a.Compound.Raise.Value)) + " it " + unit.Text(abs(a.Compound.Raise.Value), "mm", 1)
	}
	return "below the suspension, as measured"
}

// stated is a reading as a result, for printing.
func stated[Q unit.Quantity](r meas.Reading[Q]) meas.Result[Q] {
	return meas.Result[Q]{Value: r.Value, U: r.U, HasU: r.HasU, Set: r.Set}
}

func beatNote(a pendulum.Answer) string {
	if !a.Beat.Set {
		return ""
	}
	return unit.Text(a.Beat.Value, "s", 4) + " to a beat"
}

func turnNote(a pendulum.Answer) string {
	if !a.Nut.PerTurn.Set {
		return ""
	}
	note := "up; pitch " + a.Query.NutPitch.Written("mm")
	if a.Nut.PerDivision.Set {
		note += ", a division " + a.Nut.PerDivision.Text("s/d", 2)
	}
	return note
}

func placeNote(a pendulum.Answer) string {
	if !a.Place.Raise.Set {
		return ""
	}
	note := wayOf(float64(a.Place.Raise.Value)) + " the bob " + unit.Text(abs(a.Place.Raise.Value), "mm", 2) + " there"
	if a.Place.Turns.Set {
		note += ", " + unit.Number(math.Abs(float64(a.Place.Turns.Value)), 2) + " turns of the nut"
	}
	return note
}

func moveNote(a pendulum.Answer) string {
	if !a.Move.Raise.Set {
		return ""
	}
	note := "turns of the nut, " + wayOf(float64(a.Move.Raise.Value)) + " the bob " + unit.Text(abs(a.Move.Raise.Value), "mm", 3)
	if a.Move.Divisions.Set {
		note += " (" + unit.Number(math.Abs(float64(a.Move.Divisions.Value)), 0) + " divisions)"
	}
	return note
}

func wayOf(raise float64) string {
	if raise < 0 {
		return "lower"
	}
	return "raise"
}

func abs[Q unit.Quantity](q Q) Q { return Q(math.Abs(float64(q))) }

// fact is a figure in parts, as doc.Fact wants it.
type fact struct{ value, unit, doubt string }

// quantity splits a result into figure, doubt and unit; empty where it was
// not reckoned.
func quantity[Q unit.Quantity](r meas.Result[Q], symbol string, decimals int) fact {
	if !r.Set {
		return fact{}
	}
	if !r.HasU || r.U == 0 {
		return fact{value: signed(r.Value, unit.Number(unit.In(r.Value, symbol), decimals)), unit: symbol}
	}
	v, u, n := meas.Rounded(r.Value, r.U, symbol)
	return fact{value: signed(r.Value, unit.Number(v, n)), unit: symbol, doubt: "± " + unit.Number(u, n)}
}

// signed puts a plus before a rate that gains.
func signed[Q unit.Quantity](q Q, s string) string {
	if q.Kind() == unit.RateKind && q > 0 {
		return "+" + s
	}
	return s
}

// budgets say what to measure again.
func budgets(a pendulum.Answer) []doc.Block {
	var out []doc.Block
	add := func(of string, shares []meas.Share) {
		if b := budget(of, shares); len(b.Lines) > 1 {
			out = append(out, b)
		}
	}
	add("the length", a.Length.Budget)
	add("a turn of the nut", a.Nut.PerTurn.Budget)
	add("the place of the bob", a.Compound.BobCentre.Budget)
	return out
}

// budget sets shares of an uncertainty in per cent, those under 1 % left out.
func budget(of string, shares []meas.Share) doc.Budget {
	b := doc.Budget{Of: of}
	for _, s := range shares {
		if s.Part >= 0.01 {
			b.Lines = append(b.Lines, doc.BudgetLine{Input: s.Input, Percent: 100 * s.Part})
		}
	}
	return b
}

// touches lists what changes the rate and by how much.
func touches(a pendulum.Answer) doc.Table {
	t := doc.Table{Caption: "What does how much", Columns: []doc.Column{{Head: "What"}, {Head: "Rate", Unit: "s a day", Number: true}, {Head: "±", Number: true}}}
	add := func(what string, r meas.Result[unit.Rate]) {
		if !r.Set {
			return
		}
		f := quantity(r, "s/d", 2)
		t.Rows = append(t.Rows, []string{what, f.value, trimDoubt(f.doubt)})
	}
	add("One turn of the nut up", a.Nut.PerTurn)
	add("One division up", a.Nut.PerDivision)
	add("1 °C warmer", a.Warmth.PerKelvin)
	if a.Query.Warmer.Set {
		add("A change of "+a.Query.Warmer.Written("°C"), a.Warmth.Effect)
	}
	if a.Query.Arc.Set && a.Query.ToArc.Set {
		add("Arc from "+a.Query.Arc.Written("°")+" to "+a.Query.ToArc.Written("°"), a.Arc.Change)
	}
	add("1 hPa more pressure, as buoyancy", a.Air.PerHPa)
	add("1 inHg more pressure, as buoyancy", a.Air.PerInHg)
	add("1 g on the tray", a.Tray.PerGram)
	if a.OneSecond.Set {
		t.Note = fmt.Sprintf("One second a day is %s of length.", unit.Text(a.OneSecond.Value, "mm", 4))
	}
	if a.Tray.OneSecond.Set {
		t.Note += fmt.Sprintf(" One second a day is %s on the tray.", unit.Text(a.Tray.OneSecond.Value, "g", 2))
	}
	return t
}

func trimDoubt(s string) string {
	if len(s) > 3 {
		return s[len("± "):]
	}
	return s
}
