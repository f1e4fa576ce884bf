package escapewheel

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Any two of circle, distance and reach give the third, and the arbor is on
// the tangent at the pin.
func TestPinWheelFromAnyTwo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, p := rapid.Float64Range(10, 60).Draw(t, "radius"), rapid.Float64Range(10, 200).Draw(t, "reach")
		d := math.Hypot(r, p)
		n := train.Teeth(rapid.IntRange(10, 60).Draw(t, "count"))
		for _, q := range []Query{{Diameter: mm(2 * r), Reach: mm(p)}, {Diameter: mm(2 * r), Distance: mm(d)}, {Distance: mm(d), Reach: mm(p)}} {
			q.Kind, q.Count = PinWheel, n
			a, err := Solve(q)
			if err != nil || a.Pins == nil {
				t.Fatalf("%+v, %v", a.Findings, err)
			}
			for i, x := range [...][2]float64{{a.Diameter.Value.MM(), 2 * r}, {a.Distance.Value.MM(), d}, {a.PalletRadius.Value.MM(), p}} {
				if math.Abs(x[0]-x[1]) > 1e-8*d {
					t.Fatalf("figure %d: %v, want %v", i, x[0], x[1])
				}
			}
		}
	})
}

// Pallet, pin and drop fill half of the way from pin to pin; the pins stand
// apart, each on its circle, half pins with the half that leads.
func TestPinsFillHalfTheWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := Query{Kind: PinWheel, Count: train.Teeth(rapid.IntRange(8, 60).Draw(t, "count")), Diameter: mm(rapid.Float64Range(20, 100).Draw(t, "diameter")),
			Drop: meas.Of(unit.Deg(rapid.Float64Range(0, 1.5).Draw(t, "drop"))), Shape: rapid.SampledFrom([]Shape{RoundPins, HalfPins}).Draw(t, "shape")}
		a, err := Solve(q)
		if err != nil || a.Pins == nil {
			t.Fatalf("%+v, %v", a.Findings, err)
		}
		r := a.Pins.Circle
		if sum := a.PalletWidth.Value.MM() + a.Pins.Thick.MM() + r*float64(q.Drop.Value); math.Abs(sum-math.Pi*r/float64(q.Count)) > 1e-9 {
			t.Fatalf("they fill %v of %v", sum, math.Pi*r/float64(q.Count))
		}
		whole := math.Pi * a.Pins.Pin.Value.MM() * a.Pins.Pin.Value.MM() / 4
		for i := range a.Pins.Count {
			p := a.Pins.Outline(i)
			want := whole
			if q.Shape == HalfPins {
				want /= 2
			}
			if math.Abs(p.Area()-want) > 1e-9 || !p.Closed || !p.Simple() {
				t.Fatalf("pin %d: area %v, want %v", i, p.Area(), want)
			}
			// A little ahead of its middle there is metal, a little behind only in a whole pin.
			at, small := 2*math.Pi*float64(i)/float64(a.Pins.Count), float64(a.Pins.Angle)/8
			if !p.Inside(geom.Polar(r, at+small)) || p.Inside(geom.Polar(r, at-small)) != (q.Shape == RoundPins) {
				t.Fatalf("pin %d, %s: the wrong half", i, q.Shape)
			}
		}
	})
}

// The doubts of distance and reach come out as that of a lost wheel.
func TestLostPinWheelHasADoubt(t *testing.T) {
	a, err := Solve(Query{Kind: PinWheel, Count: 30, Distance: meas.OfU(unit.Millimetres(50), unit.Millimetres(0.1)), Reach: meas.OfU(unit.Millimetres(40), unit.Millimetres(0.2))})
	if err != nil {
		t.Fatal(err)
	}
	check.Near(t, "3, 4, 5", a.Diameter.Value.MM(), 60, 1e-9)
	check.Near(t, "doubt", a.Diameter.U.MM(), 2*math.Hypot(50*0.1, 40*0.2)/30, 1e-3)
}

func TestPinWheelRefuses(t *testing.T) {
	for want, q := range map[string]Query{
		"embrace no spaces":             {Kind: PinWheel, Count: 30, Spaces: meas.Of(unit.Ratio(7.5))},
		"have no span":                  {Kind: PinWheel, Count: 30, Span: mm(20)},
		"no cut teeth":                  {Kind: PinWheel, Count: 30, Depth: mm(2)},
		"nearer to the arbor":           {Kind: PinWheel, Count: 30, Distance: mm(40), Reach: mm(41)},
		"Pins belong to a pin wheel":    {Count: 30, Diameter: mm(40), Pin: mm(1)},
		"must be one of round, half":    {Kind: PinWheel, Count: 30, Shape: "square"},
		"The diameter of a pin must be": {Kind: PinWheel, Count: 30, Pin: mm(-1)},
	} {
		if _, err := Solve(q); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, wanted %q", err, want)
		}
	}
	for code, q := range map[string]Query{
		"no-size":   {Kind: PinWheel, Count: 30},
		"pins-pin":  {Kind: PinWheel, Count: 30, Diameter: mm(40), Pin: mm(2.2)},
		"pins-drop": {Kind: PinWheel, Count: 30, Diameter: mm(40), Drop: meas.Of(unit.Deg(5))},
		"pins-bore": {Kind: PinWheel, Count: 30, Diameter: mm(40), Bore: mm(39)},
		"distance":  {Kind: PinWheel, Count: 30, Diameter: mm(40), Reach: mm(30), Distance: mm(40)},
	} {
		a, err := Solve(q)
		if err != nil {
			t.Fatalf("%s: %v", code, err)
		}
		found := false
		for _, f := range a.Findings {
			found = found || f.Code == code
		}
		if !found || a.Complete != (code == "distance") {
			t.Errorf("%s: complete %v, %+v", code, a.Complete, a.Findings)
		}
	}
}
