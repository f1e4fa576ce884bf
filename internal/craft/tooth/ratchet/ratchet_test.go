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

func mm(x float64) meas.Reading[unit.Length] { return meas.Of(unit.Millimetres(x)) }

// Any wheel that is drawn is closed, keeps between root and tips, turns round
// its centre once, and holds the area of its corners.
func TestOutlineIsSimple(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := Query{Count: train.Teeth(rapid.IntRange(6, 120).Draw(t, "count")), Diameter: mm(rapid.Float64Range(5, 120).Draw(t, "diameter")), Undercut: meas.Of(unit.Deg(rapid.Float64Range(0, 30).Draw(t, "undercut")))}
		if rapid.Bool().Draw(t, "typed") {
			q.Depth, q.Land = mm(rapid.Float64Range(0.2, 12).Draw(t, "depth")), mm(rapid.Float64Range(0.01, 1).Draw(t, "land"))
		}
		a, err := Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		if !a.Complete {
			if !strings.HasPrefix(a.Findings[2].Code, "tooth-") {
				t.Fatalf("%+v", a.Findings)
			}
			return
		}
		p := a.Teeth.Outline()
		if p.Segs[len(p.Segs)-1].To != p.From || !p.Closed || len(p.Segs) != 3*int(q.Count) {
			t.Fatalf("%d segments", len(p.Segs))
		}
		at, turned := p.From, 0.0
		for _, s := range p.Segs {
			for i := range 16 {
				u, v := saw.Along(s, at, float64(i)/16), saw.Along(s, at, float64(i+1)/16)
				if r := u.Len(); r < a.Teeth.Root-1e-9 || r > a.Teeth.Tip+1e-9 {
					t.Fatalf("radius %v between %v and %v", r, a.Teeth.Root, a.Teeth.Tip)
				}
				turned += math.Atan2(u.Cross(v), u.Dot(v))
			}
			at = s.To
		}
		if math.Abs(turned-2*math.Pi) > 1e-9 {
			t.Fatalf("it goes round by %v", turned)
		}
		s, _ := a.Teeth.Corners()
		want := float64(q.Count) * (s.Back.Cross(s.Land) + s.Land.Cross(s.Tip) + s.Tip.Cross(s.Front)) / 2
		bow := a.Teeth.Tip * a.Teeth.Tip / 2 * (a.Land.MM()/a.Teeth.Tip - math.Sin(a.Land.MM()/a.Teeth.Tip)) * float64(q.Count)
		if math.Abs(p.Area()-want-bow) > 1e-9*want {
			t.Fatalf("area %v, wanted %v", p.Area(), want+bow)
		}
	})
}

// The draw by statics: a force square to the face, and its moment about the
// pivot of the click, turns the nose inwards exactly where it is above nought.
func TestDrawIsTheMoment(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, l := rapid.Float64Range(5, 40).Draw(t, "radius"), rapid.Float64Range(4, 40).Draw(t, "click")
		at := rapid.Float64Range(0.6, 2.4).Draw(t, "direction")
		u := rapid.Float64Range(0, 0.4).Draw(t, "undercut")
		pivot := geom.Pt{X: r}.Plus(geom.Polar(l, at))
		if pivot.Len() <= r*1.001 {
			return
		}
		a, err := Solve(Query{Count: 30, Diameter: mm(2 * r), Click: mm(l), Distance: mm(pivot.Len()), Undercut: meas.Of(unit.Angle(u))})
		if err != nil {
			t.Fatal(err)
		}
		force := geom.Polar(1, u).Left()
		moment := geom.Pt{X: r}.Minus(pivot).Cross(force) // clockwise below nought: inwards
		if want := math.Asin(math.Max(-1, math.Min(1, -moment/l))); math.Abs(math.Sin(float64(a.Draw.Value))-math.Sin(want)) > 1e-9 {
			t.Fatalf("draw %v, by the moment %v", a.Draw.Value, want)
		}
	})
}

func TestTangentClick(t *testing.T) {
	a, err := Solve(Query{Count: 24, Diameter: mm(60), Click: mm(40)})
	if err != nil {
		t.Fatal(err)
	}
	check.Near(t, "3, 4, 5", a.Distance.Value.MM(), 50, 1e-9)
	check.Near(t, "draw", a.Draw.Value.Degrees(), 0, 1e-6)
	b, _ := Solve(Query{Count: 24, Diameter: mm(60), Distance: mm(50), Undercut: meas.Of(unit.Deg(6))})
	check.Near(t, "click", b.Click.Value.MM(), 40, 1e-9)
	check.Near(t, "draw", b.Draw.Value.Degrees(), 6, 1e-6)
}

func TestRefuses(t *testing.T) {
	for want, q := range map[string]Query{
		"6 to 400 teeth; 3 were": {Count: 3, Diameter: mm(20)},
		"Enter the diameter":     {Count: 30},
		"outside the wheel":      {Count: 30, Diameter: mm(40), Distance: mm(19)},
		"does not reach":         {Count: 30, Diameter: mm(40), Distance: mm(40), Click: mm(10)},
		"from 0° to 30°":         {Count: 30, Diameter: mm(40), Undercut: meas.Of(unit.Deg(31))},
	} {
		if _, err := Solve(q); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, wanted %q", err, want)
		}
	}
	a, _ := Solve(Query{Count: 30, Diameter: mm(40), Distance: mm(21), Click: mm(14)})
	if a.Findings[2].Code != "draw" {
		t.Errorf("a click that is pushed out was not said: %+v", a.Findings)
	}
}

func BenchmarkWheelOf400(b *testing.B) {
	q := Query{Count: 400, Diameter: mm(120)}
	for b.Loop() {
		a, err := Solve(q)
		if err != nil {
			b.Fatal(err)
		}
		a.Teeth.Outline()
	}
}
