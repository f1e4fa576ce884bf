package synth

import (
	"math"

	"seatboard/internal/kit/unit"
)

// perDay is a rate in seconds a day, gaining positive.
func perDay(s float64) unit.Rate { return unit.Rate(s / float64(unit.Day)) }

// T1 is the case for the bound of a beat's time: white noise, a scatter of
// 100 µs, s = 1, 2, …; 530 s, of which the first 130 are for settling.
func T1(s int, snrDB float64) Recipe {
	return Recipe{
		Seed: 100 + uint64(s), Shape: uint64(s), Length: 530,
		Clock: Clock{Beat: 1, Rate: perDay(-31.7), BeatError: 0.012, ScatterPM: 100e-6},
		Noise: Noise{SNR: DB(snrDB)},
	}
}

// Scenario is one of the adverse conditions of [T2], A to P.
type Scenario rune

// The scenarios.
const (
	Plain        Scenario = 0
	FaintSpeech  Scenario = 'A' // −20 dB
	EqualSpeech  Scenario = 'B' // 0 dB
	LoudSpeech   Scenario = 'C' // +6 dB
	CloseSpeech  Scenario = 'D' // +12 dB
	FewClicks    Scenario = 'E' // 1 a second at the tick's peak
	Clicks       Scenario = 'F' // 5 a second
	ManyClicks   Scenario = 'G' // 20 a second
	LoudClicks   Scenario = 'H' // 5 a second, 10 dB above the tick's peak
	Striking     Scenario = 'I' // eight blows at 100 s
	FastBeat     Scenario = 'J' // 0.2 s
	SlowBeat     Scenario = 'K' // 2 s
	OutOfBeat    Scenario = 'L' // a beat error of 40 % of the beat
	Alike        Scenario = 'M' // tick and tock sound the same
	OtherRate    Scenario = 'N' // 44.1 kHz
	Everything   Scenario = 'O' // at 15 dB
	PoorMovement Scenario = 'P' // teeth wrong by 1 ms, a scatter of 500 µs
)

// Scenarios lists A to P.
func Scenarios() []Scenario {
	list := make([]Scenario, 0, 16)
	for s := FaintSpeech; s <= PoorMovement; s++ {
		list = append(list, s)
	}
	return list
}

func (s Scenario) String() string {
	names := [...]string{
		"faint speech", "equal speech", "loud speech", "close speech", "few clicks", "clicks", "many clicks", "loud clicks",
		"striking", "fast beat", "slow beat", "out of beat", "alike", "44.1 kHz", "everything", "poor movement",
	}
	if s < FaintSpeech || s > PoorMovement {
		return "plain"
	}
	return string(rune(s)) + " " + names[s-FaintSpeech]
}

// T2 is an adverse condition on a clock of half seconds at 25 dB, 240 s; the
// seeds in use are 11, 12, 13. A letter that is none is the plain clock.
func T2(s Scenario, seed uint64) Recipe {
	r := Recipe{
		Seed: seed, Shape: seed, Length: 240,
		Clock: Clock{Beat: 0.5, Rate: perDay(20), BeatError: 0.010, ScatterPM: 20e-6, ScatterFM: 3e-6},
		Sound: Sound{AmplitudeSpread: 0.1},
		Noise: Noise{SNR: DB(25)},
	}
	switch s {
	case FaintSpeech, EqualSpeech, LoudSpeech, CloseSpeech:
		r.Speech = DB([...]float64{-20, 0, 6, 12}[s-FaintSpeech])
	case FewClicks, Clicks, ManyClicks, LoudClicks:
		r.ClickRate = [...]float64{1, 5, 20, 5}[s-FewClicks]
		r.ClickLevel = [...]float64{0, 0, 0, 10}[s-FewClicks]
	case Striking:
		r.Strikes = []Strike{{At: 100, Blows: 8, Level: 6}}
	case FastBeat:
		r.Beat = 0.2
	case SlowBeat:
		r.Beat = 2
	case OutOfBeat:
		r.BeatError = 0.4 * r.Beat
	case Alike:
		r.OneShape = true
	case OtherRate:
		r.SampleRate = 44100
	case PoorMovement:
		r.Teeth, r.ToothSpread, r.ScatterPM = 30, 1e-3, 500e-6
	case Everything:
		r.everything()
	}
	return r
}

// everything puts all disturbances together on the plain clock.
func (r *Recipe) everything() {
	r.Noise = Noise{SNR: DB(15), Pink: DB(-15), Hum: DB(-10), Speech: DB(-10), ClickRate: 2}
	r.RT60, r.Direct = 0.3, 6
	r.Strikes = []Strike{{At: 100, Blows: 4}}
	r.ImpactSpread, r.ClockError = 30e-6, 35e-6
	r.Teeth, r.ToothSpread = 30, 20e-6
	r.Arbors = []Arbor{{Amplitude: 20e-6, Beats: 97.3, Phase: 1}}
}

// T3 is the case for the place of the main impact: s = 1 to 40, a minute.
func T3(s int, snrDB float64) Recipe {
	return Recipe{
		Seed: 900 + uint64(s), Shape: 50 + uint64(s), Length: 60,
		Clock: Clock{Beat: 0.5, BeatError: 0.008, ScatterPM: 20e-6},
		Noise: Noise{SNR: DB(snrDB)},
	}
}

// T4 is the case from sound to finding: one tooth late by 100 µs on both
// pallets, an arbor of 20 µs in 97.3 beats, in a room with pink noise, hum and
// speech. The clock's scatter is pm; 20 µs for 600 s and 150 µs for 1800 s
// are in use.
func T4(snrDB float64, pm, length unit.Duration) Recipe {
	return Recipe{
		Seed: 77, Shape: 21, Length: length,
		Clock: Clock{
			Beat: 1, Rate: perDay(-7.3), BeatError: 0.009, ScatterPM: pm,
			Teeth: 30, ToothErrors: []ToothError{{22, 100e-6}, {37, 100e-6}},
			Arbors: []Arbor{{Amplitude: 20e-6, Beats: 97.3, Phase: 1}},
		},
		Sound: Sound{RT60: 0.3, Direct: 6},
		Noise: Noise{SNR: DB(snrDB), Pink: DB(-20), Hum: DB(20 * math.Log10(0.3)), Speech: DB(-15)},
	}
}

// T5 is [T2] with a beat in thirty extra and one in fifty silent, s = 1, 2, 3;
// EqualSpeech, LoudSpeech, Clicks and Striking (twelve blows) are in use.
func T5(s int, company Scenario) Recipe {
	r := T2(company, uint64(s))
	r.Shape = 30 + uint64(s)
	r.Extra, r.Silent = 0.03, 0.02
	if company == Striking {
		r.Strikes[0].Blows = 12
	}
	return r
}

// T6 is the case for little sound in much noise: ten minutes of half seconds,
// 0 to −12 dB.
func T6(s int, snrDB float64) Recipe {
	return Recipe{
		Seed: 100 + uint64(s), Shape: uint64(s), Length: 600,
		Clock: Clock{Beat: 0.5, BeatError: 0.006},
		Noise: Noise{SNR: DB(snrDB)},
	}
}

// T7 is the case for the rate of a long recording: i = 0, 1, …; 30, 60, 600
// and 3600 s at 20 dB are in use, with the scatter that is wanted.
func T7(i int, length, pm, fm unit.Duration) Recipe {
	return Recipe{
		Seed: 300 + uint64(i), Shape: 5 + uint64(i), Length: length,
		Clock: Clock{Beat: 1, Rate: perDay(3.21), ScatterPM: pm, ScatterFM: fm},
		Noise: Noise{SNR: DB(20)},
	}
}
