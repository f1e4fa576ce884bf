package audio

import (
	"bufio"
	"errors"
	"fmt"
	"io"

	"github.com/mewkiz/flac/frame"
)

// flacStream decodes FLAC.
type flacStream struct {
	r     *bufio.Reader
	state Info
	shift int    // to 16 bits
	done  int64  // samples of a channel decoded
	first uint64 // number of the first frame or sample
	count uint64 // frames
	out   block
}

// openFLAC reads the heads: RFC 9639, section 8. All but the first are
// passed over, so that the library need not believe them.
func openFLAC(r *bufio.Reader) (*flacStream, error) {
	b := make([]byte, 42)
	if _, err := io.ReadFull(r, b); err != nil {
		return nil, early(err)
	}
	if string(b[:4]) != "fLaC" || b[4]&0x7f != 0 || b[5] != 0 || b[6] != 0 || b[7] != 34 {
		return nil, damaged("its first head is damaged")
	}
	f := &flacStream{r: r}
	if err := f.stated(b[8:]); err != nil {
		return nil, err
	}
	passed := int64(0)
	for last := b[4]&0x80 != 0; !last; {
		if _, err := io.ReadFull(r, b[:4]); err != nil {
			return nil, early(err)
		}
		n := int64(b[1])<<16 | int64(b[2])<<8 | int64(b[3])
		last = b[0]&0x80 != 0
		if passed += 4 + n; b[0]&0x7f == 0 || b[0]&0x7f == 127 || passed > mostBefore {
			return nil, damaged("its heads make no sense")
		}
		if _, err := io.CopyN(io.Discard, r, n); err != nil {
			return nil, early(err)
		}
	}
	return f, nil
}

// stated reads the first head.
func (f *flacStream) stated(b []byte) error {
	rate := int(b[10])<<12 | int(b[11])<<4 | int(b[12])>>4
	channels, size := int(b[12])>>1&7+1, int(b[12])&1<<4|int(b[13])>>4+1
	total := int64(b[13]&15)<<32 | int64(b[14])<<24 | int64(b[15])<<16 | int64(b[16])<<8 | int64(b[17])
	if rate < leastRate || rate > mostRate {
		return badRate("FLAC", float64(rate))
	}
	if size < 8 || size > 24 {
		return &FormatError{"FLAC", fmt.Sprintf("its samples have %d bits, and 8 to 24 are read", size), saveAsWAV}
	}
	if total == 0 {
		total = -1
	}
	f.state = Info{Format: "FLAC", Rate: float64(rate), Bits: size, Channels: channels, Frames: total}
	f.shift = 16 - size
	return nil
}

func (f *flacStream) info() Info { return f.state }

func (f *flacStream) decode() (block, error) {
	if tag, _ := f.r.Peek(3); string(tag) == "TAG" {
		return block{}, f.atEnd()
	}
	fr, err := frame.Parse(f.r)
	switch {
	case errors.Is(err, io.EOF):
		return block{}, f.atEnd()
	case errors.Is(err, io.ErrUnexpectedEOF):
		return block{}, damaged("it ends in the middle of a frame")
	case err != nil:
		return block{}, damaged("a frame does not fit its sum or makes no sense")
	}
	if err := f.check(fr); err != nil {
		return block{}, err
	}
	n := int(fr.BlockSize)
	f.done += int64(n)
	if f.shift >= 0 {
		return f.whole(fr, n), nil
	}
	return f.float(fr, n), nil
}

func (f *flacStream) atEnd() error {
	if f.done < f.state.Frames {
		return damaged("it ends before the length it states")
	}
	return io.EOF
}

// check sees that a frame follows the one before and is like the head.
func (f *flacStream) check(fr *frame.Frame) error {
	if fr.SampleRate != 0 && float64(fr.SampleRate) != f.state.Rate || int(fr.BitsPerSample) != f.state.Bits || len(fr.Subframes) != f.state.Channels {
		return damaged("a frame is of another format than the first")
	}
	for _, s := range fr.Subframes {
		if len(s.Samples) != int(fr.BlockSize) {
			return damaged("a frame lacks samples")
		}
	}
	if f.count == 0 {
		f.first = fr.Num
	}
	at := f.first + uint64(f.done)
	if fr.HasFixedBlockSize {
		at = f.first + f.count
	}
	if fr.Num != at {
		return damaged("a frame is missing")
	}
	f.count++
	return nil
}

func (f *flacStream) whole(fr *frame.Frame, n int) block {
	f.out.i16 = room(f.out.i16, n*f.state.Channels)
	for c, s := range fr.Subframes {
		for i, v := range s.Samples {
			f.out.i16[i*f.state.Channels+c] = int16(v << f.shift)
		}
	}
	return f.out
}

func (f *flacStream) float(fr *frame.Frame, n int) block {
	f.out.f32 = room(f.out.f32, n*f.state.Channels)
	scale := 1 / float32(int64(1)<<(f.state.Bits-1))
	for c, s := range fr.Subframes {
		for i, v := range s.Samples {
			f.out.f32[i*f.state.Channels+c] = float32(v) * scale
		}
	}
	return f.out
}

func room[T any](x []T, n int) []T {
	if cap(x) < n {
		return make([]T, n)
	}
	return x[:n]
}
