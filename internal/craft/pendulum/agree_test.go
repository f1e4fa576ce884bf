package pendulum

import (
	"math"
	"strings"
	"testing"

	"seatboard/internal/kit/check"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// The air has a density without any bob, and a weighed bob of known size has
// one without a material.
func TestAirAndDensityOfTheBob(t *testing.T) {
	a := solve(t, Query{Temperature: is[unit.Temperature]("20 °C"), Pressure: is[unit.Pressure]("750 hPa"), Humidity: is[unit.Ratio]("50 %")})
	check.Printed(t, "air", float64(a.Air.Density.Value), "0.886277")
	if a.Air.Buoyancy.Set {
		t.Error("there is no bob to buoy")
	}
	if solve(t, Query{Beats: is[unit.Ratio]("3600")}).Air.Density.Set {
		t.Error("nothing was said of the air")
	}
	q := Query{Bob: Sphere, BobDiameter: mm(100), BobMass: is[unit.Mass]("4.4 kg")}
	rho := 4.4 / (math.Pi / 6 * 1e-3)
	check.Near(t, "buoyancy", float64(solve(t, q).Air.Buoyancy.Value), -1.199314/2/rho, 1e-9)
	q.BobMaterial = "lead" // a brass shell, rather: the weight counts
	a = solve(t, q)
	check.Near(t, "buoyancy by weight", float64(a.Air.Buoyancy.Value), -1.199314/2/rho, 1e-9)
	if f, ok := finding(a, "bob-density"); !ok || f.Level != meas.Doubt || !strings.Contains(f.Text, "8403") || !strings.Contains(f.Text, "340") {
		t.Errorf("got %+v", f)
	}
	q.BobDensity = is[unit.Density]("11000 kg/m³")
	check.Near(t, "buoyancy by the density stated", float64(solve(t, q).Air.Buoyancy.Value), -1.199314/2/11000, 1e-9)
	q = Query{Bob: Sphere, BobDiameter: mm(100), BobMass: is[unit.Mass]("44 kg")}
	if f, _ := finding(solve(t, q), "bob-density"); f.Level != meas.Clash {
		t.Errorf("84 g to the cubic centimetre: got %+v", f)
	}
	q.BobMass, q.BobMaterial = is[unit.Mass]("4.4 kg"), "brass"
	if f, ok := finding(solve(t, q), "bob-density"); ok {
		t.Errorf("brass of brass's density: got %+v", f)
	}
}

// What was stated of the air and what was not is told apart.
func TestAirInWords(t *testing.T) {
	got := ""
	for _, s := range solve(t, Query{Temperature: is[unit.Temperature]("15 °C")}).Working {
		if s.Name == "Density of the air" {
			got = s.Numbers
		}
	}
	if got != "15.0 °C, 1013.2 hPa (not stated), 50 % (not stated)" {
		t.Errorf("got %q", got)
	}
}

// A number without a unit gets that of its field in every sentence.
func TestBareNumbersGetTheirUnit(t *testing.T) {
	arc, _ := meas.Parse[unit.Angle]("20", "°")
	f, _ := finding(solve(t, Query{Arc: arc}), "arc-large")
	if !strings.Contains(f.Text, "20°") {
		t.Errorf("got %q", f.Text)
	}
	centre, _ := meas.Parse[unit.Length]("900", "mm")
	f, _ = finding(solve(t, Query{Beats: is[unit.Ratio]("3600"), BobMass: is[unit.Mass]("1 kg"), BobCentre: centre}), "bob-centre")
	if !strings.Contains(f.Text, "900\u00a0mm") {
		t.Errorf("got %q", f.Text)
	}
}

func TestGravityAgainstThePlace(t *testing.T) {
	g, deg, m := is[unit.Acceleration], is[unit.Angle], is[unit.Length]
	for _, c := range []struct {
		code string
		q    Query
	}{
		{"", Query{Gravity: g("9.8118 m/s²"), Latitude: deg("51.5°")}},
		{"", Query{Gravity: g("9.7739 m/s²"), Latitude: deg("-19.5°")}},                                      // Potosi, its height not stated
		{"", Query{Gravity: g("9.7739 m/s²"), Latitude: deg("-19.5°"), Height: m("3960 m")}},                 // and stated
		{"gravity-and-place", Query{Gravity: g("9.787 m/s²"), Latitude: deg("-19.5°"), Height: m("3960 m")}}, // as a page has it
		{"gravity-and-place", Query{Gravity: g("9.9 m/s²"), Latitude: deg("51.5°")}},
		{"gravity-and-place", Query{SecondsPendulum: m("1000 mm"), Latitude: deg("51.5°")}},
		{"gravity-and-place", Query{ToGravity: g("9.83 m/s²"), ToLatitude: deg("0°")}},
		{"two-gravities", Query{Gravity: g("9.81 m/s²"), SecondsPendulum: m("39.14 in")}},
		{"", Query{Gravity: g("9.8118 m/s²"), SecondsPendulum: m("994.1478 mm")}},
	} {
		var got string
		for _, f := range solve(t, c.q).Findings {
			if f.Code == "gravity-and-place" || f.Code == "two-gravities" {
				got = f.Code
			}
		}
		if got != c.code {
			t.Errorf("%+v: got %q, want %q", c.q.Gravity, got, c.code)
		}
	}
}
