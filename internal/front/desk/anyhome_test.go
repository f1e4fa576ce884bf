package desk

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// typed draws what a person may have typed into a field: mostly one of these,
// sometimes nothing or what is no number.
func typed(t *rapid.T, name string, usual ...string) []string {
	switch rapid.IntRange(0, 11).Draw(t, name+" how") {
	case 0, 1:
		return nil
	case 2:
		return []string{rapid.SampledFrom([]string{"0", "-1", "1e9", "1e308", "-1e-300", "x", "½", "12 ± 0", "5 ± 1e6", "5 ± 1e200", "∞", "NaN"}).Draw(t, name+" odd")}
	}
	return []string{rapid.SampledFrom(usual).Draw(t, name)}
}

// Wherever a clock is to go, there is an answer, or a list of mistakes.
func TestAnyHomeIsAnswered(t *testing.T) {
	c, ok := Find("home")
	if !ok {
		t.Fatal("there is no new home on the desk")
	}
	rapid.Check(t, func(t *rapid.T) {
		answered(t, c, map[string][]string{
			"latitude": typed(t, "latitude", "51.5", "90 S", "-90", "0"), "to-latitude": typed(t, "to-latitude", "51.5", "51.5", "55° 57′ N", "90"),
			"height": typed(t, "height", "30 m", "8848 m", "-400 m"), "to-height": typed(t, "to-height", "30 m", "2000 ft"),
			"gravity": typed(t, "gravity", "9.81", "9.7803"), "to-gravity": typed(t, "to-gravity", "9.81 ± 0.00001", "9.83"),
			"temperature": typed(t, "temperature", "20", "-39", "69"), "to-temperature": typed(t, "to-temperature", "20", "14 ± 2", "14 ± 90"),
			"rate": typed(t, "rate", "0", "+1.2 ± 0.4", "-4000"), "rod": typed(t, "rod", "steel", "deal"), "per-kelvin": typed(t, "per-kelvin", "-0.5 ± 0.1", "0"),
			"per-turn": typed(t, "per-turn", "30 ± 3", "0.000001", "4000"), "divisions": typed(t, "divisions", "60", "1"), "per-gram": typed(t, "per-gram", "0.5", "0.0000001"),
			"want": typed(t, "want", "3", "0"), "band": typed(t, "band", "2", "0.0000001"),
		})
	})
}

// However a clock stops, there is an answer, or a list of mistakes.
func TestAnyStopsAreAnswered(t *testing.T) {
	c, ok := Find("stops")
	if !ok {
		t.Fatal("there are no stops on the desk")
	}
	any := func(t *rapid.T, name string, most int) int { return rapid.IntRange(0, most).Draw(t, name) }
	rapid.Check(t, func(t *rapid.T) {
		var b strings.Builder
		same := rapid.Bool().Draw(t, "same place")
		for i := range rapid.SampledFrom([]int{1, 2, 3, 4, 6, 9, 41}).Draw(t, "stops") {
			if h, m := any(t, "hour", 23), any(t, "minute", 59); same {
				b.WriteString("10:47")
			} else {
				fmt.Fprintf(&b, "%d:%02d", h, m)
			}
			if any(t, "seconds", 4) == 0 {
				fmt.Fprintf(&b, ":%02d", any(t, "second", 59))
			}
			if any(t, "dated", 2) > 0 {
				fmt.Fprintf(&b, " found 2026-11-%02d %02d:00", 1+any(t, "day", 27), any(t, "at", 23))
			}
			for range any(t, "more", 3) {
				b.WriteString(" " + rapid.SampledFrom([]string{"going 2026-11-02 08:00", "wound 2026-10-30", "wound 1600-01-01", "weight 310 mm", "weight 310 mm", "weight 0 mm", "weight 99 m", "strike warned", "strike striking", "strike at rest", "room 12 °C", "room -40 °C", "hands left", "hands unknown", "hands +12 min", "hands -11 h", "doubt 5 s", "doubt 30 min", "note the rain came in"}).Draw(t, "fact"))
			}
			b.WriteString([]string{"\n", "; "}[i%2])
		}
		answered(t, c, map[string][]string{
			"stops": {b.String()}, "going": typed(t, "going", "96/8 60/8 56/7 30", "80/8 64/8 60/8 30", "1000/6 1000/6 30"), "hour-arbor": typed(t, "hour-arbor", "2", "centre"),
			"motion": typed(t, "motion", "36/12 40/10", "36/36 72/6"), "strikes": typed(t, "strikes", "hours", "halves", "nothing"), "run": typed(t, "run", "8 d", "30 h", "0.001 s"),
		})
	})
}
