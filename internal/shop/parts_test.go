package shop

import (
	"fmt"
	"strings"
	"sync"
	"testing"

	"seatboard/internal/book/job"
	"seatboard/internal/book/parts"
)

func off(name string) parts.Event {
	return parts.Event{To: parts.Off, Count: 1, Detail: &parts.Detail{Name: name, Place: "tray 1"}}
}

func recorded(t *testing.T, s *Shop, clock int64, parent parts.Number, e parts.Event) parts.Number {
	t.Helper()
	done, err := s.RecordPart(t.Context(), "tester", clock, parent, "", e, "")
	if err != nil {
		t.Fatal(err)
	}
	return done.Part
}

func find(t *testing.T, s *Shop, clock int64, n parts.Number) parts.Part {
	t.Helper()
	d, err := s.TakeDown(t.Context(), clock)
	if err != nil {
		t.Fatal(err)
	}
	p, _ := d.Ledger.Find(n)
	return p
}

func TestPartsAreNumberedAndKept(t *testing.T) {
	s := open(t)
	c := add(t, s, job.Clock{Number: "1"})
	if n := recorded(t, s, c.ID, "", off("dial")); n != "1" {
		t.Errorf("the first part is %s", n)
	}
	if n := recorded(t, s, c.ID, "1", off("dial foot pin")); n != "1.1" {
		t.Errorf("its part is %s", n)
	}
	if p := find(t, s, c.ID, "1.1"); p.Name != "dial foot pin" || p.State != parts.Off || p.Place != "tray 1" {
		t.Errorf("%+v", p)
	}
	if _, err := s.RecordPart(t.Context(), "tester", c.ID, "7", "", off("x"), ""); AsProblem(err).Code != BadInput {
		t.Errorf("a part of nothing: %v", err)
	}
	if _, err := s.TakeDown(t.Context(), 99); AsProblem(err).Code != NotFound {
		t.Error(err)
	}
}

func TestANumberOnABagIsNeverGivenTwice(t *testing.T) {
	s := open(t)
	c := add(t, s, job.Clock{Number: "1"})
	recorded(t, s, c.ID, "", off("dial"))
	_, err := s.RecordPart(t.Context(), "other", c.ID, "", "1", off("bell"), "")
	p := AsProblem(err)
	if p.Code != Conflict || !strings.Contains(p.Message, "would be 2") || len(p.Differ) != 3 || p.Differ[0].Before != "dial" || p.Differ[0].After != "bell" {
		t.Errorf("%+v", p)
	}
	if err := s.UndoParts(t.Context(), "tester", c.ID, 1); err != nil {
		t.Fatal(err)
	}
	if n := recorded(t, s, c.ID, "", off("bell")); n != "2" {
		t.Errorf("a number that was undone is given out again: %s", n)
	}
}

func TestManyHandsRecordAtOnce(t *testing.T) {
	s := open(t)
	c := add(t, s, job.Clock{Number: "1"})
	var wg sync.WaitGroup
	for i := range 12 {
		wg.Go(func() {
			if _, err := s.RecordPart(t.Context(), "tester", c.ID, "", "", off(fmt.Sprint(i)), ""); err != nil {
				t.Error(err)
			}
		})
	}
	wg.Wait()
	d, err := s.TakeDown(t.Context(), c.ID)
	if err != nil || len(d.Ledger.Parts()) != 12 {
		t.Errorf("%d parts, %v", len(d.Ledger.Parts()), err)
	}
}

func TestSecondWriterSeesBoth(t *testing.T) {
	s := open(t)
	c := add(t, s, job.Clock{Number: "1"})
	recorded(t, s, c.ID, "", off("click"))
	seen := find(t, s, c.ID, "1").Detail
	first, second := seen, seen
	first.Mark, second.Mark = "two dots", "one dot"
	if err := s.DescribePart(t.Context(), "a", c.ID, "1", seen, first); err != nil {
		t.Fatal(err)
	}
	err := s.DescribePart(t.Context(), "b", c.ID, "1", seen, second)
	if p := AsProblem(err); p.Code != Conflict || len(p.Differ) != 1 || p.Differ[0].Before != "two dots" || p.Differ[0].After != "one dot" {
		t.Errorf("%+v", p)
	}
	if p := find(t, s, c.ID, "1"); p.Mark != "two dots" {
		t.Errorf("overwritten: %q", p.Mark)
	}
}

func TestMoveManyAndUndoAll(t *testing.T) {
	s := open(t)
	c := add(t, s, job.Clock{Number: "1"})
	for range 3 {
		recorded(t, s, c.ID, "", off("wheel"))
	}
	if err := s.MoveParts(t.Context(), "tester", c.ID, parts.BackOn, "", "1", "2", "9"); len(AsProblem(err).Fields) != 1 {
		t.Errorf("%v", err)
	}
	if p := find(t, s, c.ID, "1"); p.State != parts.Off {
		t.Error("half of a refused move was kept")
	}
	if err := s.MoveParts(t.Context(), "tester", c.ID, parts.BackOn, "", "1", "2"); err != nil {
		t.Fatal(err)
	}
	if err := s.UndoParts(t.Context(), "tester", c.ID, 4, 5); err != nil {
		t.Fatal(err)
	}
	for _, n := range []parts.Number{"1", "2", "3"} {
		if p := find(t, s, c.ID, n); p.State != parts.Off {
			t.Errorf("%s is %s", n, p.State)
		}
	}
	if err := s.UndoParts(t.Context(), "tester", c.ID, 4); len(AsProblem(err).Fields) == 0 {
		t.Errorf("undone twice: %v", err)
	}
}

func TestNoTrialWithAnUnexplainedPart(t *testing.T) {
	s := open(t)
	c := add(t, s, job.Clock{Number: "1"})
	recorded(t, s, c.ID, "", off("fly"))
	c, err := standing(t, s, c.ID)
	if err != nil {
		t.Fatal(err)
	}
	c.Stage = job.Trial
	_, err = s.SaveClock(t.Context(), "tester", c)
	if p := AsProblem(err); p.Code != BadInput || len(p.Fields) != 1 || !strings.Contains(p.Fields[0].Text, "1 fly") {
		t.Fatalf("%+v", p)
	}
	if f, _ := s.File(t.Context(), c.ID); f.Clock.Stage == job.Trial {
		t.Error("it went on trial all the same")
	}
	if err := s.ExplainParts(t.Context(), "tester", c.ID, map[parts.Number]string{"1": "at the platers; the trial is of the going side"}); err != nil {
		t.Fatal(err)
	}
	c, _ = standing(t, s, c.ID)
	c.Stage = job.Trial
	if c, err = s.SaveClock(t.Context(), "tester", c); err != nil {
		t.Fatal(err)
	}
	c.Title = "A change while it is on trial"
	if _, err := s.SaveClock(t.Context(), "tester", c); err != nil {
		t.Error(err)
	}
}

// standing reads the clock as it stands.
func standing(t *testing.T, s *Shop, id int64) (job.Clock, error) {
	t.Helper()
	f, err := s.File(t.Context(), id)
	return f.Clock, err
}
