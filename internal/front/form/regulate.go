package form

import (
	"context"
	"fmt"
	"math"
	"strings"
	"time"

	"seatboard/internal/book/trial/notes"
	"seatboard/internal/craft/pendulum"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Trial is a clock's time on trial as it is typed: the lines, and what is
// known beside them.
type Trial struct {
	Lines     string
	Zone      string
	Divisions int
	PerTurn   meas.Reading[unit.Rate]
	PerGram   meas.Reading[unit.Rate]
	PerKelvin meas.Reading[unit.Rate]
	Rod       string
	Lost      meas.Reading[unit.Ratio]
	Rate      meas.Reading[unit.Rate]
	Band      meas.Reading[unit.Rate]
	Days      int
	Move      meas.Reading[unit.Rate]
}

// Regulate declares the inputs of a clock on trial.
func Regulate(t *Trial) Form {
	lines := Field{Name: "lines", Label: "Readings and touches", Kind: Area, Arg: true, File: true, set: func(s string) error { t.Lines = s; return nil }}
	lines.Hint = "A line for each, with day and hour: 2026-11-03 09:14 +12 s, 17.5 °C; 2026-11-05 10:00 nut up 1/2; +3.2 ± 0.1 s/d over 20 min"
	return Form{Name: "regulate", Groups: []Group{
		{Legend: "What was read and done", Fields: []Field{
			lines,
			Text("zone", "Time zone of the hours", &t.Zone).Sized(16).Hinted("Europe/Berlin, +01:00 or UTC; left empty, this computer’s"),
		}},
		{Legend: "The nut", Fields: []Field{
			Quantity("per-turn", "One turn of the nut up", "s/d", &t.PerTurn).Hinted("With its doubt where known: 30 ± 3; the pendulum’s page reckons it"),
			Whole("divisions", "Divisions on the nut", &t.Divisions, 1, 1000),
			Quantity("lost", "Lost motion when it is turned back, in turns", "", &t.Lost).Sized(8),
			Quantity("per-gram", "One gram on the tray", "s/d", &t.PerGram).Hinted("Where there is a tray").Sized(8),
		}},
		{Legend: "The rod", Fields: []Field{
			materialChoice("rod", "Material of a bare rod", &t.Rod, true),
			Quantity("per-kelvin", "One degree warmer, if known better", "s/d", &t.PerKelvin).Hinted("Negative where it loses: −0.5 ± 0.1").Sized(10),
		}},
		{Legend: "What counts as right", Folded: true, Fields: []Field{
			Quantity("want", "Rate to aim at", "s/d", &t.Rate).Hinted("0 where empty").Sized(8),
			Quantity("band", "Right within, each way", "s/d", &t.Band).Hinted("2 where empty").Sized(8),
			Whole("days", "For how many days", &t.Days, 1, 366).Hinted("7 where empty"),
			Quantity("move", "What it will gain by going home", "s/d", &t.Move).Hinted("The new home’s page reckons it").Sized(8),
		}},
	}}
}

// Query puts the trial together; said is what was supposed of a table. The
// error is a meas.Faults whose fields are the form's.
func (t Trial) Query(ctx context.Context) (q regulate.Query, said []meas.Finding, err error) {
	var faults meas.Faults
	zone, err := zoneNamed(t.Zone)
	if err != nil {
		faults = append(faults, meas.Fault{Field: "zone", Text: "Time zone of the hours: " + err.Error()})
	}
	if strings.TrimSpace(t.Lines) == "" {
		faults = append(faults, meas.Fault{Field: "lines", Text: "Enter what the clock was wrong by, a line for each reading"})
	}
	if isTable(t.Lines) {
		q, said, err = readTable(ctx, t.Lines, zone, t.Divisions)
	} else {
		q, err = notes.Parse(t.Lines, notes.Options{Zone: zone, Divisions: t.Divisions})
	}
	if err != nil {
		for _, f := range asFaults(err) {
			faults = append(faults, meas.Fault{Field: "lines", Text: "Readings and touches, " + f.Text})
		}
	}
	for _, x := range []struct {
		field, what string
		r           meas.Reading[unit.Rate]
	}{{"per-turn", "One turn of the nut up", t.PerTurn}, {"per-gram", "One gram on the tray", t.PerGram}, {"band", "Right within", t.Band}} {
		if x.r.Set && !(x.r.Value > 0) {
			faults = append(faults, meas.Fault{Field: x.field, Text: x.what + " must be more than nought; “" + x.r.String() + "” was entered"})
		}
	}
	if t.Lost.Set && (t.Lost.Value < 0 || t.Lost.Value > 3) {
		faults = append(faults, meas.Fault{Field: "lost", Text: "Lost motion must be between 0 and 3 turns; “" + t.Lost.String() + "” was entered"})
	}
	if len(faults) > 0 {
		return q, nil, faults
	}
	q.Known = regulate.Known{PerTurn: result(t.PerTurn), Divisions: t.Divisions, PerGram: result(t.PerGram), PerKelvin: t.perKelvin(), Lost: result(t.Lost)}
	q.Wanted = regulate.Wanted{Rate: t.Rate.Value, Band: t.Band.Value, Days: float64(t.Days), Move: result(t.Move)}
	for _, r := range q.Readings {
		if r.At.After(q.Now) {
			q.Now = r.At
		}
	}
	return q, said, nil
}

// perKelvin is what was typed, or what a bare rod does.
func (t Trial) perKelvin() meas.Result[unit.Rate] {
	if t.PerKelvin.Set || t.Rod == "" {
		return result(t.PerKelvin)
	}
	a, err := pendulum.Solve(pendulum.Query{Rod: t.Rod, Length: meas.Of(unit.Length(1))})
	if err != nil {
		return meas.Result[unit.Rate]{}
	}
	r := a.Warmth.PerKelvin
	if !r.HasU { // sources agree; a rod is not its table
		r.U, r.HasU = unit.Rate(math.Abs(float64(r.Value)))/10, true
	}
	return r
}

// result is a reading as what is known.
func result[Q unit.Quantity](r meas.Reading[Q]) meas.Result[Q] {
	return meas.Result[Q]{Value: r.Value, U: r.U, HasU: r.HasU, Set: r.Set}
}

// zoneNamed finds a zone by its name or its distance from UTC.
func zoneNamed(s string) (*time.Location, error) {
	s = strings.TrimSpace(s)
	if s == "" {
		return time.Local, nil
	}
	if t, err := time.Parse("-07:00", strings.Replace(s, "−", "-", 1)); err == nil {
		_, offset := t.Zone()
		return time.FixedZone(s, offset), nil
	}
	if zone, err := time.LoadLocation(s); err == nil {
		return zone, nil
	}
	return time.UTC, fmt.Errorf("“%s” is not a time zone; write it like Europe/Berlin, +01:00 or UTC", meas.Clip(s))
}

func asFaults(err error) meas.Faults {
	if f, ok := err.(meas.Faults); ok {
		return f
	}
	return meas.Faults{{Text: err.Error()}}
}
