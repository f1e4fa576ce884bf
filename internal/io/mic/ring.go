package mic

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"time"

	"github.com/jfreymuth/pulse/proto"
)

// ErrSilent is returned by [Ring] where the loudspeaker is muted or there is
// none.
var ErrSilent = errors.New("mic: the loudspeaker is muted or missing; look at the system's sound settings")

const (
	ringRate    = 48000
	ringStrokes = 3
	ringStroke  = 450 * time.Millisecond
)

// Ring sounds three strokes over this computer's loudspeaker, through the
// same sound server that is recorded from, and comes back when they were
// played, at most five seconds later. Whether they can be heard in the room
// only a person can tell. The error is [*Unavailable] where there is no sound
// server, [ErrSilent] where the loudspeaker is muted.
func Ring(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, 5*time.Second)
	defer cancel()
	s, err := dial(ctx, nil)
	if err != nil {
		return err
	}
	defer s.close()
	defer context.AfterFunc(ctx, s.close)() // a server that does not answer is not waited for
	var sink proto.GetSinkInfoReply
	err = s.client.Request(&proto.GetSinkInfo{SinkIndex: proto.Undefined, SinkName: "@DEFAULT_SINK@"}, &sink)
	if errors.Is(err, proto.ErrNoSuchEntity) || err == nil && sink.Mute {
		return ErrSilent
	}
	if err != nil {
		return lost(err)
	}
	sound := strokes()
	ask := proto.CreatePlaybackStream{
		SinkIndex: proto.Undefined, SampleSpec: proto.SampleSpec{Format: proto.FormatInt16LE, Channels: 1, Rate: ringRate},
		ChannelMap: proto.ChannelMap{proto.ChannelMono}, ChannelVolumes: proto.ChannelVolumes{noVolume},
		BufferMaxLength: uint32(2 * len(sound)), BufferTargetLength: uint32(len(sound)), BufferPrebufferLength: 0, BufferMinimumRequest: proto.Undefined,
		Properties: proto.PropList{"media.name": proto.PropListString("A bath is at its end"), "media.role": proto.PropListString("event")},
	}
	var reply proto.CreatePlaybackStreamReply
	if err := s.client.Request(&ask, &reply); err != nil {
		return fmt.Errorf("mic: the sound server does not let the alarm be played: %w", err)
	}
	if err := s.client.Send(reply.StreamIndex, sound); err != nil {
		return lost(err)
	}
	select { // a drain is not answered by every server
	case <-time.After(ringStrokes*ringStroke + 500*time.Millisecond):
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}

// strokes are two tones a fifth apart that die away, which carry over a
// machine better than one; 16-bit samples.
func strokes() []byte {
	n := int(ringStroke.Seconds() * ringRate)
	out := make([]byte, 0, 2*n*ringStrokes)
	for range ringStrokes {
		for i := range n {
			t := float64(i) / ringRate
			v := math.Exp(-6*t) * (math.Sin(2*math.Pi*880*t) + math.Sin(2*math.Pi*1320*t)) / 2
			if i < 96 {
				v *= float64(i) / 96 // no click
			}
			out = binary.LittleEndian.AppendUint16(out, uint16(int16(28000*v)))
		}
	}
	return out
}
