package synth

import (
	"io"
	"testing"
)

func TestQuick(t *testing.T) {
	r := T2(Everything, 11)
	r.Length = 20
	rec, err := New(r)
	if err != nil {
		t.Fatal(err)
	}
	t.Log(rec.CRLB(), rec.peak, rec.voices[0].power, rec.voices[1].power, rec.voices[0].highest, rec.voices[1].highest)
	buf := make([]float32, 1000)
	n := 0
	for {
		k, err := rec.ReadFloat(buf)
		n += k
		if err == io.EOF {
			break
		}
	}
	t.Log(n, len(rec.Truth().Beats))
	for s := 1; s <= 4; s++ {
		t.Log(CRLB(T1(s, 30)))
	}
}

func BenchmarkRecording(b *testing.B) {
	for _, c := range []struct {
		name string
		r    Recipe
	}{{"white", T1(1, 20)}, {"everything", T2(Everything, 11)}} {
		b.Run(c.name, func(b *testing.B) {
			r := c.r
			r.Length = 200 * 3600
			rec, err := New(r)
			if err != nil {
				b.Fatal(err)
			}
			buf := make([]int16, 48000)
			b.ResetTimer()
			for b.Loop() {
				rec.ReadInt16(buf)
			}
			b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "x-real-time")
		})
	}
}
