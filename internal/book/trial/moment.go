package trial

import (
	"fmt"
	"regexp"
	"strings"
	"time"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/kit/walltime"
)

var (
	dayAndHour = regexp.MustCompile(`^(?:(today|yesterday|\d{4}-\d{2}-\d{2}|mon|tue|wed|thu|fri|sat|sun|monday|tuesday|wednesday|thursday|friday|saturday|sunday)(?:\s+at\s+|[\st]+))?(.+)$`)
	ago        = regexp.MustCompile(`^(.+?)\s+ago$`)
)

// slack is how far an hour may lie ahead of now and still be meant of today.
const slack = time.Minute

// ParseMoment reads when something was: "" or "now" (the zero Time: it is not
// said), "9:14", "9:14:30", "2.30pm", "yesterday 17:40", "sunday 9:00",
// "2026-11-24 17:40", "10 min ago". An hour that is still to come, that the
// clocks skipped, or that came twice is refused with what to write.
func ParseMoment(s string, now time.Time, zone *time.Location) (time.Time, string) {
	text := strings.ToLower(strings.TrimSpace(s))
	if text == "" || text == "now" {
		return time.Time{}, ""
	}
	if m := ago.FindStringSubmatch(text); m != nil {
		d, err := unit.Parse[unit.Duration](m[1], "")
		if err != nil || d < 0 || d > 366*unit.Day {
			return time.Time{}, fmt.Sprintf("“%s” is not a length of time; write it like 10 min ago", meas.Clip(m[1]))
		}
		return now.Add(-time.Duration(float64(d) * float64(time.Second))), ""
	}
	m := dayAndHour.FindStringSubmatch(text)
	if m == nil {
		return time.Time{}, fmt.Sprintf("“%s” is not a time; write it like 9:14, yesterday 17:40 or 2026-11-24 17:40", meas.Clip(s))
	}
	hour, wrong := walltime.ParseHour(m[2])
	if wrong != "" {
		return time.Time{}, wrong + ", with yesterday or a day like 2026-11-24 before it where it was not today"
	}
	day, wrong := dayOf(m[1], now.In(zone))
	if wrong != "" {
		return time.Time{}, wrong
	}
	t, wrong := hour.On(day, zone)
	switch {
	case wrong != "":
		return time.Time{}, wrong
	case !t.After(now.Add(slack)):
		return t, ""
	case m[1] == "" || m[1] == "today":
		return time.Time{}, fmt.Sprintf("%s today is still to come; write yesterday %s, or the day: %s %s", hour, hour, day.AddDate(0, 0, -1).Format(time.DateOnly), hour)
	}
	return time.Time{}, fmt.Sprintf("%s %s is still to come; look at the day and the hour", day.Format(time.DateOnly), hour)
}

// dayOf is a day in words or figures, at its noon; a day of the week is the
// last such, today among them.
func dayOf(word string, now time.Time) (time.Time, string) {
	noon := time.Date(now.Year(), now.Month(), now.Day(), 12, 0, 0, 0, now.Location())
	switch word {
	case "", "today":
		return noon, ""
	case "yesterday":
		return noon.AddDate(0, 0, -1), ""
	}
	if word[0] >= '0' && word[0] <= '9' {
		t, err := time.ParseInLocation(time.DateOnly+" 15", word+" 12", now.Location())
		if err != nil || t.Year() < earliest.Year() {
			return t, fmt.Sprintf("There is no day %s; write it like 2026-11-24", word)
		}
		return t, ""
	}
	for back := range 7 {
		if d := noon.AddDate(0, 0, -back); strings.HasPrefix(strings.ToLower(d.Weekday().String()), word[:3]) {
			return d, ""
		}
	}
	return noon, ""
}
