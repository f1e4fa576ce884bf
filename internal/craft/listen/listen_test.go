package listen_test

import (
	"context"
	"math"
	"strings"
	"testing"

	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/culprit"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/craft/listen/synth"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func heard(t *testing.T, r synth.Recipe) beat.Hearing {
	t.Helper()
	rec, err := synth.New(r)
	if err != nil {
		t.Fatal(err)
	}
	e := beat.NewEar(rec, beat.Options{})
	if err := e.Run(context.Background()); err != nil {
		t.Fatal(err)
	}
	return e.Heard()
}

func going(t *testing.T, counts string) train.Query {
	t.Helper()
	q, err := train.Parse(counts)
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// TestFromSoundToTheWheel makes a recording of a clock whose third arbor runs
// out of true, with a known rate and beat error, and wants all of it back.
func TestFromSoundToTheWheel(t *testing.T) {
	q := going(t, "96/8 60/8 56/7 30") // the arbor of the 56 turns once in 480 beats
	r := synth.Recipe{
		Seed: 5, Shape: 6, Length: 3600,
		Clock: synth.Clock{
			Beat: 1, Rate: unit.RatePerDay(-7.3), BeatError: 0.009, ScatterPM: 40e-6, Teeth: 30,
			Arbors: []synth.Arbor{{Amplitude: 150e-6, Beats: 480, Phase: 1}},
		},
		Noise: synth.Noise{SNR: synth.DB(20)},
	}
	a, err := listen.Solve(listen.Query{Train: q, Hearing: heard(t, r), Clock: sampleclock.Clock{How: sampleclock.Stated, Limit: 1e-7}})
	if err != nil {
		t.Fatal(err)
	}
	if !a.Mean.Has(unit.RatePerDay(-7.3)) || a.Mean.Half().PerDay() > 0.5 {
		t.Errorf("rate %s", a.Mean.Text("s/d"))
	}
	if g := a.Going; g == nil || math.Abs(math.Abs(float64(g.BeatError.Value))-0.009) > 3e-4 {
		t.Errorf("beat error %+v", g)
	}
	for _, s := range a.Culprit.Suspects {
		t.Logf("%s %v period %v: %s chance %v %s", s.Part.Name, s.Part.Kind, s.Part.Period, s.Amplitude.Text("µs"), s.Chance, s.Standing)
	}
	top := a.Culprit.Suspects[0]
	if top.Standing != culprit.Found && (top.Standing != culprit.Unlike || top.Chance > 0.01) || math.Abs(top.Part.Beats-480) > 1e-9 || !top.Amplitude.Has(150e-6) {
		t.Errorf("the first suspect is %+v", top)
	}
	found := false
	for _, f := range a.Findings {
		found = found || f.Code == "culprit" && strings.Contains(f.Text, top.Part.Name[1:])
	}
	if !found {
		t.Errorf("no finding names it: %+v", a.Findings)
	}
}

func TestRecorderIsInTheLimits(t *testing.T) {
	r := synth.Recipe{Seed: 1, Shape: 2, Length: 60, Clock: synth.Clock{Beat: 0.5, ScatterPM: 30e-6}, Noise: synth.Noise{SNR: synth.DB(25)}, Recorder: synth.Recorder{ClockError: 40e-6}}
	h := heard(t, r)
	bph := meas.Of(unit.Ratio(7200))
	a, err := listen.Solve(listen.Query{BeatsPerHour: bph, Hearing: h})
	if err != nil {
		t.Fatal(err)
	}
	if !a.Mean.Has(0) || a.Mean.Half().PerDay() < 4.3 || a.Going.Mean.Has(0) {
		t.Errorf("true rate %s, by the recorder %s", a.Mean.Text("s/d"), a.Going.Mean.Text("s/d"))
	}
	a, err = listen.Solve(listen.Query{BeatsPerHour: bph, Hearing: h, Clock: sampleclock.Clock{Error: 40e-6, Limit: 1e-6, How: sampleclock.Calibrated}})
	if err != nil || !a.Mean.Has(0) || a.Mean.Half().PerDay() > 1 {
		t.Errorf("calibrated: %s %v", a.Mean.Text("s/d"), err)
	}
	if !a.PerHour.Has(7200) {
		t.Errorf("beats an hour %+v", a.PerHour)
	}
}

func TestAnotherClock(t *testing.T) {
	h := heard(t, synth.Recipe{Seed: 1, Shape: 2, Length: 30, Clock: synth.Clock{Beat: 0.5, ScatterPM: 20e-6}, Noise: synth.Noise{SNR: synth.DB(25)}})
	a, err := listen.Solve(listen.Query{Train: going(t, "96/8 60/8 56/7 30"), Hearing: h})
	if err != nil || a.Mean.Set || !hasFinding(a, "other-clock") {
		t.Errorf("%v %+v", err, a.Findings)
	}
}

func hasFinding(a listen.Answer, code string) bool {
	for _, f := range a.Findings {
		if f.Code == code {
			return true
		}
	}
	return false
}

func TestNothingHeard(t *testing.T) {
	for _, h := range []beat.Hearing{{}, {Verdict: beat.NoBeat, Why: "Nothing."}, {Verdict: beat.Edited}, {Verdict: beat.Regular}} {
		a, err := listen.Solve(listen.Query{Hearing: h})
		if err != nil || a.Going != nil || a.Mean.Set || len(a.Findings) == 0 {
			t.Errorf("%+v: %v %+v", h, err, a)
		}
	}
}

func TestCheckListsAll(t *testing.T) {
	q := listen.Query{BeatsPerHour: meas.Of(unit.Ratio(3)), Clock: sampleclock.Clock{How: sampleclock.Stated, Limit: -1}}
	if f := q.Check(); len(f) != 2 {
		t.Errorf("%+v", f)
	}
}
