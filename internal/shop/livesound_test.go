package shop

import (
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/craft/listen/synth"
	"seatboard/internal/io/audio"
	"seatboard/internal/io/blob"
)

// keptLive begins a run whose sound is kept as it comes.
func keptLive(t *testing.T, s *Shop) *Live {
	t.Helper()
	l, err := s.StartLive(LiveOptions{ListenQuery: ListenQuery{Source: "telephone"}, Rate: 8000, Sound: true})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// filesIn lists what lies in the folder of a shop's files.
func filesIn(t *testing.T, dir string) (out []string) {
	t.Helper()
	entries, err := os.ReadDir(filepath.Join(dir, "files"))
	if err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

// TestLiveSoundIsKept keeps the sound of a run that lost two seconds, and
// listens to it again: the beats are where they were.
func TestLiveSoundIsKept(t *testing.T) {
	dir := t.TempDir()
	s, err := Open(t.Context(), dir, (&hand{now: began}).Now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() }) // once more
	c := add(t, s, job.Clock{Number: "2026-001"})
	l := keptLive(t, s)
	r := made(t, 60)
	part := make([]float32, 800)
	var all []float32
	for first := int64(0); first < r.Frames(); first += 800 {
		if n, err := r.ReadFloat(part); n != 800 {
			t.Fatal(n, err)
		}
		if first >= 30*8000 && first < 32*8000 {
			clear(part)
			all = append(all, part...)
			continue
		}
		all = append(all, part...)
		roomFor(l)
		if err := l.Write(part, Stamp{First: first, Came: began.Add(time.Duration(first+800) * time.Second / 8000)}); err != nil {
			t.Fatal(err)
		}
	}
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	if k := l.State().Sound; !k.Asked || !k.Ready || k.Bytes < 1000 || k.Why != "" {
		t.Errorf("%+v", k)
	}
	kept, err := s.KeepListening(t.Context(), "A", l.ID(), Keep{Clock: c.ID, Sound: true})
	if err != nil || kept.Audio == "" {
		t.Fatalf("%q %v", kept.Audio, err)
	}
	if n := filesIn(t, dir); len(n) != 1 || n[0] != kept.Audio {
		t.Errorf("there are %v", n)
	}
	f, err := s.Sound(t.Context(), kept.ID)
	if err != nil {
		t.Fatal(err)
	}
	src, err := audio.OpenReader(t.Context(), f, audio.Options{})
	if err != nil {
		t.Fatal(err)
	}
	got := make([]float32, len(all)+100)
	n := 0
	for {
		k, err := src.ReadFloat(got[n:])
		n += k
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if n != len(all) {
		t.Fatalf("%d samples of %d", n, len(all))
	}
	for i := range all {
		if math.Abs(float64(got[i]-all[i])) > 1.01/65536 {
			t.Fatalf("sample %d is %v, was %v", i, got[i], all[i])
		}
	}
	id, err := s.ListenAgain(t.Context(), "A", kept.ID, ListenQuery{Clock: c.ID})
	if err != nil {
		t.Fatal(err)
	}
	j := wait(t, s, id)
	if j.State != Done || j.Answer == nil || len(j.Answer.Hearing.Beats) < 90 {
		t.Fatalf("%v %v", j.State, j.Problem)
	}
	nearTruth(t, j.Answer.Hearing.Beats, synth.Beats(recipe(60)))
	if j.Query.Source != "telephone" || j.Answer.Query.Clock != kept.Clock {
		t.Errorf("%+v %+v", j.Query, j.Answer.Query.Clock)
	}
}

// TestLiveSoundIsLetGo throws a run away, keeps one without its sound, and
// ends the shop: nothing is left of the sound.
func TestLiveSoundIsLetGo(t *testing.T) {
	dir := t.TempDir()
	s := deaf(t, dir, (&hand{now: began}).Now)
	c := add(t, s, job.Clock{Number: "2026-001"})
	l := keptLive(t, s)
	send(t, l, ticks(3), 1, 0, began)
	if err := s.ThrowAway(t.Context(), "A", l.ID()); err != nil {
		t.Fatal(err)
	}
	l = keptLive(t, s)
	send(t, l, ticks(3), 1, 0, began)
	if kept, err := s.KeepListening(t.Context(), "A", l.ID(), Keep{Clock: c.ID}); err != nil || kept.Audio != "" {
		t.Fatalf("%q %v", kept.Audio, err)
	}
	if n := filesIn(t, dir); len(n) != 0 {
		t.Errorf("left: %v", n)
	}
	l = keptLive(t, s)
	send(t, l, ticks(3), 1, 0, began)
	n := filesIn(t, dir)
	for until := time.Now().Add(2 * time.Minute); len(n) == 0 && time.Now().Before(until); n = filesIn(t, dir) {
		time.Sleep(5 * time.Millisecond) // the file is made by whoever writes it
	}
	if len(n) != 1 || !strings.HasPrefix(n[0], ".") {
		t.Errorf("while it runs: %v", n)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if n := filesIn(t, dir); len(n) != 0 {
		t.Errorf("left at the end: %v", n)
	}
}

// TestLiveSoundHasALimit says so when the limit is reached, and keeps what
// came until then.
func TestLiveSoundHasALimit(t *testing.T) {
	files, err := blob.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	k, err := keepSound(files, 8000)
	if err != nil {
		t.Fatal(err)
	}
	k.most = soundRoom + 20_000
	r := made(t, 60)
	part := make([]float32, 800)
	for first := int64(0); first < r.Frames(); first += 800 {
		if _, err := r.ReadFloat(part); err != nil && err != io.EOF {
			t.Fatal(err)
		}
		for len(k.pieces) > soundQueue/2 {
			time.Sleep(time.Millisecond)
		}
		k.put(first, part)
	}
	k.end()
	k.wait()
	if st := k.now(); !st.Ready || !strings.Contains(st.Why, "2 GB") || st.Bytes < 20_000 || st.Bytes > 40_000 {
		t.Errorf("%+v", st)
	}
	k.letGo()
}

// TestLiveSoundThatTheDiskRefuses goes on without it.
func TestLiveSoundThatTheDiskRefuses(t *testing.T) {
	dir := t.TempDir()
	s := deaf(t, dir, (&hand{now: began}).Now)
	if err := os.WriteFile(filepath.Join(dir, "files"), nil, 0o600); err != nil { // no folder can be made there
		t.Fatal(err)
	}
	l := keptLive(t, s)
	send(t, l, ticks(9), 1, 0, began)
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	if st := l.State(); st.Sound.Ready || !strings.Contains(st.Sound.Why, "disk") || st.Beats != 9 {
		t.Errorf("%+v, %d beats", st.Sound, st.Beats)
	}
	if _, err := s.StartLive(LiveOptions{Rate: 44_100.5, Sound: true}); AsProblem(err).Code != BadInput {
		t.Errorf("no whole number of samples: %v", err)
	}
}
