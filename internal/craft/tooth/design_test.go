package tooth

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/unit"
)

var forms = []Form{Exact, Rounded, Arcs, LanternOf}

// sound looks at a gear as at any closed shape: its flank is of one piece,
// stays in its half of the pitch and never comes nearer to the centre, so that
// the whole outline cannot cross itself.
func sound(g Gear) error {
	at, out := geom.Polar(g.Root.MM(), 0), 0.0
	for i, c := range g.Flank {
		p, _ := c.At(0)
		if i > 0 && p.Minus(at).Len() > 1e-9 {
			return fmt.Errorf("a gap of %g mm before piece %d", p.Minus(at).Len(), i)
		}
		if i == 0 && math.Abs(p.Len()-g.Root.MM()) > 1e-9 {
			return fmt.Errorf("begins at %g, root %g", p.Len(), g.Root.MM())
		}
		for k := 0; k <= 64; k++ {
			p, d := c.At(float64(k) / 64)
			if r := p.Len(); math.IsNaN(r) || r < g.Root.MM()-1e-9 || r > g.Tip.MM()+1e-9 {
				return fmt.Errorf("piece %d leaves the ring of root and tip: %g", i, r)
			}
			if p.Len() < out-1e-9 && !g.Lantern {
				return fmt.Errorf("piece %d goes back to %g from %g", i, p.Len(), out)
			}
			out = p.Len()
			if p.Y < -1e-9 || math.Abs(p.Angle()) > g.Step()/2+1e-9 && !g.Lantern {
				return fmt.Errorf("piece %d leaves its half of the pitch: %v", i, p)
			}
			if k > 0 && k < 64 && d.Len() == 0 {
				return fmt.Errorf("piece %d stands still", i)
			}
		}
		at, _ = c.At(1)
	}
	if math.Abs(at.Y) > 1e-9 || math.Abs(at.X-g.Tip.MM()) > 1e-9 {
		return fmt.Errorf("ends at %v, tip %g", at, g.Tip.MM())
	}
	return nil
}

func TestDesignsAreSound(t *testing.T) {
	for _, f := range forms {
		for _, wheel := range []train.Teeth{6, 7, 12, 30, 45, 60, 96, 180, 400} {
			for leaves := train.Teeth(Fewest); leaves <= 30; leaves++ {
				p, err := Design{Form: f, Wheel: wheel, Leaves: leaves, Module: unit.Millimetres(0.8)}.Pair()
				if err != nil {
					t.Errorf("%s %d/%d: %v", f, wheel, leaves, err)
					continue
				}
				for _, g := range []Gear{p.Wheel, p.Pinion} {
					if err := sound(g); err != nil {
						t.Errorf("%s %d/%d driver %v: %v", f, wheel, leaves, g.Driver, err)
					}
				}
			}
		}
	}
	if _, err := Theoretical(60, 3, unit.Millimetres(1)); !errors.Is(err, ErrCount) {
		t.Error("three leaves:", err)
	}
}

// TestDerivatives sets each curve's derivative beside its differences.
func TestDerivatives(t *testing.T) {
	for _, f := range forms {
		p, err := Design{Form: f, Wheel: 60, Leaves: 8, Module: unit.Millimetres(1)}.Pair()
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range append(p.Wheel.Flank, p.Pinion.Flank...) {
			for _, u := range []float64{0.1, 0.5, 0.9} {
				a, _ := c.At(u - 1e-6)
				b, _ := c.At(u + 1e-6)
				_, d := c.At(u)
				if miss := b.Minus(a).Times(0.5e6).Minus(d).Len(); miss > 1e-6*(1+d.Len()) {
					t.Errorf("%s %T at %g: off by %g of %v", f, c, u, miss, d)
				}
			}
		}
	}
}
