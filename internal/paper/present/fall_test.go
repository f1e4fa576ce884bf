package present

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatboard/internal/craft/drive"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// anyCase draws a clock that may never have been built.
func anyCase(t *rapid.T) drive.Query {
	mm := func(name string, low, high float64) meas.Reading[unit.Length] {
		return meas.Of(unit.Millimetres(rapid.Float64Range(low, high).Draw(t, name)))
	}
	may := func(name string, r *meas.Reading[unit.Length], low, high float64) {
		if rapid.Bool().Draw(t, name+" is known") {
			*r = mm(name, low, high)
		}
	}
	q := drive.Query{
		BarrelDiameter: mm("barrel", 20, 120), LineDiameter: mm("line", .5, 4), Falls: rapid.IntRange(1, 3).Draw(t, "falls"),
		Turns:    meas.Of(unit.Ratio(rapid.Float64Range(3, 30).Draw(t, "turns"))),
		TurnTime: meas.Of(unit.Duration(rapid.SampledFrom([]float64{1, 3, 8, 12, 18, 24, 48, 96, 576}).Draw(t, "turn") * 3600)),
		WoundOn:  rapid.SampledFrom([]string{"", "wednesday"}).Draw(t, "wound on"),
	}
	may("seat to floor", &q.SeatToFloor, 700, 3500)
	may("weight", &q.WeightLength, 60, 500)
	may("gap", &q.TopGap, 0, 300)
	may("pendulum", &q.PendulumLength, 100, 2200)
	may("suspension", &q.SuspensionAboveSeat, -100, 200)
	may("half bob", &q.BobHalfHeight, 5, 150)
	return q
}

// Whatever the clock, the words of its figure keep apart and inside, and the
// case, the weight and the bob are drawn inside it too.
func TestAnyFallKeepsItsWordsApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, err := drive.Solve(anyCase(t))
		if err != nil {
			t.Skip(err)
		}
		for _, f := range Drive(a).Figures() {
			for _, p := range []pic.Picture{f.Wide, f.Narrow} {
				wordsApart(t, fmt.Sprintf("%s at %.0f", f.Name, p.W), p)
				if s := fmt.Sprint(p.Items); strings.Contains(s, "NaN") || strings.Contains(s, "Inf") {
					t.Fatalf("not a number in %s", s)
				}
			}
		}
	})
}
