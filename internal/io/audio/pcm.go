package audio

import (
	"context"
	"errors"
	"fmt"
	"io"
	"sync"
)

// layout is how samples lie in a stream.
type layout struct {
	bytes    int // of a sample
	float    bool
	channels int
}

func (l layout) frame() int { return l.bytes * l.channels }

const mostChannels = 64

func layoutOf(bits int, float bool, channels int) (layout, bool) {
	l := layout{bits / 8, float, channels}
	ok := channels >= 1 && channels <= mostChannels
	if float {
		return l, ok && (bits == 32 || bits == 64)
	}
	return l, ok && (bits == 8 || bits == 16 || bits == 24 || bits == 32)
}

// pcm reads one channel out of a stream of plain samples.
type pcm struct {
	ctx     context.Context
	src     io.Reader
	lay     layout
	info    Info
	channel int    // index, or -1 for the mean
	left    int64  // bytes of samples yet to come; -1 until the end
	frames  int64  // given out so far
	buf     []byte //
	have    []byte // in buf, not given out
	err     error  // what ends the reading
	sum     []float32
	closer  io.Closer

	mu    sync.Mutex
	notes []string
}

// pcm16 is a pcm of 16-bit samples.
type pcm16 struct{ *pcm }

const blockBytes = 128 << 10

// sound chooses the channel (1 is the first, 0 the mean) and finishes p.
func (p *pcm) sound(channel int) (Sound, error) {
	if channel > p.lay.channels {
		return nil, &FormatError{p.info.Format, fmt.Sprintf("channel %d was asked for and it has %d", channel, p.lay.channels), "Choose another channel, or none for the mean of all"}
	}
	p.channel, p.info.Channel = channel-1, channel
	if p.lay.channels == 1 {
		p.channel, p.info.Channel = 0, 1
	}
	p.buf = make([]byte, max(1, blockBytes/p.lay.frame())*p.lay.frame())
	if p.lay.bytes == 2 && !p.lay.float {
		return &pcm16{p}, nil
	}
	return p, nil
}

// Rate is in samples a second.
func (p *pcm) Rate() float64 { return p.info.Rate }

// Info is what the head of the recording states.
func (p *pcm) Info() Info { return p.info }

// Notes are sentences on what was odd.
func (p *pcm) Notes() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return append([]string(nil), p.notes...)
}

const mostNotes = 20

func (p *pcm) note(format string, a ...any) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if len(p.notes) < mostNotes {
		p.notes = append(p.notes, fmt.Sprintf(format, a...))
	}
}

// Close lets go of the file.
func (p *pcm) Close() error {
	if p.closer == nil {
		return nil
	}
	return p.closer.Close()
}

// fill waits for at least one frame and gives the bytes of up to n.
func (p *pcm) fill(n int) ([]byte, error) {
	f := p.lay.frame()
	n = min(n, len(p.buf)/f)
	if len(p.have) < f {
		p.more(n * f)
	}
	whole := min(len(p.have)/f, n) * f
	if whole == 0 {
		return nil, p.err
	}
	b := p.have[:whole]
	p.have = p.have[whole:]
	p.frames += int64(whole / f)
	return b, nil
}

// more reads until there is a frame or the end; want bytes are enough.
func (p *pcm) more(want int) {
	f := p.lay.frame()
	n := copy(p.buf, p.have)
	for empty := 0; n < f && p.err == nil; {
		to := want
		if p.left >= 0 {
			to = int(min(int64(to), int64(n)+p.left))
		}
		if to == n {
			p.ended(n)
			break
		}
		if err := p.ctx.Err(); err != nil {
			p.err = err
			break
		}
		got, err := p.src.Read(p.buf[n:to])
		n += got
		if p.left >= 0 {
			p.left -= int64(got)
		}
		if got > 0 {
			empty = 0
		} else if empty++; empty > 100 && err == nil {
			err = io.ErrNoProgress
		}
		if errors.Is(err, io.EOF) {
			p.ended(n % f)
		} else if err != nil {
			p.err = p.readError(err)
		}
	}
	p.have = p.buf[:n]
}

func (p *pcm) readError(err error) error {
	var format *FormatError
	if errors.As(err, &format) {
		return err
	}
	if stopped := p.ctx.Err(); stopped != nil {
		return stopped
	}
	return fmt.Errorf("audio: read: %w", err)
}

// ended ends the reading; odd bytes do not make a whole frame.
func (p *pcm) ended(odd int) {
	p.err = io.EOF
	if p.left > 0 {
		p.note("The header states more sound than there is: the recording was read to its end. It was perhaps cut short while it was made or copied.")
	} else if odd != 0 {
		p.note("The recording ends in the middle of a sample; the rest of that sample was left out.")
	}
}

// ReadFloat fills dst with samples, full scale 1.
func (p *pcm) ReadFloat(dst []float32) (int, error) {
	if len(dst) == 0 {
		return 0, nil
	}
	b, err := p.fill(len(dst))
	if err != nil {
		return 0, err
	}
	f := p.lay.frame()
	n := len(b) / f
	dst = dst[:n]
	if p.channel >= 0 {
		p.lay.floats(dst, b[p.channel*p.lay.bytes:], f)
	} else {
		p.mean(dst, b, f)
	}
	if p.lay.float {
		if i := notFinite(dst); i >= 0 {
			p.err = &FormatError{p.info.Format, fmt.Sprintf("sample %d is not a number", p.frames-int64(n)+int64(i)+1), "Save it anew from the program that made it, as PCM of 16 or 24 bits"}
			p.have = nil
			return i, p.err
		}
	}
	return n, nil
}

func (p *pcm) mean(dst []float32, b []byte, frame int) {
	if len(p.sum) < len(dst) {
		p.sum = make([]float32, len(dst))
	}
	one := p.sum[:len(dst)]
	clear(dst)
	for c := range p.lay.channels {
		p.lay.floats(one, b[c*p.lay.bytes:], frame)
		for i, v := range one {
			dst[i] += v
		}
	}
	scale := 1 / float32(p.lay.channels)
	for i := range dst {
		dst[i] *= scale
	}
}

func notFinite(x []float32) int {
	for i, v := range x {
		if v-v != 0 {
			return i
		}
	}
	return -1
}
