package shop

import (
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"

	"seatboard/internal/book/readings"
	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/synth"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func known7200(q *listen.Query) { q.BeatsPerHour = meas.Of(unit.Ratio(7200)) }

// heardOf listens to a made clock and keeps it as the store does.
func heardOf(t *testing.T, known func(*listen.Query)) readings.Listening {
	t.Helper()
	r := recipe(120)
	q := listen.Query{Hearing: beat.Hearing{Verdict: beat.Regular, Length: r.Length, Rate: 8000, Beats: synth.Beats(r), Runs: []beat.Run{{To: 120, Heard: 240}}, Complete: true}}
	known(&q)
	a, err := listen.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	l := asked{listen: q}.record(a.Hearing, &a)
	if l.Beats, err = readings.Decode(readings.Encode(a.Hearing.Beats)); err != nil {
		t.Fatal(err)
	}
	return l
}

// TestKeptAnswerIsReadWhole: an answer that was kept is read to the last
// figure, so that it is shown and not reckoned once more.
func TestKeptAnswerIsReadWhole(t *testing.T) {
	for name, known := range map[string]func(*listen.Query){
		"nothing known": func(*listen.Query) {},
		"the beats":     func(q *listen.Query) { q.BeatsPerHour = meas.OfU(unit.Ratio(7200), unit.Ratio(0.5)) },
		"a train by its pendulum": func(q *listen.Query) {
			q.Train, _ = train.Parse("96/8 60/8 ?/7 30")
			q.Train.Pendulum = meas.OfU(unit.Millimetres(248), unit.Millimetres(1))
		},
		"a whole train": func(q *listen.Query) { q.Train, _ = train.Parse("96/8 60/8 56/7 60") },
	} {
		l := heardOf(t, known)
		got, err := Tell(l)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		again, err := json.Marshal(got.Then)
		if err != nil || string(again) != l.Answer {
			t.Errorf("%s: read and written once more it is\n%s\nwas\n%s\n%v", name, again, l.Answer, err)
		}
		if got.Differs || got.Then.Going == nil || len(got.Then.Going.Residuals) != len(l.Beats) {
			t.Errorf("%s: the same program answers otherwise, or without the beats", name)
		}
	}
}

// TestKeptFigureStays: where a newer program reckons otherwise, what was told
// stands, and what it would tell now stands apart.
func TestKeptFigureStays(t *testing.T) {
	l := heardOf(t, func(q *listen.Query) { q.BeatsPerHour = meas.Of(unit.Ratio(7200)) })
	var a listen.Answer
	if err := json.Unmarshal([]byte(l.Answer), &a); err != nil {
		t.Fatal(err)
	}
	a.Mean.Value += unit.RatePerDay(5)
	a.Mean.High += unit.RatePerDay(5)
	a.Findings = slices.Concat(a.Findings, []meas.Finding{{Level: meas.Doubt, Code: "of-old", Text: "This was said then."}})
	b, err := json.Marshal(a)
	if err != nil {
		t.Fatal(err)
	}
	l.Answer = strings.Replace(string(b), `{`, `{"of_another_program":[1],`, 1)
	got, err := Tell(l)
	if err != nil || !got.Differs {
		t.Fatalf("%v: differs %v", err, got.Differs)
	}
	if got.Then.Mean != a.Mean || len(got.Then.Findings) != len(a.Findings) || got.Then.Going.Residuals != nil {
		t.Errorf("what was told then was reckoned once more: %+v", got.Then.Mean)
	}
	if got.Now.Mean == a.Mean || !got.Now.Mean.Set {
		t.Errorf("what is told now is that of then: %+v", got.Now.Mean)
	}
}

func TestAnswersThatCannotBeTold(t *testing.T) {
	if _, err := Tell(readings.Listening{}); !errors.Is(err, ErrNoAnswer) {
		t.Error(err)
	}
	for _, answer := range []string{`[]`, `{"findings":[{"level":"scream"}]}`} {
		if _, err := Tell(readings.Listening{Answer: answer}); err == nil || errors.Is(err, ErrNoAnswer) {
			t.Errorf("%s: %v", answer, err)
		}
	}
	if got, err := Tell(readings.Listening{Answer: `{}`}); err != nil || got.Then.Mean.Set {
		t.Errorf("%+v %v", got, err)
	}
}
