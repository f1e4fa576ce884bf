package meas

import (
	"encoding/json"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"seatboard/internal/kit/unit"
)

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-12*math.Max(math.Abs(a), math.Abs(b)) }

func TestParseLength(t *testing.T) {
	for _, c := range []struct {
		in, assumed string
		value, u    float64
		hasU        bool
	}{
		{"994 mm", "", 0.994, 0, false},
		{"994", "mm", 0.994, 0, false},
		{"994 mm ± 1 mm", "", 0.994, 0.001, true},
		{"994 ± 1 mm", "", 0.994, 0.001, true},
		{"994 ± 1 mm", "in", 0.994, 0.001, true},
		{"994 mm ± 1", "in", 0.994, 0.001, true},
		{"994 ± 1", "mm", 0.994, 0.001, true},
		{"994 mm +- 0.1 cm", "", 0.994, 0.001, true},
		{"99.4 cm +/- 1/2 mm", "", 0.994, 0.0005, true},
		{"39 1/8 in ± 1/16", "mm", 39.125 * 0.0254, 0.0254 / 16, true},
		{`5'2" ± 1/4`, "mm", 62 * 0.0254, 0.0254 / 4, true},
		{"994 mm ± 0", "", 0.994, 0, true},
	} {
		r, err := Parse[unit.Length](c.in, c.assumed)
		if err != nil || !near(float64(r.Value), c.value) || !near(float64(r.U), c.u) || r.HasU != c.hasU || !r.Set || r.Entered != c.in {
			t.Errorf("%q: got %+v, %v", c.in, r, err)
		}
	}
	if r, err := Parse[unit.Length]("  ", "mm"); err != nil || r.Set {
		t.Errorf("an empty field: got %+v, %v", r, err)
	}
}

// A doubt is a difference: it has no zero point of its scale, and a doubt in
// threads per inch becomes one of the pitch. Units may hold figures (m/s2).
func TestParseDoubtOfOtherScales(t *testing.T) {
	temp, err := Parse[unit.Temperature]("65 °F ± 2", "°C")
	if err != nil || math.Abs(float64(temp.U)-10.0/9) > 1e-9 {
		t.Errorf("temperature: %+v, %v", temp, err)
	}
	pitch, err := Parse[unit.Pitch]("40 tpi ± 0.5", "mm")
	if err != nil || !near(float64(pitch.U), 0.0254/40*0.5/40) {
		t.Errorf("pitch: %+v, %v", pitch, err)
	}
	for _, s := range []string{"9.8118 ± 0.0002 m/s2", "9.8118 m/s2 ± 0.0002", "9.8118 m/s² ± 20 mGal"} {
		g, err := Parse[unit.Acceleration](s, "")
		if err != nil || !near(float64(g.Value), 9.8118) || !near(float64(g.U), 0.0002) {
			t.Errorf("%q: %+v, %v", s, g, err)
		}
	}
	lat, err := Parse[unit.Angle](`51° 28' 40" N ± 1'`, "°")
	if err != nil || !near(float64(lat.U), float64(unit.Deg(1.0/60))) {
		t.Errorf("latitude: %+v, %v", lat, err)
	}
}

func TestParseRefuses(t *testing.T) {
	for _, c := range []struct{ in, why string }{
		{"39.14 kg", "measures a weight"},
		{"994", "say the unit"},
		{"994 ± 1", "say the unit"},
		{"994 mm ± -1 mm", "cannot be negative"},
		{"994 mm ±", "one side of the ±"},
		{"± 1 mm", "one side of the ±"},
		{"994 mm ± 1 kg", "measures a weight"},
		{"994 mm ± one", "a number is missing"},
		{"1,234 mm ± 1 mm", "write 1.234 or 1234"},
		{"🕰️", "a number is missing"},
		{"1 mm ± 1 mm ± 1 mm", ""},
		{strings.Repeat("mm ", 3<<20), "too long"},
		{"1 ± " + strings.Repeat("m", 10<<20), "too long"},
	} {
		r, err := Parse[unit.Length](c.in, "")
		if err == nil || !strings.Contains(err.Error(), c.why) || len(err.Error()) > 400 {
			t.Errorf("%.40q: got %+v, %v; want %q", c.in, r, err, c.why)
		}
		if r.Set || r.Value != 0 {
			t.Errorf("%.40q: something was kept: %+v", c.in, r)
		}
	}
}

// What is entered comes back, from text and from JSON, with value and doubt.
func TestReadingRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		units := unit.LengthKind.Units()
		u := rapid.SampledFrom(units).Draw(t, "unit").Symbol
		v := unit.Number(rapid.Float64Range(-5000, 5000).Draw(t, "v"), 3)
		d := unit.Number(rapid.Float64Range(0, 10).Draw(t, "d"), 3)
		s := v + "\u00a0±\u00a0" + d + "\u00a0" + u
		r, err := Parse[unit.Length](s, "mm")
		if err != nil {
			t.Fatalf("%q: %v", s, err)
		}
		if again := WithU(r.Value, r.U, u); r.U > 0 {
			if _, err := Parse[unit.Length](again, ""); err != nil {
				t.Fatalf("%q was written %q: %v", s, again, err)
			}
		}
		b, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		var back Reading[unit.Length]
		if err := json.Unmarshal(b, &back); err != nil || back != r {
			t.Fatalf("%s came back as %+v, %v", b, back, err)
		}
	})
}

func TestReadingJSON(t *testing.T) {
	for _, c := range []struct {
		in   string
		want float64
		u    float64
	}{
		{`"994 mm"`, 0.994, 0},
		{`{"value":994,"unit":"mm"}`, 0.994, 0},
		{`{"value":994,"unit":"mm","u":1}`, 0.994, 0.001},
		{`{"value":null,"unit":"","entered":"994 mm"}`, 0.994, 0},
	} {
		var r Reading[unit.Length]
		if err := json.Unmarshal([]byte(c.in), &r); err != nil || !near(float64(r.Value), c.want) || !near(float64(r.U), c.u) {
			t.Errorf("%s: got %+v, %v", c.in, r, err)
		}
	}
	var tpi Reading[unit.Pitch]
	if err := json.Unmarshal([]byte(`{"value":40,"unit":"tpi","u":1}`), &tpi); err != nil || !near(float64(tpi.U), 0.0254/1600) {
		t.Errorf("got %+v, %v", tpi, err)
	}
	r := Of(unit.Length(1))
	if err := json.Unmarshal([]byte("null"), &r); err != nil || r.Set {
		t.Errorf("null left %+v, %v", r, err)
	}
	for _, bad := range []string{`"39.14 kg"`, `{"value":1,"unit":"kg"}`, `{"value":1}`, `{"value":1,"unit":"m","u":-1}`, `{"value":"x"}`, `3`, `{"value":0,"unit":"m","u":1e999}`} {
		var r Reading[unit.Length]
		if err := json.Unmarshal([]byte(bad), &r); err == nil {
			t.Errorf("%s was taken as %+v", bad, r)
		}
	}
	b, _ := json.Marshal(struct {
		A Reading[unit.Length] `json:"a"`
		B Result[unit.Length]  `json:"b"`
		C Result[unit.Length]  `json:"c"`
		D Result[unit.Length]  `json:"d"`
	}{B: Exactly(unit.Length(2)), D: Exactly(unit.Length(math.NaN()))})
	if diff := cmp.Diff(`{"a":null,"b":{"value":2,"unit":"m"},"c":null,"d":null}`, string(b)); diff != "" {
		t.Error(diff)
	}
}

func TestWriting(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{WithU(unit.Length(0.9936), unit.Length(0.0012), "mm"), "993.6\u00a0±\u00a01.2\u00a0mm"},
		{WithU(unit.Length(0.9936), unit.Length(0.0042), "mm"), "994\u00a0±\u00a04\u00a0mm"},
		{WithU(unit.RatePerDay(3.24), unit.RatePerDay(0.5), "s/d"), "+3.2\u00a0±\u00a00.5\u00a0s/d"},
		{WithU(unit.RatePerDay(-3.2), unit.RatePerDay(0.11), "s/d"), "−3.20\u00a0±\u00a00.11\u00a0s/d"},
		{WithU(unit.RatePerDay(0.01), unit.RatePerDay(0.5), "s/d"), "0.0\u00a0±\u00a00.5\u00a0s/d"},
		{WithU(unit.Ratio(0.5), unit.Ratio(0.01), ""), "0.500\u00a0±\u00a00.010"},
		{WithU(unit.Pitch(0.0254/40), unit.Pitch(0.0254/1600), "tpi"), "40.0\u00a0±\u00a01.0\u00a0tpi"},
		{Exactly(unit.Length(0.9936)).Text("mm", 1), "993.6\u00a0mm"},
		{Result[unit.Length]{}.Text("mm", 1), ""},
		{Of(unit.Length(0.994)).String(), "0.994000 m"},
		{OfU(unit.Length(0.994), unit.Length(0.001)).String(), "0.9940\u00a0±\u00a00.0010\u00a0m"},
		{Reading[unit.Length]{}.String(), ""},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

// A bare number gets the unit of its field; what names one is left alone.
func TestWritten(t *testing.T) {
	angle := func(s string) string { r, _ := Parse[unit.Angle](s, "°"); return r.Written("°") }
	length := func(s string) string { r, _ := Parse[unit.Length](s, "mm"); return r.Written("mm") }
	moved := Reading[unit.Length]{Value: 1, Entered: "994", Set: true}
	for _, c := range []struct{ got, want string }{
		{angle("2"), "2°"},
		{angle("2 ± 0.1"), "2 ± 0.1°"},
		{angle("2.5 deg"), "2.5 deg"},
		{angle(`51° 28' 40" N`), `51° 28' 40" N`},
		{length("994"), "994\u00a0mm"},
		{length("994,5 ± 1"), "994,5 ± 1\u00a0mm"},
		{length("994 ± 1 mm"), "994 ± 1 mm"},
		{length("39 1/8 in"), "39 1/8 in"},
		{length(""), ""},
		{moved.Written("mm"), "1000.000\u00a0mm"},
		{Of(unit.Length(0.994)).Written("mm"), "0.994000 m"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

// Linear, product, power and root against their closed forms.
func TestPropagateClosedForms(t *testing.T) {
	type sum = unit.Ratio
	in := []Input{{"a", 3, 0.03}, {"b", 5, 0.01}}
	for _, c := range []struct {
		name  string
		f     func(x []float64) sum
		value float64
		u     float64
		tol   float64
	}{
		{"2a-3b", func(x []float64) sum { return sum(2*x[0] - 3*x[1]) }, -9, math.Hypot(0.06, 0.03), 1e-12},
		{"ab", func(x []float64) sum { return sum(x[0] * x[1]) }, 15, math.Hypot(0.15, 0.03), 1e-12},
		{"a²", func(x []float64) sum { return sum(x[0] * x[0]) }, 9, 0.18, 1e-12},
		{"a/b", func(x []float64) sum { return sum(x[0] / x[1]) }, 0.6, 0.6 * math.Hypot(0.01, 0.002), 1e-5},
		{"sqrt(a)", func(x []float64) sum { return sum(math.Sqrt(x[0])) }, math.Sqrt(3), 0.03 / 2 / math.Sqrt(3), 1e-5},
	} {
		r := Propagate(c.f, in...)
		if !r.Set || !r.HasU || !near(float64(r.Value), c.value) || math.Abs(float64(r.U)-c.u) > c.tol {
			t.Errorf("%s: got %+v, want %v ± %v", c.name, r, c.value, c.u)
		}
		total := 0.0
		for _, s := range r.Budget {
			total += s.Part
		}
		if math.Abs(total-1) > 1e-12 {
			t.Errorf("%s: the shares add up to %v", c.name, total)
		}
	}
}

func TestPropagateBudget(t *testing.T) {
	f := func(x []float64) unit.Ratio { return unit.Ratio(x[0] + x[1] + x[2]) }
	r := Propagate(f, Input{"small", 1, 3}, Input{"exact", 1, 0}, Input{"large", 1, 4})
	want := []Share{{"large", 16.0 / 25}, {"small", 9.0 / 25}}
	if diff := cmp.Diff(want, r.Budget); diff != "" {
		t.Error(diff)
	}
	if r := Propagate(f, Input{"a", 1, 0}, Input{"b", 1, 0}, Input{"c", 1, 0}); r.HasU || r.Budget != nil || r.U != 0 {
		t.Errorf("a doubt out of nothing: %+v", r)
	}
}

func TestPropagateAtTheEdge(t *testing.T) {
	root := func(x []float64) unit.Ratio { return unit.Ratio(math.Sqrt(x[0])) }
	if r := Propagate(root, Input{"x", -1, 0.1}); r.Set || r.HasU {
		t.Errorf("a root of −1: %+v", r)
	}
	if r := Propagate(root, Input{"x", 0.01, 0.03}); !r.HasU || !near(float64(r.U), 0.1) {
		t.Errorf("one-sided: %+v, want u 0.1", r)
	}
	only := func(x []float64) unit.Ratio {
		if x[0] != 1 {
			return unit.Ratio(math.NaN())
		}
		return 1
	}
	if r := Propagate(only, Input{"x", 1, 0.1}); !r.Set || r.HasU {
		t.Errorf("no side can be told: %+v, want no doubt stated", r)
	}
}

// The doubt of a linear form is exact whatever the numbers.
func TestPropagateLinear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "n")
		in, k := make([]Input, n), make([]float64, n)
		var want float64
		for i := range in {
			k[i] = rapid.Float64Range(-10, 10).Draw(t, "k")
			in[i] = Input{Name: "x", Value: rapid.Float64Range(-100, 100).Draw(t, "x"), U: rapid.Float64Range(0.001, 10).Draw(t, "u")}
			want = math.Hypot(want, k[i]*in[i].U)
		}
		r := Propagate(func(x []float64) unit.Ratio {
			s := 0.0
			for i := range x {
				s += k[i] * x[i]
			}
			return unit.Ratio(s)
		}, in...)
		if math.Abs(float64(r.U)-want) > 1e-9*(1+want) {
			t.Fatalf("got %v, want %v", r.U, want)
		}
	})
}

func TestFindingJSON(t *testing.T) {
	b, err := json.Marshal(Finding{Level: Clash, Code: "motion-work", Text: "x"})
	if err != nil || !strings.Contains(string(b), `"level":"clash"`) {
		t.Errorf("%s, %v", b, err)
	}
	e := Faults{{"length", "A."}, {"beats", "B."}}
	if e.Error() != "A.; B." {
		t.Errorf("got %q", e.Error())
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"994 mm ± 1", "±", "40 tpi ± 1", "18 °C +- 0.5", "1 ± 🕰️", `39½" ± 1/16`, "+-+-", "9.8 m/s2 ± 1 Gal"} {
		f.Add(s, "mm")
	}
	f.Fuzz(func(t *testing.T, s, assumed string) {
		l, err := Parse[unit.Length](s, assumed)
		if err == nil && (l.U < 0 || math.IsNaN(float64(l.Value+l.U)) || math.IsInf(float64(l.Value), 0)) {
			t.Fatalf("%q gave %+v", s, l)
		}
		p, err := Parse[unit.Pitch](s, assumed)
		if err == nil && (p.U < 0 || math.IsNaN(float64(p.Value+p.U))) {
			t.Fatalf("%q gave %+v", s, p)
		}
		if _, err := Parse[unit.Temperature](s, assumed); err != nil && err.Error() == "" {
			t.Fatalf("%q: no words", s)
		}
	})
}

func BenchmarkPropagate(b *testing.B) {
	f := func(x []float64) unit.Length { return unit.Length(x[0] / x[1] * x[2]) }
	in := []Input{{"a", 1, 0.1}, {"b", 2, 0.1}, {"c", 3, 0.1}}
	for b.Loop() {
		Propagate(f, in...)
	}
}

func TestResultAndLevelReadBack(t *testing.T) {
	r := Result[unit.Length]{Value: 0.994, U: 0.001, HasU: true, Budget: []Share{{"rod", 1}}, Set: true}
	for _, r := range []Result[unit.Length]{{}, Exactly(unit.Length(1)), r} {
		b, err := json.Marshal(r)
		back := Exactly(unit.Length(9))
		if err == nil {
			err = json.Unmarshal(b, &back)
		}
		if err != nil || !reflect.DeepEqual(back, r) {
			t.Errorf("%s comes back as %+v: %v", b, back, err)
		}
	}
	var time Result[unit.Duration]
	if err := json.Unmarshal([]byte(`{"value":1,"unit":"m"}`), &time); err == nil {
		t.Error("a length is taken for a time")
	}
	for l := Note; l <= Danger; l++ {
		b, _ := l.MarshalText()
		var back Level
		if err := back.UnmarshalText(b); err != nil || back != l {
			t.Error(l, back, err)
		}
	}
	if err := new(Level).UnmarshalText([]byte("scream")); err == nil {
		t.Error("any word is a level")
	}
}

// Inches are asked about only where they would make sense of the length.
func TestAskInches(t *testing.T) {
	for typed, asked := range map[string]bool{"1.26": true, "1,26 ± 0.01": true, "1.26 mm": false, "1.26 in": false, "0.01": false, "32": false, "": false} {
		r, err := Parse[unit.Length](typed, "mm")
		if typed != "" && err != nil {
			t.Fatal(err)
		}
		var b Bench[struct{}]
		b.AskInches("diameter", "The diameter", r, unit.Millimetres(5))
		if (len(b.Findings) > 0) != asked {
			t.Errorf("%q: %+v", typed, b.Findings)
		}
	}
}
