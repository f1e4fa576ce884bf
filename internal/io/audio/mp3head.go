package audio

// mp3Header is the 32-bit head of a frame of MPEG sound.
type mp3Header uint32

// sync tells whether it can be the head of a frame.
func (h mp3Header) sync() bool {
	return h>>21 == 0x7ff && h.version() != 1 && h.layer() != 0 && h>>12&15 != 15 && h>>10&3 != 3 && h&3 != 2
}

func (h mp3Header) version() int { return int(h >> 19 & 3) } // 3 MPEG 1, 2 MPEG 2, 0 MPEG 2.5
func (h mp3Header) layer() int   { return int(h >> 17 & 3) } // 1 is layer 3
