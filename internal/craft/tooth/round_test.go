package tooth

import (
	"errors"
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

func mm(x float64) meas.Reading[unit.Length] { return meas.Of(unit.Millimetres(x)) }

// Rounded, a gear is sound: of one piece without a corner at the roundings,
// its outline closed and simple, of lines and arcs, and its bottom as deep.
func TestRoundedGearsAreSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Design{Form: rapid.SampledFrom([]Form{Exact, Rounded, Arcs, LanternOf}).Draw(t, "form"), Wheel: train.Teeth(rapid.IntRange(12, 120).Draw(t, "wheel")),
			Leaves: train.Teeth(rapid.IntRange(6, 16).Draw(t, "leaves")), Module: unit.Millimetres(0.8)}
		sharp, err := d.Pair()
		if err != nil {
			t.Fatal(err)
		}
		if d.FullRoot = rapid.Bool().Draw(t, "full"); !d.FullRoot {
			d.RootRadius = unit.Millimetres(rapid.Float64Range(0.01, 0.5).Draw(t, "root"))
		}
		if d.Form != Rounded && rapid.Bool().Draw(t, "tips") {
			d.TipRadius = unit.Millimetres(rapid.Float64Range(0.005, 0.3).Draw(t, "tip"))
		}
		p, err := d.Pair()
		var most *RoundError
		if errors.As(err, &most) {
			if !(most.Most > 0) {
				t.Fatalf("%v", err)
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		if d.TipRadius == 0 && (p.Wheel.Root != sharp.Wheel.Root || p.Pinion.Root != sharp.Pinion.Root || p.Wheel.Tip != sharp.Wheel.Tip) || p.Wheel.Tip > sharp.Wheel.Tip+1e-12 {
			t.Fatalf("root %v, was %v; tip %v, was %v", p.Wheel.Root, sharp.Wheel.Root, p.Wheel.Tip, sharp.Wheel.Tip)
		}
		for _, g := range []Gear{p.Wheel, p.Pinion} {
			if err := sound(g); err != nil {
				t.Fatalf("%s, driver %v: %v", d.Form, g.Driver, err)
			}
			if g.Lantern {
				continue
			}
			smooth(t, g)
			for _, path := range g.Outline(0.001) {
				if !path.Closed || path.Segs[len(path.Segs)-1].To != path.From || !path.Simple() {
					t.Fatalf("%s, driver %v: the outline is not simple: %v", d.Form, g.Driver, path.Clashes())
				}
			}
			if foot := g.foot(); d.FullRoot && math.Abs(g.Step()-2*foot) > 1e-9 {
				t.Fatalf("a full round leaves a flat of %v rad", g.Step()-2*foot)
			}
		}
	})
}

// smooth tells that a rounding has the directions of what it lies between: the
// root circle, the flank, the curve and the land.
func smooth(t *rapid.T, g Gear) {
	t.Helper()
	turns := func(a, b geom.Pt) float64 { return math.Abs(math.Remainder(a.Angle()-b.Angle(), math.Pi)) }
	for i, c := range g.Flank {
		r, ok := c.(Round)
		if !ok || r.Centre.Len() == 0 {
			continue
		}
		p, in := c.At(0)
		_, out := c.At(1)
		switch {
		case i == 0 && turns(in, p.Left()) > 1e-6:
			t.Fatalf("the rounding leaves the root circle aslant by %g", turns(in, p.Left()))
		case i == 0 || math.Abs(r.Radius-g.TipRadius.MM()) < 1e-9:
			if i > 0 {
				if _, d := g.Flank[i-1].At(1); turns(d, in) > 1e-6 {
					t.Fatalf("the rounding leaves the curve aslant by %g", turns(d, in))
				}
			}
			if i+1 < len(g.Flank) {
				next, d := g.Flank[i+1].At(0)
				if d.Len() < 1e-9 { // an epicycloid stands still where it begins, along the radius
					d = next
				}
				if turns(d, out) > 1e-6 {
					t.Fatalf("piece %d meets the next aslant by %g", i, turns(d, out))
				}
			}
		}
	}
}

// What is left of a curve by a whole number of arcs may be shorter than they
// may deviate; it is no loop.
func TestShortRestOfACurveIsNoLoop(t *testing.T) {
	p, err := Design{Form: LanternOf, Wheel: 19, Leaves: 15, Module: unit.Millimetres(0.8), RootRadius: unit.Millimetres(0.5)}.Pair()
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range p.Wheel.Outline(0.001) {
		if !path.Simple() {
			t.Error(path.Clashes()[0])
		}
		for _, s := range path.Segs {
			if math.Abs(s.Bulge) > 1 {
				t.Errorf("a loop to %v", s.To)
			}
		}
	}
}

// One round from side to side touches both flanks and the bottom, by the
// closed form.
func TestFullRoundByTheClosedForm(t *testing.T) {
	for _, n := range []train.Teeth{30, 60, 96} {
		d := Design{Form: Rounded, Wheel: n, Leaves: 8, Module: unit.Millimetres(1), Rooted: TheWheel}
		sharp, _ := d.Pair()
		d.FullRoot = true
		p, err := d.Pair()
		if err != nil {
			t.Fatal(err)
		}
		beta := sharp.Wheel.Step()/2 - sharp.Wheel.foot()
		root := sharp.Wheel.Root.MM()
		check.Near(t, "radius", p.Wheel.RootRadius.MM(), root*math.Sin(beta)/(1-math.Sin(beta)), 1e-9)
		if p.Pinion.RootRadius != 0 {
			t.Error("the pinion was rounded too")
		}
		round := p.Wheel.Flank[0].(Round)
		check.Near(t, "middle of the space", round.Centre.Angle(), p.Wheel.Step()/2, 1e-9)
		check.Near(t, "depth", round.Centre.Len()-round.Radius, root, 1e-9)
		if len(p.Wheel.Outline(0.001)[0].Segs)%int(n) != 0 {
			t.Error("the teeth are not alike")
		}
	}
}

// The room that is told at a rounding is that by many points of both outlines:
// the mate is rolled, and no point of it is in the metal of the corner where
// there is room, one is where there is none.
func TestRoomAtTheRoots(t *testing.T) {
	seen := [2]int{}
	for _, r := range []float64{0.15, 0.3, 0.6, 0.75} {
		for _, deeper := range []float64{0, 0.3, 0.39} {
			const leaves = 8
			p, err := Design{Form: Rounded, Wheel: 60, Leaves: leaves, Module: unit.Millimetres(1), RootRadius: unit.Millimetres(r), Rooted: TheWheel, Leaf: 0.45}.Pair()
			if err != nil {
				t.Fatal(err)
			}
			p.Distance -= unit.Millimetres(deeper)
			room := p.Wheel.RootRoom(p.Pinion, p.Distance)
			space, hit := p.Wheel.Space(0.0005), false
			lean := ((p.Wheel.Step()-2*p.Wheel.Half)*p.Wheel.Pitch.MM()/p.Pinion.Pitch.MM() - 2*p.Pinion.Half) / 2
			for i := -40; i <= 40; i++ {
				a := 0.018 * math.Pi * float64(i) / 40 * 1.2
				for _, by := range []float64{-lean, lean} {
					for _, q := range p.Pinion.profile() {
						at := q.Turn(math.Pi - a*60/float64(leaves) + by).Plus(geom.Pt{X: p.Distance.MM()}).Turn(-a)
						// Of its own space, near the bottom: above it leaf and tooth touch as they drive.
						if math.Abs(at.Angle()) < p.Wheel.Step()/2 && at.Len() < p.Wheel.Root.MM()+p.Wheel.RootRadius.MM()*0.9 && !space.Inside(at) {
							hit = true
						}
					}
				}
			}
			if hit && room > 0.01 || !hit && room < -0.01 {
				t.Errorf("radius %g, deeper by %g: room %.4f, touches %v", r, deeper, room, hit)
			}
			if room < 0 {
				seen[0]++
			} else {
				seen[1]++
			}
		}
	}
	if seen[0] == 0 || seen[1] == 0 {
		t.Errorf("%d touch and %d are free: that shows nothing", seen[0], seen[1])
	}
}

// A diameter over tips that are rounded is that of the teeth as drawn, and a
// wheel drives no farther than its rounding.
func TestTipRadiusFollows(t *testing.T) {
	q := Query{Wheel: 60, Leaves: 8, Form: Exact, WheelOutside: mm(50), TipRadius: mm(0.12)}
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	check.Near(t, "over the tips, mm", a.Wheel.Over.Value.MM(), 50, 1e-6)
	q.TipRadius = meas.Reading[unit.Length]{}
	plain, err := Solve(q)
	if err != nil || !(a.Action.After < plain.Action.After) || !(a.Action.Before > plain.Action.Before) {
		t.Errorf("drives to %v, without the rounding %v; %v", a.Action.After, plain.Action.After, err)
	}
}

// One round leaves no flat, and no doubt of the sizes makes one.
func TestFullRoundLeavesNoFlat(t *testing.T) {
	a, err := Solve(Query{Wheel: 60, Leaves: 8, Bottom: RoundBottom, Part: TheWheel, WheelOutside: meas.OfU(unit.Millimetres(50.35), unit.Millimetres(0.05))})
	if err != nil {
		t.Fatal(err)
	}
	if s := a.Wheel.SpaceBottom; !s.Set || s.Value != 0 || s.HasU {
		t.Error(s)
	}
	if s := a.Pinion.SpaceBottom; !(s.Value > 0 && s.HasU) {
		t.Error(s)
	}
}

func TestRoundsAreRefused(t *testing.T) {
	for want, q := range map[string]Query{
		"up to 0.":                      {RootRadius: mm(2)},
		"rounded at the tip without":    {TipRadius: mm(0.1)},
		"tip of a tooth has room":       {Form: Exact, TipRadius: mm(3)},
		"round bottom has the radius":   {Bottom: RoundBottom, RootRadius: mm(0.1)},
		"must be square or round":       {Bottom: "hollow"},
		"The radius at the bottom must": {RootRadius: mm(-1)},
	} {
		q.Wheel, q.Leaves, q.Module = 60, 8, mm(1)
		if _, err := Solve(q); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, wanted %q", err, want)
		}
	}
}
