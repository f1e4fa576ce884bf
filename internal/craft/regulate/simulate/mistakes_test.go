package simulate_test

import (
	"context"
	"os"
	"slices"
	"testing"
	"time"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/craft/regulate/simulate"
)

// watched is a trial of three weeks with a turn of the nut in it.
func watched(seed uint64, k kind, m simulate.Mistakes) *simulate.Clock {
	r := k.draw(seed)
	r.Mistakes = m
	c := simulate.New(r)
	c.Go(c.Now().Add(8 * day))
	c.Turn(0.4)
	c.Go(c.Now().Add(13 * day))
	return c
}

// about tells whether a question is about what was planted.
func about(q regulate.Question, p simulate.Planted) bool {
	if p.Reading != 0 {
		return slices.Contains(q.Reading, p.Reading)
	}
	slack := 2 * day
	return !q.From.IsZero() && p.At.After(q.From.Add(-slack)) && p.At.Before(q.Until.Add(slack))
}

// TestQuestions: clean trials are seldom questioned, and what is wrong and
// matters is asked about.
func TestQuestions(t *testing.T) {
	study := os.Getenv("SEATBOARD_STUDY") != ""
	n := seeds(30)
	k := kind{rod: simulate.Steel, backlash: true, how: regulate.ByHand}
	clean := map[regulate.Doubtful]int{}
	idle := 0
	for _, qs := range each(n, func(seed uint64) []regulate.Question {
		a, err := regulate.Solve(context.Background(), watched(seed, k, simulate.Mistakes{}).Query())
		if err != nil {
			return nil
		}
		return a.Questions
	}) {
		for _, q := range qs {
			clean[q.About]++
			idle++
		}
	}
	if study {
		t.Logf("false questions in %d clean trials: %d %v", n, idle, clean)
	}
	if float64(idle) > max(2, 0.02*float64(n)) {
		t.Errorf("%d questions about %d clean trials: %v", idle, n, clean)
	}
	for _, m := range []struct {
		kind regulate.Doubtful
		m    simulate.Mistakes
		want float64
	}{
		{regulate.HalfDay, simulate.Mistakes{HalfDay: 0.05}, 0.85},
		{regulate.SummerTime, simulate.Mistakes{Summer: 0.05}, 0.85},
		{regulate.WrongMinute, simulate.Mistakes{Minute: 0.05}, 0.85},
		{regulate.Stray, simulate.Mistakes{Stray: 0.05}, 0.5},
		{regulate.SetUnnoted, simulate.Mistakes{Set: 0.05}, 0.5},
		{regulate.RateUnnoted, simulate.Mistakes{Turned: 0.05}, 0.3},
	} {
		planted, asked, named := found(n, k, m.m)
		if study {
			t.Logf("%s: planted %d, asked about %d, by that name %d", m.kind, planted, asked, named)
		}
		if planted < 5 || float64(asked) < m.want*float64(planted) {
			t.Errorf("%s: planted %d, asked about %d, wanted %v of them", m.kind, planted, asked, m.want)
		}
	}
}

// found counts what was planted and asked about, at least a day before the
// end.
func found(n int, k kind, m simulate.Mistakes) (planted, asked, named int) {
	type count struct{ planted, asked, named int }
	for _, o := range each(n, func(seed uint64) (o count) {
		c := watched(seed+500, k, m)
		a, err := regulate.Solve(context.Background(), c.Query())
		if err != nil {
			return o
		}
		for _, p := range c.Planted() {
			if c.Now().Sub(p.At) < 24*time.Hour {
				continue
			}
			o.planted++
			mine := func(q regulate.Question) bool { return about(q, p) }
			if slices.ContainsFunc(a.Questions, mine) {
				o.asked++
			}
			if slices.ContainsFunc(a.Questions, func(q regulate.Question) bool { return mine(q) && q.About == p.Kind }) {
				o.named++
			}
		}
		return o
	}) {
		planted, asked, named = planted+o.planted, asked+o.asked, named+o.named
	}
	return planted, asked, named
}
