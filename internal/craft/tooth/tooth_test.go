package tooth

import (
	"math"
	"strings"
	"testing"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func TestChecks(t *testing.T) { check.All(t, Checks()) }

func reading(t *testing.T, s string) meas.Reading[unit.Length] {
	t.Helper()
	r, err := meas.Parse[unit.Length](s, "mm")
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func solve(t *testing.T, q Query) Answer {
	t.Helper()
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// found gives the finding of a code.
func found(a Answer, code string) (meas.Finding, bool) {
	for _, f := range a.Findings {
		if f.Code == code {
			return f, true
		}
	}
	return meas.Finding{}, false
}

func TestSizesFollowFromTheModule(t *testing.T) {
	a := solve(t, Query{Wheel: 60, Leaves: 8, Module: reading(t, "0.8")})
	for _, c := range []struct {
		what    string
		got     unit.Length
		printed string
	}{
		{"pitch diameter", a.Wheel.Pitch.Value, "48.000"}, {"pinion's", a.Pinion.Pitch.Value, "6.400"},
		{"distance", a.Distance.Value, "27.200"}, {"circular pitch", a.CircularPitch.Value, "2.513"},
		{"tooth", a.Wheel.Tooth.Value, "1.257"}, {"space", a.Wheel.Space.Value, "1.257"}, {"leaf", a.Pinion.Tooth.Value, "0.838"},
		{"blank", a.Wheel.Over.Value, "50.354"}, // 48 + 2 · 0.95 · 1.5488 · 0.8
	} {
		check.Printed(t, c.what, c.got.MM(), c.printed)
	}
	widths := a.Wheel.Cutter.Widths
	check.Near(t, "cutter at the pitch circle", widths[2].Wide.MM(), 48*math.Sin(math.Pi/120), 1e-9)
	last := widths[len(widths)-1]
	check.Near(t, "cutter at the tips", last.Wide.MM(), a.Wheel.Over.Value.MM()*math.Sin(math.Pi/60), 1e-9)
	if c := a.Wheel.Cutter; c.Arc.MM() < 1 || c.Arc.MM() > 4 || c.Deviation.MM() > 0.012 {
		t.Errorf("%+v", c)
	}
	if _, ok := found(a, "cutting"); !ok || !a.Complete {
		t.Error("no caution, or not complete")
	}
}

// TestBackFromTheBlank: the diameters that an answer gives lead back to its
// module, by every size and every form.
func TestBackFromTheBlank(t *testing.T) {
	for _, f := range forms {
		a := solve(t, Query{Wheel: 72, Leaves: 10, Form: f, Module: reading(t, "0.731")})
		for name, q := range map[string]Query{
			"wheel":    {WheelOutside: meas.Of(a.Wheel.Over.Value)},
			"pinion":   {PinionOutside: meas.Of(a.Pinion.Over.Value)},
			"pitch":    {CircularPitch: meas.Of(a.CircularPitch.Value)},
			"imperial": {DiametralPitch: meas.Of(a.DiametralPitch.Value)},
			"distance": {Distance: meas.Of(a.Distance.Value)},
			"all":      {WheelOutside: meas.Of(a.Wheel.Over.Value), PinionOutside: meas.Of(a.Pinion.Over.Value), Distance: meas.Of(a.Distance.Value), WheelPitch: meas.Of(a.Wheel.Pitch.Value), PinionPitch: meas.Of(a.Pinion.Pitch.Value)},
		} {
			q.Wheel, q.Leaves, q.Form = 72, 10, f
			b := solve(t, q)
			check.Near(t, string(f)+" "+name, b.Module.Value.MM(), 0.731, 1e-9)
			if !b.Complete {
				t.Errorf("%s %s: %+v", f, name, b.Findings)
			}
		}
	}
}

func TestRulesMakeADoubt(t *testing.T) {
	a := solve(t, Query{Wheel: 60, Leaves: 8, WheelOutside: reading(t, "50.35 ± 0.02")})
	m := a.Measured[0]
	if !a.Module.HasU || m.Low >= a.Module.Value || m.High <= a.Module.Value || len(a.Rules) < 4 {
		t.Errorf("%+v %+v", a.Module, m)
	}
	if b := a.Module.Budget; len(b) != 2 || !strings.Contains(b[0].Input, "rules") {
		t.Errorf("%+v", b)
	}
}

func TestSizesThatClash(t *testing.T) {
	a := solve(t, Query{Wheel: 60, Leaves: 8, WheelOutside: reading(t, "50.35"), Distance: reading(t, "30 ± 0.1")})
	f, ok := found(a, "sizes")
	if !ok || a.Complete || !strings.Contains(f.Text, "50.35") || !strings.Contains(f.Text, "30 ± 0.1") {
		t.Errorf("%v %+v", ok, f)
	}
}

// A module is taken as stated, and a size that is three parts in a hundred off
// it is named with it.
func TestModuleClashes(t *testing.T) {
	q := Query{Wheel: 60, Leaves: 8, Module: reading(t, "0.8"), WheelOutside: reading(t, "52")}
	a := solve(t, q)
	if f, ok := found(a, "sizes"); !ok || a.Complete || !strings.Contains(f.Text, "0.8") || !strings.Contains(f.Text, "52") {
		t.Errorf("%v %+v", ok, f)
	}
	q.WheelOutside = reading(t, "50.6") // half a part in a hundred
	if a := solve(t, q); !a.Complete {
		t.Errorf("%+v", a.Findings)
	}
}

func TestInchesAreAsked(t *testing.T) {
	for _, q := range []Query{
		{Wheel: 60, Leaves: 8, WheelOutside: reading(t, "1.982")},
		{Wheel: 60, Leaves: 8, WheelOutside: reading(t, "1.982"), Distance: reading(t, "27.2")},
	} {
		a := solve(t, q)
		if f, ok := found(a, "unit"); !ok || a.Complete || !strings.Contains(f.Next, "inches") {
			t.Errorf("%+v", a.Findings)
		}
		if _, ok := found(a, "sizes"); ok {
			t.Error("it is said twice")
		}
	}
	if a := solve(t, Query{Wheel: 60, Leaves: 8, WheelOutside: reading(t, "1.982 in")}); !a.Complete {
		t.Errorf("%+v", a.Findings)
	}
}

func TestMistakesAllAtOnce(t *testing.T) {
	_, err := Solve(Query{Wheel: 5000, Leaves: 3, Module: reading(t, "-1"), Pin: reading(t, "1")})
	for _, want := range []string{"5000", "3 leaves", "nought", "lantern"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q is not in %v", want, err)
		}
	}
	for what, q := range map[string]Query{
		"Enter a size":       {Wheel: 60, Leaves: 8},
		"comes to its point": {Wheel: 68, Leaves: 9, Module: reading(t, "1"), Height: meas.Of(unit.Ratio(1.93))},
		"no clock has":       {Wheel: 60, Leaves: 8, Module: reading(t, "0.001")},
		"pins do not fit":    {Wheel: 60, Leaves: 8, Form: LanternOf, Module: reading(t, "1"), Pin: reading(t, "2.5")},
		"wider than the":     {Wheel: 60, Leaves: 8, Module: reading(t, "1"), Hole: reading(t, "70")},
		"nothing to cross":   {Wheel: 60, Leaves: 8, Module: reading(t, "1"), Crossings: 4, Hub: reading(t, "50")},
	} {
		if _, err := Solve(q); err == nil || !strings.Contains(err.Error(), what) {
			t.Errorf("%q: %v", what, err)
		}
	}
}

func TestMisprintIsNamed(t *testing.T) {
	if _, ok := found(solve(t, Query{Wheel: 75, Leaves: 10, Module: reading(t, "1")}), "misprint"); !ok {
		t.Error("the printed height for 10 leaves is not named")
	}
}

func FuzzSolve(f *testing.F) {
	f.Add(60, 8, uint8(1), 50.35, 0.02, 0.0, 0.0)
	f.Add(400, 30, uint8(3), 0.0, 0.0, 80.0, 0.3)
	f.Add(6, 4, uint8(0), 3.0, 1.0, 2.0, 2.9)
	f.Fuzz(func(t *testing.T, wheel, leaves int, form uint8, over, u, distance, height float64) {
		q := Query{Wheel: 0, Form: forms[int(form)%len(forms)]}
		q.Wheel += train.Teeth(wheel)
		q.Leaves += train.Teeth(leaves)
		if over != 0 {
			q.WheelOutside = meas.OfU(unit.Millimetres(over), unit.Millimetres(u))
		}
		if distance != 0 {
			q.Distance = meas.Of(unit.Millimetres(distance))
		}
		if height != 0 {
			q.Height = meas.Of(unit.Ratio(height))
		}
		a, err := Solve(q)
		if err != nil {
			if err.Error() == "" {
				t.Error("no words")
			}
			return
		}
		for _, g := range []Gear{a.Pair.Wheel, a.Pair.Pinion} {
			if err := sound(g); err != nil {
				t.Errorf("%+v: %v", q, err)
			}
			drawn(t, g)
		}
	})
}
