package strikework

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatboard/internal/craft/tooth/saw"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func mm(x float64) meas.Reading[unit.Length] { return meas.Of(unit.Millimetres(x)) }

func TestChecks(t *testing.T) { check.All(t, Checks()) }

// Put together and turned: with the tail's pin on each step the rack stands
// one tooth farther, found by laying the pieces out in the plane.
func TestEachStepIsOneTooth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := Query{Radius: mm(rapid.Float64Range(20, 60).Draw(t, "radius")), Tail: mm(rapid.Float64Range(30, 70).Draw(t, "tail")),
			Largest: mm(rapid.Float64Range(15, 25).Draw(t, "largest")), Smallest: mm(rapid.Float64Range(4, 10).Draw(t, "smallest")), Pin: mm(rapid.Float64Range(0.1, 2).Draw(t, "pin"))}
		if rapid.Bool().Draw(t, "centres") {
			q.Centres = mm(q.Tail.Value.MM() + rapid.Float64Range(-3, 8).Draw(t, "more"))
		}
		a, err := Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		if !a.Complete {
			if a.Findings[1].Level != meas.Clash {
				t.Fatalf("%+v", a.Findings)
			}
			return
		}
		r := a.Rack
		if math.Abs(r.Radii[0].MM()-q.Largest.Value.MM()) > 1e-9 || math.Abs(r.Radii[11].MM()-q.Smallest.Value.MM()) > 1e-9 {
			t.Fatalf("radii %v", r.Radii)
		}
		start := 0.0
		for k, radius := range r.Radii {
			rho, e, tail := radius.MM()+q.Pin.Value.MM()/2, r.Centres.MM(), q.Tail.Value.MM()
			x := (tail*tail - rho*rho + e*e) / (2 * e) // where the two circles meet
			at := geom.Pt{X: x, Y: math.Sqrt(tail*tail - x*x)}.Angle()
			if k == 0 {
				start = at
			}
			if got := (start - at) / float64(r.Tooth); math.Abs(got-float64(k)) > 1e-9 {
				t.Fatalf("at step %d the rack stands at %v teeth", k, got)
			}
		}
		b, err := Solve(Query{Radius: q.Radius, Tail: q.Tail, Largest: q.Largest, Centres: meas.Of(r.Centres), Pin: q.Pin, Pitch: meas.Of(r.Pitch.Value)})
		if err != nil || !b.Complete || math.Abs(b.Rack.Radii[11].MM()-q.Smallest.Value.MM()) > 1e-6 {
			t.Fatalf("by its pitch: %+v, %v", b.Rack, err)
		}
		round(t, r.Snail(), -1, 4*12)
		if p := r.Outline(); p.Segs[len(p.Segs)-1].To != p.From || !(p.Area() > 0) {
			t.Fatal("the rack is not closed")
		}
		if _, err := json.Marshal(a); err != nil {
			t.Fatal(err)
		}
	})
}

// round tells that a path goes round its centre once, one way, and is closed.
func round(t *rapid.T, p geom.Path, sign float64, most int) {
	turned, at := 0.0, p.From
	for _, s := range p.Segs {
		for i := range 8 {
			u, v := saw.Along(s, at, float64(i)/8), saw.Along(s, at, float64(i+1)/8)
			d := math.Atan2(u.Cross(v), u.Dot(v))
			if d*sign < -1e-9 {
				t.Fatalf("it turns back at %v", u)
			}
			turned += d
		}
		at = s.To
	}
	if at != p.From || !p.Closed || len(p.Segs) > most || math.Abs(turned-sign*2*math.Pi) > 1e-9 {
		t.Fatalf("closed at %v from %v, round by %v, %d segments", at, p.From, turned, len(p.Segs))
	}
}

// The slots of a count wheel are as far apart as the next hour has blows.
func TestCountWheel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := Query{Kind: CountWheel, Blows: rapid.SampledFrom([]Blows{Hours, HalfHours}).Draw(t, "blows"), Diameter: mm(rapid.Float64Range(30, 150).Draw(t, "diameter"))}
		a, err := Solve(q)
		if err != nil || !a.Complete {
			t.Fatalf("%+v, %v", a, err)
		}
		w := a.CountWheel
		before := 0
		for _, s := range w.Slots {
			blows := s.After - before
			want := 1
			if !strings.Contains(s.Hour, "/") {
				want = int(math.Round(float64(blows)))
				if s.Hour != "" && strings.TrimSpace(s.Hour) != itoa(blows) {
					t.Fatalf("%s is struck with %d", s.Hour, blows)
				}
			}
			if blows != want {
				t.Fatalf("%s is struck with %d", s.Hour, blows)
			}
			before = s.After
		}
		if before != w.Divisions || len(w.Slots)*4 != len(w.Outline().Segs) {
			t.Fatalf("%d of %d", before, w.Divisions)
		}
		round(t, w.Outline(), -1, 4*24)
		full := math.Pi * w.rim * w.rim
		low := w.rim - w.Depth.MM()
		slot := w.Width.MM() / w.rim / 2 * (w.rim*w.rim - low*low)
		if got := -w.Outline().Area(); math.Abs(got-(full-float64(len(w.Slots))*slot)) > 1e-6*full {
			t.Fatalf("area %v", got)
		}
	})
}

func itoa(n int) string {
	return strings.TrimLeft(string([]byte{byte('0' + n/10), byte('0' + n%10)}), "0")
}

func TestRefuses(t *testing.T) {
	for want, q := range map[string]Query{
		"Enter the length of the tail":   {Radius: mm(40)},
		"Enter the pitch of a rack":      {Radius: mm(40), Tail: mm(40), Largest: mm(20)},
		"smaller than that at 1 o'clock": {Radius: mm(40), Tail: mm(40), Largest: mm(20), Smallest: mm(21)},
		"12 to 20 teeth; 3 were":         {Teeth: 3},
		"diameter of the count wheel":    {Kind: CountWheel},
		"The depth must be above 0":      {Kind: CountWheel, Diameter: mm(50), Depth: mm(-1)},
	} {
		if _, err := Solve(q); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, wanted %q", err, want)
		}
	}
	for code, q := range map[string]Query{
		"slot":  {Kind: CountWheel, Diameter: mm(50), Slot: mm(3)},
		"reach": {Radius: mm(40), Tail: mm(40), Largest: mm(20), Pitch: mm(9)},
		"pitch": {Radius: mm(40), Tail: mm(40), Largest: mm(20), Smallest: mm(6), Pitch: mm(1.5)},
		"bore":  {Radius: mm(40), Tail: mm(40), Largest: mm(20), Smallest: mm(6), Bore: mm(12.1)},
	} {
		a, err := Solve(q)
		found := false
		for _, f := range a.Findings {
			found = found || f.Code == code && f.Level == meas.Clash
		}
		if err != nil || !found {
			t.Errorf("%s was not said: %+v, %v", code, a.Findings, err)
		}
	}
}

// The whole rack is one simple outline about its pivot with the teeth of the
// rim, the pin at the end of its tail, and the snail where the faces of the
// teeth hold the rack against falling: falling by a step brings the pin to the
// next.
func TestRackWithItsArms(t *testing.T) {
	drawn := 0
	rapid.Check(t, func(t *rapid.T) {
		q := Query{Radius: mm(rapid.Float64Range(25, 60).Draw(t, "radius")), Tail: mm(rapid.Float64Range(30, 70).Draw(t, "tail")), Largest: mm(rapid.Float64Range(15, 22).Draw(t, "largest")),
			Smallest: mm(rapid.Float64Range(4, 8).Draw(t, "smallest")), Pin: mm(rapid.Float64Range(0.3, 2).Draw(t, "pin"))}
		if rapid.Bool().Draw(t, "measured") {
			way := rapid.SampledFrom([]float64{-1, 1}).Draw(t, "way")
			q.Between, q.Arm = meas.Of(unit.Deg(way*rapid.Float64Range(10, 180).Draw(t, "between"))), mm(rapid.Float64Range(1, 6).Draw(t, "arm"))
		}
		a, err := Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		if a.Rack == nil || a.Rack.Arms == nil {
			if a.Findings[1].Level != meas.Clash {
				t.Fatalf("no arms, and no word why: %+v", a.Findings)
			}
			return
		}
		drawn++
		r, m := a.Rack, a.Rack.Arms
		if p := m.Outline; !p.Closed || p.Segs[len(p.Segs)-1].To != p.From || !p.Simple() || !(p.Area() > r.Outline().Area()) || !p.Inside(geom.Pt{}) || !p.Inside(m.Pin) {
			t.Fatalf("not one outline round pivot and pin: %v %v %v %v, %v of %v", p.Closed, p.Simple(), p.Inside(geom.Pt{}), p.Inside(m.Pin), p.Area(), r.Outline().Area())
		}
		for k, radius := range r.Radii {
			pin := m.Pin.Turn(float64(k) * float64(r.Tooth)) // the way the rack falls
			if d := pin.Minus(m.Snail).Len() - radius.MM() - q.Pin.Value.MM()/2; math.Abs(d) > 1e-9 {
				t.Fatalf("at step %d the pin is %g mm off the snail", k, d)
			}
		}
	})
	if drawn < 20 {
		t.Errorf("only %d racks were drawn", drawn)
	}
}

// The faces of the rack's teeth look the way it falls.
func TestFacesHoldTheRack(t *testing.T) {
	a, err := Solve(Query{Radius: mm(42), Tail: mm(45), Pitch: mm(1.3), Largest: mm(20)})
	if err != nil || a.Rack.Arms == nil {
		t.Fatal(err)
	}
	s, _ := a.Rack.Saw.Corners()
	face, back := s.Tip.Minus(s.Front), s.Land.Minus(s.Back)
	// The face is nearly radial, the back is not; the rack falls to the left of a radius.
	if math.Abs(face.Unit().Cross(s.Tip.Unit())) > 1e-9 || !(s.Back.Angle() < s.Front.Angle()) || math.Abs(back.Unit().Cross(s.Tip.Unit())) < 0.3 {
		t.Errorf("face %v, back %v", face, back)
	}
	for want, q := range map[string]Query{
		"must be from 10° to 180°":   {Radius: mm(40), Tail: mm(40), Largest: mm(20), Smallest: mm(5), Between: meas.Of(unit.Deg(5))},
		"The width of the arms must": {Radius: mm(40), Tail: mm(40), Largest: mm(20), Smallest: mm(5), Arm: mm(-2)},
	} {
		if _, err := Solve(q); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, wanted %q", err, want)
		}
	}
	if a, err := Solve(Query{Radius: mm(42), Tail: mm(45), Pitch: mm(1.3), Largest: mm(20), Arm: mm(30)}); err != nil || !a.Complete || a.Rack.Arms != nil || a.Findings[1].Code != "between" {
		t.Errorf("arms wider than the rim: %+v, %v", a.Findings, err)
	}
}
