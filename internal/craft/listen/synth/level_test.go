package synth

import (
	"math"
	"testing"

	"seatboard/internal/kit/unit"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.4g, want %.4g within %g", what, got, want, within)
	}
}

func decibel(x float64) float64 { return 10 * math.Log10(x) }

func meanSquare(x []float32) float64 {
	sum := 0.0
	for _, v := range x {
		sum += float64(v) * float64(v)
	}
	return sum / float64(len(x))
}

// tickPower is the mean square over the 10 ms after the main impact of the
// beats of one side, in the dry and quiet recording.
func tickPower(t *testing.T, r Recipe, side int64) float64 {
	t.Helper()
	r.Noise, r.RT60, r.Strikes, r.ClipAt = Noise{}, 0, nil, 0
	rec := made(t, r)
	x := heard(t, rec)
	sum, n := 0.0, 0
	for _, b := range rec.Truth().Beats {
		i := int(math.Ceil(float64(b.At) * rec.Rate()))
		if j := i + int(0.010*rec.Rate()); b.K&1 == side && j < len(x) {
			sum += meanSquare(x[i:j])
			n++
		}
	}
	return sum / float64(n)
}

// alone is the noise of a recipe without the clock.
func alone(t *testing.T, r Recipe) []float32 {
	t.Helper()
	r.NoClock = true
	return heard(t, made(t, r))
}

func TestSNRIsAsStated(t *testing.T) {
	for _, snr := range []float64{30, 10, -12} {
		for shape := uint64(1); shape <= 2; shape++ {
			r := T1(1, snr)
			r.Shape, r.Length, r.Peak = shape, 20, 0.3
			noise := meanSquare(alone(t, r))
			for side := range int64(2) {
				near(t, "the ratio in dB", decibel(tickPower(t, r, side)/noise), snr, 0.1)
			}
		}
	}
}

func TestLevelsOfPinkHumAndSpeech(t *testing.T) {
	r := Recipe{Seed: 3, Shape: 1, Length: 60, Peak: 0.01}
	tick := tickPower(t, r, 0)
	for _, c := range []struct {
		name   string
		noise  Noise
		within float64
	}{
		{"pink", Noise{Pink: DB(-7)}, 0.5}, {"hum", Noise{Hum: DB(-7)}, 0.02}, {"speech", Noise{Speech: DB(-7)}, 2},
	} {
		r.Noise = c.noise
		near(t, c.name+" in dB", decibel(meanSquare(alone(t, r))/tick), -7, c.within)
	}
}

// goertzel is the mean square of a tone in x.
func goertzel(x []float32, hz, rate float64) float64 {
	var re, im float64
	for i, v := range x {
		s, c := math.Sincos(2 * math.Pi * hz / rate * float64(i))
		re, im = re+float64(v)*c, im+float64(v)*s
	}
	n := float64(len(x))
	return 2 * (re*re + im*im) / (n * n)
}

func TestHumStandsAtItsFrequency(t *testing.T) {
	x := alone(t, Recipe{Length: 100, Noise: Noise{Hum: DB(0)}})
	at, beside := goertzel(x, 50.013, 48000), goertzel(x, 50.0, 48000)
	if share := at / meanSquare(x); share < 0.4 || share > 0.7 {
		t.Errorf("the fundamental is %.3g of the hum", share)
	}
	if beside > 0.1*at {
		t.Errorf("at 50.000 Hz there is %.2g of what is at 50.013 Hz", beside/at)
	}
}

func TestPinkFallsByThreeDecibelsAnOctave(t *testing.T) {
	x := alone(t, Recipe{Seed: 9, Length: 30, Noise: Noise{Pink: DB(0)}})
	var level []float64
	for hz := 50.0; hz <= 12800; hz *= 4 {
		sum := 0.0
		const piece = 4800
		for i := 0; i+piece <= len(x); i += piece {
			sum += goertzel(x[i:i+piece], hz, 48000)
		}
		level = append(level, decibel(sum))
	}
	for i := 1; i < len(level); i++ {
		near(t, "the fall over two octaves in dB", level[i]-level[i-1], -6.02, 0.9)
	}
}

func TestClicks(t *testing.T) {
	r := Recipe{Seed: 2, Length: 120, Peak: 0.05, Noise: Noise{ClickRate: 5, ClickLevel: 10}}
	x := alone(t, r)
	count, last, peak := 0, -48000, 0.0
	for i, v := range x {
		a := math.Abs(float64(v))
		peak = math.Max(peak, a)
		if a > 0.5*0.05*amplitude(10) {
			if i-last > 240 {
				count++
			}
			last = i
		}
	}
	if count < 500 || count > 680 {
		t.Errorf("%d clicks in 120 s, want about 600 less those too close to part", count)
	}
	near(t, "the peak in dB against the tick", 2*decibel(peak/0.05), 13, 3.1) // two may fall together
}

func TestStrikeRings(t *testing.T) {
	r := Recipe{Seed: 2, Length: 30, Peak: 0.1, Clock: Clock{Strikes: []Strike{{At: 5, Blows: 3, Every: 2, Level: 6}}}}
	x := alone(t, r)
	if got := meanSquare(x[:5*48000]); got != 0 {
		t.Errorf("there is sound before the strike: %g", got)
	}
	for blow := range 3 {
		i := (5 + 2*blow) * 48000
		peak := 0.0
		for _, v := range x[i-10 : i+4800] {
			peak = math.Max(peak, math.Abs(float64(v)))
		}
		if peak < 0.1 || peak > 0.1*amplitude(6)*1.8 {
			t.Errorf("blow %d has a peak of %.3g, want about %.3g", blow+1, peak, 0.1*amplitude(6))
		}
		if blow > 0 && meanSquare(x[i:i+9600]) < 1.5*meanSquare(x[i-9600:i-100]) {
			t.Errorf("blow %d does not stand out", blow+1)
		}
	}
	if got := meanSquare(x[29*48000:]); got > 1e-9 {
		t.Errorf("the bell does not die away: %g", got)
	}
}

func TestClippingAndZeros(t *testing.T) {
	r := Recipe{Shape: 2, Length: 10, Peak: 0.4, Noise: Noise{SNR: DB(20)}, Recorder: Recorder{ClipAt: 0.25, Zeros: []Stretch{{3, 0.5}}}}
	x := heard(t, made(t, r))
	most, at := float32(0), 0
	for i, v := range x {
		if zero := i >= 3*48000 && i < 3.5*48000; zero != (v == 0) {
			t.Fatalf("sample %d is %v", i, v)
		}
		if a := max(v, -v); a > most {
			most = a
		}
		if v == 0.1 || v == -0.1 {
			at++
		}
	}
	near(t, "the greatest sample", float64(most), 0.1, 1e-7)
	if at < 20 {
		t.Errorf("only %d samples are cut", at)
	}
}

func TestPeakIsAsStated(t *testing.T) {
	for shape := range uint64(5) {
		x := heard(t, made(t, Recipe{Shape: shape, Length: 40, Peak: 0.3, Clock: Clock{Rate: 1e-4}}))
		peak := float32(0)
		for _, v := range x {
			peak = max(peak, v, -v)
		}
		near(t, "the peak", float64(peak), 0.3, 0.003)
	}
}

// A peak that is left open leaves room for all: hardly a sample at full scale.
func TestChosenPeakLeavesRoom(t *testing.T) {
	list := []Recipe{T1(1, -12), T1(2, 30), T4(10, 2e-5, 10)}
	for _, s := range []Scenario{CloseSpeech, ManyClicks, LoudClicks, Striking, Everything} {
		list = append(list, T2(s, 11))
	}
	for _, r := range list {
		r.Length = 5
		for i := range r.Strikes {
			r.Strikes[i].At = 2
		}
		full := 0
		x := heard(t, made(t, r))
		for _, v := range x {
			if v >= 1 || v < -1 {
				full++
			}
		}
		if full > len(x)/10000 {
			t.Errorf("%d of %d samples of %+v are at full scale", full, len(x), r.Noise)
		}
	}
}

func TestRoomHasItsEnergy(t *testing.T) {
	r := Recipe{Shape: 4, SampleRate: 48000, Sound: Sound{RT60: 0.5, Direct: -6}}
	e := newRoom(r)
	sum, late := 0.0, 0.0
	for i, g := range e.gain {
		sum += float64(g) * float64(g)
		if float64(e.delay[i]) > 0.25*48000*over {
			late += float64(g) * float64(g)
		}
	}
	near(t, "the echo against the direct sound in dB", decibel(sum), 6, 0.01)
	if share := decibel(late / sum); share > -20 || share < -40 {
		t.Errorf("after half its time the echo has %.1f dB left to come, want about −30", share)
	}
}

func TestAmplitudeAndImpactSpread(t *testing.T) {
	r := Recipe{Seed: 8, Shape: 1, Length: 100, Clock: Clock{Beat: 0.25}, Sound: Sound{AmplitudeSpread: 0.1}}
	rec := made(t, r)
	x := heard(t, rec)
	var gains []float64
	for _, b := range rec.Truth().Beats {
		if b.At < r.Length-0.1 {
			_, g := fit(x, rec.voices[b.K&1].whole, float64(b.At)*48000, rec.peak)
			gains = append(gains, g)
		}
	}
	mean, sd := moments(gains)
	near(t, "the mean strength", mean, 1, 0.015)
	near(t, "the spread of the strength", sd, 0.1, 0.012)
}

// The main impact keeps its place when the others do not.
func TestImpactSpreadLeavesTheMainImpact(t *testing.T) {
	r := Recipe{Seed: 8, Shape: 1, Length: 20, Sound: Sound{ImpactSpread: 200e-6}}
	jittered, calm := heard(t, made(t, r)), Recipe{}
	calm = r
	calm.ImpactSpread = 0
	rec := made(t, calm)
	still := heard(t, rec)
	for _, b := range rec.Truth().Beats[:18] {
		at := float64(b.At) * 48000
		i := int(at)
		differ, same := 0.0, 0.0
		for n := i - 600; n < i+2400; n++ {
			differ = math.Max(differ, math.Abs(float64(jittered[n]-still[n])))
		}
		for n := i - 4; n < i+60; n++ {
			same = math.Max(same, math.Abs(float64(jittered[n]-still[n])))
		}
		if differ < 0.02*rec.peak || same > 0.25*rec.peak {
			t.Errorf("beat at %v: impacts differ by %.3g, the main one by %.3g", b.At, differ, same)
		}
	}
}

func moments(x []float64) (mean, sd float64) {
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for _, v := range x {
		sd += (v - mean) * (v - mean) / float64(len(x)-1)
	}
	return mean, math.Sqrt(sd)
}

// An estimator that knows the sound reaches the bound in white noise.
func TestBoundIsReached(t *testing.T) {
	for _, c := range []struct {
		snr    float64
		change func(*Recipe)
	}{{20, func(*Recipe) {}}, {10, func(r *Recipe) { r.RT60, r.Direct = 0.02, 0 }}} {
		r := Recipe{Seed: 6, Shape: 7, Length: 100, Clock: Clock{Beat: 0.25, Rate: 1e-4}, Noise: Noise{SNR: DB(c.snr)}}
		c.change(&r)
		rec := made(t, r)
		bound := rec.CRLB()
		x := heard(t, rec)
		var late [2][]float64
		for _, b := range rec.Truth().Beats {
			if b.At < r.Length-0.1 && b.At > 0.1 {
				d, _ := fit(x, rec.voices[b.K&1].whole, float64(b.At)*48000, rec.peak)
				late[b.K&1] = append(late[b.K&1], d/48000)
			}
		}
		for side := range late {
			mean, sd := moments(late[side])
			n := math.Sqrt(float64(len(late[side])))
			near(t, "scatter over the bound", sd/float64(bound[side]), 1, 3.5/math.Sqrt2/n)
			near(t, "bias over the bound", mean/float64(bound[side]), 0, 3.5/n)
		}
	}
	if got := CRLB(Recipe{Length: 1}); got != [2]unit.Duration{} {
		t.Errorf("without white noise the bound is %v, want 0", got)
	}
}
