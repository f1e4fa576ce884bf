package geom

import (
	"math"
	"testing"
)

func almost(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.15g, want %.15g", what, got, want)
	}
}

func TestMeasures(t *testing.T) {
	circle := Round(Pt{3, -4}, 40)
	slot := Path{From: Pt{0, 0}, Segs: []Seg{{Pt{10, 0}, 0}, {Pt{10, 4}, 1}, {Pt{0, 4}, 0}, {Pt{0, 0}, 1}}, Closed: true}
	square := Path{From: Pt{0, 0}, Segs: []Seg{{Pt{2, 0}, 0}, {Pt{2, 2}, 0}, {Pt{0, 2}, 0}, {Pt{0, 0}, 0}}, Closed: true}
	for _, c := range []struct {
		name         string
		p            Path
		area, length float64
		box          Box
	}{
		{"circle", circle, math.Pi * 1600, 80 * math.Pi, Box{Pt{-37, -44}, Pt{43, 36}}},
		{"circle the other way", circle.Reverse(), -math.Pi * 1600, 80 * math.Pi, Box{Pt{-37, -44}, Pt{43, 36}}},
		{"slot", slot, 40 + 4*math.Pi, 20 + 4*math.Pi, Box{Pt{-2, 0}, Pt{12, 4}}},
		{"square", square, 4, 8, Box{Pt{0, 0}, Pt{2, 2}}},
	} {
		almost(t, c.name+": area", c.p.Area(), c.area, 1e-11)
		almost(t, c.name+": length", c.p.Length(), c.length, 1e-11)
		b := c.p.Bounds()
		almost(t, c.name+": box", b.Min.Minus(c.box.Min).Len()+b.Max.Minus(c.box.Max).Len(), 0, 1e-12)
	}
}

// TestFlatArcs: the series and the closed form of a bow meet.
func TestFlatArcs(t *testing.T) {
	for _, b := range []float64{0.0499, 0.0501, -0.0499, -0.0501, 1e-9} {
		r := (1 + b*b) / (4 * b)
		turn := 4 * math.Atan(b)
		if want := r * r / 2 * (turn - math.Sin(turn)); math.Abs(b) > 1e-3 {
			almost(t, "bow", bow(b), want, 1e-14)
		} else {
			almost(t, "bow", bow(b), b/3, 1e-24)
		}
	}
}

func TestSplitKeepsTheArc(t *testing.T) {
	from, s := Pt{1, 2}, Seg{Pt{4, 1}, 1.7}
	parts := s.Split(from, 0.3)
	c, r, _, turn := s.Arc(from)
	at, sum := from, 0.0
	for _, q := range parts {
		cc, rr, _, tt := q.Arc(at)
		almost(t, "centre", cc.Minus(c).Len()+math.Abs(rr-r), 0, 1e-12)
		at, sum = q.To, sum+tt
	}
	almost(t, "turn", sum, turn, 1e-12)
	if at != s.To || len(parts) != int(math.Ceil(turn/0.3)) {
		t.Errorf("ends at %v in %d parts", at, len(parts))
	}
}
