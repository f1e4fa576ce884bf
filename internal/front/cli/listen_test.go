package cli

import (
	"bytes"
	"context"
	"io"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/synth"
	"seatboard/internal/io/audio"
	"seatboard/internal/kit/unit"
)

// Ctrl-C while a recorder is still running gives what was heard until then.
func TestStoppedListeningSaysWhatItHeard(t *testing.T) {
	rec, err := synth.New(synth.Recipe{Seed: 1, Shape: 1, Length: 90, SampleRate: 16000, Noise: synth.Noise{SNR: synth.DB(20)}})
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	in, recorder := io.Pipe()
	go func() {
		_ = synth.WriteWAV(recorder, rec, 2*rec.Frames()) // half of what is announced comes
		cancel()                                          // the recorder goes on and says nothing
	}()
	var out, errs bytes.Buffer
	if status := Run(ctx, []string{"listen", "-", "--beats-per-hour", "3600"}, Env{In: in, Out: &out, Err: &errs, Width: 100}); status != 0 {
		t.Fatalf("status %d: %s", status, errs.String())
	}
	for _, want := range []string{"stopped before its end", "Over these 1 min"} {
		if !strings.Contains(strings.ReplaceAll(out.String(), "\u00a0", " "), want) {
			t.Errorf("it does not say %q:\n%s", want, out.String())
		}
	}
}

// Ctrl-C ends it too while a recorder has not said anything yet.
func TestStoppedBeforeAnySound(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	in, recorder := io.Pipe()
	defer recorder.Close() // it says nothing
	var out, errs bytes.Buffer
	if status := Run(ctx, []string{"listen", "-"}, Env{In: in, Out: &out, Err: &errs, Width: 100}); status == 0 || !strings.Contains(errs.String(), "stopped before any sound came") {
		t.Errorf("status %d: %s%s", status, out.String(), errs.String())
	}
}

func TestTimesAreJudged(t *testing.T) {
	steady := func(n int, from, period float64, skip ...int) (out []beat.Beat) {
		for i := range n {
			if !slices.Contains(skip, i) {
				out = append(out, beat.Beat{At: unit.Duration(from + float64(i)*period), N: int64(i)})
			}
		}
		return out
	}
	h := timesHeard(steady(100, 3, .5, 7, 50, 51))
	if r := h.Runs[0]; h.Verdict != beat.Regular || len(h.Runs) != 1 || r.Heard != 97 || r.Silent != 3 || math.Abs(float64(r.Beat)-.5) > 1e-12 || h.Beats[96].N != 99 {
		t.Errorf("%+v", h)
	}
	gap := slices.Concat(steady(40, 0, 1), steady(140, 0, 1)[100:])
	if h = timesHeard(gap); len(h.Runs) != 2 || h.Runs[0].EndedBy != beat.Stopped || h.Runs[1].EndedBy != beat.EndOfSound || h.Beats[40].N != 0 || h.Beats[40].Run != 1 {
		t.Errorf("%+v", h)
	}
	if h = timesHeard(steady(5, 0, 1)); h.Verdict != beat.NotSure || h.Why == "" {
		t.Errorf("%+v", h)
	}
	r, at := rand.New(rand.NewPCG(1, 1)), 0.0
	var wild []beat.Beat
	for i := range 200 {
		at += r.ExpFloat64()
		wild = append(wild, beat.Beat{At: unit.Duration(at), N: int64(i)})
	}
	if h = timesHeard(wild); h.Verdict != beat.NoBeat || h.Why == "" {
		t.Errorf("%v %s", h.Verdict, h.Why)
	}
}

func TestRawFormat(t *testing.T) {
	f, err := rawFormat("S24 96000 2")
	if want := (audio.RawFormat{Rate: 96000, Bits: 24, Channels: 2}); err != nil || f != want {
		t.Errorf("got %+v, %v", f, err)
	}
	for _, s := range []string{"", "s16", "s16 x", "s16 48000 0", "s16 48000 1 1", "s12 48000"} {
		if f, err := rawFormat(s); err == nil {
			t.Errorf("%q is read as %+v", s, f)
		}
	}
}

func TestRecorderClock(t *testing.T) {
	c, err := recorderClock("-12 ± 3")
	if err != nil || c.Error > -11.99e-6 || c.Error < -12.01e-6 || c.Limit > 3.01e-6 || c.Limit < 2.99e-6 {
		t.Errorf("got %+v, %v", c, err)
	}
	for _, s := range []string{"12", "12 ± 0 ppm", "x", "12 ± 3 kg"} {
		if c, err := recorderClock(s); err == nil {
			t.Errorf("%q is read as %+v", s, c)
		}
	}
}

// The recipes by name can be made.
func TestNamedRecipes(t *testing.T) {
	for name, r := range recipes() {
		if f := r.Check(); len(f) > 0 {
			t.Errorf("%s: %v", name, f)
		}
	}
}
