package synth

import (
	"errors"
	"io"
	"math"
	"testing"

	"seatboard/internal/kit/unit"
)

// heard reads the whole recording.
func heard(t *testing.T, rec *Recording) []float32 {
	t.Helper()
	x := make([]float32, rec.Frames())
	got := 0
	for {
		n, err := rec.ReadFloat(x[got:])
		got += n
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if got != len(x) {
		t.Fatalf("%d samples, want %d", got, len(x))
	}
	return x
}

func made(t *testing.T, r Recipe) *Recording {
	t.Helper()
	rec, err := New(r)
	if err != nil {
		t.Fatal(err)
	}
	return rec
}

func (w wave) point(i int) float64 {
	if i < 0 || i >= w.points {
		return 0
	}
	return float64(w.row[i%over][i/over])
}

// value is the wave at a place in points by six of them, and its slope a
// sample; the recording uses four.
func (w wave) value(place float64) (y, slope float64) {
	i := int(math.Floor(place))
	f := place - float64(i)
	for a := -2; a <= 3; a++ {
		weight, change := 1.0, 0.0
		for b := -2; b <= 3; b++ {
			if a == b {
				continue
			}
			change = change*(f-float64(b))/float64(a-b) + weight/float64(a-b)
			weight *= (f - float64(b)) / float64(a-b)
		}
		y += weight * w.point(i+a)
		slope += change * w.point(i+a) * over
	}
	return y, slope
}

// fit is how late, in samples, the sound at a time is against its voice, and
// how strong.
func fit(x []float32, w wave, at, peak float64) (late, gain float64) {
	var ys, ss, ds, dd, yd float64
	from := int(math.Ceil(at - w.before()))
	for n := max(0, from); n < min(len(x), int(at)+2400); n++ {
		s, d := w.value(float64(w.origin) + over*(float64(n)-at))
		y := float64(x[n]) / peak
		ys, ss, ds, dd, yd = ys+y*s, ss+s*s, ds+d*s, dd+d*d, yd+y*d
	}
	gain = (ys*dd - yd*ds) / (ss*dd - ds*ds)
	return -(yd*ss - ys*ds) / (ss*dd - ds*ds) / gain, gain
}

// checkPlaces holds every heard beat and extra of a quiet recording to its
// truth, but for those near an edit.
func checkPlaces(t *testing.T, rec *Recording, edits ...unit.Duration) {
	t.Helper()
	x := heard(t, rec)
	truth := rec.Truth()
	near := func(at unit.Duration) bool {
		for _, e := range append(edits, 0, truth.Recipe.Length) {
			if at > e-0.12 && at < e+0.06 {
				return true
			}
		}
		return false
	}
	seen, worst := 0, 0.0
	for _, b := range truth.Beats {
		if near(b.At) || b.Silent {
			continue
		}
		late, gain := fit(x, rec.voices[b.K&1].whole, float64(b.At)*rec.Rate(), rec.peak)
		worst = math.Max(worst, math.Abs(late))
		if !(math.Abs(late) < 1e-6) || !(gain > 0.05) {
			t.Errorf("beat %d at %.9f s: %.2g samples late, strength %.3g", b.K, float64(b.At), late, gain)
		}
		seen++
	}
	if seen < 10 {
		t.Errorf("only %d beats could be looked at", seen)
	}
	t.Logf("%d beats, worst %.1e sample", seen, worst)
}

func TestBeatsAreWhereTheTruthSays(t *testing.T) {
	plain := Recipe{Seed: 1, Shape: 3, Length: 12, Clock: Clock{Beat: 0.25, Rate: 1.7e-4, BeatError: 0.003, ScatterPM: 1e-4}}
	for name, change := range map[string]func(*Recipe){
		"plain":    func(*Recipe) {},
		"44.1 kHz": func(r *Recipe) { r.SampleRate = 44100 },
		"8 kHz":    func(r *Recipe) { r.SampleRate = 8000 },
		"96 kHz":   func(r *Recipe) { r.SampleRate, r.Length = 96000, 6 },
		"fast":     func(r *Recipe) { r.ClockError = 5e-5 },
		"strength": func(r *Recipe) { r.AmplitudeSpread = 0.2 },
		"alike":    func(r *Recipe) { r.OneShape = true },
		"silent":   func(r *Recipe) { r.Silent = 0.3 },
		"stopped":  func(r *Recipe) { r.Stops = []Stop{{At: 4, For: 3.3}} },
	} {
		t.Run(name, func(t *testing.T) {
			r := plain
			change(&r)
			checkPlaces(t, made(t, r))
		})
	}
}

// Four hours from the start the places are still as exact as a number of 64
// bits is.
func TestLateBeatsAreExactToo(t *testing.T) {
	rec := made(t, Recipe{Seed: 1, Shape: 3, Length: 5 * 3600, Clock: Clock{Beat: 0.5, Rate: 1.7e-4, Start: 4 * 3600}})
	r := rec.recipe
	from := int64(4*3600*48000 + 48000)
	s := rec.sound
	s.at, s.used = from/blockLen*blockLen, blockLen // nothing sounds before the start
	base := s.at
	x := make([]float32, 8*48000)
	s.read(x)
	for k := range 12 {
		at := place(r, float64(r.Start)+float64(k)*0.5/(1+1.7e-4)) - float64(base)
		if at < 1000 || at > float64(len(x)-4000) {
			continue
		}
		if late, _ := fit(x, rec.voices[k&1].whole, at, rec.peak); math.Abs(late) > 5e-6 {
			t.Errorf("beat %d is %.2g samples late", k, late)
		}
	}
}

func TestEditsMoveTheTruthWithTheSound(t *testing.T) {
	plain := Recipe{Seed: 1, Shape: 3, Length: 20, Clock: Clock{Beat: 0.25, Rate: 1.7e-4, BeatError: 0.003, ScatterPM: 1e-4}}
	for name, c := range map[string]struct {
		change func(*Recipe)
		edits  []unit.Duration
	}{
		"lost":     {func(r *Recipe) { r.Slips = []Slip{{5, -480}, {9, -1024}} }, []unit.Duration{5, 9}},
		"again":    {func(r *Recipe) { r.Slips = []Slip{{5, 480}, {5.005, 300}, {9, 48000}} }, []unit.Duration{5, 5.01, 9, 10}},
		"cut":      {func(r *Recipe) { r.Slips = []Slip{{5, -480000}} }, []unit.Duration{5}},
		"zeros":    {func(r *Recipe) { r.Zeros = []Stretch{{5, 1.2}} }, []unit.Duration{5, 6.2}},
		"loop":     {func(r *Recipe) { r.Loop = 6.01 }, []unit.Duration{6.01, 12.02, 18.03}},
		"together": {func(r *Recipe) { r.Loop, r.Zeros, r.Slips = 8, []Stretch{{2, 1}}, []Slip{{4, -4800}} }, []unit.Duration{2, 3, 4, 8, 10, 11, 12, 16, 18, 19}},
	} {
		t.Run(name, func(t *testing.T) {
			r := plain
			c.change(&r)
			checkPlaces(t, made(t, r), c.edits...)
		})
	}
}
