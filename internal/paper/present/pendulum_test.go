package present

import (
	"fmt"
	"strings"
	"testing"

	"seatboard/internal/craft/pendulum"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// pendulums are pendulums of every sort.
func pendulums(t testing.TB) map[string]pendulum.Query {
	t.Helper()
	l := func(s string) meas.Reading[unit.Length] { return readQ[unit.Length](t, s) }
	deg := func(s string) meas.Reading[unit.Angle] { return readQ[unit.Angle](t, s) }
	kg := func(s string) meas.Reading[unit.Mass] { return readQ[unit.Mass](t, s) }
	regulator := pendulum.Query{
		Beats: readQ[unit.Ratio](t, "3600"), Latitude: deg("51.5°"), Height: l("45 m"), Rod: "steel", RodDiameter: l("8 mm"), RodLength: l("1120 mm ± 1 mm"),
		Bob: pendulum.Cylinder, BobDiameter: l("70 mm"), BobHeight: l("180 mm"), BobMass: kg("6 kg ± 50 g"), NutMass: kg("60 g"),
		NutPitch: readQ[unit.Pitch](t, "40 tpi"), NutDivisions: 60, Regulate: readQ[unit.Rate](t, "+30 s/d"), Arc: deg("2° ± 0.1°"), ToArc: deg("1.5°"),
		ToLatitude: deg("40°"), Warmer: readQ[unit.TempDiff](t, "10 °C"), TrayAt: l("500 mm"), BobMaterial: "lead",
	}
	stated := regulator
	stated.BobCentre = l("985 mm ± 0.5 mm")
	longcase := pendulum.Query{Beats: readQ[unit.Ratio](t, "3600"), Rod: "iron", RodWidth: l("6 mm"), RodThickness: l("1.2 mm"), RodLength: l("1080 mm"),
		Bob: pendulum.Lens, BobDiameter: l("110 mm"), BobHeight: l("28 mm"), BobMass: kg("1 kg")}
	french := pendulum.Query{Beats: readQ[unit.Ratio](t, "9000"), Rod: "brass", RodDiameter: l("3 mm"), RodLength: l("200 mm"), Bob: pendulum.Disc, BobDiameter: l("45 mm"), BobHeight: l("9 mm"), BobMaterial: "brass"}
	turret := pendulum.Query{Beat: readQ[unit.Duration](t, "2 s"), Rod: "wood", RodWidth: l("80 mm"), RodThickness: l("30 mm"), RodLength: l("4.3 m"), Bob: pendulum.Cylinder, BobDiameter: l("300 mm"), BobHeight: l("450 mm"), BobMaterial: "cast iron"}
	fat := pendulum.Query{Beats: readQ[unit.Ratio](t, "14400"), Bob: pendulum.Sphere, BobDiameter: l("90 mm"), BobMass: kg("1 kg")}
	point := pendulum.Query{Beats: readQ[unit.Ratio](t, "3600"), BobMass: kg("1 kg")}
	heavy := pendulum.Query{Beats: readQ[unit.Ratio](t, "3600"), RodMass: kg("2 kg"), RodLength: l("1500 mm"), BobMass: kg("1 kg"), Bob: pendulum.Lens, BobDiameter: l("150 mm"), BobHeight: l("30 mm")}
	parts := pendulum.Query{BobCentre: l("500 mm"), BobMass: kg("1 kg"), RodMass: kg("100 g"), RodLength: l("560 mm")}
	long := pendulum.Query{Beats: readQ[unit.Ratio](t, "3600"), RodMass: kg("10 g"), RodLength: l("30 m"), BobMass: kg("20 kg")}
	slow := pendulum.Query{Beats: readQ[unit.Ratio](t, "20"), RodMass: kg("10 g"), RodLength: l("40 km"), BobMass: kg("20 kg")}
	out := map[string]pendulum.Query{"slow": slow, "regulator": regulator, "stated": stated, "longcase": longcase, "french": french, "turret": turret, "fat": fat, "point": point, "heavy": heavy, "parts": parts, "long": long, "empty": {}}
	for i, s := range []string{"0.05°", "0.5°", "1°", "1.9°", "5°", "12°", "45°", "90°"} {
		out[fmt.Sprint("arc ", i)] = pendulum.Query{Arc: deg(s)}
		out[fmt.Sprint("arcs ", i)] = pendulum.Query{Arc: deg(s), ToArc: deg("30°")}
	}
	return out
}

func solvedPendulum(t testing.TB, q pendulum.Query) pendulum.Answer {
	t.Helper()
	a, err := pendulum.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func TestPendulumFiguresKeepTheirWordsApart(t *testing.T) {
	seen := map[string]int{}
	for name, q := range pendulums(t) {
		a := solvedPendulum(t, q)
		for _, f := range Pendulum(a).Figures() {
			seen[f.Name]++
			for _, p := range []pic.Picture{f.Wide, f.Narrow} {
				inside(t, fmt.Sprintf("%s, %s at %.0f", name, f.Name, p.W), p)
			}
			if f.Numbers == nil || f.Wide.Desc == "" || f.Wide.Title == "" || f.Caption == "" {
				t.Errorf("%s: the figure %s says too little", name, f.Name)
			}
			draw := map[string]func(pendulum.Answer, float64) pic.Picture{"pendulum": elevation, "arc": arcCurve}[f.Name]
			for _, w := range []float64{320, 340, 500, 640, 760} {
				inside(t, fmt.Sprintf("%s, %s at %.0f", name, f.Name, w), draw(a, w))
			}
		}
	}
	if seen["pendulum"] < 9 || seen["arc"] != 18 {
		t.Errorf("figures %v", seen)
	}
}

// A second arc is named on the curve where there is room for its words.
func TestOtherArcIsNamed(t *testing.T) {
	q := pendulum.Query{Arc: readQ[unit.Angle](t, "2°"), ToArc: readQ[unit.Angle](t, "1.5°")}
	for w, want := range map[float64]bool{wideFigure: true, narrowFigure: false} {
		named := false
		for _, it := range arcCurve(solvedPendulum(t, q), w).Items {
			if x, ok := it.(pic.Text); ok && x.S == "loses 3.70" {
				named = true
			}
		}
		if named != want {
			t.Errorf("at %.0f: named %v", w, named)
		}
	}
}

// Both drawings of the pendulum are to scale, each in both directions.
func TestElevationIsToScale(t *testing.T) {
	a := solvedPendulum(t, pendulums(t)["longcase"])
	p := elevation(a, wideFigure)
	s := newElevationSheet(a, wideFigure)
	var bobs []pic.Circle
	for _, it := range p.Items {
		if c, ok := it.(pic.Circle); ok {
			bobs = append(bobs, c)
		}
	}
	if len(bobs) != 2 {
		t.Fatalf("%d bobs", len(bobs))
	}
	for i, scale := range []float64{s.scale, s.zoom} {
		if r := bobs[i].R / scale; r < .055-1e-9 || r > .055+1e-9 {
			t.Errorf("bob %d is drawn %v m in radius", i, r)
		}
	}
	if down := (bobs[0].C.Y - elevationTop) / s.scale; down != float64(a.Compound.BobCentre.Value) {
		t.Errorf("the bob hangs %v m down, want %v", down, a.Compound.BobCentre.Value)
	}
	if s.zoom < 2*s.scale {
		t.Errorf("the lower end is enlarged only %.1f times", s.zoom/s.scale)
	}
}

func TestPendulumDocument(t *testing.T) {
	for name, q := range pendulums(t) {
		d := Pendulum(solvedPendulum(t, q))
		for _, s := range d.Sections {
			for _, b := range s.Body {
				switch x := b.(type) {
				case doc.Table:
					rowsFit(t, name, x)
				case doc.Figure:
					rowsFit(t, name, *x.Numbers)
				case doc.Facts:
					for _, f := range x {
						if f.Value == "" || f.Label == "" || strings.Contains(f.Value+f.Note+f.Doubt, "NaN") || strings.HasPrefix(f.Note, " ") || strings.HasSuffix(f.Note, ", ") {
							t.Errorf("%s: %+v", name, f)
						}
					}
				}
			}
		}
	}
	d := Pendulum(solvedPendulum(t, pendulums(t)["regulator"]))
	facts := d.Sections[0].Body[0].(doc.Facts)
	labels := map[string]doc.Fact{}
	for _, f := range facts {
		labels[f.Label] = f
	}
	for _, want := range []string{"Length", "Beats an hour", "Middle of the bob", "One turn of the nut", "One degree warmer", "Circular error", "At the other place", "For the wanted change", "Gravity"} {
		if labels[want].Value == "" {
			t.Errorf("no fact %q", want)
		}
	}
	if !strings.HasPrefix(labels["One turn of the nut"].Value, "+") || !strings.HasPrefix(labels["Circular error"].Value, "−") || labels["Length"].Doubt == "" {
		t.Errorf("signs and doubts: %+v", facts)
	}
	var kinds []string
	for _, b := range d.Sections[0].Margin {
		kinds = append(kinds, fmt.Sprintf("%T", b))
	}
	for _, want := range []string{"doc.Working", "doc.Budget", "doc.Sources"} {
		if !strings.Contains(strings.Join(kinds, " "), want) {
			t.Errorf("the margin has no %s: %v", want, kinds)
		}
	}
}

func rowsFit(t *testing.T, name string, tab doc.Table) {
	t.Helper()
	for _, r := range tab.Rows {
		if len(r) != len(tab.Columns) {
			t.Errorf("%s: %s: a row of %d cells under %d heads", name, tab.Caption, len(r), len(tab.Columns))
		}
	}
}

func BenchmarkPendulumDocument(b *testing.B) {
	a := solvedPendulum(b, pendulums(b)["regulator"])
	b.ReportAllocs()
	for b.Loop() {
		Pendulum(a)
	}
}
