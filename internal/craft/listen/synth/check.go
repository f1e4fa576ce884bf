package synth

import (
	"fmt"
	"math"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Check returns every mistake in the recipe; fields are the names in JSON.
func (r Recipe) Check() meas.Faults {
	c := checker{}
	c.within("sample_rate", "The sampling rate", r.SampleRate, 8000, 192000, "8000 and 192 000 Hz, or leave it out", 0)
	c.within("length", "The length", float64(r.Length), 0.1, 200*3600, "0.1 s and 200 h, or leave it out", 0)
	c.within("peak", "The peak", r.Peak, 0, 1, "0 and 1")
	r.Clock.check(&c)
	r.Sound.check(&c)
	r.Noise.check(&c)
	if len(c.faults) == 0 {
		r.filled().checkRecorder(&c)
	}
	return c.faults
}

type checker struct{ faults meas.Faults }

func (c *checker) fault(field, text string, args ...any) {
	c.faults = append(c.faults, meas.Fault{Field: field, Text: fmt.Sprintf(text, args...)})
}

// within faults a number outside its limits that is none of the exceptions.
func (c *checker) within(field, what string, v, low, high float64, limits string, except ...float64) {
	for _, e := range except {
		if v == e {
			return
		}
	}
	if !(v >= low && v <= high) {
		c.fault(field, "%s is %v; it lies between %s", what, v, limits)
	}
}

func (k Clock) check(c *checker) {
	c.within("beat", "The time of a beat", float64(k.Beat), 0.05, 5, "0.05 s and 5 s, or leave it out", 0)
	c.within("rate", "The rate", float64(k.Rate), -0.1, 0.1, "a tenth slow and a tenth fast")
	c.within("start", "The start", float64(k.Start), 0, 200*3600, "0 and the end")
	c.within("silent", "The chance of a silent beat", k.Silent, 0, 1, "0 and 1")
	c.within("extra", "The chance of an extra beat", k.Extra, 0, 1, "0 and 1")
	c.within("teeth", "The number of teeth", float64(k.Teeth), 1, 1000, "1 and 1000, or leave it out", 0)
	c.within("scatter_pm", "The scatter of a beat", float64(k.ScatterPM), 0, 1, "0 and a twentieth of a beat")
	c.within("scatter_fm", "The scatter of an interval", float64(k.ScatterFM), 0, 1, "0 and a twentieth of a beat")
	for i, e := range k.ToothErrors {
		if e.Beat < 0 || e.Beat >= 2*k.Teeth {
			c.fault("tooth_errors", "Tooth error %d is of beat %d; with %d teeth the beats of a turn are 0 to %d", i+1, e.Beat, k.Teeth, 2*k.Teeth-1)
		}
	}
	if k.ToothSpread != 0 && k.Teeth == 0 {
		c.fault("teeth", "There is a spread of the teeth but no number of teeth; enter it")
	}
	for i, a := range k.Arbors {
		if !(a.Beats > 0 && a.Beats < 1e9) || math.IsNaN(float64(a.Phase)) || math.IsInf(float64(a.Phase), 0) {
			c.fault("arbors", "Arbor %d needs the beats to one turn, more than 0, and a phase", i+1)
		}
	}
	k.checkLateness(c)
	k.checkTimes(c)
}

// checkLateness sees that the beats stay in their order.
func (k Clock) checkLateness(c *checker) {
	beat := float64(k.Beat)
	if beat == 0 {
		beat = 1
	}
	tooth := 0.0
	for _, e := range k.ToothErrors {
		tooth = math.Max(tooth, math.Abs(float64(e.Late)))
		if math.IsNaN(float64(e.Late)) {
			tooth = math.NaN()
		}
	}
	sum := math.Abs(float64(k.BeatError))/2 + tooth + 4*math.Abs(float64(k.ToothSpread))
	for _, a := range k.Arbors {
		sum += math.Abs(float64(a.Amplitude))
	}
	if !(sum <= 0.45*beat) {
		c.fault("beat_error", "Beat error, tooth errors and arbors move the beats by up to %.4g s; keep them below 0.45 of a beat", sum)
	}
	for _, s := range []struct {
		field string
		v     unit.Duration
	}{{"scatter_pm", k.ScatterPM}, {"scatter_fm", k.ScatterFM}, {"tooth_spread", k.ToothSpread}} {
		if !(float64(s.v) >= 0 && float64(s.v) <= beat/20) {
			c.fault(s.field, "The scatter or spread is %v s; it lies between 0 and a twentieth of a beat", float64(s.v))
		}
	}
}

func (k Clock) checkTimes(c *checker) {
	before := unit.Duration(0)
	for i, s := range k.Stops {
		if !(s.At >= before && s.At <= 200*3600 && s.For >= 0 && s.For <= 200*3600) {
			c.fault("stops", "Stop %d is not after the one before, or lasts less than nothing; enter them in the order of time", i+1)
		}
		before = s.At + s.For
	}
	end := unit.Duration(0)
	for i, s := range k.Strikes {
		every := s.Every
		if every == 0 {
			every = blowEvery
		}
		if !(s.At >= end && s.At <= 200*3600 && s.Blows >= 1 && s.Blows <= 400 && every >= 0.2 && every <= 20 && math.Abs(s.Level) <= 60) {
			c.fault("strikes", "Strike %d needs 1 to 400 blows, 0.2 to 20 s from blow to blow, a level within 60 dB, and comes after the one before", i+1)
		}
		end = s.At + every*unit.Duration(s.Blows)
	}
}

func (s Sound) check(c *checker) {
	c.within("amplitude_spread", "The spread of the strength", s.AmplitudeSpread, 0, 1, "0 and 1")
	c.within("impact_spread", "The spread of the impacts", float64(s.ImpactSpread), 0, 0.002, "0 and 2 ms")
	c.within("rt60", "The time of the echo", float64(s.RT60), 0.02, 2, "0.02 s and 2 s, or leave it out", 0)
	c.within("direct", "The direct sound against the echo", s.Direct, -20, 60, "−20 and 60 dB")
}

func (n Noise) check(c *checker) {
	for _, l := range []struct {
		field, what string
		v           *float64
		low, high   float64
	}{
		{"snr", "The signal-to-noise ratio", n.SNR, -40, 120}, {"pink", "The pink noise", n.Pink, -120, 40},
		{"hum", "The hum", n.Hum, -120, 40}, {"speech", "The speech", n.Speech, -120, 40},
	} {
		if l.v != nil {
			c.within(l.field, l.what, *l.v, l.low, l.high, fmt.Sprintf("%v and %v dB", l.low, l.high))
		}
	}
	c.within("hum_hz", "The frequency of the hum", n.HumHz, 10, 500, "10 and 500 Hz, or leave it out", 0)
	c.within("click_rate", "The clicks a second", n.ClickRate, 0, 1000, "0 and 1000")
	c.within("click_level", "The level of the clicks", n.ClickLevel, -60, 40, "−60 and 40 dB")
}

// checkRecorder takes a recipe that is filled and in order but for this.
func (r Recipe) checkRecorder(c *checker) {
	c.within("clip_at", "The clipping", r.ClipAt, 0, 100, "0 and 100 times the peak")
	c.within("clock_error", "The error of the recorder's clock", float64(r.ClockError), -0.01, 0.01, "−0.01 and 0.01")
	c.within("loop", "The loop", float64(r.Loop), 0.1, 600, "0.1 s and 10 min, or leave it out", 0)
	before, heard := 0.0, 0.0
	for i, s := range r.Slips {
		at := math.Round(float64(s.At) * r.SampleRate)
		heard += at - before
		if !(at > before) || s.Samples == 0 || remembered(r) > 1<<22 || s.Samples < -int64(10*3600*r.SampleRate) || float64(s.Samples) > heard {
			c.fault("slips", "Slip %d needs samples: up to 4 194 304 in all and no more than were heard before to put in, up to 10 h to lose, and comes after the one before", i+1)
			return
		}
		heard -= float64(s.Samples)
		before = at
	}
	for i, z := range r.Zeros {
		if !(z.At >= 0 && z.For > 0 && z.At+z.For <= 400*3600) {
			c.fault("zeros", "Stretch %d of zeros needs a time and a length, more than 0", i+1)
		}
	}
}
