package culprit_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/culprit"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/unit"
)

// clock makes beats with known faults: times in seconds, periods in beats.
type clock struct {
	beats  int
	beat   float64
	rate   float64 // s/s, gaining
	out    float64 // of beat
	teeth  int
	late   map[int]float64 // by place in a turn of the escape wheel
	sway   []sway
	pm, fm float64
	drift  float64 // change of rate over the record, s/s
	silent float64 // share of beats not heard
	wild   float64 // share of beats that are late or early by up to 20 ms
	u      func(i int) float64
	starts []int // beats at which a new run begins
}

type sway struct{ amplitude, period, phase float64 }

func (c clock) make(seed uint64) []beat.Beat {
	r := rand.New(rand.NewPCG(seed, 77))
	var out []beat.Beat
	phase := 0.0
	run, from := 0, 0
	for i := range c.beats {
		x := float64(i)
		t := x * c.beat / (1 + c.rate)
		t += c.drift * c.beat * x * x / (2 * float64(c.beats))
		t += c.out / 4 * float64(1-2*(i&1))
		if c.teeth > 0 {
			t += c.late[i%(2*c.teeth)]
		}
		for _, s := range c.sway {
			t += s.amplitude * math.Sin(2*math.Pi*x/s.period+s.phase)
		}
		phase += c.fm * r.NormFloat64()
		t += phase + c.pm*r.NormFloat64()
		u := 0.0
		if c.u != nil {
			u = c.u(i)
			t += u * r.NormFloat64()
		}
		if r.Float64() < c.wild {
			t += 0.04 * (r.Float64() - 0.5)
		}
		if len(c.starts) > run && i == c.starts[run] {
			run, from = run+1, i
			phase += 0.3
		}
		if r.Float64() < c.silent {
			continue
		}
		out = append(out, beat.Beat{At: unit.Duration(10 + t), N: int64(i - from), Run: run, U: unit.Duration(u)})
	}
	return out
}

// parts of a train as text.
func parts(t testing.TB, going string) ([]culprit.Part, int) {
	t.Helper()
	q, err := train.Parse(going)
	if err != nil {
		t.Fatal(err)
	}
	a, err := train.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	return culprit.Parts(a)
}

// oddTrain is of periods 97.3 s, 15 min and more; its escape wheel of 30
// turns in 60 s.
func arbors() []culprit.Part {
	return []culprit.Part{
		{Name: "great wheel", Kind: culprit.Turn, Arbor: 0, Period: 43200, Beats: 43200},
		{Name: "centre wheel", Kind: culprit.Turn, Arbor: 1, Period: 3600, Beats: 3600},
		{Name: "third wheel", Kind: culprit.Turn, Arbor: 2, Period: 97, Beats: 97},
		{Name: "escape wheel", Kind: culprit.Turn, Arbor: 3, Period: 60, Beats: 60},
	}
}

func find(a culprit.Answer, name string) culprit.Suspect {
	for _, s := range a.Suspects {
		if s.Part.Name == name {
			return s
		}
	}
	return culprit.Suspect{}
}

func solve(t testing.TB, q culprit.Query) culprit.Answer {
	t.Helper()
	a, err := culprit.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

const us = 1e-6
