package present

import (
	"strings"
	"testing"

	"seatboard/internal/craft/regulate/stops"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/pic"
	"seatboard/internal/paper/svg"
	"seatboard/internal/paper/text"
)

// stoppedClock is a clock with what its stops say.
func stoppedClock(t *testing.T, told string) stops.Answer {
	t.Helper()
	s, err := stops.ParseTold(told)
	if err != nil {
		t.Fatal(err)
	}
	q, err := train.Parse("96/8 60/8 56/7 30")
	if err != nil {
		t.Fatal(err)
	}
	a, err := stops.Solve(stops.Query{Stops: s.Stops, Train: &q, Strikes: stops.StrikesHours})
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// The documents of stops as a terminal shows them.
func TestStopsGolden(t *testing.T) {
	for file, told := range map[string]string{
		"stops-wheel.txt": "10:49 found 2026-11-02 12:00 wound 2026-11-01 strike at rest; 2:25 found 2026-11-04 08:00 going 2026-11-03 22:00 hands left; 6:01:12 hands +7 min ± 5 s room 12 °C; 9:20 hands left; 11:44 hands left; 12:56 hands left weight 310 mm",
		"stops-two.txt":   "10:49; 2:25",
	} {
		check.Golden(t, file, text.Render(Stops(stoppedClock(t, told)), text.Options{Width: 100, Working: true}))
	}
}

// TestStopRings: every stop is drawn, and nothing leaves the sheet.
func TestStopRings(t *testing.T) {
	many := strings.Repeat("10:49 2:25 6:01 9:13 11:37 3:05 ", 6)
	for _, told := range []string{"10:49 2:25 6:01 9:13 11:37", "1:00 1:00 1:00 1:00", many, "10:49 2:25 hands unknown 6:01 hands left 9:13 hands left 11:37 hands left"} {
		a := stoppedClock(t, told)
		f, ok := stopRings(a)
		if !ok {
			t.Fatalf("%s: nothing is drawn", told)
		}
		for _, p := range []pic.Picture{f.Wide, f.Narrow} {
			circles := 0
			for _, x := range p.Items {
				switch x := x.(type) {
				case pic.Circle:
					if x.R == 5 {
						circles++
					}
					onSheet(t, p, x.C)
				case pic.Text:
					onSheet(t, p, x.P)
				case pic.Line:
					onSheet(t, p, x.A)
					onSheet(t, p, x.B)
				}
			}
			if circles != len(f.Numbers.Rows) {
				t.Errorf("%d marks, %d rows", circles, len(f.Numbers.Rows))
			}
			if !strings.Contains(string(svg.File(p)), "<svg") {
				t.Error("no drawing")
			}
		}
	}
}

func onSheet(t *testing.T, p pic.Picture, at pic.Pt) {
	t.Helper()
	if !(at.X >= 0 && at.X <= p.W && at.Y >= 0 && at.Y <= p.H) {
		t.Errorf("%v is outside a sheet of %v by %v", at, p.W, p.H)
	}
}
