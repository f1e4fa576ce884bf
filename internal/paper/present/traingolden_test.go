package present

import (
	"testing"

	"seatboard/internal/kit/check"
	"seatboard/internal/paper/text"
)

// The documents of three trains as a terminal shows them.
func TestTrainGolden(t *testing.T) {
	cases := trainCases(t)
	for name, file := range map[string]string{"measured": "train-measured.txt", "missing": "train-missing.txt", "strike": "train-strike.txt"} {
		check.Golden(t, file, text.Render(Train(cases[name]), text.Options{Width: 132, Working: true}))
	}
}
