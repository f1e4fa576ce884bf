package shop

import (
	"errors"
	"testing"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/craft/drive"
	"seatboard/internal/craft/train"
)

// TestStandAndWhy: stops written down one after another, set going as the hour
// came round, name the wheel; the survey and the log of the trial are used.
func TestStandAndWhy(t *testing.T) {
	now := time.Date(2026, 11, 2, 14, 0, 0, 0, time.UTC)
	s, err := Open(t.Context(), t.TempDir(), func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	s.ReadSurveys(func(map[string]map[string][]string) Survey {
		q, _ := train.Parse("96/8 60/8 56/7 30")
		q.HourArbor = "2"
		q.Trains = append(q.Trains, train.Train{Name: train.Strike, Chain: train.MustChain("78/8 56/7 48/6")})
		return Survey{Train: &q, Drive: &drive.Query{}}
	})
	c, err := s.AddClock(t.Context(), "tester", job.Clock{Number: "1"})
	if err != nil {
		t.Fatal(err)
	}
	zone := s.Zone()
	for i, hands := range []string{"10:49", "2:25:10", "6:01", "9:13", "11:37"} {
		h, m := []int{10, 2, 6, 9, 11}[i], []int{49, 25, 1, 13, 37}[i]
		now = time.Date(2026, 11, 3+3*i, h, m, 0, 0, zone).Add(5 * time.Hour)
		if _, err := s.StandTrial(t.Context(), "tester", c.ID, 100, StopAsk{Hands: hands, Room: "17", Strike: "at rest"}); err != nil {
			t.Fatal(err)
		}
		x, err := s.TrialStops(t.Context(), c.ID)
		if err != nil || x.Still == nil || len(x.Found) != i+1 || x.Answer.Complete != (i >= 2) {
			t.Fatalf("%v %+v", err, x.Answer)
		}
		now = now.Add(7 * time.Hour)
		if _, err := s.TouchTrial(t.Context(), "tester", c.ID, 100, TouchAsk{What: "started"}); err != nil {
			t.Fatal(err)
		}
	}
	x, err := s.TrialStops(t.Context(), c.ID)
	if err != nil || x.Still != nil {
		t.Fatal(err, x.Still)
	}
	if a := x.Answer; a.Suspects[0].Names[0] != "third wheel" || !a.Suspects[0].Found || a.Query.Strikes != "hours" || !a.Places[4].Joined || a.Places[4].By != 0 {
		t.Errorf("%+v\n%+v", a.Suspects[0], a.Places)
	}
	again, _ := s.TrialStops(t.Context(), c.ID)
	if again.Answer != x.Answer {
		t.Error("worked out twice")
	}
}

func TestStandRefuses(t *testing.T) {
	now := time.Date(2026, 11, 2, 14, 0, 0, 0, time.UTC)
	s, err := Open(t.Context(), t.TempDir(), func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	s.ReadSurveys(func(map[string]map[string][]string) Survey {
		q, _ := train.Parse("96/8 60/8 49/7 30")
		q.HourArbor = "2"
		return Survey{Train: &q}
	})
	c, err := s.AddClock(t.Context(), "tester", job.Clock{Number: "1"})
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range []struct {
		ask    StopAsk
		fields []string
	}{
		{StopAsk{}, []string{"hands"}},
		{StopAsk{Hands: "25:70", Weight: "much", Room: "9 kg", Found: "tomorrow-ish", Wound: "never"}, []string{"found", "hands", "weight", "room", "wound"}},
		{StopAsk{Hands: "10:47:12"}, []string{"hands"}},
		{StopAsk{Hour: "10"}, []string{"hands"}},
		{StopAsk{Hands: "10:47", Hour: "9", Minute: "30"}, []string{"hands"}},
		{StopAsk{Hands: "10:47", Found: "10 h ago", Wound: "5 h ago"}, []string{"wound"}},
	} {
		_, err := s.StandTrial(t.Context(), "tester", c.ID, 0, k.ask)
		var p *Problem
		if !errors.As(err, &p) || p.Code != BadInput || len(p.Fields) != len(k.fields) {
			t.Errorf("%+v: %v", k.ask, err)
			continue
		}
		for i, f := range k.fields {
			if p.Fields[i].Field != f {
				t.Errorf("%+v: %+v", k.ask, p.Fields)
			}
		}
	}
	if x, _ := s.TrialStops(t.Context(), c.ID); len(x.Found) != 0 || x.Answer != nil {
		t.Error("something was written")
	}
	if _, err := s.StandTrial(t.Context(), "tester", c.ID, 0, StopAsk{Hands: "10:47", Hour: "10", Minute: "47"}); err != nil {
		t.Error(err)
	}
}

// TestStandOnADialOf24Hours: what the hands show is the hour of the day, and
// the clock stood since then, not since twelve hours later.
func TestStandOnADialOf24Hours(t *testing.T) {
	now := time.Date(2026, 11, 2, 20, 0, 0, 0, time.UTC)
	s, err := Open(t.Context(), t.TempDir(), func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	s.ReadSurveys(func(map[string]map[string][]string) Survey {
		q, _ := train.Parse("96/8 60/8 56/7 30")
		q.HourArbor, q.DialHours = "2", 24
		return Survey{Train: &q}
	})
	c := add(t, s, job.Clock{Number: "1"})
	for i, hands := range []string{"5:49", "17:25", "24:01"} {
		now = now.Add(24 * time.Hour)
		if _, err := s.StandTrial(t.Context(), "tester", c.ID, 100, StopAsk{Hands: hands}); err != nil {
			t.Fatal(i, err)
		}
	}
	x, err := s.TrialStops(t.Context(), c.ID)
	if err != nil || x.Dial != 24 || x.Found[0].Hour != 5 || x.Found[1].Hour != 17 || x.Found[2].Hour != 0 || x.Found[0].Stop.Dial != 24 {
		t.Fatalf("%v %+v", err, x.Found)
	}
	if at := x.Query.Touches[0].At.In(time.UTC); at.Hour() != 5 || at.Day() != 3 {
		t.Errorf("it stood since %v", at)
	}
	if p := x.Answer.Places[1]; p.Dial != 17*3600+25*60 {
		t.Errorf("%+v", p)
	}
}
