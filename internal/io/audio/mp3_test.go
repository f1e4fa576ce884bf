package audio

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// TestMP3BesideAnotherDecoder: noise with clicks, made by the usual encoder,
// is decoded to what its own decoder makes of it, within two steps of 16 bits
// rms, at every rate, with much and little room for a frame.
func TestMP3BesideAnotherDecoder(t *testing.T) {
	lame, err := exec.LookPath("lame")
	if err != nil {
		t.Skip("no lame here to make and decode MP3")
	}
	for _, rate := range []int{11025, 12000, 16000, 22050, 24000, 44100} {
		for _, kbits := range []string{"32", "64", "160"} {
			if rate < 16000 && kbits == "160" {
				continue
			}
			for _, channels := range []int{1, 2} {
				name := fmt.Sprintf("%d samples a second, %s kbit/s, %d channels", rate, kbits, channels)
				other, ours := throughMP3(t, lame, noiseWithClicks(rate, channels), rate, kbits)
				if len(ours) < len(other) || len(other) < rate*channels {
					t.Fatalf("%s: %d samples, the other decoder's %d", name, len(ours), len(other))
				}
				const begun = 1152 // samples: the decoders begin differently
				sum := 0.0
				for i := begun * channels; i < len(other); i++ {
					sum += math.Pow(float64(ours[i])-float64(other[i]), 2)
				}
				if rms := math.Sqrt(sum / float64(len(other))); rms > 2 {
					t.Errorf("%s: differs by %.1f rms from the other decoder", name, rms)
				}
			}
		}
	}
}

func noiseWithClicks(rate, channels int) wave {
	r, x := rand.New(rand.NewPCG(1, 2)), make([]int16, 0, 2*rate*channels)
	for i := range 2 * rate {
		loud := 300 + 12000*math.Exp(-float64(i%(rate/4))/(0.003*float64(rate)))
		for range channels {
			x = append(x, int16(max(-32000, min(32000, loud*r.NormFloat64()))))
		}
	}
	return wave{tag: 1, channels: channels, rate: rate, bits: 16, stated: -1, data: pcm16Bytes(x...)}
}

// throughMP3 encodes w and gives it as decoded by the encoder's own decoder
// and by ours, channels interleaved. What comes before the first sample both
// leave out where it is stated; else the other the delay of a decoder.
func throughMP3(t *testing.T, lame string, w wave, rate int, kbits string) (other, ours []int16) {
	t.Helper()
	dir := t.TempDir() // into a pipe the encoder cannot write what it put before
	wav, mp3 := filepath.Join(dir, "in.wav"), filepath.Join(dir, "coded.mp3")
	if err := os.WriteFile(wav, w.bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	run := func(args ...string) []byte {
		out, err := exec.CommandContext(t.Context(), lame, append([]string{"--quiet"}, args...)...).Output()
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	mode := "m"
	if w.channels == 2 {
		mode = "s" // in joint stereo the decoders differ at clicks, see Gaps
	}
	run("--resample", fmt.Sprint(float64(rate)/1000), "-m", mode, "-b", kbits, wav, mp3)
	for b := run("--mp3input", "--decode", "-t", mp3, "-"); len(b) >= 2; b = b[2:] {
		other = append(other, int16(binary.LittleEndian.Uint16(b)))
	}
	coded, err := os.Open(mp3)
	if err != nil {
		t.Fatal(err)
	}
	defer coded.Close()
	name := ""
	d, err := openDecoder(coded, &name)
	if m, ok := d.(*mp3Stream); ok && m.skip == 0 {
		m.skip = 529
	}
	for err == nil {
		var b block
		b, err = d.decode()
		ours = append(ours, b.i16...)
	}
	if d == nil || d.info().Rate != float64(rate) || !errors.Is(err, io.EOF) {
		t.Fatal(err)
	}
	return other, ours
}
