package notes

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func at(s string) time.Time {
	t, err := time.Parse("2006-01-02 15:04", s)
	if err != nil {
		panic(err)
	}
	return t
}

const scrap = `
# the regulator of the hall
2026-11-03 09:14   +12 s, 17.5 °C, 1013 hPa
2026-11-04 09:10   1 min 5 s ± 1 s slow by tap
           18:02   +0:14
2026-11-05 nut up 1/2
2026-11-05 18:00   21.5 °C
6 Nov 2026 8.30pm  +3.2 ± 0.1 s/d over 20 min
2026-11-07T12:00:00Z set to +1 s
2026-11-08 07:20   stopped until 2026-11-08 18:30: the weight was down
2026-11-09 10:00   moved: to the other wall       # against the damp
2026-11-09 11:00   tray 0.5 g off
2026-11-09 12:00   right, 55 %, arc 2.1°
`

func TestScrap(t *testing.T) {
	q, err := Parse(scrap, Options{})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, r := range q.Readings {
		got = append(got, fmt.Sprintf("%d %s %s %+.1f ± %.1f", r.ID, r.At.Format("02 15:04"), r.How, float64(r.Error), r.U))
	}
	want := "1 03 09:14 hand +12.0 ± 0.0|2 04 09:10 tap -65.0 ± 1.0|3 04 18:02 hand +14.0 ± 0.0|4 06 20:30 ear +0.0 ± 0.0|5 09 12:00 hand +0.0 ± 0.0"
	if s := strings.Join(got, "|"); s != want {
		t.Errorf("readings\n%s\nwant\n%s", s, want)
	}
	if r := q.Readings[3]; math.Abs(r.Rate.PerDay()-3.2) > 1e-9 || math.Abs(r.U*86400-.1) > 1e-9 || !r.From.Equal(at("2026-11-06 20:10")) {
		t.Errorf("the rate is %+v", r)
	}
	got = nil
	for _, x := range q.Touches {
		got = append(got, fmt.Sprintf("%d %s %s %.2f %.1f %v", x.ID, x.At.Format("02 15:04"), x.Kind, x.Turns, float64(x.Mass)*1000, float64(x.Error)))
	}
	want = "1 05 00:00 nut 0.50 0.0 0|2 07 12:00 set 0.00 0.0 1|3 08 07:20 stopped 0.00 0.0 0|4 09 10:00 moved 0.00 0.0 0|5 09 11:00 tray 0.00 -0.5 0"
	if s := strings.Join(got, "|"); s != want {
		t.Errorf("touches\n%s\nwant\n%s", s, want)
	}
	if x := q.Touches[0]; !x.Until.Equal(at("2026-11-05 18:00")) {
		t.Errorf("the nut was turned before %v, not the line after it", x.Until)
	}
	if x := q.Touches[2]; !x.Until.Equal(at("2026-11-08 18:30")) || x.Words != "the weight was down" {
		t.Errorf("the stop is %+v", x)
	}
	if q.Touches[3].Words != "to the other wall" || !q.Touches[1].HasError {
		t.Errorf("words %q, error %v", q.Touches[3].Words, q.Touches[1].HasError)
	}
	if n := len(q.Air); n != 3 || q.Air[2].Humidity.Value != .55 || math.Abs(q.Air[2].Arc.Value.Degrees()-2.1) > 1e-9 || math.Abs(float64(q.Air[1].Temperature.Value)-294.65) > 1e-9 || q.Air[0].Pressure.Value != 101300 {
		t.Errorf("the air is %+v", q.Air)
	}
}

// A touch without an hour lies between the lines about it, or in its day.
func TestTouchWithoutAnHour(t *testing.T) {
	q, err := Parse("2026-11-03 09:00 +1 s\nnut up 1/4\n12:00 +2 s\nnut down ¼\n2026-11-04 oiled", Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range [][2]string{{"2026-11-03 09:00", "2026-11-03 12:00"}, {"2026-11-03 12:00", "2026-11-04 00:00"}, {"2026-11-04 00:00", "2026-11-05 00:00"}} {
		if x := q.Touches[i]; !x.At.Equal(at(want[0])) || !x.Until.Equal(at(want[1])) {
			t.Errorf("touch %d was made from %v to %v, want %v", i+1, x.At, x.Until, want)
		}
	}
}

// Every faulty line is told at once, by its number.
func TestFaultsAreToldTogether(t *testing.T) {
	_, err := Parse("09:14 +12 s\n2026-11-03 +12 s\n2026-02-30 09:00 +1 s\n2026-11-03 09:00 12 s\n2026-11-03 09:00 nut 1/2\n2026-11-03 25:00 +1 s\n2026-11-03 09:00\n2026-11-03 09:00 +3 s/d\n2026-11-03 09:00 +1 s, 300 °C\n2026-11-03 stopped\n2026-11-03 09:00 polished\n2026-11-03 09:00 +1 s", Options{})
	var faults meas.Faults
	if !errors.As(err, &faults) || len(faults) != 11 {
		t.Fatalf("%d faults: %v", len(faults), err)
	}
	for i, want := range []string{"line 1: ", "needs the hour", "calendar", "fast or slow", "nothing that is done", "hour of the day", "not what", "over 20 min", "room’s", "needs the hour", "nothing that is done"} {
		if !strings.Contains(faults[i].Text, want) || !strings.HasPrefix(faults[i].Text, "line ") {
			t.Errorf("fault %d is %q, want %q", i+1, faults[i].Text, want)
		}
	}
	if _, err := Parse(strings.Repeat("x\n", 500), Options{}); !errors.As(err, &faults) || len(faults) != mostTold+1 {
		t.Errorf("500 faulty lines give %d sentences", len(faults))
	}
}

// An hour that came twice or never is refused, with both ways to write it.
func TestHoursOfAChangeOfTheClocks(t *testing.T) {
	zone, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Skip("no time zones on this machine: ", err)
	}
	for s, want := range map[string]string{"2026-10-25 02:30 +1 s": "came twice", "2026-03-29 02:30 +1 s": "There was no"} {
		if _, err := Parse(s, Options{Zone: zone}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v", s, err)
		}
	}
	q, err := Parse("2026-10-25 02:30 +02:00 +1 s\n2026-10-25 02:30 +01:00 +1 s", Options{Zone: zone})
	if err != nil || q.Readings[1].At.Sub(q.Readings[0].At) != time.Hour {
		t.Errorf("%v, %v", q.Readings, err)
	}
}

// What is written from a trial is read back as it was.
func TestWrittenLinesAreReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var b strings.Builder
		var want regulate.Query
		now := at("2026-11-03 00:00")
		for range rapid.IntRange(1, 30).Draw(t, "lines") {
			now = now.Add(time.Duration(rapid.IntRange(1, 5000).Draw(t, "minutes")) * time.Minute)
			when := now.Format(rapid.SampledFrom([]string{"2006-01-02 15:04", "2006-01-02T15:04Z07:00", "2 January 2006 15:04"}).Draw(t, "layout"))
			if rapid.Bool().Draw(t, "reading") {
				e := rapid.IntRange(-9999, 9999).Draw(t, "tenths")
				want.Readings = append(want.Readings, regulate.Reading{At: now, Error: unit.Duration(float64(e) / 10)})
				fmt.Fprintf(&b, "%s %+.1f s\n", when, float64(e)/10)
				continue
			}
			k := rapid.IntRange(1, 800).Draw(t, "eighths")
			want.Touches = append(want.Touches, regulate.Touch{At: now, Turns: -float64(k) / 8})
			fmt.Fprintf(&b, "%s nut down %d/8\n", when, k)
		}
		got, err := Parse(b.String(), Options{})
		if err != nil {
			t.Fatalf("%v in\n%s", err, b.String())
		}
		for i, r := range want.Readings {
			if g := got.Readings[i]; !g.At.Equal(r.At) || math.Abs(float64(g.Error-r.Error)) > 1e-9 {
				t.Fatalf("reading %d: %+v, want %+v", i, g, r)
			}
		}
		for i, r := range want.Touches {
			if g := got.Touches[i]; !g.At.Equal(r.At) || math.Abs(g.Turns-r.Turns) > 1e-9 {
				t.Fatalf("touch %d: %+v, want %+v", i, g, r)
			}
		}
	})
}

func FuzzParse(f *testing.F) {
	for line := range strings.Lines(scrap) {
		f.Add(line)
	}
	f.Add("2026-11-03 09:00 +1 s\n nut up ½\n+2 s")
	f.Add("1 may 2026 12 am +0:00 ± 1e300 s, 1e400 °C arc ° %")
	f.Fuzz(func(t *testing.T, s string) {
		q, err := Parse(s, Options{Divisions: 60})
		if err != nil {
			var faults meas.Faults
			if !errors.As(err, &faults) || len(faults) == 0 {
				t.Fatalf("the error is %v", err)
			}
			return
		}
		for _, r := range q.Readings {
			v := float64(r.Error) + float64(r.Rate) + r.U
			if r.At.IsZero() || math.IsNaN(v) || math.IsInf(v, 0) || r.U < 0 || !r.From.IsZero() && !r.From.Before(r.At) {
				t.Fatalf("reading %+v", r)
			}
		}
		for _, x := range q.Touches {
			if x.At.IsZero() || math.IsNaN(x.Turns) || math.Abs(x.Turns) > 1000 || !x.Until.IsZero() && !x.Until.After(x.At) {
				t.Fatalf("touch %+v", x)
			}
		}
	})
}

func BenchmarkParse(b *testing.B) {
	var text strings.Builder
	for i := range 8760 {
		fmt.Fprintf(&text, "%s %+.1f s, %.1f °C\n", at("2026-01-01 00:00").Add(time.Duration(i)*time.Hour).Format("2006-01-02 15:04"), float64(i)/7, 15+float64(i%10))
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Parse(text.String(), Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
