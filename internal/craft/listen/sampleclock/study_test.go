package sampleclock

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"
)

// TestRMSAndCoverage prints the table of errors and coverage; the short form
// runs always.
func TestRMSAndCoverage(t *testing.T) {
	study := os.Getenv("SEATBOARD_STUDY") == "1"
	if !study {
		t.Log("short form; SEATBOARD_STUDY=1 for eight hours and more seeds")
	}
	exact := HostOf(Perfect)
	for _, c := range []struct {
		name  string
		delay func(*rand.Rand) float64
		host  Host
		lines [3]float64 // ppm rms allowed at 10 min, 1 h, 8 h
	}{
		{"exponential 5 ms", exponential(5e-3), exact, [3]float64{0.019, 0.0014, 0.0001}},
		{"exponential 20 ms", exponential(20e-3), exact, [3]float64{0.07, 0.004, 0.0002}},
		{"gamma 15 ms", gamma(15e-3), exact, [3]float64{0.33, 0.022, 0.001}},
		{"even with outliers", outliers, exact, [3]float64{0.043, 0.003, 0.0002}},
		{"host 0.2 ms", exponential(5e-3), Host{Kind: NearServer, Wander: 0.2e-3, Settle: 300}, [3]float64{0.59, 0.061, 0.003}},
		{"host 1 ms", exponential(5e-3), HostOf(FarServer), [3]float64{1.7, 0.44, 0.033}},
		{"host 5 ms", exponential(5e-3), Host{Kind: PoorServer, Wander: 5e-3, Settle: 400}, [3]float64{9.6, 2.0, 0.10}},
	} {
		for i, length := range []float64{600, 3600, 28800} {
			seeds := [3]int{30, 8, 1}[i]
			if study {
				seeds = [3]int{400, 150, 30}[i]
			}
			if seeds == 0 {
				continue
			}
			var ss, lim float64
			in, steps := 0, 0
			for s := range seeds {
				m := base()
				m.delay, m.length, m.seed = c.delay, length, uint64(1000*i+s+1)
				m.wander, m.settle = float64(c.host.Wander), float64(c.host.Settle)
				fit := m.fit(c.host)
				d := float64(fit.Clock.Error) - m.err
				ss += d * d
				lim += float64(fit.Clock.Limit)
				if math.Abs(d) <= float64(fit.Clock.Limit) {
					in++
				}
				steps += len(fit.Steps)
			}
			rms := math.Sqrt(ss/float64(seeds)) * 1e6
			t.Logf("%-20s %6.0f s: rms %.5f ppm (table %.4f), limit/1.96 %.5f, covered %.1f %% of %d, false steps %d",
				c.name, length, rms, c.lines[i], lim/float64(seeds)/1.96*1e6, 100*float64(in)/float64(seeds), seeds, steps)
			// The rms of so few seeds may be off by three standard errors.
			if slack := 1 + 3/math.Sqrt(2*float64(seeds)); rms > c.lines[i]*slack*1.1 {
				t.Errorf("%s, %.0f s: rms %.5f ppm, want %.5f", c.name, length, rms, c.lines[i])
			}
			if lost := float64(seeds - in); lost > 0.05*float64(seeds)+3*math.Sqrt(0.0475*float64(seeds)) {
				t.Errorf("%s, %.0f s: the limit covers %d of %d", c.name, length, in, seeds)
			}
			if steps > 1 {
				t.Errorf("%s, %.0f s: %d steps where there are none", c.name, length, steps)
			}
		}
	}
}

// TestStepStudy prints how often single steps are found, and whether the
// limit still holds when they are not.
func TestStepStudy(t *testing.T) {
	if os.Getenv("SEATBOARD_STUDY") != "1" {
		t.Skip("SEATBOARD_STUDY=1 for the share of steps found")
	}
	for _, c := range []struct {
		name  string
		delay func(*rand.Rand) float64
		host  Discipline
	}{
		{"exponential 5 ms", exponential(5e-3), FarServer},
		{"exponential 20 ms", exponential(20e-3), FarServer},
		{"gamma 15 ms", gamma(15e-3), FarServer},
		{"outliers", outliers, FarServer},
		{"exponential 5 ms", exponential(5e-3), PoorServer},
	} {
		for _, size := range []float64{-0.0027, -0.005, -0.01, 0.01, -0.0213} {
			found, wrong, in := 0, 0, 0
			const seeds = 60
			for s := range seeds {
				m := base()
				h := HostOf(c.host)
				m.delay, m.length, m.seed, m.wander, m.settle = c.delay, 1800, uint64(s+1), float64(h.Wander), float64(h.Settle)
				m.steps = []simStep{{100 + 27*float64(s), size}}
				fit := m.fit(h)
				for _, st := range fit.Steps {
					if math.Abs(float64(st.Frame)/48000-m.steps[0].at) < 15 {
						found++
					} else {
						wrong++
					}
				}
				if math.Abs(float64(fit.Clock.Error)-m.err) <= float64(fit.Clock.Limit) {
					in++
				}
			}
			t.Logf("%-18s, %s: step of %5.1f ms found %d of %d, elsewhere %d; limit covers %d", c.name, c.host, size*1e3, found, seeds, wrong, in)
			if c.host == FarServer && math.Abs(size) >= 5e-3 && found < seeds*9/10 {
				t.Errorf("%s: only %d of %d steps of %.1f ms were found", c.name, found, seeds, size*1e3)
			}
		}
	}
}
