package shop

import (
	"math"
	"slices"
	"testing"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/trial"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/unit"
)

// fortnight is a clock that gains 2 s a day and was read every twelve hours,
// as somebody would: to half a second. change bends the errors.
func fortnight(t *testing.T, change func(i int, at time.Time, fast float64) (time.Time, float64)) (*Shop, int64, *wall) {
	t.Helper()
	w := &wall{now: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)}
	s := timedShop(t, t.TempDir(), w)
	c := add(t, s, job.Clock{Number: "1"})
	for i := range 28 {
		wobble := 0.4 * math.Sin(float64(i)*2.7)
		at, fast := change(i, w.now, float64(i)+wobble)
		e := read(at, math.Round(2*fast)/2)
		e.Host = &trial.Host{From: trial.ByComputer, Kept: trial.KeptRight}
		if _, err := s.AddTrial(t.Context(), "Ada", c.ID, i, e); err != nil {
			t.Fatal(err)
		}
		w.now = w.now.Add(12 * time.Hour)
	}
	return s, c.ID, w
}

// What is bad is noticed and asked about, is not used until it is answered,
// and what is asked is settled by its answer.
func TestBadReadingsAreAsked(t *testing.T) {
	at := func(n int, by float64) func(int, time.Time, float64) (time.Time, float64) {
		return func(i int, at time.Time, fast float64) (time.Time, float64) {
			if i == n {
				fast += by
			}
			return at, fast
		}
	}
	for name, c := range map[string]struct {
		change func(int, time.Time, float64) (time.Time, float64)
		about  regulate.Doubtful
		ids    []int
		say    TrialSay
		want   float64 // of the first of them, once answered
	}{
		"half a day":     {at(20, 43200), regulate.HalfDay, []int{21}, SayShift, 20},
		"an hour":        {at(20, -3600), regulate.SummerTime, []int{21}, SayShift, 20},
		"a minute":       {at(20, 60), regulate.WrongMinute, []int{21}, SayShift, 20},
		"a stray":        {at(20, 23), regulate.Stray, []int{21}, SayWrong, 43},
		"hands were set": {func(i int, at time.Time, f float64) (time.Time, float64) { return at, f - 100*float64(min(1, i/14)) }, regulate.SetUnnoted, []int{15}, SaySet, -86},
		"an earlier day": {func(i int, at time.Time, f float64) (time.Time, float64) {
			return at.Add(-48 * time.Hour * time.Duration(btoi(i == 20))), f
		}, regulate.Order, []int{21}, SayWrong, 20},
		"the future": {func(i int, at time.Time, f float64) (time.Time, float64) {
			return at.Add(480 * time.Hour * time.Duration(btoi(i == 20))), f
		}, regulate.Ahead, []int{21}, SayWrong, 20},
		"two in a minute": {func(i int, at time.Time, f float64) (time.Time, float64) {
			return at.Add(-12 * time.Hour * time.Duration(btoi(i == 20))).Add(time.Second * time.Duration(20*btoi(i == 20))), f + 30*float64(btoi(i == 20))
		}, regulate.Disagree, []int{20, 21}, SayWrong, 19},
		"nothing bad here": {func(_ int, at time.Time, f float64) (time.Time, float64) { return at, f }, "", nil, "", 0},
	} {
		t.Run(name, func(t *testing.T) {
			s, id, w := fortnight(t, c.change)
			x := trialOf(t, s, id)
			if r := x.Answer.Rate.Now; !x.Answer.Complete || !r.Has(unit.RatePerDay(2)) || r.Half().PerDay() > 1 {
				t.Errorf("the rate is %+v, want about 2 s a day: what is bad was used", r)
			}
			if c.about == "" {
				if len(x.Questions) > 0 {
					t.Errorf("asked: %+v", x.Questions)
				}
				return
			}
			i := slices.IndexFunc(x.Questions, func(q regulate.Question) bool { return q.About == c.about && slices.Equal(q.Reading, c.ids) })
			if i < 0 {
				t.Fatalf("not asked; but %+v", x.Questions)
			}
			for range 3 { // what one answer settles may lay another open
				x = trialOf(t, s, id)
				if len(x.Questions) == 0 {
					break
				}
				q := x.Questions[0]
				a := TrialAnswer{About: q.About, Readings: q.Reading, From: q.From, Say: c.say}
				if !slices.Contains(Answers(q), c.say) {
					a.Say = Answers(q)[0]
				}
				if q.About == regulate.Disagree {
					a.Which = q.Reading[1]
				}
				if _, err := s.AnswerTrial(t.Context(), "Ada", id, x.Book.Len(), a); err != nil {
					t.Fatal(AsProblem(err), AsProblem(err).Fields)
				}
				w.now = w.now.Add(time.Second)
			}
			x = trialOf(t, s, id)
			if len(x.Questions) > 0 {
				t.Errorf("still asked: %+v", x.Questions)
			}
			k := slices.IndexFunc(x.Query.Readings, func(r regulate.Reading) bool { return r.ID == c.ids[0] })
			if got := float64(x.Query.Readings[k].Error); math.Abs(got-c.want) > 1 {
				t.Errorf("the reading is %g, want %g", got, c.want)
			}
			if r := x.Answer.Rate.Now; !r.Has(unit.RatePerDay(2)) {
				t.Errorf("the rate is %+v after the answer", r)
			}
		})
	}
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}
