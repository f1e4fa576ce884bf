package audio

import (
	"fmt"
	"io"
	"math"

	"github.com/mewkiz/flac"
	"github.com/mewkiz/flac/frame"
	"github.com/mewkiz/flac/meta"
)

const (
	flacBlock = 4096
	flacBits  = 16
)

// FLACWriter writes sound of one channel as it comes, as FLAC of 16 bits. Of
// sound that was recorded with 16 bits nothing is lost; its noise is the
// measure of its size: some 170 to 270 MB an hour at 48 kHz, half to three
// quarters of a WAV. The length does not stand in the head, as nothing is
// written twice.
type FLACWriter struct {
	enc   *flac.Encoder
	block []int32
	held  int
	next  uint64
	count written
}

// written counts what is written, and keeps the error that the library puts
// into words.
type written struct {
	w   io.Writer
	n   int64
	err error
}

func (c *written) Write(p []byte) (int, error) {
	n, err := c.w.Write(p)
	c.n += int64(n)
	c.err = err
	return n, err
}

// NewFLACWriter begins a file of so many samples a second.
func NewFLACWriter(w io.Writer, rate int) (*FLACWriter, error) {
	if rate < leastRate || rate > mostRate {
		return nil, badRate("FLAC", float64(rate))
	}
	f := &FLACWriter{block: make([]int32, flacBlock), count: written{w: w}}
	var err error
	f.enc, err = flac.NewEncoder(&f.count, &meta.StreamInfo{BlockSizeMin: flacBlock, BlockSizeMax: flacBlock, SampleRate: uint32(rate), NChannels: 1, BitsPerSample: flacBits})
	if err != nil {
		return nil, f.failed(err)
	}
	return f, nil
}

// Write takes samples, full scale 1.
func (f *FLACWriter) Write(x []float32) error {
	for _, v := range x {
		s := math.RoundToEven(float64(v) * (1 << (flacBits - 1)))
		f.block[f.held] = int32(min(max(s, math.MinInt16), math.MaxInt16))
		if f.held++; f.held == flacBlock {
			if err := f.flush(); err != nil {
				return err
			}
		}
	}
	return nil
}

// Size is how many bytes were written.
func (f *FLACWriter) Size() int64 { return f.count.n }

// Close writes what is left. It does not close the writer below.
func (f *FLACWriter) Close() error {
	if f.held == 0 {
		return nil
	}
	return f.flush()
}

func (f *FLACWriter) flush() error {
	x := f.block[:f.held]
	fr := &frame.Frame{
		Header:    frame.Header{HasFixedBlockSize: true, BlockSize: uint16(len(x)), Channels: frame.ChannelsMono, BitsPerSample: flacBits, Num: f.next},
		Subframes: []*frame.Subframe{{SubHeader: frame.SubHeader{Pred: frame.PredVerbatim}, Samples: x, NSamples: len(x)}},
	}
	f.next++
	f.held = 0
	if err := f.enc.WriteFrame(fr); err != nil {
		return f.failed(err)
	}
	return nil
}

func (f *FLACWriter) failed(err error) error {
	if f.count.err != nil {
		err = f.count.err
	}
	return fmt.Errorf("audio: write a FLAC: %w", err)
}
