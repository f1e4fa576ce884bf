package phrase_test

import (
	"strings"
	"testing"

	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/kit/unit"
)

func TestTimesInWords(t *testing.T) {
	for d, want := range map[unit.Duration]string{0.5: "0.500 s", 7: "7 s", 59.6: "1 min", 60: "1 min", 450: "7 min 30 s", 3599.7: "1 h", 8400: "2 h 20 min", 86400: "1 d", 3*86400 + 4*3600: "3 d 4 h", 0: "0 s"} {
		if got := strings.ReplaceAll(phrase.Lasting(d), "\u00a0", " "); got != want {
			t.Errorf("%v s: %q, want %q", float64(d), got, want)
		}
	}
	for d, want := range map[unit.Duration]string{61: "1 min 10 s", 121: "3 min", 2380: "40 min", 8300: "2 h 20 min", 100000: "1 d 4 h"} {
		if got := strings.ReplaceAll(phrase.HearFor(d), "\u00a0", " "); got != want {
			t.Errorf("%v s: %q, want %q", float64(d), got, want)
		}
	}
	for p, want := range map[float64]string{1 / 4000.0: "1 in 4,000", 1 / 900000.0: "1 in 900,000", .3: "1 in 3", 1e-9: "under 1 in a million", .7: "more likely than not", 1: "more likely than not"} {
		if got := phrase.OneIn(p); got != want {
			t.Errorf("%v: %q, want %q", p, got, want)
		}
	}
}
