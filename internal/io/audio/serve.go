package audio

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"log"
)

// mostSamples of a channel are decoded: 12 hours at 48 kHz. A compressed
// file of a few kilobytes can hold days of silence.
const mostSamples = 1 << 31

// Serve is the child: it limits its own process for good, decodes the
// recording that comes in, and writes its sound and what is wrong with it to
// out in a form for [Open]. It answers the exit status. A program calls it
// from the hidden command that Options.Child names and does nothing else.
func Serve(in io.Reader, out io.Writer) int {
	limitProcess()
	log.SetOutput(io.Discard) // one of the libraries logs a line for each frame
	return serve(in, out)
}

func serve(in io.Reader, out io.Writer) int {
	w := &wireWriter{w: bufio.NewWriterSize(out, 64<<10)}
	_, _ = w.w.WriteString(wireMark) // the error comes back at Flush
	if w.w.Flush() != nil {
		return 1
	}
	err := decodeAll(in, w)
	var format *FormatError
	switch {
	case errors.As(err, &format):
		err = w.json(wireWrong, format)
	case err == nil:
		err = w.frame(wireEnd, nil)
	}
	if err != nil || w.w.Flush() != nil {
		return 1
	}
	return 0
}

// decodeAll writes all there is. Its error is a FormatError, or one of the
// pipes.
func decodeAll(in io.Reader, w *wireWriter) error {
	name := "compressed"
	d, err := caught(func() (decoder, error) { return openDecoder(in, &name) })
	if err != nil {
		return asRefusal(name, early(err))
	}
	i := d.info()
	frames := int64(0)
	for {
		x, err := caught(d.decode)
		n := int64(len(x.i16)+len(x.f32)) / int64(i.Channels)
		if frames == 0 && n > 0 {
			if err := w.json(wireHead, wireInfo{i, x.f32 == nil}); err != nil {
				return err
			}
		}
		frames += n
		if err := w.sound(x); err != nil {
			return err
		}
		if err == nil && frames < mostSamples {
			continue
		}
		if frames == 0 {
			return asRefusal(i.Format, early(err))
		}
		return w.finish(d, err, float64(frames)/i.Rate)
	}
}

// finish notes why the sound ended.
func (w *wireWriter) finish(d decoder, err error, seconds float64) error {
	var hurt damage
	var note string
	switch {
	case err == nil:
		note = fmt.Sprintf("It is longer than %.0f minutes: only so much was read.", seconds/60)
	case errors.As(err, &hurt):
		note = fmt.Sprintf("The recording is damaged or cut short after %.1f s (%s): only what comes before was read.", seconds, hurt)
	case !errors.Is(err, io.EOF):
		return err
	}
	if c, ok := d.(interface{ missing() float64 }); ok && c.missing() > 0 {
		if err := w.frame(wireNote, fmt.Appendf(nil, "By its own count of samples something is missing at %.1f s.", c.missing())); err != nil {
			return err
		}
	}
	if note == "" {
		return nil
	}
	return w.frame(wireNote, []byte(note))
}

// asRefusal makes a FormatError of damage; other errors stay.
func asRefusal(format string, err error) error {
	var hurt damage
	if !errors.As(err, &hurt) {
		return err
	}
	return &FormatError{format, string(hurt), "Copy it again from the recorder, or " + lower(saveAsWAV)}
}

func lower(s string) string { return string(bytes.ToLower([]byte(s[:1]))) + s[1:] }

// caught makes damage of a panic: the libraries fail on some damaged files.
func caught[T any](f func() (T, error)) (v T, err error) {
	defer func() {
		if recover() != nil {
			err = damaged("the decoder fails on it")
		}
	}()
	return f()
}

// openDecoder tells the kind; name becomes that of the kind as soon as it is
// known.
func openDecoder(in io.Reader, name *string) (decoder, error) {
	r := bufio.NewReaderSize(in, 64<<10)
	head, _ := r.Peek(sniffLen)
	switch sniff(head) {
	case kindFLAC:
		*name = "FLAC"
		return openFLAC(r)
	case kindOgg:
		return openOgg(r, name)
	case kindMP3:
		*name = "MP3"
		if err := skipTags(r); err != nil {
			return nil, err
		}
		if b, _ := r.Peek(4); string(b) == "fLaC" {
			*name = "FLAC"
			return openFLAC(r)
		}
		return openMP3(r)
	}
	return nil, refusal(head)
}

func openOgg(r io.Reader, name *string) (decoder, error) {
	*name = "Ogg"
	o := newOgg(r)
	p, err := o.next()
	if err != nil {
		return nil, early(err)
	}
	first := bytes.Clone(p.data)
	switch {
	case bytes.HasPrefix(first, []byte("\x01vorbis")):
		*name = "Ogg Vorbis"
		return openVorbis(o, first)
	case bytes.HasPrefix(first, []byte("OpusHead")):
		*name = "Opus"
		return openOpus(o, first)
	}
	return nil, damaged("it holds neither Vorbis nor Opus")
}
