package synth

import (
	"math"
	"math/rand/v2"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/kit/unit"
)

// The streams of chance, so that a change of one leaves the others.
const (
	ofTime uint64 = iota + 1
	ofTeeth
	ofMissing
	ofStrength
	ofImpacts
	ofWhite
	ofPink
	ofSpeech
	ofClicks
	ofStrikes
	ofShape
	ofRoom
)

func chance(seed, stream uint64) *rand.Rand {
	return rand.New(rand.NewPCG(seed, stream*0x9e3779b97f4a7c15))
}

// stroke is one beat as the movement gives it.
type stroke struct {
	at      float64 // of the main impact, s of true time
	k       int64   // number from the first beat of all
	n       int64   // number in its run
	run     int
	silent  bool
	extra   float64 // of the extra sound after it, s of true time; 0 is none
	between float64 // strength of the extra sound
}

// clockwork gives the beats one after the other.
type clockwork struct {
	clock    Clock
	interval float64
	tooth    []float64
	from     float64 // time of the first beat of this run, faults apart
	first    int64   // its number
	k        int64
	run      int
	drift    float64
	stops    []Stop
	over     bool
	time     *rand.Rand
	missing  *rand.Rand
}

// newClockwork takes a filled recipe.
func newClockwork(r Recipe) *clockwork {
	c := &clockwork{
		clock: r.Clock, interval: float64(r.Beat) / (1 + float64(r.Rate)), from: float64(r.Start), stops: r.Stops,
		over: r.NoClock, time: chance(r.Seed, ofTime), missing: chance(r.Seed, ofMissing),
	}
	if r.Teeth > 0 {
		c.tooth = make([]float64, 2*r.Teeth)
		rng := chance(r.Seed, ofTeeth)
		for i := range c.tooth {
			c.tooth[i] = float64(r.ToothSpread) * rng.NormFloat64()
		}
		for _, e := range r.ToothErrors {
			c.tooth[e.Beat] += float64(e.Late)
		}
	}
	return c
}

// next is the next beat; false when there is none any more.
func (c *clockwork) next() (stroke, bool) {
	if c.over {
		return stroke{}, false
	}
	at := c.from + float64(c.k-c.first)*c.interval + c.drift
	if len(c.stops) > 0 && at >= float64(c.stops[0].At) {
		stop := c.stops[0]
		c.stops = c.stops[1:]
		if stop.For == 0 {
			c.over = true
			return stroke{}, false
		}
		c.from, c.first, c.drift = float64(stop.At+stop.For), c.k, 0
		c.run++
		at = c.from
	}
	s := stroke{at: at + c.lateness(), k: c.k, n: c.k - c.first, run: c.run}
	if c.clock.ScatterPM > 0 {
		s.at += float64(c.clock.ScatterPM) * c.time.NormFloat64()
	}
	if c.clock.ScatterFM > 0 {
		c.drift += float64(c.clock.ScatterFM) * c.time.NormFloat64()
	}
	c.mishaps(&s)
	c.k++
	return s, true
}

// lateness is the fixed error of the beat that is due.
func (c *clockwork) lateness() float64 {
	late := 0.0
	if c.k&1 == 1 {
		late = float64(c.clock.BeatError) / 2
	}
	if len(c.tooth) > 0 {
		late += c.tooth[c.k%int64(len(c.tooth))]
	}
	for _, a := range c.clock.Arbors {
		late += float64(a.Amplitude) * math.Sin(2*math.Pi*math.Mod(float64(c.k), a.Beats)/a.Beats+float64(a.Phase))
	}
	return late
}

// mishaps decides whether the beat is silent and whether an extra one follows.
func (c *clockwork) mishaps(s *stroke) {
	if c.clock.Silent > 0 {
		s.silent = c.missing.Float64() < c.clock.Silent
	}
	if c.clock.Extra > 0 && c.missing.Float64() < c.clock.Extra {
		s.extra = s.at + c.interval*(0.25+0.5*c.missing.Float64())
		s.between = 0.5 + 0.5*c.missing.Float64()
		if len(c.stops) > 0 && s.extra >= float64(c.stops[0].At) {
			s.extra = 0
		}
	}
}

// Beats gives the times of the beats that are heard, by the recorder's clock,
// without making their sound. U and Strength are 0. It is nil where the recipe
// does not pass [Recipe.Check].
func Beats(r Recipe) []beat.Beat {
	if len(r.Check()) > 0 {
		return nil
	}
	r = r.filled()
	if len(r.Slips)+len(r.Zeros) == 0 && r.Loop == 0 {
		return plainBeats(r)
	}
	truth := newTruth(r)
	beats := make([]beat.Beat, 0, len(truth.Beats))
	for _, b := range truth.Beats {
		if !b.Silent {
			beats = append(beats, beat.Beat{At: b.At, N: b.N, Run: b.Run})
		}
	}
	return beats
}

// plainBeats is Beats where the recorder leaves the sound in one piece.
func plainBeats(r Recipe) []beat.Beat {
	end := float64(r.frames())
	c := newClockwork(r)
	late := float64(r.Beat) * r.SampleRate
	beats := make([]beat.Beat, 0, int(math.Min(float64(r.Length/r.Beat)*1.1+2, 1<<24)))
	for {
		s, ok := c.next()
		at := place(r, s.at)
		if !ok || at >= end+late {
			return beats
		}
		if !s.silent && at >= 0 && at < end {
			beats = append(beats, beat.Beat{At: seconds(r, at), N: s.n, Run: s.run})
		}
	}
}

// strokes is every beat up to the end of a filled recipe's sound, a little
// beyond where samples were lost.
func strokes(r Recipe) []stroke {
	end := trueTime(r, sourceEnd(r))
	c := newClockwork(r)
	list := make([]stroke, 0, int(math.Min(end/c.interval+2, 1<<24)))
	for {
		s, ok := c.next()
		if !ok || s.at-float64(c.interval) >= end {
			return list
		}
		list = append(list, s)
	}
}

// place is the sample at which a true time falls, before any slip.
func place(r Recipe, t float64) float64 { return t * (1 + float64(r.ClockError)) * r.SampleRate }

func trueTime(r Recipe, sample float64) float64 {
	return sample / ((1 + float64(r.ClockError)) * r.SampleRate)
}

func seconds(r Recipe, sample float64) unit.Duration { return unit.Duration(sample / r.SampleRate) }
