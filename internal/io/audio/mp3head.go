package audio

import "encoding/binary"

// mp3Header is the 32-bit head of a frame of MPEG sound.
type mp3Header uint32

func mp3HeaderAt(b []byte) mp3Header { return mp3Header(binary.BigEndian.Uint32(b)) }

// sync tells whether it can be the head of a frame of layer 3.
func (h mp3Header) sync() bool {
	return h>>21 == 0x7ff && h.version() != 1 && h.layer() == 1 && h>>12&15 != 15 && h>>10&3 != 3 && h&3 != 2
}

func (h mp3Header) version() int { return int(h >> 19 & 3) } // 3 MPEG 1, 2 MPEG 2, 0 MPEG 2.5
func (h mp3Header) layer() int   { return int(h >> 17 & 3) } // 1 is layer 3
func (h mp3Header) summed() bool { return h>>16&1 == 0 }     // a sum of 2 bytes follows
func (h mp3Header) padding() int { return int(h >> 9 & 1) }
func (h mp3Header) mono() bool   { return h>>6&3 == 3 }
func (h mp3Header) low() bool    { return h.version() != 3 } // half the rates, half the frame
func (h mp3Header) sameAs(g mp3Header) bool {
	const fixed = 0x7ff<<21 | 3<<19 | 3<<17 | 3<<10
	return h&fixed == g&fixed && h.mono() == g.mono()
}

func (h mp3Header) rate() int {
	r := [3]int{44100, 48000, 32000}[h>>10&3%3]
	switch h.version() {
	case 2:
		r /= 2
	case 0:
		r /= 4
	}
	return r
}

// bitrate is in bits a second; 0 is "free".
func (h mp3Header) bitrate() int {
	i := h >> 12 & 15
	if h.low() {
		return 1000 * [16]int{0, 8, 16, 24, 32, 40, 48, 56, 64, 80, 96, 112, 128, 144, 160}[i]
	}
	return 1000 * [16]int{0, 32, 40, 48, 56, 64, 80, 96, 112, 128, 160, 192, 224, 256, 320}[i]
}

// size is of the whole frame, in bytes.
func (h mp3Header) size() int {
	if h.low() {
		return 72*h.bitrate()/h.rate() + h.padding()
	}
	return 144*h.bitrate()/h.rate() + h.padding()
}

// side is the size of the side information, in bytes.
func (h mp3Header) side() int {
	switch {
	case h.low() && h.mono():
		return 9
	case h.low() || h.mono():
		return 17
	}
	return 32
}

// body is where the side information begins.
func (h mp3Header) body() int {
	if h.summed() {
		return 6
	}
	return 4
}

// scanMP3Frame checks a whole frame before the library sees it.
func scanMP3Frame(h mp3Header, b []byte) error {
	at := h.body()
	if len(b) < at+h.side() {
		return damaged("a frame is too short for what it must hold")
	}
	if !h.low() {
		return nil
	}
	for _, c := range lowChannel(h) {
		const window = 12 + 9 + 8 + 9
		bit := func(i int) int { return bitAt(b[at:], c+window+i) }
		if bit(0) == 1 && bit(1) == 1 && bit(2) == 0 && bit(3) == 1 {
			return damaged("it has mixed blocks of half rate, which no usual encoder writes and the decoder fails on")
		}
	}
	return nil
}
