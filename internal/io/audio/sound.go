package audio

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"

	"seatboard/internal/craft/listen/beat"
)

// Options say how a recording is read. The zero value is right for a file.
type Options struct {
	Channel int        // 1 is the first or left; 0 the mean of all
	Raw     *RawFormat // the input is bare samples of this format; nil: a file of a known kind
	Child   []string   // command that calls Serve; nil: this program's own
}

// RawFormat is the format of bare samples, little end first, channels
// interleaved.
type RawFormat struct {
	Rate     float64 // samples a second, 8,000 to 192,000
	Bits     int     // of a sample: 8 (unsigned), 16, 24, 32, or with Float 32, 64
	Float    bool    // floating point, full scale 1
	Channels int     // 0 is 1
}

// Info is what the head of a recording states.
type Info struct {
	Format   string  `json:"format"`   // "WAV", "RF64", "FLAC", "Ogg Vorbis", "Opus", "MP3", "raw"
	Rate     float64 `json:"rate"`     // samples a second
	Bits     int     `json:"bits"`     // of a sample as stored; 0 for Vorbis, Opus and MP3
	Float    bool    `json:"float"`    // floating point
	Channels int     `json:"channels"` //
	Channel  int     `json:"channel"`  // the one that is read; 0 the mean of all
	Frames   int64   `json:"frames"`   // samples of a channel as stated; -1 where not stated. A hint only
}

// Sound is a recording opened for reading. It is a [beat.Source16] too where
// its samples are of 16 bits. It is read by one caller at a time; Close may
// be called at any time.
type Sound interface {
	beat.Source
	Info() Info      // what its head states
	Notes() []string // sentences on what was odd; complete once reading has ended
	Close() error    // lets go of the file and the child; reading after it fails
}

// Open opens a recording in a file.
func Open(ctx context.Context, path string, o Options) (Sound, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("audio: open: %w", err)
	}
	if st, err := f.Stat(); err == nil && st.IsDir() {
		f.Close()
		return nil, &FormatError{"", "it is a folder", "Name a recording in it"}
	}
	s, err := open(ctx, f, o, f)
	if err != nil {
		f.Close()
		return nil, err
	}
	return s, nil
}

// OpenReader opens a recording that comes as a stream, standard input for
// one. Close does not close the reader. A reader that has Stat, as a file
// has, is asked for its size.
func OpenReader(ctx context.Context, r io.Reader, o Options) (Sound, error) {
	return open(ctx, r, o, nil)
}

// open tells the kind and opens it; closer, if any, is closed with the sound.
func open(ctx context.Context, r io.Reader, o Options, closer io.Closer) (Sound, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if o.Channel < 0 {
		return nil, fmt.Errorf("audio: channel %d: %w", o.Channel, errChannel)
	}
	if o.Raw != nil {
		return openRaw(ctx, r, o, closer)
	}
	head := make([]byte, sniffLen)
	n, err := io.ReadFull(r, head)
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		return nil, fmt.Errorf("audio: read: %w", err)
	}
	in := &input{head: head[:n], r: r}
	switch k := sniff(in.head); k {
	case kindWAV:
		return openWAV(ctx, in, o, closer)
	case kindUnknown:
		return nil, refusal(in.head)
	default:
		return openChild(ctx, in, k, o, closer)
	}
}

// errChannel is a mistake of the calling program, not of the user.
var errChannel = errors.New("audio: a channel is 0 or more")

// input is a stream whose first bytes have been looked at.
type input struct {
	head []byte
	r    io.Reader
}

func (in *input) Read(p []byte) (int, error) {
	if len(in.head) > 0 {
		n := copy(p, in.head)
		in.head = in.head[n:]
		return n, nil
	}
	return in.r.Read(p)
}

// size is the size of the whole file, or -1 where there is none.
func (in *input) size() int64 {
	f, ok := in.r.(interface{ Stat() (os.FileInfo, error) })
	if !ok {
		return -1
	}
	st, err := f.Stat()
	if err != nil || !st.Mode().IsRegular() {
		return -1
	}
	return st.Size()
}

func openRaw(ctx context.Context, r io.Reader, o Options, closer io.Closer) (Sound, error) {
	f := *o.Raw
	if f.Channels == 0 {
		f.Channels = 1
	}
	if !(f.Rate >= leastRate && f.Rate <= mostRate) {
		return nil, badRate("raw", f.Rate)
	}
	lay, ok := layoutOf(f.Bits, f.Float, f.Channels)
	if !ok {
		return nil, &FormatError{"raw", fmt.Sprintf("%s of %d bits in %d channels are not read", kindOfNumber(f.Float), f.Bits, f.Channels),
			"State 8, 16, 24 or 32 bits, or floating point of 32 or 64 bits, and 1 to 64 channels"}
	}
	p := &pcm{ctx: ctx, src: r, lay: lay, left: -1, closer: closer,
		info: Info{Format: "raw", Rate: f.Rate, Bits: f.Bits, Float: f.Float, Channels: f.Channels, Frames: -1}}
	return p.sound(o.Channel)
}

func kindOfNumber(float bool) string {
	if float {
		return "floating-point samples"
	}
	return "whole-number samples"
}

const (
	leastRate = 8000
	mostRate  = 192000
)

func badRate(format string, rate float64) error {
	return &FormatError{format, fmt.Sprintf("it has %.0f samples a second", rate), "Record or save it with 8,000 to 192,000 samples a second; 48,000 is best"}
}
