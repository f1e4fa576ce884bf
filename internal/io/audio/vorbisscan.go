package audio

import (
	"encoding/binary"
	"math"
)

// Checks of the three heads of a Vorbis stream, made before the library sees
// them: it believes counts and lengths, and would take all memory, never end,
// or fail.

const mostComments = 1000

func vorbisHead(b []byte, typ byte) ([]byte, error) {
	if len(b) < 7 || b[0] != typ || string(b[1:7]) != "vorbis" {
		return nil, damaged("one of its three heads is missing")
	}
	return b[7:], nil
}

// scanVorbisIdentity checks the first head.
func scanVorbisIdentity(p []byte) (rate, channels int, err error) {
	b, err := vorbisHead(p, 1)
	if err != nil {
		return 0, 0, err
	}
	if len(b) < 23 || binary.LittleEndian.Uint32(b) != 0 || b[22]&1 == 0 {
		return 0, 0, damaged("its first head is damaged")
	}
	channels = int(b[4])
	small, large := b[21]&15, b[21]>>4
	if channels < 1 || channels > 8 || small < 6 || large > 13 || small > large {
		return 0, 0, damaged("its first head states %d channels and blocks of %d and %d samples", channels, 1<<small, 1<<large)
	}
	r := binary.LittleEndian.Uint32(b[5:])
	if r < leastRate || r > mostRate {
		return 0, 0, badRate("Ogg Vorbis", float64(r))
	}
	return int(r), channels, nil
}

// scanVorbisComment checks the second head, which the library is spared.
func scanVorbisComment(p []byte) error {
	b, err := vorbisHead(p, 3)
	if err != nil {
		return err
	}
	return scanComments(b)
}

// scanComments checks a list of comments: the maker, a count, and so many.
func scanComments(b []byte) error {
	cut := damaged("its comments are longer than the head that holds them")
	text := func() bool {
		if len(b) < 4 || uint64(binary.LittleEndian.Uint32(b)) > uint64(len(b)-4) {
			return false
		}
		b = b[4+binary.LittleEndian.Uint32(b):]
		return true
	}
	if !text() || len(b) < 4 {
		return cut
	}
	n := binary.LittleEndian.Uint32(b)
	if n > mostComments {
		return damaged("it states %d comments", n)
	}
	b = b[4:]
	for range n {
		if !text() {
			return cut
		}
	}
	return nil
}

// mostValues bounds the numbers in all codebooks together.
const mostValues = 4 << 20

// scanVorbisSetup checks the codebooks in the third head.
func scanVorbisSetup(p []byte) error {
	b, err := vorbisHead(p, 5)
	if err != nil {
		return err
	}
	r := &bitReader{b: b}
	values := 0
	for range r.read(8) + 1 {
		n, err := scanCodebook(r)
		if err != nil {
			return err
		}
		if values += n; values > mostValues {
			return damaged("its codebooks are larger than any sound needs")
		}
	}
	return nil
}

// scanCodebook checks one codebook and gives the numbers it will hold.
func scanCodebook(r *bitReader) (values int, err error) {
	if r.read(24) != 0x564342 || r.over {
		return 0, damaged("a codebook does not begin where it must")
	}
	dims, entries := int(r.read(16)), int(r.read(24))
	if dims < 1 || entries < 2 || entries > mostValues/dims {
		return 0, damaged("a codebook states %d entries of %d numbers", entries, dims)
	}
	if err := scanLengths(r, entries); err != nil {
		return 0, err
	}
	switch typ := r.read(4); typ {
	case 0:
	case 1, 2:
		r.skip(64)
		width := int(r.read(4)) + 1
		r.skip(1)
		n := entries * dims
		if typ == 1 {
			n = int(math.Floor(math.Pow(float64(entries), 1/float64(dims))))
		}
		r.skip(n * width)
	default:
		return 0, damaged("a codebook is of an unknown kind")
	}
	if r.over {
		return 0, damaged("a codebook is cut short")
	}
	return entries * dims, nil
}

// scanLengths checks that the code words of a codebook make a whole tree.
func scanLengths(r *bitReader, entries int) error {
	var used, last int
	var sum uint64 // of 2^-length, in units of 2^-32
	add := func(n, length int) {
		used += n
		last = length
		sum += uint64(n) << (32 - length)
	}
	if ordered := r.read(1) == 1; !ordered {
		sparse := r.read(1) == 1
		for range entries {
			if !sparse || r.read(1) == 1 {
				add(1, int(r.read(5))+1)
			}
			if r.over {
				return damaged("a codebook is cut short")
			}
		}
	} else {
		length := int(r.read(5)) + 1
		for at := 0; at < entries; length++ {
			n := int(r.read(bitLength(entries - at)))
			if r.over || length > 32 || n > entries-at {
				return damaged("the code words of a codebook are more than stated")
			}
			add(n, length)
			at += n
		}
	}
	if used == 0 || sum != 1<<32 && !(used == 1 && last <= 32) {
		return damaged("the code words of a codebook do not fit together")
	}
	return nil
}
