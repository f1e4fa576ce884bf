package regulate

import (
	"encoding/csv"
	"os"
	"strconv"
	"testing"
	"time"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// hongkong is the sidereal clock of the Hongkong Observatory in 1887 (report
// for 1887, p. 436): ten-day rates with temperature and barometer. It was
// stopped and regulated on 7 October.
func hongkong(t *testing.T, declared bool) Query {
	t.Helper()
	f, err := os.Open("../../../../shared/data/rates/hko_sidereal_1887.csv")
	if err != nil {
		t.Skipf("the real rates are not here: %v", err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var q Query
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	for i, r := range rows[1:] {
		from, err1 := time.Parse("2006-01-02", r[0])
		to, err2 := time.Parse("2006-01-02", r[1])
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		q.Readings = append(q.Readings, Reading{ID: i + 1, From: from, At: to, How: Brought, Rate: unit.RatePerDay(number(r[2]))})
		q.Air = append(q.Air, Air{At: from.Add(to.Sub(from) / 2), Temperature: meas.Exactly(unit.Temperature(number(r[5]) + 273.15)), Pressure: meas.Exactly(unit.Pressure(number(r[6]) * 100))})
	}
	if declared {
		q.Touches = []Touch{{ID: 1, At: time.Date(1887, 10, 7, 0, 0, 0, 0, time.UTC), Kind: Worked}}
	}
	return q
}

// TestHongkong: the step of 7 October is found when it was written down, and
// found with its date when it was not; temperature and barometer went together
// and are not told apart.
func TestHongkong(t *testing.T) {
	at := time.Date(1887, 10, 7, 0, 0, 0, 0, time.UTC)
	for _, declared := range []bool{true, false} {
		a, err := Solve(t.Context(), hongkong(t, declared))
		if err != nil || !a.Complete {
			t.Fatal(err, a.Complete)
		}
		if len(a.Steps) != 1 || !a.Steps[0].At.Equal(at) {
			t.Fatalf("declared %v: steps %+v", declared, a.Steps)
		}
		if step := a.Steps[0].Rate; step.Value.PerDay() < 3.8 || step.Value.PerDay() > 4.6 || step.U.PerDay() > 0.4 {
			t.Errorf("declared %v: the step is %s", declared, step.Text("s/d"))
		}
		for _, c := range a.Causes {
			if c.Told || c.Value.Set || len(c.With) != 1 || c.Apart > -0.8 {
				t.Errorf("declared %v: %s is offered: %+v", declared, c.Name, c)
			}
		}
		if len(a.Findings) == 0 || a.Findings[0].Code != "regulate.not-apart" {
			t.Errorf("nobody is warned: %v", a.Findings)
		}
		switch {
		case declared && len(a.Questions) > 0:
			t.Errorf("it asks %v", a.Questions)
		case !declared:
			if len(a.Questions) != 1 || a.Questions[0].About != RateUnnoted || a.Questions[0].From.After(at) || a.Questions[0].Until.Before(at) {
				t.Fatalf("it asks %+v", a.Questions)
			}
			if a.Advice.Do != Settle {
				t.Errorf("it advises %s before the question is answered", a.Advice.Do)
			}
		}
	}
}
