package audio

import (
	"errors"
	"io"

	"github.com/jfreymuth/vorbis"
)

// decoder gives the sound of a compressed recording, channels interleaved.
// The last block may come with an error: io.EOF, or a [damage].
type decoder interface {
	info() Info
	decode() (block, error)
}

// block is some sound: whole numbers of 16 bits or floating point.
type block struct {
	i16 []int16
	f32 []float32
}

// counted compares a stream's own count of samples with what was decoded.
type counted struct {
	done   int64 // samples of a channel decoded
	offset int64 // of done over the stream's count
	known  bool  // offset is
	jumped int64 // where sound may be missing, 0 nowhere
}

// packet takes note of n samples more and gives how many of them are to be
// kept: the last packet of a stream may be longer than its sound.
func (c *counted) packet(p oggPacket, n int64) int64 {
	c.done += n
	if !p.last || p.count < 0 {
		return n
	}
	switch {
	case !c.known && p.end:
		return max(min(n, p.count-(c.done-n)), 0)
	case !c.known:
		c.known, c.offset = true, c.done-p.count
	case p.end:
		return max(n-max(c.done-p.count-c.offset, 0), 0)
	case c.done-p.count != c.offset && c.jumped == 0:
		c.jumped = c.done
	}
	return n
}

// missingAt is the place where sound may be missing, in seconds at a rate; 0
// nowhere.
func (c *counted) missingAt(rate float64) float64 { return float64(c.jumped) / rate }

// vorbisStream decodes Ogg Vorbis.
type vorbisStream struct {
	ogg   *ogg
	dec   vorbis.Decoder
	state Info
	counted
}

// openVorbis begins with the first packet, already read.
func openVorbis(o *ogg, identity []byte) (*vorbisStream, error) {
	rate, channels, err := scanVorbisIdentity(identity)
	if err != nil {
		return nil, err
	}
	v := &vorbisStream{ogg: o, state: Info{Format: "Ogg Vorbis", Rate: float64(rate), Float: true, Channels: channels, Frames: -1}}
	if err := v.dec.ReadHeader(identity); err != nil {
		return nil, damaged("its first head is damaged")
	}
	comment, err := o.next()
	if err != nil {
		return nil, early(err)
	}
	if err := scanVorbisComment(comment.data); err != nil {
		return nil, err
	}
	setup, err := o.next()
	if err != nil {
		return nil, early(err)
	}
	if err := scanVorbisSetup(setup.data); err != nil {
		return nil, err
	}
	if err := v.dec.ReadHeader(setup.data); err != nil {
		return nil, damaged("its third head is damaged")
	}
	o.most = mostSoundPacket
	return v, nil
}

// early is the error of a stream that ends before its sound.
func early(err error) error {
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return damaged("it ends before the first sample")
	}
	return err
}

func (v *vorbisStream) info() Info       { return v.state }
func (v *vorbisStream) missing() float64 { return v.missingAt(v.state.Rate) }

func (v *vorbisStream) decode() (block, error) {
	p, err := v.ogg.next()
	if err != nil {
		return block{}, err
	}
	if len(p.data) == 0 {
		v.packet(p, 0)
		return block{}, nil
	}
	x, err := v.dec.Decode(p.data)
	if err != nil {
		return block{}, damaged("a packet cannot be decoded")
	}
	n := v.packet(p, int64(len(x)/v.state.Channels))
	return block{f32: x[:n*int64(v.state.Channels)]}, nil
}
