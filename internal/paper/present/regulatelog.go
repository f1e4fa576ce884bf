package present

import (
	"cmp"
	"slices"
	"time"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// RegulationLog is the whole trial line by line in the order of time, for a
// spreadsheet: readings with what was reckoned of them, touches, the air.
// Instants are UTC.
func RegulationLog(a regulate.Answer) doc.Table {
	t := doc.Table{Caption: "Regulation log", Columns: []doc.Column{{Head: "When", Unit: "UTC"}, {Head: "What"}, {Head: "How"}, {Head: "Fast", Unit: "s", Number: true}, {Head: "Doubt", Unit: "s", Number: true},
		{Head: "Read less reckoned", Unit: "s", Number: true}, {Head: "Rate read", Unit: "s a day", Number: true}, {Head: "Rate reckoned", Unit: "s a day", Number: true}, {Head: "Rate from", Unit: "s a day", Number: true}, {Head: "Rate to", Unit: "s a day", Number: true},
		{Head: "Turns up", Number: true}, {Head: "Mass put on", Unit: "g", Number: true}, {Head: "Temperature", Unit: "°C", Number: true}, {Head: "Pressure", Unit: "hPa", Number: true}, {Head: "Humidity", Unit: "%", Number: true},
		{Head: "Half arc", Unit: "°", Number: true}, {Head: "Weight still to fall", Unit: "mm", Number: true}, {Head: "Words"}}}
	past := make(map[int]regulate.Point, len(a.Past))
	for _, p := range a.Past {
		past[p.Reading] = p
	}
	var lines []logLine
	for _, r := range a.Query.Readings {
		lines = append(lines, readingLine(r, past))
	}
	for _, x := range a.Query.Touches {
		lines = append(lines, touchLine(x))
	}
	for _, x := range a.Query.Air {
		lines = append(lines, airLine(x))
	}
	slices.SortStableFunc(lines, func(x, y logLine) int { return cmp.Or(x.at.Compare(y.at), cmp.Compare(x.cells[1], y.cells[1])) })
	for _, l := range lines {
		l.cells[0] = l.at.UTC().Format(time.RFC3339)
		t.Rows = append(t.Rows, l.cells[:])
	}
	return t
}

// logLine is one line of the log.
type logLine struct {
	at    time.Time
	cells [18]string
}

// plain writes a number with all its figures that matter.
func plain(x float64) string { return unit.Number(x, min(placesOf(x), 6)) }

func readingLine(r regulate.Reading, past map[int]regulate.Point) logLine {
	l := logLine{at: r.At}
	l.cells[1], l.cells[2] = "reading", string(r.How)
	if r.From.IsZero() {
		l.cells[3] = plain(float64(r.Error))
		if r.U > 0 {
			l.cells[4] = plain(r.U)
		}
	} else {
		l.cells[6] = plain(r.Rate.PerDay())
		l.cells[17] = "since " + r.From.UTC().Format(time.RFC3339)
	}
	p, ok := past[r.ID]
	if ok && p.Reading != 0 && inBand(p.Rate) {
		l.cells[5] = unit.Number(float64(p.Residual), 3)
		for i, v := range [...]unit.Rate{p.Rate.Value, p.Rate.Low, p.Rate.High} {
			l.cells[7+i] = unit.Number(v.PerDay(), 3)
		}
	}
	switch {
	case r.Out:
		l.cells[17] = both(l.cells[17], "wrong, left out")
	case ok && p.Asked:
		l.cells[17] = both(l.cells[17], "asked about, not used")
	case r.Taken:
		l.cells[17] = both(l.cells[17], "looked at and right")
	}
	return l
}

func touchLine(x regulate.Touch) logLine {
	l := logLine{at: x.At}
	l.cells[1], l.cells[2], l.cells[17] = "touch", string(x.Kind), x.Words
	if x.HasError {
		l.cells[3] = plain(float64(x.Error))
		if x.U > 0 {
			l.cells[4] = plain(float64(x.U))
		}
	}
	if x.Turns != 0 {
		l.cells[10] = plain(x.Turns)
	}
	if x.Mass != 0 {
		l.cells[11] = plain(unit.In(x.Mass, "g"))
	}
	if !x.Until.IsZero() {
		l.cells[17] = both("until "+x.Until.UTC().Format(time.RFC3339), x.Words)
	}
	return l
}

func airLine(x regulate.Air) logLine {
	l := logLine{at: x.At}
	l.cells[1] = "air"
	l.cells[12], l.cells[13], l.cells[14] = cellOf(x.Temperature, "°C"), cellOf(x.Pressure, "hPa"), cellOf(x.Humidity, "%")
	l.cells[15], l.cells[16] = cellOf(x.Arc, "°"), cellOf(x.Weight, "mm")
	return l
}

func cellOf[Q unit.Quantity](r meas.Result[Q], symbol string) string {
	if !r.Set {
		return ""
	}
	return plain(unit.In(r.Value, symbol))
}
