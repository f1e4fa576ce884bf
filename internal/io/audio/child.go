package audio

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"sync"
	"sync/atomic"
	"time"
)

// ChildCommand is the hidden command of the program that calls [Serve].
const ChildCommand = "decode-sound"

// childMark is set in the child's surroundings, so that a child never starts
// another.
const childMark = "SEATBOARD_DECODING"

// standstill is how long the child may give nothing while it has input.
const standstill = 10 * time.Second

// child is the decoder in another process, as a stream of samples.
type child struct {
	cmd     *exec.Cmd
	ctx     context.Context
	kill    context.CancelFunc
	wire    *wireReader
	said    *head
	format  string
	hungry  atomic.Bool // waiting for the recording itself
	stalled atomic.Bool
	once    sync.Once
	end     error // how the process ended
	closer  io.Closer
}

// head keeps the first bytes that are written to it.
type head struct {
	mu sync.Mutex
	b  []byte
}

func (h *head) Write(p []byte) (int, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.b = append(h.b, p[:min(len(p), 2000-len(h.b))]...)
	return len(p), nil
}

func (h *head) has(s string) bool {
	h.mu.Lock()
	defer h.mu.Unlock()
	return bytes.Contains(h.b, []byte(s))
}

func openChild(ctx context.Context, in *input, k kind, o Options, closer io.Closer) (Sound, error) {
	if os.Getenv(childMark) != "" {
		return nil, errors.New("audio: a decoder does not start another")
	}
	argv := o.Child
	if len(argv) == 0 {
		self, err := os.Executable()
		if err != nil {
			return nil, fmt.Errorf("audio: find the decoder: %w", err)
		}
		argv = []string{self, ChildCommand}
	}
	c := &child{ctx: ctx, said: &head{}, format: string(k), closer: closer}
	run, kill := context.WithCancel(ctx)
	c.kill = kill
	c.cmd = exec.CommandContext(run, argv[0], argv[1:]...)
	c.cmd.Env = []string{childMark + "=1", "GOTRACEBACK=none"}
	c.cmd.Stderr = c.said
	p := &pcm{ctx: ctx, src: c, left: -1, closer: c}
	if err := c.start(in, p); err != nil {
		kill()
		return nil, err
	}
	i, err := c.head()
	if err != nil {
		c.stop()
		return nil, c.why(err)
	}
	p.info, p.lay = i.Info, layout{4, true, i.Channels}
	if i.Whole {
		p.lay = layout{2, false, i.Channels}
	}
	s, err := p.sound(o.Channel)
	if err != nil {
		c.stop()
	}
	return s, err
}

// start runs the process; a file becomes its input as it is.
func (c *child) start(in *input, p *pcm) error {
	out, err := c.cmd.StdoutPipe()
	if err != nil {
		return fmt.Errorf("audio: start the decoder: %w", err)
	}
	c.wire = &wireReader{r: out, note: func(s string) { p.note("%s", s) }}
	var feed io.WriteCloser
	if f, ok := in.r.(*os.File); ok && in.size() >= 0 {
		if _, err := f.Seek(-int64(len(in.head)), io.SeekCurrent); err != nil {
			return fmt.Errorf("audio: read: %w", err)
		}
		c.cmd.Stdin = f
	} else if feed, err = c.cmd.StdinPipe(); err != nil {
		return fmt.Errorf("audio: start the decoder: %w", err)
	}
	if err := c.cmd.Start(); err != nil {
		return fmt.Errorf("audio: start the decoder: %w", err)
	}
	if feed != nil {
		go c.feed(feed, in)
	}
	return nil
}

// feed passes the recording on, and notes when it is the recording that is
// waited for.
func (c *child) feed(w io.WriteCloser, in *input) {
	defer w.Close()
	b := make([]byte, 64<<10)
	for {
		c.hungry.Store(true)
		n, err := in.Read(b)
		c.hungry.Store(false)
		if n > 0 {
			if _, err := w.Write(b[:n]); err != nil {
				return
			}
		}
		if err != nil {
			return
		}
	}
}

// watch kills the process when nothing comes for too long; the answer ends
// the watch.
func (c *child) watch() (done func()) {
	var t *time.Timer
	var mu sync.Mutex
	over := false
	mu.Lock()
	defer mu.Unlock()
	t = time.AfterFunc(standstill, func() {
		mu.Lock()
		defer mu.Unlock()
		switch {
		case over:
		case c.hungry.Load():
			t.Reset(standstill)
		default:
			c.stalled.Store(true)
			c.kill()
		}
	})
	return func() {
		mu.Lock()
		defer mu.Unlock()
		over = true
		t.Stop()
	}
}

func (c *child) head() (wireInfo, error) {
	defer c.watch()()
	return c.wire.head()
}

// Read gives samples.
func (c *child) Read(p []byte) (int, error) {
	done := c.watch()
	n, err := c.wire.Read(p)
	done()
	if err == nil {
		return n, nil
	}
	c.stop()
	if errors.Is(err, io.EOF) {
		return n, io.EOF
	}
	return n, c.why(err)
}

// stop ends the process.
func (c *child) stop() {
	c.once.Do(func() {
		c.kill()
		c.end = c.cmd.Wait()
	})
}

// Close ends the process and lets go of the file.
func (c *child) Close() error {
	c.stop()
	if c.closer == nil {
		return nil
	}
	return c.closer.Close()
}

// why makes a sentence of what ended the process.
func (c *child) why(err error) error {
	var format *FormatError
	switch {
	case errors.As(err, &format):
		return err
	case c.ctx.Err() != nil:
		return c.ctx.Err()
	case !errors.Is(err, errWire):
		return err
	case c.stalled.Load():
		return wrong(c.format, fmt.Sprintf("its decoder stood still for %.0f seconds", standstill.Seconds()))
	case c.said.has("out of memory") || c.said.has("cannot allocate"):
		return wrong(c.format, "it asks for more memory than any recording needs")
	case c.wire.ours: // and it ended without an answer
		return wrong(c.format, "the decoder fails on it")
	}
	return fmt.Errorf("%w (%v)", err, c.end)
}
