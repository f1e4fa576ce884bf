package present

import (
	"testing"

	"seatboard/internal/craft/identify"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/paper/text"
)

// identities are a tie, an old screw, a wire, and a hole without a pitch.
func identities(t testing.TB) map[string]identify.Answer {
	t.Helper()
	d := func(mm, u float64) meas.Reading[unit.Length] {
		return meas.OfU(unit.Millimetres(mm), unit.Millimetres(u))
	}
	out := map[string]identify.Answer{}
	for name, q := range map[string]identify.Query{
		"tie":  {What: identify.Screw, Diameter: d(2.74, .01), Threads: 10, Over: d(5.3, .1), Year: 1880},
		"old":  {What: identify.Screw, Diameter: d(3.41, .01), Pitch: meas.OfU(unit.Pitch(.83e-3), 5e-6), Year: 1760},
		"wire": {What: identify.Wire, Diameter: d(1.626, .005)},
		"hole": {What: identify.Hole, Diameter: d(2.5, .02)},
	} {
		a, err := identify.Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		out[name] = a
	}
	return out
}

func TestIdentifyGolden(t *testing.T) {
	for name, a := range identities(t) {
		d := Identify(a)
		check.Golden(t, "identify-"+name+".txt", text.Render(d, text.Options{Width: 100, Working: true}))
		if len(d.Figures()) != 1 {
			t.Errorf("%s: %d figures", name, len(d.Figures()))
		}
		for _, f := range d.Figures() {
			if f.Numbers == nil || len(f.Numbers.Rows) == 0 || f.Wide.Desc == "" || f.Wide.W != wideFigure || f.Narrow.W != narrowFigure {
				t.Errorf("%s: %s has no words, numbers or width", name, f.Name)
			}
		}
	}
}
