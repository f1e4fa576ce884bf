package mic

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"github.com/jfreymuth/pulse/proto"
)

// Device is something that can be recorded from.
type Device struct {
	ID        string  `json:"id"`   // the sound server's name; stays the same, so a calibration can be kept under it
	Name      string  `json:"name"` // for people
	Rate      float64 `json:"rate"` // its own, samples a second
	Channels  int     `json:"channels"`
	Usual     bool    `json:"usual"`     // the one the system would take
	Monitor   bool    `json:"monitor"`   // what the loudspeakers play, no microphone
	Bluetooth bool    `json:"bluetooth"` // cannot be used
	Muted     bool    `json:"muted"`
	Processed bool    `json:"processed"` // made by a program, such as an echo canceller: prefer another
}

// List names what can be recorded from: microphones first, the usual one
// before the others, what loudspeakers play last.
func List(ctx context.Context) ([]Device, error) {
	s, err := dial(ctx, nil)
	if err != nil {
		return nil, err
	}
	defer s.close()
	return s.devices()
}

func (s *server) devices() ([]Device, error) {
	var list proto.GetSourceInfoListReply
	if err := s.client.Request(&proto.GetSourceInfoList{}, &list); err != nil {
		return nil, lost(err)
	}
	var info proto.GetServerInfoReply
	if err := s.client.Request(&proto.GetServerInfo{}, &info); err != nil {
		return nil, lost(err)
	}
	out := []Device{}
	for _, r := range list {
		d := describe(r)
		d.Usual = d.ID == info.DefaultSourceName
		out = append(out, d)
	}
	slices.SortStableFunc(out, func(a, b Device) int { return cmp.Compare(a.order(), b.order()) })
	return out, nil
}

func (d Device) order() int {
	switch {
	case d.Monitor:
		return 3
	case d.Bluetooth || d.Processed:
		return 2
	case d.Usual:
		return 0
	}
	return 1
}

func describe(r *proto.GetSourceInfoReply) Device {
	prop := func(key string) string { return strings.TrimRight(string(r.Properties[key]), "\x00") }
	d := Device{
		ID: r.SourceName, Name: r.Device, Rate: float64(r.Rate), Channels: int(r.Channels), Muted: r.Mute,
		Monitor:   r.MonitorSourceIndex != proto.Undefined || prop("device.class") == "monitor",
		Bluetooth: prop("device.bus") == "bluetooth" || prop("device.api") == "bluez5" || strings.HasPrefix(r.SourceName, "bluez"),
		Processed: prop("device.class") == "filter" || strings.Contains(r.SourceName, "echo-cancel") || strings.Contains(r.SourceName, "echoCancel"),
	}
	if d.Name == "" {
		d.Name = d.ID
	}
	return d
}
