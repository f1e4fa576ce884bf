package shop

import (
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/work"
)

// timedShop is a shop in a zone with a clock on the wall that the test sets.
func timedShop(t *testing.T, dir string, w *wall) *Shop {
	t.Helper()
	s, err := Open(t.Context(), dir, func() time.Time { return w.now })
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

func berlin(t *testing.T) *time.Location {
	t.Helper()
	zone, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Skip("no zones here")
	}
	return zone
}

func begins(t *testing.T, s *Shop, by string, clock int64) Work {
	t.Helper()
	w, err := s.StartWork(t.Context(), by, clock, "", "", false)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func opens(t *testing.T, s *Shop) []Work {
	t.Helper()
	all, err := s.OpenWork(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func hours(t *testing.T, s *Shop, clock int64) Hours {
	t.Helper()
	h, err := s.Hours(t.Context(), clock)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// TestRunningClockOutlivesTheProgram: it is an instant in the book, not a
// count in the program.
func TestRunningClockOutlivesTheProgram(t *testing.T) {
	w := &wall{now: time.Date(2026, 3, 4, 9, 0, 0, 0, berlin(t))}
	dir := t.TempDir()
	s := timedShop(t, dir, w)
	c := add(t, s, job.Clock{Number: "1", Title: "Clock"})
	begins(t, s, "Ada", c.ID)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	w.pass(90 * time.Minute)
	s = timedShop(t, dir, w)
	on, ok := RunningOf(opens(t, s), " ada ")
	if !ok || on.Lasted(s.Now()) != 90*time.Minute || on.Words() != "1" || on.Question != nil {
		t.Fatalf("%+v %v", on, ok)
	}
	done, err := s.StopWork(t.Context(), "Ada", on.ClockID, on.N)
	if err != nil || done.Length() != 90*time.Minute || len(opens(t, s)) != 0 {
		t.Errorf("%+v %v", done, err)
	}
	if h := hours(t, s, c.ID); h.Sums.Total != 90*time.Minute {
		t.Errorf("%+v", h.Sums)
	}
}

// TestTwoDevicesOfOnePerson: what one device does the other sees at once, and
// a second tap changes nothing.
func TestTwoDevicesOfOnePerson(t *testing.T) {
	w := &wall{now: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)}
	s := timedShop(t, t.TempDir(), w)
	a, b := add(t, s, job.Clock{Number: "1"}), add(t, s, job.Clock{Number: "2"})
	on := begins(t, s, "Ada", a.ID)
	if _, err := s.StartWork(t.Context(), "ADA", b.ID, "", "", false); AsProblem(err).Code != BadInput || !strings.Contains(AsProblem(err).Fields[0].Text, "since 09:00 on 1") {
		t.Errorf("a second clock: %v", err)
	}
	begins(t, s, "Bo", b.ID)
	w.pass(time.Hour)
	if _, err := s.StartWork(t.Context(), "Ada", b.ID, "Movement", "bushing", true); err != nil {
		t.Fatal(err)
	}
	if h := hours(t, s, a.ID); h.Sums.Total != time.Hour || len(h.Sums.Runs) != 0 {
		t.Errorf("the first was not stopped: %+v", h.Sums)
	}
	if n := len(opens(t, s)); n != 2 {
		t.Errorf("%d are running", n)
	}
	if _, err := s.StopWork(t.Context(), "Ada", on.ClockID, on.N); AsProblem(err).Code != Conflict {
		t.Errorf("stopped twice: %v", err)
	}
}

// TestForgottenOverMidnight: it is asked about, stands in no sum until it is
// answered, and counts for the day it began.
func TestForgottenOverMidnight(t *testing.T) {
	w := &wall{now: time.Date(2026, 3, 4, 16, 0, 0, 0, berlin(t))}
	s := timedShop(t, t.TempDir(), w)
	c := add(t, s, job.Clock{Number: "1"})
	on := begins(t, s, "Ada", c.ID)
	w.pass(time.Hour)
	recordedBy(t, s, "Ada", c.ID)
	w.pass(15 * time.Hour)
	on, _ = RunningOf(opens(t, s), "Ada")
	if on.Question == nil || !strings.Contains(on.Question.Text, "over midnight") {
		t.Fatalf("%+v", on.Question)
	}
	if _, err := s.StartWork(t.Context(), "Ada", c.ID, "", "", true); AsProblem(err).Code != BadInput {
		t.Errorf("a forgotten clock was stopped without asking: %v", err)
	}
	if _, err := s.StopWork(t.Context(), "Ada", c.ID, on.N); err != nil {
		t.Fatal(err)
	}
	h := hours(t, s, c.ID)
	if h.Sums.Total != 0 || len(h.Sums.Asked) != 1 || len(work.Billable([]work.Stretch{h.Work[0].Stretch}, s.WorkRule(), s.Now())) != 0 {
		t.Errorf("it counts unasked: %+v", h.Sums)
	}
	if all := opens(t, s); len(all) != 1 || all[0].Question == nil {
		t.Fatalf("it is no longer asked about: %+v", all)
	}
	q, asked, err := s.AskAbout(t.Context(), h.Work[0])
	if err != nil || !asked || !q.Ends[0].Equal(time.Date(2026, 3, 4, 17, 0, 0, 0, berlin(t))) {
		t.Errorf("what Ada did last is not offered first: %v %v", q.Ends, err)
	}
	if _, err := s.AnswerWork(t.Context(), "Ada", c.ID, on.N, 1, "17:30"); AsProblem(err).Code != Conflict {
		t.Errorf("answered from an old page: %v", err)
	}
	for _, bad := range []string{"soon", "2026-03-07T09:00:00Z"} {
		if _, err := s.AnswerWork(t.Context(), "Ada", c.ID, on.N, h.Work[0].Entry, bad); len(AsProblem(err).Fields) != 1 || AsProblem(err).Fields[0].Field != "end" {
			t.Errorf("%s: %v", bad, err)
		}
	}
	done, err := s.AnswerWork(t.Context(), "Ada", c.ID, on.N, h.Work[0].Entry, "17:30")
	if err != nil || done.Length() != 90*time.Minute || done.Question != nil {
		t.Fatalf("%+v %v", done, err)
	}
	week, err := s.Week(t.Context(), s.Now())
	if err != nil || len(week.Days) != 1 || week.Days[0].Day != "2026-03-04" || week.Total != 90*time.Minute || len(opens(t, s)) != 0 {
		t.Errorf("%+v %v", week, err)
	}
}

// recordedBy writes something down in a person's name.
func recordedBy(t *testing.T, s *Shop, by string, clock int64) {
	t.Helper()
	if _, err := s.RecordPart(t.Context(), by, clock, "", "", off("dial"), ""); err != nil {
		t.Fatal(err)
	}
}

// TestSummerTime: the length is that of the instants, whatever the clock on
// the wall shows.
func TestSummerTime(t *testing.T) {
	zone := berlin(t)
	for _, x := range []struct {
		from, to time.Time
		want     time.Duration
	}{
		{time.Date(2026, 3, 29, 1, 0, 0, 0, zone), time.Date(2026, 3, 29, 4, 0, 0, 0, zone), 2 * time.Hour},
		{time.Date(2026, 10, 25, 1, 0, 0, 0, zone), time.Date(2026, 10, 25, 4, 0, 0, 0, zone), 4 * time.Hour},
	} {
		w := &wall{now: x.from}
		s := timedShop(t, t.TempDir(), w)
		on := begins(t, s, "Ada", 0)
		w.now = x.to
		if done, err := s.StopWork(t.Context(), "Ada", 0, on.N); err != nil || done.Length() != x.want || done.Typed(zone) != "01:00–04:00" {
			t.Errorf("%v %v %v", done.Length(), done.Typed(zone), err)
		}
		if _, err := s.AddWork(t.Context(), "Ada", WorkAsk{Who: "Bo", Day: x.from.Format(time.DateOnly), Span: "1–4"}); err != nil {
			t.Error(err)
		}
		if h := hours(t, s, 0); h.Sums.Total != 2*x.want {
			t.Errorf("%v", h.Sums.Total)
		}
	}
}

// TestHoursByHand: every mistake at once, and what is right is kept.
func TestHoursByHand(t *testing.T) {
	w := &wall{now: time.Date(2026, 3, 4, 16, 0, 0, 0, time.UTC)}
	s := timedShop(t, t.TempDir(), w)
	c := add(t, s, job.Clock{Number: "2026-014"})
	_, err := s.AddWork(t.Context(), "Ada", WorkAsk{Clock: "9", Day: "soon", Span: "2"})
	if f := AsProblem(err).Fields; len(f) != 3 {
		t.Errorf("%v", f)
	}
	if _, err := s.AddWork(t.Context(), "Ada", WorkAsk{Who: "Ada", Span: "15:00–17:00"}); !strings.Contains(AsProblem(err).Fields[0].Text, "lies ahead") {
		t.Error(err)
	}
	added, err := s.AddWork(t.Context(), "Ada", WorkAsk{Who: "Ada", Clock: " 2026-014", Chapter: "Movement", Task: "pivots", Span: "1,5 h"})
	if err != nil || added.Length() != 90*time.Minute || added.ClockID != c.ID || !added.DayOnly {
		t.Fatalf("%+v %v", added, err)
	}
	if h := hours(t, s, c.ID); len(h.Sums.Lines) != 1 || h.Sums.Lines[0].Task != "pivots" {
		t.Errorf("%+v", h.Sums)
	}
}

// TestCorrectionsAreCounterEntries: corrected, moved to another clock, struck
// and taken back; the log says all of it.
func TestCorrectionsAreCounterEntries(t *testing.T) {
	w := &wall{now: time.Date(2026, 3, 4, 16, 0, 0, 0, time.UTC)}
	s := timedShop(t, t.TempDir(), w)
	c := add(t, s, job.Clock{Number: "1"})
	on := begins(t, s, "Ada", 0)
	w.pass(20*time.Minute + 7*time.Second)
	ask := s.AskOf(on)
	if ask.Span != "16:00–" {
		t.Errorf("%+v", ask)
	}
	ask.Clock, ask.Task = "1", "pivots"
	moved, err := s.ChangeWork(t.Context(), "Ada", 0, on.N, on.Entry, ask)
	if err != nil || moved.ClockID != c.ID || !moved.Running() || !moved.Start.Equal(on.Start) {
		t.Fatalf("%+v %v", moved, err)
	}
	if h := hours(t, s, 0); len(h.Work) != 0 || len(h.Struck) != 0 {
		t.Errorf("it stands in both logs: %+v", h)
	}
	if err := s.UndoWork(t.Context(), "Ada", 0, on.N, 2); AsProblem(err).Code != BadInput {
		t.Errorf("a move was taken back on one side: %v", err)
	}
	done, err := s.StopWork(t.Context(), "Ada", c.ID, moved.N)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.ChangeWork(t.Context(), "Bo", c.ID, moved.N, 1, ask); AsProblem(err).Code != Conflict || len(AsProblem(err).Differ) == 0 {
		t.Errorf("an old page overwrote: %v", err)
	}
	ask = s.AskOf(done)
	ask.Note = "by lamp"
	kept, err := s.ChangeWork(t.Context(), "Ada", c.ID, moved.N, done.Entry, ask)
	if err != nil || kept.Length() != 20*time.Minute+7*time.Second {
		t.Errorf("a note changed the length: %v %v", kept.Length(), err)
	}
	if err := s.StrikeWork(t.Context(), "Ada", c.ID, moved.N, kept.Entry, " "); AsProblem(err).Fields[0].Field != "why" {
		t.Error(err)
	}
	if err := s.StrikeWork(t.Context(), "Ada", c.ID, moved.N, kept.Entry, "twice down"); err != nil {
		t.Fatal(err)
	}
	if h := hours(t, s, c.ID); h.Sums.Total != 0 || len(h.Struck) != 1 {
		t.Errorf("%+v", h)
	}
	for range 3 { // the removal, the note, the stop
		one, err := s.OneWork(t.Context(), c.ID, moved.N)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.UndoWork(t.Context(), "Ada", c.ID, moved.N, one.Entry); err != nil {
			t.Fatal(err)
		}
	}
	if on, ok := RunningOf(opens(t, s), "Ada"); !ok || on.N != moved.N {
		t.Error("the stop was not taken back")
	}
	if one, _ := s.OneWork(t.Context(), c.ID, moved.N); len(one.History) != 7 || one.History[0].Why != "moved from" && one.History[0].Kind != work.Began {
		t.Errorf("%d %+v", len(one.History), one.History)
	}
}

// TestAStopIsNotTakenBackBesideAnother: one running clock for each person,
// whichever way it would begin.
func TestAStopIsNotTakenBackBesideAnother(t *testing.T) {
	w := &wall{now: time.Date(2026, 3, 4, 16, 0, 0, 0, time.UTC)}
	s := timedShop(t, t.TempDir(), w)
	c := add(t, s, job.Clock{Number: "1"})
	on := begins(t, s, "Ada", c.ID)
	w.pass(time.Minute)
	done, err := s.StopWork(t.Context(), "Ada", c.ID, on.N)
	if err != nil {
		t.Fatal(err)
	}
	begins(t, s, "Ada", 0)
	if err := s.UndoWork(t.Context(), "Ada", c.ID, on.N, done.Entry); AsProblem(err).Code != BadInput {
		t.Errorf("two clocks run for one person: %v", err)
	}
	if n := len(opens(t, s)); n != 1 {
		t.Errorf("%d are running", n)
	}
}

// BenchmarkOpenWork is what every page asks for: nothing was written since.
func BenchmarkOpenWork(b *testing.B) {
	s, err := Open(b.Context(), b.TempDir(), time.Now)
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	if _, err := s.StartWork(b.Context(), "Ada", 0, "", "", false); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if all, err := s.OpenWork(b.Context()); err != nil || len(all) != 1 {
			b.Fatal(all, err)
		}
	}
}
