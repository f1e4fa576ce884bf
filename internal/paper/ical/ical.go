// Package ical writes reminders as an iCalendar file (RFC 5545), for the
// calendar of a telephone or a computer: instants in UTC, whole days as dates,
// an alarm with each.
//
// A reminder has the same UID whenever it is written, so that a calendar that
// takes the file again moves what it has and makes no second one. The file
// names no address: what is in it is words and times.
package ical

import (
	"io"
	"strconv"
	"strings"
	"time"
	"unicode"

	ics "github.com/arran4/golang-ical"
)

// Reminder is one thing that is not to be forgotten.
type Reminder struct {
	UID      string    // the same whenever it is written: "reading-0123456789abcdef"
	Kind     string    // what it is about, one word: "reading", "bath"
	At       time.Time // the instant; of a whole day any instant of it, in the zone it is a day of
	WholeDay bool
	Title    string
	Words    string        // more about it; may have several lines
	Early    time.Duration // how long before it the alarm rings; of a whole day before nine in the morning
}

// shortly is how long an instant lasts in a calendar, so that it can be seen.
const shortly = 15 * time.Minute

// nine is when the alarm of a whole day rings, after its midnight.
const nine = 9 * time.Hour

// Write writes the reminders as one calendar, of which the standard wants at
// least one. now is when they were made.
func Write(w io.Writer, name string, now time.Time, all []Reminder) error {
	cal := &ics.Calendar{}
	cal.SetVersion("2.0")
	cal.SetProductId("-//Seatboard//Reminders//EN")
	cal.SetMethod(ics.MethodPublish)
	cal.SetXWRCalName(line(name))
	for _, r := range all {
		add(cal, now, r)
	}
	return cal.SerializeTo(w, ics.WithNewLineWindows)
}

func add(cal *ics.Calendar, now time.Time, r Reminder) {
	e := cal.AddEvent(line(r.UID))
	e.SetDtStampTime(now)
	early := -r.Early
	if r.WholeDay {
		e.SetAllDayStartAt(r.At)
		early += nine
	} else {
		e.SetStartAt(r.At)
		e.SetEndAt(r.At.Add(shortly))
	}
	e.SetSummary(line(r.Title))
	if r.Words != "" {
		e.SetDescription(text(r.Words))
	}
	if r.Kind != "" {
		e.AddProperty(ics.ComponentPropertyCategories, line(r.Kind))
	}
	e.SetTimeTransparency(ics.TransparencyTransparent) // the person is not busy
	a := e.AddAlarm()
	a.SetAction(ics.ActionDisplay)
	a.SetTrigger(trigger(early))
	a.SetProperty(ics.ComponentPropertyDescription, line(r.Title))
}

// trigger is a time after the beginning as RFC 5545 writes it (3.3.6).
func trigger(d time.Duration) string {
	sign := ""
	if d < 0 {
		sign, d = "-", -d
	}
	d = d.Round(time.Second)
	out := sign + "P"
	if n := d / (24 * time.Hour); n > 0 {
		out += strconv.Itoa(int(n)) + "D"
	}
	rest := d % (24 * time.Hour)
	if rest == 0 && d > 0 {
		return out
	}
	out += "T"
	if n := rest / time.Hour; n > 0 {
		out += strconv.Itoa(int(n)) + "H"
	}
	if n := rest % time.Hour / time.Minute; n > 0 {
		out += strconv.Itoa(int(n)) + "M"
	}
	if n := rest % time.Minute / time.Second; n > 0 || rest == 0 {
		out += strconv.Itoa(int(n)) + "S"
	}
	return out
}

// text is words as a calendar may have them: no control signs but the end of a
// line.
func text(s string) string {
	s = strings.ReplaceAll(strings.ToValidUTF8(s, "□"), "\r\n", "\n")
	return strings.Map(func(r rune) rune {
		if r != '\n' && (unicode.IsControl(r) || r == '\u2028' || r == '\u2029') {
			return -1
		}
		return r
	}, s)
}

// line is words on one line.
func line(s string) string { return strings.Join(strings.Fields(text(s)), " ") }
