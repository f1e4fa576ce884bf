package sampleclock

import (
	"math"
	"math/rand/v2"
	"testing"

	"seatboard/internal/kit/unit"
)

// page makes blocks of 480 samples with stamps that scatter.
func page(n int, scatter float64, shift map[int]float64) []Block {
	r := rand.New(rand.NewPCG(3, 3))
	var out []Block
	extra := 0.0
	for i := range n {
		extra += shift[i]
		out = append(out, Block{First: int64(i) * 480, Frames: 480, Stamp: unit.Duration(1000 + float64(i)*0.01*(1-40e-6) + extra + scatter*r.NormFloat64())})
	}
	return out
}

func TestSeams(t *testing.T) {
	for _, c := range []struct {
		name    string
		scatter float64
		shift   map[int]float64
		want    int
	}{
		{"exact, whole", 0, nil, 0},
		{"exact, one block lost", 0, map[int]float64{500: 0.01}, 1},
		{"exact, a millisecond and a bit", 0, map[int]float64{500: 0.0011, 800: -0.0011}, 2},
		{"scattering 0.3 ms, whole", 0.3e-3, nil, 0},
		{"scattering 0.3 ms, 10 ms put in", 0.3e-3, map[int]float64{700: -0.01}, 1},
		{"one late stamp", 0, map[int]float64{500: 0.02, 501: -0.02}, 0},
	} {
		got := Seams(48000, page(20000, c.scatter, c.shift))
		if len(got) != c.want {
			t.Errorf("%s: %d seams, want %d: %v", c.name, len(got), c.want, got)
			continue
		}
		for _, s := range got {
			d, ok := c.shift[int(s.Frame/480)]
			if !ok || s.Why != Stamped || math.Abs(float64(s.Size)+d) > 1e-3 {
				t.Errorf("%s: %+v", c.name, s)
			}
		}
	}
}

func TestSeamsThatAreCounted(t *testing.T) {
	b := page(100, 0, nil)
	for i := range b {
		if i >= 50 {
			b[i].First += 960
			b[i].Stamp += 0.02
		}
		if i >= 70 {
			b[i].Discarded = 480
			b[i].Stamp += 0.01
		}
	}
	got := Seams(48000, b)
	if len(got) != 2 || got[0].Why != Counted || got[0].Size != -0.02 || got[1].Why != Thrown || got[1].Size != -0.01 {
		t.Errorf("%+v", got)
	}
}

func TestSeamsOfNothing(t *testing.T) {
	if s := Seams(0, page(100, 0, nil)); s != nil {
		t.Error(s)
	}
	b := page(100, 0, nil)
	for i := range b {
		b[i].Stamp = 0
	}
	b[3].Frames = -5
	if s := Seams(48000, b[:3]); s != nil {
		t.Error(s)
	}
	b[7].Stamp = unit.Duration(math.NaN())
	Seams(48000, b)
}
