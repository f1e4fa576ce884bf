package beat_test

import (
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/synth"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/sig"
	"seatboard/internal/kit/unit"
)

func hearPair(t *testing.T, p *synth.Pair, err error) beat.Hearing {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	e := beat.NewEar(p, beat.Options{})
	if err := e.Run(t.Context()); err != nil {
		t.Fatal(err)
	}
	return e.Heard()
}

// ofWhom counts the beats of a run within 3 ms of one clock's, the other's,
// and of neither's, the runs apart; more than a few of the lesser mean that
// the run mixes them. Where both beat at once, a beat counts for both.
func ofWhom(h beat.Hearing, p *synth.Pair) (strangers int) {
	near := func(tr synth.Truth) map[int]int {
		var at []float64
		for _, b := range tr.Beats {
			at = append(at, float64(b.At))
		}
		n := map[int]int{}
		for _, b := range h.Beats {
			i, _ := slices.BinarySearch(at, float64(b.At))
			for j := max(0, i-1); j < min(len(at), i+1); j++ {
				if math.Abs(at[j]-float64(b.At)) < 3e-3 {
					n[b.Run]++
					break
				}
			}
		}
		return n
	}
	one, other := near(p.One.Truth()), near(p.Other.Truth())
	for i, r := range h.Runs {
		strangers += r.Heard - max(one[i], other[i])
	}
	return strangers
}

// apartBeat is how far the beat of another clock is from the truth, a share.
func apartBeat(s *beat.Second, true_ ...unit.Duration) float64 {
	least := math.Inf(1)
	for _, b := range true_ {
		least = min(least, math.Abs(float64(s.Beat/b)-1))
	}
	return least
}

// TestAnotherClockIsHeard holds what is said of a second clock to the truth:
// that it is there, its beat and its level; and that no run mixes the two.
func TestAnotherClockIsHeard(t *testing.T) {
	seeds := study(t, 1)
	beats := []unit.Duration{0.31, 0.62, 1.03}
	if seeds > 1 {
		beats = []unit.Duration{0.25, 0.31, 0.4, 0.4713, 0.503, 0.62, 0.75, 0.87, 1, 1.03}
	}
	for _, second := range beats {
		for _, level := range []float64{0, -6, -12} {
			var told, refused, nothing, wrong, strangers, count int
			var worst float64
			for s := 1; s <= seeds; s++ {
				p, err := synth.T10(uint64(s), second, level)
				h := hearPair(t, p, err)
				strangers += ofWhom(h, p)
				count += len(h.Beats)
				switch {
				case h.Verdict == beat.TwoClocks:
					refused++
				case h.Verdict == beat.NotSure:
					refused++
				case h.Second == nil:
					nothing++
				case h.Second.Mixed && h.Second.Beat == 0:
					told++
				case apartBeat(h.Second, second, 0.5) > 1e-3:
					wrong++
				default:
					told++
					if apartBeat(h.Second, second) < 1e-3 {
						worst = max(worst, math.Abs(20*math.Log10(h.Second.Level)-level))
					}
				}
			}
			t.Logf("beat %.4f s, %3.0f dB: told %d, refused as two %d, nothing said %d, wrong %d; %d of %d beats of the other clock or none; level within %.1f dB",
				float64(second), level, told, refused, nothing, wrong, strangers, count, worst)
			if wrong > 0 || float64(strangers) > 0.005*float64(count) || seeds == 1 && nothing > 0 {
				t.Errorf("beat %v, %v dB: %d wrong, %d strangers, %d not told", second, level, wrong, strangers, nothing)
			}
		}
	}
}

// TestClocksOfNearlyOneBeat holds the ear to two clocks that drift past one
// another, which sound like one that beats twice as fast.
func TestClocksOfNearlyOneBeat(t *testing.T) {
	seeds := study(t, 1)
	for _, far := range []float64{1e-4, 3e-4, -1e-3, 4e-3} {
		for _, level := range []float64{0, -6, -12} {
			var said, strangers, count int
			for s := 1; s <= seeds; s++ {
				one := synth.T2(synth.Plain, uint64(s))
				one.Length = 300
				other := one
				other.Seed, other.Shape, other.Rate = one.Seed+90, one.Shape+90, one.Rate+unit.Rate(far)
				other.Start, other.BeatError, other.SNR = unit.Duration(0.1+0.017*float64(s%20)), 0.006, nil
				p, err := synth.NewPair(one, other, level)
				h := hearPair(t, p, err)
				strangers += ofWhom(h, p)
				count += len(h.Beats)
				if h.Verdict == beat.TwoClocks || h.Verdict == beat.NotSure || h.Second != nil {
					said++
				}
			}
			t.Logf("%+.0e apart, %3.0f dB: two clocks said in %d of %d; %d of %d beats of the other clock or none", far, level, said, seeds, strangers, count)
			if float64(strangers) > 0.005*float64(count) {
				t.Errorf("%v apart, %v dB: %d strangers of %d", far, level, strangers, count)
			}
		}
	}
}

// TestOneClockIsNotTwo wants no second clock said where there is one, whatever
// else is heard.
func TestOneClockIsNotTwo(t *testing.T) {
	seeds := study(t, 1)
	cases := map[string]func(uint64) synth.Recipe{
		"long strike": func(s uint64) synth.Recipe {
			r := synth.T2(synth.Plain, s)
			r.Strikes = []synth.Strike{{At: 12, Blows: 12, Every: 2, Level: 3}}
			return r
		},
		"room": func(s uint64) synth.Recipe {
			r := synth.T2(synth.PoorMovement, s)
			r.RT60, r.Direct, r.ImpactSpread = 0.8, -3, 1e-3
			return r
		},
		"hum": func(s uint64) synth.Recipe {
			r := synth.T2(synth.Plain, s)
			r.Hum = synth.DB(10)
			return r
		},
		"extra beats": func(s uint64) synth.Recipe { return synth.T5(int(s), synth.Clicks) },
		"odd teeth": func(s uint64) synth.Recipe {
			r := synth.T2(synth.Plain, s)
			r.Teeth, r.ToothErrors = 30, []synth.ToothError{{Beat: 4, Late: 8e-3}, {Beat: 34, Late: 8e-3}}
			return r
		},
	}
	scenarios := []synth.Scenario{synth.LoudSpeech, synth.ManyClicks, synth.PoorMovement, synth.Everything}
	if seeds > 1 {
		scenarios = synth.Scenarios()
	}
	for _, sc := range scenarios {
		cases[fmt.Sprint(sc)] = func(s uint64) synth.Recipe { return synth.T2(sc, s) }
	}
	for name, of := range cases {
		said := 0
		for s := range seeds {
			r := of(uint64(11 + s))
			r.Length = 130 // three looks
			h, _, _ := listenTo(t, r)
			if h.Second != nil || h.Verdict == beat.TwoClocks {
				said++
				t.Logf("%s, seed %d: %s, %+v", name, 11+s, h.Verdict, h.Second)
			}
		}
		t.Logf("%s: two clocks said in %d of %d", name, said, seeds)
		if said > 0 {
			t.Errorf("%s: two clocks said in %d of %d", name, said, seeds)
		}
	}
}

// TestRealClipsAreOfOneClock wants no second clock said of real recordings of
// one clock or of none.
func TestRealClipsAreOfOneClock(t *testing.T) {
	dir := check.Shared(t, "data", "audio")
	for _, pattern := range []string{filepath.Join(dir, "*.wav"), filepath.Join(filepath.Dir(dir), "negatives", "*.wav")} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			t.Fatal("no recordings", err)
		}
		for _, f := range files {
			if h := hear(t, openPCM(t, f)); h.Second != nil || h.Verdict == beat.TwoClocks {
				t.Errorf("%s: %s, %+v", filepath.Base(f), h.Verdict, h.Second)
			}
		}
	}
}

// telephone is a source through the band of a telephone line.
type telephone struct {
	src  beat.Source
	taps []float32
	rest []float32
}

func (l *telephone) Rate() float64 { return l.src.Rate() }

func (l *telephone) ReadFloat(dst []float32) (int, error) {
	if l.rest == nil {
		l.rest = make([]float32, len(l.taps)-1)
	}
	x := make([]float32, len(dst))
	n, err := l.src.ReadFloat(x)
	all := append(slices.Clone(l.rest), x[:n]...)
	if n > 0 {
		sig.Correlate(dst[:n], l.taps, all) // the taps are the same both ways
		l.rest = all[n:]
	}
	return n, err
}

// loudly is a source amplified and cut at full scale.
type loudly struct {
	src  beat.Source
	gain float32
}

func (l loudly) Rate() float64 { return l.src.Rate() }

func (l loudly) ReadFloat(dst []float32) (int, error) {
	n, err := l.src.ReadFloat(dst)
	for i, v := range dst[:n] {
		dst[i] = max(-1, min(1, l.gain*v))
	}
	return n, err
}

// TestWhySaysWhatToDo wants the cause named where the sound itself tells why
// no clock is heard.
func TestWhySaysWhatToDo(t *testing.T) {
	noise := func(gain float32) beat.Source {
		rec, err := synth.New(synth.Recipe{Seed: 5, Length: 40, Clock: synth.Clock{NoClock: true}, Noise: synth.Noise{SNR: synth.DB(0)}})
		if err != nil {
			t.Fatal(err)
		}
		return loudly{rec, gain}
	}
	for name, c := range map[string]struct {
		src  beat.Source
		want string
	}{
		"faint":     {noise(1e-4), "on the case side"},
		"loud":      {noise(100), "too loud"},
		"telephone": {&telephone{src: noise(1), taps: sig.BandPass(300, 3400, 48000, 511)}, "Bluetooth"},
		"neither":   {noise(1), "Lay the recorder on the case"},
		"nothing":   {loudly{noise(1), 0}, "switched off"},
	} {
		if h := hear(t, c.src); h.Verdict != beat.NoBeat || !strings.Contains(h.Why, c.want) {
			t.Errorf("%s: %s: %s", name, h.Verdict, h.Why)
		}
	}
}

// TestWhyIsSaidWhileItListens wants the reason before the sound ends.
func TestWhyIsSaidWhileItListens(t *testing.T) {
	rec, err := synth.New(synth.Recipe{Seed: 5, Length: 100, Clock: synth.Clock{NoClock: true}, Noise: synth.Noise{SNR: synth.DB(0)}})
	if err != nil {
		t.Fatal(err)
	}
	src := &asked{Source: loudly{rec, 1e-4}, at: 30 * 48000}
	e := beat.NewEar(src, beat.Options{})
	src.then = func() {
		if h := e.Heard(); !strings.Contains(h.Why, "too quiet") {
			t.Errorf("after half a minute: %s: %s", h.Verdict, h.Why)
		}
	}
	if err := e.Run(t.Context()); err != nil {
		t.Fatal(err)
	}
	if src.then != nil {
		t.Error("it was not heard for half a minute")
	}
}

// asked is a source that does something once so many samples are read.
type asked struct {
	beat.Source
	at   int
	then func()
}

func (a *asked) ReadFloat(dst []float32) (int, error) {
	n, err := a.Source.ReadFloat(dst)
	if a.at -= n; a.at <= 0 && a.then != nil && err != io.EOF {
		a.then()
		a.then = nil
	}
	return n, err
}
