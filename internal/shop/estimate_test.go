package shop

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/estimate"
	"seatboard/internal/book/job"
	"seatboard/internal/book/proposal"
	"seatboard/internal/book/work"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func pivots(low, likely, high float64) proposal.Draft {
	h := func(x float64) meas.Reading[unit.Duration] { return meas.Of(unit.Duration(x * 3600)) }
	return proposal.Draft{Query: estimate.Query{Tasks: []estimate.Task{{N: 1, What: "pivots", Low: h(low), Likely: h(likely), High: h(high)}}}}
}

// goneHome is a clock with an agreed proposal of a mean of 4 h and so many
// hours, that has gone home.
func goneHome(t *testing.T, s *Shop, number, span string) job.Clock {
	t.Helper()
	c := add(t, s, job.Clock{Number: number, Title: "Clock " + number})
	if err := s.SaveEstimate(t.Context(), "Ada", c.ID, 0, pivots(2, 4, 6)); err != nil {
		t.Fatal(err)
	}
	n, err := s.FixEstimate(t.Context(), "Ada", c.ID, 1)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.SayOwner(t.Context(), "Ada", c.ID, work.Consent{Version: n, Name: "owner", How: "signed"}, ""); err != nil {
		t.Fatal(err)
	}
	if span != "" {
		if _, err := s.AddWork(t.Context(), "Ada", WorkAsk{Who: "Ada", Clock: number, Task: "pivots", Span: span}); err != nil {
			t.Fatal(err)
		}
	}
	f, err := s.File(t.Context(), c.ID)
	if err != nil {
		t.Fatal(err)
	}
	f.Clock.Stage = job.GoneHome
	if _, err := s.SaveClock(t.Context(), "Ada", f.Clock); err != nil {
		t.Fatal(err)
	}
	return f.Clock
}

// TestTheShopLearnsFromItsFinishedJobs: from three on the range is from them;
// one without hours is named and does not count, and a version that was fixed
// before keeps its figures.
func TestTheShopLearnsFromItsFinishedJobs(t *testing.T) {
	w := &wall{now: time.Date(2026, 3, 4, 18, 0, 0, 0, time.UTC)}
	s := timedShop(t, t.TempDir(), w)
	mine := add(t, s, job.Clock{Number: "9"})
	if err := s.SaveEstimate(t.Context(), "Ada", mine.ID, 0, pivots(2, 4, 6)); err != nil {
		t.Fatal(err)
	}
	if _, err := s.FixEstimate(t.Context(), "Ada", mine.ID, 1); err != nil {
		t.Fatal(err)
	}
	load := func() Estimate {
		t.Helper()
		e, err := s.Estimate(t.Context(), mine.ID)
		if err != nil {
			t.Fatal(err)
		}
		return e
	}
	for i, span := range []string{"4:00", "6:00", "", "5:00"} {
		if e := load(); e.Answer.From != estimate.FromTasks {
			t.Fatalf("learned from %d jobs", i)
		}
		goneHome(t, s, fmt.Sprint(i), span)
	}
	e := load()
	if e.Answer.From != estimate.FromFinished || e.Answer.Learned.Jobs != 3 || len(e.Finished) != 4 {
		t.Fatalf("%s %+v", e.Answer.From, e.Answer.Learned)
	}
	if got := e.Answer.Range.Value / (4 * 3600); got < 1.23 || got > 1.235 { // the geometric mean of 1, 1.5 and 1.25
		t.Errorf("the middle is %v of the estimate", got)
	}
	if e.Finished[1].LeftOut != "no hours are written down" {
		t.Errorf("%+v", e.Finished)
	}
	if v, ok := e.Proposal.Find(1); !ok || v.Answer.From != estimate.FromTasks || v.Answer.Learned != nil {
		t.Error("a fixed version was reckoned anew")
	}
	if on := begins(t, s, "Ada", e.Finished[0].ClockID); on.N == 0 {
		t.Fatal("not begun")
	}
	if e := load(); e.Answer.From != estimate.FromTasks || e.Finished[0].LeftOut != "work is running" {
		t.Errorf("it learns from a job at which work is running: %+v", e.Finished[0])
	}
}

func TestTwoDraftAtOnce(t *testing.T) {
	w := &wall{now: time.Date(2026, 3, 4, 18, 0, 0, 0, time.UTC)}
	s := timedShop(t, t.TempDir(), w)
	c := add(t, s, job.Clock{Number: "9"})
	if err := s.SaveEstimate(t.Context(), "Ada", c.ID, 0, pivots(2, 4, 6)); err != nil {
		t.Fatal(err)
	}
	err := s.SaveEstimate(t.Context(), "Bo", c.ID, 0, pivots(1, 2, 3))
	if p := AsProblem(err); p.Code != Conflict || len(p.Differ) != 1 || p.Differ[0].Field != "pivots" || !strings.Contains(p.Differ[0].Before, "2.0 h") && !strings.Contains(p.Differ[0].Before, "7200") {
		t.Errorf("%v %+v", err, p.Differ)
	}
	e, err := s.Estimate(t.Context(), c.ID)
	if err != nil || e.Proposal.Drafted != 1 || e.Answer.Likely != 4*3600 {
		t.Errorf("%+v %v", e.Answer, err)
	}
}

func TestNothingIsFixedOfNothing(t *testing.T) {
	w := &wall{now: time.Date(2026, 3, 4, 18, 0, 0, 0, time.UTC)}
	s := timedShop(t, t.TempDir(), w)
	c := add(t, s, job.Clock{Number: "9"})
	if _, err := s.FixEstimate(t.Context(), "Ada", c.ID, 0); AsProblem(err).Code != BadInput {
		t.Error(err)
	}
	if err := s.SayOwner(t.Context(), "Ada", c.ID, work.Consent{Version: 1, Name: "x", How: "signed"}, ""); AsProblem(err).Code != BadInput {
		t.Error(err)
	}
}

// BenchmarkEstimate is the page of a proposal of twenty tasks in a shop that
// has learned from thirty jobs.
func BenchmarkEstimate(b *testing.B) {
	now := time.Date(2026, 3, 4, 18, 0, 0, 0, time.UTC)
	s, err := Open(b.Context(), b.TempDir(), func() time.Time { return now })
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	must := func(err error) {
		if err != nil {
			b.Helper()
			b.Fatal(err)
		}
	}
	d := proposal.Draft{}
	for i := range 20 {
		t := pivots(1, 2+float64(i)/10, 6).Query.Tasks[0]
		t.N, t.What = i+1, fmt.Sprint("task ", i)
		d.Query.Tasks = append(d.Query.Tasks, t)
	}
	var clock int64
	for i := range 31 {
		c, err := s.AddClock(b.Context(), "Ada", job.Clock{Number: fmt.Sprint(i)})
		must(err)
		clock = c.ID
		must(s.SaveEstimate(b.Context(), "Ada", c.ID, 0, d))
		_, err = s.FixEstimate(b.Context(), "Ada", c.ID, 1)
		must(err)
		must(s.SayOwner(b.Context(), "Ada", c.ID, work.Consent{Version: 1, Name: "owner", How: "signed"}, ""))
		_, err = s.AddWork(b.Context(), "Ada", WorkAsk{Who: "Ada", Clock: c.Number, Span: fmt.Sprintf("%d:%02d", 9+i%5, i)})
		must(err)
		if i < 30 {
			c.Stage = job.GoneHome
			f, err := s.File(b.Context(), c.ID)
			must(err)
			f.Clock.Stage = job.GoneHome
			_, err = s.SaveClock(b.Context(), "Ada", f.Clock)
			must(err)
		}
	}
	for b.Loop() {
		e, err := s.Estimate(b.Context(), clock)
		must(err)
		if e.Answer.From != estimate.FromFinished {
			b.Fatal(e.Answer.From)
		}
	}
}
