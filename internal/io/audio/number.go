package audio

import (
	"encoding/binary"
	"math"
	"unsafe"
)

// floats converts one channel: a sample every step bytes.
func (l layout) floats(dst []float32, b []byte, step int) {
	switch {
	case l.float && l.bytes == 8:
		for i := range dst {
			dst[i] = float32(math.Float64frombits(uint64At(b, i*step)))
		}
	case l.float:
		for i := range dst {
			dst[i] = math.Float32frombits(uint32At(b, i*step))
		}
	case l.bytes == 1:
		for i := range dst {
			dst[i] = float32(int(b[i*step])-128) * (1.0 / 128)
		}
	case l.bytes == 2:
		for i := range dst {
			dst[i] = float32(int16At(b, i*step)) * (1.0 / 32768)
		}
	case l.bytes == 3:
		for i := range dst {
			o := i * step
			v := int32(uint32(b[o])<<8 | uint32(b[o+1])<<16 | uint32(b[o+2])<<24)
			dst[i] = float32(v>>8) * (1.0 / (1 << 23))
		}
	default:
		for i := range dst {
			dst[i] = float32(int32(uint32At(b, i*step))) * (1.0 / (1 << 31))
		}
	}
}

func int16At(b []byte, i int) int16 { return int16(uint16(b[i]) | uint16(b[i+1])<<8) }

func uint32At(b []byte, i int) uint32 {
	return uint32(b[i]) | uint32(b[i+1])<<8 | uint32(b[i+2])<<16 | uint32(b[i+3])<<24
}

func uint64At(b []byte, i int) uint64 {
	return uint64(uint32At(b, i)) | uint64(uint32At(b, i+4))<<32
}

// ReadInt16 fills dst with samples as they are stored.
func (p *pcm16) ReadInt16(dst []int16) (int, error) {
	if len(dst) == 0 {
		return 0, nil
	}
	if p.lay.channels == 1 {
		return p.readOne16(dst)
	}
	b, err := p.fill(len(dst))
	if err != nil {
		return 0, err
	}
	f := p.lay.frame()
	n := len(b) / f
	switch {
	case p.channel >= 0:
		for i := range dst[:n] {
			dst[i] = int16At(b, i*f+2*p.channel)
		}
	case p.lay.channels == 2:
		for i := range dst[:n] {
			v := uint32At(b, 4*i)
			dst[i] = int16((int32(int16(v)) + int32(int16(v>>16)) + 1) >> 1)
		}
	default:
		meanInt16(dst[:n], b, p.lay.channels)
	}
	return n, nil
}

// readOne16 is ReadInt16 of one channel. The bytes are read to where the
// samples are wanted, and lie there as they should already on most computers.
func (p *pcm16) readOne16(dst []int16) (int, error) {
	if len(p.have) > 1 { // read before, as floating point
		b, err := p.fill(len(dst))
		int16s(dst[:len(b)/2], b)
		return len(b) / 2, err
	}
	own := p.buf
	p.buf = unsafe.Slice((*byte)(unsafe.Pointer(unsafe.SliceData(dst))), 2*len(dst))
	b, err := p.fill(min(len(dst), blockBytes/2))
	p.have = own[:copy(own, p.have)] // half a sample at the most
	p.buf = own
	n := len(b) / 2
	if littleEnd := [2]byte{1, 0}; binary.NativeEndian.Uint16(littleEnd[:]) != 1 {
		int16s(dst[:n], b)
	}
	return n, err
}

// int16s converts neighbouring samples, four at a time.
func int16s(dst []int16, b []byte) {
	for len(dst) >= 4 && len(b) >= 8 {
		v := uint64(b[0]) | uint64(b[1])<<8 | uint64(b[2])<<16 | uint64(b[3])<<24 |
			uint64(b[4])<<32 | uint64(b[5])<<40 | uint64(b[6])<<48 | uint64(b[7])<<56
		d := dst[:4:4]
		d[0], d[1], d[2], d[3] = int16(v), int16(v>>16), int16(v>>32), int16(v>>48)
		dst, b = dst[4:], b[8:]
	}
	for i := range dst {
		dst[i] = int16At(b, 2*i)
	}
}

// meanInt16 is the mean of the channels, rounded to the nearest.
func meanInt16(dst []int16, b []byte, channels int) {
	for i := range dst {
		s := 0
		for range channels {
			s += int(int16At(b, 0))
			b = b[2:]
		}
		s = 2*s + channels
		q := s / (2 * channels)
		if s < 0 && s%(2*channels) != 0 {
			q--
		}
		dst[i] = int16(q)
	}
}
