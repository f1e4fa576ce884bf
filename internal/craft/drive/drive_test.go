package drive

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatboard/internal/kit/check"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// longcase is an eight-day clock as it stands on the bench.
func longcase() Query {
	return Query{
		Name: "going", WeightMass: is[unit.Mass]("5.4 kg ± 0.05 kg"), WeightLength: is[unit.Length]("260 mm"),
		BarrelDiameter: is[unit.Length]("50 mm"), BarrelLength: is[unit.Length]("30 mm"), LineDiameter: is[unit.Length]("1.4 mm ± 0.05 mm"),
		Falls: 2, Turns: is[unit.Ratio]("16"), TurnTime: is[unit.Duration]("12 h"), BeatsPerHour: is[unit.Ratio]("3600"),
		LineMaterial: SteelLine, LineConstruction: "7x7", RopeGrade: is[unit.Pressure]("1770 MPa"), BarrelMaterial: "brass",
		SeatToFloor: is[unit.Length]("1690 mm"), TopGap: is[unit.Length]("90 mm"), WoundOn: "Saturday",
		PendulumLength: is[unit.Length]("994 mm ± 2 mm"), BobHalfHeight: is[unit.Length]("55 mm"),
	}
}

func find1(t *testing.T, a Answer, code string) meas.Finding {
	t.Helper()
	for _, f := range a.Findings {
		if f.Code == code {
			return f
		}
	}
	t.Fatalf("no finding %q among %v", code, a.Findings)
	return meas.Finding{}
}

func has(a Answer, code string) bool {
	for _, f := range a.Findings {
		if f.Code == code {
			return true
		}
	}
	return false
}

func solve(t *testing.T, q Query) Answer {
	t.Helper()
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func TestLongcase(t *testing.T) {
	a := solve(t, longcase())
	check.Near(t, "centre", a.Fall.CentreDiameter.Value.MM(), 51.4, 1e-9)
	check.Near(t, "fall", a.Fall.Total.Value.MM(), 16*math.Pi*51.4/2, 1e-9)
	check.Near(t, "running time", float64(a.Fall.RunningTime.Value), 8*86400, 1e-6)
	check.Near(t, "line on the barrel", a.Line.OnBarrel.Value.MM(), 17.5*math.Pi*51.4, 1e-9)
	check.Near(t, "line length", a.Line.Length.Value.MM(), 17.5*math.Pi*51.4+2*90, 1e-9)
	check.Near(t, "turns that fit", float64(a.Line.TurnsThatFit.Value), 30/1.4-1.5, 1e-9)
	check.Near(t, "breaking load", float64(a.Line.BreakingLoad.Value), 1.4*1.4*1770*.388, 1e-9)
	check.Near(t, "work of a beat", float64(a.Power.PerBeat.Value), 5.4*9.80665*.008*math.Pi*51.4/691200, 1e-12)
	check.Near(t, "impact", float64(a.Weight.Impact.Value), 5.4*9.80665*1.34, 1e-9)
	if !a.Complete || len(a.Hangs) != 9 || a.Hangs[8].Label != "day 8" || a.Hangs[8].When != "Sunday 12 h" {
		t.Errorf("complete %v, hangs %v", a.Complete, a.Hangs)
	}
	if a.Fall.RunningTime.HasU || !a.Fall.Total.HasU || len(a.Fall.Total.Budget) != 1 || a.Fall.Total.Budget[0].Input != "line diameter" {
		t.Errorf("doubts: %+v, %+v", a.Fall.RunningTime, a.Fall.Total)
	}
	if d := a.Findings[0]; d.Level != meas.Danger || d.Code != "falling-weight" {
		t.Errorf("the danger does not stand first: %+v", d)
	}
	for _, code := range []string{"down-when-due", "sympathetic-swing", "beside-bob", "steel-on-brass", "rope-extended"} {
		find1(t, a, code)
	}
}

// The zone of swing is where the free length is within the band of the
// pendulum's.
func TestSwingZone(t *testing.T) {
	a := solve(t, longcase())
	for _, c := range []struct {
		at   meas.Result[unit.Duration]
		want float64
	}{{a.Swing.From, .9 * .994}, {a.Swing.Level, .994}, {a.Swing.To, 1.1 * .994}} {
		h, ok := a.At(c.at.Value)
		if !ok {
			t.Fatal("outside the running")
		}
		check.Near(t, "free length", float64(h.Free.Value), c.want, 1e-9)
	}
	if !strings.Contains(a.Swing.Words, "Wednesday") {
		t.Errorf("words %q", a.Swing.Words)
	}
	if !a.Swing.Level.HasU {
		t.Error("the doubts of pendulum and line do not reach the hour of swing")
	}
	for _, outside := range []unit.Duration{-1, 9 * unit.Day} {
		if _, ok := a.At(outside); ok {
			t.Errorf("a place at %v", outside)
		}
	}
}

func TestWeightLandsEarly(t *testing.T) {
	q := longcase()
	q.SeatToFloor = is[unit.Length]("1.35 m")
	a := solve(t, q)
	f := find1(t, a, "lands-early")
	for _, part := range []string{"1.29\u00a0m", "1.00\u00a0m", "6\u00a0d 5\u00a0h", "Friday"} {
		if !strings.Contains(f.Text, part) {
			t.Errorf("%q does not say %q", f.Text, part)
		}
	}
	check.Near(t, "lands after", float64(a.Fall.LandsAfter.Value), 1.0/(.008*math.Pi*51.4/691200), 1e-3)
	last := a.Hangs[len(a.Hangs)-1]
	check.Near(t, "last place", float64(last.AboveFloor.Value), 0, 1e-9)
}

func TestLineDoesNotFit(t *testing.T) {
	q := longcase()
	q.BarrelLength = is[unit.Length]("20 mm")
	find1(t, solve(t, q), "barrel-full")
	q.Layers = 2
	a := solve(t, q)
	if has(a, "barrel-full") {
		t.Error("two layers do not help")
	}
	find1(t, a, "second-layer")
	if !(a.Fall.Total.Value > solve(t, longcase()).Fall.Total.Value) {
		t.Error("a second layer does not lengthen the fall")
	}
}

// Line that is laid on in layers comes off again whole, the outer layer
// first, and the time of any fall is found again.
func TestLayers(t *testing.T) {
	q := longcase()
	q.BarrelLength, q.Layers = is[unit.Length]("14 mm"), 2 // ten turns side by side
	n := lay(q).N
	all := n.wound(17.5)
	check.Near(t, "line", all, math.Pi*(10*51.4+7.5*54.2)/1e3, 1e-9)
	check.Near(t, "first turn", n.paid(1), math.Pi*54.2e-3, 1e-12)
	check.Near(t, "last turns", n.paid(16), all-1.5*math.Pi*51.4e-3, 1e-12)
	for _, f := range []float64{.01, .3, .7, n.total()} {
		check.Near(t, "fall at its time", n.fallen(n.reach(f)), f, 1e-9)
	}
}

// Any hour: the weight never rises, and it is where its time says.
func TestFallIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := Query{
			BarrelDiameter: meas.Of(unit.Millimetres(rapid.Float64Range(10, 300).Draw(t, "D"))),
			LineDiameter:   meas.Of(unit.Millimetres(rapid.Float64Range(.3, 8).Draw(t, "d"))),
			BarrelLength:   meas.Of(unit.Millimetres(rapid.Float64Range(10, 200).Draw(t, "b"))),
			Turns:          meas.Of(unit.Ratio(rapid.Float64Range(1, 60).Draw(t, "turns"))),
			TurnTime:       meas.Of(unit.Duration(rapid.Float64Range(600, 1e5).Draw(t, "turn"))),
			Falls:          rapid.IntRange(1, 3).Draw(t, "falls"), Layers: rapid.IntRange(1, 4).Draw(t, "layers"),
			Room: meas.Of(unit.Length(rapid.Float64Range(.1, 20).Draw(t, "room"))),
		}
		a, err := Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		last := -1.0
		for _, h := range a.Hangs {
			if v := float64(h.Fallen.Value); v < last || v < 0 || v > float64(a.Fall.Room.Value)+1e-6 {
				t.Fatalf("%s: fallen %v after %v, room %v", h.Label, v, last, a.Fall.Room.Value)
			}
			last = float64(h.Fallen.Value)
		}
		if len(a.Hangs) < 2 || len(a.Hangs) > 40 {
			t.Fatalf("%d rows", len(a.Hangs))
		}
		if a.Fall.LandsAfter.Set != (a.Fall.Total.Value > a.Fall.Room.Value) {
			t.Fatalf("lands %v, fall %v, room %v", a.Fall.LandsAfter, a.Fall.Total.Value, a.Fall.Room.Value)
		}
	})
}

// The half-area rule against trying all lengths.
func TestMostTurnsByBruteForce(t *testing.T) {
	n := lay(Query{SpringBarrel: is[unit.Length]("21.3 mm"), SpringArbor: is[unit.Length]("7.1 mm"), SpringThickness: is[unit.Length]("0.254 mm")}).N
	turns := func(length float64) float64 { n.sLength = length; return n.springTurns(n.sThick) }
	low, high := .05, 1.2
	for range 200 { // thirds: one maximum
		a, b := low+(high-low)/3, high-(high-low)/3
		if turns(a) < turns(b) {
			low = a
		} else {
			high = b
		}
	}
	best := n.bestLength(n.sThick)
	check.Near(t, "length", low, best, 1e-7) // flat at the top: half the digits
	check.Near(t, "turns", turns(low), n.mostTurns(n.sThick), 1e-9)
	for _, l := range []float64{.9 * best, 1.1 * best} {
		if turns(l) >= n.mostTurns(n.sThick) {
			t.Errorf("more turns at %v", l)
		}
	}
}

func TestSpring(t *testing.T) {
	a := solve(t, Query{
		SpringBarrel: is[unit.Length]("52 mm"), SpringArbor: is[unit.Length]("17 mm"), SpringThickness: is[unit.Length]("0.45 mm ± 0.01 mm"),
		SpringHeight: is[unit.Length]("38 mm"), SpringLength: is[unit.Length]("1750 mm"), SpringNewThickness: is[unit.Length]("0.40 mm"), SpringTurns: is[unit.Ratio]("5"),
	})
	s := a.Spring
	check.Near(t, "cube of the thickness", float64(s.NewTorque.Value), math.Pow(.4/.45, 3), 1e-12)
	check.Near(t, "stress by torque", float64(s.Stress.Value), 6*float64(s.Torque.Value)/(38e-3*.45e-3*.45e-3), 1)
	check.Near(t, "stress of a turn", float64(s.StressPerTurn.Value)*5, float64(s.Stress.Value), 1)
	check.Near(t, "turns", float64(s.Turns.Value), float64(s.Coils.Value-s.CoilsDown.Value), 1e-12)
	check.Near(t, "doubt of the torque", float64(s.TorquePerTurn.U/s.TorquePerTurn.Value), 3*.01/.45, 1e-3)
	if !(s.Turns.Value <= s.MaxTurns.Value) {
		t.Error("more turns than the most")
	}
	if f := find1(t, a, "mainspring"); f.Level != meas.Danger {
		t.Errorf("%+v", f)
	}
}

func TestFusee(t *testing.T) {
	torques, err := ParseTorques("0 1250 N mm\n4 1130 N mm\n8 1000\n12 860\n16 720 N mm")
	if err != nil {
		t.Fatal(err)
	}
	a := solve(t, Query{FuseeTorque: torques, FuseeLargest: is[unit.Length]("19 mm"), FuseeBarrel: is[unit.Length]("50 mm"), TurnTime: is[unit.Duration]("12 h")})
	for _, p := range a.Fusee.Points {
		check.Near(t, "torque times radius", float64(p.Torque.Value)*float64(p.Radius.Value), .720*.019, 1e-12)
		check.Near(t, "torque on the fusee", float64(p.Pull.Value)*float64(p.Radius.Value), float64(a.Fusee.Torque.Value), 1e-12)
	}
	// the work taken from the barrel is the work given to the fusee
	var work float64
	for i := 1; i < len(torques); i++ {
		work += float64(torques[i].Torque.Value+torques[i-1].Torque.Value) / 2 * 4 * 2 * math.Pi
	}
	check.Near(t, "work", float64(a.Fusee.Torque.Value)*float64(a.Fusee.Turns.Value)*2*math.Pi, work, 1e-9)
	check.Near(t, "chain", a.Fusee.Chain.Value.MM(), 16*math.Pi*50, 1e-9)
	check.Near(t, "unevenness", float64(a.Fusee.Unevenness.Value), 1250.0/720, 1e-12)
	b := solve(t, Query{FuseeTorque: torques, FuseeSmallest: is[unit.Length]("10 mm")})
	check.Near(t, "smallest", float64(b.Fusee.Points[0].Radius.Value), .010, 1e-12)
	if !b.Complete || b.Fusee.Torque.Set {
		t.Errorf("%+v", b.Fusee)
	}
	find1(t, solve(t, Query{FuseeTorque: torques}), "fusee-scale")

	// r = r₀ M₀ / M: the parts of the doubts of both torques and of the size
	torques[0].Torque, torques[4].Torque = is[unit.Torque]("1250 N mm ± 25 N mm"), is[unit.Torque]("720 N mm ± 14.4 N mm")
	c := solve(t, Query{FuseeTorque: torques, FuseeLargest: is[unit.Length]("19 mm ± 0.19 mm")}).Fusee
	r := c.Points[0].Radius
	check.Near(t, "doubt of the radius", float64(r.U/r.Value), math.Sqrt(.02*.02+.02*.02+.01*.01), 1e-3)
	if len(r.Budget) != 3 || c.Points[4].Radius.U >= r.U || !c.Unevenness.HasU || !c.Chain.HasU {
		t.Errorf("%+v", c)
	}
}

func TestParseTorques(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"0:900 1:850 2:800 N mm", "0:900 1:850 2:800 N mm"},
		{"0:900 N mm; 1:0,85 N m", "0:900 N mm 1:0,85 N m"},
		{"0,5 900\n1 850", "0.5:900 1:850"},
		{"", ""},
	} {
		got, err := ParseTorques(c.in)
		if err != nil || got.String() != c.want {
			t.Errorf("%q: %q, %v", c.in, got, err)
		}
	}
	v, _ := ParseTorques("0:900 1:8 lbf in")
	if math.Abs(float64(v[0].Torque.Value)-900*.1129848) > 1e-3 {
		t.Errorf("the last unit does not serve all: %v", v[0].Torque.Value)
	}
	for _, bad := range []string{"sixty", "0:900 850 N", "a:9", "0:", "0:900 kg", "0:1:2", strings.Repeat("1:1 ", 70), strings.Repeat("x", 5000), "🕰:🕰"} {
		var e *TorquesError
		var u *unit.ParseError
		if _, err := ParseTorques(bad); !errors.As(err, &e) && !errors.As(err, &u) {
			t.Errorf("%.20q: %v", bad, err)
		}
	}
}

func FuzzParseTorques(f *testing.F) {
	for _, s := range []string{"0:900 1:850 N mm", "0 900\n1 800", "::", "1:1/2 N m", "½:½"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		v, err := ParseTorques(s)
		if err != nil {
			if v != nil {
				t.Fatal("a list beside an error")
			}
			return
		}
		a, _ := Solve(Query{FuseeTorque: v, FuseeLargest: meas.Of(unit.Millimetres(20))})
		if _, err := json.Marshal(a); err != nil {
			t.Fatal(err)
		}
	})
}

func TestEveryMistakeIsNamed(t *testing.T) {
	q := Query{
		WeightMass: meas.Of(unit.Mass(-1)), WeightDiameter: is[unit.Length]("20 mm"), WeightBore: is[unit.Length]("30 mm"), WeightMaterial: "kryptonite",
		Barrel: "square", BarrelDiameter: is[unit.Length]("-5 mm"), Turns: is[unit.Ratio]("-3"), Falls: -1, Layers: 99,
		LineDiameter: is[unit.Length]("2 m"), LineMaterial: "hair", LineConstruction: "9x9", RopeGrade: is[unit.Pressure]("1 Pa"), BrassTemper: "soft",
		Factor: is[unit.Ratio]("0.5"), TurnTime: is[unit.Duration]("-1 h"), WoundOn: "Someday", Room: is[unit.Length]("3 m"), SeatToFloor: is[unit.Length]("2 m"),
		Gravity: is[unit.Acceleration]("1.6 m/s²"), SwingBand: is[unit.Ratio]("-5 %"), SpringBarrel: is[unit.Length]("20 mm"), SpringArbor: is[unit.Length]("30 mm"),
		CoilsWound: is[unit.Ratio]("8"), CoilsDown: is[unit.Ratio]("9"), PendulumLength: is[unit.Length]("-1 m"),
		FuseeTorque: Torques{{Turn: 1, Torque: meas.Of(unit.Torque(1))}, {Turn: 1, Torque: meas.Of(unit.Torque(1))}, {Turn: 2}, {Turn: math.NaN()}},
	}
	_, err := Solve(q)
	var faults meas.Faults
	if !errors.As(err, &faults) {
		t.Fatal(err)
	}
	count := map[string]int{}
	for _, f := range faults {
		count[f.Field]++
		for _, word := range []string{"invalid", "please", "sorry", "NaN"} {
			if strings.Contains(strings.ToLower(f.Text), word) && word != "NaN" {
				t.Errorf("%s: %s", f.Field, f.Text)
			}
		}
	}
	for _, field := range []string{"weight", "weight-bore", "weight-material", "barrel", "barrel-diameter", "turns", "falls", "layers", "line-diameter", "line-material",
		"line-construction", "rope-grade", "brass-temper", "factor", "turn-time", "wound-on", "room", "gravity", "swing-band", "spring-arbor", "coils-down", "pendulum-length", "fusee-torque"} {
		if count[field] == 0 {
			t.Errorf("%s is not named in %v", field, faults)
		}
	}
	if count["fusee-torque"] != 3 {
		t.Errorf("fusee: %v", faults)
	}
}

// Nothing given is no mistake, and neither is any part of a query alone.
func TestEmptyQuery(t *testing.T) {
	a := solve(t, Query{})
	if a.Complete || len(a.Findings) != 0 || len(a.Working) != 0 || a.Hangs != nil {
		t.Errorf("%+v", a)
	}
	if _, ok := a.At(0); ok {
		t.Error("a place of nothing")
	}
	if _, ok := (Answer{}).At(0); ok {
		t.Error("a place of an empty answer")
	}
}

func TestContradictions(t *testing.T) {
	q := longcase()
	q.TurnsPerHour = is[unit.Ratio]("0.1")
	q.RunningTime = is[unit.Duration]("9 d")
	q.WeightMaterial, q.WeightDiameter, q.WeightHeight = "lead", is[unit.Length]("80 mm"), is[unit.Length]("200 mm")
	q.LineMaterial, q.LineDiameter = GutLine, is[unit.Length]("0.2 mm")
	a := solve(t, q)
	for code, level := range map[string]meas.Level{"turn-time": meas.Clash, "runs-short": meas.Clash, "weight-size": meas.Clash, "line-weak": meas.Danger} {
		if f := find1(t, a, code); f.Level != level || f.Next == "" {
			t.Errorf("%+v", f)
		}
	}
	q.SeatToFloor = is[unit.Length]("200 mm")
	if a := solve(t, q); find1(t, a, "no-room").Level != meas.Clash || a.Fall.LandsAfter.Set || a.Hangs != nil || a.Swing != nil {
		t.Errorf("a weight that has no room falls: %+v", a.Fall)
	}
}

func TestLines(t *testing.T) {
	d := is[unit.Length]("2 mm")
	for _, c := range []struct {
		q    Query
		want string // kN
	}{
		{Query{LineMaterial: SteelLine, LineConstruction: "7×7", RopeGrade: is[unit.Pressure]("1770 MPa")}, "2.75"},
		{Query{LineMaterial: SteelLine, LineConstruction: "7x19", RopeGrade: is[unit.Pressure]("1770 N/mm2")}, "2.56"},
		{Query{LineMaterial: SteelLine, LineConstruction: "6x19", RopeGrade: is[unit.Pressure]("1770 MPa")}, "2.34"},
		{Query{LineMaterial: BrassLine, BrassTemper: "1/2 hard"}, "1.76"}, // 560 MPa
		{Query{LineMaterial: GutLine}, "1.10"}, // 352 MPa
		{Query{LineMaterial: Synthetic}, "0.80"},
		{Query{LineMaterial: SteelLine, BreakingLoad: is[unit.Force]("3 kN")}, "3"},
		{Query{LineMaterial: SteelLine, LineConstruction: "6x25F-IWRC", RopeGrade: is[unit.Pressure]("1960 MPa")}, "2.79"},
		{Query{LineMaterial: SteelLine, LineConstruction: "7x7", RopeFactor: is[unit.Ratio]("0.25"), RopeGrade: is[unit.Pressure]("2000 MPa")}, "2"},
		{Query{LineMaterial: GutLine, LineStrength: is[unit.Pressure]("400 MPa")}, "1.26"},
		{Query{LineStrength: is[unit.Pressure]("400 MPa")}, "1.26"},
	} {
		c.q.LineDiameter = d
		a := solve(t, c.q)
		check.Printed(t, fmt.Sprint(c.q.LineMaterial, c.q.LineConstruction), unit.In(a.Line.BreakingLoad.Value, "kN"), c.want)
		check.Near(t, "working load", float64(a.Line.WorkingLoad.Value*unit.Force(a.Line.FactorAsked.Value)), float64(a.Line.BreakingLoad.Value), 1e-9)
	}
	gut := solve(t, Query{LineMaterial: GutLine, LineDiameter: d}).Line.Strength
	check.Printed(t, "strength of gut, MPa", unit.In(gut.Value, "MPa"), "352")
	if lo, hi := 300e6, 408e6; float64(gut.Value-gut.U) < lo || float64(gut.Value+gut.U) > hi {
		t.Errorf("gut %v ± %v", gut.Value, gut.U)
	}
	find1(t, solve(t, Query{LineMaterial: SteelLine, LineDiameter: d}), "rope-unknown")
	find1(t, solve(t, Query{LineMaterial: BrassLine, LineDiameter: is[unit.Length]("0.3 mm")}), "wire-unknown")
	find1(t, solve(t, Query{LineMaterial: BrassLine, LineDiameter: d, BarrelDiameter: is[unit.Length]("50 mm")}), "bend")
	if a := solve(t, Query{LineMaterial: SteelLine, LineConstruction: "7x7", LineDiameter: d, BarrelDiameter: is[unit.Length]("50 mm")}); has(a, "bend") {
		t.Error("a stranded line is held to the size of the whole line")
	}
}

func TestHeightForMass(t *testing.T) {
	q := Query{WeightMaterial: "lead", WeightDiameter: is[unit.Length]("3 in"), WeightBore: is[unit.Length]("0.75 in"), WeightWanted: is[unit.Mass]("24.45 lb")}
	h := solve(t, q).Weight.Height
	check.Near(t, "height, in", unit.In(h.Value, "in"), 9, .005)
	q.WeightHeight = meas.Of(h.Value)
	check.Near(t, "and back, lb", unit.In(solve(t, q).Weight.Mass.Value, "lb"), 24.45, 1e-9)
}

func TestEndless(t *testing.T) {
	a := solve(t, Query{
		WeightMass: is[unit.Mass]("4.1 kg"), Barrel: Endless, BarrelDiameter: is[unit.Length]("42 mm"), LineDiameter: is[unit.Length]("5 mm"),
		Turns: is[unit.Ratio]("30"), TurnTime: is[unit.Duration]("1 h"), SeatToFloor: is[unit.Length]("1560 mm"), WeightLength: is[unit.Length]("210 mm"),
	})
	check.Near(t, "fall in a turn", a.Fall.PerTurn.Value.MM(), math.Pi*42/2, 1e-9)
	check.Near(t, "winding due", float64(a.Fall.WindingDue.Value), 30*3600, 0)
	if a.Line.OnBarrel.Set || a.Line.Length.Set {
		t.Error("an endless rope has no length on a barrel")
	}
	find1(t, a, "lands-early")
}

func TestJSON(t *testing.T) {
	var q Query
	in := `{"weight_mass":"12 lb","barrel_diameter":{"value":2,"unit":"in"},"line_diameter":"1.4 mm","turns":"16","turn_time":"12 h","falls":2,
		"fusee_torque":[{"turn":0,"torque":"900 N mm"},{"turn":1,"torque":"850 N mm"}],"fusee_largest":"20 mm"}`
	if err := json.Unmarshal([]byte(in), &q); err != nil {
		t.Fatal(err)
	}
	out, err := json.Marshal(solve(t, q))
	if err != nil {
		t.Fatal(err)
	}
	var back struct {
		Query Query
		Fall  struct {
			Fall struct{ Value float64 }
			Room any
		}
		Fusee struct{ Points []map[string]any }
	}
	if err := json.Unmarshal(out, &back); err != nil {
		t.Fatal(err)
	}
	check.Near(t, "fall", back.Fall.Fall.Value, 8*math.Pi*.0522, 1e-12)
	if back.Fall.Room != nil || len(back.Fusee.Points) != 2 || back.Query.WeightMass.Entered != "12 lb" {
		t.Errorf("%s", out)
	}
	if err := json.Unmarshal([]byte(`{"fusee_torque":"0:9 1:8 N m"}`), &q); err != nil || len(q.FuseeTorque) != 2 {
		t.Errorf("%v %v", q.FuseeTorque, err)
	}
}

func TestSpan(t *testing.T) {
	for d, want := range map[unit.Duration]string{0: "0 h", 90 * 60: "1 h 30 min", 30 * 3600: "30 h", 8 * unit.Day: "8 d", 6.75 * unit.Day: "6 d 18 h", 7.999 * unit.Day: "8 d", 86399: "24 h", 86400: "1 d"} {
		if got := strings.ReplaceAll(Span(d), "\u00a0", " "); got != want && !(want == "24 h" && got == "1 d") {
			t.Errorf("%v: %q, want %q", d, got, want)
		}
	}
}

func TestSourcesAreKnown(t *testing.T) {
	for _, e := range Sources() {
		if e.Ref.String() == "" {
			t.Errorf("%s has no source", e.Name)
		}
		if e.Ref.Source != "" && !strings.Contains(e.Ref.String(), ",") {
			t.Errorf("%s: %v is not in the bibliography", e.Name, e.Ref)
		}
	}
}

// The shared table of ropes is the one that stands in the package.
func TestRopeTable(t *testing.T) {
	n := 0
	for _, r := range Ropes().Rows {
		if got, ok := FindRope(r.Name); !ok || got != r {
			t.Errorf("%s is found as %v", r.Name, got)
		}
		n++
	}
	if n != 15 || len(records(ropesCSV)) != 22 || len(records(cylindersCSV)) != 24 {
		t.Errorf("%d constructions", n)
	}
}

func BenchmarkSolve(b *testing.B) {
	q := longcase()
	for b.Loop() {
		if _, err := Solve(q); err != nil {
			b.Fatal(err)
		}
	}
}

// Winding falls due as the clock was made, unless a time is wanted.
func TestWhenWindingFallsDue(t *testing.T) {
	for _, c := range []struct{ turns, turn, wanted, due string }{
		{"16", "12 h", "", "8 d"},
		{"10", "18 h", "", "8 d"}, // 7 1/2 days
		{"16", "48 h", "", "32 d"},
		{"14", "24 h", "", "14 d"},
		{"10", "3 h", "", "30 h"},
		{"16", "48 h", "30 d", "30 d"},
		{"16", "", "", ""},
	} {
		q := Query{Turns: is[unit.Ratio](c.turns), BarrelDiameter: is[unit.Length]("50 mm")}
		q.TurnTime, _ = meas.Parse[unit.Duration](c.turn, "")
		q.RunningTime, _ = meas.Parse[unit.Duration](c.wanted, "")
		due := solve(t, q).Fall.WindingDue
		got := ""
		if due.Set {
			got = strings.ReplaceAll(Span(due.Value), "\u00a0", " ")
		}
		if got != c.due {
			t.Errorf("%v: due after %q", c, got)
		}
	}
}

// A coil counted wins over the one computed, each by itself, and the working
// shows the difference it names.
func TestCountedCoils(t *testing.T) {
	q := Query{SpringBarrel: is[unit.Length]("52 mm"), SpringArbor: is[unit.Length]("17 mm"), SpringThickness: is[unit.Length]("0.45 mm"), SpringLength: is[unit.Length]("2.1 m"), CoilsWound: is[unit.Ratio]("24")}
	s := solve(t, q).Spring
	check.Near(t, "turns", float64(s.Turns.Value), 24-float64(s.CoilsDown.Value), 1e-12)
}

// A spring too long for its barrel is told of where it costs turns.
func TestSpringFill(t *testing.T) {
	q := Query{SpringBarrel: is[unit.Length]("52 mm"), SpringArbor: is[unit.Length]("17 mm"), SpringThickness: is[unit.Length]("0.45 mm"), SpringLength: is[unit.Length]("2.1 m")}
	if has(solve(t, q), "spring-fill") {
		t.Error("a spring that fills half is found fault with")
	}
	q.SpringLength = is[unit.Length]("3 m")
	find1(t, solve(t, q), "spring-fill")
	q.SpringLength = is[unit.Length]("5 m")
	if _, err := Solve(q); err == nil {
		t.Error("more spring than the barrel has room for was taken")
	}
}
