package table

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"seatboard/internal/kit/meas"
)

// TestShapesOfSheets are tables as they come from a spreadsheet: what the clock
// showed beside the true time, years of two figures, days of the week, fast and
// slow in the cells, remarks that say what was done.
func TestShapesOfSheets(t *testing.T) {
	zone, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Skip(err)
	}
	for _, c := range []struct {
		name, file string
		plan       string // the columns that are guessed
		asks       string // what is asked, with Doubt; "" for nothing
		dates      Dates  // as it is answered
		errs       []float64
		touches    int
		first      string
	}{
		{"shows", "True time,Clock shows,Temp °F\n2026-10-12 08:00:00,08:00:04,63\n2026-10-13 20:00:00,7:59:50,62\n", "at shows temperature °F", "", "", []float64{4, -10}, 0, "2026-10-12T06:00:00Z"},
		{"two times", "Date,Time,Clock,Remarks\n2026-10-12,08:00:00,8:00:04,\n2026-10-13,20:00:00,8:00:50,nut up 1/4\n", "date time shows touch", "", "", []float64{4, 50}, 1, "2026-10-12T06:00:00Z"},
		{"two times, the clock first", "Datum;Uhr;Wahre Zeit\n12.10.2026;08:00:04;08:00:00\n26.10.2026;07:59:43;08:00:00\n", "date shows time", "", "", []float64{4, -17}, 0, "2026-10-12T06:00:00Z"},
		{"no name says which", "When,Reading\n2026-10-12 08:00:00,08:00:04\n2026-10-13 08:00:00,08:00:12\n", "at shows", "taken for what the clock showed", "", []float64{4, 12}, 0, "2026-10-12T06:00:00Z"},
		{"over midnight", "When,Hands show\n2026-10-12 23:59:58,0:00:04\n2026-10-13 00:00:03,11:59:59\n", "at shows", "", "", []float64{6, -4}, 0, "2026-10-12T21:59:58Z"},
		{"years of two figures", "5/10/26,4 s fast\n6/10/26,13 s slow\n", "at error s", "either way", ShortDMY, []float64{4, -13}, 0, "2026-10-05T10:00:00Z"},
		{"years of two figures, one way", "Date,Fast\n25/10/26,4\n26/10/26,13\n", "date error s", "2000 to 2099", ShortDMY, []float64{4, 13}, 0, "2026-10-25T11:00:00Z"},
		{"months before days", "Date,Fast\n10/25/26,4\n10/26/26,13\n", "date error s", "2000 to 2099", ShortMDY, []float64{4, 13}, 0, "2026-10-25T11:00:00Z"},
		{"days of the week", "Date,Error\nMon 12 Oct 2026,+4\nmardi 13 octobre 2026,+14\n", "date error s", "", "", []float64{4, 14}, 0, "2026-10-12T10:00:00Z"},
		{"remarks of many kinds", "Date,Error,Remarks\n2026-10-12,4,wound\n2026-10-13,5,fine weather\n", "date error s skip", "tells among other things", "", []float64{4, 5}, 0, "2026-10-12T10:00:00Z"},
		{"remarks of weather", "Date,Error,Remarks\n2026-10-12,4,rain\n2026-10-13,5,fine\n", "date error s skip", "", "", []float64{4, 5}, 0, "2026-10-12T10:00:00Z"},
	} {
		t.Run(c.name, func(t *testing.T) {
			g, err := Look(strings.NewReader(c.file))
			if err != nil {
				t.Fatal(err)
			}
			var plan []string
			for _, m := range g.Plan.Columns {
				plan = append(plan, string(m))
			}
			if got := strings.Join(plan, " "); got != c.plan {
				t.Errorf("columns %s, want %s", got, c.plan)
			}
			asked := ""
			for _, a := range g.Asks {
				if a.Level == meas.Doubt {
					asked += a.Text
				}
			}
			if !strings.Contains(asked, c.asks) || c.asks == "" && asked != "" {
				t.Errorf("asks %q, want %q", asked, c.asks)
			}
			if c.dates != "" && g.Plan.Dates != c.dates {
				t.Errorf("dates %s, want %s", g.Plan.Dates, c.dates)
			}
			got, err := Read(context.Background(), strings.NewReader(c.file), g.Plan, zone, nil)
			if err != nil {
				t.Fatal(err)
			}
			if len(got.Readings) != len(c.errs) || len(got.Touches) != c.touches || got.First.Format(time.RFC3339) != c.first {
				t.Fatalf("%+v", got)
			}
			for i, r := range got.Readings {
				if math.Abs(float64(r.Error)-c.errs[i]) > 1e-9 {
					t.Errorf("reading %d is %v, want %v", i+1, r.Error, c.errs[i])
				}
			}
		})
	}
}

// TestShownNeedsTheTime: what the clock showed tells nothing without the true
// time, and a dial read to the minute has the doubt of it.
func TestShownNeedsTheTime(t *testing.T) {
	read := func(file string, columns ...Meaning) (Table, error) {
		return Read(context.Background(), strings.NewReader(file), Plan{Separator: ',', Heading: true, Columns: columns, Dates: YMD, Zone: "UTC"}, time.UTC, nil)
	}
	_, err := read("date,shows\n2026-10-12,8:00:04\n", Date, Shows)
	var faults meas.Faults
	if !errors.As(err, &faults) || !strings.Contains(faults[0].Text, "no true time of day beside it") {
		t.Errorf("%v", err)
	}
	for file, u := range map[string]float64{"at,shows\n2026-10-12 8:00,8:01\n": 17.3, "at,shows\n2026-10-12 8:00,8:01:00\n": 0} {
		got, err := read(file, At, Shows)
		if err != nil || len(got.Readings) != 1 || got.Readings[0].Error != 60 || math.Abs(got.Readings[0].U-u) > 0.1 {
			t.Errorf("%q: %+v, %v", file, got, err)
		}
	}
	if _, err = read("at,shows,error\n2026-10-12 8:00,8:01,60\n", At, Shows, "error s"); !errors.As(err, &faults) || !strings.Contains(faults[0].Text, "both mean") {
		t.Errorf("what it showed and what it was wrong by: %v", err)
	}
	if _, err = read("date,fast\n2026-10-12,1\n13/10/26,2\n", Date, "error s"); !errors.As(err, &faults) {
		t.Errorf("a year of two figures among four: %v", err)
	}
}
