// Package walltime reads the time that the clocks of a zone show and finds the
// instants at which they did: one as a rule, none where the clocks were put
// forward over it, two where they were put back.
//
// Nothing is guessed: what came twice is refused with both ways to write it
// ("2:30 +02:00"). A sentence that is "" says that nothing is wrong.
package walltime

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// Hour is a time of day as it was typed.
type Hour struct {
	H, M, S int
	Seconds bool   // seconds were typed
	offset  string // behind it: "+02:00"
}

var hour = regexp.MustCompile(`^(\d{1,2})(?:[:.](\d{2})(?:[:.](\d{2}))?)?\s*(am|pm|a\.m\.|p\.m\.)?(?:\s*([+\-−]\d{2}:\d{2}))?$`)

// ParseHour reads "9", "9:15", "9:15:30", "2.30pm", "2:30 +02:00".
func ParseHour(s string) (Hour, string) {
	m := hour.FindStringSubmatch(strings.ToLower(strings.TrimSpace(s)))
	if m == nil {
		return Hour{}, fmt.Sprintf("“%s” is not an hour of the day; write it like 9:15 or 14:30", clip(s))
	}
	x := Hour{Seconds: m[3] != "", offset: strings.Replace(m[5], "−", "-", 1)}
	x.H, _ = strconv.Atoi(m[1]) // figures only, or nothing
	x.M, _ = strconv.Atoi(m[2])
	x.S, _ = strconv.Atoi(m[3])
	if half := strings.ReplaceAll(m[4], ".", ""); half != "" {
		if x.H < 1 || x.H > 12 {
			return Hour{}, fmt.Sprintf("“%s” is not an hour of the day: am and pm go from 1 to 12", clip(s))
		}
		x.H %= 12
		if half == "pm" {
			x.H += 12
		}
	}
	if x.H > 24 || x.M > 59 || x.S > 59 || x.H == 24 && x.M+x.S > 0 {
		return Hour{}, fmt.Sprintf("“%s” is not an hour of the day; write it like 9:15 or 14:30", clip(s))
	}
	return x, ""
}

// String is the hour as it is shown: "9:15", "9:15:30".
func (x Hour) String() string {
	if x.Seconds {
		return fmt.Sprintf("%d:%02d:%02d", x.H, x.M, x.S)
	}
	return fmt.Sprintf("%d:%02d", x.H, x.M)
}

// SinceMidnight is what a clock that shows the hour has counted.
func (x Hour) SinceMidnight() time.Duration {
	return time.Duration(x.H)*time.Hour + time.Duration(x.M)*time.Minute + time.Duration(x.S)*time.Second
}

// On is the instant at which the clocks of a zone showed the hour on a day.
func (x Hour) On(day time.Time, zone *time.Location) (time.Time, string) {
	y, mo, d := day.In(zone).Date()
	found := x.instants(y, mo, d, zone)
	if x.offset != "" {
		var as []time.Time
		for _, t := range found {
			if t.Format("-07:00") == x.offset {
				as = append(as, t)
			}
		}
		found = as
	}
	switch len(found) {
	case 0:
		return time.Time{}, fmt.Sprintf("There was no %s on %s: the clocks went forward, or the offset behind it is not that of the shop", x, time.Date(y, mo, d, 0, 0, 0, 0, time.UTC).Format(time.DateOnly))
	case 1:
		return found[0], ""
	}
	return time.Time{}, fmt.Sprintf("%s came twice on %s; write %s %s or %s %s", x, found[0].Format(time.DateOnly), x, found[0].Format("-07:00"), x, found[1].Format("-07:00"))
}

// instants lists the instants at which the clocks of a zone showed it.
func (x Hour) instants(y int, mo time.Month, d int, zone *time.Location) []time.Time {
	wall := time.Date(y, mo, d, x.H, x.M, x.S, 0, time.UTC) // 24:00 becomes the next day
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

func clip(s string) string {
	s = strings.ToValidUTF8(s[:min(len(s), 200)], "□")
	if r := []rune(s); len(r) > 24 {
		return string(r[:24]) + "…"
	}
	return s
}
