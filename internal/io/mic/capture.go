package mic

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"sync/atomic"
	"time"

	"github.com/jfreymuth/pulse/proto"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/kit/unit"
)

const (
	held     = 30                     // s of sound kept for a reader that is late
	heldMost = 1 << 21                // samples: 8 MB
	block    = 20 * time.Millisecond  // asked of the sound server
	thrown   = 1                      // s thrown away at the start
	quiet    = 3 * time.Second        // without sound before the server is asked whether it lives
	stalled  = 10 * time.Second       // without sound before giving up
	lookAt   = 500 * time.Millisecond // how often this is looked at
	noVolume = 0x10000                // 100 %, not applied
)

// Capture is a recording that goes on until it is closed. It is a
// [beat.Source]: ReadFloat waits for sound. One goroutine reads; the other
// methods may be called from any.
type Capture struct {
	device Device
	rate   float64
	tape   *tape
	begun  time.Time
	server *server
	ctx    context.Context
	cancel context.CancelCauseFunc
	stream atomic.Uint32
	heard  atomic.Int64 // when sound last came, ns of Now
	asleep atomic.Bool  // put away by the system
	floats []float32
}

var errClosed = errors.New("mic: closed")

var _ beat.Source = (*Capture)(nil)

// Open begins to record from a device of [List], until ctx ends or Close.
func Open(ctx context.Context, d Device) (*Capture, error) {
	switch {
	case d.Bluetooth:
		return nil, ErrBluetooth
	case d.Muted:
		return nil, ErrMuted
	case !(d.Rate >= 1 && d.Rate <= 768000):
		return nil, fmt.Errorf("mic: %s states %g samples a second, which cannot be recorded", d.Name, d.Rate)
	}
	c := &Capture{device: d, rate: d.Rate, begun: time.Now(), tape: newTape(min(int(d.Rate)*held, heldMost), int64(d.Rate)*thrown)}
	c.stream.Store(proto.Undefined)
	s, err := dial(ctx, c.hear)
	if err != nil {
		return nil, err
	}
	c.server = s
	c.ctx, c.cancel = context.WithCancelCause(ctx)
	if err := c.start(); err != nil {
		c.cancel(nil)
		s.close()
		return nil, err
	}
	go c.watch()
	return c, nil
}

// start asks for the stream and lets it run.
func (c *Capture) start() error {
	ask := proto.CreateRecordStream{
		SourceIndex: proto.Undefined, SourceName: c.device.ID,
		SampleSpec:      proto.SampleSpec{Format: proto.FormatFloat32LE, Channels: 1, Rate: uint32(c.rate)},
		ChannelMap:      proto.ChannelMap{proto.ChannelMono},
		ChannelVolumes:  proto.ChannelVolumes{noVolume}, // VolumeSet is false: it stays as it is
		BufferMaxLength: proto.Undefined, BufferFragSize: uint32(c.rate*block.Seconds()) * 4, AdjustLatency: true,
		DirectOnInputIndex: proto.Undefined, NoMove: true, Corked: true,
		Properties: proto.PropList{"media.name": proto.PropListString("A clock")},
	}
	var reply proto.CreateRecordStreamReply
	if err := c.server.client.Request(&ask, &reply); err != nil {
		if errors.Is(err, proto.ErrNoSuchEntity) {
			return fmt.Errorf("%w: %s", ErrGone, c.device.Name)
		}
		return fmt.Errorf("mic: the sound server does not let %s be recorded: %w", c.device.Name, err)
	}
	if reply.Rate != 0 {
		c.rate = float64(reply.Rate)
	}
	c.stream.Store(reply.StreamIndex)
	c.heard.Store(int64(c.Now() * 1e9))
	if err := c.server.client.Request(&proto.CorkRecordStream{StreamIndex: reply.StreamIndex}, nil); err != nil {
		return lost(err)
	}
	return nil
}

// hear takes what the sound server sends. It must not wait.
func (c *Capture) hear(message any) {
	at := c.Now()
	switch m := message.(type) {
	case *proto.DataPacket:
		if m.StreamIndex != c.stream.Load() {
			return
		}
		c.floats = c.floats[:0]
		for b := m.Data; len(b) >= 4; b = b[4:] {
			c.floats = append(c.floats, math.Float32frombits(binary.LittleEndian.Uint32(b)))
		}
		c.heard.Store(int64(at * 1e9))
		c.tape.put(c.floats, at)
	case *proto.RecordStreamSuspended:
		c.asleep.Store(m.Suspended)
		if m.Suspended {
			c.tape.broken(Suspended)
		}
	case *proto.RecordStreamMoved:
		c.tape.broken(Moved)
	case *proto.RecordStreamKilled, *proto.ConnectionClosed:
		c.tape.end(ErrGone)
	}
}

// watch ends the recording when it is told to, and when sound no longer
// comes: the library does not tell of every broken connection.
func (c *Capture) watch() {
	tick := time.NewTicker(lookAt)
	defer tick.Stop()
	defer c.server.close()
	for {
		select {
		case <-c.ctx.Done():
			c.tape.end(io.EOF)
			return
		case <-tick.C:
		}
		since := time.Duration(int64(c.Now()*1e9) - c.heard.Load())
		if since > quiet {
			if err := c.server.client.Request(&proto.GetServerInfo{}, &proto.GetServerInfoReply{}); err != nil {
				c.tape.end(lost(err))
			}
		}
		if since > stalled && !c.asleep.Load() {
			c.tape.end(ErrStalled)
		}
	}
}

// Device is what is recorded from.
func (c *Capture) Device() Device { return c.device }

// Rate is the samples a second that the device states.
func (c *Capture) Rate() float64 { return c.rate }

// ReadFloat waits for sound and fills up to len(dst) samples, full scale 1.
// It returns the error of the context that Open was given when that ends,
// io.EOF after Close, [ErrGone] or [ErrStalled] when the sound breaks off.
func (c *Capture) ReadFloat(dst []float32) (int, error) {
	n, err := c.tape.read(c.ctx, dst)
	if errors.Is(err, context.Canceled) && context.Cause(c.ctx) == errClosed {
		err = io.EOF
	}
	return n, err
}

// Arrivals hands over when the samples came, since the last call; the count
// is that of ReadFloat. Call it at least every minute: older ones are
// forgotten after some three.
func (c *Capture) Arrivals() []sampleclock.Arrival { return c.tape.told() }

// Now is the steady count of seconds that the arrivals are stamped by, from
// Open. It is the system's monotonic clock (see package hostclock for what
// steers that).
func (c *Capture) Now() unit.Duration { return unit.Duration(time.Since(c.begun).Seconds()) }

// Gaps lists the breaks known of, so far.
func (c *Capture) Gaps() []Gap { return c.tape.broke() }

// Close ends the recording. It may be called more than once.
func (c *Capture) Close() error {
	c.cancel(errClosed)
	return nil
}
