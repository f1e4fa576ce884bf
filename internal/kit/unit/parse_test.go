package unit

import (
	"errors"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

const in = 0.0254

func TestParse(t *testing.T) {
	for _, c := range []struct {
		kind    Kind
		in      string
		assumed string
		want    float64
	}{
		{LengthKind, "994 mm", "", 0.994},
		{LengthKind, " 994mm ", "", 0.994},
		{LengthKind, "99,4 cm", "", 0.994},
		{LengthKind, "994", "mm", 0.994},
		{LengthKind, "39.14 in", "", 39.14 * in},
		{LengthKind, `39 1/8"`, "", 39.125 * in},
		{LengthKind, "39-1/8 in", "", 39.125 * in},
		{LengthKind, "39⅛ in", "", 39.125 * in},
		{LengthKind, "½ in", "", 0.5 * in},
		{LengthKind, "1/2 in", "", 0.5 * in},
		{LengthKind, "5 ft 2 1/4 in", "", (60 + 2.25) * in},
		{LengthKind, `5'2"`, "", 62 * in},
		{LengthKind, "5′ 2″", "", 62 * in},
		{LengthKind, "2''", "", 2 * in},
		{LengthKind, "12.7 Mm", "", 0.0127},
		{LengthKind, "440 lignes", "", 440 / 443.296},
		{LengthKind, "36 in 8.5 lignes", "", 36*in + 8.5/443.296},
		{LengthKind, "0,125 in", "", 0.125 * in},
		{LengthKind, "1234,567 mm", "", 1.234567},
		{LengthKind, "12,3456 mm", "", 0.0123456},
		{LengthKind, "1e3 mm", "", 1},
		{LengthKind, "-6 mm", "", -0.006},
		{LengthKind, "− 6 mm", "", -0.006},
		{LengthKind, "-5 ft 2 in", "", -62 * in},
		{LengthKind, "994\u202fmm", "", 0.994},
		{MassKind, "11 lb 8 oz", "", 11.5 * 0.45359237},
		{MassKind, "5,5 kg", "", 5.5},
		{DurationKind, "8 d", "", 8 * 86400},
		{DurationKind, "1 d 6 h", "", 30 * 3600},
		{AngleKind, `51° 28' 40" N`, "", (51 + 28/60.0 + 40/3600.0) * degree},
		{AngleKind, "51° 28′ 40″ S", "", -(51 + 28/60.0 + 40/3600.0) * degree},
		{AngleKind, "-6", "°", -6 * degree},
		{AngleKind, "6 s", "°", -6 * degree},
		{AngleKind, "91°", "", 91 * degree},
		{AngleKind, "2.5 deg", "", 2.5 * degree},
		{TemperatureKind, "18.5 °C", "", 291.65},
		{TemperatureKind, "65", "°F", 273.15 + 33*5.0/9},
		{TemperatureKind, "-40 F", "", 233.15},
		{TempDiffKind, "9 °F", "", 5},
		{RateKind, "+3.2 s/d", "", 3.2 / 86400},
		{RateKind, "-12 s a day", "", -12.0 / 86400},
		{RateKind, "−1 min/week", "min/d", math.NaN()},
		{ExpansionKind, "11.5 µm/m/K", "", 11.5e-6},
		{AccelerationKind, "9.8118 m/s2", "", 9.8118},
		{AccelerationKind, "981.18 gal", "", 9.8118},
		{PitchKind, "40 tpi", "", in / 40},
		{PitchKind, "0,63 mm", "", 0.63e-3},
		{RatioKind, "0.35", "", 0.35},
		{RatioKind, "35 %", "", 0.35},
		{RatioKind, "35", "%", 0.35},
		{TorqueKind, "8 in lb", "", 8 * pound * standardG * in},
	} {
		got, err := ParseKind(c.kind, c.in, c.assumed)
		if math.IsNaN(c.want) {
			if err == nil {
				t.Errorf("%q as %s: got %v, want a refusal", c.in, c.kind, got)
			}
			continue
		}
		if err != nil || math.Abs(got-c.want) > 1e-12*math.Abs(c.want) {
			t.Errorf("%q as %s: got %v, %v; want %v", c.in, c.kind, got, err, c.want)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	long := strings.Repeat("9", 10<<20)
	for _, c := range []struct {
		kind    Kind
		in      string
		assumed string
		why     string // part of the sentence
	}{
		{LengthKind, "39.14 kg", "", "“kg” measures a weight; write a length like"},
		{LengthKind, "5 pounds", "", "“pounds” measures a weight"},
		{LengthKind, "39.14", "", "say the unit"},
		{LengthKind, "39.14 cubits", "", "“cubits” is not known here"},
		{LengthKind, "1,234", "mm", "write 1.234 or 1234"},
		{LengthKind, "-1,234", "mm", "write 1.234 or 1234"},
		{LengthKind, "1,234.5", "mm", "thousands marks"},
		{LengthKind, "1.234.567", "mm", "thousands marks"},
		{LengthKind, "1 234 mm", "", "leave out the space"},
		{LengthKind, "5 ft 2", "mm", "the unit of every part"},
		{AngleKind, "51° 28", "°", "the unit of every part"},
		{LengthKind, "2 in 5 ft", "", "from large to small"},
		{LengthKind, "2 in 2 in", "", "from large to small"},
		{TemperatureKind, "18 °C 5 °F", "", "from large to small"},
		{PitchKind, "40 tpi 1 mm", "", "from large to small"},
		{PitchKind, "0 tpi", "", "nought"},
		{LengthKind, "3/0 in", "", "below the line"},
		{LengthKind, "sixty", "mm", "a number is missing"},
		{LengthKind, "🕰️", "mm", "a number is missing"},
		{LengthKind, "12 🕰️", "mm", "is not known here"},
		{LengthKind, "--5", "mm", "a number is missing"},
		{LengthKind, "-", "mm", "a number is missing"},
		{LengthKind, "NaN", "mm", "a number is missing"},
		{LengthKind, "Inf mm", "", "a number is missing"},
		{LengthKind, ".", "mm", "not a number"},
		{LengthKind, ",", "mm", "not a number"},
		{LengthKind, "1e400", "mm", "not a number"},
		{LengthKind, "1e308 km", "", "too large"},
		{LengthKind, "0x10 mm", "", "not known here"},
		{AngleKind, "-6 S", "", "same thing twice"},
		{TemperatureKind, "-300 °C", "", "absolute zero"},
		{RateKind, "3 s", "", "“s” measures a time"},
		{LengthKind, "\xff\xfe", "mm", "not text"},
		{LengthKind, long, "mm", "too long"},
		{LengthKind, "9" + strings.Repeat(" ", 200) + "mm", "", "too long"},
	} {
		got, err := ParseKind(c.kind, c.in, c.assumed)
		var bad *ParseError
		if !errors.As(err, &bad) || got != 0 || !strings.Contains(err.Error(), c.why) {
			t.Errorf("%.40q as %s: got %v, %v; want %q", c.in, c.kind, got, err, c.why)
			continue
		}
		if len(err.Error()) > 300 || len(bad.Input) > 2*maxInput {
			t.Errorf("%.40q: the sentence carries all that was typed", c.in)
		}
	}
	for _, s := range []string{"", "  ", "\t\n"} {
		if _, err := Parse[Length](s, "mm"); !errors.Is(err, ErrEmpty) {
			t.Errorf("%q: got %v, want ErrEmpty", s, err)
		}
	}
}

// Each part of a compound quantity has the sign of the whole.
func TestParseSignOfParts(t *testing.T) {
	a, _ := Parse[Angle](`6° 30'`, "")
	b, _ := Parse[Angle](`6° 30' S`, "")
	c, _ := Parse[Angle](`-6° 30'`, "")
	if a != -b || b != c {
		t.Errorf("got %v, %v, %v", a, b, c)
	}
}

// Every unit of every kind is read back by its symbol and each of its names,
// and to and from SI are inverses.
func TestUnitsRoundTrip(t *testing.T) {
	for k := range kinds {
		kind := Kind(k)
		for _, u := range kind.Units() {
			for _, name := range append([]string{u.Symbol}, u.Names...) {
				got, err := ParseKind(kind, "300 "+name, "")
				if err != nil || math.Abs(got-u.ToSI(300)) > 1e-12*math.Abs(got) {
					t.Errorf("%s in %q: got %v, %v; want %v", kind, name, got, err, u.ToSI(300))
				}
			}
			if x := u.FromSI(u.ToSI(300)); math.Abs(x-300) > 1e-9 {
				t.Errorf("%s in %s: 300 came back as %v", kind, u.Symbol, x)
			}
		}
	}
}

// What Text writes, Parse reads: to the digit that was written.
func TestTextParseRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := Kind(rapid.IntRange(0, len(kinds)-1).Draw(t, "kind"))
		u := rapid.SampledFrom(kind.Units()).Draw(t, "unit")
		decimals := rapid.IntRange(0, 6).Draw(t, "decimals")
		lo := -1e6
		if u.Reciprocal || kind == TemperatureKind {
			lo = 1
		}
		x := rapid.Float64Range(lo, 1e6).Draw(t, "x")
		s := join(Number(x, decimals), u.Symbol)
		got, err := ParseKind(kind, s, "")
		if err != nil {
			t.Fatalf("%q: %v", s, err)
		}
		if d := math.Abs(u.FromSI(got) - x); d > 0.5*math.Pow10(-decimals)+1e-8 {
			t.Fatalf("%v was written %q and read back as %v", x, s, u.FromSI(got))
		}
	})
}

// Inches in fractions, as a rule shows them.
func TestFractionRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole := rapid.IntRange(0, 200).Draw(t, "whole")
		den := rapid.SampledFrom([]int{2, 4, 8, 16, 32, 64}).Draw(t, "den")
		num := rapid.IntRange(1, den-1).Draw(t, "num")
		s := Number(float64(whole), 0) + " " + Number(float64(num), 0) + "/" + Number(float64(den), 0) + " in"
		got, err := Parse[Length](s, "mm")
		want := (float64(whole) + float64(num)/float64(den)) * in
		if err != nil || math.Abs(float64(got)-want) > 1e-12 {
			t.Fatalf("%q: got %v, %v; want %v", s, got, err, want)
		}
	})
}

func TestWriting(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Text(Length(0.9936), "mm", 1), "993.6\u00a0mm"},
		{Text(RatePerDay(3.2), "s/d", 1), "+3.2\u00a0s/d"},
		{Text(RatePerDay(-3.2), "s/d", 1), "−3.2\u00a0s/d"},
		{Text(RatePerDay(0.01), "s/d", 1), "0.0\u00a0s/d"},
		{Text(RatePerDay(-0.01), "s/d", 1), "0.0\u00a0s/d"},
		{Text(Deg(51.5), "°", 1), "51.5°"},
		{Text(Ratio(0.5), "", 2), "0.50"},
		{Text(Pitch(in/40), "tpi", 0), "40\u00a0tpi"},
		{Number(math.Copysign(0, -1), 1), "0.0"},
		{Significant(9.996, 3), "10.0"},
		{Significant(0.0009060, 3), "0.000906"},
		{Significant(-1234567, 3), "−1234567"},
		{Significant(1.5e-9, 2), "1.5e−09"},
		{Significant(0, 3), "0"},
		{LengthKind.String(), "length"},
		{AngleKind.String(), "angle"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

func TestInPanicsForOtherUnit(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a length in kg was written")
		}
	}()
	In(Length(1), "kg")
}

func TestCrossings(t *testing.T) {
	if got := Mass(2).Weight(StandardGravity).At(0.5); math.Abs(float64(got)-9.80665) > 1e-15 {
		t.Errorf("torque %v", got)
	}
	if got := Force(10).Over(2).Per(4); got != 5 {
		t.Errorf("power %v", got)
	}
	if got := Force(math.Pi).Per(Length(2)); math.Abs(float64(got)-1) > 1e-15 {
		t.Errorf("stress %v", got)
	}
	if got := RatePerDay(86400); got != 1 || got.PerDay() != 86400 {
		t.Errorf("rate %v", got)
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"994 mm", `5'2 1/4"`, "51° 28' 40\" N", "1,234", "39½ in", "-6 S", "+3.2 s/d", "1e-3 m", "🕰️", "\xff", "1/0"} {
		for k := range kinds {
			f.Add(uint8(k), s, "mm")
		}
	}
	f.Fuzz(func(t *testing.T, k uint8, s, assumed string) {
		kind := Kind(int(k) % len(kinds))
		v, err := ParseKind(kind, s, assumed)
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Fatalf("%q gave %v", s, v)
		}
		if err == nil {
			return
		}
		if v != 0 || err.Error() == "" || !utf8.ValidString(err.Error()) {
			t.Fatalf("%q gave %v and %q", s, v, err)
		}
	})
}

// A paste of ten million bytes is turned away without being read.
func TestLargePasteIsCheap(t *testing.T) {
	paste := strings.Repeat("12 mm 🕰️ ", 1<<20)
	n := testing.AllocsPerRun(5, func() { _, _ = Parse[Length](paste, "mm") })
	if n > 20 {
		t.Errorf("%v allocations", n)
	}
}

func BenchmarkParse(b *testing.B) {
	for b.Loop() {
		if _, err := Parse[Length]("39 1/8 in", "mm"); err != nil {
			b.Fatal(err)
		}
	}
}
