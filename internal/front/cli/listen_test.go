package cli

import (
	"bytes"
	"context"
	"io"
	"strings"
	"testing"

	"seatboard/internal/craft/listen/synth"
	"seatboard/internal/io/audio"
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
		_ = synth.WriteWAV(recorder, rec, rec.Frames()) // ends when all of it was taken
		cancel()                                        // the recorder goes on and says nothing
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
