package shop

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"io"
	"math"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"seatboard/internal/book/job"
	"seatboard/internal/book/readings"
	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/rate"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/craft/listen/synth"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// The sounds of these tests: samples of 1 are beats, and fakeEar hears them.

// fakeEar hears a beat in every sample of 0.5.
type fakeEar struct {
	src     beat.Source
	options beat.Options
	mu      sync.Mutex
	heard   beat.Hearing
	n       int64
	fail    error
}

func (e *fakeEar) Run(ctx context.Context) error {
	buf := make([]float32, 512)
	for {
		k, err := e.src.ReadFloat(buf)
		e.take(buf[:k])
		if e.fail != nil {
			return e.fail
		}
		if err == io.EOF {
			e.mu.Lock()
			e.heard.Complete = true
			e.mu.Unlock()
			return nil
		}
		if err := errors.Join(err, ctx.Err()); err != nil {
			return err
		}
	}
}

func (e *fakeEar) take(x []float32) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.options.Progress.Add(int64(len(x)))
	for _, v := range x {
		if v == 0.5 {
			at := unit.Duration(float64(e.n) / e.src.Rate())
			if len(e.heard.Beats) == 0 {
				e.heard.Runs, e.heard.Verdict = []beat.Run{{From: at, EndedBy: beat.EndOfSound}}, beat.Regular
			}
			e.heard.Beats = append(e.heard.Beats, beat.Beat{At: at, U: 1e-6, N: int64(len(e.heard.Beats))})
			e.heard.Runs[0].To = at
			e.heard.Runs[0].Heard++
		}
		e.n++
	}
	e.heard.Length, e.heard.Rate = unit.Duration(float64(e.n)/e.src.Rate()), e.src.Rate()
}

func (e *fakeEar) Heard() beat.Hearing {
	e.mu.Lock()
	defer e.mu.Unlock()
	h := e.heard
	h.Beats, h.Runs = append([]beat.Beat{}, h.Beats...), append([]beat.Run{}, h.Runs...)
	return h
}

// reader is a source of float32 of little end, 8000 a second.
type reader struct{ r io.Reader }

func (r reader) Rate() float64 { return 8000 }

func (r reader) Notes() []string { return nil }

func (r reader) Close() error { return nil }

func (r reader) ReadFloat(dst []float32) (int, error) {
	b := make([]byte, 4*len(dst))
	n, err := io.ReadFull(r.r, b)
	for i := range n / 4 {
		dst[i] = math.Float32frombits(binary.LittleEndian.Uint32(b[4*i:]))
	}
	if err == io.ErrUnexpectedEOF {
		err = nil
	}
	return n / 4, err
}

// deaf opens a shop whose ears are fakes. solved is told of each query that
// is worked out.
func deaf(t testing.TB, dir string, wall func() time.Time) *Shop {
	t.Helper()
	s, err := Open(t.Context(), dir, wall)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() }) // some have closed it by then
	s.ears.look, s.ears.save, s.ears.quiet = time.Millisecond, 2*time.Millisecond, time.Hour
	s.ears.hear = func(src beat.Source, o beat.Options) hearer { return &fakeEar{src: src, options: o} }
	s.ears.decode = func(_ context.Context, sound io.Reader, _ int) (recording, error) { return reader{sound}, nil }
	s.ears.solve = func(q listen.Query) (listen.Answer, error) {
		a := listen.Answer{Query: q, Hearing: q.Hearing, Findings: []meas.Finding{{Text: "It gains."}}, Complete: true}
		a.Mean = meas.Around(unit.Rate(1e-4), 1e-6, 2)
		a.Going = &rate.Answer{Used: len(q.Hearing.Beats)}
		return a, nil
	}
	return s
}

// ticks is sound of n seconds with a beat in each; between them it is quiet,
// not silent.
func ticks(n int) []float32 {
	x := make([]float32, 8000*n)
	for i := range x {
		x[i] = 1e-3
	}
	for i := range n {
		x[8000*i+100] = 0.5
	}
	return x
}

func bytesOf(x []float32) string {
	b := make([]byte, 0, 4*len(x))
	for _, v := range x {
		b = binary.LittleEndian.AppendUint32(b, math.Float32bits(v))
	}
	return string(b)
}

// sound is sound that counts how often it was closed.
type sound struct {
	io.Reader
	closed chan struct{}
}

func newSound(r io.Reader) sound { return sound{r, make(chan struct{})} }

func (s sound) Close() error {
	close(s.closed)
	if c, ok := s.Reader.(io.Closer); ok {
		return c.Close()
	}
	return nil
}

func (s sound) wait(t *testing.T) {
	t.Helper()
	select {
	case <-s.closed:
	case <-time.After(2 * time.Minute):
		t.Error("the sound was not closed")
	}
}

func wait(t *testing.T, s *Shop, id string) ListenJob {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
	defer cancel()
	j, err := s.WaitJob(ctx, id)
	if err != nil || !j.State.Ended() {
		t.Fatalf("%+v %v", j, err)
	}
	return j
}

func TestListenToARecordingAndKeepIt(t *testing.T) {
	s := deaf(t, t.TempDir(), at(25))
	c := add(t, s, job.Clock{Number: "2026-001"})
	in := bytesOf(ticks(20))
	held, err := s.Receive(t.Context(), strings.NewReader(in))
	if err != nil {
		t.Fatal(err)
	}
	q := ListenQuery{Clock: c.ID, Train: "96/8 60/8 56/7 30", Source: "longcase.wav", Path: readings.File, By: "A. Restorer", Settings: `{"x":1}`}
	id, err := s.StartListening(q, held)
	if err != nil {
		t.Fatal(err)
	}
	j := wait(t, s, id)
	if j.State != Done || j.Answer == nil || len(j.Answer.Hearing.Beats) != 20 || j.Done != 160_000 || !j.Sound {
		t.Fatalf("%+v", j)
	}
	if got := len(j.Answer.Query.Train.Trains); got != 1 {
		t.Errorf("%d trains were asked about", got)
	}
	if j.Answer.Query.Clock.How != sampleclock.Supposed {
		t.Errorf("the recorder's clock: %+v", j.Answer.Query.Clock)
	}
	kept, err := s.KeepListening(t.Context(), "A. Restorer", id, Keep{Note: "on the case side", Sound: true})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.KeepListening(t.Context(), "A. Restorer", id, Keep{}); AsProblem(err).Code != Conflict {
		t.Errorf("kept twice: %v", err)
	}
	list, err := s.Listenings(t.Context(), c.ID)
	if err != nil || len(list) != 1 || list[0].Gist.First != "It gains." || list[0].Note != "on the case side" || list[0].Count != 20 {
		t.Fatalf("%+v %v", list, err)
	}
	one, err := s.Listening(t.Context(), kept.ID)
	if err != nil || len(one.Beats) != 20 || !strings.Contains(one.Answer, `"complete":true`) || one.UID != id {
		t.Errorf("%+v %v", one, err)
	}
	f, err := s.Sound(t.Context(), kept.ID)
	if err != nil {
		t.Fatal(err)
	}
	if b, err := io.ReadAll(f); string(b) != in || err != nil || f.Close() != nil {
		t.Errorf("the sound is another: %v", err)
	}
	if err := s.RemoveListening(t.Context(), "B", kept.ID, true); err != nil {
		t.Error(err)
	}
	h, err := s.History(t.Context(), c.ID)
	if err != nil || h[0].Record != "listening" || h[0].Who != "B" {
		t.Errorf("%+v %v", h, err)
	}
	if c, err := s.Check(t.Context()); len(c.Problems) > 0 || c.Files != 1 || len(c.Orphans) > 0 || err != nil {
		t.Errorf("%+v %v", c, err)
	}
}

// TestListeningEnds stops, fails and refuses; the sound is closed each time.
func TestListeningEnds(t *testing.T) {
	s := deaf(t, t.TempDir(), at(25))
	r, w := io.Pipe()
	endless := newSound(r)
	id, err := s.StartListening(ListenQuery{Source: "piped"}, endless)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.Write([]byte(bytesOf(ticks(3)))); err != nil {
		t.Fatal(err)
	}
	if _, err := s.KeepListening(t.Context(), "A", id, Keep{}); AsProblem(err).Code != Conflict {
		t.Errorf("kept while it runs: %v", err)
	}
	if err := s.StopJob(id); err != nil {
		t.Fatal(err)
	}
	_, _ = w.Write([]byte(bytesOf(ticks(1)))) // the reader may be gone
	if j := wait(t, s, id); j.State != Stopped || j.Answer == nil || len(j.Answer.Hearing.Beats) < 2 {
		t.Errorf("stopped: %+v", j)
	}
	endless.wait(t)

	s.ears.decode = decode
	bad := newSound(strings.NewReader("this is no sound but a letter to the owner of the clock"))
	if id, err = s.StartListening(ListenQuery{Source: "letter.wav"}, bad); err != nil {
		t.Fatal(err)
	}
	if j := wait(t, s, id); j.State != Failed || j.Problem.Code != BadInput || !strings.Contains(j.Problem.Message, "recording") {
		t.Errorf("failed: %+v", j)
	}
	bad.wait(t)
	if _, err := s.KeepListening(t.Context(), "A", id, Keep{}); AsProblem(err).Code != BadInput {
		t.Errorf("nothing to keep: %v", err)
	}
	for name, q := range map[string]ListenQuery{
		"train":    {Train: "96/8 60/x"},
		"settings": {Settings: "{"},
		"clock":    {SampleClock: sampleclock.Clock{How: sampleclock.Stated, Error: 2}},
	} {
		refused := newSound(strings.NewReader("x"))
		if _, err := s.StartListening(q, refused); AsProblem(err).Code != BadInput || len(AsProblem(err).Fields) == 0 {
			t.Errorf("%s: %v", name, err)
		}
		refused.wait(t)
	}
	if n := len(s.Jobs()); n != 2 {
		t.Errorf("%d jobs", n)
	}
	if err := s.ThrowAway(t.Context(), "A", id); err != nil || len(s.Jobs()) != 1 {
		t.Errorf("thrown away: %v", err)
	}
	if _, err := s.Job(id); AsProblem(err).Code != NotFound {
		t.Errorf("%v", err)
	}
}

// TestOddRecordingIsSaid: what is odd of a file stands in the answer.
func TestOddRecordingIsSaid(t *testing.T) {
	s := deaf(t, t.TempDir(), at(25))
	s.ears.decode = decode
	rec, err := synth.New(synth.Recipe{Seed: 1, Length: 1, SampleRate: 8000})
	if err != nil {
		t.Fatal(err)
	}
	var wav bytes.Buffer
	if err := synth.WriteWAV(&wav, rec, rec.Frames()); err != nil {
		t.Fatal(err)
	}
	id, err := s.StartListening(ListenQuery{Source: "half.wav"}, newSound(io.LimitReader(&wav, 8044)))
	if err != nil {
		t.Fatal(err)
	}
	j := wait(t, s, id)
	if j.Answer == nil || len(j.Answer.Query.Notes) != 1 || !strings.Contains(j.Answer.Query.Notes[0], "cut short") {
		t.Fatalf("%+v", j)
	}
	if a, err := listen.Solve(j.Answer.Query); err != nil || a.Findings[len(a.Findings)-1].Text != j.Answer.Query.Notes[0] {
		t.Errorf("it is not said: %+v, %v", a.Findings, err)
	}
}

// TestListeningIsBounded has too many at once, and forgets old ones.
func TestListeningIsBounded(t *testing.T) {
	s := deaf(t, t.TempDir(), at(25))
	block := make(chan struct{})
	inner := s.ears.decode
	s.ears.decode = func(ctx context.Context, r io.Reader, c int) (recording, error) {
		<-block
		return inner(ctx, r, c)
	}
	var ids []string
	for range mostWaiting {
		id, err := s.StartListening(ListenQuery{}, newSound(strings.NewReader("")))
		if err != nil {
			t.Fatal(err)
		}
		ids = append(ids, id)
	}
	if _, err := s.StartListening(ListenQuery{}, newSound(strings.NewReader(""))); AsProblem(err).Code != Conflict {
		t.Errorf("one too many: %v", err)
	}
	running := 0
	for range 100_000 {
		running = 0
		for _, j := range s.Jobs() {
			if j.State == Running {
				running++
			}
		}
		if running == mostAtOnce {
			break
		}
		time.Sleep(time.Millisecond)
	}
	if running != mostAtOnce {
		t.Errorf("%d at once", running)
	}
	close(block)
	for _, id := range ids {
		wait(t, s, id)
	}
	for range mostJobs {
		held, err := s.Receive(t.Context(), strings.NewReader("tick"))
		if err != nil {
			t.Fatal(err)
		}
		id, err := s.StartListening(ListenQuery{}, held)
		if err != nil {
			t.Fatal(err)
		}
		wait(t, s, id)
	}
	sounds := 0
	for _, j := range s.Jobs() {
		if j.Sound {
			sounds++
		}
	}
	if n := len(s.Jobs()); n != mostJobs || sounds > mostSounds+1 {
		t.Errorf("%d jobs are remembered, %d with their sound", n, sounds)
	}
}

func TestBeatTimesNeedNoEar(t *testing.T) {
	s := deaf(t, t.TempDir(), at(25))
	h := beat.Hearing{Verdict: beat.Regular, Beats: []beat.Beat{{At: 1}, {At: 2, N: 1}}, Complete: true}
	id, err := s.StartListening(ListenQuery{Path: readings.Times, Times: &h}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if j := wait(t, s, id); j.State != Done || len(j.Answer.Hearing.Beats) != 2 || j.Sound {
		t.Errorf("%+v", j)
	}
}

func TestTrainOfTheSurveyIsAskedAbout(t *testing.T) {
	s := deaf(t, t.TempDir(), at(25))
	q, err := train.Parse("96/8 60/8 56/7 30")
	if err != nil {
		t.Fatal(err)
	}
	a, err := s.ask(ListenQuery{Survey: Survey{Train: &q}})
	if err != nil || math.Abs(float64(a.hint)-1) > 1e-9 || len(a.listen.Train.Trains) != 1 {
		t.Errorf("a beat of %v, %v", a.hint, err)
	}
	a, err = s.ask(ListenQuery{Survey: Survey{Train: &q}, BeatsPerHour: meas.Of(unit.Ratio(7200))})
	if err != nil || a.hint != 0.5 {
		t.Errorf("typed beats: %v, %v", a.hint, err)
	}
	if a, err = s.ask(ListenQuery{}); err != nil || a.hint != 0 {
		t.Errorf("nothing known: %v, %v", a.hint, err)
	}
}

func TestCalibrationIsReckonedWith(t *testing.T) {
	s := deaf(t, t.TempDir(), at(25))
	kept, err := s.Calibrate(t.Context(), "A", readings.Calibration{Device: "Desk microphone", Clock: sampleclock.Clock{Error: 12e-6, Limit: 2e-6, How: sampleclock.Calibrated}, Length: 600})
	if err != nil || kept.By != "A" || kept.When.IsZero() {
		t.Fatalf("%+v %v", kept, err)
	}
	a, err := s.ask(ListenQuery{Device: "Desk microphone"})
	if d := cmp.Diff(kept.Clock.Later(), a.listen.Clock); d != "" || err != nil {
		t.Errorf("%v %s", err, d)
	}
	if a, err = s.ask(ListenQuery{Device: "another"}); err != nil || a.listen.Clock.How != sampleclock.Supposed {
		t.Errorf("%+v %v", a.listen.Clock, err)
	}
	stated := sampleclock.Clock{Error: 1e-6, Limit: 1e-6, How: sampleclock.Stated}
	if a, err = s.ask(ListenQuery{Device: "Desk microphone", SampleClock: stated}); err != nil || a.listen.Clock != stated {
		t.Errorf("%+v %v", a.listen.Clock, err)
	}
	if _, err := s.Calibrate(t.Context(), "A", readings.Calibration{}); AsProblem(err).Code != BadInput {
		t.Errorf("of no recorder: %v", err)
	}
	list, err := s.Calibrations(t.Context())
	if err != nil || len(list) != 1 || list[0].Device != "Desk microphone" {
		t.Errorf("%+v %v", list, err)
	}
}
