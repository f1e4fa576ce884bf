package present

import (
	"fmt"
	"strings"
	"testing"

	"seatboard/internal/craft/mesh"
	"seatboard/internal/craft/tooth"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// depthings are pairs of every sort.
func depthings(t testing.TB) map[string]mesh.Query {
	t.Helper()
	mm := func(s string) (q mesh.Query) {
		q = mesh.Query{Wheel: 60, Leaves: 8, Module: readQ[unit.Length](t, s)}
		return q
	}
	designed := mm("0.5 mm")
	measured := mesh.Query{Wheel: 60, Leaves: 8, WheelOutside: readQ[unit.Length](t, "31.0 mm ± 0.05 mm"), PinionOutside: readQ[unit.Length](t, "4.55 mm ± 0.02 mm"),
		Distance: readQ[unit.Length](t, "16.7 mm ± 0.03 mm"), Torque: readQ[unit.Torque](t, "20 N mm")}
	shallow, deep, apart, worn, odd, lantern, turret := designed, designed, designed, designed, designed, designed, mm("4 mm")
	shallow.Distance, deep.Distance, apart.Distance = readQ[unit.Length](t, "17.2 mm"), readQ[unit.Length](t, "16.7 mm"), readQ[unit.Length](t, "18.2 mm")
	worn.Pit, worn.Worn = readQ[unit.Length](t, "0.03 mm"), readQ[unit.Length](t, "0.01 mm")
	odd.Bent, odd.Short = readQ[unit.Length](t, "0.05 mm"), readQ[unit.Length](t, "0.1 mm")
	lantern.Form = tooth.LanternOf
	exact := mesh.Query{Wheel: 120, Leaves: 16, Module: readQ[unit.Length](t, "0.3 mm"), Form: tooth.Exact, Faces: mesh.Oiled}
	few := mesh.Query{Wheel: 48, Leaves: 6, Module: readQ[unit.Length](t, "0.4 mm"), Form: tooth.Arcs, Faces: mesh.Sticking}
	return map[string]mesh.Query{"designed": designed, "measured": measured, "shallow": shallow, "deep": deep, "apart": apart, "worn": worn, "odd": odd, "lantern": lantern, "turret": turret, "exact": exact, "few": few}
}

func TestDepthingFiguresKeepTheirWordsApart(t *testing.T) {
	for name, q := range depthings(t) {
		a, err := mesh.Solve(q)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		d := Mesh(a)
		if n := len(d.Figures()); n != 4 && name != "apart" && name != "deep" {
			t.Errorf("%s: %d figures", name, n)
		}
		for _, f := range d.Figures() {
			for _, p := range []pic.Picture{f.Wide, f.Narrow} {
				inside(t, fmt.Sprintf("%s, %s at %.0f", name, f.Name, p.W), p)
			}
			rowsFit(t, name, *f.Numbers)
			draw := map[string]func(mesh.Answer, float64) pic.Picture{"depthing": meshPanels, "turning": turningCurves, "depths": depthCurves, "flanks": flanksPicture}[f.Name]
			for _, w := range []float64{320, 340, 500, 640, 760} {
				inside(t, fmt.Sprintf("%s, %s at %.0f", name, f.Name, w), draw(a, w))
			}
		}
		for _, s := range d.Sections {
			for _, b := range s.Body {
				if x, ok := b.(doc.Table); ok {
					rowsFit(t, name, x)
				}
				if said := fmt.Sprint(b); strings.Contains(said, "NaN") || strings.Contains(said, "Inf") {
					t.Errorf("%s: not a number in %T", name, b)
				}
			}
		}
	}
}
