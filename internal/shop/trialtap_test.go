package shop

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/readings"
	"seatboard/internal/book/trial"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/craft/regulate/tap"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// The doubt of the recorder's clock is told apart from the rest of that of a
// rate that was heard; the two together are what was told then.
func TestEarReading(t *testing.T) {
	perDay := unit.RatePerDay
	l := readings.Listening{Started: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC), Length: 600, Clock: sampleclock.Clock{Limit: perDay(1.96)}}
	l.Gist.Mean = meas.Interval[unit.Rate]{Value: perDay(3), U: perDay(math.Hypot(1, 0.5)), Set: true}
	r, why := EarReading(l)
	if why != "" || math.Abs(r.U*86400-0.5) > 1e-9 || math.Abs(r.Clock.PerDay()-1) > 1e-9 || r.At.Sub(r.From) != 10*time.Minute || r.How != regulate.ByEar {
		t.Errorf("%+v %s", r, why)
	}
	for _, wrong := range []func(*readings.Listening){
		func(l *readings.Listening) { l.Gist.Mean.Set = false }, func(l *readings.Listening) { l.Started = time.Time{} },
		func(l *readings.Listening) { l.Length = 0 }, func(l *readings.Listening) { l.Removed = l.Started },
	} {
		x := l
		wrong(&x)
		if _, why := EarReading(x); why == "" {
			t.Errorf("%+v is taken for a reading", x)
		}
	}
}

// What the clock was lately wrong by tells which minute was tapped, unless its
// hands were set since.
func TestTapsKnowTheMinute(t *testing.T) {
	w := &wall{now: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)}
	s := timedShop(t, t.TempDir(), w)
	c := add(t, s, job.Clock{Number: "1"})
	if _, err := s.AddTrial(t.Context(), "Ada", c.ID, 0, read(w.now, 75)); err != nil {
		t.Fatal(err)
	}
	w.now = w.now.Add(time.Hour)
	ask := TapAsk{Way: tap.Seconds, Every: 60, U: 0.001, Blows: -1}
	for i := range 4 {
		ask.Taps = append(ask.Taps, time.Date(2026, 3, 4, 9, 59+i, 60-18, 110e6, time.UTC)) // 18 s or 78 s fast
	}
	got, err := s.LookTaps(t.Context(), c.ID, ask)
	if err != nil || math.Abs(float64(got.Answer.Error.Value)-78) > 0.01 || len(got.Events) != 1 {
		t.Fatalf("%s, %v", got.Answer.Error.Text("s"), err)
	}
	set := regulate.Touch{At: w.now.Add(-time.Minute * 5), Kind: regulate.HandsSet}
	if _, err := s.AddTrial(t.Context(), "Ada", c.ID, 0, trial.OfTouch(nil, set)); err != nil {
		t.Fatal(err)
	}
	if got, err = s.LookTaps(t.Context(), c.ID, ask); err != nil || math.Abs(float64(got.Answer.Error.Value)-18) > 0.01 {
		t.Errorf("%s, %v", got.Answer.Error.Text("s"), err)
	}
	ask.Shown = "10:01:00"
	if got, err = s.LookTaps(t.Context(), c.ID, ask); err != nil || math.Abs(float64(got.Answer.Error.Value)-78) > 0.01 {
		t.Errorf("%s, %v", got.Answer.Error.Text("s"), err)
	}
}

// Tables that wait are few, for their own clock, and not for ever.
func TestTablesAreHeldAWhile(t *testing.T) {
	w := &wall{now: time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)}
	s := timedShop(t, t.TempDir(), w)
	var ids []string
	for range mostTables + 1 {
		h, err := s.HoldTable(7, "a.csv", strings.NewReader("at,error\n2026-03-04 09:00,1\n"))
		if err != nil {
			t.Fatal(err)
		}
		ids = append(ids, h.ID)
		w.now = w.now.Add(time.Second)
	}
	if _, err := s.HeldTable(7, ids[0]); AsProblem(err).Code != Gone {
		t.Errorf("the oldest is held on: %v", err)
	}
	if _, err := s.HeldTable(8, ids[3]); AsProblem(err).Code != Gone {
		t.Errorf("it is held for another clock: %v", err)
	}
	if h, err := s.HeldTable(7, ids[3]); err != nil || h.Name != "a.csv" {
		t.Errorf("%+v, %v", h, err)
	}
	w.now = w.now.Add(2 * time.Hour)
	if _, err := s.HeldTable(7, ids[3]); AsProblem(err).Code != Gone {
		t.Errorf("it is held for ever: %v", err)
	}
	if _, err := s.HoldTable(7, "big.csv", bytes.NewReader(make([]byte, 17<<20))); AsProblem(err).Code != TooLarge {
		t.Errorf("17 MB: %v", err)
	}
}
