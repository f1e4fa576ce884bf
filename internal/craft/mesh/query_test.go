package mesh

import (
	"errors"
	"math"
	"strings"
	"testing"

	"seatboard/internal/craft/tooth"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func mm(x float64) meas.Reading[unit.Length] { return meas.Of(unit.Millimetres(x)) }

// Every mistake comes back at once, each with its field and a sentence that
// names what clashes.
func TestEveryMistakeIsNamed(t *testing.T) {
	for name, c := range map[string]struct {
		q      Query
		fields map[string]string
	}{
		"nothing":   {Query{}, map[string]string{"wheel": "Enter the count of the wheel", "leaves": "Enter the count of the pinion", "module": "one size at least"}},
		"3 leaves":  {Query{Wheel: 60, Leaves: 3, Module: mm(1), Friction: meas.Of(unit.Ratio(2))}, map[string]string{"leaves": "4 to 30 leaves", "friction": "between 0 and 1"}},
		"units":     {Query{Wheel: 60, Leaves: 8, WheelOutside: mm(31), PinionOutside: mm(115)}, map[string]string{"pinion-outside": "units of both sizes"}},
		"distance":  {Query{Wheel: 60, Leaves: 8, Module: mm(0.5), Distance: mm(170)}, map[string]string{"distance": "touch at 17.000"}},
		"too high":  {Query{Wheel: 60, Leaves: 8, Module: mm(0.5), Height: meas.Of(unit.Ratio(2.9))}, map[string]string{"height": "less than"}},
		"pins":      {Query{Wheel: 60, Leaves: 8, Module: mm(0.5), Pin: mm(0.5)}, map[string]string{"pin": "lantern"}},
		"fat pins":  {Query{Wheel: 60, Leaves: 8, Module: mm(0.5), Pin: mm(1.5), Form: tooth.LanternOf}, map[string]string{"pin": "do not fit the pitch"}},
		"thick":     {Query{Wheel: 60, Leaves: 8, Module: mm(0.5), ToothWidth: mm(15.7)}, map[string]string{"tooth-width": "look at the counts and the unit"}},
		"wide":      {Query{Wheel: 60, Leaves: 8, Module: mm(0.5), LeafSpace: mm(1.6)}, map[string]string{"leaf-space": "A space beside a leaf"}},
		"lantern":   {Query{Wheel: 60, Leaves: 8, Module: mm(0.5), Form: tooth.LanternOf, LeafWidth: mm(0.5), LeafSpace: mm(1)}, map[string]string{"leaf-width": "no leaves", "leaf-space": "no leaves"}},
		"form":      {Query{Wheel: 60, Leaves: 8, Module: mm(0.5), Form: "square", Faces: "wet"}, map[string]string{"form": "one of exact", "faces": "one of dry"}},
		"backwards": {Query{Wheel: 60, Leaves: 8, Module: mm(0.5), Deepest: mm(17.2), Shallowest: mm(16.8)}, map[string]string{"shallowest": "more than the least"}},
	} {
		_, err := Solve(c.q)
		var f meas.Faults
		if !errors.As(err, &f) || len(f) != len(c.fields) {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for _, x := range f {
			if want := c.fields[x.Field]; want == "" || !strings.Contains(x.Text, want) {
				t.Errorf("%s: %s: %s", name, x.Field, x.Text)
			}
		}
	}
}

// What a distance does is named, and the best lies where the pitch circles
// touch, or near it.
func TestDepthsAreNamed(t *testing.T) {
	for distance, want := range map[float64]State{16.55: Binds, 17: Works, 17.3: Works, 18.6: Apart} {
		a, err := Solve(Query{Wheel: 60, Leaves: 8, Module: mm(0.5), Distance: mm(distance), Faces: Greasy, Form: tooth.Exact})
		if err != nil || a.State != want || a.Complete != (want == Works) {
			t.Errorf("at %g mm: %s, want %s; %v", distance, a.State, want, err)
		}
		if a.AtBest == nil || math.Abs(a.AtBest.Distance-17) > 0.05 || a.BestLow.Value > a.Best.Value || a.BestHigh.Value < a.Best.Value {
			t.Errorf("at %g mm: best %+v, %v to %v", distance, a.AtBest, a.BestLow.Value, a.BestHigh.Value)
		}
		said := false
		for _, f := range a.Findings {
			said = said || f.Level == meas.Clash
		}
		if said == (distance == 17) {
			t.Errorf("at %g mm: findings %+v", distance, a.Findings)
		}
	}
}

// A pinion that is too large comes against the teeth; two modules are named.
func TestMismatchIsNamed(t *testing.T) {
	a, err := Solve(Query{Wheel: 60, Leaves: 8, WheelOutside: mm(31.4), PinionOutside: mm(5.1), Faces: Dry})
	if err != nil {
		t.Fatal(err)
	}
	codes := ""
	for _, f := range a.Findings {
		codes += f.Code + " "
	}
	if !strings.Contains(codes, "modules") || a.WheelModule.Value >= a.PinionModule.Value {
		t.Errorf("%s: %v, %v", codes, a.WheelModule, a.PinionModule)
	}
	if even := a.Fastest.Value - a.Slowest.Value; a.State == Works && even < 0.05 {
		t.Errorf("a pair of two modules runs as evenly as %v", even)
	}
}

// A doubt of the distance comes out as a doubt of the lead.
func TestDoubtIsPropagated(t *testing.T) {
	q := Query{Wheel: 60, Leaves: 8, Module: mm(1), Distance: meas.OfU(unit.Millimetres(33.9), unit.Millimetres(0.02)), Faces: Dry}
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	lead := func(x float64) float64 {
		q := q
		q.Distance = mm(x)
		a, err := Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		return float64(a.Lead.Value)
	}
	want := math.Abs(lead(33.92)-lead(33.88)) / 2
	if !a.Lead.HasU || math.Abs(float64(a.Lead.U)-want) > 0.02*want || a.WheelModule.HasU {
		t.Errorf("%v ± %v, want ± %v; module %v", a.Lead.Value, a.Lead.U, want, a.WheelModule)
	}
}

// Pits make the pair uneven, the deeper the more; a pit of nothing changes
// nothing.
func TestWearGrows(t *testing.T) {
	before := 0.0
	for _, pit := range []float64{1e-9, 0.01, 0.03} {
		a, err := Solve(Query{Wheel: 60, Leaves: 8, Module: mm(0.5), Pit: mm(pit), Faces: Greasy})
		if err != nil || a.Unworn == nil {
			t.Fatal(err)
		}
		spread := float64(a.Fastest.Value - a.Slowest.Value)
		if pit == 1e-9 && math.Abs(spread-(a.Unworn.Fastest-a.Unworn.Slowest)) > 1e-4 || spread < before {
			t.Errorf("%g mm: spread %g, before it was worn %g", pit, spread, a.Unworn.Fastest-a.Unworn.Slowest)
		}
		before = spread
	}
}

// A tooth bent forwards throws the pinion on by as much as its tip is out,
// one bent back or short lets it fall back.
func TestOddTooth(t *testing.T) {
	odd := func(bent, short float64) *Odd {
		q := Query{Wheel: 60, Leaves: 8, Module: mm(0.5), Faces: Greasy}
		if bent != 0 {
			q.Bent = mm(bent)
		}
		if short != 0 {
			q.Short = mm(short)
		}
		a, err := Solve(q)
		if err != nil || a.Odd == nil {
			t.Fatal(err)
		}
		return a.Odd
	}
	forward := odd(0.03, 0)
	// At the tip the tooth is 0.03 mm out: an angle of the wheel, times 7.5.
	if turn := 0.03 / 15.7 * 7.5; math.Abs(forward.Ahead-turn) > 0.1*turn || forward.Behind > 1e-6 {
		t.Errorf("forwards: %+v, want about %.5f", forward, turn)
	}
	if back := odd(-0.03, 0); back.Ahead > 1e-6 || back.Behind < 0.002 {
		t.Errorf("back: %+v", back)
	}
	if short := odd(0, 0.25); short.Ahead > 1e-6 || short.Next <= forward.Next {
		t.Errorf("short: %+v", short)
	}
	if jammed := odd(0.4, 0); !jammed.Binds && jammed.Butts == 0 {
		t.Errorf("bent through the play: %+v", jammed)
	}
}
