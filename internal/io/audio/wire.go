package audio

import (
	"bufio"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
)

// What the child writes to the program: a mark, then frames of a letter, a
// length of four bytes, and so many bytes.
const (
	wireMark   = "sound 1\n"
	wireHead   = 'h' // JSON of wireInfo, once and first
	wireSound  = 's' // samples
	wireNote   = 'n' // a sentence
	wireWrong  = 'e' // JSON of FormatError; nothing follows
	wireEnd    = 'z' // the end; nothing follows
	mostFrame  = 1 << 20
	mostString = 2000 // bytes of a frame that is not sound
)

type wireInfo struct {
	Info
	Whole bool `json:"whole"` // samples are whole numbers of 16 bits, else floating point of 32
}

// wireWriter is the child's side.
type wireWriter struct {
	w   *bufio.Writer
	buf []byte
}

func (w *wireWriter) frame(kind byte, b []byte) error {
	head := binary.LittleEndian.AppendUint32([]byte{kind}, uint32(len(b)))
	if _, err := w.w.Write(head); err != nil {
		return err
	}
	_, err := w.w.Write(b)
	return err
}

func (w *wireWriter) json(kind byte, v any) error {
	b, err := json.Marshal(v)
	if err != nil {
		return err
	}
	return w.frame(kind, b)
}

// sound writes a block, in pieces that the other side takes.
func (w *wireWriter) sound(x block) error {
	const most = mostFrame / 8
	for len(x.i16) > 0 || len(x.f32) > 0 {
		i, f := x.i16[:min(len(x.i16), most)], x.f32[:min(len(x.f32), most)]
		x.i16, x.f32 = x.i16[len(i):], x.f32[len(f):]
		w.buf = w.buf[:0]
		for _, v := range i {
			w.buf = binary.LittleEndian.AppendUint16(w.buf, uint16(v))
		}
		for _, v := range f {
			w.buf = binary.LittleEndian.AppendUint32(w.buf, math.Float32bits(v))
		}
		if err := w.frame(wireSound, w.buf); err != nil {
			return err
		}
	}
	return nil
}

// errWire is a child that does not speak as it should: another program, or
// one that was stopped.
var errWire = errors.New("audio: the decoder's answer is broken off or not understood")

// wireReader is the program's side: an io.Reader of the samples. It believes
// nothing: the child has had the hostile file.
type wireReader struct {
	r    io.Reader
	note func(string)
	left int  // of the frame of sound
	ours bool // the mark has come: it is the decoder
}

// head reads the mark and the first frame.
func (w *wireReader) head() (wireInfo, error) {
	b := make([]byte, len(wireMark))
	if _, err := io.ReadFull(w.r, b); err != nil || string(b) != wireMark {
		return wireInfo{}, errWire
	}
	w.ours = true
	kind, n, err := w.next()
	if err != nil {
		return wireInfo{}, err
	}
	if kind != wireHead {
		return wireInfo{}, errWire
	}
	var i wireInfo
	if err := w.json(n, &i); err != nil {
		return wireInfo{}, err
	}
	if !(i.Rate >= leastRate && i.Rate <= mostRate) || i.Channels < 1 || i.Channels > mostChannels || len(i.Format) > 40 {
		return wireInfo{}, errWire
	}
	return i, nil
}

// next reads the head of a frame; an error frame becomes its error.
func (w *wireReader) next() (kind byte, n int, err error) {
	var h [5]byte
	if _, err := io.ReadFull(w.r, h[:]); err != nil {
		return 0, 0, errWire
	}
	size := binary.LittleEndian.Uint32(h[1:])
	if h[0] != wireSound && size > mostString || size > mostFrame {
		return 0, 0, errWire
	}
	switch h[0] {
	case wireEnd:
		return 0, 0, io.EOF
	case wireWrong:
		e := &FormatError{}
		if err := w.json(int(size), e); err != nil {
			return 0, 0, err
		}
		return 0, 0, e
	}
	return h[0], int(size), nil
}

func (w *wireReader) text(n int) ([]byte, error) {
	b := make([]byte, n)
	if _, err := io.ReadFull(w.r, b); err != nil {
		return nil, errWire
	}
	return b, nil
}

func (w *wireReader) json(n int, v any) error {
	b, err := w.text(n)
	if err != nil {
		return err
	}
	if err := json.Unmarshal(b, v); err != nil {
		return fmt.Errorf("%w: %w", errWire, err)
	}
	return nil
}

func (w *wireReader) Read(p []byte) (int, error) {
	for w.left == 0 {
		kind, n, err := w.next()
		if err != nil {
			return 0, err
		}
		switch kind {
		case wireSound:
			w.left = n
		case wireNote:
			b, err := w.text(n)
			if err != nil {
				return 0, err
			}
			w.note(string(b))
		default:
			return 0, errWire
		}
	}
	n, err := w.r.Read(p[:min(len(p), w.left)])
	w.left -= n
	if err != nil {
		err = errWire
	}
	return n, err
}
