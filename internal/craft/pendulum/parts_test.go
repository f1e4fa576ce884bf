package pendulum

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatboard/internal/kit/check"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// is reads a quantity written in a test.
func is[Q unit.Quantity](s string) meas.Reading[Q] {
	r, err := meas.Parse[Q](s, "")
	if err != nil {
		panic(err)
	}
	return r
}

// regulator is a seconds pendulum as it hangs on the bench.
func regulator() Query {
	return Query{
		Beats: is[unit.Ratio]("3600"), Gravity: is[unit.Acceleration]("9.8118 m/s²"),
		Rod: "steel", RodDiameter: mm(8), RodLength: mm(1120), Bob: Cylinder, BobDiameter: mm(70), BobHeight: mm(180), BobMass: is[unit.Mass]("6 kg"),
		NutMass: is[unit.Mass]("60 g"), NutPitch: is[unit.Pitch]("40 tpi"), NutDivisions: 60,
	}
}

func finding(a Answer, code string) (meas.Finding, bool) {
	for _, f := range a.Findings {
		if f.Code == code {
			return f, true
		}
	}
	return meas.Finding{}, false
}

// The six terms agree with the elliptic integral to the size of the next.
func TestSeriesAgainstExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		arc := rapid.Float64Range(0, 90*degree).Draw(t, "arc")
		if d := math.Abs(stretch(arc) - stretchSeries(arc)); d > 1e-15+1e-7*math.Pow(arc, 14) {
			t.Fatalf("at %v the series is %v off", arc, d)
		}
	})
	check.Near(t, "no arc", stretch(0), 1, 0)
}

// The computed grid stands in the shared folder; both signs of latitude agree.
func TestGravityGrid(t *testing.T) {
	f, err := os.Open(check.Shared(t, "reference", "tables", "normal_gravity_grid_computed.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	num := func(s string) float64 { x, _ := strconv.ParseFloat(s, 64); return x }
	for _, row := range rows[1:] {
		e := findEllipsoid(strings.ToLower(row[0]))
		lat, h := num(row[1])*degree, num(row[2])
		check.Near(t, strings.Join(row[:3], " "), e.at(lat, h), num(row[3]), 2e-12*10)
		check.Near(t, strings.Join(row[:3], " ")+" south", e.at(-lat, h), e.at(lat, h), 0)
		if h <= 4000 {
			check.Near(t, strings.Join(row[:3], " ")+" exact", e.at(lat, h), num(row[4]), 4e-7)
		}
	}
	if len(rows) < 100 {
		t.Errorf("only %d rows", len(rows))
	}
}

// A bare rod swings as two thirds of its length.
func TestRodAlone(t *testing.T) {
	q := Query{Gravity: is[unit.Acceleration]("9.81 m/s²"), RodMass: is[unit.Mass]("1 kg"), RodLength: mm(1500), BobMass: is[unit.Mass]("1e-9 kg"), BobCentre: mm(1000)}
	a := solve(t, q)
	check.Near(t, "two thirds", a.Length.Value.MM(), 1000, 1e-5)
	if a.LengthFrom != FromParts || !a.Complete {
		t.Errorf("length from %q, complete %v", a.LengthFrom, a.Complete)
	}
	check.Near(t, "its beat", float64(a.Beat.Value), math.Pi*math.Sqrt(1/9.81), 1e-8)
}

// The compound pendulum against a sum over 2000 slices of rod and bob.
func TestCompoundAgainstSlices(t *testing.T) {
	q := regulator()
	q.BobCentre, q.NutAt, q.Beats = mm(990), mm(1085), meas.Reading[unit.Ratio]{}
	a := solve(t, q)
	const n = 2000
	var m, s, i float64
	slice := func(mass, x, across float64) { m += mass; s += mass * x; i += mass * (x*x + across) }
	rod := math.Pi / 4 * .008 * .008 * 1.12 * 7850
	for k := range n {
		f := (float64(k) + .5) / n
		slice(rod/n, 1.12*f, .004*.004/4)
		slice(6.0/n, .99-.09+.18*f, .035*.035/4)
	}
	slice(.06, 1.085, 0)
	check.Near(t, "length", float64(a.Compound.Length.Value), i/s, 1e-8)
	check.Near(t, "mass", float64(a.Compound.Mass.Value), m, 1e-9)
	check.Near(t, "centre of gravity", float64(a.Compound.Gravity.Value), s/m, 1e-9)
	check.Near(t, "radius of gyration", float64(a.Compound.Gyration.Value), math.Sqrt(i/m), 1e-8)
	check.Near(t, "l = k²/h", float64(a.Compound.Length.Value), math.Pow(float64(a.Compound.Gyration.Value), 2)/float64(a.Compound.Gravity.Value), 1e-12)
}

// The place that was found, stated again with the nut under it, makes the
// length that was asked, and a nut that was not placed goes with the bob.
func TestFoundPlaceMakesTheLength(t *testing.T) {
	q := regulator()
	a := solve(t, q)
	q.BobCentre, q.NutAt = meas.Of(a.Compound.BobCentre.Value), meas.Of(a.Compound.BobCentre.Value+.09)
	b := solve(t, q)
	check.Near(t, "length", float64(b.Compound.Length.Value), float64(a.Length.Value), 1e-12)
	check.Near(t, "rate", b.Compound.Rate.Value.PerDay(), 0, 1e-6)
	check.Near(t, "turn", b.Nut.PerTurn.Value.PerDay(), a.Nut.PerTurn.Value.PerDay(), 1e-6)
	q.BobCentre, q.NutAt = meas.Of(a.Compound.BobCentre.Value-unit.Length(q.NutPitch.Value)), meas.Of(a.Compound.BobCentre.Value+.09-unit.Length(q.NutPitch.Value))
	up := solve(t, q)
	check.Near(t, "one turn up, by stating it", up.Compound.Rate.Value.PerDay(), a.Nut.PerTurn.Value.PerDay(), 1e-6)
	if up.Compound.Raise.Value >= 0 {
		t.Error("a bob that is too high is to be lowered")
	}
}

// A weight on the tray, against summing it in.
func TestTrayAgainstSum(t *testing.T) {
	q := regulator()
	q.TrayAt = mm(500)
	a := solve(t, q)
	b := lay(q)
	b.layGravity()
	n := b.N
	s := n.withBob(n.centre(), 0)
	loaded := s.add(1e-6, .5, 0)
	want := (math.Sqrt(s.equivalent()/loaded.equivalent()) - 1) * 1000 // for a gram
	check.Near(t, "per gram", float64(a.Tray.PerGram.Value)/want, 1, 1e-6)
	check.Near(t, "one second", float64(a.Tray.OneSecond.Value)*1000*a.Tray.PerGram.Value.PerDay(), 1, 1e-9)
	if a.Tray.AtMiddle.Value > a.Tray.OneSecond.Value {
		t.Error("half way a weight does most")
	}
}

func TestDoubtsOfPlaceAndMaterial(t *testing.T) {
	a := solve(t, Query{Beats: is[unit.Ratio]("3600"), Latitude: is[unit.Angle]("45° ± 1°"), Height: is[unit.Length]("100 m ± 50 m"), Rod: "steel"})
	parts, total := map[string]float64{}, 0.0
	for _, s := range a.Length.Budget {
		parts[s.Input], total = s.Part, total+s.Part
	}
	if len(parts) != 3 || parts["latitude"] == 0 || parts["height above the sea"] == 0 {
		t.Errorf("budget %v", a.Length.Budget)
	}
	check.Near(t, "shares", total, 1, 1e-12)
	// dg/dφ = 0.0517 sin 2φ m/s² a radian, near enough.
	check.Near(t, "u of gravity", float64(a.Gravity.U), math.Hypot(math.Hypot(9.806e-4, .0517*degree), 50*3.086e-6), 2e-5)
	check.Near(t, "u of expansion", float64(a.Warmth.Expansion.U), 1.28e-6/math.Sqrt(12), 1e-12)
	if a.Warmth.PerKelvin.Value >= 0 {
		t.Error("warmth makes it lose")
	}
	b := solve(t, Query{Beats: is[unit.Ratio]("3600"), BobMaterial: "brass", Bob: Sphere, BobDiameter: mm(50), Gravity: is[unit.Acceleration]("9.81 m/s²")})
	if !b.Compound.BobMass.HasU || !b.Air.Buoyancy.HasU {
		t.Error("sources differ on brass, so its weight and buoyancy are in doubt")
	}
	check.Near(t, "a ball of brass 50 mm wide, g", unit.In(b.Compound.BobMass.Value, "g"), 8.5*math.Pi*125/6, 1e-9)
}

func TestRateAtTheArc(t *testing.T) {
	q := Query{Length: mm(994), Gravity: is[unit.Acceleration]("9.81 m/s²")}
	q.Beat = meas.Of(unit.Duration(math.Pi * math.Sqrt(.994/9.81)))
	check.Near(t, "small arc", solve(t, q).Rate.Value.PerDay(), 0, 1e-6)
	q.Arc = is[unit.Angle]("2°")
	a := solve(t, q)
	check.Near(t, "at 2°", a.Rate.Value.PerDay(), a.Arc.Loss.Value.PerDay(), 1e-6)
	check.Printed(t, "loss at 2°", -a.Arc.Loss.Value.PerDay(), "6.5797")
	check.Near(t, "length at the arc", float64(a.Arc.Length.Value), .994*(1-2*6.5797/86400), 1e-8)
}

// The loss at half arcs in degrees, computed for this program to four places.
func TestTableOfLoss(t *testing.T) {
	for deg, want := range map[float64]string{0.5: "0.4112", 1: "1.6449", 1.5: "3.7011", 2: "6.5797", 2.5: "10.2807", 3: "14.8042", 4: "26.3183", 5: "41.1217", 6: "59.2142", 8: "105.2651", 10: "164.4674"} {
		check.Printed(t, "loss", -CircularError(unit.Deg(deg)).PerDay(), want)
	}
}

func TestFindings(t *testing.T) {
	for _, c := range []struct {
		code  string
		level meas.Level
		q     Query
	}{
		{"gravity-standard", meas.Doubt, Query{Beats: is[unit.Ratio]("3600")}},
		{"gravity-of-place", meas.Note, Query{Latitude: is[unit.Angle]("51° 28' 40\" N")}},
		{"length-and-beat", meas.Clash, Query{Beats: is[unit.Ratio]("3600"), Length: mm(1050)}},
		{"length-and-beat", meas.Note, Query{Beats: is[unit.Ratio]("3600"), Length: mm(994), Gravity: is[unit.Acceleration]("9.81 m/s²")}},
		{"beat-or-swing", meas.Clash, Query{Beats: is[unit.Ratio]("1800"), Length: mm(994), Gravity: is[unit.Acceleration]("9.81 m/s²")}},
		{"arc-large", meas.Doubt, Query{Arc: is[unit.Angle]("20°")}},
		{"bob-mass", meas.Doubt, Query{Beats: is[unit.Ratio]("3600"), Bob: Lens}},
		{"bob-place", meas.Doubt, Query{BobMass: is[unit.Mass]("1 kg")}},
		{"bob-place", meas.Clash, Query{Beats: is[unit.Ratio]("3600"), RodMass: is[unit.Mass]("100 kg"), RodLength: mm(4000), BobMass: is[unit.Mass]("1 kg")}},
		{"rod-mass", meas.Doubt, Query{Beats: is[unit.Ratio]("3600"), Rod: "steel", RodDiameter: mm(5), BobMass: is[unit.Mass]("1 kg")}},
		{"rod-mass", meas.Doubt, Query{Beats: is[unit.Ratio]("3600"), RodLength: mm(1100), BobMass: is[unit.Mass]("1 kg")}},
		{"bob-point", meas.Note, Query{Beats: is[unit.Ratio]("3600"), BobMass: is[unit.Mass]("1 kg")}},
		{"rod-short", meas.Clash, Query{Beats: is[unit.Ratio]("3600"), RodMass: is[unit.Mass]("1 kg"), RodLength: mm(600), BobMass: is[unit.Mass]("1 kg")}},
		{"bob-centre", meas.Clash, Query{Beats: is[unit.Ratio]("3600"), BobMass: is[unit.Mass]("1 kg"), BobCentre: mm(900)}},
		{"tray-below", meas.Clash, Query{Beats: is[unit.Ratio]("3600"), Mass: is[unit.Mass]("1 kg"), TrayAt: mm(1000)}},
		{"thread", meas.Note, Query{NutPitch: is[unit.Pitch]("40 tpi")}},
		{"thread", meas.Note, Query{NutPitch: is[unit.Pitch]("9.5 mm")}},
		{"expansion-sources", meas.Note, Query{Rod: "Steel"}},
		{"air-static", meas.Note, Query{BobMaterial: "lead"}},
	} {
		f, ok := finding(solve(t, c.q), c.code)
		if !ok || f.Level != c.level || f.Text == "" {
			t.Errorf("%s (%s): got %+v", c.code, c.level, f)
		}
	}
	if _, ok := finding(solve(t, regulator()), "rod-mass"); ok {
		t.Error("nothing is missing of the regulator")
	}
}

func TestThreadInWords(t *testing.T) {
	f, _ := finding(solve(t, Query{NutPitch: is[unit.Pitch]("40 tpi")}), "thread")
	for _, want := range []string{"BSW 1/8 in (40 to the inch)", "BSF 1/8 in"} {
		if !strings.Contains(f.Text, want) {
			t.Errorf("%q does not name %s", f.Text, want)
		}
	}
	f, _ = finding(solve(t, Query{NutPitch: is[unit.Pitch]("0.48 mm")}), "thread")
	if !strings.Contains(f.Text, "BA 7 (0.48\u00a0mm)") {
		t.Errorf("got %q", f.Text)
	}
}

func TestMoreBadInput(t *testing.T) {
	for _, c := range []struct {
		field string
		q     Query
	}{
		{"beat", Query{Beats: is[unit.Ratio]("3600"), Beat: is[unit.Duration]("1 s")}},
		{"ellipsoid", Query{Ellipsoid: "flat"}},
		{"bob", Query{Bob: "egg"}},
		{"bob", Query{Bob: strings.Repeat("🕰️", 1<<20)}},
		{"rod", Query{Rod: "mercury"}},
		{"rod", Query{Rod: strings.Repeat("x", 10<<20)}},
		{"bob-density", Query{BobDensity: is[unit.Density]("1 kg/m³")}},
		{"bob-height", Query{Bob: Lens, BobDiameter: mm(50), BobHeight: mm(60)}},
		{"length", Query{Length: mm(0)}},
		{"beats", Query{Beats: is[unit.Ratio]("-3600")}},
		{"beats", Query{Beats: is[unit.Ratio]("1e9")}},
		{"latitude", Query{Latitude: is[unit.Angle]("91°")}},
		{"height", Query{Latitude: is[unit.Angle]("45°"), Height: is[unit.Length]("9001 m")}},
		{"latitude", Query{Height: is[unit.Length]("45 m")}},
		{"seconds-pendulum", Query{SecondsPendulum: is[unit.Length]("39.14 mm")}},
		{"nut-pitch", Query{NutPitch: is[unit.Pitch]("-40 tpi")}},
		{"pressure", Query{Pressure: is[unit.Pressure]("1013 Pa")}},
		{"temperature", Query{Temperature: is[unit.Temperature]("150 °C")}},
		{"warmer", Query{Warmer: is[unit.TempDiff]("500 K")}},
		{"regulate", Query{Regulate: is[unit.Rate]("100 min/d")}},
	} {
		f := c.q.Check()
		if len(f) != 1 || f[0].Field != c.field || len(f[0].Text) > 300 {
			t.Errorf("%s: got %.300v", c.field, f)
		}
		if a, err := Solve(c.q); err == nil || a.Complete {
			t.Errorf("%s: it was solved", c.field)
		}
	}
}

// The members of the answer are those that the package comment documents.
func TestJSONShape(t *testing.T) {
	doc, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	b, err := json.Marshal(solve(t, regulator()))
	if err != nil {
		t.Fatal(err)
	}
	var members map[string]json.RawMessage
	if err := json.Unmarshal(b, &members); err != nil {
		t.Fatal(err)
	}
	_, shape, _ := strings.Cut(string(doc), "# JSON")
	for name, raw := range members {
		if !strings.Contains(shape, name) {
			t.Errorf("%s is not documented", name)
		}
		var inner map[string]json.RawMessage
		if name == "query" || json.Unmarshal(raw, &inner) != nil || inner["unit"] != nil {
			continue
		}
		for k := range inner {
			if !strings.Contains(shape, k) {
				t.Errorf("%s.%s is not documented", name, k)
			}
		}
	}
	var length struct {
		Value, U float64
		Unit     string
	}
	if err := json.Unmarshal(members["length"], &length); err != nil || length.Unit != "m" || math.Abs(length.Value-9.8118/math.Pi/math.Pi) > 1e-12 {
		t.Errorf("%s, %v", members["length"], err)
	}
}

// Everything that is leaned on has a place, and the places are in the
// bibliography.
func TestSourcesAreKnown(t *testing.T) {
	entries := Sources()
	for _, e := range entries {
		if e.Name == "" || e.Value == "" || e.Ref.String() == "" {
			t.Errorf("%+v lacks something", e)
		}
		if _, ok := cite.Find(e.Ref.Source); e.Ref.Source != "" && !ok {
			t.Errorf("%s: %q is not in the bibliography", e.Name, e.Ref.Source)
		}
	}
	if len(entries) < 30 {
		t.Errorf("only %d entries", len(entries))
	}
	for _, s := range solve(t, regulator()).Working {
		if s.Formula == "" || s.Numbers == "" || s.Result == "" || strings.Contains(s.Result+s.Numbers, "NaN") {
			t.Errorf("a line of working lacks something: %+v", s)
		}
	}
}
