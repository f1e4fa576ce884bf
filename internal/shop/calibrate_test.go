package shop

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/io/hostclock"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// servers answers questions one after the other.
func servers(s *Shop, offsets ...hostclock.Offset) {
	s.ears.asker.ask = func(_ context.Context, server string) (hostclock.Offset, error) {
		if len(offsets) == 0 {
			return hostclock.Offset{}, fmt.Errorf("%w: no more", hostclock.ErrServer)
		}
		o := offsets[0]
		o.Server = server
		offsets = offsets[1:]
		return o, nil
	}
}

// TestTwoAnswersOfATimeServerTellTheRate asks at the beginning and the end of
// an hour in which this computer's count ran 40 ppm fast.
func TestTwoAnswersOfATimeServerTellTheRate(t *testing.T) {
	start := time.Now()
	s := deaf(t, t.TempDir(), func() time.Time { return start.Add(2 * time.Hour) })
	if _, ok := s.LastAsked(t.Context()); ok {
		t.Error("something was asked")
	}
	servers(s, hostclock.Offset{When: start, Behind: 0.5, Limit: 0.01}, hostclock.Offset{When: start.Add(time.Hour), Behind: 0.5 - 3600*40e-6, Limit: 0.01})
	for _, name := range []string{"", "  "} {
		if _, err := s.AskTime(t.Context(), name); AsProblem(err).Code != BadInput {
			t.Errorf("no name: %v", err)
		}
	}
	a, err := s.AskTime(t.Context(), "time.example")
	if err != nil || a.Rate.Set || !strings.Contains(strings.Join(a.Means, " "), "500\u00a0ms ± 10\u00a0ms behind that of time.example") {
		t.Errorf("%v %+v", err, a)
	}
	a, err = s.AskTime(t.Context(), "time.example")
	if err != nil || !a.Rate.Has(40e-6) || a.Rate.Half() > 6e-6 || !strings.Contains(strings.Join(a.Means, " "), "60\u00a0min apart") {
		t.Errorf("%v %+v", err, a)
	}
	if _, err := s.AskTime(t.Context(), "time.example"); AsProblem(err).Code != NotFound || !strings.Contains(err.Error(), "did not answer") {
		t.Errorf("no answer: %v", err)
	}
	if r := s.ears.asker.within(start, 3600); !r.Has(40e-6) {
		t.Errorf("%+v", r)
	}
	if r := s.ears.asker.within(start, 5000); r.Set {
		t.Errorf("of a longer time: %+v", r)
	}
	if r := s.ears.asker.within(start.Add(time.Hour), 600); r.Set {
		t.Errorf("of a later time: %+v", r)
	}
}

func TestTimeServerIsLeftInPeace(t *testing.T) {
	start := time.Now()
	s := deaf(t, t.TempDir(), func() time.Time { return start.Add(30 * time.Second) })
	servers(s, hostclock.Offset{When: start}, hostclock.Offset{When: start})
	if _, err := s.AskTime(t.Context(), "time.example"); err != nil {
		t.Fatal(err)
	}
	if _, err := s.AskTime(t.Context(), "time.example"); AsProblem(err).Code != BadInput || !strings.Contains(err.Error(), "less than a minute") {
		t.Errorf("%v", err)
	}
	if _, err := s.AskTime(t.Context(), "other.example"); err != nil {
		t.Error(err)
	}
}

// TestAnswersMakeUpForAClockThatNothingKeeps compares a recorder that is 30
// ppm fast with a computer that is 40 ppm fast: by the answers of a server it
// is 70 ppm.
func TestAnswersMakeUpForAClockThatNothingKeeps(t *testing.T) {
	start := time.Now()
	s := deaf(t, t.TempDir(), func() time.Time { return start.Add(2 * time.Hour) })
	s.ears.look, s.ears.quiet = time.Hour, 24*time.Hour
	l, err := s.StartLive(LiveOptions{ListenQuery: ListenQuery{Device: "telephone"}, Rate: 8000, Host: sampleclock.HostOf(sampleclock.Undisciplined)})
	if err != nil {
		t.Fatal(err)
	}
	x := ticks(1)[:800]
	for i := range int64(36_000) {
		if i%8 == 0 {
			roomFor(l)
		}
		came := 0.1 * float64(i+1) / (1 + 30e-6)
		if err := l.Write(x, Stamp{First: 800 * i, Came: start.Add(time.Duration(came * 1e9))}); err != nil {
			t.Fatal(err)
		}
	}
	l.fitter.work()
	if _, err := s.CalibrateLive(t.Context(), "A", l.ID(), meas.Reading[unit.Temperature]{}); !strings.Contains(AsProblem(err).Hint, "ask a time server") {
		t.Fatalf("%v", err)
	}
	servers(s, hostclock.Offset{When: start, Limit: 0.005}, hostclock.Offset{When: start.Add(time.Hour), Behind: unit.Duration(-3600 * 40e-6), Limit: 0.005})
	for range 2 {
		if _, err := s.AskTime(t.Context(), "time.example"); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := s.CalibrateLive(t.Context(), "A", l.ID(), meas.Reading[unit.Temperature]{})
	if c := kept.Clock; err != nil || c.How != sampleclock.Calibrated || math.Abs(float64(c.Error-70e-6)) > float64(c.Limit) || c.Limit > 8e-6 {
		t.Errorf("%v %+v", err, kept)
	}
}

func TestRecorders(t *testing.T) {
	h := &hand{now: began}
	s := deaf(t, t.TempDir(), h.Now)
	if _, err := s.StateRecorder(t.Context(), "A", "telephone", sampleclock.Clock{Error: 12e-6, Limit: 3e-6}); err != nil {
		t.Fatal(err)
	}
	h.add(200 * 24 * time.Hour)
	if _, err := s.StartLive(LiveOptions{ListenQuery: ListenQuery{Device: "headset"}, Rate: 8000}); err != nil {
		t.Fatal(err)
	}
	all, err := s.Recorders(t.Context())
	if err != nil || len(all) != 2 {
		t.Fatalf("%v %+v", err, all)
	}
	if r := all[0]; r.Device != "telephone" || !r.Calibrated() || !r.Old() || r.Used.Error != 12e-6 || len(r.Runs) != 0 {
		t.Errorf("%+v", r)
	}
	if r := all[1]; r.Device != "headset" || r.Calibrated() || r.Old() || r.Used.Limit != 50e-6 || len(r.Runs) != 1 {
		t.Errorf("%+v", r)
	}
	if err := s.ForgetRecorder(t.Context(), "A", "telephone"); err != nil {
		t.Fatal(err)
	}
	if all, err = s.Recorders(t.Context()); err != nil || all[0].Calibrated() || all[0].Used.Limit != 50e-6 || all[0].Used.Error != 0 {
		t.Errorf("%v %+v", err, all)
	}
}

// TestAnEarlierComparisonCountsAgain goes back to the one before the last.
func TestAnEarlierComparisonCountsAgain(t *testing.T) {
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	s := deaf(t, t.TempDir(), func() time.Time { return now })
	state := func(ppm float64) {
		if _, err := s.StateRecorder(t.Context(), "A", "mic", sampleclock.Clock{Error: unit.Rate(ppm * 1e-6), Limit: 1e-6}); err != nil {
			t.Fatal(err)
		}
		now = now.Add(time.Hour)
	}
	state(12)
	state(40)
	for _, n := range []int{-1, 2} {
		if err := s.UseCalibration(t.Context(), "B", "mic", n); AsProblem(err).Code != NotFound {
			t.Errorf("%d: %v", n, err)
		}
	}
	if err := s.UseCalibration(t.Context(), "B", "mic", 1); err != nil {
		t.Fatal(err)
	}
	all, err := s.Recorders(t.Context())
	if err != nil || len(all) != 1 {
		t.Fatalf("%v, %v", all, err)
	}
	r := all[0]
	if r.Kept.Clock.Error != 12e-6 || r.Kept.By != "B" || r.Kept.When.Hour() != 9 || r.Age != 2*time.Hour || len(r.Before) != 2 || math.Abs(float64(r.Before[0].Clock.Error)-40e-6) > 1e-12 {
		t.Errorf("%+v", r)
	}
}
