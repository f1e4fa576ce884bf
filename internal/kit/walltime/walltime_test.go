package walltime

import (
	"strings"
	"testing"
	"time"
	_ "time/tzdata"
)

func zone(t *testing.T, name string) *time.Location {
	t.Helper()
	z, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return z
}

func TestHours(t *testing.T) {
	for s, want := range map[string]string{"9": "9:00", "9:15": "9:15", "09.15": "9:15", "9:15:30": "9:15:30", "2.30pm": "14:30", "12 am": "0:00", "12:30 p.m.": "12:30", "24:00": "24:00", " 2:30 +02:00 ": "2:30"} {
		if x, wrong := ParseHour(s); wrong != "" || x.String() != want {
			t.Errorf("%q: %s %s", s, x, wrong)
		}
	}
	for _, s := range []string{"", "25", "9:60", "9:5", "13pm", "0am", "24:01", "9:15:60", "nine", "9:15:30:10", strings.Repeat("9", 1000)} {
		if x, wrong := ParseHour(s); wrong == "" || len(wrong) > 200 {
			t.Errorf("%q is read as %s, %s", s, x, wrong)
		}
	}
}

// Hours that came once, never and twice, also where summer time is half an
// hour and where it begins at midnight.
func TestHoursOfADay(t *testing.T) {
	for _, c := range []struct {
		zone, day, hour string
		want            string // UTC; "" for refused
		says            string
	}{
		{"Europe/Berlin", "2026-03-28", "2:30", "2026-03-28T01:30:00Z", ""},
		{"Europe/Berlin", "2026-03-29", "2:30", "", "There was no 2:30 on 2026-03-29"},
		{"Europe/Berlin", "2026-03-29", "3:00:05", "2026-03-29T01:00:05Z", ""},
		{"Europe/Berlin", "2026-10-25", "2:30", "", "write 2:30 +02:00 or 2:30 +01:00"},
		{"Europe/Berlin", "2026-10-25", "2:30:10 +01:00", "2026-10-25T01:30:10Z", ""},
		{"Europe/Berlin", "2026-10-25", "2:30 +05:00", "", "offset"},
		{"Australia/Lord_Howe", "2026-04-05", "1:45", "", "came twice"},
		{"Australia/Lord_Howe", "2026-10-04", "2:15", "", "There was no"},
		{"Africa/Cairo", "2024-04-26", "0:30", "", "There was no"},
		{"UTC", "2026-10-25", "24:00", "2026-10-26T00:00:00Z", ""},
	} {
		z := zone(t, c.zone)
		day, err := time.ParseInLocation(time.DateOnly, c.day, z)
		if err != nil {
			t.Fatal(err)
		}
		x, wrong := ParseHour(c.hour)
		if wrong != "" {
			t.Fatal(wrong)
		}
		got, wrong := x.On(day.Add(12*time.Hour), z)
		if c.want == "" && (wrong == "" || !strings.Contains(wrong, c.says)) || c.want != "" && got.UTC().Format(time.RFC3339) != c.want {
			t.Errorf("%s %s %s: %v %q", c.zone, c.day, c.hour, got.UTC(), wrong)
		}
	}
}

func FuzzParseHour(f *testing.F) {
	for _, s := range []string{"9:15", "2.30pm", "24:00", "2:30 −01:00", "12 a.m.", "☃"} {
		f.Add(s)
	}
	z, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		f.Skip(err)
	}
	day := time.Date(2026, 10, 25, 12, 0, 0, 0, time.UTC)
	f.Fuzz(func(t *testing.T, s string) {
		x, wrong := ParseHour(s)
		if wrong != "" {
			return
		}
		if at, wrong := x.On(day, z); wrong == "" {
			if h, m, sec := at.Clock(); h != x.H%24 || m != x.M || sec != x.S {
				t.Fatalf("%q on the wall is %v", s, at)
			}
		}
	})
}
