package work

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
)

// Line is the hours of one task of a chapter of a clock.
type Line struct {
	Clock, Chapter, Task string
	Length               time.Duration
	Unbilled             time.Duration // the part that is on no document yet
}

// Sums is hours added up.
type Sums struct {
	Lines []Line // by clock, chapter, task
	Total time.Duration
	Asked []Stretch // left out: their end is asked for
	Runs  []Stretch // left out: still running
}

// Sum adds hours up; what is running, removed or to be asked about is left
// out and, but for the removed, listed.
func Sum(all []Stretch, r Rule, now time.Time) Sums {
	var out Sums
	type key struct{ clock, chapter, task string }
	at := map[key]int{}
	for _, s := range all {
		_, asked := r.Asks(s, now, time.Time{})
		switch {
		case !s.Removed.IsZero():
			continue
		case asked:
			out.Asked = append(out.Asked, s)
			continue
		case s.Running():
			out.Runs = append(out.Runs, s)
			continue
		}
		k := key{s.Clock, s.Chapter, s.Task}
		i, ok := at[k]
		if !ok {
			i = len(out.Lines)
			at[k] = i
			out.Lines = append(out.Lines, Line{Clock: s.Clock, Chapter: s.Chapter, Task: s.Task})
		}
		out.Lines[i].Length += s.Length()
		if s.Billed == "" {
			out.Lines[i].Unbilled += s.Length()
		}
		out.Total += s.Length()
	}
	slices.SortStableFunc(out.Lines, func(a, b Line) int {
		return cmp.Or(cmp.Compare(a.Clock, b.Clock), cmp.Compare(a.Chapter, b.Chapter), cmp.Compare(a.Task, b.Task))
	})
	return out
}

// Billable lists what may go on a bill: ended, not billed, not to be asked
// about.
func Billable(all []Stretch, r Rule, now time.Time) []Stretch {
	var out []Stretch
	for _, s := range all {
		if _, asked := r.Asks(s, now, time.Time{}); !asked && !s.Running() && s.Removed.IsZero() && s.Billed == "" {
			out = append(out, s)
		}
	}
	return out
}

// Overlaps says where one person is down for two things at once; what has no
// hour, only a day, is left out.
func Overlaps(all []Stretch, now time.Time) []meas.Finding {
	list := slices.DeleteFunc(slices.Clone(all), func(s Stretch) bool { return !s.Removed.IsZero() || s.DayOnly })
	end := func(s Stretch) time.Time {
		if s.Running() {
			return now
		}
		return s.End
	}
	slices.SortStableFunc(list, func(a, b Stretch) int { return a.Start.Compare(b.Start) })
	var out []meas.Finding
	for i, a := range list {
		for _, b := range list[i+1:] {
			if !b.Start.Before(end(a)) {
				break
			}
			if SamePerson(a.Who, b.Who) {
				out = append(out, meas.Finding{Level: meas.Clash, Code: "overlap", About: []string{fmt.Sprint(a.N), fmt.Sprint(b.N)}, Ref: cite.Ref{Grade: cite.CommonPractice},
					Text: fmt.Sprintf("%s is down twice from %s to %s.", a.Who, b.Start.Format("15:04"), minTime(end(a), end(b)).Format("15:04")), Next: "Correct one of the two."})
			}
		}
	}
	return out
}

func minTime(a, b time.Time) time.Time {
	if a.Before(b) {
		return a
	}
	return b
}
