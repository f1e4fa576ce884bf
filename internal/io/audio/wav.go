package audio

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
)

// wavHead is what stands before the samples of a WAV.
type wavHead struct {
	big      bool // RF64 or BW64
	ds64     int64
	seen     bool // of fmt
	tag      uint16
	channels int
	rate     uint32
	align    int
	bits     int
	data     int64 // stated size of the samples; -1 where it says nothing
	at       int64 // bytes read so far
}

const (
	mostChunks = 10_000
	mostBefore = 64 << 20 // bytes before the samples: pictures, notes
)

// openWAV reads up to the first sample.
func openWAV(ctx context.Context, in *input, o Options, closer io.Closer) (Sound, error) {
	size := in.size()
	h, err := readWAVHead(in)
	if err != nil {
		return nil, err
	}
	lay, err := h.layout()
	if err != nil {
		return nil, err
	}
	p := &pcm{ctx: ctx, src: in, lay: lay, closer: closer}
	p.info = Info{Format: h.format(), Rate: float64(h.rate), Bits: h.bits, Float: lay.float, Channels: lay.channels, Frames: -1}
	if h.align != lay.frame() {
		p.note("The header states %d bytes for a sample of all channels, which cannot be; %d were read.", h.align, lay.frame())
	}
	p.left = h.samples(p, size)
	if p.left >= 0 {
		p.info.Frames = p.left / int64(lay.frame())
	}
	return p.sound(o.Channel)
}

func (h *wavHead) format() string {
	if h.big {
		return "RF64"
	}
	return "WAV"
}

// endless is where stated sizes begin that mean "until it is stopped", up to
// 2 GiB: what a recorder writes into a pipe before it knows.
const endless = 1<<31 - 1<<16

// samples is the number of bytes to be read, or -1 for all; size is that of
// the whole file, -1 where not known.
func (h *wavHead) samples(p *pcm, size int64) int64 {
	const wrap = 1 << 32
	switch {
	case h.data < 0:
		p.note("The header does not state how long the recording is: it was read to its end.")
		return -1
	case !h.big && size-h.at-h.data >= wrap:
		p.note("The recording is longer than a plain WAV header can state: it was read to its end.")
		return h.data + (size-h.at-h.data)/wrap*wrap
	case !h.big && h.data >= endless && h.data <= 1<<31:
		return -1
	}
	return h.data
}

func readWAVHead(in io.Reader) (*wavHead, error) {
	h := &wavHead{ds64: -1}
	var b [12]byte
	if err := h.read(in, b[:]); err != nil {
		return nil, err
	}
	switch string(b[:4]) {
	case "RF64", "BW64":
		h.big = true
	case "RIFX":
		return nil, wrong("WAV", "its numbers are stored big end first")
	}
	for range mostChunks {
		if err := h.read(in, b[:8]); err != nil {
			return nil, err
		}
		size := int64(binary.LittleEndian.Uint32(b[4:8]))
		if string(b[:4]) == "data" {
			return h, h.begin(size)
		}
		if err := h.chunk(in, string(b[:4]), size); err != nil {
			return nil, err
		}
		if h.at > mostBefore {
			return nil, wrong("WAV", "no sound comes in its first 64 MB")
		}
	}
	return nil, wrong("WAV", "no sound comes after 10,000 pieces of its header")
}

// read fills b; an end before is a fault of the file.
func (h *wavHead) read(in io.Reader, b []byte) error {
	n, err := io.ReadFull(in, b)
	h.at += int64(n)
	return headError(err)
}

func headError(err error) error {
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return &FormatError{"WAV", "it ends before the first sample", "Copy it again from the recorder, or record anew"}
	}
	if err != nil {
		return fmt.Errorf("audio: read: %w", err)
	}
	return nil
}

// chunk reads what it knows of one piece of the header and skips the rest.
func (h *wavHead) chunk(in io.Reader, id string, size int64) error {
	use := int64(0)
	switch id {
	case "fmt ":
		use = min(size, 40)
	case "ds64":
		use = min(size, 28)
	}
	b := make([]byte, use)
	if err := h.read(in, b); err != nil {
		return err
	}
	switch id {
	case "fmt ":
		if err := h.setFormat(b); err != nil {
			return err
		}
	case "ds64":
		if len(b) >= 16 {
			h.ds64 = int64(binary.LittleEndian.Uint64(b[8:16]))
		}
	}
	rest := min(size-use+size&1, mostBefore+1)
	n, err := io.CopyN(io.Discard, in, rest)
	h.at += n
	return headError(err)
}

// Ends of the identifiers that stand for a plain format number.
const (
	extensible = "\x00\x00\x00\x00\x10\x00\x80\x00\x00\xaa\x00\x38\x9b\x71"
	ambisonic  = "\x00\x00\x21\x07\xd3\x11\x86\x44\xc8\xc1\xca\x00\x00\x00"
)

func (h *wavHead) setFormat(b []byte) error {
	le := binary.LittleEndian
	if len(b) < 16 {
		return wrong("WAV", "its format is not stated in full")
	}
	h.seen = true
	h.tag, h.channels, h.rate = le.Uint16(b), int(le.Uint16(b[2:])), le.Uint32(b[4:])
	h.align, h.bits = int(le.Uint16(b[12:])), int(le.Uint16(b[14:]))
	if h.tag != 0xfffe {
		return nil
	}
	if len(b) < 40 || !bytes.Equal(b[26:40], []byte(extensible)) && !bytes.Equal(b[26:40], []byte(ambisonic)) {
		return wrong("WAV", "its extended format is not one that is known")
	}
	h.tag = le.Uint16(b[24:])
	return nil
}

// begin is called at the first sample.
func (h *wavHead) begin(size int64) error {
	const unknown = 0xffffffff
	if !h.seen {
		return wrong("WAV", "its format is not stated before its sound")
	}
	h.data = size
	if h.big && (size == unknown || size == 0) {
		h.data = min(max(h.ds64, 0), 1<<62)
	}
	if h.data == 0 || !h.big && h.data >= unknown-255 {
		h.data = -1
	}
	return nil
}

// compression names the formats that people meet and that are not read.
func compression(tag uint16) string {
	switch tag {
	case 0x0002:
		return "ADPCM"
	case 0x0006:
		return "A-law"
	case 0x0007:
		return "µ-law"
	case 0x0011:
		return "IMA ADPCM"
	case 0x0031:
		return "GSM"
	case 0x0050:
		return "MPEG"
	case 0x0055:
		return "MP3"
	case 0x00ff:
		return "AAC"
	case 0x0161:
		return "Windows Media"
	}
	return fmt.Sprintf("format number %d", tag)
}

// layout checks the format and tells how the samples lie.
func (h *wavHead) layout() (layout, error) {
	if h.tag != 1 && h.tag != 3 {
		return layout{}, wrong("WAV", "its sound is stored as "+compression(h.tag)+", not as plain samples")
	}
	if h.channels < 1 || h.channels > mostChannels {
		return layout{}, wrong("WAV", fmt.Sprintf("it states %d channels; 1 to %d are read", h.channels, mostChannels))
	}
	if h.rate < leastRate || h.rate > mostRate {
		return layout{}, badRate("WAV", float64(h.rate))
	}
	store := (h.bits + 7) / 8 * 8
	if h.align%h.channels == 0 && h.align/h.channels*8 >= store {
		store = h.align / h.channels * 8
	}
	lay, ok := layoutOf(store, h.tag == 3, h.channels)
	if !ok || h.bits < 1 {
		return layout{}, wrong("WAV", fmt.Sprintf("%s of %d bits in %d bytes are not read", kindOfNumber(h.tag == 3), h.bits, h.align))
	}
	return lay, nil
}
