package trial

import (
	"math"
	"strings"
	"testing"
	"time"
	_ "time/tzdata"

	"pgregory.net/rapid"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/unit"
)

func TestParseSeen(t *testing.T) {
	for s, want := range map[string]float64{
		"12 s fast": 12, "+12": 12, "-12": -12, "−12": -12, "fast 0:12": 12, "0:12 fast": 12, "slow 1:03": -63, "1 min 3 s slow": -63, "1:02:03 slow": -3723, "fast 12": 12, "Slow 12.5": -12.5,
		"right": 0, "0": 0, "+ 1/2 s": 0.5, "12 ± 1 s slow": -12, "2 min fast": 120, "12s fast": 12, "12 h fast": 43200, "+0:05": 5, "90 slow": -90,
	} {
		if x, wrong := ParseSeen(s); wrong != "" || x.Shown != nil || math.Abs(float64(x.Error)-want) > 1e-9 {
			t.Errorf("%q: %+v %s, want %g", s, x, wrong, want)
		}
	}
	for s, want := range map[string]string{"09:14:12": "9:14:12", "9:14": "9:14", "21:14:12": "21:14:12", "12:05:01": "12:05:01", "3:07pm": "15:07", "0:12:30": "0:12:30"} {
		if x, wrong := ParseSeen(s); wrong != "" || x.Shown == nil || x.Shown.String() != want {
			t.Errorf("%q: %+v %s, want %s", s, x, wrong, want)
		}
	}
	for s, says := range map[string]string{
		"": "Enter", "12": "12 fast or 12 slow", "1 min 3 s": "fast or slow", "0:12": "write 0:12 fast, 0:12 slow or 12:12", "+12 fast": "twice", "-12 slow": "twice", "fast": "cannot be read",
		"99:99 fast": "more than 59", "nine": "cannot be read", "13 h fast": "twelve hours", "9.14": "fast or slow", "25:00": "not an hour", "12 kg fast": "not a length", "--12": "not a length",
	} {
		if x, wrong := ParseSeen(s); !strings.Contains(wrong, says) {
			t.Errorf("%q: %+v %q, want %q", s, x, wrong, says)
		}
	}
	for s, want := range map[string]float64{"12 ± 1 s slow": 1, "12 s fast": 0, "2 min fast": 60 / math.Sqrt(12), "9:14": 60 / math.Sqrt(12), "9:14:12": 0, "2 min 0 s fast": 0, "+12": 0, "0:12 fast": 0} {
		if x, _ := ParseSeen(s); math.Abs(float64(x.U)-want) > 1e-9 {
			t.Errorf("%q: doubt %g, want %g", s, float64(x.U), want)
		}
	}
}

func TestHandsAtAnInstant(t *testing.T) {
	berlin, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		at, shows string
		want      float64
	}{
		{"2026-03-04T08:14:00Z", "9:14:12", 12}, // winter: one hour before Greenwich
		{"2026-07-04T07:14:00Z", "9:14:12", 12}, // summer: two
		{"2026-07-04T07:14:00Z", "8:14:12", 12 - 3600},
		{"2026-03-04T20:14:00Z", "9:14:12", 12}, // in the evening
		{"2026-03-04T22:59:55Z", "12:00:03", 8}, // across midnight
		{"2026-03-04T23:00:05Z", "11:59:58", -7},
		{"2026-03-04T11:00:00Z", "6:00:00", 6 * 3600}, // half of half a day
		{"2026-03-04T08:14:00.25Z", "9:14:00", -0.25},
	} {
		at, err := time.Parse(time.RFC3339, c.at)
		if err != nil {
			t.Fatal(err)
		}
		x, wrong := ParseSeen(c.shows)
		if got := x.At(at, berlin); wrong != "" || math.Abs(float64(got)-c.want) > 1e-6 {
			t.Errorf("%s at %s: %g %s, want %g", c.shows, c.at, float64(got), wrong, c.want)
		}
	}
}

// What the hands of a clock that is wrong by so much show, read back, is that,
// to the second and but for half a day.
func TestHandsReadBack(t *testing.T) {
	berlin, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		at := time.Date(2026, 1, 1, 0, 0, rapid.IntRange(0, 366*86400).Draw(t, "s"), 0, time.UTC)
		off := rapid.IntRange(-6*3600+1, 6*3600).Draw(t, "off")
		h, m, s := at.In(berlin).Clock()
		shows := time.Date(2000, 1, 1, h, m, s+off, 0, time.UTC).Format("3:04:05")
		x, wrong := ParseSeen(shows)
		if got := x.At(at, berlin); wrong != "" || math.Abs(float64(got)-float64(off)) > 1e-9 {
			t.Fatalf("%s at %v is %g, want %d: %s", shows, at, float64(got), off, wrong)
		}
	})
}

func TestParseMoment(t *testing.T) {
	berlin, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	now := time.Date(2026, 10, 25, 9, 30, 0, 0, berlin) // a Sunday, the night the clocks went back
	for s, want := range map[string]string{
		"9:14": "2026-10-25 09:14:00 +01:00", "9:14:30": "2026-10-25 09:14:30 +01:00", "yesterday 17:40": "2026-10-24 17:40:00 +02:00", "2026-10-24 17:40": "2026-10-24 17:40:00 +02:00",
		"2026-10-24T17:40": "2026-10-24 17:40:00 +02:00", "Saturday 9": "2026-10-24 09:00:00 +02:00", "sunday 9:00": "2026-10-25 09:00:00 +01:00", "10 min ago": "2026-10-25 09:20:00 +01:00", "1 d ago": "2026-10-24 10:30:00 +02:00",
		"2:30 +02:00": "2026-10-25 02:30:00 +02:00", "9:30": "2026-10-25 09:30:00 +01:00", "yesterday at 9.30pm": "2026-10-24 21:30:00 +02:00",
	} {
		got, wrong := ParseMoment(s, now, berlin)
		if g := got.In(berlin).Format("2006-01-02 15:04:05 -07:00"); wrong != "" || g != want {
			t.Errorf("%q: %s %s, want %s", s, g, wrong, want)
		}
	}
	for s, says := range map[string]string{
		"17:40": "17:40 today is still to come; write yesterday 17:40, or the day: 2026-10-24 17:40", "2:30": "came twice", "2026-03-29 2:30": "There was no 2:30", "2026-13-01 9": "There is no day",
		"2027-01-01 9:00": "still to come", "soon": "not an hour", "a week ago": "not a length", "99999 wk ago": "not a length",
	} {
		if got, wrong := ParseMoment(s, now, berlin); !strings.Contains(wrong, says) {
			t.Errorf("%q: %v %q, want %q", s, got, wrong, says)
		}
	}
	for _, s := range []string{"", "now", " Now "} {
		if got, wrong := ParseMoment(s, now, berlin); wrong != "" || !got.IsZero() {
			t.Errorf("%q: %v %s", s, got, wrong)
		}
	}
}

func TestParseTouch(t *testing.T) {
	for s, want := range map[string]regulate.Touch{
		"nut up 1/2": {Kind: regulate.NutTurned, Turns: 0.5}, "nut down 12 divisions": {Kind: regulate.NutTurned, Turns: -0.2}, "up a quarter": {Kind: regulate.NutTurned, Turns: 0.25}, "1 1/4 turns down": {Kind: regulate.NutTurned, Turns: -1.25},
		"nut up by half a turn": {Kind: regulate.NutTurned, Turns: 0.5}, "nut 3 div up": {Kind: regulate.NutTurned, Turns: 0.05},
		"tray 2 g on": {Kind: regulate.OnTray, Mass: 0.002}, "tray off 1.5": {Kind: regulate.OnTray, Mass: -0.0015}, "500 mg on the tray": {Kind: regulate.OnTray, Mass: 0.0005}, "tray +2 g": {Kind: regulate.OnTray, Mass: 0.002}, "2 g off": {Kind: regulate.OnTray, Mass: -0.002},
		"set": {Kind: regulate.HandsSet}, "set right": {Kind: regulate.HandsSet, HasError: true}, "Set to 3 s slow": {Kind: regulate.HandsSet, Error: -3, HasError: true}, "started 2 ± 1 s fast": {Kind: regulate.Started, Error: 2, U: 1, HasError: true},
		"stopped": {Kind: regulate.Stopped}, "moved to the Case": {Kind: regulate.Moved, Words: "to the Case"}, "leveled": {Kind: regulate.Levelled}, "oiled": {Kind: regulate.Oiled}, "wound": {Kind: regulate.Wound}, "worked: new suspension": {Kind: regulate.Worked, Words: "new suspension"},
	} {
		got, wrong := ParseTouch(s, 60)
		if wrong != "" || got.Kind != want.Kind || got.Words != want.Words || got.HasError != want.HasError || math.Abs(got.Turns-want.Turns)+math.Abs(float64(got.Mass-want.Mass))+math.Abs(float64(got.Error-want.Error))+math.Abs(float64(got.U-want.U)) > 1e-12 {
			t.Errorf("%q: %+v %s", s, got, wrong)
		}
	}
	for s, says := range map[string]string{
		"": "nothing that is done", "nut up": "how far", "nut up much": "not a part of a turn", "nut up 0": "not a part", "nut up -1": "not a part", "tray 2 m on": "not what lies on a tray", "worked": "what was done",
		"set 9:14:12": "wrong by afterwards", "set soon": "cannot be read", "danced": "nothing that is done",
	} {
		if got, wrong := ParseTouch(s, 60); !strings.Contains(wrong, says) {
			t.Errorf("%q: %+v %q, want %q", s, got, wrong, says)
		}
	}
	if _, wrong := ParseTouch("nut up 12 div", 0); !strings.Contains(wrong, "Survey") {
		t.Error(wrong)
	}
}

func FuzzTyped(f *testing.F) {
	for _, s := range []string{"12 s fast", "fast 0:12", "9:14:12", "1 min 3 s slow", "yesterday 17:40", "nut up 1/2", "tray 2 g on", "+½", "10 min ago", "worked:☃", "set 3 s slow", "0:99:99 fast", "1e308 d ago", "nut up 1e308"} {
		f.Add(s)
	}
	now := time.Date(2026, 10, 25, 9, 30, 0, 0, time.UTC)
	f.Fuzz(func(t *testing.T, s string) {
		x, wrong := ParseSeen(s)
		if e := x.At(now, time.UTC); wrong == "" && (size(e) > 12*3600 || !finite(x.U) || x.U < 0) {
			t.Fatalf("%q gave %g ± %g", s, float64(e), float64(x.U))
		}
		if at, wrong := ParseMoment(s, now, time.UTC); wrong == "" && at.After(now.Add(slack)) {
			t.Fatalf("%q is at %v", s, at)
		}
		touch, wrong := ParseTouch(s, 60)
		touch.At = now
		if e := OfTouch(nil, touch); wrong == "" && len(e.check()) > 0 {
			t.Fatalf("%q gave %+v: %v", s, touch, e.check())
		}
		if len(wrong) > 600 {
			t.Fatalf("%q is told in %d bytes", s, len(wrong))
		}
		if m, wrong := ParseMass(s); wrong == "" && !(m > 0 && m <= mostMass && unit.Mass(1)*m == m) {
			t.Fatalf("%q weighs %g", s, float64(m))
		}
	})
}
