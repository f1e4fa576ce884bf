package trial

import (
	"slices"
	"time"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// mostDays bounds the row of a stretch that goes on for long.
const mostDays = 28

// days is the row of days: those that are asked, and more where the stretch
// goes on.
func (s stretch) days() []Day {
	n := int(s.gate.Days)
	if float64(n) < s.gate.Days || n == 0 {
		n++
	}
	day := 24 * time.Hour
	if gone := int((s.end.Sub(s.from) + day - 1) / day); gone > n {
		n = gone
	}
	n = min(n, mostDays)
	out := make([]Day, n)
	for i := range out {
		out[i] = s.day(s.from.Add(time.Duration(i)*day), togetherOf(n))
	}
	return out
}

func (s stretch) day(from time.Time, wider float64) Day {
	until := from.Add(24 * time.Hour)
	d := Day{From: from, Verdict: Untold, Begun: !from.After(s.end), Over: !until.After(s.end)}
	for _, r := range s.read {
		if !r.At.Before(from) && r.At.Before(until) {
			d.Readings++
		}
	}
	for _, x := range s.facts.Strikes {
		if !x.At.Before(from) && x.At.Before(until) && !x.At.After(s.end) && x.Blows == x.Hour && !slices.Contains(d.Hours, x.Hour) {
			d.Hours = append(d.Hours, x.Hour)
		}
	}
	slices.Sort(d.Hours)
	if d.Readings > 0 {
		d.Rate = s.dayRate(from, until, wider)
		d.Verdict = s.band(d.Rate)
	}
	return d
}

// dayRate is the mean rate from the last point before a day, or the first in
// it, to the first after it, or the last in it.
func (s stretch) dayRate(from, until time.Time, wider float64) meas.Interval[unit.Rate] {
	if len(s.points) < 2 {
		return meas.Interval[unit.Rate]{}
	}
	a, b := 0, len(s.points)-1
	for i, p := range s.points {
		if !p.At.After(from.Add(early)) {
			a = i
		}
		if p.At.Add(early).Before(until) {
			continue
		}
		b = i
		break
	}
	return between(s.points[a], s.points[b], wider)
}
