package regulate

import (
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// TestStandingClockIsNotLeftAlone: a clock that stopped and was not set going is
// not right, whatever its readings said.
func TestStandingClockIsNotLeftAlone(t *testing.T) {
	q := steady(1, 15, 1, 0.1, 0.3)
	q.Now = q.Readings[14].At.Add(24 * time.Hour)
	if a := solved(t, q); a.Advice.Do != Leave {
		t.Fatalf("%+v", a.Advice)
	}
	stopped := Touch{ID: 1, Kind: Stopped, At: q.Readings[14].At.Add(time.Hour)}
	q.Touches = []Touch{stopped}
	a := solved(t, q)
	if a.Advice.Do != Wait || !strings.Contains(a.Advice.Words, "It stopped on 16 March 2026 at 10:00") || !a.Rate.Now.Set {
		t.Errorf("%+v", a.Advice)
	}
	for name, going := range map[string]func(q *Query){
		"set going": func(q *Query) {
			q.Touches = append(q.Touches, Touch{ID: 2, Kind: Started, At: stopped.At.Add(time.Hour), HasError: true})
		},
		"hands set": func(q *Query) {
			q.Touches = append(q.Touches, Touch{ID: 2, Kind: HandsSet, At: stopped.At.Add(time.Hour), HasError: true})
		},
		"known until when": func(q *Query) { q.Touches[0].Until = stopped.At.Add(time.Hour) },
		"read since":       func(q *Query) { q.Readings[14].At = stopped.At.Add(time.Hour) },
	} {
		other := q
		other.Touches, other.Readings = slices.Clone(q.Touches), slices.Clone(q.Readings)
		going(&other)
		if a := solved(t, other); strings.Contains(a.Advice.Words, "It stopped") {
			t.Errorf("%s: %s", name, a.Advice.Words)
		}
	}
}

// TestOldReadings: what was read long ago tells how the clock went then, not
// now, and nothing is turned by it.
func TestOldReadings(t *testing.T) {
	q := steady(3, 15, 1, 12, 0.3)
	last := q.Readings[14].At
	q.Now = last.Add(27 * 24 * time.Hour)
	if a := solved(t, q); !a.Now.At.Equal(q.Now) || a.Advice.Do != Turn {
		t.Errorf("27 days on: %+v, %s", a.Now, a.Advice.Words)
	}
	q.Now = last.AddDate(139, 0, 0)
	a := solved(t, q)
	if !a.Now.At.Equal(last) || !a.Query.Now.Equal(q.Now) || a.Rate.Now.U.PerDay() > 1 {
		t.Errorf("139 years on: %+v", a.Now)
	}
	if a.Advice.Do != Wait || !strings.Contains(a.Advice.Words, "since 16 March 2026: what stands here is how it went then") {
		t.Errorf("%+v", a.Advice)
	}
}

// TestFewestOutOfOrder: of readings written down in another order than they
// were taken as few as can be are asked about.
func TestFewestOutOfOrder(t *testing.T) {
	for _, c := range []struct {
		name  string
		hours []int // as they were written
		how   map[int]How
		taken []int
		ask   []int // places
		text  string
	}{
		{"in order", []int{0, 24, 48, 48, 72}, nil, nil, nil, ""},
		{"the last one early", []int{0, 24, 48, 12}, nil, nil, []int{3}, "was written down after one of 4 Mar 09:00"},
		{"one too late, then three", []int{0, 36, 24, 25, 26, 48}, nil, nil, []int{1}, "was written down before one of 3 Mar 09:00"},
		{"the one too late is right", []int{0, 36, 24, 25, 26, 48}, nil, []int{1}, nil, ""},
		{"of two the later written", []int{0, 36, 24, 48}, nil, nil, []int{2}, "was written down after one of 3 Mar 21:00"},
		{"before a table that was brought", []int{0, 240, 24}, map[int]How{1: Brought}, nil, []int{2}, "was written down after one of 12 Mar 09:00"},
		{"a table of before", []int{240, 24, 250}, map[int]How{1: Brought}, nil, nil, ""},
	} {
		var order []Reading
		for i, h := range c.hours {
			how := ByHand
			if x, ok := c.how[i]; ok {
				how = x
			}
			order = append(order, Reading{ID: i, How: how, At: start().Add(time.Duration(h) * time.Hour), Taken: slices.Contains(c.taken, i)})
		}
		var got []int
		for _, q := range outOfOrder(order, start().Add(1000*time.Hour), map[int]bool{}) {
			got = append(got, q.Reading[0])
			if !strings.Contains(q.Text, c.text) {
				t.Errorf("%s: %s", c.name, q.Text)
			}
		}
		if !slices.Equal(got, c.ask) {
			t.Errorf("%s: asks about %v, want %v", c.name, got, c.ask)
		}
	}
}

// What is left when those asked about are out is in order, and a shuffled row
// has no longer one in order among a few.
func TestOutOfOrderLeavesOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		hours := rapid.SliceOfN(rapid.IntRange(0, 9), 0, 8).Draw(t, "hours")
		all := make([]Reading, len(hours))
		for i, h := range hours {
			all[i] = Reading{ID: i, How: ByHand, At: start().Add(time.Duration(h) * time.Hour)}
		}
		in, n := inOrder(all, make([]bool, len(all))), 0
		latest := -1
		for i, ok := range in {
			if ok {
				if n++; hours[i] < latest {
					t.Fatalf("%v of %v", in, hours)
				}
				latest = hours[i]
			}
		}
		for set := range 1 << len(hours) {
			size, last, ordered := 0, -1, true
			for i, h := range hours {
				if set>>i&1 == 1 {
					ordered, last = ordered && h >= last, h
					size++
				}
			}
			if ordered && size > n {
				t.Fatalf("%d of %v are kept, and %b would be %d", n, hours, set, size)
			}
		}
	})
}

func TestLengthsInWords(t *testing.T) {
	for s, want := range map[float64]string{0: "0.0 s", -12.34: "12.3 s", 119.4: "119.4 s", 119.96: "2 min", 120: "2 min", 3599.6: "1 h", 3600: "1 h", 3638: "1 h 38 s", 7322: "2.0 h", 43201: "12.0 h"} {
		if got := seconds(s); got != want {
			t.Errorf("%v: %q, want %q", s, got, want)
		}
	}
}
