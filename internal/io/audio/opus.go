package audio

import (
	"encoding/binary"
	"math"

	"github.com/pion/opus"
)

// opusStream decodes Opus in Ogg, always at 48,000 samples a second.
type opusStream struct {
	ogg   *ogg
	dec   opus.Decoder
	state Info
	gain  float32
	skip  int64 // samples of a channel to leave out yet
	buf   []float32
	counted
}

const opusRate = 48000

// openOpus begins with the first packet, already read.
func openOpus(o *ogg, head []byte) (*opusStream, error) {
	channels, skip, gain, err := scanOpusHead(head)
	if err != nil {
		return nil, err
	}
	tags, err := o.next()
	if err != nil {
		return nil, early(err)
	}
	if len(tags.data) < 8 || string(tags.data[:8]) != "OpusTags" {
		return nil, damaged("its second head is missing")
	}
	if err := scanComments(tags.data[8:]); err != nil {
		return nil, err
	}
	dec, err := opus.NewDecoderWithOutput(opusRate, channels)
	if err != nil {
		return nil, damaged("its first head is damaged")
	}
	o.most = mostSoundPacket
	return &opusStream{ogg: o, dec: dec, gain: gain, skip: skip, buf: make([]float32, channels*opusRate*120/1000),
		state: Info{Format: "Opus", Rate: opusRate, Float: true, Channels: channels, Frames: -1}}, nil
}

// scanOpusHead checks the first head: RFC 7845, section 5.1.
func scanOpusHead(b []byte) (channels int, skip int64, gain float32, err error) {
	if len(b) < 19 || b[8]&0xf0 != 0 {
		return 0, 0, 0, damaged("its first head is damaged")
	}
	channels = int(b[9])
	if channels < 1 || channels > 2 || b[18] > 1 {
		return 0, 0, 0, damaged("it has %d channels of kind %d, and 1 or 2 plain ones are read", channels, b[18])
	}
	if b[18] == 1 && (len(b) < 21+channels || b[19] != 1 || int(b[20]) != channels-1) {
		return 0, 0, 0, damaged("its channels are in more than one stream")
	}
	dB := float64(int16(binary.LittleEndian.Uint16(b[16:]))) / 256
	return channels, int64(binary.LittleEndian.Uint16(b[10:])), float32(math.Pow(10, dB/20)), nil
}

func (s *opusStream) info() Info       { return s.state }
func (s *opusStream) missing() float64 { return s.missingAt(opusRate) }

func (s *opusStream) decode() (block, error) {
	p, err := s.ogg.next()
	if err != nil {
		return block{}, err
	}
	if len(p.data) == 0 {
		s.packet(p, 0)
		return block{}, nil
	}
	n, err := s.dec.DecodeToFloat32(p.data, s.buf)
	if err != nil || n < 0 || n*s.state.Channels > len(s.buf) {
		return block{}, damaged("a packet cannot be decoded")
	}
	keep := s.packet(p, int64(n))
	from := min(s.skip, keep)
	s.skip -= from
	x := s.buf[from*int64(s.state.Channels) : keep*int64(s.state.Channels)]
	if s.gain != 1 {
		for i := range x {
			x[i] *= s.gain
		}
	}
	return block{f32: x}, nil
}
