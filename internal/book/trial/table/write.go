package table

import (
	"cmp"
	"encoding/csv"
	"io"
	"slices"
	"strconv"
	"time"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// heads are the columns that Write writes, each as Look guesses it.
var heads = []struct {
	name    string
	meaning Meaning
}{
	{"from", From}, {"to", At}, {"error (s)", of(anError, "s")}, {"rate (s/d)", of(aRate, "s/d")}, {"doubt", aDoubt}, {"recorder (s/d)", of(recorder, "s/d")},
	{"how", How}, {"temperature (°C)", of(temperature, "°C")}, {"pressure (hPa)", of(pressure, "hPa")}, {"humidity (%)", of(humidity, "%")},
	{"arc (°)", of(halfArc, "°")}, {"weight (m)", of(weight, "m")}, {"touch", Touch},
}

// Written is the plan of what Write writes.
func Written() Plan {
	p := Plan{Separator: ',', Heading: true, Dates: YMD, Zone: "UTC"}
	for _, h := range heads {
		p.Columns = append(p.Columns, h.meaning)
	}
	return p
}

// line is a row to be written.
type line struct {
	at    time.Time
	cells [13]string
}

// Write writes readings, air and touches as a table that Read takes by the plan
// Written, the earliest first: instants in UTC, the doubt in s or s/d. Readings
// that are put aside are left out. No cell begins as a formula.
func Write(w io.Writer, q regulate.Query) error {
	var lines []line
	for _, r := range q.Readings {
		if !r.Out {
			lines = append(lines, readingLine(r))
		}
	}
	for _, a := range q.Air {
		lines = append(lines, airLine(a))
	}
	for _, t := range q.Touches {
		lines = append(lines, touchLine(t))
	}
	slices.SortStableFunc(lines, func(a, b line) int { return cmp.Compare(a.at.UnixNano(), b.at.UnixNano()) })
	out := csv.NewWriter(w)
	out.UseCRLF = true
	var head []string
	for _, h := range heads {
		head = append(head, h.name)
	}
	if err := out.Write(head); err != nil {
		return err
	}
	for _, l := range lines {
		if err := out.Write(l.cells[:]); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func readingLine(r regulate.Reading) line {
	l := line{at: r.At}
	l.cells[0], l.cells[1], l.cells[6] = stamp(r.From), stamp(r.At), string(r.How)
	u := r.U
	if r.From.IsZero() {
		l.cells[2] = exact(float64(r.Error))
	} else {
		l.cells[3] = exact(r.Rate.PerDay())
		u *= 86400
		if r.Clock > 0 {
			l.cells[5] = exact(r.Clock.PerDay())
		}
	}
	if u > 0 {
		l.cells[4] = exact(u)
	}
	return l
}

func airLine(a regulate.Air) line {
	l := line{at: a.At}
	l.cells[1] = stamp(a.At)
	l.cells[7] = written(a.Temperature, "°C")
	l.cells[8] = written(a.Pressure, "hPa")
	l.cells[9] = written(a.Humidity, "%")
	l.cells[10] = written(a.Arc, "°")
	l.cells[11] = written(a.Weight, "m")
	return l
}

func touchLine(t regulate.Touch) line {
	l := line{at: t.At}
	l.cells[1], l.cells[12] = stamp(t.At), touchText(t)
	if t.Kind == regulate.Stopped && !t.Until.IsZero() {
		l.cells[0], l.cells[1] = stamp(t.At), stamp(t.Until)
	}
	return l
}

func written[Q unit.Quantity](r meas.Result[Q], symbol string) string {
	if !r.Set {
		return ""
	}
	return exact(unit.In(r.Value, symbol))
}

// exact writes a number with twelve figures: more than any reading has, and
// none of the crumbs of its unit.
func exact(x float64) string {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 12, 64), 64)
	if err != nil {
		return ""
	}
	return strconv.FormatFloat(y, 'f', -1, 64)
}
