package mic

import (
	"context"
	"encoding/binary"
	"errors"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"seatboard/internal/craft/listen/sampleclock"
)

// sounds starts a sound server of its own with one sink that leads nowhere,
// whose monitor stands for a microphone.
func sounds(t *testing.T) *exec.Cmd {
	t.Helper()
	bin, err := exec.LookPath("pulseaudio")
	if err != nil {
		t.Skip("pulseaudio is not installed: the real sound server was not tried")
	}
	dir := t.TempDir()
	socket := filepath.Join(dir, "native")
	cmd := exec.Command(bin, "-n", "--daemonize=no", "--use-pid-file=no", "--exit-idle-time=-1", "--disallow-exit",
		"--load=module-native-protocol-unix auth-anonymous=1 socket="+socket,
		"--load=module-null-sink sink_name=bench rate=48000 channels=1 format=s16le")
	cmd.Env = append(os.Environ(), "HOME="+dir, "XDG_RUNTIME_DIR="+dir, "PULSE_RUNTIME_PATH="+dir, "PULSE_STATE_PATH="+dir)
	if err := cmd.Start(); err != nil {
		t.Skip("pulseaudio does not start: ", err)
	}
	t.Cleanup(func() { cmd.Process.Kill(); cmd.Wait() })
	t.Setenv("PULSE_SERVER", "unix:"+socket)
	for range 1000 {
		if _, err := os.Stat(socket); err == nil {
			return cmd
		}
		time.Sleep(50 * time.Millisecond)
	}
	t.Skip("pulseaudio made no socket")
	return nil
}

// pulses writes s16 sound with a pulse every period samples.
func pulses(w io.Writer, n, period int) {
	b := make([]byte, 2*n)
	for i := 0; i < n; i += period {
		for k := range 40 {
			if i+k < n {
				binary.LittleEndian.PutUint16(b[2*(i+k):], uint16(int16(20000*math.Sin(float64(k)/3))))
			}
		}
	}
	w.Write(b)
}

func TestRecordsFromASoundServer(t *testing.T) {
	sounds(t)
	ctx, cancel := context.WithTimeout(context.Background(), 3*time.Minute)
	defer cancel()
	list, err := List(ctx)
	if err != nil || len(list) != 1 {
		t.Fatalf("%v %v", list, err)
	}
	d := list[0]
	if d.ID != "bench.monitor" || d.Rate != 48000 || d.Channels != 1 || !d.Monitor || d.Bluetooth || d.Muted {
		t.Errorf("%+v", d)
	}
	const period = 12000
	if play, err := exec.LookPath("pacat"); err == nil {
		p := exec.CommandContext(ctx, play, "--rate=48000", "--channels=1", "--format=s16le", "--device=bench")
		in, _ := p.StdinPipe()
		if p.Start() == nil {
			go pulses(in, 48000*10, period)
			t.Cleanup(func() { p.Process.Kill(); p.Wait() })
		}
	} else {
		t.Log("pacat is not installed: silence is recorded")
	}
	c, err := Open(ctx, d)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	buf := make([]float32, 1000)
	var got []float32
	var arrivals []sampleclock.Arrival
	for len(got) < 48000*4 {
		n, err := c.ReadFloat(buf)
		if err != nil {
			t.Fatal(err)
		}
		got = append(got, buf[:n]...)
		arrivals = append(arrivals, c.Arrivals()...)
	}
	if len(arrivals) < 50 {
		t.Errorf("%d arrivals in 4 s, want some 200", len(arrivals))
	}
	last := arrivals[len(arrivals)-1]
	span := float64(last.At-arrivals[0].At) - float64(last.Frame-arrivals[0].Frame)/48000
	if math.Abs(span) > 1 {
		t.Errorf("arrivals are %.3f s away from the count", span)
	}
	checkPulses(t, got, period)
	c.Close()
	c.Close()
	for {
		if _, err := c.ReadFloat(buf); err != nil {
			if err != io.EOF {
				t.Errorf("after Close: %v", err)
			}
			break
		}
	}
	if g := c.Gaps(); len(g) != 0 {
		t.Errorf("gaps %v", g)
	}
	t.Logf("%d samples, %d arrivals", len(got), len(arrivals))
}

// checkPulses wants the pulses a whole number of periods apart.
func checkPulses(t *testing.T, got []float32, period int) {
	t.Helper()
	last, n := -1, 0
	for i, v := range got {
		if v < 0.1 || (last >= 0 && i-last < 100) {
			continue
		}
		if last >= 0 {
			n++
			if d := i - last; d != period {
				t.Errorf("pulses %d samples apart, want %d", d, period)
			}
		}
		last = i
	}
	t.Logf("%d intervals of exactly %d samples", n, period)
	if _, err := exec.LookPath("pacat"); err == nil && n < 5 {
		t.Errorf("%d pulses heard", n)
	}
}

func TestServerThatGoesAway(t *testing.T) {
	cmd := sounds(t)
	list, err := List(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	c, err := Open(context.Background(), list[0])
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	buf := make([]float32, 4800)
	if _, err := c.ReadFloat(buf); err != nil {
		t.Fatal(err)
	}
	cmd.Process.Kill()
	for {
		if _, err := c.ReadFloat(buf); err != nil {
			if !errors.Is(err, ErrGone) {
				t.Errorf("%v", err)
			}
			break
		}
	}
	if _, err := Open(context.Background(), Device{ID: "bench.monitor", Rate: 48000}); err == nil {
		t.Error("opened a microphone of a server that is gone")
	}
}

func TestNoSuchMicrophone(t *testing.T) {
	sounds(t)
	if _, err := Open(context.Background(), Device{ID: "nothing", Name: "Nothing", Rate: 48000}); !errors.Is(err, ErrGone) {
		t.Errorf("%v", err)
	}
}

func TestCancelEndsARead(t *testing.T) {
	sounds(t)
	list, err := List(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	c, err := Open(ctx, list[0])
	if err != nil {
		t.Fatal(err)
	}
	cancel()
	for {
		if _, err := c.ReadFloat(make([]float32, 4800)); err != nil {
			if !errors.Is(err, context.Canceled) {
				t.Errorf("%v", err)
			}
			return
		}
	}
}
