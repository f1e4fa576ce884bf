package pendulum

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"seatboard/internal/kit/check"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func solve(t testing.TB, q Query) Answer {
	t.Helper()
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func mm(x float64) meas.Reading[unit.Length] { return meas.Of(unit.Millimetres(x)) }

func TestChecks(t *testing.T) {
	check.All(t, Checks())
	misprints := 0
	for _, c := range Checks() {
		if c.Misprint {
			misprints++
		}
	}
	if misprints < 10 {
		t.Errorf("only %d known misprints stand among the checks", misprints)
	}
}

func TestThreads(t *testing.T) {
	if n := len(Threads()); n != 152 {
		t.Errorf("%d threads were read, want 152", n)
	}
	near := threadsLike(0.635e-3, 0)
	if len(near) == 0 || near[0].TPI < 39.9 || near[0].TPI > 40.1 {
		t.Errorf("0.635 mm is 40 to the inch, got %v", near)
	}
}

// TestBobsByIntegration holds volume and gyration of each shape against a
// plain sum over small cells.
func TestBobsByIntegration(t *testing.T) {
	n := numbers{bobDia: 0.11, bobHigh: 0.03}
	for _, shape := range []string{Cylinder, Disc, Sphere, Lens} {
		n.bob = shape
		volume, k2 := integrated(n)
		if math.Abs(n.bobVolume()/volume-1) > 2e-3 || math.Abs(n.bobGyration()/k2-1) > 2e-3 {
			t.Errorf("%s: volume %g, k² %g; summed %g, %g", shape, n.bobVolume(), n.bobGyration(), volume, k2)
		}
	}
}

// integrated sums a bob over cells: x across the swing, y up, z to the front.
// The axis of the swing is z.
func integrated(n numbers) (volume, k2 float64) {
	const cells = 160
	r, h := n.bobDia/2, n.bobHigh/2
	sx, sy, sz := r, r, r
	switch n.bob { // the box that just holds it, so that flat faces fall between cells
	case Cylinder:
		sy = h
	case Disc, Lens:
		sz = h
	}
	dx, dy, dz := 2*sx/cells, 2*sy/cells, 2*sz/cells
	var inertia float64
	for i := range cells {
		for j := range cells {
			for k := range cells {
				x, y, z := -sx+(float64(i)+.5)*dx, -sy+(float64(j)+.5)*dy, -sz+(float64(k)+.5)*dz
				if inside(n, x, y, z) {
					volume += dx * dy * dz
					inertia += dx * dy * dz * (x*x + y*y)
				}
			}
		}
	}
	return volume, inertia / volume
}

func inside(n numbers, x, y, z float64) bool {
	r, h := n.bobDia/2, n.bobHigh/2
	switch n.bob {
	case Cylinder:
		return x*x+z*z <= r*r && math.Abs(y) <= h
	case Disc:
		return x*x+y*y <= r*r && math.Abs(z) <= h
	case Sphere:
		return x*x+y*y+z*z <= r*r
	}
	s := lensRadius(r, h)
	return x*x+y*y+math.Pow(math.Abs(z)+s-h, 2) <= s*s
}

func TestBobSitsWhereTheBeatWantsIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := Query{
			Beat: meas.Of(unit.Duration(rapid.Float64Range(0.4, 1.6).Draw(t, "beat"))), Gravity: meas.Of(unit.Acceleration(9.81)),
			Rod: "steel", RodDiameter: mm(rapid.Float64Range(2, 8).Draw(t, "rod")), Bob: Lens,
			BobDiameter: mm(rapid.Float64Range(40, 120).Draw(t, "bob")), BobHeight: mm(20), BobMass: meas.Of(unit.Mass(rapid.Float64Range(1, 6).Draw(t, "kg"))),
		}
		l := 9.81 * math.Pow(float64(q.Beat.Value)/math.Pi, 2)
		q.RodLength = meas.Of(unit.Length(l * 1.05))
		a, err := Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		if !a.Compound.Found || math.Abs(float64(a.Compound.Length.Value)-l) > 1e-9 {
			t.Fatalf("length %v, want %v", a.Compound.Length.Value, l)
		}
		if a.Nut.Pitch.Set || a.Compound.Gravity.Value >= a.Compound.Length.Value {
			t.Fatal("the centre of gravity must lie above the centre of swing")
		}
	})
}

// TestNutAgainstTheLimits: with a heavy bob on a thread the true worth of a
// turn is the simple one; a heavy rod makes it smaller.
func TestNutAgainstTheLimits(t *testing.T) {
	q := Query{Beats: meas.Of(unit.Ratio(3600)), Gravity: meas.Of(unit.Acceleration(9.81)), NutPitch: meas.Of(unit.Pitch(0.635e-3)),
		RodMass: meas.Of(unit.Mass(1e-9)), RodLength: mm(1050), BobMass: meas.Of(unit.Mass(5))}
	a := solve(t, q)
	check.Near(t, "turn with a rod of no weight", a.Nut.PerTurn.Value.PerDay(), a.Nut.Simple.Value.PerDay(), 1e-4)
	check.Printed(t, "simple turn", a.Nut.Simple.Value.PerDay(), "27.6")
	q.RodMass = meas.Of(unit.Mass(1))
	heavy := solve(t, q)
	if heavy.Nut.PerTurn.Value >= a.Nut.PerTurn.Value {
		t.Error("a heavy rod must make a turn of the nut worth less")
	}
}

func TestRegulateRoundTrip(t *testing.T) {
	q := Query{Beats: meas.Of(unit.Ratio(3600)), Gravity: meas.Of(unit.Acceleration(9.81)), NutPitch: meas.Of(unit.Pitch(0.635e-3)), NutDivisions: 60,
		Rod: "iron", RodDiameter: mm(4), RodLength: mm(1060), Bob: Lens, BobDiameter: mm(110), BobHeight: mm(30), BobMass: meas.Of(unit.Mass(1)),
		Regulate: meas.Of(unit.RatePerDay(30))}
	a := solve(t, q)
	if a.Move.Raise.Value <= 0 || a.Move.Turns.Value <= 0 {
		t.Error("to gain, the bob goes up")
	}
	q.BobCentre = meas.Of(a.Compound.BobCentre.Value - a.Move.Raise.Value)
	b := solve(t, q)
	check.Near(t, "rate after the move", 86400*(math.Sqrt(float64(a.Compound.Length.Value/b.Compound.Length.Value))-1), 30, 1e-6)
}

func TestUncertainty(t *testing.T) {
	q := Query{Length: meas.OfU(unit.Millimetres(994), unit.Millimetres(1)), Gravity: meas.OfU(unit.Acceleration(9.81), unit.Acceleration(0.001))}
	a := solve(t, q)
	want := float64(a.Beat.Value) / 2 * math.Hypot(1.0/994, 0.001/9.81)
	check.Near(t, "u of the beat", float64(a.Beat.U), want, want*1e-6)
	if len(a.Beat.Budget) != 2 || a.Beat.Budget[0].Input != "length" {
		t.Errorf("budget %v", a.Beat.Budget)
	}
	exact := solve(t, Query{Length: mm(994), Gravity: meas.Of(unit.Acceleration(9.81))})
	if exact.Beat.HasU {
		t.Error("a doubt was made up where none was stated")
	}
	place := solve(t, Query{Beats: meas.Of(unit.Ratio(3600)), Latitude: meas.Of(unit.Deg(51.5))})
	if u := 43200 * float64(place.Length.U/place.Length.Value); u < 3 || u > 5 {
		t.Errorf("a place tells the length to %.1f s a day, want 3 to 5", u)
	}
}

func TestPlaces(t *testing.T) {
	a := solve(t, Query{Beats: meas.Of(unit.Ratio(3600)), Latitude: meas.Of(unit.Deg(51.5)), ToLatitude: meas.Of(unit.Deg(0))})
	check.Near(t, "an English pendulum at the equator, s a day", a.Place.Rate.Value.PerDay(), -137, 3) // Beckett p. 39: 2¼ min
	if a.Place.Raise.Value <= 0 {
		t.Error("where gravity is less the bob goes up")
	}
	check.Near(t, "height", float64(NormalGravity(0, 1000)), 9.777238366518, 1e-9)
}

func TestBadInput(t *testing.T) {
	_, err := Solve(Query{
		Length: mm(-5), Latitude: meas.Of(unit.Deg(91)), ToHeight: meas.Of(unit.Length(10)), Gravity: meas.Of(unit.Acceleration(98)), Arc: meas.Of(unit.Deg(120)),
		Rod: "cheese", BobMass: meas.Of(unit.Mass(-1)), Humidity: meas.Of(unit.Ratio(2)), NutDivisions: -1, Beats: meas.Of(unit.Ratio(0)),
	})
	var faults meas.Faults
	if f, ok := err.(meas.Faults); ok {
		faults = f
	}
	got := map[string]bool{}
	for _, f := range faults {
		got[f.Field] = true
		if f.Text == "" {
			t.Errorf("%s has no sentence", f.Field)
		}
	}
	for _, want := range []string{"length", "latitude", "to-latitude", "gravity", "arc", "rod", "bob-mass", "humidity", "nut-divisions", "beats"} {
		if !got[want] {
			t.Errorf("the mistake in %s was not named: %v", want, faults)
		}
	}
}

func TestClashOfLengthAndBeat(t *testing.T) {
	a := solve(t, Query{Length: mm(1050), Beats: meas.Of(unit.Ratio(3600)), Gravity: meas.Of(unit.Acceleration(9.81))})
	if len(a.Findings) == 0 || a.Findings[0].Level != meas.Clash {
		t.Errorf("no clash: %v", a.Findings)
	}
	if a.Rate.Value >= 0 {
		t.Error("a pendulum too long loses")
	}
}

func TestJSONIsFiniteWhateverIsMissing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		some := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		has := func(name string) bool { return rapid.Bool().Draw(t, "has "+name) }
		var q Query
		if has("beats") {
			q.Beats = meas.Of(unit.Ratio(some("beats", 1, 200000)))
		}
		if has("length") {
			q.Length = meas.Of(unit.Length(some("length", 0.001, 20)))
		}
		if has("bob") {
			q.Bob, q.BobDiameter, q.BobHeight = Lens, mm(some("d", 1, 300)), mm(some("h", 0.1, 1))
		}
		if has("mass") {
			q.BobMass = meas.Of(unit.Mass(some("m", 0.001, 300)))
		}
		if has("rod") {
			q.Rod, q.RodLength, q.RodDiameter = "steel", mm(some("rl", 1, 5000)), mm(some("rd", 0.1, 50))
		}
		if has("pitch") {
			q.NutPitch = meas.Of(unit.Pitch(some("p", 1e-5, 5e-3)))
		}
		if has("regulate") {
			q.Regulate = meas.Of(unit.RatePerDay(some("r", -600, 600)))
		}
		a, err := Solve(q)
		if err != nil {
			if _, ok := err.(meas.Faults); !ok {
				t.Fatal(err)
			}
			return
		}
		if _, err := json.Marshal(a); err != nil {
			t.Fatal(err)
		}
	})
}

func ExampleSolve() {
	a, _ := Solve(Query{Beats: meas.Of(unit.Ratio(3600)), SecondsPendulum: meas.Of(unit.Inches(39.14))})
	fmt.Printf("%.2f in, %.0f beats a minute\n", unit.In(a.Length.Value, "in"), float64(a.BeatsPerMinute.Value))
	// Output: 39.14 in, 60 beats a minute
}

func BenchmarkSolve(b *testing.B) {
	q := Query{Beats: meas.OfU(unit.Ratio(3600), unit.Ratio(1)), Latitude: meas.Of(unit.Deg(51.5)), Rod: "steel", RodDiameter: mm(4), RodLength: mm(1060),
		Bob: Lens, BobDiameter: mm(110), BobHeight: mm(30), BobMass: meas.OfU(unit.Mass(1), unit.Mass(.01)), NutPitch: meas.Of(unit.Pitch(0.635e-3)), Arc: meas.Of(unit.Deg(2))}
	for b.Loop() {
		solve(b, q)
	}
}
