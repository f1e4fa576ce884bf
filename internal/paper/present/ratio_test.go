package present

import (
	"strings"
	"testing"

	"seatboard/internal/craft/train/ratio"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/paper/text"
)

// ratios are a moon, a ratio that can be cut, and one out of reach.
func ratios(t testing.TB) map[string]ratio.Answer {
	t.Helper()
	out := map[string]ratio.Answer{}
	for name, q := range map[string]ratio.Query{"moon": {WheelTo: 182, LeafTo: 30, Turn: meas.Of(unit.Duration(86400))}, "pair": {Pairs: 1}, "far": {Pairs: 1}} {
		if err := q.Wanted.UnmarshalText([]byte(map[string]string{"moon": "29.530588853", "pair": "60/8", "far": "90000"}[name])); err != nil {
			t.Fatal(err)
		}
		a, err := ratio.Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		out[name] = a
	}
	return out
}

func TestRatioGolden(t *testing.T) {
	for name, a := range ratios(t) {
		d := Ratio(a)
		check.Golden(t, "ratio-"+name+".txt", text.Render(d, text.Options{Width: 100, Working: true}))
		for _, f := range d.Figures() {
			if f.Numbers == nil || len(f.Numbers.Rows) == 0 || f.Wide.Desc == "" || f.Wide.W != wideFigure || f.Narrow.W != narrowFigure {
				t.Errorf("%s: %s has no words, numbers or width", name, f.Name)
			}
		}
	}
}

// A quotient of 658 has hundreds of fractions on the way to it: the table
// keeps the last of them.
func TestLongRowOfFractions(t *testing.T) {
	var wanted ratio.Wanted
	if err := wanted.UnmarshalText([]byte("7919/7907")); err != nil {
		t.Fatal(err)
	}
	a, err := ratio.Solve(ratio.Query{Wanted: wanted, Pairs: 2})
	if err != nil {
		t.Fatal(err)
	}
	table := fractionTable(a)
	row, longest := 0, 0
	for _, r := range table.Rows {
		if row++; r[2] == "" {
			row = 0
		}
		longest = max(longest, row)
	}
	if longest != mostBetween || table.Rows[len(table.Rows)-1][0] != "7919/7907" || !strings.Contains(table.Note, "last 12") {
		t.Errorf("%d in a row of %d; %s", longest, len(table.Rows), table.Note)
	}
}
