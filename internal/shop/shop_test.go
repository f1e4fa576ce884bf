package shop

import (
	"bytes"
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/craft/drive"
	"seatboard/internal/craft/pendulum"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func at(day int) func() time.Time {
	return func() time.Time { return time.Date(2026, 11, day, 9, 0, 0, 0, time.Local) }
}

func open(t *testing.T) *Shop {
	t.Helper()
	s, err := Open(t.Context(), t.TempDir(), at(25))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

func add(t *testing.T, s *Shop, c job.Clock) job.Clock {
	t.Helper()
	kept, err := s.AddClock(t.Context(), "tester", c)
	if err != nil {
		t.Fatal(err)
	}
	return kept
}

func TestSurveyLends(t *testing.T) {
	q, err := train.Parse("96/8 60/8 56/7 30")
	if err != nil {
		t.Fatal(err)
	}
	q.Trains[0].BarrelTurns = meas.Of(unit.Ratio(16))
	p := pendulum.Query{Length: meas.OfU(unit.Millimetres(994), unit.Millimetres(1)), Latitude: meas.Of(unit.Deg(51.5))}
	d := drive.Query{WeightMass: meas.Of(unit.Mass(5.5)), BarrelDiameter: meas.Of(unit.Millimetres(50)), LineDiameter: meas.Of(unit.Millimetres(1.4)), Falls: 2}
	a := WorkSurvey(t.Context(), Survey{Train: &q, Pendulum: &p, Drive: &d})
	if a.TrainErr != nil || a.PendulumErr != nil || a.DriveErr != nil {
		t.Fatal(a.TrainErr, a.PendulumErr, a.DriveErr)
	}
	check.Near(t, "gravity lent to the train", float64(a.Train.Gravity.Value), float64(pendulum.NormalGravity(unit.Deg(51.5), 0)), 1e-9)
	check.Near(t, "beats lent to the pendulum", float64(a.Pendulum.BeatsPerHour.Value), 3600, 1e-9)
	check.Near(t, "running time by the lent turns", float64(a.Drive.Fall.RunningTime.Value), 8*86400, 1e-6)
	want := math.Pi * 51.4e-3 * 16 / 2
	check.Near(t, "fall", float64(a.Drive.Fall.Total.Value), want, 1e-9)
	if len(a.TrainLent) != 2 || len(a.PendulumLent) != 1 || len(a.DriveLent) < 4 {
		t.Errorf("what was lent is not all said: %q %q %q", a.TrainLent, a.PendulumLent, a.DriveLent)
	}
}

func TestSurveyKeepsWhatWasTyped(t *testing.T) {
	q, err := train.Parse("96/8 60/8 56/7 30")
	if err != nil {
		t.Fatal(err)
	}
	p := pendulum.Query{Beats: meas.Of(unit.Ratio(5400)), Length: meas.Of(unit.Millimetres(994))}
	a := WorkSurvey(t.Context(), Survey{Train: &q, Pendulum: &p})
	check.Near(t, "typed beats", float64(a.Pendulum.BeatsPerHour.Value), 5400, 1e-9)
	clash := false
	for _, f := range a.Pendulum.Findings {
		clash = clash || f.Level == meas.Clash
	}
	if !clash || len(a.PendulumLent) != 0 {
		t.Errorf("typed beats and length do not agree, and that was not named: %v", a.Pendulum.Findings)
	}
}

func TestSurveyOfPartsAlone(t *testing.T) {
	a := WorkSurvey(t.Context(), Survey{})
	if a.Train != nil || a.Pendulum != nil || a.Drive != nil {
		t.Error("an empty survey has an answer")
	}
	bad := pendulum.Query{Length: meas.Of(unit.Length(-1))}
	a = WorkSurvey(t.Context(), Survey{Pendulum: &bad, Drive: &drive.Query{}})
	var faults meas.Faults
	if !errors.As(a.PendulumErr, &faults) || a.Drive == nil {
		t.Errorf("a mistake in one part must not hide the others: %v %v", a.PendulumErr, a.Drive)
	}
}

func TestPromises(t *testing.T) {
	s := open(t)
	for number, promise := range map[string]string{"1": "2026-11-25", "2": "2026-11-26", "3": "2026-12-05", "4": "2026-11-24", "5": "2026-11-01", "6": "before the winter", "7": ""} {
		add(t, s, job.Clock{Number: number, Promise: promise})
	}
	today, err := s.Today(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, p := range today.Promised {
		got = append(got, p.Clock.Number+" "+p.Words)
	}
	want := "5 24 days late, 4 a day late, 1 today, 2 tomorrow, 3 in 10 days, 6 no day set"
	if strings.Join(got, ", ") != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if today.Empty || len(today.Stages) != 1 || today.Stages[0].Total != 7 || len(today.Stages[0].Clocks) != stageShown {
		t.Errorf("stages %+v", today.Stages)
	}
}

func TestImportGivesTheNextNumber(t *testing.T) {
	from, to := open(t), open(t)
	c := add(t, from, job.Clock{Number: "2026-001", Title: "Lantern clock"})
	var file bytes.Buffer
	if err := from.Export(t.Context(), c.ID, &file); err != nil {
		t.Fatal(err)
	}
	add(t, to, job.Clock{Number: "2026-001", Title: "Another"})
	kept, err := to.Import(t.Context(), "tester", bytes.NewReader(file.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	if kept.Clock.Number != "2026-002" || kept.Clock.Title != "Lantern clock" || kept.Clock.UID != c.UID {
		t.Errorf("got %+v", kept)
	}
	_, err = to.Import(t.Context(), "tester", &file)
	if p := AsProblem(err); p.Code != Conflict || !strings.Contains(p.Message, "2026-002") {
		t.Errorf("the same clock twice: %v", err)
	}
}

func TestProblems(t *testing.T) {
	s := open(t)
	if _, err := s.File(t.Context(), 99); AsProblem(err).Code != NotFound {
		t.Errorf("an unknown clock: %v", err)
	}
	if _, err := s.AddClock(t.Context(), "x", job.Clock{}); AsProblem(err).Code != BadInput || len(AsProblem(err).Fields) == 0 {
		t.Errorf("a clock without a number: %v", err)
	}
	secret := errors.New("disk sector 7")
	if p := AsProblem(secret); p.Code != Internal || strings.Contains(p.Message+p.Hint, "sector") {
		t.Errorf("an unknown error must not be shown: %+v", p)
	}
	if _, err := Open(t.Context(), t.TempDir()+"/Dropbox/shop", at(25)); AsProblem(err).Code != Storage {
		t.Errorf("a cloud folder: %v", err)
	}
}

func TestEveryChapterHasSourcesAndChecks(t *testing.T) {
	for _, c := range Chapters() {
		if len(c.Entries) == 0 || len(c.Checks) == 0 {
			t.Errorf("%s lists nothing", c.Title)
		}
		check.All(t, c.Checks)
		for _, e := range c.Entries {
			if e.Ref.String() == "" {
				t.Errorf("%s: %s has no source", c.Title, e.Name)
			}
		}
	}
}
