package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"strings"
	"testing"
	"time"

	"seatboard/internal/io/hostclock"
	"seatboard/internal/shop"
)

func TestAskTimeSaysWhatItMeans(t *testing.T) {
	asked := func(_ context.Context, server string) (shop.TimeAsked, error) {
		return shop.TimeAsked{Offset: hostclock.Offset{Server: server, Behind: 0.25, Limit: 0.02, When: time.Now()}, Means: []string{"It is behind."}}, nil
	}
	var out bytes.Buffer
	l := &listening{env: Env{Out: &out}, server: "time.example"}
	if err := l.askServer(t.Context(), asked); err != nil || !strings.HasPrefix(out.String(), "It is behind.\n") {
		t.Errorf("%v %q", err, out.String())
	}
	out.Reset()
	l.json = true
	var a struct {
		Offset struct {
			Server string
			Behind float64
		}
	}
	if err := l.askServer(t.Context(), asked); err != nil || json.Unmarshal(out.Bytes(), &a) != nil || a.Offset.Server != "time.example" || a.Offset.Behind != 0.25 {
		t.Errorf("%v %s", err, out.String())
	}
	broken := errors.New("gone")
	if err := l.askServer(t.Context(), func(context.Context, string) (shop.TimeAsked, error) { return shop.TimeAsked{}, broken }); !errors.Is(err, broken) {
		t.Error(err)
	}
}

// TestAskTimeAsksTheServerThatIsNamed names one that cannot be there.
func TestAskTimeAsksTheServerThatIsNamed(t *testing.T) {
	var out, errs bytes.Buffer
	env := Env{In: strings.NewReader(""), Out: &out, Err: &errs, DataHome: t.TempDir()}
	if got := Run(t.Context(), []string{"listen", "--ask-time", "nowhere.invalid"}, env); got != 3 || !strings.Contains(errs.String(), "nowhere.invalid did not answer") {
		t.Errorf("%d %s", got, errs.String())
	}
	if got := Run(t.Context(), []string{"listen", "x.wav", "--ask-time", "nowhere.invalid"}, env); got != 2 || !strings.Contains(errs.String(), "is not wanted with --ask-time") {
		t.Errorf("%d %s", got, errs.String())
	}
}
