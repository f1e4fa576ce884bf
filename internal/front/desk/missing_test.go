package desk

import (
	"strings"
	"testing"

	"seatboard/internal/craft/mesh"
	"seatboard/internal/craft/tooth"
	"seatboard/internal/front/form"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/unit"
)

// What a candidate leads to takes its values without a mistake.
func TestMissingLeadsOn(t *testing.T) {
	c, _ := Find("missing")
	for _, values := range []map[string][]string{
		{"going": {"96/8 60/8 ?/? 30"}, "hour-arbor": {"2"}, "pendulum": {"994 mm"}, "going-sizes": {"3 wheel 41 mm depth 24 mm"}},
		{"going": {"96/8 ?/? ?/?L 30"}, "hour-arbor": {"2"}, "beats-per-hour": {"3600"}},
		{"motion": {"?/12 40/10"}},
	} {
		o, err := c.Work(t.Context(), values)
		if err != nil {
			t.Fatal(err)
		}
		if _, ok := o.Doc.Sections[0].Body[0].(doc.Say); !ok {
			continue
		}
		on := c.Onward(o.Answer)
		if len(on) == 0 {
			t.Errorf("%v leads nowhere", values)
		}
		for _, x := range on {
			to, ok := Find(x.Name)
			if !ok {
				continue
			}
			if _, err := to.Work(t.Context(), x.Values); err != nil && !strings.Contains(err.Error(), "size") {
				t.Errorf("%s: %v leads to %v", x.Words, x.Values, err)
			}
			if faults := to.Begin().Form.Fill(x.Values); len(faults) > 0 {
				t.Errorf("%s: %v", x.Words, faults)
			}
		}
	}
}

// A pair that was laid out is turned at the same sizes.
func TestToothLeadsOn(t *testing.T) {
	c, _ := Find("tooth")
	for _, more := range []map[string]string{{}, {"form": "lantern", "pin": "0.7"}, {"bottom": "round"}, {"root-radius": "0.1", "leaf": "0.4", "height": "1.3"}, {"form": "exact", "tip-radius": "0.05"}} {
		values := map[string][]string{"wheel": {"60"}, "leaves": {"8"}, "wheel-outside": {"50.35 ± 0.05"}}
		for name, v := range more {
			values[name] = []string{v}
		}
		o, err := c.Work(t.Context(), values)
		if err != nil {
			t.Fatal(err)
		}
		a := o.Answer.(tooth.Answer)
		on := c.Onward(o.Answer)
		if len(on) == 0 {
			if more["tip-radius"] == "" {
				t.Errorf("%v leads nowhere", more)
			}
			continue
		}
		var q mesh.Query
		f := form.Mesh(&q)
		if faults := append(f.Fill(on[0].Values), q.Check()...); len(faults) > 0 || on[0].Name != "mesh" {
			t.Fatalf("%v: %v", on[0].Values, faults)
		}
		if more["leaf"] == "" {
			continue
		}
		m, err := mesh.Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range [][2]unit.Length{{m.Pair.Wheel.Tip, a.Pair.Wheel.Tip}, {m.Pair.Wheel.Root, a.Pair.Wheel.Root}, {m.Pair.Pinion.Tip, a.Pair.Pinion.Tip}, {m.Pair.Pinion.RootRadius, a.Pair.Pinion.RootRadius}} {
			check.Near(t, on[0].Words, x[0].MM(), x[1].MM(), 2e-3)
		}
	}
}
