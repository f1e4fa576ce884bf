package hostclock

import (
	"math"
	"testing"
	"time"
)

func TestWatchTellsASetting(t *testing.T) {
	start := time.Date(2026, 3, 4, 12, 0, 0, 0, time.UTC)
	for name, c := range map[string]struct {
		wall, count time.Duration
		asleep      bool // the count goes on
		want        float64
	}{
		"nothing":             {time.Hour, time.Hour, true, 0},
		"forward":             {time.Hour + 37*time.Second, time.Hour, true, 37},
		"back":                {-time.Hour, time.Minute, true, -3660},
		"a sleep":             {8 * time.Hour, time.Minute, false, 0},
		"back, count stopped": {-time.Minute, 0, false, -60},
	} {
		now := time.Duration(0)
		w := newWatch(start, func() (time.Duration, bool) { return now, c.asleep })
		now = c.count
		if got := float64(w.Set(start.Add(c.wall))); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %g, want %g", name, got, c.want)
		}
	}
	if got := NewWatch(time.Now()).Set(time.Now()); math.Abs(float64(got)) > 0.2 {
		t.Errorf("this computer’s clock was set by %g s in no time", float64(got))
	}
}
