package trial

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/unit"
)

// early is how much before its time a reading may be and still count for the
// end of a day or of a gap: people do not come to the minute.
const early = time.Hour

// beginAnew begins the stretch anew after the last thing that was done to the
// clock until end, after it was found standing, and after a time without
// readings that was too long.
func (s *GateStanding) beginAnew(f Facts, end time.Time) {
	var found []Reset
	for _, t := range f.Touches {
		if words := touched(t); words != "" {
			when := t.At
			if t.Until.After(when) {
				when = t.Until
			}
			found = append(found, Reset{At: when, Words: words, Touch: t.ID})
		}
	}
	for _, x := range f.Stops {
		found = append(found, Reset{At: goingAgain(f, x), Words: "it was found standing " + onDay(x.Found, f.Now)})
	}
	slices.SortStableFunc(found, func(a, b Reset) int { return a.At.Compare(b.At) })
	for _, r := range found {
		s.begin(r, end)
	}
	s.beginAfterGap(f, end)
	slices.SortStableFunc(s.Resets, func(a, b Reset) int { return a.At.Compare(b.At) })
}

// begin begins the stretch anew where the reason lies in it.
func (s *GateStanding) begin(r Reset, end time.Time) {
	if !r.At.After(s.From) || r.At.After(end) {
		return
	}
	s.From, s.Resets = r.At, append(s.Resets, r)
}

// beginAfterGap begins the stretch anew with the first reading after a time
// without any.
func (s *GateStanding) beginAfterGap(f Facts, end time.Time) {
	last := s.From
	for _, r := range readingsIn(f, s.From, end) {
		if gap := r.At.Sub(last); s.Gate.Gap > 0 && gap > days(s.Gate.Gap)+early {
			s.begin(Reset{At: r.At, Words: fmt.Sprintf("no reading for %s, longer than the %s that may be", daysText(gap), daysText(days(s.Gate.Gap)))}, end)
		}
		last = r.At
	}
}

// goingAgain is when a clock that was found standing went again: when it was
// written down to be set going, at the next reading, or else not yet.
func goingAgain(f Facts, x Stop) time.Time {
	for _, t := range f.Touches {
		if t.Kind == regulate.Started && t.At.After(x.Found) {
			return x.Found // its own touch begins the stretch
		}
	}
	if after := readingsIn(f, x.Found, f.Now); len(after) > 0 {
		return after[0].At
	}
	return x.Found
}

// touched says in words what a touch was; "" for what does not matter to a
// gate: winding is part of going.
func touched(t regulate.Touch) string {
	words := map[regulate.Kind]string{
		regulate.OnTray: "the weights on the tray were changed", regulate.HandsSet: "the hands were set", regulate.Stopped: "it stood",
		regulate.Started: "it was set going", regulate.Moved: "it was moved", regulate.Levelled: "it was put in beat or upright",
		regulate.Oiled: "it was oiled", regulate.Worked: "it was worked on",
	}[t.Kind]
	if t.Kind == regulate.NutTurned {
		way := "up"
		if t.Turns < 0 {
			way = "down"
		}
		words = "the nut was turned " + way + " " + unit.Number(max(t.Turns, -t.Turns), 3)
		words = strings.TrimSuffix(strings.TrimRight(words, "0"), ".") + " of a turn"
	}
	if words != "" && t.Words != "" {
		words += ": " + t.Words
	}
	return words
}

// readingsIn lists the readings that count and were taken after from until
// end, the first first.
func readingsIn(f Facts, from, end time.Time) []regulate.Reading {
	asked := map[int]bool{}
	if f.Answer != nil {
		for _, p := range f.Answer.Past {
			asked[p.Reading] = p.Asked && p.Reading != 0
		}
	}
	var out []regulate.Reading
	for _, r := range f.Readings {
		if !r.Out && !asked[r.ID] && !r.At.Before(from) && !r.At.After(end) {
			out = append(out, r)
		}
	}
	slices.SortStableFunc(out, func(a, b regulate.Reading) int { return a.At.Compare(b.At) })
	return out
}

// onDay is an instant in words, in the zone of another.
func onDay(t, in time.Time) string { return t.In(in.Location()).Format("on 2 January at 15:04") }

// daysText is a time as days, or hours where it is short.
func daysText(d time.Duration) string {
	if d < 48*time.Hour {
		return fmt.Sprintf("%.0f\u00a0h", d.Hours())
	}
	return strings.TrimSuffix(fmt.Sprintf("%.1f", d.Hours()/24), ".0") + "\u00a0days"
}
