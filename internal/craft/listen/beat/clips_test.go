package beat_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"encoding/csv"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/kit/check"
)

// pcm is the sound of a plain 16-bit WAV file of one channel.
type pcm struct {
	rate float64
	data *bytes.Reader
}

func (p *pcm) Rate() float64 { return p.rate }

func (p *pcm) ReadInt16(dst []int16) (int, error) {
	n := min(len(dst), p.data.Len()/2)
	if n == 0 && len(dst) > 0 {
		return 0, io.EOF
	}
	return n, binary.Read(p.data, binary.LittleEndian, dst[:n])
}

func (p *pcm) ReadFloat(dst []float32) (int, error) {
	x := make([]int16, len(dst))
	n, err := p.ReadInt16(x)
	for i, v := range x[:n] {
		dst[i] = float32(v) / 32768
	}
	return n, err
}

func openPCM(t *testing.T, file string) *pcm {
	t.Helper()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	at := bytes.Index(b, []byte("data"))
	return &pcm{float64(binary.LittleEndian.Uint32(b[24:])), bytes.NewReader(b[at+8:])}
}

func hear(t *testing.T, src beat.Source) beat.Hearing {
	t.Helper()
	e := beat.NewEar(src, beat.Options{})
	if err := e.Run(context.Background()); err != nil {
		t.Fatal(err)
	}
	return e.Heard()
}

func records(t *testing.T, file string) []map[string]string {
	t.Helper()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(string(b))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, r := range rows[1:] {
		m := map[string]string{}
		for i, k := range rows[0] {
			m[k] = r[i]
		}
		out = append(out, m)
	}
	return out
}

func num(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// TestRealClips holds the ear to recordings of real clocks whose beats were
// marked by hand (16 clips of 5 s of the ESC-10 dataset).
func TestRealClips(t *testing.T) {
	dir := check.Shared(t, "data", "audio")
	marks := records(t, filepath.Join(dir, "beats.csv"))
	for _, c := range records(t, filepath.Join(dir, "clips.csv")) {
		t.Run(c["clip"]+" "+c["tier"], func(t *testing.T) {
			h := hear(t, openPCM(t, filepath.Join(dir, c["clip"]+".wav")))
			want := num(t, c["mean_interval_ms"]) / 1000
			switch c["tier"] {
			case "A":
				if h.Verdict != beat.Regular || len(h.Runs) != 1 {
					t.Fatalf("%s: %s", h.Verdict, h.Why)
				}
				againstMarks(t, h, c["clip"], marks)
			case "B":
				if h.Verdict == beat.NotSure {
					return
				}
				if h.Verdict != beat.Regular || math.Abs(float64(h.Runs[0].Beat)/want-1) > 0.01 {
					t.Errorf("%s, beat %v, want %v", h.Verdict, h.Runs, want)
				}
			case "S":
				if h.Verdict != beat.Edited {
					t.Errorf("%s, want %s", h.Verdict, beat.Edited)
				}
			}
		})
	}
}

// againstMarks compares beats with those marked: each within three standard
// uncertainties of its mark, a constant for each side allowed, and none where
// no mark is.
func againstMarks(t *testing.T, h beat.Hearing, clip string, marks []map[string]string) {
	type pair struct{ d, u float64 }
	class := map[string][]pair{}
	used := map[int]bool{}
	for _, m := range marks {
		if m["clip"] != clip {
			continue
		}
		at, best := num(t, m["onset_ms"]), -1
		for i, b := range h.Beats {
			if best < 0 || math.Abs(float64(b.At)*1000-at) < math.Abs(float64(h.Beats[best].At)*1000-at) {
				best = i
			}
		}
		d := float64(h.Beats[best].At)*1000 - at
		if math.Abs(d) > 60 {
			t.Errorf("the beat at %.1f ms was not heard", at)
			continue
		}
		used[best] = true
		class[m["class"]] = append(class[m["class"]], pair{d, num(t, m["u_ms"])})
	}
	for i, b := range h.Beats {
		if !used[i] {
			t.Errorf("a beat was heard at %.1f ms where none is marked", float64(b.At)*1000)
		}
	}
	for name, all := range class {
		d := make([]float64, len(all))
		for i, p := range all {
			d[i] = p.d
		}
		slices.Sort(d)
		mid := d[len(d)/2]
		for _, p := range all {
			if math.Abs(p.d-mid) > 3*p.u {
				t.Errorf("side %s: %.2f ms from the others, u %.2f ms", name, p.d-mid, p.u)
			}
		}
	}
}

func TestNoClockIsNoClock(t *testing.T) {
	dir := check.Shared(t, "data", "negatives")
	files, err := filepath.Glob(filepath.Join(dir, "*.wav"))
	if err != nil || len(files) == 0 {
		t.Fatal("no recordings", err)
	}
	files = append(files, filepath.Join(filepath.Dir(dir), "noise", "speech_16k.wav"), filepath.Join(filepath.Dir(dir), "noise", "perc_bell.wav"))
	for _, f := range files {
		if h := hear(t, openPCM(t, f)); h.Verdict != beat.NoBeat {
			t.Errorf("%s: %s (%d beats)", filepath.Base(f), h.Verdict, len(h.Beats))
		}
	}
}
