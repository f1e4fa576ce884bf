package beat_test

import (
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/synth"
	"seatboard/internal/kit/unit"
)

// samples are a recording that was changed after it was made.
type samples struct {
	rate float64
	x    []int16
}

func (s *samples) Rate() float64 { return s.rate }

func (s *samples) ReadFloat([]float32) (int, error) { return 0, io.ErrUnexpectedEOF }

func (s *samples) ReadInt16(dst []int16) (int, error) {
	n := copy(dst, s.x)
	s.x = s.x[n:]
	if len(s.x) == 0 {
		return n, io.EOF
	}
	return n, nil
}

// madeOf is a made recording as numbers, full scale 1.
func madeOf(t *testing.T, r synth.Recipe) []float64 {
	t.Helper()
	rec, err := synth.New(r)
	if err != nil {
		t.Fatal(err)
	}
	var all []float64
	buf := make([]float32, 1<<16)
	for {
		n, err := rec.ReadFloat(buf)
		for _, v := range buf[:n] {
			all = append(all, float64(v))
		}
		if err != nil {
			return all
		}
	}
}

// written is as a recorder writes it: steps of 16 bits, cut off at full scale.
func written(x []float64) []int16 {
	out := make([]int16, len(x))
	for i, v := range x {
		out[i] = int16(max(-32768, min(32767, math.RoundToEven(32768*v))))
	}
	return out
}

// TestSameClockSameAnswer: how loud, at what rate, beside what level, after
// how much silence a clock was recorded must not change what is heard.
func TestSameClockSameAnswer(t *testing.T) {
	silence := make([]float64, 4*48000)
	times := func(k float64) func([]float64) []float64 {
		return func(x []float64) []float64 {
			out := make([]float64, len(x))
			for i, v := range x {
				out[i] = k * v
			}
			return out
		}
	}
	for _, length := range []unit.Duration{5, 16} {
		recipe := synth.Recipe{Seed: 5, Shape: 6, Length: length, Peak: 0.6, Clock: synth.Clock{Beat: 0.4, BeatError: 8e-3, ScatterPM: 100e-6}, Noise: synth.Noise{SNR: synth.DB(35)}}
		plain := madeOf(t, recipe)
		want := hear(t, &samples{48000, written(plain)})
		if want.Verdict != beat.Regular || len(want.Beats) < 8 {
			t.Fatalf("%v: %s, %d beats", length, want.Verdict, len(want.Beats))
		}
		for name, c := range map[string]struct {
			change func([]float64) []float64
			later  float64 // s
			off    float64 // s, that a beat may be
		}{
			"a hundredth as loud": {times(0.01), 0, 100e-6}, // the decay is lost in the steps
			"half as loud":        {times(0.5), 0, 5e-6},
			"cut off at the top":  {times(3), 0, 50e-6},
			"upside down":         {times(-1), 0, 5e-6},
			"beside zero":         {func(x []float64) []float64 { return add(x, 0.2) }, 0, 5e-6},
			"silence before":      {func(x []float64) []float64 { return append(silence[:len(silence):len(silence)], x...) }, 4, 20e-6},
			"silence after":       {func(x []float64) []float64 { return append(x[:len(x):len(x)], silence...) }, 0, 20e-6},
		} {
			t.Run(fmt.Sprint(length, " ", name), func(t *testing.T) {
				alike(t, hear(t, &samples{48000, written(c.change(plain))}), want, c.later, c.off)
			})
		}
		rates := []float64{8000, 11025, 22050, 44100, 96000}
		if length > 10 {
			rates = rates[:1]
		}
		for _, rate := range rates {
			t.Run(fmt.Sprint(length, " at ", rate), func(t *testing.T) {
				r := recipe
				r.SampleRate = rate
				alike(t, hear(t, &samples{rate, written(madeOf(t, r))}), want, 0, 300e-6) // another noise, and less of the sound
			})
		}
	}
}

func add(x []float64, level float64) []float64 {
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = v + level
	}
	return out
}

// alike compares two hearings of one clock, a constant for each side allowed.
func alike(t *testing.T, got, want beat.Hearing, later, off float64) {
	t.Helper()
	if got.Verdict != want.Verdict || len(got.Runs) != 1 || len(got.Beats) < len(want.Beats)-1 || len(got.Beats) > len(want.Beats)+1 {
		t.Fatalf("%s, %d beats in %d runs, want %s, %d (%s)", got.Verdict, len(got.Beats), len(got.Runs), want.Verdict, len(want.Beats), got.Why)
	}
	if d := float64(got.Runs[0].Beat/want.Runs[0].Beat - 1); math.Abs(d) > 2e-4 {
		t.Errorf("a beat of %v, want %v", got.Runs[0].Beat, want.Runs[0].Beat)
	}
	var errors [2][]float64
	for _, b := range got.Beats {
		for i, w := range want.Beats {
			if d := float64(b.At-w.At) - later; math.Abs(d) < 50e-3 {
				errors[i&1] = append(errors[i&1], d)
			}
		}
	}
	for side, e := range errors {
		mid, far := middleOf(e), 0
		for _, d := range e {
			if math.Abs(d-mid) > off {
				far++
			}
		}
		if len(e) < len(want.Beats)/2-1 || far > len(e)/8 {
			t.Errorf("side %d: %d of %d beats more than %v s off", side, far, len(e), off)
		}
	}
}

// TestSoundsByChanceAreNoClock wants none to be heard in sounds that come when
// they will, as those of a fire do.
func TestSoundsByChanceAreNoClock(t *testing.T) {
	seeds := study(t, 4)
	for _, many := range []float64{2, 4, 8} { // in a second
		regular := 0
		for s := range seeds {
			r := rand.New(rand.NewPCG(uint64(s), uint64(many)))
			x := make([]float64, 5*16000)
			for i := range x {
				x[i] = 1e-3 * r.NormFloat64()
			}
			for at := r.ExpFloat64() / many; at < 5; at += r.ExpFloat64() / many {
				loud, hz := 0.2*math.Exp(0.5*r.NormFloat64()), 2000+1000*r.Float64()
				for i := int(at * 16000); i < min(len(x), int(at*16000)+400); i++ {
					d := float64(i)/16000 - at
					x[i] += loud * math.Exp(-d/2e-3) * math.Sin(2*math.Pi*hz*d)
				}
			}
			if h := hear(t, &samples{16000, written(x)}); h.Verdict == beat.Regular {
				regular++
			}
		}
		t.Logf("%v a second: %d of %d taken for a clock", many, regular, seeds)
		if regular > seeds/100 {
			t.Errorf("%v a second: %d of %d taken for a clock", many, regular, seeds)
		}
	}
}

// TestShortenedIsTheSameClock: a piece of a recording says what the whole does,
// as long as there are beats enough in it, and never that there is no clock.
func TestShortenedIsTheSameClock(t *testing.T) {
	for name, c := range map[string]struct {
		recipe  synth.Recipe
		lengths []float64 // s
		want    beat.Verdict
	}{
		"slow":        {synth.Recipe{Seed: 4, Shape: 504, Clock: synth.Clock{Beat: 1.3, BeatError: 0.1}, Noise: synth.Noise{SNR: synth.DB(8)}}, []float64{9, 14, 16, 20}, beat.Regular},
		"slower":      {synth.Recipe{Seed: 13, Shape: 513, Clock: synth.Clock{Beat: 2, BeatError: 0.12}, Noise: synth.Noise{SNR: synth.DB(8)}}, []float64{14, 16, 20}, beat.Regular},
		"four beats":  {synth.Recipe{Seed: 6, Shape: 506, Clock: synth.Clock{Beat: 1}, Noise: synth.Noise{SNR: synth.DB(25)}}, []float64{4.1}, beat.NotSure},
		"three beats": {synth.Recipe{Seed: 7, Shape: 507, Clock: synth.Clock{Beat: 1}, Noise: synth.Noise{SNR: synth.DB(25)}}, []float64{3.2}, beat.NoBeat},
	} {
		c.recipe.SampleRate, c.recipe.ScatterPM = 16000, 300e-6
		c.recipe.Length = unit.Duration(c.lengths[len(c.lengths)-1])
		all := written(madeOf(t, c.recipe))
		for _, l := range c.lengths {
			h := hear(t, &samples{16000, all[:int(16000*l)]})
			if h.Verdict != c.want {
				t.Errorf("%s, %v s: %s (%s), want %s", name, l, h.Verdict, h.Why, c.want)
			}
			if h.Verdict == beat.NoBeat && !strings.Contains(h.Why, "too short to be sure") {
				t.Errorf("%s, %v s: %s", name, l, h.Why)
			}
			if len(h.Runs) > 0 && math.Abs(float64(h.Runs[0].Beat/c.recipe.Beat-1)) > 2e-3 {
				t.Errorf("%s, %v s: a beat of %v", name, l, h.Runs[0].Beat)
			}
		}
	}
}
