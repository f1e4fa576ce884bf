package svg_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/pic"
	"seatboard/internal/paper/svg"
)

// washer is a disc of 80 mm with a hole of 10 mm, and what stands round it.
func washer() pic.Picture {
	c := geom.Pt{X: 50, Y: 50}
	p := pic.Picture{Title: "washer", W: 100, H: 100, Scale: pic.TrueSize}
	p.Add(pic.Group{Layer: "outline", Items: []pic.Item{pic.Outline{Paths: []geom.Path{geom.Round(c, 40), geom.Round(c, 5)}, Fill: pic.Hatch}}},
		pic.Group{Layer: "centres", Items: []pic.Item{pic.Line{A: pic.Pt{X: 5, Y: 50}, B: pic.Pt{X: 95, Y: 50}, Pen: pic.Chain}}})
	return p
}

func TestOutlineFile(t *testing.T) {
	got := string(svg.File(washer()))
	wellFormed(t, got)
	for _, want := range []string{
		`data-layer="outline"`, `data-layer="centres"`, `fill-rule="evenodd"`, `stroke-dasharray="3.7 0.79 0.26 0.79"`,
		// Angles grow clockwise on the screen: from the right by the foot.
		`d="M90 50A40 40 0 0 1 50 90A40 40 0 0 1 10 50A40 40 0 0 1 50 10A40 40 0 0 1 90 50zM55 50A5 5 0 0 1 50 55`,
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%s is not in\n%s", want, got)
		}
	}
}

// TestOutlineDigits: a tenth of a micrometre at true size, a hundredth of a
// pixel on the screen.
func TestOutlineDigits(t *testing.T) {
	p := pic.Picture{Title: "t", W: 9, H: 9, Scale: pic.TrueSize}
	p.Add(pic.Outline{Paths: []geom.Path{{From: geom.Pt{X: 1.23456, Y: 2}, Segs: []geom.Seg{{To: geom.Pt{X: 3, Y: 2}, Bulge: -0.1}, {To: geom.Pt{X: 4, Y: 2}}}}}})
	if got := string(svg.File(p)); !strings.Contains(got, `d="M1.2346 2A4.4577 4.4577 0 0 0 3 2L4 2"`) {
		t.Error(got)
	}
	if got := svg.Inline(p, svg.Placed{ID: "i"}); !strings.Contains(got, `d="M4.67 7.56A16.85 16.85 0 0 0 11.34 7.56L15.12 7.56"`) {
		t.Error(got)
	}
}

// TestRoom: a picture at true size is made to fit, no more than twice as large.
func TestRoom(t *testing.T) {
	for room, want := range map[float64]string{0: `width="377.95" height="377.95"`, 340: `width="340" height="340"`, 2000: `width="755.91" height="755.91"`} {
		got := svg.Inline(washer(), svg.Placed{ID: "r", Room: room})
		if !strings.Contains(got, want+` viewBox="0 0 377.95 377.95"`) {
			t.Errorf("room %g: %s", room, got[:200])
		}
	}
}

// TestSplitArcsKeepTheirCentre: what a reader makes of the rounded numbers
// lies within 0.3 µm of the circle that was meant.
func TestSplitArcsKeepTheirCentre(t *testing.T) {
	for _, r := range []float64{0.1234567, 3.3333333, 40.00004999, 333.3333333} {
		p := pic.Picture{Title: "t", W: 2 * r, H: 2 * r, Scale: pic.TrueSize}
		c := geom.Pt{X: r + 0.000033, Y: r - 0.000021}
		p.Add(pic.Outline{Paths: []geom.Path{geom.Round(c, r)}})
		_, d, _ := strings.Cut(string(svg.File(p)), `d="M`)
		d = strings.NewReplacer("A", " ", "z", " ").Replace(d[:strings.Index(d, `"`)])
		f := strings.Fields(d)
		n := func(i int) (x float64) { fmt.Sscan(f[i], &x); return x }
		at := geom.Pt{X: n(0), Y: n(1)}
		for i := 2; i+6 < len(f); i += 7 {
			to, rr := geom.Pt{X: n(i + 5), Y: n(i + 6)}, n(i)
			half := to.Minus(at).Times(0.5)
			mid := at.Plus(half).Plus(half.Left().Unit().Times(math.Sqrt(max(0, rr*rr-half.Dot(half)))))
			if d := mid.Minus(c).Len() + math.Abs(rr-r); d > 3e-4 {
				t.Errorf("radius %g: centre and radius are off by %g mm", r, d)
			}
			at = to
		}
	}
}
