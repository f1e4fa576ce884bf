package table

import (
	"slices"
	"strings"
	"time"

	"seatboard/internal/craft/regulate"
)

// when finds the instants of a row.
func (in *reading) when(row []string, f *found) {
	date, clocked := "", ""
	dateAt, fromAt, from := 0, -1, ""
	year, month := "", ""
	for i, m := range in.plan.Columns {
		c := cell(row, i)
		switch {
		case m == From:
			from, fromAt = c, i
		case m == Year:
			year = c
		case m == Month:
			month = c
		case m == Date:
			date, dateAt = c, i
			if d, t := splitWhen(c); t != "" && !slices.Contains(in.plan.Columns, Time) {
				date, clocked = d, t
			}
		case m == Time:
			clocked = c
		case m == At:
			date, dateAt = c, i
			date, clocked = splitWhen(c)
		case strings.HasPrefix(string(m), "at ") && !absent(c):
			t, err := counted(c, strings.TrimPrefix(string(m), "at "))
			if err != nil {
				in.wrong(name(in.names, i), c, err.Error())
				f.whole = false
				return
			}
			f.at, f.timed = t, true
		}
	}
	if year != "" && !absent(date) {
		date = year + "-" + month + "-" + date
	}
	if f.at.IsZero() && !in.instant(f, date, clocked, dateAt) {
		return
	}
	if fromAt >= 0 && !absent(from) {
		d, c := splitWhen(from)
		if t, err := in.resolve(d, c, time.Time{}); err != nil {
			in.wrong(name(in.names, fromAt), from, err.Error())
			f.whole = false
		} else {
			f.from = t
		}
	} else if fromAt < 0 {
		f.from = in.before
	}
	if f.touch != nil && f.touch.Kind == regulate.Stopped && fromAt < 0 {
		f.from = time.Time{}
	}
}

// instant reads day and time of day of a row.
func (in *reading) instant(f *found, date, clocked string, at int) bool {
	switch {
	case absent(date) && !absent(clocked):
		date = in.date
	case absent(date):
		if len(f.value) > 0 || f.touch != nil {
			in.wrong(name(in.names, at), "", "has no date")
			f.whole = false
		}
		return false
	}
	in.date = date
	t, err := in.resolve(date, clocked, in.before)
	if err != nil {
		in.wrong(name(in.names, at), strings.TrimSpace(date+" "+clocked), err.Error())
		f.whole = false
		return false
	}
	f.at, f.timed = t, !absent(clocked)
	return true
}

// resolve is the instant of a day and a time of day as written; a day alone is
// its noon.
func (in *reading) resolve(date, clocked string, after time.Time) (time.Time, error) {
	d, err := parseDay(date, in.plan.Dates)
	if err != nil {
		return time.Time{}, err
	}
	c := clock{since: 12 * time.Hour}
	if !absent(clocked) {
		if c, err = parseClock(clocked); err != nil {
			return time.Time{}, err
		}
	}
	zone := in.zone
	if c.zone != nil {
		zone = c.zone
	}
	t, err := local(d, c.since, zone, after)
	return t.UTC(), err
}
