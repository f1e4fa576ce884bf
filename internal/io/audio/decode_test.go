package audio

import (
	"bytes"
	"context"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"seatboard/internal/kit/check"
)

var ours = Options{Child: []string{os.Args[0], ChildCommand}}

// clicksIn finds where the sound rises out of silence.
func clicksIn(x []float32, rate float64) []int {
	var at []int
	for i, v := range x {
		if math.Abs(float64(v)) > 0.25 && (len(at) == 0 || float64(i-at[len(at)-1]) > rate/20) {
			at = append(at, i)
		}
	}
	return at
}

// TestClicks: one second with a click at each (k+½)/8 s, made by the usual
// encoders, has its clicks at the right samples.
func TestClicks(t *testing.T) {
	for _, c := range []struct {
		file     string
		format   string
		rate     float64
		bits     int
		channels int
		late     int // samples: what the encoder puts before, where it does not say so
		slack    int // samples
	}{
		{"clicks.flac", "FLAC", 48000, 16, 1, 0, 0},
		{"clicks-24-bits-stereo.flac", "FLAC", 44100, 24, 2, 0, 0},
		{"clicks-8k.flac", "FLAC", 8000, 16, 1, 0, 0},
		{"clicks-192k.flac", "FLAC", 192000, 16, 1, 0, 0},
		{"clicks-8k.ogg", "Ogg Vorbis", 8000, 0, 1, 0, 1},
		{"clicks.ogg", "Ogg Vorbis", 44100, 0, 2, 0, 1},
		{"clicks-other.ogg", "Ogg Vorbis", 44100, 0, 2, 0, 1},
		{"clicks.opus", "Opus", 48000, 0, 1, 0, 4},
		{"clicks-stereo.opus", "Opus", 48000, 0, 2, 0, 6},
		{"clicks.mp3", "MP3", 48000, 0, 1, 0, 1},
		{"clicks-vbr-stereo.mp3", "MP3", 44100, 0, 2, 0, 1},
		{"clicks-24k.mp3", "MP3", 24000, 0, 1, 576 + 529, 1},
		{"clicks-22050.mp3", "MP3", 22050, 0, 1, 576 + 529, 1},
		{"clicks-22050-vbr-stereo.mp3", "MP3", 22050, 0, 2, 0, 1},
		{"clicks-16k.mp3", "MP3", 16000, 0, 1, 0, 1},
		{"clicks-11025.mp3", "MP3", 11025, 0, 1, 0, 1},
	} {
		for _, channel := range []int{0, c.channels} {
			o := ours
			o.Channel = channel
			s, err := Open(context.Background(), filepath.Join("testdata", c.file), o)
			if err != nil {
				t.Errorf("%s: %v", c.file, err)
				continue
			}
			x := floats(t, s)
			if i := s.Info(); i.Format != c.format || i.Rate != c.rate || s.Rate() != c.rate || i.Bits != c.bits || i.Channels != c.channels || len(s.Notes()) != 0 {
				t.Errorf("%s: %+v %q", c.file, i, s.Notes())
			}
			if d := len(x) - int(c.rate); d < 0 || c.format != "MP3" && d > 1 {
				t.Errorf("%s: %d samples", c.file, len(x))
			}
			at := clicksIn(x, c.rate)
			if len(at) != 8 {
				t.Errorf("%s: %d clicks, want 8", c.file, len(at))
				continue
			}
			for k, got := range at {
				if want := c.late + int(c.rate)/16 + k*int(c.rate)/8; got < want-c.slack || got > want+c.slack {
					t.Errorf("%s: click %d at sample %d, want %d ± %d", c.file, k, got, want, c.slack)
				}
			}
			if err := s.Close(); err != nil {
				t.Error(err)
			}
		}
	}
}

// TestPipe decodes what comes by drops, and as 16 bits.
func TestPipe(t *testing.T) {
	b, err := os.ReadFile("testdata/clicks.flac")
	if err != nil {
		t.Fatal(err)
	}
	x := whole(t, mustOpen(t, iotest.HalfReader(bytes.NewReader(b)), ours))
	if len(x) != 48000 || x[3000] != 20000 || x[2999] != 0 {
		t.Errorf("%d samples, %d %d at the first click", len(x), x[2999], x[3000])
	}
	tagged := append([]byte("ID3\x04\x00\x00\x00\x00\x00\x05hello"), b...)
	if x := whole(t, mustOpen(t, bytes.NewReader(tagged), ours)); len(x) != 48000 {
		t.Errorf("behind a tag: %d samples", len(x))
	}
}

// TestHostileFiles: every faulty file that lies beside the project, and those
// of ours, is refused in under a second with a sentence, and the memory of
// this process does not grow.
func TestHostileFiles(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(check.Shared(t, "data", "faulty"), "*"))
	if err != nil || len(files) < 13 {
		t.Fatal(len(files), err)
	}
	refuseAll(t, files)
}

func refuseAll(t *testing.T, files []string) {
	t.Helper()
	var before, after runtime.MemStats
	for _, f := range files {
		runtime.ReadMemStats(&before)
		begin := time.Now()
		s, err := Open(context.Background(), f, ours)
		if err == nil {
			_, err = io.ReadAll(asBytes{s})
			s.Close()
		}
		took := time.Since(begin)
		runtime.ReadMemStats(&after)
		var format *FormatError
		if !errors.As(err, &format) {
			t.Errorf("%s: %v", filepath.Base(f), err)
			continue
		}
		if grown := after.TotalAlloc - before.TotalAlloc; grown > 8<<20 {
			t.Errorf("%s: this process took %d bytes", filepath.Base(f), grown)
		}
		t.Logf("%v %s: %v", took.Round(time.Millisecond), filepath.Base(f), err)
	}
}

// asBytes reads a sound to its end without keeping it.
type asBytes struct{ s Sound }

func (a asBytes) Read(p []byte) (int, error) {
	_, err := a.s.ReadFloat(make([]float32, 4096))
	return 0, err
}

// TestDamaged: recordings of ours with one defect each. Those that have no
// sound are refused; those that have some end there, with a note.
func TestDamaged(t *testing.T) {
	for _, d := range damagedFiles(t) {
		s, err := OpenReader(context.Background(), bytes.NewReader(d.b), ours)
		n := 0
		if err == nil {
			n = len(floats(t, s))
			s.Close()
		}
		switch {
		case d.samples == 0:
			if err == nil {
				t.Errorf("%s: not refused, %d samples, %q", d.name, n, s.Notes())
			} else {
				wantSentence(t, d.name, err, d.words)
			}
		case err != nil:
			t.Errorf("%s: %v", d.name, err)
		case n < d.samples || n > 47000 || !strings.Contains(strings.Join(s.Notes(), " "), d.words):
			t.Errorf("%s: %d samples, notes %q, want %q", d.name, n, s.Notes(), d.words)
		}
	}
}

// TestDamagedFiles keeps the smaller of them in testdata/damaged, where other
// programs can be tried on them; SEATBOARD_WRITE_DAMAGED=1 writes them anew.
func TestDamagedFiles(t *testing.T) {
	for _, d := range damagedFiles(t) {
		if len(d.b) > 20_000 {
			continue
		}
		path := filepath.Join("testdata", "damaged", d.name)
		if os.Getenv("SEATBOARD_WRITE_DAMAGED") == "1" {
			if err := os.WriteFile(path, d.b, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if b, err := os.ReadFile(path); err != nil || !bytes.Equal(b, d.b) {
			t.Errorf("%s is not what the test makes: %v", path, err)
		}
	}
}

func wantSentence(t *testing.T, name string, err error, words string) {
	t.Helper()
	var format *FormatError
	if !errors.As(err, &format) || !strings.Contains(err.Error(), words) {
		t.Errorf("%s: %v, want %q", name, err, words)
	}
}

// TestChildLimits: a child that takes memory (where Go has room to say so, or
// not), stands still, or is another
// program, ends in an error; a cancelled context ends it.
func TestChildLimits(t *testing.T) {
	open := func(ctx context.Context, what string) error {
		_, err := Open(ctx, "testdata/clicks.flac", Options{Child: []string{os.Args[0], what}})
		return err
	}
	if runtime.GOOS == "linux" {
		wantSentence(t, "memory", open(context.Background(), "take-memory"), "This FLAC recording cannot be read")
	}
	if err := open(context.Background(), "babble"); !errors.Is(err, errWire) {
		t.Errorf("another program: %v", err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), 50*time.Millisecond)
	defer cancel()
	if err := open(ctx, "stand-still"); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("cancelled: %v", err)
	}
	t.Setenv(childMark, "1")
	if err := open(context.Background(), ChildCommand); err == nil || !strings.Contains(err.Error(), "does not start another") {
		t.Errorf("a child of a child: %v", err)
	}
}

// TestClosedEarly: closing in the middle leaves no child.
func TestClosedEarly(t *testing.T) {
	s := mustOpen(t, io.MultiReader(mustFile(t, "clicks.ogg")), ours)
	if _, err := s.ReadFloat(make([]float32, 10)); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	c := s.(*pcm).src.(*child)
	if c.cmd.ProcessState == nil {
		t.Error("the child has not ended")
	}
}

func mustFile(t testing.TB, name string) *bytes.Reader {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	return bytes.NewReader(b)
}

// TestSharedNoise reads the real recordings that lie beside the project.
func TestSharedNoise(t *testing.T) {
	for _, name := range []string{"city.ogg", "coffee-shop.ogg", "perc_bell.wav"} {
		s, err := Open(context.Background(), check.Shared(t, "data", "noise", name), ours)
		if err != nil {
			t.Fatal(err)
		}
		x := floats(t, s)
		if float64(len(x)) < 2*s.Rate() || len(s.Notes()) != 0 {
			t.Errorf("%s: %d samples, %+v, %q", name, len(x), s.Info(), s.Notes())
		}
		t.Logf("%s: %.1f s, %+v", name, float64(len(x))/s.Rate(), s.Info())
		s.Close()
	}
}
