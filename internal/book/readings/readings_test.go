package readings

import (
	"bytes"
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/kit/unit"
)

// heard invents beats of a clock: period, beat error, scatter of each beat
// and the uncertainty stated, all in seconds.
func heard(n int, period, beatError, scatter, u float64) []beat.Beat {
	r := rand.New(rand.NewPCG(7, 7))
	out := make([]beat.Beat, n)
	for i := range out {
		at := 1.25 + float64(i)*period*(1+3e-5) + scatter*r.NormFloat64()
		if i%2 == 1 {
			at += beatError
		}
		out[i] = beat.Beat{At: unit.Duration(at), U: unit.Duration(u * (1 + 0.1*r.NormFloat64())), N: int64(i)}
	}
	return out
}

// sameBeats fails where a time is off by more than half a nanosecond
// and what a float64 cannot tell, or anything else at all.
func sameBeats(t interface{ Fatalf(string, ...any) }, want, got []beat.Beat) {
	if len(got) != len(want) {
		t.Fatalf("%d beats came back of %d", len(got), len(want))
	}
	for i := range want {
		w, g := want[i], got[i]
		if math.Abs(float64(w.At-g.At)) > 0.5e-9+4.5e-16*math.Abs(float64(w.At)) || math.Abs(float64(w.U-g.U)) > 0.51e-9 || w.N != g.N || w.Run != g.Run {
			t.Fatalf("beat %d: %+v came back as %+v", i, w, g)
		}
	}
}

func TestBeatsComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var beats []beat.Beat
		for range rapid.IntRange(0, 40).Draw(t, "beats") {
			beats = append(beats, beat.Beat{
				At:  unit.Duration(rapid.OneOf(rapid.Float64Range(0, 100), rapid.Float64Range(-4.19e6, 4.19e6)).Draw(t, "at")),
				U:   unit.Duration(rapid.Float64Range(0, 1e-3).Draw(t, "u")),
				N:   rapid.OneOf(rapid.Int64Range(0, 9), rapid.Int64()).Draw(t, "n"),
				Run: rapid.OneOf(rapid.IntRange(0, 1), rapid.IntRange(math.MinInt32, math.MaxInt32)).Draw(t, "run"),
			})
		}
		b := Encode(beats)
		got, err := Decode(b)
		if err != nil {
			t.Fatal(err)
		}
		sameBeats(t, beats, got)
		if again := Encode(got); !bytes.Equal(again, b) {
			t.Fatal("what came back is packed otherwise")
		}
	})
}

// A beat takes 5 bytes or fewer at the scatter of a clock on the stand.
func TestBeatsAreSmall(t *testing.T) {
	for _, c := range []struct{ period, beatError, scatter, u, most float64 }{
		{1, 9e-3, 20e-6, 0.2e-6, 4.2},
		{0.5, 10e-3, 150e-6, 0.7e-6, 5},
		{0.2, 40e-3, 300e-6, 2.5e-6, 5.4},
		{1, 12e-3, 1e-3, 0.1e-6, 5.2},
	} {
		beats := heard(3600, c.period, c.beatError, c.scatter, c.u)
		b := Encode(beats)
		each := float64(len(b)) / float64(len(beats))
		t.Logf("scatter %.0f µs, stated %.1f µs: %.2f bytes a beat", c.scatter*1e6, c.u*1e6, each)
		if each > c.most {
			t.Errorf("scatter %v: %.2f bytes a beat, more than %v", c.scatter, each, c.most)
		}
		got, err := Decode(b)
		if err != nil {
			t.Fatal(err)
		}
		sameBeats(t, beats, got)
	}
}

// The bytes of two beats, written out by the package comment.
func TestBeatsFormat(t *testing.T) {
	beats := []beat.Beat{{At: 3e-9, U: 1e-9}, {At: 5e-9, U: 1e-9, N: 2, Run: 1}}
	want := []byte{1, 2,
		12, 2, // 3 ns after 0: zigzag 6, doubled; uncertainty 1: 2
		9, 2, 2, 0} // 2 ns after 3, no interval two before: zigzag 4, doubled, 1; ΔN − 1 = 1; Δrun = 1; Δu = 0
	if got := Encode(beats); !bytes.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestBeatsThatCannotBeKept(t *testing.T) {
	nan := unit.Duration(math.NaN())
	got, err := Decode(Encode([]beat.Beat{{At: nan}, {At: 1, U: nan}, {At: unit.Duration(math.Inf(1))}, {At: 5e6}, {At: 2, U: -1, N: 1}}))
	want := []beat.Beat{{At: 1}, {At: 2, N: 1}}
	if d := cmp.Diff(want, got); d != "" || err != nil {
		t.Errorf("%v %s", err, d)
	}
}

func TestDecodeRefuses(t *testing.T) {
	whole := Encode(heard(20, 1, 0, 1e-4, 1e-6))
	bad := map[string][]byte{
		"nothing": {}, "other format": {2, 0}, "no count": {1}, "count without beats": {1, 200, 200, 3},
		"huge count": {1, 255, 255, 255, 255, 255, 255, 255, 255, 255, 1}, "cut": whole[:len(whole)-1], "more": append(bytes.Clone(whole), 0),
		"time out of range": {1, 1, 254, 255, 255, 255, 255, 255, 255, 255, 255, 1, 0}, "uncertainty below 0": {1, 1, 0, 1},
	}
	for name, b := range bad {
		if got, err := Decode(b); !errors.Is(err, ErrBeats) || got != nil {
			t.Errorf("%s: %v, %v", name, got, err)
		}
	}
}

func FuzzDecode(f *testing.F) {
	f.Add(Encode(nil))
	f.Add(Encode(heard(9, 0.5, 1e-2, 1e-4, 1e-6)))
	f.Add(Encode([]beat.Beat{{At: -3, N: math.MinInt64, Run: -1}, {At: 4e6, N: math.MaxInt64}}))
	f.Fuzz(func(t *testing.T, b []byte) {
		beats, err := Decode(b)
		if err != nil {
			if !errors.Is(err, ErrBeats) {
				t.Fatalf("%v", err)
			}
			return
		}
		again, err := Decode(Encode(beats))
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(beats, again); d != "" {
			t.Fatal(d)
		}
	})
}

func TestCheck(t *testing.T) {
	good := Listening{UID: "0123456789abcdef", Verdict: beat.Regular, Path: File, Settings: `{"echoCancellation":false}`, Answer: "{}", Clock: sampleclock.Unknown()}
	if f := good.Check(); len(f) > 0 {
		t.Errorf("%v", f)
	}
	for field, change := range map[string]func(*Listening){
		"uid":                func(l *Listening) { l.UID = "x" },
		"audio":              func(l *Listening) { l.Audio = "../../etc/passwd" },
		"settings":           func(l *Listening) { l.Settings = "{" },
		"answer":             func(l *Listening) { l.Answer = strings.Repeat(" ", MaxAnswer) + "{}" },
		"note":               func(l *Listening) { l.Note = "a\x00b" },
		"source":             func(l *Listening) { l.Source = "\xff" },
		"length":             func(l *Listening) { l.Length = unit.Duration(math.NaN()) },
		"rate":               func(l *Listening) { l.Rate = -1 },
		"sample_clock.error": func(l *Listening) { l.Clock.Error = 2 },
		"sample_clock.limit": func(l *Listening) { l.Clock.Limit = unit.Rate(math.Inf(1)) },
		"started":            func(l *Listening) { l.Started = time.Date(99999, 1, 1, 0, 0, 0, 0, time.UTC) },
	} {
		l := good
		change(&l)
		found := false
		for _, f := range l.Check() {
			found = found || f.Field == field
		}
		if !found {
			t.Errorf("%s was taken: %v", field, l.Check())
		}
	}
	if f := (Calibration{Device: " ", Clock: sampleclock.Clock{Limit: -1}}).Check(); len(f) != 2 {
		t.Errorf("%v", f)
	}
}

func BenchmarkEncode(b *testing.B) {
	beats := heard(86400, 1, 9e-3, 1e-4, 1e-6)
	for b.Loop() {
		Encode(beats)
	}
}

func BenchmarkDecode(b *testing.B) {
	p := Encode(heard(86400, 1, 9e-3, 1e-4, 1e-6))
	for b.Loop() {
		if _, err := Decode(p); err != nil {
			b.Fatal(err)
		}
	}
}
