package escapewheel

import (
	"encoding/json"
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

func TestChecks(t *testing.T) { check.All(t, Checks()) }

// A wheel's own distance and span give its diameter and spaces back.
func TestLostWheelFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		count := rapid.IntRange(12, 60).Draw(t, "count")
		spaces := float64(rapid.IntRange(1, count/2-2).Draw(t, "spaces")) + 0.5
		dia := rapid.Float64Range(8, 120).Draw(t, "diameter")
		a, err := Solve(Query{Count: train.Teeth(count), Spaces: meas.Of(unit.Ratio(spaces)), Diameter: mm(dia)})
		if err != nil {
			t.Fatal(err)
		}
		n := meas.Of(unit.Ratio(spaces))
		for name, q := range map[string]Query{
			"distance":              {Distance: meas.OfU(a.Distance.Value, 1e-5), Spaces: n},
			"span":                  {Span: meas.OfU(a.Span.Value, 1e-5), Spaces: n},
			"distance and diameter": {Distance: meas.Of(a.Distance.Value), Diameter: mm(dia)},
			"span and diameter":     {Span: meas.Of(a.Span.Value), Diameter: mm(dia)},
			"distance and span":     {Distance: meas.Of(a.Distance.Value), Span: meas.Of(a.Span.Value)},
		} {
			q.Count = train.Teeth(count)
			b, err := Solve(q)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			if name == "distance and span" && b.Spaces != spaces { // sin 2A is the same for N/2 − n
				if other := float64(count)/2 - spaces; fromHalf(other) > fromHalf(spaces)+1e-9 {
					t.Fatalf("%v of %d came back as %v", spaces, count, b.Spaces)
				}
				continue
			}
			if b.Spaces != spaces || math.Abs(b.Diameter.Value.MM()-dia) > 1e-9*dia {
				t.Fatalf("%s: %v spaces, %v mm; wanted %v, %v", name, b.Spaces, b.Diameter.Value.MM(), spaces, dia)
			}
			if strings.Contains(name, " ") == b.Diameter.HasU {
				t.Fatalf("%s: doubt %+v", name, b.Diameter)
			}
		}
	})
}

// Every wheel that is drawn is one closed path that does not cross itself, with
// as many teeth as asked, between root and tips, and its area the sum of its
// sectors.
func TestOutlineIsSimple(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := Query{Count: train.Teeth(rapid.IntRange(6, 60).Draw(t, "count")), Diameter: mm(rapid.Float64Range(10, 100).Draw(t, "diameter")),
			Kind: rapid.SampledFrom([]Kind{DeadBeat, Recoil}).Draw(t, "kind"), Back: rapid.SampledFrom([]Back{StraightBack, HollowBack}).Draw(t, "back")}
		if rapid.Bool().Draw(t, "typed") {
			q.Undercut = meas.Of(unit.Deg(rapid.Float64Range(0, 40).Draw(t, "undercut")))
			q.Depth = mm(rapid.Float64Range(0.5, 20).Draw(t, "depth"))
			q.Land = mm(rapid.Float64Range(0.02, 2).Draw(t, "land"))
			q.Base = mm(rapid.Float64Range(0.2, 8).Draw(t, "base"))
			q.BackRadius = mm(rapid.Float64Range(1, 60).Draw(t, "back radius"))
		}
		a, err := Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := json.Marshal(a); err != nil {
			t.Fatal(err)
		}
		if !a.Complete {
			for _, f := range a.Findings {
				if f.Level == meas.Clash && strings.HasPrefix(f.Code, "tooth-") {
					return
				}
			}
			t.Fatalf("not drawn and nothing said: %+v", a.Findings)
		}
		simple(t, a.Tooth.Teeth.Outline(), int(q.Count), a.Tooth.Root.MM(), a.Diameter.Value.MM()/2)
		if c := a.Tooth.Cutter.Degrees(); !(c > 0 && c < 180) {
			t.Fatalf("cutter of %v°", c)
		}
	})
}

func simple(t *rapid.T, p geom.Path, teeth int, root, tip float64) {
	if len(p.Segs) != 4*teeth || p.Segs[len(p.Segs)-1].To != p.From || !p.Closed {
		t.Fatalf("%d segments, closed at %v", len(p.Segs), p.From)
	}
	// Points run round the centre once; the two sides are looked at radius by
	// radius: neither may come round past the other.
	var pts []geom.Pt
	at := p.From
	for _, s := range p.Segs[:8] {
		for i := range 24 {
			pts = append(pts, saw.Along(s, at, float64(i)/24))
		}
		at = s.To
	}
	for i, a := range pts {
		if r := a.Len(); r < root-1e-9 || r > tip+1e-9 {
			t.Fatalf("a point at radius %v, between %v and %v", r, root, tip)
		}
		b := pts[(i+1)%len(pts)]
		if i+1 == len(pts) {
			break
		}
		for j := i + 2; j+1 < len(pts); j++ {
			if cross(a, b, pts[j], pts[j+1]) {
				t.Fatalf("it crosses itself near %v", a)
			}
		}
	}
	area := p.Area()
	if area < math.Pi*root*root || area > math.Pi*tip*tip {
		t.Fatalf("area %v", area)
	}
}

// cross tells whether two chords cross inside both.
func cross(a, b, c, d geom.Pt) bool {
	side := func(p, q, r geom.Pt) float64 { return q.Minus(p).Cross(r.Minus(p)) }
	return side(a, b, c)*side(a, b, d) < -1e-18 && side(c, d, a)*side(c, d, b) < -1e-18
}

// The face leans back by the undercut, and the land is as long as typed.
func TestToothIsAsTyped(t *testing.T) {
	a, err := Solve(Query{Count: 30, Diameter: mm(40), Undercut: meas.Of(unit.Deg(8)), Land: mm(0.2), Depth: mm(5), Base: mm(1.4)})
	if err != nil || a.Tooth == nil || len(a.Tooth.Chosen) != 0 {
		t.Fatalf("%+v, %v", a.Findings, err)
	}
	s, _ := a.Tooth.Teeth.Corners()
	v := s.Tip.Minus(s.Front)
	check.Near(t, "undercut", v.Angle()*180/math.Pi, 8, 1e-9)
	check.Near(t, "foot of the face", s.Front.Len(), 15, 1e-9)
	check.Near(t, "land", (s.Tip.Angle()-s.Land.Angle())*20, 0.2, 1e-9)
	check.Near(t, "base", (s.Front.Angle()-s.Back.Angle())*15, 1.4, 1e-9)
	check.Near(t, "bottom", a.Tooth.Bottom.MM(), 2*math.Pi*15/30-1.4, 1e-9)
	// The area by another way: sectors of root circle and corners of one tooth.
	poly := s.Back.Cross(s.Land)/2 + s.Tip.Cross(s.Front)/2 + 20*0.2/2 + 15*a.Tooth.Bottom.MM()/2
	check.Near(t, "area", a.Tooth.Teeth.Outline().Area(), 30*poly, 1e-6)
}

func TestRefuses(t *testing.T) {
	for want, q := range map[string]Query{
		"6 to 120 teeth; 3 were":       {Count: 3},
		"Enter the count":              {},
		"a whole number and a half":    {Count: 30, Spaces: meas.Reading[unit.Ratio]{Value: 8, Set: true, Entered: "8"}},
		"half of the wheel":            {Count: 16, Spaces: meas.Reading[unit.Ratio]{Value: 8.5, Set: true, Entered: "8.5"}},
		"outside the wheel":            {Count: 30, Diameter: mm(40), Distance: mm(20)},
		"cannot span":                  {Count: 30, Diameter: mm(40), Span: mm(41)},
		"no more than the distance":    {Count: 30, Span: mm(41), Distance: mm(40)},
		"The undercut must be from 0°": {Count: 30, Undercut: meas.Of(unit.Deg(41))},
	} {
		if _, err := Solve(q); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, wanted %q", err, want)
		}
	}
}

func TestClashesAreSaid(t *testing.T) {
	for code, q := range map[string]Query{
		"distance":    {Count: 30, Diameter: mm(40), Spaces: meas.Of(unit.Ratio(7.5)), Distance: meas.OfU(unit.Millimetres(31), unit.Millimetres(0.1))},
		"spaces":      {Count: 30, Diameter: mm(40), Distance: mm(29.7)},
		"drop":        {Count: 30, Diameter: mm(40), Spaces: meas.Of(unit.Ratio(7.5)), Drop: meas.Of(unit.Deg(6.1))},
		"no-size":     {Count: 30},
		"tooth-depth": {Count: 30, Diameter: mm(40), Depth: mm(19)},
		"tooth-land":  {Count: 30, Diameter: mm(40), Land: mm(3)},
		"tooth-base":  {Count: 30, Diameter: mm(40), Base: mm(9)},
		"tooth-bore":  {Count: 30, Diameter: mm(40), Bore: mm(39)},
	} {
		a, err := Solve(q)
		if err != nil {
			t.Fatalf("%s: %v", code, err)
		}
		found := false
		for _, f := range a.Findings {
			found = found || f.Code == code && f.Level > meas.Note
		}
		if !found {
			t.Errorf("%s was not said: %+v", code, a.Findings)
		}
	}
}

func BenchmarkWheelOf120(b *testing.B) {
	q := Query{Count: 120, Diameter: mm(80), Spaces: meas.Of(unit.Ratio(29.5))}
	for b.Loop() {
		a, err := Solve(q)
		if err != nil {
			b.Fatal(err)
		}
		a.Tooth.Teeth.Outline()
	}
}
