package synth

import (
	"math"

	"seatboard/internal/kit/unit"
)

// CRLB is the least standard deviation, by Cramér and Rao, that an unbiased
// estimate of the time of one beat can have in the white noise of the recipe,
// for even and odd beats: σ/√Σ s'², s the sound of that side as recorded, the
// room included. It is 0 without white noise. It does not know of any other
// noise, of clipping, of impact spread, nor of beats that overlap.
func (rec *Recording) CRLB() [2]unit.Duration {
	var u [2]unit.Duration
	if rec.recipe.SNR == nil {
		return u
	}
	for i, v := range rec.voices {
		sd := rec.peak * math.Sqrt(v.power) * amplitude(-*rec.recipe.SNR)
		u[i] = unit.Duration(sd / (rec.peak * math.Sqrt(v.slope)) / rec.recipe.SampleRate)
	}
	return u
}

// steepness is the sum over the samples of the square of the slope a sample,
// averaged over where between samples the beat falls.
func steepness(t table) float64 {
	sum := 0.0
	for i := 2; i < len(t.y)-2; i++ {
		slope := (8*float64(t.y[i+1]-t.y[i-1]) - float64(t.y[i+2]-t.y[i-2])) / 12 * over
		sum += slope * slope
	}
	return sum / over
}

// CRLB is [Recording.CRLB] of the recording of a recipe; 0 where the recipe
// does not pass its check.
func CRLB(r Recipe) [2]unit.Duration {
	rec, err := New(r)
	if err != nil {
		return [2]unit.Duration{}
	}
	return rec.CRLB()
}
