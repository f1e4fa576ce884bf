package ratchet

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatboard/internal/craft/tooth/saw"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// The click that is drawn is one simple outline round its pivot, bears on the
// face at the tip of its tooth, and is nowhere in the wheel.
func TestClickSitsInItsPlace(t *testing.T) {
	drawn := 0
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(5, 40).Draw(t, "radius")
		q := Query{Count: train.Teeth(rapid.IntRange(8, 80).Draw(t, "count")), Diameter: mm(2 * r), Undercut: meas.Of(unit.Deg(rapid.Float64Range(0, 20).Draw(t, "undercut"))),
			Click: mm(r * rapid.Float64Range(0.3, 2).Draw(t, "click"))}
		if rapid.Bool().Draw(t, "moved") {
			q.Distance = mm(math.Hypot(r, q.Click.Value.MM()) * rapid.Float64Range(0.95, 1.05).Draw(t, "distance"))
		}
		if rapid.Bool().Draw(t, "measured") {
			q.Arm, q.Hole = mm(r*rapid.Float64Range(0.02, 0.5).Draw(t, "arm")), mm(r*rapid.Float64Range(0.01, 0.3).Draw(t, "hole"))
		}
		a, err := Solve(q)
		if err != nil || a.Drawn == nil {
			if f := a.Findings; err == nil && !clashes(f) {
				t.Fatalf("no click, and no word why: %+v", f)
			}
			return
		}
		drawn++
		c, p := a.Drawn, a.Drawn.Outline
		if !p.Closed || p.Segs[len(p.Segs)-1].To != p.From || !p.Simple() || !(p.Area() > 0) {
			t.Fatalf("not one simple outline: %v", p)
		}
		if math.Abs(c.Pivot.Len()-a.Distance.Value.MM()) > 1e-9 || math.Abs(c.Pivot.Minus(c.Bears).Len()-a.Click.Value.MM()) > 1e-9 || !p.Inside(c.Pivot) {
			t.Fatalf("the pivot is at %v", c.Pivot)
		}
		if d := p.Segs[0].Distance(p.From, c.Bears); d > 1e-9 {
			t.Fatalf("the nose is %g mm from the tip", d)
		}
		wheel := a.Teeth.Outline()
		at := p.From
		for i, s := range p.Segs {
			for k := 1; k < 24; k++ {
				x := saw.Along(s, at, float64(k)/24)
				if i > 0 && x.Len() < a.Teeth.Tip && wheel.Inside(x) {
					t.Fatalf("piece %d of the click is in the wheel at %v", i, x)
				}
				if x.Minus(c.Pivot).Len() < c.Hole.MM()/2 {
					t.Fatalf("piece %d runs through the hole", i)
				}
			}
			at = s.To
		}
	})
	if drawn < 20 {
		t.Errorf("only %d clicks were drawn", drawn)
	}
}

func clashes(all []meas.Finding) bool {
	for _, f := range all {
		if f.Level == meas.Clash {
			return true
		}
	}
	return false
}

// A nose that slides in is turned in by the force of the face less its
// friction, both about the pivot, exactly where tan δ is above µ.
func TestClickEngagesItself(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, l := rapid.Float64Range(5, 40).Draw(t, "radius"), rapid.Float64Range(4, 40).Draw(t, "click")
		u, mu := rapid.Float64Range(0, 0.4).Draw(t, "undercut"), rapid.Float64Range(0, 0.6).Draw(t, "friction")
		pivot := geom.Pt{X: r}.Plus(geom.Polar(l, rapid.Float64Range(0.9, 2.2).Draw(t, "direction")))
		if pivot.Len() <= r*1.001 {
			return
		}
		a, err := Solve(Query{Count: 30, Diameter: mm(2 * r), Click: mm(l), Distance: mm(pivot.Len()), Undercut: meas.Of(unit.Angle(u)), Friction: meas.Of(unit.Ratio(mu))})
		if err != nil {
			t.Fatal(err)
		}
		arm := geom.Pt{X: r}.Minus(pivot)
		push, out := geom.Polar(1, u).Left(), geom.Polar(1, u)
		in := -arm.Cross(push.Plus(out.Times(mu))) // it slides in: friction points out
		if math.Abs(in) > 1e-9 && (in > 0) != (float64(a.Holds.Value) > mu) {
			t.Fatalf("moment inwards %v, tan δ %v, µ %v", in, a.Holds.Value, mu)
		}
		away := -arm.Cross(push.Plus(out.Times(-mu))) // it slides out
		if slips := says(a, "slips"); math.Abs(away) > 1e-9 && slips != (away < 0) {
			t.Fatalf("moment inwards while it slides out %v, said to slip: %v", away, slips)
		}
	})
}

func says(a Answer, code string) bool {
	for _, f := range a.Findings {
		if f.Code == code {
			return true
		}
	}
	return false
}

func TestThrust(t *testing.T) {
	a, err := Solve(Query{Count: 24, Diameter: mm(32), Click: mm(18), Undercut: meas.Of(unit.Deg(6)), Torque: meas.OfU(unit.Torque(0.8), unit.Torque(0.04))})
	if err != nil {
		t.Fatal(err)
	}
	check.Near(t, "thrust, N", float64(a.Force.Value), 0.8/(0.016*math.Cos(6*math.Pi/180)), 1e-9)
	check.Near(t, "its doubt", float64(a.Force.U/a.Force.Value), 0.05, 1e-9)
	check.Near(t, "holds under", float64(a.Holds.Value), math.Tan(6*math.Pi/180), 1e-9)
	for want, q := range map[string]Query{
		"between 0 and 1":        {Count: 24, Diameter: mm(32), Friction: meas.Of(unit.Ratio(2))},
		"torque must be above":   {Count: 24, Diameter: mm(32), Torque: meas.Of(unit.Torque(-1))},
		"The width of the click": {Count: 24, Diameter: mm(32), Arm: mm(-1)},
	} {
		if _, err := Solve(q); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, wanted %q", err, want)
		}
	}
	if a, _ := Solve(Query{Count: 24, Diameter: mm(32), Click: mm(18), Hole: mm(12)}); a.Drawn != nil || !says(a, "hole") {
		t.Errorf("a hole wider than its boss: %+v", a.Findings)
	}
}
