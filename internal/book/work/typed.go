package work

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
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
	dayTime   = regexp.MustCompile(`^(\d{1,2})(?:[:.](\d{2}))?\s*(am|pm|a\.m\.|p\.m\.)?(?:\s*([+\-−]\d{2}:\d{2}))?$`)
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
		return 0, fmt.Sprintf("“%s” may be hours or minutes; write %s h or %s min", s, s, s)
	case bareTwo.MatchString(s):
		m := bareTwo.FindStringSubmatch(s)
		return 0, fmt.Sprintf("“%s” may be hours and minutes or a decimal; write %s:%s or %s.%s h", s, m[1], m[2], m[1], m[2])
	default:
		v, err := unit.Parse[unit.Duration](s, "h")
		if err != nil {
			return 0, fmt.Sprintf("“%s” is not a length of work; write it like 1:30, 1.5 h or 90 min", s)
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
	fault := func(format string, a ...any) (time.Time, meas.Faults) {
		return time.Time{}, meas.Faults{{Field: "span", Text: fmt.Sprintf(format, a...)}}
	}
	m := dayTime.FindStringSubmatch(strings.ToLower(strings.TrimSpace(s)))
	if m == nil {
		return fault("“%s” is not an hour of the day; write it like 9:15 or 14:30", s)
	}
	h, _ := strconv.Atoi(m[1])
	minute, _ := strconv.Atoi(m[2])
	if half := strings.TrimRight(strings.ReplaceAll(m[3], ".", ""), " "); half != "" {
		if h < 1 || h > 12 {
			return fault("“%s” is not an hour of the day: am and pm go from 1 to 12", s)
		}
		h %= 12
		if half == "pm" {
			h += 12
		}
	}
	if h > 24 || minute > 59 || h == 24 && minute > 0 {
		return fault("“%s” is not an hour of the day; write it like 9:15 or 14:30", s)
	}
	y, mo, d := day.In(zone).Date()
	found := instantsOf(y, mo, d, h, minute, zone)
	if m[4] != "" {
		found = withOffset(found, strings.Replace(m[4], "−", "-", 1))
	}
	switch len(found) {
	case 0:
		return fault("There was no %d:%02d on %s: the clocks went forward, or the offset behind it is not that of the shop", h, minute, time.Date(y, mo, d, 0, 0, 0, 0, time.UTC).Format(time.DateOnly))
	case 1:
		return found[0], nil
	}
	return fault("%d:%02d came twice on %s; write %d:%02d %s or %d:%02d %s, or the length alone", h, minute, found[0].Format(time.DateOnly),
		h, minute, found[0].Format("-07:00"), h, minute, found[1].Format("-07:00"))
}

// instantsOf lists the instants at which the clocks of a zone showed an hour:
// none where it was skipped, two where it came twice.
func instantsOf(y int, mo time.Month, d, h, minute int, zone *time.Location) []time.Time {
	wall := time.Date(y, mo, d, h, minute, 0, 0, time.UTC) // 24:00 becomes the next day
	var out []time.Time
	for _, near := range []time.Duration{-26 * time.Hour, 26 * time.Hour} {
		_, offset := wall.Add(near).In(zone).Zone()
		t := wall.Add(-time.Duration(offset) * time.Second).In(zone)
		shows := t.Day() == wall.Day() && t.Hour() == wall.Hour() && t.Minute() == wall.Minute()
		if shows && (len(out) == 0 || !out[0].Equal(t)) {
			out = append(out, t)
		}
	}
	return out
}

func withOffset(all []time.Time, offset string) []time.Time {
	var out []time.Time
	for _, t := range all {
		if t.Format("-07:00") == offset {
			out = append(out, t)
		}
	}
	return out
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
