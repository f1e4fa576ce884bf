package table

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
)

// Dates is how days are written.
type Dates string

// The ways; ISO dates are read in each.
const (
	YMD Dates = "year-month-day"
	DMY Dates = "day.month.year"
	MDY Dates = "month/day/year"

	// The same with years of two figures, 2000 to 2099.
	ShortDMY Dates = "day.month.yy"
	ShortMDY Dates = "month/day/yy"
)

// Orders lists them.
func Orders() []Dates { return []Dates{YMD, DMY, MDY, ShortDMY, ShortMDY} }

// short tells an order whose years have two figures.
func (o Dates) short() bool { return o == ShortDMY || o == ShortMDY }

var (
	errDate = errors.New("is no date; write it like 2026-03-04")
	errTime = errors.New("is no time of day; write it like 09:14:30")
)

// monthNames are the beginnings of the names of months in English, German,
// French, Italian and Spanish; the first that fits counts.
var monthNames = []struct {
	begins string
	month  int
}{
	{"juin", 6}, {"juil", 7}, {"jan", 1}, {"jän", 1}, {"ene", 1}, {"gen", 1}, {"feb", 2}, {"fév", 2}, {"fev", 2}, {"mar", 3}, {"mär", 3}, {"mrz", 3}, {"apr", 4}, {"avr", 4}, {"abr", 4}, {"may", 5}, {"mai", 5}, {"mag", 5},
	{"jun", 6}, {"giu", 6}, {"jul", 7}, {"lug", 7}, {"aug", 8}, {"aoû", 8}, {"aou", 8}, {"ago", 8}, {"sep", 9}, {"set", 9}, {"oct", 10}, {"okt", 10}, {"ott", 10}, {"nov", 11}, {"dec", 12}, {"dez", 12}, {"déc", 12}, {"dic", 12},
}

// romans are months as they stand between points, 3.XII.1887.
var romans = []string{"i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix", "x", "xi", "xii"}

// monthOf is the month that a word names, 0 for none.
func monthOf(word string) int {
	word = strings.ToLower(word)
	if i := slices.Index(romans, word); i >= 0 {
		return i + 1
	}
	for _, m := range monthNames {
		if strings.HasPrefix(word, m.begins) {
			return m.month
		}
	}
	return 0
}

// weekdays are the beginnings of the names of days, as monthNames are of months.
var weekdays = []string{"mon", "tue", "wed", "thu", "fri", "sat", "sun", "mo", "di", "mi", "do", "fr", "sa", "so", "lu", "ma", "me", "je", "ve"}

func isWeekday(word string) bool {
	word = strings.ToLower(word)
	return strings.IndexFunc(word, unicode.IsDigit) < 0 && slices.ContainsFunc(weekdays, func(w string) bool { return strings.HasPrefix(word, w) })
}

// day is a date of the calendar.
type day struct{ y, m, d int }

// numbersOf splits a date at its signs; a month may be a word.
func numbersOf(s string) (n [3]int, words int, ok bool) {
	parts := strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune("-./ ,", r) })
	if len(parts) == 4 && isWeekday(parts[0]) {
		parts = parts[1:]
	}
	if len(parts) != 3 {
		return n, 0, false
	}
	for i, p := range parts {
		v, err := strconv.Atoi(p)
		if err != nil {
			if v = monthOf(p); v == 0 || words > 0 {
				return n, 0, false
			}
			words = i + 1 // where the word stands, from 1
		}
		n[i] = v
	}
	return n, words, true
}

// parseDay reads a date in an order of its figures. A month in words and a
// year in front settle the order by themselves.
func parseDay(s string, order Dates) (day, error) {
	if len(s) == 8 && strings.Trim(s, "0123456789") == "" { // 20260304
		s = s[:4] + "-" + s[4:6] + "-" + s[6:]
	}
	n, word, ok := numbersOf(s)
	if !ok {
		return day{}, errDate
	}
	d := day{n[2], n[1], n[0]}
	switch {
	case n[0] > 999:
		d = day{n[0], n[1], n[2]}
	case word == 1 || word == 0 && (order == MDY || order == ShortMDY):
		d = day{n[2], n[0], n[1]}
	case word == 0 && order == YMD:
		return day{}, errors.New("is not written year first, as the others are")
	}
	switch {
	case order.short() && d.y < 100:
		d.y += 2000
	case order.short() && n[0] <= 999:
		return day{}, errors.New("needs its year with two figures, as the others have")
	case d.y < 1000:
		return day{}, errors.New("needs its year with four figures")
	}
	if t := time.Date(d.y, time.Month(d.m), d.d, 0, 0, 0, 0, time.UTC); t.Day() != d.d || t.Month() != time.Month(d.m) || d.y > 3000 {
		return day{}, errors.New("is a day that is not in the calendar")
	}
	return d, nil
}

// clock is a time of day, with its distance from UTC where that stands in it.
type clock struct {
	since time.Duration
	zone  *time.Location
}

// parseClock reads 9:14, 09:14:30.5, 09.14, 9:14 pm, 091430, with Z or +01:00.
func parseClock(s string) (clock, error) {
	var c clock
	s = strings.ToLower(strings.TrimSpace(s))
	s, c.zone = cutZone(s)
	s = hoursInWords(s)
	half := -1
	for i, suffix := range []string{"am", "pm"} {
		if t, ok := strings.CutSuffix(strings.ReplaceAll(s, ".m.", "m"), suffix); ok {
			s, half = strings.TrimSpace(t), i
		}
	}
	if len(s) == 6 && strings.Trim(s, "0123456789") == "" {
		s = s[:2] + ":" + s[2:4] + ":" + s[4:]
	}
	if !strings.Contains(s, ":") && strings.Count(s, ".") == 1 {
		s = strings.Replace(s, ".", ":", 1)
	}
	parts := strings.Split(strings.Replace(s, ",", ".", 1), ":")
	if len(parts) < 2 || len(parts) > 3 {
		return c, errTime
	}
	var n [3]float64
	for i, p := range parts {
		v, err := strconv.ParseFloat(p, 64)
		if err != nil || !(v >= 0 && v < 60) || i < 2 && v != math.Trunc(v) || strings.ContainsAny(p, "eEpPxX_+") {
			return c, errTime
		}
		n[i] = v
	}
	if n[0] > 23 || half >= 0 && (n[0] < 1 || n[0] > 12) {
		return c, errTime
	}
	if half >= 0 {
		n[0] = math.Mod(n[0], 12) + 12*float64(half)
	}
	c.since = time.Duration(n[0])*time.Hour + time.Duration(n[1])*time.Minute + time.Duration(math.Round(n[2]*1e9))
	return c, nil
}

// hoursInWords turns 12h30, 12 h 30 m 5 s and 12.30 Uhr into 12:30 and so on.
func hoursInWords(s string) string {
	if t, ok := strings.CutSuffix(s, "uhr"); ok {
		if s = strings.TrimSpace(t); len(s) <= 2 {
			s += ":00"
		}
		return s
	}
	hour, rest, ok := strings.Cut(strings.ReplaceAll(s, " ", ""), "h")
	if !ok || hour == "" || strings.Trim(hour, "0123456789") != "" {
		return s
	}
	rest = strings.Trim(strings.NewReplacer("min", ":", "m", ":", "sec", "", "s", "").Replace(rest), ":")
	if rest == "" {
		rest = "00"
	}
	return hour + ":" + rest
}

// cutZone takes Z or +01:00 from the end of a time.
func cutZone(s string) (string, *time.Location) {
	if t, ok := strings.CutSuffix(s, "z"); ok {
		return strings.TrimSpace(t), time.UTC
	}
	if t, ok := strings.CutSuffix(s, "utc"); ok {
		return strings.TrimSpace(t), time.UTC
	}
	if i := strings.LastIndexAny(s, "+-"); i > 0 {
		if loc, err := ParseZone(s[i:], nil); err == nil {
			return strings.TrimSpace(s[:i]), loc
		}
	}
	return s, nil
}

// ParseZone reads "UTC", "local" or a distance from UTC like +01:00. local is
// what it gives for the second.
func ParseZone(s string, local *time.Location) (*time.Location, error) {
	s = strings.TrimSpace(s)
	switch {
	case strings.EqualFold(s, "utc") || strings.EqualFold(s, "z"):
		return time.UTC, nil
	case strings.EqualFold(s, "local") && local != nil:
		return local, nil
	}
	for _, layout := range []string{"-07:00", "-0700", "-07"} {
		if t, err := time.Parse(layout, strings.Replace(s, "−", "-", 1)); err == nil {
			_, off := t.Zone()
			return time.FixedZone(s, off), nil
		}
	}
	return nil, errors.New("is neither UTC, local nor a distance from UTC like +01:00")
}

// splitWhen parts a cell with a day and a time of day; the time is "" where
// there is none.
func splitWhen(s string) (date, clock string) {
	s = strings.TrimSpace(s)
	if i := strings.IndexAny(s, "Tt"); i >= 8 && i+1 < len(s) && s[i+1] >= '0' && s[i+1] <= '9' && s[i-1] >= '0' && s[i-1] <= '9' {
		return s[:i], s[i+1:]
	}
	if d, part, ok := strings.Cut(s, "."); ok && len(d) == 10 && d[4] == '-' && d[7] == '-' && part != "" && strings.Trim(part, "0123456789") == "" { // parts of a day
		x, _ := strconv.ParseFloat("0."+part, 64) // figures alone
		sec := math.Round(x * 86400)
		return d, fmt.Sprintf("%02.0f:%02.0f:%02.0f", math.Floor(sec/3600), math.Floor(math.Mod(sec, 3600)/60), math.Mod(sec, 60))
	}
	if i := strings.LastIndexByte(s, ' '); i > 0 && !strings.Contains(s, ":") && strings.ContainsAny(s[i:], "hH") {
		if _, err := parseClock(s[i+1:]); err == nil {
			return strings.TrimRight(s[:i], " ,"), s[i+1:]
		}
	}
	if i := strings.IndexByte(s, ':'); i > 0 {
		if j := strings.LastIndexByte(s[:i], ' '); j > 0 {
			return strings.TrimRight(s[:j], " ,"), s[j+1:]
		}
	}
	return s, ""
}

// errNever and errTwice are of local times where the clocks are put on or back.
var errNever = errors.New("never was: the clocks were put forward over it. Where the table keeps winter time all the year, choose its distance from UTC")

// local is the instant of a day and time of day in a zone; of two that are one
// hour apart the earlier that is not before after.
func local(d day, since time.Duration, zone *time.Location, after time.Time) (time.Time, error) {
	wall := time.Date(d.y, time.Month(d.m), d.d, 0, 0, 0, 0, time.UTC).Add(since)
	var found []time.Time
	for _, near := range []time.Duration{-26 * time.Hour, 26 * time.Hour} {
		_, off := wall.Add(near).In(zone).Zone()
		t := wall.Add(-time.Duration(off) * time.Second)
		if _, o := t.In(zone).Zone(); o == off {
			found = append(found, t)
		}
	}
	switch {
	case len(found) == 0:
		return time.Time{}, errNever
	case len(found) == 2 && found[1].Before(found[0]):
		found[0], found[1] = found[1], found[0]
	}
	if len(found) == 2 && !after.IsZero() && found[0].Before(after) {
		return found[1], nil
	}
	return found[0], nil
}

// counted is an instant that is a number.
func counted(s string, unit string) (time.Time, error) {
	x, err := number(s, false)
	if err != nil {
		return time.Time{}, err
	}
	switch unit {
	case "MJD":
		x = (x - 40587) * 86400
	case "JD":
		x = (x - 2440587.5) * 86400
	}
	if !(x > -12e9 && x < 33e9) {
		return time.Time{}, errors.New("is no instant between 1600 and 3000")
	}
	whole, part := math.Modf(x)
	return time.Unix(int64(whole), int64(math.Round(part*1e6))*1000).UTC(), nil
}
