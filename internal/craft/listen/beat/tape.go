package beat

import (
	"context"
	"errors"
	"io"

	"seatboard/internal/kit/progress"
)

// tape holds the stretch of sound that is being listened to. Samples are
// numbered from the first; those before base have been let go.
type tape struct {
	src     Source
	src16   Source16 // nil where samples are read as float32
	i16     []int16
	f32     []float32
	base    int64
	n       int // samples held
	end     bool
	looked  int64 // samples looked at for their level, every levelStride-th
	full    int64 // of them at full scale
	peak    float32
	err     error
	counter *progress.Counter
	slope   []float32 // of the blocks that were watched last
	rest    float32   // the level that the sound rests at: a recorder may put it beside 0
}

const (
	firstTape = 1 << 20 // samples: 22 s at 48 kHz
	oneRead   = 1 << 16 // samples; also how often a stop is looked for
)

func newTape(src Source, c *progress.Counter) *tape {
	t := &tape{src: src, counter: c}
	if s, ok := src.(Source16); ok {
		t.src16, t.i16 = s, make([]int16, firstTape)
	} else {
		t.f32 = make([]float32, firstTape)
	}
	return t
}

func (t *tape) size() int { return max(len(t.i16), len(t.f32)) }

// last is the number of the sample after the last one held.
func (t *tape) last() int64 { return t.base + int64(t.n) }

// reach reads until sample upto-1 is held and tells whether it is; samples
// before keep may be let go.
func (t *tape) reach(ctx context.Context, keep, upto int64) bool {
	for t.last() < upto && !t.end {
		if err := ctx.Err(); err != nil {
			t.end, t.err = true, err
			break
		}
		t.makeRoom(keep)
		t.read()
	}
	return t.last() >= upto
}

// makeRoom lets go of what is not wanted when the tape is full, and makes it
// longer when most of it is wanted.
func (t *tape) makeRoom(keep int64) {
	if t.n < t.size() {
		return
	}
	drop := int(min(max(keep-t.base, 0), int64(t.n)))
	if drop < t.size()/4 {
		t.i16, t.f32 = longer(t.i16), longer(t.f32)
	}
	if t.src16 != nil {
		copy(t.i16, t.i16[drop:t.n])
	} else {
		copy(t.f32, t.f32[drop:t.n])
	}
	t.base += int64(drop)
	t.n -= drop
}

func longer[T any](x []T) []T {
	if x == nil {
		return nil
	}
	return append(x, make([]T, len(x))...)
}

func (t *tape) read() {
	var got int
	var err error
	to := min(t.n+oneRead, t.size())
	if t.src16 != nil {
		got, err = t.src16.ReadInt16(t.i16[t.n:to])
	} else {
		got, err = t.src.ReadFloat(t.f32[t.n:to])
	}
	t.level(t.n, t.n+got)
	t.n += got
	t.counter.Add(int64(got))
	if err != nil {
		t.end = true
		if !errors.Is(err, io.EOF) {
			t.err = err
		}
	}
}

// float copies samples from one on, the resting level taken off; those not
// held are 0.
func (t *tape) float(dst []float32, from int64) {
	i := int(from - t.base)
	for i < 0 && len(dst) > 0 {
		dst[0] = 0
		dst, i = dst[1:], i+1
	}
	n := max(0, min(len(dst), t.n-i))
	if n > 0 && t.src16 != nil {
		for k, v := range t.i16[i : i+n] {
			dst[k] = float32(v)*(1.0/32768) - t.rest
		}
	} else if n > 0 {
		for k, v := range t.f32[i : i+n] {
			dst[k] = v - t.rest
		}
	}
	clear(dst[n:])
}

// levelStride is how sparsely the level is looked at.
const levelStride = 16

// level looks at some of the samples held from one to another.
func (t *tape) level(from, to int) {
	if t.src16 != nil {
		low, high, full := 0, 0, 0
		for i := from; i < to; i += levelStride {
			v := int(t.i16[i])
			low, high = min(low, v), max(high, v)
			if v >= fullScale || v <= -fullScale {
				full++
			}
		}
		t.peak = max(t.peak, float32(max(high, -low))/32768)
		t.full += int64(full)
	} else {
		for i := from; i < to; i += levelStride {
			v := max(t.f32[i], -t.f32[i])
			t.peak = max(t.peak, v)
			if v >= fullScale/32768.0 {
				t.full++
			}
		}
	}
	t.looked += int64(max(0, to-from)+levelStride-1) / levelStride
}

// fullScale is the magnitude of 16 bits from which on a sample is taken to be
// clipped.
const fullScale = 32765
