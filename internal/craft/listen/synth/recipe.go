package synth

import (
	"math"

	"seatboard/internal/kit/unit"
)

// Recipe says what is to be heard in a recording. The zero value is a minute
// of a clock that beats seconds without any fault or noise. A nil level means
// that the thing is not there; [DB] makes a level.
type Recipe struct {
	Seed       uint64        `json:"seed,omitempty"`        // of all that is random but the sound itself
	Shape      uint64        `json:"shape,omitempty"`       // of the sound of tick and tock and of the room
	SampleRate float64       `json:"sample_rate,omitempty"` // Hz, as the recorder states it; 0 is 48000
	Length     unit.Duration `json:"length,omitempty"`      // of the recording by the recorder's clock; 0 is 60 s
	Peak       float64       `json:"peak,omitempty"`        // of the dry sound, full scale 1; 0 chooses one that leaves room for the rest

	Clock
	Sound
	Noise
	Recorder
}

// Clock is what the movement does.
type Clock struct {
	NoClock     bool          `json:"no_clock,omitempty"`     // no beat at all
	Beat        unit.Duration `json:"beat,omitempty"`         // nominal, from beat to beat; 0 is 1 s
	Rate        unit.Rate     `json:"rate,omitempty"`         // gaining is positive; s/day over 86400
	Start       unit.Duration `json:"start,omitempty"`        // of beat 0 after the first sample; 0 is 0.37 of a beat
	BeatError   unit.Duration `json:"beat_error,omitempty"`   // difference of alternate intervals; positive makes the odd beats late by half of it
	Teeth       int           `json:"teeth,omitempty"`        // of the escape wheel; 0 is none
	ToothErrors []ToothError  `json:"tooth_errors,omitempty"` // beats that are late once a turn
	ToothSpread unit.Duration `json:"tooth_spread,omitempty"` // standard deviation of a fixed error of every beat of the turn
	Arbors      []Arbor       `json:"arbors,omitempty"`       // what turns out of true
	ScatterPM   unit.Duration `json:"scatter_pm,omitempty"`   // standard deviation of every beat by itself
	ScatterFM   unit.Duration `json:"scatter_fm,omitempty"`   // standard deviation of every interval; it adds up
	Silent      float64       `json:"silent,omitempty"`       // chance that a beat is not heard, 0 to 1
	Extra       float64       `json:"extra,omitempty"`        // chance that the clock's sound comes once more between two beats, 0 to 1
	Stops       []Stop        `json:"stops,omitempty"`        // in the order of time
	Strikes     []Strike      `json:"strikes,omitempty"`      // of its bell
}

// ToothError makes one beat of every turn of the escape wheel late.
type ToothError struct {
	Beat int           `json:"beat"` // 0 to 2·teeth−1; even is one pallet, odd the other
	Late unit.Duration `json:"late"`
}

// Arbor makes the beats late and early in the manner of a sine.
type Arbor struct {
	Amplitude unit.Duration `json:"amplitude"`
	Beats     float64       `json:"beats"` // to one turn; need not be whole
	Phase     unit.Angle    `json:"phase,omitempty"`
}

// Stop is a stretch in which the clock stands, by true time.
type Stop struct {
	At  unit.Duration `json:"at"`            // no beat comes from here on
	For unit.Duration `json:"for,omitempty"` // the first beat of the next run comes at At+For; 0 is for good
}

// Strike is an hour struck on a bell, with the clicks of hammer and fly.
type Strike struct {
	At    unit.Duration `json:"at"`              // of the first blow, by the recorder's clock
	Blows int           `json:"blows"`           // 1 to 400
	Every unit.Duration `json:"every,omitempty"` // from blow to blow; 0 is 1.8 s
	Level float64       `json:"level,omitempty"` // dB of the blow's peak against the tick's peak
}

// Sound is how the beats sound.
type Sound struct {
	OneShape        bool          `json:"one_shape,omitempty"`        // tock sounds as tick
	AmplitudeSpread float64       `json:"amplitude_spread,omitempty"` // standard deviation of the strength over its mean
	ImpactSpread    unit.Duration `json:"impact_spread,omitempty"`    // standard deviation of the time of each impact but the main one
	RT60            unit.Duration `json:"rt60,omitempty"`             // time in which the room's echo falls by 60 dB; 0 is no room
	Direct          float64       `json:"direct,omitempty"`           // dB of the direct sound's energy against the echo's
}

// Noise is what else is heard.
type Noise struct {
	SNR        *float64 `json:"snr,omitempty"`         // dB of the tick's power against the variance of white noise
	Pink       *float64 `json:"pink,omitempty"`        // dB of pink noise against the tick's power
	Hum        *float64 `json:"hum,omitempty"`         // dB of mains hum with seven harmonics against the tick's power
	HumHz      float64  `json:"hum_hz,omitempty"`      // 0 is 50.013
	Speech     *float64 `json:"speech,omitempty"`      // dB of speech, pauses included, against the tick's power
	ClickRate  float64  `json:"click_rate,omitempty"`  // random clicks a second
	ClickLevel float64  `json:"click_level,omitempty"` // dB of their peak against the tick's peak
}

// Recorder is what the recorder does to the sound. All its times are by its
// own clock in the finished recording.
type Recorder struct {
	ClipAt     float64       `json:"clip_at,omitempty"`     // all is cut at this part of the tick's peak; 0 is not at all
	ClockError unit.Rate     `json:"clock_error,omitempty"` // positive when its crystal is fast: more samples a second than it states
	Slips      []Slip        `json:"slips,omitempty"`       // in the order of time
	Zeros      []Stretch     `json:"zeros,omitempty"`       // stretches of exact zeros; time goes on
	Loop       unit.Duration `json:"loop,omitempty"`        // the first so much is repeated to the end, sample for sample; 0 is not, at most 10 min
}

// Slip is samples lost or put in, or a cut made by hand.
type Slip struct {
	At      unit.Duration `json:"at"`
	Samples int64         `json:"samples"` // positive: so many of the last are heard again, later beats come late; negative: so many are lost
}

// Stretch is a piece of time.
type Stretch struct {
	At  unit.Duration `json:"at"`
	For unit.Duration `json:"for"`
}

// DB is a level in dB that is there.
func DB(x float64) *float64 { return &x }

func power(db float64) float64     { return math.Pow(10, db/10) }
func amplitude(db float64) float64 { return math.Pow(10, db/20) }

// filled is the recipe with its defaults written in, but for Peak.
func (r Recipe) filled() Recipe {
	def := func(v *float64, d float64) {
		if *v == 0 {
			*v = d
		}
	}
	def(&r.SampleRate, 48000)
	def((*float64)(&r.Length), 60)
	def((*float64)(&r.Beat), 1)
	def((*float64)(&r.Start), 0.37*float64(r.Beat))
	def(&r.HumHz, 50.013)
	return r
}

// frames is the number of samples in the recording.
func (r Recipe) frames() int64 { return int64(math.Round(float64(r.Length) * r.SampleRate)) }
