package synth

import (
	"slices"

	"seatboard/internal/kit/unit"
)

// Truth is what is in a recording. All times are by the recorder's clock,
// seconds after the first sample, slips and loops included.
type Truth struct {
	Recipe Recipe          `json:"recipe"` // with its defaults written in
	Beats  []TrueBeat      `json:"beats"`
	Extras []unit.Duration `json:"extras"` // the clock's own sound where none belongs, by chance or because samples were repeated
	Stops  []TrueStop      `json:"stops"`
}

// TrueBeat is one beat that came, heard or not. One whose samples were lost
// stands where they are missing; what a loop repeats keeps its numbers.
type TrueBeat struct {
	At     unit.Duration `json:"at"`     // of the main impact
	N      int64         `json:"n"`      // in its run
	K      int64         `json:"k"`      // from the first beat of all: the teeth go by it
	Run    int           `json:"run"`    // runs are parted by stops, not by slips
	Silent bool          `json:"silent"` // made no sound, or its samples were lost or made zero
}

// TrueStop is where the clock stood still.
type TrueStop struct {
	Last unit.Duration `json:"last"` // beat before it
	Next unit.Duration `json:"next"` // beat after it; 0 where none came
}

// newTruth works out the truth of a filled recipe.
func newTruth(r Recipe) Truth {
	t := Truth{Recipe: r}
	pieces := piecesOf(r)
	for _, s := range strokes(r) {
		t.addBeat(pieces, s)
		if s.extra > 0 {
			for _, p := range places(pieces, place(r, s.extra)) {
				if at := seconds(r, p); !muted(r, at) {
					t.Extras = append(t.Extras, at)
				}
			}
		}
	}
	t.loop()
	t.order()
	t.findStops()
	return t
}

// addBeat notes a beat where it is heard first, as an extra where its samples
// are heard again, and as silent where they were lost.
func (t *Truth) addBeat(pieces []piece, s stroke) {
	r := t.Recipe
	b := TrueBeat{N: s.n, K: s.k, Run: s.run, Silent: s.silent}
	src := place(r, s.at)
	at := places(pieces, src)
	if len(at) == 0 {
		p, inside := wouldBe(pieces, src)
		if !inside {
			return
		}
		b.At, b.Silent = seconds(r, p), true
		t.Beats = append(t.Beats, b)
		return
	}
	b.At = seconds(r, at[0])
	b.Silent = b.Silent || muted(r, b.At)
	t.Beats = append(t.Beats, b)
	for _, p := range at[1:] {
		if again := seconds(r, p); !s.silent && !muted(r, again) {
			t.Extras = append(t.Extras, again)
		}
	}
}

// muted tells whether a time falls into exact zeros.
func muted(r Recipe, at unit.Duration) bool {
	return slices.ContainsFunc(r.Zeros, func(z Stretch) bool { return at >= z.At && at < z.At+z.For })
}

// loop repeats what was heard in the first stretch.
func (t *Truth) loop() {
	if t.Recipe.Loop == 0 {
		return
	}
	beats, extras := t.Beats, t.Extras
	n := int64(float64(t.Recipe.Loop)*t.Recipe.SampleRate + 0.5)
	each := seconds(t.Recipe, float64(n))
	t.Beats, t.Extras = nil, nil
	for start := unit.Duration(0); start < t.Recipe.Length; start += each {
		for _, b := range beats {
			if b.At < each && b.At+start < t.Recipe.Length {
				b.At += start
				b.Silent = b.Silent || muted(t.Recipe, b.At)
				t.Beats = append(t.Beats, b)
			}
		}
		for _, x := range extras {
			if x < each && x+start < t.Recipe.Length && !muted(t.Recipe, x+start) {
				t.Extras = append(t.Extras, x+start)
			}
		}
	}
}

func (t *Truth) order() {
	slices.SortStableFunc(t.Beats, func(a, b TrueBeat) int {
		switch {
		case a.At < b.At:
			return -1
		case a.At > b.At:
			return 1
		}
		return 0
	})
	slices.Sort(t.Extras)
}

// findStops notes the gaps between runs and the last stop.
func (t *Truth) findStops() {
	for i := 1; i < len(t.Beats); i++ {
		if t.Beats[i].Run == t.Beats[i-1].Run+1 {
			t.Stops = append(t.Stops, TrueStop{Last: t.Beats[i-1].At, Next: t.Beats[i].At})
		}
	}
	n := len(t.Beats)
	if n == 0 || t.Recipe.Loop > 0 {
		return
	}
	end := unit.Duration(trueTime(t.Recipe, sourceEnd(t.Recipe)))
	for _, s := range t.Recipe.Stops {
		if s.At < end && (s.For == 0 || s.At+s.For >= end) {
			t.Stops = append(t.Stops, TrueStop{Last: t.Beats[n-1].At})
			return
		}
	}
}
