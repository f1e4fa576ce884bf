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
	seen := 0
	for k := range 16 {
		at := place(r, float64(r.Start)+float64(k)*0.5/(1+1.7e-4)) - float64(base)
		if at < 1000 || at > float64(len(x)-4000) {
			continue
		}
		seen++
		if late, _ := fit(x, rec.voices[k&1].whole, at, rec.peak); !(math.Abs(late) < 5e-6) {
			t.Errorf("beat %d is %.2g samples late", k, late)
		}
	}
	if seen < 8 {
		t.Errorf("only %d beats could be looked at", seen)
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

func TestSilentAndExtraBeats(t *testing.T) {
	r := Recipe{Seed: 4, Shape: 2, Length: 120, Clock: Clock{Beat: 0.5, Silent: 0.1, Extra: 0.2}}
	rec := made(t, r)
	x := heard(t, rec)
	truth := rec.Truth()
	silent := 0
	for _, b := range truth.Beats {
		if b.Silent {
			silent++
		}
	}
	if silent < 12 || silent > 36 || len(truth.Extras) < 30 || len(truth.Extras) > 66 {
		t.Errorf("%d of 240 silent and %d extra, want about 24 and 48", silent, len(truth.Extras))
	}
	loud := func(at unit.Duration) bool {
		i := int(float64(at) * 48000)
		for _, v := range x[max(0, i-10) : i+200] {
			if math.Abs(float64(v)) > 0.1*rec.peak {
				return true
			}
		}
		return false
	}
	for _, b := range truth.Beats {
		if b.Silent == loud(b.At) {
			t.Errorf("beat at %v: silent %v, loud %v", b.At, b.Silent, loud(b.At))
		}
	}
	for _, at := range truth.Extras {
		if !loud(at) {
			t.Errorf("no extra sound at %v", at)
		}
	}
}

func TestSamplesHeardAgainGiveExtras(t *testing.T) {
	rec := made(t, Recipe{Length: 10, Clock: Clock{Beat: 0.5}, Recorder: Recorder{Slips: []Slip{{5, 48000}}}})
	truth := rec.Truth()
	if len(truth.Extras) != 2 || len(truth.Beats) != 18 {
		t.Fatalf("%d extras and %d beats, want 2 and 18", len(truth.Extras), len(truth.Beats))
	}
	x := heard(t, rec)
	for i := range 48000 {
		if x[5*48000+i] != x[4*48000+i] {
			t.Fatalf("sample %d is not the one heard before", i)
		}
	}
}

func TestLostSamplesMakeABeatSilent(t *testing.T) {
	truth := made(t, Recipe{Length: 10, Clock: Clock{Beat: 0.5, Start: 0.25}, Recorder: Recorder{Slips: []Slip{{4.7, -4800}}}}).Truth()
	for _, b := range truth.Beats {
		if lost := b.K == 9; b.Silent != lost { // 4.75 s lies in 4.7 to 4.8 s
			t.Errorf("beat %d silent: %v", b.K, b.Silent)
		}
	}
}

func TestALoopRepeatsSampleForSample(t *testing.T) {
	r := T1(1, 20)
	r.Length, r.Loop = 10, 3
	x := heard(t, made(t, r))
	for i := 3 * 48000; i < len(x); i++ {
		if x[i] != x[i-3*48000] {
			t.Fatalf("sample %d is not the one heard before", i)
		}
	}
}

func TestStops(t *testing.T) {
	r := Recipe{Length: 60, Clock: Clock{Start: 0.5, Stops: []Stop{{10, 7.25}, {40, 0}}}}
	truth := made(t, r).Truth()
	want := []TrueStop{{9.5, 17.25}, {39.25, 0}}
	if len(truth.Stops) != 2 || truth.Stops[0] != want[0] || truth.Stops[1] != want[1] {
		t.Errorf("stops %v, want %v", truth.Stops, want)
	}
	if b := truth.Beats[10]; b.N != 0 || b.Run != 1 || b.K != 10 || b.At != 17.25 {
		t.Errorf("the first beat of the second run is %+v", b)
	}
	if n := len(Beats(r)); n != 10+23 {
		t.Errorf("%d beats, want 33", n)
	}
}
