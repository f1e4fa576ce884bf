package sampleclock

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"testing"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func TestStepsAreFoundAndNeverBecomeRate(t *testing.T) {
	for _, c := range []struct {
		name  string
		delay func(*rand.Rand) float64
		sizes []float64 // ms
	}{
		{"exponential 5 ms", exponential(5e-3), []float64{-1024. / 48, -10, 10, -2.7, 20}},
		{"exponential 20 ms", exponential(20e-3), []float64{-1024. / 48, -10, 10, -5, 20}},
		{"gamma 15 ms", gamma(15e-3), []float64{-1024. / 48, 21, -20}},
		{"outliers", outliers, []float64{-1024. / 48, -10, 10, -2.7}},
	} {
		for seed := range 5 {
			m := base()
			m.delay, m.length, m.seed, m.wander, m.settle = c.delay, 1800, uint64(seed+1), 0.2e-3, 300
			for i, ms := range c.sizes {
				m.steps = append(m.steps, simStep{200 + 300*float64(i) + 3.7*float64(seed), ms / 1e3})
			}
			fit := m.fit(HostOf(NearServer))
			if len(fit.Steps) != len(m.steps) {
				t.Errorf("%s %d: %d steps, want %d: %v", c.name, seed, len(fit.Steps), len(m.steps), fit.Steps)
				continue
			}
			for i, s := range fit.Steps {
				if d := math.Abs(float64(s.Size) - m.steps[i].size); d > 3e-3 && d > 0.2*math.Abs(m.steps[i].size) {
					t.Errorf("%s %d: step of %.4f s, want %.4f", c.name, seed, s.Size, m.steps[i].size)
				}
				if d := float64(s.Frame)/48000 - m.steps[i].at; math.Abs(d) > 12 {
					t.Errorf("%s %d: step placed %.1f s away", c.name, seed, d)
				}
			}
			if d := math.Abs(float64(fit.Clock.Error) - m.err); d > 2*float64(fit.Clock.Limit) || fit.Clock.Limit > 3*ppm {
				t.Errorf("%s %d: error %.2f ppm, want 23, limit %.2f", c.name, seed, fit.Clock.Error/ppm, fit.Clock.Limit/ppm)
			}
		}
	}
}

func TestPlaceOfAStep(t *testing.T) {
	for _, size := range []float64{-0.02, 0.02} {
		m := base()
		m.steps = []simStep{{307.4, size}}
		fit := m.fit(HostOf(Perfect))
		if len(fit.Steps) != 1 {
			t.Fatalf("%d steps, want 1", len(fit.Steps))
		}
		if d := float64(fit.Steps[0].Frame)/48000 - 307.4; math.Abs(d) > 1.1 {
			t.Errorf("step of %.2f s placed %.2f s away", size, d)
		}
	}
}

func TestStallsAreNotSteps(t *testing.T) {
	m := base()
	m.length, m.stall = 7200, 14
	fit := m.fit(HostOf(Perfect))
	if len(fit.Steps) != 0 || math.Abs(float64(fit.Clock.Error)-m.err) > 2*float64(fit.Clock.Limit) || fit.Clock.Limit > 0.1*ppm {
		t.Errorf("%+v", fit)
	}
}

func TestNominalRateChanges(t *testing.T) {
	m := base()
	m.length, m.rateAt, m.rateTo = 2400, 1500, 44100
	fit := m.fit(HostOf(FarServer))
	if len(fit.Changes) != 1 || math.Abs(fit.Changes[0].Rate-44100) > 10 || math.Abs(fit.Changes[0].Was-48000) > 10 {
		t.Fatalf("changes %+v", fit.Changes)
	}
	if d := float64(fit.Changes[0].Frame)/48000 - 1500; math.Abs(d) > 25 {
		t.Errorf("change placed %.0f s away", d)
	}
	if math.Abs(float64(fit.Clock.Error)-m.err) > 2*float64(fit.Clock.Limit) || fit.Clock.How != Calibrated {
		t.Errorf("clock %+v", fit.Clock)
	}
}

func TestWrongStatedRate(t *testing.T) {
	m := base()
	m.err = 44100./48000 - 1
	c := m.fit(HostOf(FarServer)).Clock
	if c.How != Compared || math.Abs(float64(c.Error)-m.err) > 1e-4 {
		t.Errorf("%+v", c)
	}
}

func TestUndisciplinedIsNeverBetterThanFifty(t *testing.T) {
	m := base()
	m.length = 3600
	for _, h := range []Host{HostOf(Undisciplined), HostOf(""), {}} {
		if c := m.fit(h).Clock; c.Limit < 50*ppm || c.How == Calibrated {
			t.Errorf("%q: %+v", h.Kind, c)
		}
	}
}

func TestHostOfKnownRate(t *testing.T) {
	m := base()
	m.err = 23e-6 // against a host that is 80 ppm slow
	fit := m.fit(HostOf(Undisciplined))
	c := fit.By(meas.Around[unit.Rate](-80*ppm, 1*ppm, 2))
	if c.How != Calibrated || math.Abs(float64(c.Error)+57*ppm) > float64(c.Limit) || c.Limit > 6*ppm {
		t.Errorf("%+v, want -57 ppm", c)
	}
	if got := fit.By(meas.Interval[unit.Rate]{}); got != fit.Clock {
		t.Errorf("%+v", got)
	}
}

func TestMoreWanderThanStatedIsSeen(t *testing.T) {
	in := 0
	for seed := range 40 {
		m := base()
		m.length, m.wander, m.settle, m.seed = 3600, 5e-3, 1000, uint64(seed+1)
		fit := m.fit(HostOf(NearServer))
		if math.Abs(float64(fit.Clock.Error)-m.err) <= float64(fit.Clock.Limit) {
			in++
		}
	}
	if in < 34 {
		t.Errorf("limits cover %d of 40 where the host is 25 times worse than stated", in)
	}
	t.Logf("covered %d of 40", in)
}

func TestTooShortIsUnknown(t *testing.T) {
	m := base()
	m.length = 30
	if c := m.fit(HostOf(Perfect)).Clock; c != Unknown() {
		t.Errorf("%+v", c)
	}
	if c := NewFitter(math.NaN(), HostOf(Perfect)).Fit().Clock; c != Unknown() {
		t.Errorf("%+v", c)
	}
}

func TestBadArrivals(t *testing.T) {
	f := NewFitter(48000, HostOf(Perfect))
	for _, c := range []struct {
		a    Arrival
		want bool
	}{
		{Arrival{1000, unit.Duration(math.NaN())}, false},
		{Arrival{1000, unit.Duration(math.Inf(1))}, false},
		{Arrival{1000, 5}, true},
		{Arrival{1000, 6}, false},
		{Arrival{900, 6}, false},
		{Arrival{2000, 4}, false},
		{Arrival{2000, 5}, true},
		{Arrival{math.MaxInt64, 6}, true},
	} {
		if got := f.Add(c.a); got != c.want {
			t.Errorf("%+v: %v", c.a, got)
		}
	}
	f.Fit()
}

func TestDaysInLittleMemory(t *testing.T) {
	f := NewFitter(48000, HostOf(Perfect))
	r := rand.New(rand.NewPCG(1, 1))
	var n int64
	lost := false
	for at := 0.0; at < 4*86400; at += 0.5 {
		n += 24000
		if at > 20000 && !lost {
			n, lost = n-4800, true
		}
		f.Add(Arrival{n, unit.Duration(at*(1+30e-6) + 2e-3*r.ExpFloat64())})
	}
	fit := f.Fit()
	if len(f.blocks) > most || len(fit.Steps) != 1 || math.Abs(float64(fit.Clock.Error)+30e-6) > 0.01*ppm {
		t.Errorf("%d blocks, %d steps, %+v", len(f.blocks), len(fit.Steps), fit.Clock)
	}
}

func TestCorrect(t *testing.T) {
	// A true seconds clock, heard by a recorder 100 ppm fast, makes 86400
	// beats in what the recorder calls 86400·1.0001 s.
	measured := unit.Rate(1/1.0001 - 1)
	c := Clock{Error: 100 * ppm, Limit: 3 * ppm, How: Calibrated}
	got := c.Correct(meas.Interval[unit.Rate]{Value: measured, Low: measured - 4*ppm, High: measured + 4*ppm, U: 2 * ppm, Set: true})
	if math.Abs(float64(got.Value)) > 1e-15 {
		t.Errorf("true rate %g, want 0", got.Value)
	}
	if math.Abs(float64(got.High)-5*ppm) > 1e-9 || math.Abs(float64(got.Low)+5*ppm) > 1e-9 {
		t.Errorf("limits %g %g, want ±5 ppm", got.Low, got.High)
	}
	if got := c.Correct(meas.Interval[unit.Rate]{}); got.Set {
		t.Error("nothing measured became something")
	}
	zero := Clock{}.Correct(meas.Interval[unit.Rate]{Set: true})
	if math.Abs(float64(zero.High)-50*ppm) > 1e-12 {
		t.Errorf("the zero clock gives %g, want 50 ppm", zero.High)
	}
	if c.Later().Limit <= c.Limit || Unknown().Later() != Unknown() {
		t.Error("another day must widen a calibration and nothing else")
	}
}

func TestClockJSON(t *testing.T) {
	b, err := json.Marshal(Unknown())
	if err != nil || string(b) != `{"error":0,"limit":0.00005,"how":"supposed"}` {
		t.Errorf("%s %v", b, err)
	}
}

func FuzzAdd(f *testing.F) {
	f.Add(48000.0, int64(1024), 0.02, int64(480000), 9.0)
	f.Fuzz(func(t *testing.T, rate float64, n int64, at float64, m int64, then float64) {
		g := NewFitter(rate, HostOf(FarServer))
		for i := range int64(40) {
			g.Add(Arrival{n + i*m, unit.Duration(at + float64(i)*then)})
		}
		if c := g.Fit().Clock; !(c.Limit >= 0) {
			t.Errorf("limit %g", c.Limit)
		}
	})
}

func BenchmarkAdd(b *testing.B) {
	f := NewFitter(48000, HostOf(FarServer))
	var n int64
	for b.Loop() {
		n += 1024
		f.Add(Arrival{n, unit.Duration(float64(n)/48000 + 1e-3)})
	}
}

func BenchmarkFitOfADay(b *testing.B) {
	f := NewFitter(48000, HostOf(FarServer))
	r := rand.New(rand.NewPCG(1, 1))
	for n := int64(0); n < 48000*80000; n += 48000 {
		f.Add(Arrival{n, unit.Duration(float64(n)/48000 + 1e-3*r.ExpFloat64())})
	}
	for b.Loop() {
		f.Fit()
	}
}
