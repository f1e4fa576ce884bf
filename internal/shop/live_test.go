package shop

import (
	"context"
	"errors"
	"io"
	"math"
	"math/rand/v2"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"seatboard/internal/book/job"
	"seatboard/internal/book/readings"
	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

var began = time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)

// hand is a wall clock that a test sets.
type hand struct {
	mu  sync.Mutex
	now time.Time
}

func (h *hand) Now() time.Time {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.now
}

func (h *hand) add(d time.Duration) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.now = h.now.Add(d)
}

func live(t *testing.T, s *Shop, q ListenQuery) *Live {
	t.Helper()
	l, err := s.StartLive(LiveOptions{ListenQuery: q, Rate: 8000})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// send writes sound in blocks of a tenth of a second, each coming when its
// last sample is made.
func send(t *testing.T, l *Live, x []float32, capture int, first int64, at time.Time) {
	t.Helper()
	for len(x) > 0 {
		n := min(len(x), 800)
		at = at.Add(time.Duration(n) * time.Second / 8000)
		if err := l.Write(x[:n], Stamp{Capture: capture, First: first, Came: at}); err != nil {
			t.Fatal(err)
		}
		x, first = x[n:], first+int64(n)
	}
}

// until waits until a run is in a state.
func until(t *testing.T, l *Live, what string, ok func(LiveState) bool) LiveState {
	t.Helper()
	for range 100_000 {
		if st := l.State(); ok(st) {
			return st
		}
		time.Sleep(time.Millisecond)
	}
	t.Fatalf("%s: %+v", what, l.State())
	return LiveState{}
}

func times(h beat.Hearing) (at []float64, runs []int) {
	for _, b := range h.Beats {
		at, runs = append(at, math.Round(float64(b.At)*1e6)/1e6), append(runs, b.Run)
	}
	return at, runs
}

// TestLiveRunWithGaps is cut off, comes back with the same count, sends some
// of it again, and comes back after a reload; the times stay right and each
// gap splits the run.
func TestLiveRunWithGaps(t *testing.T) {
	s := deaf(t, t.TempDir(), (&hand{now: began}).Now)
	c := add(t, s, job.Clock{Number: "2026-001"})
	l := live(t, s, ListenQuery{Clock: c.ID, Path: readings.Processor, Source: "telephone", By: "A"})
	x := ticks(10)
	send(t, l, x[:24_000], 1, 0, began)
	again, err := s.Live(l.ID())
	if err != nil || again != l {
		t.Fatal("it is not found by its id", err)
	}
	if st := l.State(); st.Next.First != 24_000 || st.Next.Capture != 1 {
		t.Errorf("next: %+v", st.Next)
	}
	send(t, l, x[20_000:32_000], 1, 20_000, began.Add(2500*time.Millisecond)) // half a second again
	send(t, l, x[48_000:], 1, 48_000, began.Add(6*time.Second))               // two seconds are lost
	send(t, l, ticks(2), 2, 0, began.Add(15*time.Second))                     // reloaded, five seconds later
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	st := l.State()
	at, runs := times(st.Answer.Hearing)
	if d := cmp.Diff([]float64{0.0125, 1.0125, 2.0125, 3.0125, 6.0125, 7.0125, 8.0125, 9.0125, 15.0125, 16.0125}, at); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]int{0, 0, 0, 0, 1, 1, 1, 1, 2, 2}, runs); d != "" {
		t.Error(d)
	}
	want := []Gap{{At: 4, Length: 2, Exact: true}, {At: 10, Length: 5}}
	if len(st.Gaps) != 2 || st.Gaps[0] != want[0] || st.Gaps[1].Exact || math.Abs(float64(st.Gaps[1].Length-5)) > 1e-6 || st.GapCount != 2 {
		t.Errorf("%+v", st.Gaps)
	}
	if st.Running || math.Abs(float64(st.Elapsed-17)) > 1e-6 || st.Beats != 10 || st.Verdict != beat.Regular {
		t.Errorf("%+v", st)
	}
	if len(st.Answer.Hearing.Runs) != 3 || st.Answer.Hearing.Runs[1].From != st.Answer.Hearing.Beats[4].At {
		t.Errorf("%+v", st.Answer.Hearing.Runs)
	}
	if err := l.Write(x[:80], Stamp{Capture: 2, First: 16_000}); !errors.Is(err, errEnded) {
		t.Errorf("after its end: %v", err)
	}
	kept, err := s.KeepListening(t.Context(), "A", l.ID(), Keep{})
	if err != nil || kept.ClockID != c.ID || !kept.Started.Equal(began) {
		t.Fatalf("%+v %v", kept, err)
	}
	if left, err := s.Unfinished(t.Context()); err != nil || len(left) != 0 {
		t.Errorf("%+v %v", left, err)
	}
	one, err := s.Listening(t.Context(), kept.ID)
	if err != nil || len(one.Beats) != 10 || one.UID != l.ID() {
		t.Errorf("%+v %v", one, err)
	}
	if _, err := s.KeepListening(t.Context(), "A", l.ID(), Keep{}); AsProblem(err).Code != Conflict {
		t.Errorf("kept twice: %v", err)
	}
}

// TestLiveRunSurvivesKill looks at the records while a run goes on, as they
// would be found after a kill, and keeps it from there.
func TestLiveRunSurvivesKill(t *testing.T) {
	dir := t.TempDir()
	s := deaf(t, dir, (&hand{now: began}).Now)
	c := add(t, s, job.Clock{Number: "2026-001"})
	l := live(t, s, ListenQuery{Source: "telephone"})
	send(t, l, ticks(5), 1, 0, began)
	var found []readings.Listening
	for range 100_000 {
		var err error
		if found, err = rows(t, s); err != nil {
			t.Fatal(err)
		}
		if len(found) == 1 && found[0].Count == 5 {
			break
		}
		time.Sleep(time.Millisecond)
	}
	if len(found) != 1 || found[0].Count != 5 || found[0].UID != l.ID() {
		t.Fatalf("%+v", found)
	}
	if left, err := s.Unfinished(t.Context()); err != nil || len(left) != 0 {
		t.Errorf("it runs still: %+v %v", left, err)
	}
	copied := t.TempDir() + "/copy.db"
	if _, err := s.Backup(t.Context(), copied, false, nil); err != nil {
		t.Fatal(err)
	}
	after := t.TempDir() + "/shop"
	if _, err := Restore(t.Context(), copied, "", after, nil); err != nil {
		t.Fatal(err)
	}
	r := deaf(t, after, (&hand{now: began}).Now)
	left, err := r.Unfinished(t.Context())
	if err != nil || len(left) != 1 || left[0].UID != l.ID() {
		t.Fatalf("%+v %v", left, err)
	}
	kept, err := r.KeepListening(t.Context(), "A", left[0].UID, Keep{Clock: c.ID, Note: "cut off"})
	if err != nil || len(kept.Beats) != 5 || kept.Gist.First == "" {
		t.Errorf("%+v %v", kept, err)
	}
	if err := s.ThrowAway(t.Context(), "A", l.ID()); err != nil {
		t.Error(err)
	}
	if found, err := rows(t, s); err != nil || len(found) != 0 || len(s.Lives()) != 0 {
		t.Errorf("thrown away: %+v %v", found, err)
	}
}

// TestLiveSaysWhatIsWrong goes through the troubles of a microphone.
func TestLiveSaysWhatIsWrong(t *testing.T) {
	h := &hand{now: began}
	s := deaf(t, t.TempDir(), h.Now)
	l := live(t, s, ListenQuery{})
	says := func(what, want string, x []float32, first int64) {
		t.Helper()
		if x != nil {
			send(t, l, x, 1, first, h.Now().Add(-time.Second))
		}
		if got := l.State().Why; !strings.Contains(got, want) {
			t.Errorf("%s: %q", what, got)
		}
	}
	fill := func(v float32) []float32 {
		x := make([]float32, 8000)
		for i := range x {
			x[i] = v
		}
		return x
	}
	says("at first", "Waiting for the first sound", nil, 0)
	says("muted", "exact silence", fill(0), 0)
	says("quiet", "Too quiet", fill(1e-4), 8000)
	says("loud", "Too loud", fill(1), 16_000)
	nan := fill(0.01)
	nan[3], nan[4] = float32(math.NaN()), float32(math.Inf(1))
	send(t, l, nan, 1, 24_000, h.Now())
	if lv := l.State().Level; math.IsNaN(lv.RMS) || lv.Peak > 1 || lv.Peak == 0 {
		t.Errorf("%+v", lv)
	}
	h.add(10 * time.Second)
	says("gone", "No sound is coming in", nil, 0)
	if st := l.State(); st.Lacking < 9*time.Second || !st.Running {
		t.Errorf("%+v", st.Lacking)
	}
	if err := l.Write(make([]float32, 8001), Stamp{}); AsProblem(err).Code != TooLarge {
		t.Errorf("a large block: %v", err)
	}
}

// slowEar hears nothing until it is let go.
type slowEar struct {
	fakeEar
	let chan struct{}
}

func (e *slowEar) Run(ctx context.Context) error {
	<-e.let
	return e.fakeEar.Run(ctx)
}

// TestLiveDoesNotWait writes more than the ear takes: what has no room is a
// gap, and the memory is bounded.
func TestLiveDoesNotWait(t *testing.T) {
	s := deaf(t, t.TempDir(), (&hand{now: began}).Now)
	let := make(chan struct{})
	s.ears.hear = func(src beat.Source, o beat.Options) hearer {
		return &slowEar{fakeEar{src: src, options: o}, let}
	}
	l := live(t, s, ListenQuery{})
	send(t, l, ticks(200), 1, 0, began)
	l.mu.Lock()
	n := len(l.stretch)
	l.mu.Unlock()
	if n > mostBehind {
		t.Errorf("%d stretches wait", n)
	}
	close(let)
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	st := l.State()
	if st.Beats == 0 || st.Beats > mostBehind*feedSeconds || st.GapCount != n-1 {
		t.Errorf("%d beats, %d gaps", st.Beats, st.GapCount)
	}
	for _, b := range st.Answer.Hearing.Beats {
		if f := float64(b.At) - math.Floor(float64(b.At)); math.Abs(f-0.0125) > 1e-6 {
			t.Errorf("a beat at %v", b.At)
		}
	}
}

func TestLivesAreBoundedAndEndWithTheShop(t *testing.T) {
	dir := t.TempDir()
	h := &hand{now: began}
	s := deaf(t, dir, h.Now)
	for range mostLives {
		l := live(t, s, ListenQuery{})
		send(t, l, ticks(2), 1, 0, began)
	}
	if _, err := s.StartLive(LiveOptions{Rate: 8000}); AsProblem(err).Code != Conflict {
		t.Errorf("one too many: %v", err)
	}
	for _, rate := range []float64{0, 7999, 1e6, math.NaN()} {
		if _, err := s.StartLive(LiveOptions{Rate: rate}); AsProblem(err).Code != BadInput {
			t.Errorf("%v a second: %v", rate, err)
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := s.StartLive(LiveOptions{Rate: 8000}); !errors.Is(err, errClosing) {
		t.Errorf("after the end: %v", err)
	}
	s = deaf(t, dir, h.Now)
	left, err := s.Unfinished(t.Context())
	if err != nil || len(left) != mostLives || left[0].Count != 2 {
		t.Fatalf("%d left, %v", len(left), err)
	}
	for _, l := range left {
		if err := s.ThrowAway(t.Context(), "A", l.UID); err != nil {
			t.Error(err)
		}
	}
	if left, err = s.Unfinished(t.Context()); err != nil || len(left) != 0 {
		t.Errorf("%+v %v", left, err)
	}
}

func TestLiveEndsWhenNothingComesForLong(t *testing.T) {
	h := &hand{now: began}
	s := deaf(t, t.TempDir(), h.Now)
	l := live(t, s, ListenQuery{})
	send(t, l, ticks(1), 1, 0, began)
	h.add(2 * time.Hour)
	until(t, l, "it does not end", func(st LiveState) bool { return !st.Running })
}

func TestLiveTellsWhyItCannotBeWorkedOut(t *testing.T) {
	s := deaf(t, t.TempDir(), (&hand{now: began}).Now)
	s.ears.solve = func(listen.Query) (listen.Answer, error) {
		return listen.Answer{}, &Problem{Message: "Too few beats."}
	}
	l := live(t, s, ListenQuery{})
	send(t, l, ticks(2), 1, 0, began)
	until(t, l, "no reason", func(st LiveState) bool { return st.Beats == 2 && st.Why == "Too few beats." })
}

func TestFeed(t *testing.T) {
	f := newFeed(8000, 0.01) // 80 samples
	var got []float32
	next, out := float32(0), make([]float32, 7)
	for range 50 {
		x := make([]float32, 33)
		for i := range x {
			x[i] = next + float32(i)
		}
		if f.put(x) {
			next += 33
		}
		n, err := f.ReadFloat(out)
		if err != nil {
			t.Fatal(err)
		}
		got = append(got, out[:n]...)
	}
	f.end()
	if f.put([]float32{1}) {
		t.Error("taken after the end")
	}
	for {
		n, err := f.ReadFloat(out)
		if err == io.EOF {
			break
		}
		got = append(got, out[:n]...)
	}
	for i, v := range got {
		if v != float32(i) {
			t.Fatalf("sample %d is %v", i, v)
		}
	}
	if float32(len(got)) != next {
		t.Errorf("%d came out of %v", len(got), next)
	}
}

// rows is what stands unfinished in the records.
func rows(t *testing.T, s *Shop) (out []readings.Listening, err error) {
	t.Helper()
	err = s.store.View(t.Context(), func(tx *store.Tx) (err error) { out, err = tx.Unfinished(); return err })
	return out, err
}

// TestLiveCalibratesTheRecorder sends blocks of a recorder that runs 30 ppm
// fast, each some milliseconds late.
func TestLiveCalibratesTheRecorder(t *testing.T) {
	s := deaf(t, t.TempDir(), (&hand{now: began}).Now)
	s.ears.look, s.ears.save = time.Hour, time.Hour // by hand
	l, err := s.StartLive(LiveOptions{ListenQuery: ListenQuery{Device: "telephone"}, Rate: 8000, Host: sampleclock.HostOf(sampleclock.NearServer)})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.CalibrateLive(t.Context(), "A", l.ID(), meas.Reading[unit.Temperature]{}); AsProblem(err).Code != BadInput {
		t.Errorf("at first: %v", err)
	}
	r := rand.New(rand.NewPCG(1, 1))
	x := make([]float32, 800)
	const length = 3600
	for i := range int64(10 * length) {
		came := 0.1*float64(i+1)/(1+30e-6) + 0.005*r.ExpFloat64()
		if i%8 == 0 {
			roomFor(l)
		}
		if err := l.Write(x, Stamp{First: 800 * i, Came: began.Add(time.Duration(came * 1e9))}); err != nil {
			t.Fatal(err)
		}
	}
	l.fitter.work()
	found := func(how sampleclock.How) {
		l.fitter.mu.Lock()
		defer l.fitter.mu.Unlock()
		l.fitter.fit.Clock.How = how
	}
	l.fitter.host.Kind = sampleclock.Undisciplined
	found(sampleclock.Compared)
	if _, err := s.CalibrateLive(t.Context(), "A", l.ID(), meas.Reading[unit.Temperature]{}); AsProblem(err).Code != BadInput {
		t.Errorf("by a computer whose clock nothing keeps right: %v", err)
	}
	found(sampleclock.Calibrated)
	kept, err := s.CalibrateLive(t.Context(), "A", l.ID(), meas.Reading[unit.Temperature]{})
	if err != nil {
		t.Fatal(err)
	}
	if c := kept.Clock; c.How != sampleclock.Calibrated || math.Abs(float64(c.Error-30e-6)) > float64(c.Limit) || c.Limit > 5e-6 || kept.Device != "telephone" || kept.Length < length/2 {
		t.Errorf("%+v", kept)
	}
	if a, err := s.ask(ListenQuery{Device: "telephone"}); err != nil || a.listen.Clock.Error != kept.Clock.Error || a.listen.Clock.Limit < kept.Clock.Limit {
		t.Errorf("%+v %v", a.listen.Clock, err)
	}
}

// TestAnotherClockIsCarriedOver keeps what one stretch told of another clock
// while later ones do not.
func TestAnotherClockIsCarriedOver(t *testing.T) {
	out := beat.Hearing{Verdict: beat.NoBeat}
	join(&out, beat.Hearing{Verdict: beat.Regular, Second: &beat.Second{Beat: .31}}, 0, false)
	join(&out, beat.Hearing{Verdict: beat.Regular}, 60, true)
	if out.Second == nil || out.Second.Beat != .31 || out.Verdict != beat.Regular {
		t.Errorf("%+v", out)
	}
}
