package audio

import (
	"bytes"
	"context"
	"io"

	"os/exec"
	"path/filepath"
	"testing"

	"seatboard/internal/craft/listen/beat"
)

// BenchmarkChild decodes five minutes of one channel of noise at 48 kHz, made
// by the usual encoders where they are installed, child and pipe included.
func BenchmarkChild(b *testing.B) {
	const seconds = 300
	dir := b.TempDir()
	for _, c := range []struct{ name, tool, options string }{
		{"tone.flac", "flac", ""}, {"tone.ogg", "ffmpeg", "libvorbis"}, {"tone.opus", "ffmpeg", "libopus"}, {"tone.mp3", "ffmpeg", "libmp3lame"},
	} {
		path := filepath.Join(dir, c.name)
		b.Run(c.name, func(b *testing.B) {
			args := []string{"-v", "error", "-f", "lavfi", "-i", "anoisesrc=color=pink:duration=300:sample_rate=48000:seed=1", path}
			if c.options != "" {
				args = append(args[:len(args)-1], "-c:a", c.options, path)
			}
			if err := exec.Command("ffmpeg", args...).Run(); err != nil {
				b.Skipf("no encoder here: %v", err)
			}
			for b.Loop() {
				s, err := Open(context.Background(), path, ours)
				if err != nil {
					b.Fatal(err)
				}
				if n := drain(s); n < seconds*48000 {
					b.Fatal(n, s.Notes())
				}
				s.Close()
			}
			b.ReportMetric(seconds*float64(b.N)/b.Elapsed().Seconds(), "×real")
		})
	}
}

// drain reads to the end and counts.
func drain(s beat.Source) (n int) {
	x := make([]float32, 1<<16)
	for {
		k, err := s.ReadFloat(x)
		n += k
		if err != nil {
			return n
		}
	}
}

// BenchmarkRefusal is the cost of a child for a file that holds nothing.
func BenchmarkRefusal(b *testing.B) {
	for b.Loop() {
		if _, err := OpenReader(context.Background(), io.MultiReader(bytes.NewReader(emptyPages(1))), ours); err == nil {
			b.Fatal("not refused")
		}
	}
}
