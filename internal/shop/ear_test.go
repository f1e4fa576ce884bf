package shop

import (
	"bytes"
	"math"
	"testing"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/readings"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/synth"
	"seatboard/internal/kit/unit"
)

// The tests here listen with the real ear to recordings whose truth is known.

func recipe(length unit.Duration) synth.Recipe {
	return synth.Recipe{
		Seed: 5, Shape: 3, SampleRate: 8000, Length: length,
		Clock: synth.Clock{Beat: 0.5, Rate: unit.RatePerDay(12), BeatError: 6e-3, ScatterPM: 50e-6},
		Noise: synth.Noise{SNR: synth.DB(25)},
	}
}

func made(t *testing.T, length unit.Duration) *synth.Recording {
	t.Helper()
	r, err := synth.New(recipe(length))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// nearTruth fails unless each beat heard is one that was made, to 2 ms: what
// is the place of a sound is the ear's to say.
func nearTruth(t *testing.T, heard []beat.Beat, truth []beat.Beat) {
	t.Helper()
	for _, h := range heard {
		nearest := math.Inf(1)
		for _, b := range truth {
			nearest = min(nearest, math.Abs(float64(h.At-b.At)))
		}
		if nearest > 2e-3 {
			t.Errorf("the beat at %.4f s is %.4f s from any", float64(h.At), nearest)
		}
	}
}

func TestRealEarHearsAFile(t *testing.T) {
	s := open(t)
	c := add(t, s, job.Clock{Number: "2026-001"})
	var wav bytes.Buffer
	r := made(t, 60)
	if err := synth.WriteWAV(&wav, r, r.Frames()); err != nil {
		t.Fatal(err)
	}
	held, err := s.Receive(t.Context(), &wav)
	if err != nil {
		t.Fatal(err)
	}
	id, err := s.StartListening(ListenQuery{Clock: c.ID, Source: "made.wav", Path: readings.File}, held)
	if err != nil {
		t.Fatal(err)
	}
	j := wait(t, s, id)
	if j.State != Done || j.Answer.Hearing.Verdict != beat.Regular || len(j.Answer.Hearing.Beats) < 110 || j.Done != 480_000 || j.Total != 480_000 {
		t.Fatalf("%v %v %d beats, %d of %d", j.State, j.Problem, len(j.Answer.Hearing.Beats), j.Done, j.Total)
	}
	nearTruth(t, j.Answer.Hearing.Beats, synth.Beats(recipe(60)))
	kept, err := s.KeepListening(t.Context(), "A", id, Keep{Sound: true})
	if err != nil || kept.Audio == "" || kept.Answer == "" || !kept.Gist.PerHour.Set {
		t.Errorf("%v: audio %q, answer of %d bytes, %+v", err, kept.Audio, len(kept.Answer), kept.Gist)
	}
	if got := float64(kept.Gist.PerHour.Value); math.Abs(got-7200*(1+12.0/86400)) > 2 {
		t.Errorf("%v beats an hour", got)
	}
}

// TestRealEarHearsLive sends a clock as fast as the ear takes it, loses five
// seconds on the way, and keeps it as it would be found after a kill.
func TestRealEarHearsLive(t *testing.T) {
	s := open(t)
	s.ears.look, s.ears.save = 20*time.Millisecond, 50*time.Millisecond
	c := add(t, s, job.Clock{Number: "2026-001"})
	l := live(t, s, ListenQuery{Source: "telephone", Path: readings.Processor})
	r := made(t, 100)
	part := make([]float32, 800)
	for first := int64(0); first < r.Frames(); first += 800 {
		n, err := r.ReadFloat(part)
		if n != 800 {
			t.Fatal(n, err)
		}
		if first >= 50*8000 && first < 55*8000 {
			continue
		}
		roomFor(l)
		if err := l.Write(part, Stamp{First: first, Came: began.Add(time.Duration(first+800) * time.Second / 8000)}); err != nil {
			t.Fatal(err)
		}
	}
	until(t, l, "two runs", func(st LiveState) bool {
		return st.Answer != nil && len(st.Answer.Hearing.Runs) == 2 && st.Beats > 160
	})
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	st := l.State()
	h := st.Answer.Hearing
	if st.Verdict != beat.Regular || st.GapCount != 1 || st.Beats < 180 || len(h.Runs) != 2 || math.Abs(float64(st.Elapsed-100)) > 1e-6 {
		t.Errorf("%v, %d gaps, %d beats, %d runs, %v s", st.Verdict, st.GapCount, st.Beats, len(h.Runs), st.Elapsed)
	}
	nearTruth(t, h.Beats, synth.Beats(recipe(100)))
	found, err := rows(t, s)
	if err != nil || len(found) != 1 || found[0].Count != st.Beats {
		t.Fatalf("%+v %v", found, err)
	}
	one, err := s.Listening(t.Context(), found[0].ID)
	if err != nil {
		t.Fatal(err)
	}
	again := s.reckon(one) // of beats kept to the nanosecond
	if a, b := again.Gist, one.Gist; math.Abs(float64(a.PerHour.Half()/b.PerHour.Half())-1) > 1e-3 || math.Abs(float64(a.BeatError.Value-b.BeatError.Value)) > 2e-9 || a.First != b.First {
		t.Errorf("worked out anew: %+v, was %+v", again.Gist, one.Gist)
	}
	kept, err := s.KeepListening(t.Context(), "A", l.ID(), Keep{Clock: c.ID})
	if err != nil || kept.Gist.First == "" || math.Abs(float64(kept.Gist.PerHour.Value)-7201) > 2 {
		t.Errorf("%v %+v", err, kept.Gist)
	}
}

// roomFor waits until the ear has taken what waits for it.
func roomFor(l *Live) {
	for range 100_000 {
		l.mu.Lock()
		s := l.current()
		l.mu.Unlock()
		if s == nil {
			return
		}
		s.feed.mu.Lock()
		n := s.feed.n
		s.feed.mu.Unlock()
		if n < 40_000 {
			return
		}
		time.Sleep(time.Millisecond)
	}
}
