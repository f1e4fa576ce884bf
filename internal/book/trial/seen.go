package trial

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"time"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/kit/walltime"
)

// Seen is what was seen of a clock, as it was typed: what it is wrong by, or
// what it shows.
type Seen struct {
	Error unit.Duration  // fast positive; nothing where Shown
	U     unit.Duration  // one standard uncertainty; 0 where not known
	Shown *walltime.Hour // what the hands show
}

// ToTheMinute is the standard uncertainty of what is told in whole minutes:
// even over one of them (JCGM 100:2008, 4.3.7).
const ToTheMinute = unit.Duration(60 / 3.4641016151377544) // √12

// How to write it, for the sentences.
const howToWrite = "write it like 12 s fast, −12, 1 min 3 s slow, right, or what it shows: 9:14:12"

var (
	fastOrSlow = regexp.MustCompile(`^(?:(fast|slow)\s+(.+)|(.+?)\s*(fast|slow))$`)
	minSec     = regexp.MustCompile(`^(?:(\d{1,2}):)?(\d{1,3}):(\d{2})$`)
	onlyHour   = regexp.MustCompile(`^\d{1,2}:\d{2}(?::\d{2})?\s*(?:am|pm|a\.m\.|p\.m\.)?$`)
	seconds    = regexp.MustCompile(`[^n\d]s|sec|:|^\d+([.,]\d+)?$|\ds`)
)

// ParseSeen reads what was seen of a clock: "12 s fast", "+12", "fast 0:12",
// "1 min 3 s slow", "12 ± 1 s slow", "right", or what its hands show,
// "9:14:12". A number that says neither fast nor slow is not guessed at.
func ParseSeen(s string) (Seen, string) {
	text := strings.ToLower(strings.TrimSpace(strings.Replace(s, "−", "-", 1)))
	switch text {
	case "":
		return Seen{}, "Enter what the clock is wrong by, or what it shows; " + howToWrite
	case "right", "0", "0 s", "true", "+0", "-0":
		return Seen{}, ""
	}
	sign, rest, wrong := signOf(text)
	if wrong != "" {
		return Seen{}, wrong
	}
	if sign == 0 {
		return shown(text)
	}
	r, wrong := lengthOf(rest)
	if wrong != "" {
		return Seen{}, wrong
	}
	if r.Value > 12*3600 {
		return Seen{}, "A dial cannot be wrong by more than twelve hours; " + howToWrite
	}
	out := Seen{Error: unit.Duration(sign) * r.Value, U: r.U}
	if !r.HasU && !seconds.MatchString(rest) && r.Value > 0 {
		out.U = ToTheMinute
	}
	return out, ""
}

// signOf is +1 for fast, −1 for slow and 0 where neither was said, with the
// length that is left.
func signOf(text string) (sign float64, rest, wrong string) {
	rest = text
	if m := fastOrSlow.FindStringSubmatch(text); m != nil {
		rest, sign = strings.TrimSpace(m[2]+m[3]), 1
		if m[1]+m[4] == "slow" {
			sign = -1
		}
	}
	if rest == "" || rest[0] != '+' && rest[0] != '-' {
		return sign, rest, ""
	}
	if sign != 0 {
		return 0, "", fmt.Sprintf("“%s” says it twice: leave out the sign, or the word", meas.Clip(text))
	}
	if rest[0] == '-' {
		return -1, strings.TrimSpace(rest[1:]), ""
	}
	return 1, strings.TrimSpace(rest[1:]), ""
}

// lengthOf reads how much a clock is wrong by.
func lengthOf(s string) (meas.Reading[unit.Duration], string) {
	if m := minSec.FindStringSubmatch(s); m != nil {
		x := 0.0
		for _, part := range m[1:] {
			x = 60*x + float64(figures(part))
		}
		if figures(m[3]) > 59 || m[1] != "" && figures(m[2]) > 59 {
			return meas.Reading[unit.Duration]{}, fmt.Sprintf("“%s” has more than 59 seconds or minutes; %s", meas.Clip(s), howToWrite)
		}
		return meas.Of(unit.Duration(x)), ""
	}
	r, err := meas.Parse[unit.Duration](s, "s")
	if err != nil || !r.Set || r.Value < 0 {
		return r, fmt.Sprintf("“%s” is not a length of time; %s", meas.Clip(s), howToWrite)
	}
	return r, ""
}

func figures(s string) (n int) {
	for _, c := range s {
		n = 10*n + int(c-'0')
	}
	return n
}

// shown reads what the hands show.
func shown(text string) (Seen, string) {
	if !onlyHour.MatchString(text) {
		if _, wrong := lengthOf(text); wrong == "" {
			return Seen{}, fmt.Sprintf("“%s” may be fast or slow; write %s fast or %s slow", meas.Clip(text), meas.Clip(text), meas.Clip(text))
		}
		return Seen{}, fmt.Sprintf("“%s” cannot be read; %s", meas.Clip(text), howToWrite)
	}
	x, wrong := walltime.ParseHour(text)
	switch {
	case wrong != "":
		return Seen{}, wrong
	case x.H == 0 && !x.Seconds:
		return Seen{}, fmt.Sprintf("“%s” may be minutes and seconds or what the clock shows; write %s fast, %s slow or 12:%02d", meas.Clip(text), x, x, x.M)
	case x.Seconds:
		return Seen{Shown: &x}, ""
	}
	return Seen{Shown: &x, U: ToTheMinute}, ""
}

// At is what the clock was wrong by at an instant, for hands that show the
// time of a zone: at most six hours either way, for a dial does not tell one
// half of the day from the other.
func (s Seen) At(at time.Time, zone *time.Location) unit.Duration {
	if s.Shown == nil {
		return s.Error
	}
	return OffBy(s.Shown.SinceMidnight(), at, zone)
}

// OffBy is what hands that show so much since midnight were wrong by at an
// instant, fast positive, for a dial of twelve hours that shows the time of a
// zone: above minus six hours, up to six.
func OffBy(shown time.Duration, at time.Time, zone *time.Location) unit.Duration {
	t := at.In(zone)
	h, m, sec := t.Clock()
	is := walltime.Hour{H: h, M: m, S: sec}.SinceMidnight() + time.Duration(t.Nanosecond())
	off := math.Mod((shown - is).Seconds(), 12*3600)
	switch {
	case off > 6*3600:
		off -= 12 * 3600
	case off <= -6*3600:
		off += 12 * 3600
	}
	return unit.Duration(off)
}
