package synth

import "testing"

// BenchmarkRecording makes a second of 16-bit sound; the goal is 500 times
// real time with white noise.
func BenchmarkRecording(b *testing.B) {
	for _, c := range []struct {
		name string
		r    Recipe
	}{{"white", T1(1, 20)}, {"speech", T2(EqualSpeech, 11)}, {"everything", T2(Everything, 11)}} {
		b.Run(c.name, func(b *testing.B) {
			c.r.Length = 200 * 3600
			rec, err := New(c.r)
			if err != nil {
				b.Fatal(err)
			}
			second := make([]int16, int(rec.Rate()))
			b.ReportAllocs()
			for b.Loop() {
				if _, err := rec.ReadInt16(second); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "x-real-time")
		})
	}
}

// BenchmarkBeats makes the times of a day of seconds.
func BenchmarkBeats(b *testing.B) {
	r := Recipe{Length: 86400, Clock: Clock{ScatterPM: 1e-4, ScatterFM: 1e-6}}
	for b.Loop() {
		if len(Beats(r)) != 86400 {
			b.Fatal("beats are missing")
		}
	}
}

func BenchmarkNew(b *testing.B) {
	for b.Loop() {
		if _, err := New(T1(1, 20)); err != nil {
			b.Fatal(err)
		}
	}
}
