package synth

import (
	"errors"
	"fmt"
	"io"
	"math"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/kit/unit"
)

var _ beat.Source16 = (*Pair)(nil)

// Pair is the sound of two recipes in one recording, read once from its
// beginning. It is as long as the first, at its rate of sampling.
type Pair struct {
	One, Other *Recording
	wide       []float32
	more       []float32
}

// NewPair mixes another recipe with one: its tick has so many dB of the power
// of the first's (negative is weaker). What the other says of its length,
// sampling rate and peak is not used; its noise, if it has any, is set against
// its own tick. Where the loudest of both would pass full scale, both are made
// weaker. The error is [meas.Faults] or says that the two do not fit.
func NewPair(one, other Recipe, level float64) (*Pair, error) {
	if math.IsNaN(level) || math.Abs(level) > 60 {
		return nil, fmt.Errorf("the level of the other clock is %v dB: it must lie between −60 and 60", level)
	}
	a, err := New(one)
	if err != nil {
		return nil, err
	}
	other.Length, other.SampleRate, other.Peak = a.recipe.Length, a.recipe.SampleRate, 0
	if other.ClockError != a.recipe.ClockError {
		return nil, errors.New("one recorder has one clock: its error must be the same in both recipes")
	}
	b, err := New(other)
	if err != nil {
		return nil, err
	}
	ratio := amplitude(level) * math.Sqrt(a.voices[0].power/b.voices[0].power)
	one.Peak = a.peak / max(1, (a.peak+a.peak*ratio)/0.9)
	other.Peak = one.Peak * ratio
	if a, err = New(one); err != nil {
		return nil, err
	}
	if b, err = New(other); err != nil {
		return nil, err
	}
	return &Pair{One: a, Other: b}, nil
}

// Rate is the sampling rate the recorder states, in Hz.
func (p *Pair) Rate() float64 { return p.One.Rate() }

// Frames is the number of samples in the whole recording.
func (p *Pair) Frames() int64 { return p.One.Frames() }

// ReadFloat gives the next samples, full scale 1.
func (p *Pair) ReadFloat(dst []float32) (int, error) {
	n, err := p.One.ReadFloat(dst)
	if cap(p.more) < n {
		p.more = make([]float32, n)
	}
	m, otherErr := p.Other.ReadFloat(p.more[:n])
	for i, v := range p.more[:m] {
		dst[i] += v
	}
	if otherErr != nil && !errors.Is(otherErr, io.EOF) {
		return n, otherErr
	}
	return n, err
}

// ReadInt16 gives the next samples rounded to 16 bits, full scale 32768, and
// clipped.
func (p *Pair) ReadInt16(dst []int16) (int, error) {
	if p.wide == nil {
		p.wide = make([]float32, blockLen)
	}
	got := 0
	for got < len(dst) {
		n, err := p.ReadFloat(p.wide[:min(blockLen, len(dst)-got)])
		for i, v := range p.wide[:n] {
			dst[got+i] = toInt16(v)
		}
		got += n
		if err != nil {
			return got, err
		}
	}
	return got, nil
}

// T10 is a pair of clocks heard at once: the plain one of [T2], and another
// with the beat given whose tick lies at a level, in dB, beside it; 120 s.
// Seeds from 1 on; 0, −6 and −12 dB and beats of 0.25 to 1 s are in use.
func T10(seed uint64, second unit.Duration, level float64) (*Pair, error) {
	one := T2(Plain, seed)
	one.Length = 120
	other := Recipe{
		Seed: seed + 5000, Shape: seed + 7000,
		Clock: Clock{Beat: second, Rate: perDay(-13), BeatError: 0.02 * second, ScatterPM: 50e-6, Start: unit.Duration(0.05+0.037*float64(seed%25)) * second},
		Sound: Sound{AmplitudeSpread: 0.1},
	}
	return NewPair(one, other, level)
}
