package mic

import (
	"context"
	"math"
	"os"
	"testing"

	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/kit/unit"
)

// TestCalibratesAgainstTheHost records a sink that the host's own clock
// drives: the recorder's error must come out as nothing.
func TestCalibratesAgainstTheHost(t *testing.T) {
	if os.Getenv("SEATBOARD_STUDY") != "1" {
		t.Skip("SEATBOARD_STUDY=1 records for two minutes")
	}
	sounds(t)
	list, err := List(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	c, err := Open(context.Background(), list[0])
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	f := sampleclock.NewFitter(c.Rate(), sampleclock.HostOf(sampleclock.Perfect))
	buf := make([]float32, 4800)
	for n := 0; n < 48000*130; {
		k, err := c.ReadFloat(buf)
		if err != nil {
			t.Fatal(err)
		}
		n += k
		for _, a := range c.Arrivals() {
			f.Add(a)
		}
	}
	fit := f.Fit()
	t.Logf("error %.3f ± %.3f ppm, hull %.3f, scatter %.0f µs, %d minima, steps %v, gaps %v",
		fit.Clock.Error*1e6, fit.Clock.Limit*1e6, fit.Hull*1e6, fit.Scatter*1e6, fit.Minima, fit.Steps, c.Gaps())
	if fit.Clock.How != sampleclock.Calibrated || math.Abs(float64(fit.Clock.Error)) > 2*float64(fit.Clock.Limit)+float64(unit.Rate(2e-6)) {
		t.Errorf("%+v", fit.Clock)
	}
}
