package audio

import (
	"bufio"
	"bytes"
	"errors"
	"io"

	"github.com/hajimehoshi/go-mp3"
)

// mp3Frames passes on whole frames that follow one another without a gap, as
// a stream for the library. What ends it is in ended.
type mp3Frames struct {
	r     *bufio.Reader
	like  mp3Header // the first
	low   lowFrames
	have  []byte
	buf   []byte
	ended error
}

func (m *mp3Frames) Read(p []byte) (int, error) {
	for len(m.have) == 0 && m.ended == nil {
		m.have, m.ended = m.frame()
		if !m.like.low() {
			continue
		}
		if m.ended == nil {
			m.have, m.ended = m.low.add(mp3HeaderAt(m.have), m.have)
		}
		if m.ended != nil {
			m.have = m.low.last()
		}
	}
	if len(m.have) == 0 {
		return 0, io.EOF
	}
	n := copy(p, m.have)
	m.have = m.have[n:]
	return n, nil
}

func (m *mp3Frames) frame() ([]byte, error) {
	b, err := m.r.Peek(4)
	if len(b) == 0 {
		return nil, err
	}
	if bytes.HasPrefix(b, []byte("TAG")) || string(b) == "APET" || string(b) == "LYRI" || bytes.Count(b, []byte{0}) == len(b) {
		return nil, io.EOF
	}
	if len(b) < 4 {
		return nil, damaged("it ends in the middle of a frame")
	}
	h := mp3HeaderAt(b)
	if !h.sync() || !h.sameAs(m.like) || h.bitrate() == 0 {
		return nil, damaged("a frame does not begin where it must")
	}
	m.buf = room(m.buf, h.size())
	if _, err := io.ReadFull(m.r, m.buf); err != nil {
		if errors.Is(err, io.ErrUnexpectedEOF) {
			return nil, damaged("it ends in the middle of a frame")
		}
		return nil, err
	}
	if err := scanMP3Frame(h, m.buf); err != nil {
		return nil, err
	}
	return m.buf, nil
}

// mp3Stream decodes MP3.
type mp3Stream struct {
	frames *mp3Frames
	dec    *mp3.Decoder
	state  Info
	skip   int // samples of a channel to leave out yet
	raw    []byte
	out    []int16
}

// skipTags passes over tags and filling before the sound.
func skipTags(r *bufio.Reader) error {
	for passed := int64(0); ; {
		b, _ := r.Peek(10) // less is looked at just below
		if len(b) < 10 || string(b[:3]) != "ID3" {
			return skipZeros(r)
		}
		if b[6]|b[7]|b[8]|b[9] > 0x7f {
			return damaged("the size of its tag makes no sense")
		}
		n := 10 + int64(b[6])<<21 + int64(b[7])<<14 + int64(b[8])<<7 + int64(b[9])
		if b[5]&0x10 != 0 {
			n += 10
		}
		if passed += n; passed > mostBefore {
			return damaged("its tags are larger than 64 MB")
		}
		if _, err := io.CopyN(io.Discard, r, n); err != nil {
			return early(err)
		}
	}
}

func skipZeros(r *bufio.Reader) error {
	for range 1 << 20 {
		b, err := r.Peek(1)
		if len(b) == 0 {
			return early(err)
		}
		if b[0] != 0 {
			return nil
		}
		_, _ = r.Discard(1) // it was looked at
	}
	return damaged("no sound comes in its first megabyte")
}

// openMP3 begins after the tags.
func openMP3(r *bufio.Reader) (*mp3Stream, error) {
	b, err := r.Peek(4)
	if len(b) < 4 {
		return nil, early(err)
	}
	h := mp3HeaderAt(b)
	switch {
	case !h.sync():
		return nil, damaged("no frame of sound follows its tag")
	case h.bitrate() == 0:
		return nil, wrong("MP3", "its frames are of free size, which is not decoded")
	case h.rate() == leastRate:
		return nil, &FormatError{"MP3", "it has 8,000 samples a second, which no decoder here knows for MP3", "Convert it to WAV or FLAC with another program and open that; better, record at 48,000 samples a second"}
	}
	m := &mp3Stream{frames: &mp3Frames{r: r, like: h}, raw: make([]byte, 4*1152)}
	m.state = Info{Format: "MP3", Rate: float64(h.rate()), Channels: 2, Frames: -1}
	if h.mono() {
		m.state.Channels = 1
	}
	if err := m.leaveOut(h); err != nil {
		return nil, err
	}
	m.dec, err = mp3.NewDecoder(m.frames)
	if err != nil {
		return nil, m.fault(err)
	}
	return m, nil
}

// leaveOut drops a first frame that holds a description and no sound, and
// learns from it what the encoder put before the first sample.
func (m *mp3Stream) leaveOut(h mp3Header) error {
	b, _ := m.frames.r.Peek(h.size())
	at := h.body() + h.side()
	if len(b) < at+8 || string(b[at:at+4]) != "Info" && string(b[at:at+4]) != "Xing" {
		return nil
	}
	const whole, delays, decoder = 15, 120 + 21, 529
	if b[at+7]&whole == whole && len(b) > at+delays+2 {
		m.skip = int(b[at+delays])<<4 | int(b[at+delays+1])>>4
		if m.skip > 0 {
			m.skip += decoder
		}
	}
	_, err := m.frames.r.Discard(len(b))
	return err
}

// fault is why the frames or the library stopped.
func (m *mp3Stream) fault(err error) error {
	switch {
	case m.frames.ended != nil && !errors.Is(m.frames.ended, io.EOF):
		return m.frames.ended
	case errors.Is(err, io.EOF):
		return io.EOF
	}
	return damaged("a frame cannot be decoded")
}

func (m *mp3Stream) info() Info { return m.state }

func (m *mp3Stream) decode() (block, error) {
	n, err := m.dec.Read(m.raw)
	for err == nil && n%4 != 0 {
		var k int
		k, err = m.dec.Read(m.raw[n : n/4*4+4])
		n += k
	}
	c := m.state.Channels
	m.out = m.out[:0]
	for i := 0; i+4 <= n; i += 4 {
		if m.skip > 0 {
			m.skip--
			continue
		}
		m.out = append(m.out, int16At(m.raw, i))
		if c == 2 {
			m.out = append(m.out, int16At(m.raw, i+2))
		}
	}
	if err != nil {
		err = m.fault(err)
	}
	return block{i16: m.out}, err
}
