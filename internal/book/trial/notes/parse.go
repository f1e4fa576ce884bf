package notes

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"seatboard/internal/book/trial"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/kit/walltime"
)

// Limits of a text.
const (
	MaxBytes = 4 << 20
	maxLine  = 400
	mostTold = 30 // faults
)

// Options are what the lines leave unsaid.
type Options struct {
	Zone      *time.Location // of the hours; nil is UTC
	Divisions int            // marks round the nut, 0 for none
}

// Parse reads the lines. Readings and touches are numbered from 1 as they
// stand. The error is a meas.Faults with every line that cannot be read.
func Parse(text string, o Options) (regulate.Query, error) {
	if o.Zone == nil {
		o.Zone = time.UTC
	}
	if len(text) > MaxBytes {
		return regulate.Query{}, meas.Faults{{Text: fmt.Sprintf("the text has %d bytes, more than %d; give one clock's trial", len(text), MaxBytes)}}
	}
	r := &reader{Options: o}
	n := 0
	for line := range strings.Lines(strings.TrimPrefix(text, "\ufeff")) {
		n++
		r.line(n, strings.TrimRight(line, "\r\n"))
	}
	r.closeOpen(time.Time{}, time.Time{})
	if len(r.q.Readings) > regulate.MaxReadings || len(r.q.Touches) > regulate.MaxTouches {
		r.faults = append(r.faults, meas.Fault{Text: fmt.Sprintf("there are %d readings and %d touches; %d and %d are the most", len(r.q.Readings), len(r.q.Touches), regulate.MaxReadings, regulate.MaxTouches)})
	}
	if more := len(r.faults) - mostTold; more > 0 {
		r.faults = append(r.faults[:mostTold], meas.Fault{Text: fmt.Sprintf("and %d more lines cannot be read", more)})
	}
	if len(r.faults) > 0 {
		return regulate.Query{}, r.faults
	}
	return r.q, nil
}

// reader is the lines so far.
type reader struct {
	Options
	q      regulate.Query
	faults meas.Faults
	day    time.Time // of the line above, at midnight; zero before the first
	last   time.Time // the instant of the line above, where it had an hour
	open   []int     // touches whose instant ends with the next line
}

// when is the instant of a line: day and, where it has one, hour.
type when struct {
	day, at time.Time
	hour    bool
}

func (r *reader) line(n int, s string) {
	if i := strings.Index(s, "#"); i >= 0 {
		s = s[:i]
	}
	s = strings.Join(strings.Fields(s), " ")
	if s == "" {
		return
	}
	fail := func(why string) {
		r.faults = append(r.faults, meas.Fault{Text: fmt.Sprintf("line %d: %s", n, why)})
	}
	if len(s) > maxLine || !utf8.ValidString(s) {
		fail("this is too long or not text; write one reading or touch on a line")
		return
	}
	w, rest, why := r.when(s)
	if why != "" {
		fail(why)
		return
	}
	if !w.day.Equal(r.day) {
		r.closeOpen(w.day, w.at)
		r.day, r.last = w.day, time.Time{}
	}
	if w.hour {
		r.closeOpen(w.day, w.at)
		r.last = w.at
	}
	if why := r.item(w, rest); why != "" {
		fail(why)
	}
}

var (
	isoDay  = regexp.MustCompile(`^(\d{4})-(\d{1,2})-(\d{1,2})(?:[ T]|$)`)
	wordDay = regexp.MustCompile(`^(\d{1,2})\.? ([[:alpha:]]{3,9})\.? (\d{4})(?: |$)`)
	instant = regexp.MustCompile(`^\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}(?::\d{2}(?:\.\d{1,9})?)?(?:Z|[+-]\d{2}:\d{2})(?: |$)`)
	hourAt  = regexp.MustCompile(`^(?i)(\d{1,2}[:.]\d{2}(?:[:.]\d{2})?(?: ?(?:am|pm|a\.m\.|p\.m\.))?(?: ?[+\-−]\d{2}:\d{2})?|\d{1,2} ?(?:am|pm))(?:[ ,;]|$)`)
)

// when reads day and hour off the front of a line.
func (r *reader) when(s string) (w when, rest, why string) {
	if m := instant.FindString(s); m != "" {
		for _, layout := range [...]string{"2006-01-02T15:04Z07:00", "2006-01-02T15:04:05Z07:00"} {
			if t, err := time.Parse(layout, strings.Replace(strings.TrimSpace(m), " ", "T", 1)); err == nil {
				t = t.In(r.Zone)
				y, mo, d := t.Date()
				return when{day: time.Date(y, mo, d, 0, 0, 0, 0, r.Zone), at: t, hour: true}, strings.TrimSpace(s[len(m):]), ""
			}
		}
		return w, s, fmt.Sprintf("“%s” is not an instant", strings.TrimSpace(m))
	}
	rest = s
	day, used, why := r.readDay(s)
	switch {
	case why != "":
		return w, s, why
	case used > 0:
		w.day, rest = day, strings.TrimSpace(s[used:])
	case r.day.IsZero():
		return w, s, fmt.Sprintf("“%s” does not begin with a day; write it like 2026-11-03 09:14 +12 s", meas.Clip(s))
	default:
		w.day = r.day
	}
	m := hourAt.FindStringSubmatch(rest)
	if m == nil {
		return w, rest, ""
	}
	h, why := walltime.ParseHour(m[1])
	if why == "" {
		w.at, why = h.On(w.day.Add(12*time.Hour), r.Zone)
	}
	w.hour = why == ""
	return w, strings.TrimLeft(rest[len(m[1]):], " ,;"), why
}

// readDay reads a day; used is how much of the line it took.
func (r *reader) readDay(s string) (day time.Time, used int, why string) {
	var y, mo, d int
	m := isoDay.FindStringSubmatch(s)
	if m != nil {
		y, mo, d = whole(m[1]), whole(m[2]), whole(m[3])
	} else if m = wordDay.FindStringSubmatch(s); m != nil {
		for i := time.January; i <= time.December; i++ {
			if name := strings.ToLower(m[2]); strings.HasPrefix(strings.ToLower(i.String()), name) {
				mo = int(i)
			}
		}
		y, d = whole(m[3]), whole(m[1])
	} else {
		return day, 0, ""
	}
	day = time.Date(y, time.Month(mo), d, 0, 0, 0, 0, r.Zone)
	on := time.Date(y, time.Month(mo), d, 12, 0, 0, 0, time.UTC) // midnight may not be there
	if mo < 1 || on.Day() != d || on.Month() != time.Month(mo) || y < 1600 {
		return day, 0, fmt.Sprintf("“%s” is not a day of the calendar", strings.TrimSpace(m[0]))
	}
	return day, len(strings.TrimRight(m[0], "T ")) + boolInt(strings.HasSuffix(m[0], "T")), ""
}

func boolInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

// whole reads figures that a pattern has found.
func whole(s string) int {
	n, _ := strconv.Atoi(s)
	return n
}

// closeOpen ends the time in which a touch without an hour was made: at the
// next line of its day, or with the day.
func (r *reader) closeOpen(day, at time.Time) {
	for _, i := range r.open {
		t := &r.q.Touches[i]
		end := r.day.AddDate(0, 0, 1)
		if day.Equal(r.day) && !at.IsZero() {
			end = at
		}
		if end.After(t.At) {
			t.Until = end
		}
	}
	r.open = nil
}

// item reads what was read or done.
func (r *reader) item(w when, s string) (why string) {
	air, rest, why := readAir(s)
	if why != "" {
		return why
	}
	if hasAir(air) {
		air.At = w.at
		if !w.hour {
			air.At = w.day.Add(12 * time.Hour)
		}
	}
	how, rest := readHow(strings.Trim(rest, " ,;"))
	switch {
	case rest == "" && !hasAir(air):
		return "this says when, and not what; write an error like +12 s, or what was done"
	case rest == "":
	case rateOver.MatchString(rest):
		why = r.rate(w, rest)
	default:
		why = r.seenOrDone(w, rest, how)
	}
	if why == "" && hasAir(air) {
		r.q.Air = append(r.q.Air, air)
	}
	return why
}

// seenOrDone reads an error of the clock, or else something done to it. What
// is neither is told as the error that it looks like most.
func (r *reader) seenOrDone(w when, s string, how regulate.How) string {
	seen, notSeen := trial.ParseSeen(s)
	if notSeen == "" {
		if !w.hour {
			return needsHour
		}
		x := regulate.Reading{ID: len(r.q.Readings) + 1, At: w.at, How: how, Error: seen.At(w.at, r.Zone), U: float64(seen.U)}
		r.q.Readings = append(r.q.Readings, x)
		return ""
	}
	if m := untilOf.FindStringSubmatch(s); m != nil {
		return r.stood(w, m)
	}
	t, notDone := trial.ParseTouch(s, r.Divisions)
	switch {
	case notDone == "":
		return r.touch(w, t)
	case t.Kind == "" && strings.IndexAny(s, "+-−0123456789") == 0:
		return notSeen
	}
	return notDone
}

const needsHour = "a reading needs the hour it was taken at, like 09:14"

// touch keeps what was done; without an hour it was at some time between the
// lines about it.
func (r *reader) touch(w when, t regulate.Touch) string {
	if len(r.q.Touches) == regulate.MaxTouches {
		return fmt.Sprintf("there are more than %d touches", regulate.MaxTouches)
	}
	t.ID, t.At = len(r.q.Touches)+1, w.at
	if !w.hour {
		if t.Kind == regulate.Stopped {
			return "a stop needs the hour that the hands show, like 07:20"
		}
		t.At = w.day
		if r.last.After(t.At) {
			t.At = r.last
		}
		r.open = append(r.open, len(r.q.Touches))
	}
	r.q.Touches = append(r.q.Touches, t)
	return ""
}

var untilOf = regexp.MustCompile(`^(?i)(?:stopped|stood) until ((?:\d{4}-\d{1,2}-\d{1,2}[ T])?[^ ,;]+(?: ?[ap]m)?)[:,;]?(?: (.*))?$`)

// stood reads "stopped until 18:30".
func (r *reader) stood(w when, m []string) string {
	until, rest, why := r.when(strings.TrimRight(m[1], ":,;"))
	switch {
	case why != "":
		return why
	case !until.hour || rest != "" || !until.at.After(w.at):
		return fmt.Sprintf("“%s” is not an instant after the stop; write it like until 2026-11-08 18:30", meas.Clip(m[1]))
	}
	return r.touch(w, regulate.Touch{Kind: regulate.Stopped, Until: until.at, Words: m[2]})
}

var rateOver = regexp.MustCompile(`^(.*(?:/ ?(?:d|day|wk|week|h)|a day|a week|an hour|ppm))(?: (over|since) (.+))?$`)

// rate reads "+3.2 ± 0.1 s/d over 20 min" and "… since 2026-11-03 08:00".
func (r *reader) rate(w when, s string) string {
	if !w.hour {
		return needsHour
	}
	m := rateOver.FindStringSubmatch(s)
	rate, err := meas.Parse[unit.Rate](m[1], "s/d")
	if err != nil {
		return err.Error()
	}
	x := regulate.Reading{ID: len(r.q.Readings) + 1, At: w.at, How: regulate.ByEar}
	x.Rate, x.U = rate.Value, float64(rate.U)
	switch m[2] {
	case "over":
		d, err := unit.Parse[unit.Duration](m[3], "")
		if err != nil {
			return err.Error()
		}
		if !(d > 0) || d > 400*unit.Day {
			return fmt.Sprintf("“%s” is no time that a rate is taken over", meas.Clip(m[3]))
		}
		x.From = x.At.Add(-time.Duration(float64(d) * float64(time.Second)))
	case "since":
		from, rest, why := r.when(m[3])
		if why != "" {
			return why
		}
		if !from.hour || rest != "" || !from.at.Before(x.At) {
			return fmt.Sprintf("“%s” is not an instant before the reading; write it like since 2026-11-03 08:00", meas.Clip(m[3]))
		}
		x.From = from.at
	default:
		return "a rate needs the time it was taken over, like +3.2 s/d over 20 min"
	}
	r.q.Readings = append(r.q.Readings, x)
	return ""
}
