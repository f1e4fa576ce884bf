package pendulum

import (
	"cmp"
	"math"
	"slices"

	"seatboard/internal/craft/identify"
	"seatboard/internal/kit/unit"
)

// Thread is a standard thread.
type Thread struct {
	Series string     `json:"series"`
	Size   string     `json:"size"`
	Pitch  unit.Pitch `json:"pitch_m"`
	TPI    float64    `json:"threads_per_inch"`
	Metric bool       `json:"metric"` // spoken of by its pitch, not by threads to the inch
	Source string     `json:"source"`
}

// ofNuts are the series that the nut of a pendulum may be of.
func ofNuts() []string {
	return []string{"BA", "BSW", "BSF", "Brass 26", "ISO metric", "Unified coarse"}
}

// Threads lists the pitches of BA, Whitworth (coarse and fine), brass 26,
// ISO metric coarse and Unified coarse threads, as their standards print
// them. Most nuts on old clocks are older than all of these.
func Threads() []Thread {
	var out []Thread
	for _, t := range identify.Threads() {
		if slices.Contains(ofNuts(), t.Series) {
			out = append(out, Thread{t.Series, t.Size, t.Pitch, unit.In(t.Pitch, "tpi"), !t.Inch, t.Ref.String()})
		}
	}
	return out
}

const (
	likePitch    = 0.015 // of the pitch: how near a thread must be without a stated doubt
	mostLike     = 4
	likeInDoubts = 2
)

// threadsLike lists the threads whose pitch is within two doubts of p, or
// 1.5 % where none was stated, the nearest first and one of each series.
func threadsLike(p, u float64) []Thread {
	near := math.Max(likeInDoubts*u, likePitch*p)
	far := func(t Thread) float64 { return math.Abs(float64(t.Pitch) - p) }
	var alike, found []Thread
	for _, t := range Threads() {
		if far(t) <= near {
			alike = append(alike, t)
		}
	}
	slices.SortStableFunc(alike, func(x, y Thread) int { return cmp.Compare(far(x), far(y)) })
	seen := map[string]bool{}
	for _, t := range alike {
		if !seen[t.Series] && len(found) < mostLike {
			seen[t.Series] = true
			found = append(found, t)
		}
	}
	return found
}
