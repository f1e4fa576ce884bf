package mic

import (
	"context"
	"errors"
	"strings"
	"testing"
)

func TestAdviceForEverySystem(t *testing.T) {
	for _, os := range []string{"linux", "darwin", "windows", "freebsd", ""} {
		a := Advice(os)
		if len(a) == 0 || !strings.Contains(a[0].Line, "| seatboard listen -") || a[0].What == "" {
			t.Errorf("%q: %v", os, a)
		}
		for _, c := range a {
			if strings.Count(c.Line, `"`)%2 != 0 || strings.Contains(c.Line, "  ") {
				t.Errorf("%q: %s", os, c.Line)
			}
		}
	}
}

func TestUnavailableSaysWhatToDo(t *testing.T) {
	for _, address := range []string{"unix:/nowhere/at/all", "{never", "", "nonsense", "/nowhere"} {
		t.Setenv("PULSE_SERVER", address)
		_, err := List(context.Background())
		var u *Unavailable
		if !errors.As(err, &u) || !strings.Contains(err.Error(), "seatboard listen -") {
			t.Errorf("%q: %v", address, err)
		}
		if _, err := Open(context.Background(), Device{ID: "x", Rate: 48000}); !errors.As(err, &u) {
			t.Errorf("%q: %v", address, err)
		}
	}
}

func TestOpenRefuses(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	for _, c := range []struct {
		d    Device
		want error
	}{
		{Device{Rate: 16000, Bluetooth: true}, ErrBluetooth},
		{Device{Rate: 48000, Muted: true}, ErrMuted},
		{Device{Rate: 48000}, context.Canceled},
	} {
		if _, err := Open(ctx, c.d); !errors.Is(err, c.want) {
			t.Errorf("%+v: %v", c.d, err)
		}
	}
	if _, err := Open(context.Background(), Device{Name: "none"}); err == nil {
		t.Error("a device without a rate was opened")
	}
}

func TestUsualSocket(t *testing.T) {
	if got := usual("/run/user/7"); got != "unix:/run/user/7/pulse/native" {
		t.Error(got)
	}
	if got := usual(""); !strings.HasPrefix(got, "unix:/run/user/") {
		t.Error(got)
	}
}
