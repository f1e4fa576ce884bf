package audio

// lowFrames lays the frames of half and quarter rate out anew for the
// library, which reckons the size of padded ones a byte short and knows no
// quarter rates: every frame becomes one of the greatest bitrate without
// padding, and what belongs to a frame (its main data) follows that of the
// frame before as closely as the format allows (ISO/IEC 13818-3, 2.4.1 and
// 2.4.2: main data may begin up to 255 bytes before its frame).
type lowFrames struct {
	kept  []byte // main data of the frames read, its last bytes
	held  []byte // laid out last; its free end may still take data of the next
	other []byte // room for the one after
	used  int    // bytes of main data in held
}

// mostBegin is how far before its frame main data may begin.
const mostBegin = 255

// lowHead is the head of the frame that the library gets. Quarter rates of
// 11,025 and 12,000 are divided into bands as 16,000 is, so they go by that
// name; what the rate is, Info says.
func lowHead(h mp3Header) mp3Header {
	const version, bare, rate, sixteen, mostBits = 3 << 19, 1 << 16, 3 << 10, 2 << 10, 14 << 12
	quarter := h.version() == 0
	h = h&^(version|15<<12|1<<9) | 2<<19 | bare | mostBits
	if quarter {
		h = h&^rate | sixteen
	}
	return h
}

// add takes a whole frame and gives the one before, laid out; nothing at
// first. What it gives holds until the next call.
func (l *lowFrames) add(h mp3Header, frame []byte) ([]byte, error) {
	side := frame[h.body() : h.body()+h.side()]
	data, known, err := l.mainData(h, side, frame[h.body()+h.side():])
	if err != nil {
		return nil, err
	}
	free := 0
	if len(l.held) > 0 {
		free = min(mostBegin, len(l.held)-4-h.side()-l.used)
	}
	begin := min(free, len(data))
	copy(l.held[len(l.held)-begin:], data)
	data = data[begin:]

	head := lowHead(h)
	l.other = room(l.other, head.size())
	clear(l.other)
	l.other[0], l.other[1], l.other[2], l.other[3] = byte(head>>24), byte(head>>16), byte(head>>8), byte(head)
	if known {
		copy(l.other[4:], side)
	}
	l.other[4] = byte(begin)
	if copy(l.other[4+h.side():], data) < len(data) {
		return nil, damaged("a frame holds more than the decoder takes")
	}
	l.used = len(data)
	l.held, l.other = l.other, l.held
	return l.other, nil
}

// last gives the frame that is held yet.
func (l *lowFrames) last() []byte {
	b := l.held
	l.held = nil
	return b
}

// mainData is what belongs to a frame. It is not known where it begins in
// frames that were cut off: such a frame is silent.
func (l *lowFrames) mainData(h mp3Header, side, rest []byte) (data []byte, known bool, err error) {
	begin, before := int(side[0]), len(l.kept)
	l.kept = append(l.kept, rest...)
	if begin <= before {
		data, known = l.kept[before-begin:], true
		n := (sideBits(h, side) + 7) / 8
		if n > len(data) {
			return nil, false, damaged("a frame states more than it holds")
		}
		data = append([]byte(nil), data[:n]...)
	}
	if more := len(l.kept) - mostBegin; more > 0 {
		l.kept = append(l.kept[:0], l.kept[more:]...)
	}
	return data, known, nil
}

// sideBits is the size of the main data by the side information of a frame
// of low rate: 12 bits at the head of what stands for a channel.
func sideBits(h mp3Header, side []byte) (bits int) {
	at := lowChannel(h)
	for i := range at {
		n := 0
		for b := range 12 {
			n = n<<1 | bitAt(side, at[i]+b)
		}
		bits += n
	}
	return bits
}

// lowChannel tells at which bits of the side information the channels begin.
func lowChannel(h mp3Header) []int {
	const each = 63
	if h.mono() {
		return []int{9}
	}
	return []int{10, 10 + each}
}

func bitAt(b []byte, i int) int { return int(b[i/8] >> (7 - i%8) & 1) }
