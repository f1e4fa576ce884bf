package table

import (
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/progress"
	"seatboard/internal/kit/unit"
)

// Table is what a file holds.
type Table struct {
	Readings []regulate.Reading
	Air      []regulate.Air
	Touches  []regulate.Touch
	Rows     int // with anything in them
	First    time.Time
	Last     time.Time
	Left     int // rows without anything that is wanted
	Gaps     int // stretches behind rows that are missing, taken to be as long as the others
}

// mostFaults is how many mistakes are told.
const mostFaults = 100

// Read takes a file by a plan. local is the shop's own zone. count is told of
// bytes; it may be nil. The error is a meas.Faults with the mistakes of all
// lines, ErrTooLarge, ErrNotText, that of r, or of ctx; there is a table only
// without one.
func Read(ctx context.Context, r io.Reader, p Plan, local *time.Location, count *progress.Counter) (Table, error) {
	t, err := text(r)
	if err != nil {
		return Table{}, err
	}
	in := &reading{plan: p, zone: p.zoneOf(local), count: count}
	for _, m := range p.Columns {
		k := kept{group: m.group()}
		k.q, k.symbol, k.number = m.split()
		in.kept = append(in.kept, k)
	}
	c := cells(t, p.Separator)
	top := 0 // rows of the head that are gone
	if p.Heading {
		top = p.Above + 1 + p.Under
	}
	for n := 0; ; n++ {
		row, err := c.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		line, _ := safeLine(c, row)
		switch wrong := (*csv.ParseError)(nil); {
		case errors.As(err, &wrong):
			in.line = wrong.StartLine
			in.wrong("", "", "has a quotation mark out of place")
			continue
		case err != nil:
			return Table{}, err
		}
		in.line = line
		if top > 0 {
			if filled(row) == 0 {
				continue
			}
			if top--; top == p.Under {
				in.names = append([]string(nil), row...)
			}
			continue
		}
		if !in.checked {
			in.checked = true
			if faults := p.Check(in.names); len(faults) > 0 {
				return Table{}, faults
			}
		}
		in.row(row)
		if n%256 == 0 {
			if err := in.pace(ctx, c.InputOffset()); err != nil {
				return Table{}, err
			}
		}
		if in.out.Rows > MaxRows {
			return Table{}, meas.Faults{{Field: "file", Text: fmt.Sprintf("This table has more than %d rows; bring it in in parts", MaxRows)}}
		}
	}
	return in.done()
}

// safeLine is the line a row begins on.
func safeLine(c *csv.Reader, row []string) (line, col int) {
	if len(row) == 0 {
		return 0, 0
	}
	return c.FieldPos(0)
}

// reading is a table while it is read.
type reading struct {
	plan    Plan
	kept    []kept // by column
	zone    *time.Location
	names   []string
	line    int
	out     Table
	faults  meas.Faults
	more    int       // mistakes beyond those told
	before  time.Time // of the row above
	date    string    // of the row above
	told    int64
	checked bool // the plan was
	implied []implied
	count   *progress.Counter
}

// implied is a rate whose stretch begins at the row above, for nothing else
// says where, with its air (-1 for none).
type implied struct{ reading, air int }

// gaps shortens the stretches that reach over rows which are missing to what is
// usual: half as long again is a gap. The rate of such a row is not that of the
// gap.
func (in *reading) gaps() {
	spans := make([]time.Duration, 0, len(in.implied))
	for _, x := range in.implied {
		r := in.out.Readings[x.reading]
		spans = append(spans, r.At.Sub(r.From))
	}
	if len(spans) < 4 {
		return
	}
	slices.Sort(spans)
	usual := spans[len(spans)/2]
	for _, x := range in.implied {
		r := &in.out.Readings[x.reading]
		if r.At.Sub(r.From) <= usual*3/2 {
			continue
		}
		r.From = r.At.Add(-usual)
		if x.air >= 0 {
			in.out.Air[x.air].At = r.At.Add(-usual / 2)
		}
		in.out.Gaps++
	}
}

// kept is what a column means, looked up once.
type kept struct {
	group  string
	q      quantity
	symbol string
	number bool
}

func (in *reading) pace(ctx context.Context, at int64) error {
	if in.count != nil {
		in.count.Add(at - in.told)
		in.told = at
	}
	return ctx.Err()
}

func (in *reading) done() (Table, error) {
	in.gaps()
	if in.more > 0 {
		in.faults = append(in.faults, meas.Fault{Field: "file", Text: fmt.Sprintf("There are %d more mistakes", in.more)})
	}
	switch {
	case len(in.faults) > 0:
		return Table{}, in.faults
	case len(in.out.Readings)+len(in.out.Air)+len(in.out.Touches) == 0:
		return Table{}, meas.Faults{{Field: "file", Text: "No row has a reading; see what the columns mean"}}
	case len(in.out.Touches) > regulate.MaxTouches:
		return Table{}, meas.Faults{{Field: "file", Text: fmt.Sprintf("There are %d touches; a clock has at most %d", len(in.out.Touches), regulate.MaxTouches)}}
	}
	return in.out, nil
}

// wrong notes a mistake in the line.
func (in *reading) wrong(column, cell, why string) {
	if len(in.faults) >= mostFaults {
		in.more++
		return
	}
	s := "Line " + strconv.Itoa(in.line)
	if column != "" {
		s += ", " + column + ":"
	}
	if cell != "" {
		s += " “" + meas.Clip(cell) + "”"
	}
	in.faults = append(in.faults, meas.Fault{Field: "line-" + strconv.Itoa(in.line), Text: s + " " + why})
}

// found is what a row says.
type found struct {
	at, from time.Time
	value    map[string]float64 // by group, in SI
	how      regulate.How
	touch    *regulate.Touch
	shows    *time.Duration // since midnight, by the hands
	coarse   bool           // and they were read to the minute
	timed    bool           // at has a time of day
	whole    bool           // nothing in it was wrong
}

// row reads one row.
func (in *reading) row(row []string) {
	f := found{value: map[string]float64{}, how: regulate.Brought, whole: true}
	any := false
	for i, m := range in.plan.Columns {
		c := cell(row, i)
		if len(c) > maxCell {
			in.wrong(name(in.names, i), c, "is too long")
			f.whole = false
			continue
		}
		if !in.kept[i].number && m != How && m != Touch && m != Shows || absent(c) {
			continue
		}
		any = true
		if err := in.cell(&f, i, c); err != nil {
			if _, whole := err.(sentence); whole {
				c = ""
			}
			in.wrong(name(in.names, i), c, err.Error())
			f.whole = false
		}
	}
	if !any {
		in.out.Left++
		in.when(row, &f)
		return
	}
	in.out.Rows++
	in.when(row, &f)
	if f.shows != nil && f.whole {
		in.shown(&f)
	}
	if f.whole {
		in.keep(f)
	}
	in.before = f.at
}

// cell reads a cell that is no date.
func (in *reading) cell(f *found, i int, c string) (err error) {
	switch in.plan.Columns[i] {
	case How:
		f.how, err = howOf(c)
		return err
	case Touch:
		t, err := parseTouch(c, in.plan.Marks)
		f.touch = &t
		return err
	case Shows:
		t, err := parseClock(c)
		f.shows = &t.since
		f.coarse = strings.Count(c, ":") < 2
		return err
	}
	k := in.kept[i]
	x, err := quantityOf(c, k.q, k.symbol, in.plan.Comma)
	if err == nil {
		err = possible(k.group, x)
	}
	f.value[k.group] = x
	return err
}

// possible refuses what is plainly a slip or in another unit.
func possible(group string, x float64) error {
	for _, l := range []struct {
		group     string
		low, high float64
		words     string
	}{
		{anError, -86400, 86400, "is more than a day"},
		{aRate, -0.5, 0.5, "is more than half a day in a day"},
		{aDoubt, 0, 86400, "is no doubt"},
		{recorder, 0, 0.5, "is no doubt"},
		{temperature, 200, 350, "is no temperature of a room; is it in another unit?"},
		{pressure, 300e2, 1200e2, "is no pressure of the air; is it in another unit?"},
		{humidity, 0, 1, "is no humidity; is it in another unit?"},
		{halfArc, 0, 1.58, "is no arc of a pendulum"},
		{weight, 0, 100, "is no fall of a weight"},
	} {
		if l.group == group && !(x >= l.low && x <= l.high) {
			return errors.New(l.words)
		}
	}
	return nil
}

// keep puts what a row says into the table.
func (in *reading) keep(f found) {
	e, isError := f.value[anError]
	r, isRate := f.value[aRate]
	if isError && isRate {
		in.wrong("", "", "has an error and a rate; a rate worked out from the errors would count twice, so leave one out")
		return
	}
	u := f.value[aDoubt]
	air := f.at
	switch {
	case isRate && f.from.IsZero():
		in.out.Left++
	case isRate && !f.from.Before(f.at):
		in.wrong("", "", "ends before it begins")
		return
	case isRate:
		air = f.from.Add(f.at.Sub(f.from) / 2)
		in.out.Readings = append(in.out.Readings, regulate.Reading{At: f.at, From: f.from, How: f.how, Rate: unit.Rate(r), U: u / 86400, Clock: unit.Rate(f.value[recorder])})
	case isError:
		in.out.Readings = append(in.out.Readings, regulate.Reading{At: f.at, How: f.how, Error: unit.Duration(e), U: u})
	}
	a, any := in.air(air, f)
	if any {
		in.out.Air = append(in.out.Air, a)
	}
	if isRate && !f.from.IsZero() && !slices.Contains(in.plan.Columns, From) {
		x := implied{len(in.out.Readings) - 1, -1}
		if any {
			x.air = len(in.out.Air) - 1
		}
		in.implied = append(in.implied, x)
	}
	if f.touch != nil {
		t := *f.touch
		t.At = f.at
		if t.Kind == regulate.Stopped && !f.from.IsZero() && !isRate {
			t.At, t.Until = f.from, f.at
		}
		in.out.Touches = append(in.out.Touches, t)
	}
	if in.out.First.IsZero() || f.at.Before(in.out.First) {
		in.out.First = f.at
	}
	if f.at.After(in.out.Last) {
		in.out.Last = f.at
	}
}

func (in *reading) air(at time.Time, f found) (regulate.Air, bool) {
	return regulate.Air{At: at,
		Temperature: result[unit.Temperature](f, temperature), Pressure: result[unit.Pressure](f, pressure), Humidity: result[unit.Ratio](f, humidity),
		Arc: result[unit.Angle](f, halfArc), Weight: result[unit.Length](f, weight)}, hasAir(f)
}

func hasAir(f found) bool {
	for _, g := range []string{temperature, pressure, humidity, halfArc, weight} {
		if _, ok := f.value[g]; ok {
			return true
		}
	}
	return false
}

func result[Q unit.Quantity](f found, group string) meas.Result[Q] {
	x, ok := f.value[group]
	return meas.Result[Q]{Value: Q(x), Set: ok}
}

// Words counts what a table holds: "35 readings, 35 of the air and 2 touches".
func (t Table) Words() string {
	s := plural(len(t.Readings), "reading", "readings")
	if len(t.Air) > 0 {
		s += ", " + strconv.Itoa(len(t.Air)) + " of the air"
	}
	if len(t.Touches) > 0 {
		s += ", " + plural(len(t.Touches), "touch", "touches")
	}
	if t.Gaps > 0 {
		s += "; " + plural(t.Gaps, "stretch", "stretches") + " after missing rows taken to be as long as the others"
	}
	if t.Left > 0 {
		s += "; " + plural(t.Left, "row", "rows") + " had nothing that is wanted"
	}
	return s
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}
