package synth

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"io"
	"math"
	"reflect"
	"strings"
	"testing"

	"seatboard/internal/kit/meas"
)

// eventful is a recipe with a little of everything.
func eventful() Recipe {
	r := T2(Everything, 11)
	r.Length, r.Silent, r.Extra = 12, 0.1, 0.1
	r.Strikes[0].At = 3
	r.Stops = []Stop{{6, 1.5}}
	r.Slips = []Slip{{2, -480}, {4, 960}, {9, 300}}
	r.Zeros = []Stretch{{5, 0.01}}
	r.Loop = 10
	return r
}

func TestSameSamplesHoweverRead(t *testing.T) {
	want := heard(t, made(t, eventful()))
	for _, size := range []int{1, 77, 100000} {
		rec := made(t, eventful())
		chunk := make([]float32, size)
		at := 0
		for {
			n, err := rec.ReadFloat(chunk)
			for i, v := range chunk[:n] {
				if v != want[at+i] {
					t.Fatalf("in pieces of %d sample %d is %v, want %v", size, at+i, v, want[at+i])
				}
			}
			at += n
			if errors.Is(err, io.EOF) {
				break
			}
		}
		if at != len(want) {
			t.Fatalf("in pieces of %d there are %d samples, want %d", size, at, len(want))
		}
		if n, err := rec.ReadFloat(chunk); n != 0 || !errors.Is(err, io.EOF) {
			t.Errorf("after the end: %d, %v", n, err)
		}
	}
}

func TestSixteenBitsAreTheFloatsRounded(t *testing.T) {
	r := eventful()
	r.Peak = 0.9 // some of it is clipped
	want := heard(t, made(t, r))
	rec := made(t, r)
	got := make([]int16, len(want)+5)
	n, err := rec.ReadInt16(got)
	if n != len(want) || !errors.Is(err, io.EOF) {
		t.Fatalf("%d samples and %v, want %d and the end", n, err, len(want))
	}
	full := 0
	for i, v := range want {
		x := math.Max(-32768, math.Min(32767, float64(v)*32768))
		if math.Abs(float64(got[i])-x) > 0.5 {
			t.Fatalf("sample %d is %d, want %v", i, got[i], x)
		}
		if got[i] == 32767 || got[i] == -32768 {
			full++
		}
	}
	if full == 0 {
		t.Error("nothing is clipped; the test looks at nothing")
	}
}

func TestRoundingAtTheEdges(t *testing.T) {
	for _, c := range []struct {
		x    float32
		want int16
	}{{0, 0}, {1, 32767}, {2, 32767}, {-1, -32768}, {-3, -32768}, {1.4 / 32768, 1}, {-1.4 / 32768, -1}, {1.6 / 32768, 2}, {-1.6 / 32768, -2}, {-32767.6 / 32768, -32768}} {
		if got := toInt16(c.x); got != c.want {
			t.Errorf("%v gives %d, want %d", c.x, got, c.want)
		}
	}
}

func TestSeedsMatter(t *testing.T) {
	r := T1(1, 20)
	r.Length = 2
	a := heard(t, made(t, r))
	for name, change := range map[string]func(*Recipe){"seed": func(r *Recipe) { r.Seed++ }, "shape": func(r *Recipe) { r.Shape++ }} {
		other := r
		change(&other)
		if reflect.DeepEqual(a, heard(t, made(t, other))) {
			t.Errorf("another %s gives the same sound", name)
		}
	}
}

// A recording of days takes no more memory than one of minutes: what is held
// does not know the length.
func TestReadingAllocatesNothing(t *testing.T) {
	r := T1(1, 20)
	r.Length = 48 * 3600
	rec := made(t, r)
	second := make([]int16, 48000)
	rec.ReadInt16(second)
	if n := testing.AllocsPerRun(20, func() { rec.ReadInt16(second) }); n > 4 {
		t.Errorf("%v allocations a second of sound, want hardly any", n)
	}
}

// Within the Gaussian's reach and past it the ring is the modes smoothed: it
// is held to the plain sum over a longer stretch.
func TestRingIsTheSmoothedModes(t *testing.T) {
	const rate = 48000.0
	modes := []mode{{700, 5e-3, 0.7}, {3000, 2e-3, 1}, {9000, 1e-3, 0.5}}
	got := ring(rate, modes, 1, chance(1, 1))
	step := 1 / (over * rate)
	rng := chance(1, 1)
	raw := make([]float64, 8000)
	for _, m := range modes {
		a, phase := m.weight*between(rng, 0.5, 1), 2*math.Pi*rng.Float64()
		for i := range raw {
			x := float64(i) * step
			raw[i] += a * math.Exp(-x/m.tau) * math.Cos(2*math.Pi*m.hz*x+phase)
		}
	}
	raw[0] /= 2
	sd := onset / step
	smooth := func(i int) float64 {
		sum, weight := 0.0, 0.0
		for j := -184; j <= 184; j++ {
			g := math.Exp(-float64(j*j) / (2 * sd * sd))
			weight += g
			if k := i - j; k >= 0 && k < len(raw) {
				sum += g * raw[k]
			}
		}
		return sum / weight
	}
	scale := float64(got.y[got.origin+400]) / smooth(400)
	for i := -180; i < 7000; i += 7 {
		if d := float64(got.y[got.origin+i]) - scale*smooth(i); math.Abs(d) > 1e-5 {
			t.Fatalf("point %d is off by %g", i, d)
		}
	}
}

// Nothing of weight lies near half the sampling rate.
func TestSoundIsBandLimited(t *testing.T) {
	for shape := range uint64(2) {
		rec := made(t, Recipe{Shape: shape})
		w := rec.voices[0].whole
		y := make([]float32, w.points)
		for i := range y {
			y[i] = float32(w.point(i))
		}
		top := 0.0
		for hz := 400.0; hz < 11000; hz += 200 {
			top = math.Max(top, goertzel(y, hz, over*48000))
		}
		got := decibel(goertzel(y, 24000, over*48000) / top)
		if got > -60 {
			t.Errorf("shape %d: at half the sampling rate %.0f dB, want below −60", shape, got)
		}
		t.Logf("shape %d: %.0f dB", shape, got)
	}
}

func TestWAV(t *testing.T) {
	r := T1(1, 20)
	r.Length = 1
	var out bytes.Buffer
	if err := WriteWAV(&out, made(t, r), 48000); err != nil {
		t.Fatal(err)
	}
	b := out.Bytes()
	le := binary.LittleEndian
	if len(b) != 44+96000 || string(b[:4]) != "RIFF" || string(b[8:16]) != "WAVEfmt " || string(b[36:40]) != "data" {
		t.Fatalf("%d bytes, head %q", len(b), b[:44])
	}
	for _, f := range []struct {
		name      string
		got, want uint32
	}{
		{"size", le.Uint32(b[4:]), 96036}, {"format size", le.Uint32(b[16:]), 16}, {"format", uint32(le.Uint16(b[20:])), 1}, {"channels", uint32(le.Uint16(b[22:])), 1},
		{"rate", le.Uint32(b[24:]), 48000}, {"bytes a second", le.Uint32(b[28:]), 96000}, {"frame", uint32(le.Uint16(b[32:])), 2}, {"bits", uint32(le.Uint16(b[34:])), 16},
		{"data", le.Uint32(b[40:]), 96000},
	} {
		if f.got != f.want {
			t.Errorf("%s is %d, want %d", f.name, f.got, f.want)
		}
	}
	want := make([]int16, 48000)
	made(t, r).ReadInt16(want)
	for i, v := range want {
		if got := int16(le.Uint16(b[44+2*i:])); got != v {
			t.Fatalf("sample %d is %d, want %d", i, got, v)
		}
	}
}

func TestWAVThatCannotBe(t *testing.T) {
	r := Recipe{Length: 1}
	if err := WriteWAV(io.Discard, made(t, r), 1<<31); !errors.Is(err, ErrTooLong) {
		t.Errorf("4 GiB: %v", err)
	}
	if err := WriteWAV(io.Discard, made(t, r), 48001); !errors.Is(err, io.ErrUnexpectedEOF) {
		t.Errorf("more than there is: %v", err)
	}
	if err := WriteWAV(full{}, made(t, r), 48000); !errors.Is(err, errFull) {
		t.Errorf("a full disk: %v", err)
	}
}

var errFull = errors.New("full")

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errFull }

func TestRecipeGoesThroughJSON(t *testing.T) {
	want := eventful()
	b, err := json.Marshal(want)
	if err != nil {
		t.Fatal(err)
	}
	var got Recipe
	if err := json.Unmarshal(b, &got); err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("through JSON it is %+v, want %+v", got, want)
	}
	if b, _ = json.Marshal(Recipe{}); string(b) != "{}" {
		t.Errorf("the zero recipe is %s", b)
	}
}

func TestCasesPassTheirCheck(t *testing.T) {
	list := []Recipe{{}, {Clock: Clock{NoClock: true}}, eventful(), T4(20, 20e-6, 600), T4(10, 150e-6, 1800), T7(0, 3600, 1e-3, 5e-5)}
	for s := range 41 {
		list = append(list, T1(s, -12), T3(s, 0), T6(s, -6))
	}
	for _, s := range append(Scenarios(), Plain) {
		list = append(list, T2(s, 13), T5(1, s))
	}
	for i, r := range list {
		if f := r.Check(); f != nil {
			t.Errorf("case %d: %v", i, f)
		}
	}
	if n := len(Scenarios()); n != 16 || PoorMovement.String() != "P poor movement" || Plain.String() != "plain" {
		t.Errorf("%d scenarios, the last is %v", n, PoorMovement)
	}
}

func TestFaultsAreNamed(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		field  string
		change func(*Recipe)
	}{
		{"sample_rate", func(r *Recipe) { r.SampleRate = 4000 }},
		{"sample_rate", func(r *Recipe) { r.SampleRate = nan }},
		{"length", func(r *Recipe) { r.Length = -1 }},
		{"length", func(r *Recipe) { r.Length = 1e9 }},
		{"peak", func(r *Recipe) { r.Peak = 1.5 }},
		{"beat", func(r *Recipe) { r.Beat = 0.01 }},
		{"beat", func(r *Recipe) { r.Beat = -1 }},
		{"rate", func(r *Recipe) { r.Rate = -1 }},
		{"start", func(r *Recipe) { r.Start = -1 }},
		{"silent", func(r *Recipe) { r.Silent = 1.1 }},
		{"extra", func(r *Recipe) { r.Extra = nan }},
		{"teeth", func(r *Recipe) { r.Teeth = -3 }},
		{"teeth", func(r *Recipe) { r.ToothSpread = 1e-3 }},
		{"tooth_errors", func(r *Recipe) { r.ToothErrors = []ToothError{{0, 1e-3}} }},
		{"tooth_errors", func(r *Recipe) { r.Teeth, r.ToothErrors = 30, []ToothError{{60, 1e-3}} }},
		{"beat_error", func(r *Recipe) { r.Teeth, r.ToothErrors = 30, []ToothError{{6, 2}} }},
		{"arbors", func(r *Recipe) { r.Arbors = []Arbor{{Amplitude: 1e-3}} }},
		{"arbors", func(r *Recipe) { r.Arbors = []Arbor{{1e-3, 5, 0}, {1e-3, inf, 0}} }},
		{"beat_error", func(r *Recipe) { r.BeatError = 1.2 }},
		{"beat_error", func(r *Recipe) { r.Arbors = []Arbor{{0.5, 90, 0}} }},
		{"scatter_pm", func(r *Recipe) { r.ScatterPM = 0.1 }},
		{"scatter_fm", func(r *Recipe) { r.ScatterFM = -1e-6 }},
		{"stops", func(r *Recipe) { r.Stops = []Stop{{10, 5}, {12, 0}} }},
		{"stops", func(r *Recipe) { r.Stops = []Stop{{10, 0}, {12, 0}}; r.Stops[0].For = -1 }},
		{"strikes", func(r *Recipe) { r.Strikes = []Strike{{At: 5}} }},
		{"strikes", func(r *Recipe) { r.Strikes = []Strike{{At: 5, Blows: 12}, {At: 6, Blows: 1}} }},
		{"amplitude_spread", func(r *Recipe) { r.AmplitudeSpread = 2 }},
		{"impact_spread", func(r *Recipe) { r.ImpactSpread = 1 }},
		{"rt60", func(r *Recipe) { r.RT60 = 50 }},
		{"direct", func(r *Recipe) { r.Direct = -60 }},
		{"snr", func(r *Recipe) { r.SNR = DB(nan) }},
		{"snr", func(r *Recipe) { r.SNR = DB(-80) }},
		{"pink", func(r *Recipe) { r.Pink = DB(80) }},
		{"hum", func(r *Recipe) { r.Hum = DB(inf) }},
		{"speech", func(r *Recipe) { r.Speech = DB(50) }},
		{"hum_hz", func(r *Recipe) { r.HumHz = 1 }},
		{"click_rate", func(r *Recipe) { r.ClickRate = 1e6 }},
		{"click_level", func(r *Recipe) { r.ClickLevel = 90 }},
		{"clip_at", func(r *Recipe) { r.ClipAt = -1 }},
		{"clock_error", func(r *Recipe) { r.ClockError = 0.5 }},
		{"loop", func(r *Recipe) { r.Loop = 1000 }},
		{"slips", func(r *Recipe) { r.Slips = []Slip{{5, 0}} }},
		{"slips", func(r *Recipe) { r.Slips = []Slip{{5, 10}, {4, 10}} }},
		{"slips", func(r *Recipe) { r.Slips = []Slip{{1, 48001}} }},
		{"slips", func(r *Recipe) { r.Slips = []Slip{{1, 40000}, {1.1, 40000}} }},
		{"slips", func(r *Recipe) { r.Slips = []Slip{{50, math.MinInt64}} }},
		{"zeros", func(r *Recipe) { r.Zeros = []Stretch{{5, 0}} }},
	} {
		var r Recipe
		c.change(&r)
		f := r.Check()
		found := false
		for _, x := range f {
			found = found || x.Field == c.field
			if x.Text == "" || strings.HasSuffix(x.Text, ".") {
				t.Errorf("%s: the sentence %q", c.field, x.Text)
			}
		}
		if !found {
			t.Errorf("%s: faults %v", c.field, f)
		}
		_, err := New(r)
		var faults meas.Faults
		if !errors.As(err, &faults) {
			t.Errorf("%s: New gives %v", c.field, err)
		}
		if Beats(r) != nil {
			t.Errorf("%s: there are beats", c.field)
		}
	}
}
