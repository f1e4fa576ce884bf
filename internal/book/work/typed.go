package work

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/kit/walltime"
)

// Span is when work was done, as it was typed.
type Span struct {
	Start, End time.Time // End is zero where it is open
	DayOnly    bool      // the length was typed: it begins at noon of its day
}

// longestTyped is more than anybody works without lying down.
const longestTyped = 18 * time.Hour

var (
	rangeOf   = regexp.MustCompile(`^(.+?)\s*(?:–|—|\bto\b|\buntil\b)\s*(.*)$`)
	hyphened  = regexp.MustCompile(`^([^-]+?)\s*-\s*(.*)$`)
	colonTime = regexp.MustCompile(`^(\d{1,2}):(\d{2})(?:\s*h)?$`)
	hoursMins = regexp.MustCompile(`^(\d{1,2})\s*h\s*(\d{1,2})$`)
	bareWhole = regexp.MustCompile(`^\d+$`)
	bareTwo   = regexp.MustCompile(`^(\d+)[.,]([0-5]\d)$`)
)

// ParseSpan reads when work was done on a day of a zone: a length ("1:30",
// "1.5 h", "90 min"), or from–to ("9:15–11:40", "9-11", "2.30pm to 4pm"; an
// open end with nothing behind the stroke). An end before the beginning is on
// the next day. What may be meant in two ways is refused with both; the fault
// stands at "span".
func ParseSpan(s string, day time.Time, zone *time.Location) (Span, meas.Faults) {
	s = strings.ToLower(strings.TrimSpace(s))
	fault := func(format string, a ...any) (Span, meas.Faults) {
		return Span{}, meas.Faults{{Field: "span", Text: fmt.Sprintf(format, a...)}}
	}
	if s == "" {
		return fault("Enter how long, such as 1:30 or 1.5 h, or from–to, such as 9:15–11:40")
	}
	for _, split := range []*regexp.Regexp{rangeOf, hyphened} {
		if m := split.FindStringSubmatch(s); m != nil {
			return parseRange(m[1], m[2], day, zone)
		}
	}
	d, err := ParseLength(s)
	if err != "" {
		return fault("%s", err)
	}
	y, mo, dd := day.In(zone).Date()
	noon := time.Date(y, mo, dd, 12, 0, 0, 0, zone)
	return Span{Start: noon, End: noon.Add(d), DayOnly: true}, nil
}

// ParseLength reads a length of work; the sentence is "" where it could.
func ParseLength(s string) (d time.Duration, sentence string) {
	s = strings.ToLower(strings.TrimSpace(s))
	switch {
	case colonTime.MatchString(s):
		m := colonTime.FindStringSubmatch(s)
		d = clockHours(m[1], m[2])
	case hoursMins.MatchString(s):
		m := hoursMins.FindStringSubmatch(s)
		d = clockHours(m[1], m[2])
	case bareWhole.MatchString(s):
		return 0, fmt.Sprintf("“%s” may be hours or minutes; write %[1]s h or %[1]s min", meas.Clip(s))
	case bareTwo.MatchString(s):
		m := bareTwo.FindStringSubmatch(s)
		return 0, fmt.Sprintf("“%s” may be hours and minutes or a decimal; write %s:%s or %s.%s h", s, m[1], m[2], m[1], m[2])
	default:
		v, err := unit.Parse[unit.Duration](s, "h")
		if err != nil {
			return 0, fmt.Sprintf("“%s” is not a length of work; write it like 1:30, 1.5 h or 90 min", meas.Clip(s))
		}
		if v > 1e9 { // no duration is so long
			return 0, fmt.Sprintf("“%s” is more than one day's work; enter each day for itself", meas.Clip(s))
		}
		d = time.Duration(float64(v)*1000+0.5) * time.Millisecond
	}
	switch {
	case d <= 0:
		return 0, "The work must have taken longer than nothing"
	case d > longestTyped:
		return 0, fmt.Sprintf("%s is more than one day's work; enter each day for itself", hoursWords(d))
	}
	return d, ""
}

// clockHours is hours and minutes of figures; minutes of 60 and more are none.
func clockHours(h, m string) time.Duration {
	hours, _ := strconv.Atoi(h) // figures only
	minutes, _ := strconv.Atoi(m)
	if minutes >= 60 {
		return -1
	}
	return time.Duration(hours)*time.Hour + time.Duration(minutes)*time.Minute
}

// parseRange reads from–to.
func parseRange(from, to string, day time.Time, zone *time.Location) (Span, meas.Faults) {
	start, f := ParseInstant(from, day, zone)
	if len(f) > 0 || to == "" {
		return Span{Start: start}, f
	}
	end, f := ParseInstant(to, day, zone)
	if len(f) == 0 && !end.After(start) {
		end, f = ParseInstant(to, day.In(zone).AddDate(0, 0, 1), zone)
	}
	if len(f) == 0 && end.Sub(start) > longestTyped {
		f = meas.Faults{{Field: "span", Text: fmt.Sprintf("From %s to %s is %s; write afternoon hours as 13:00 or 1pm, and enter each day for itself", from, to, hoursWords(end.Sub(start)))}}
	}
	if len(f) > 0 {
		return Span{}, f
	}
	return Span{Start: start, End: end}, nil
}

// ParseInstant reads an hour of a day in a zone: "9", "9:15", "2.30pm". An
// hour that the clocks skipped, or that came twice that night, is refused
// with what to write ("2:30 +02:00").
func ParseInstant(s string, day time.Time, zone *time.Location) (time.Time, meas.Faults) {
	x, wrong := walltime.ParseHour(s)
	var t time.Time
	if wrong == "" {
		t, wrong = x.On(day, zone)
	}
	if wrong != "" {
		return time.Time{}, meas.Faults{{Field: "span", Text: wrong}}
	}
	return t, nil
}

// Typed is a stretch's span as it would be typed.
func (s Stretch) Typed(zone *time.Location) string {
	if s.DayOnly {
		return Clocked(s.Length())
	}
	from := s.Start.In(zone).Format("15:04") + "–"
	if s.End.IsZero() {
		return from
	}
	return from + s.End.In(zone).Format("15:04")
}

// Clocked is a length as people write it, to the minute: "1:30".
func Clocked(d time.Duration) string {
	m := int(d.Round(time.Minute) / time.Minute)
	return fmt.Sprintf("%d:%02d", m/60, m%60)
}
