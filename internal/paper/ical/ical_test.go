package ical

import (
	"bytes"
	"regexp"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	ics "github.com/arran4/golang-ical"
	"pgregory.net/rapid"

	"seatboard/internal/kit/check"
)

var made = time.Date(2026, 11, 26, 5, 0, 0, 0, time.UTC)

func written(t interface{ Fatal(...any) }, all ...Reminder) string {
	var b bytes.Buffer
	if err := Write(&b, "Quay Lane Clockroom", made, all); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func samples() []Reminder {
	zone := time.FixedZone("", 3600)
	return []Reminder{
		{UID: "reading-0123456789abcdef", Kind: "reading", At: time.Date(2026, 11, 27, 10, 14, 0, 0, zone), Title: "Read 2026-011 Wall regulator", Words: "At the latest; with none the week begins anew."},
		{UID: "bath-00000000000000aa", Kind: "bath", At: time.Date(2026, 11, 26, 5, 30, 0, 0, time.UTC), Title: "Take the parts out: blue jar; plates, cocks", Early: 2 * time.Minute},
		{UID: "promise-0123456789abcdef", Kind: "promise", At: time.Date(2026, 12, 24, 0, 0, 0, 0, zone), WholeDay: true, Title: "2026-011 is promised for today",
			Words: "“By Christmas, and it shall strike; the dial \\ as it is”\nlonger than a line may be: Übergabe an die Eigentümerin mit Schlüssel, Pendel, Gewichten und dem Blatt der Abnahme", Early: 7 * 24 * time.Hour},
	}
}

func TestGolden(t *testing.T) { check.Golden(t, "reminders.ics", written(t, samples()...)) }

// unfolded undoes the folding of RFC 5545, 3.1.
func unfolded(s string) []string {
	return strings.Split(strings.TrimSuffix(strings.ReplaceAll(s, "\r\n ", ""), "\r\n"), "\r\n")
}

var (
	contentLine = regexp.MustCompile(`^[A-Z0-9-]+(;[A-Z0-9-]+=[^:;,"]+)*:`)
	utcForm     = regexp.MustCompile(`^\d{8}T\d{6}Z$`)
	triggerForm = regexp.MustCompile(`^-?P(\d+D)?(T(\d+H)?(\d+M)?(\d+S)?)?$`)
)

// held holds a file against RFC 5545.
func held(t interface{ Errorf(string, ...any) }, s string, events int) {
	if strings.Count(s, "\n") != strings.Count(s, "\r\n") || strings.Count(s, "\r") != strings.Count(s, "\r\n") {
		t.Errorf("a line does not end with CR LF (3.1)")
	}
	for _, l := range strings.Split(s, "\r\n") {
		if len(l) > 75 {
			t.Errorf("%d octets in a line, 75 are the most (3.1): %q", len(l), l)
		}
		if !utf8.ValidString(l) {
			t.Errorf("a sign is cut in two: %q", l)
		}
	}
	lines := unfolded(s)
	if lines[0] != "BEGIN:VCALENDAR" || lines[len(lines)-1] != "END:VCALENDAR" {
		t.Errorf("not one calendar: %q … %q", lines[0], lines[len(lines)-1])
	}
	for _, l := range lines {
		if !contentLine.MatchString(l) {
			t.Errorf("no content line (3.1): %q", l)
		}
	}
	each := map[string]int{"VERSION:2.0": 1, "PRODID:": 1, "BEGIN:VEVENT": events, "END:VEVENT": events, "UID:": events, "DTSTAMP:": events, "DTSTART": events, "BEGIN:VALARM": events, "END:VALARM": events, "ACTION:DISPLAY": events, "TRIGGER:": events}
	for what, want := range each { // 3.4, 3.6, 3.6.1, 3.6.6
		n := 0
		for _, l := range lines {
			if strings.HasPrefix(l, what) {
				n++
			}
		}
		if n != want {
			t.Errorf("%s stands %d times, want %d", what, n, want)
		}
	}
	for _, l := range lines {
		name, value, _ := strings.Cut(l, ":")
		switch {
		case name == "DTSTAMP" || name == "DTSTART" || name == "DTEND":
			if !utcForm.MatchString(value) {
				t.Errorf("%s is not in UTC (3.3.5)", l)
			}
		case name == "TRIGGER" && !triggerForm.MatchString(value):
			t.Errorf("%s is no duration (3.3.6)", l)
		}
	}
}

func TestHoldsToTheStandard(t *testing.T) { held(t, written(t, samples()...), 3) }

// TestAnyWords: whatever was typed, no line and no property comes of it, and a
// reader has the words back.
func TestAnyWords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := Reminder{UID: "reading-1", Kind: "reading", At: made, Title: rapid.String().Draw(t, "title"), Words: rapid.String().Draw(t, "words"),
			WholeDay: rapid.Bool().Draw(t, "day"), Early: time.Duration(rapid.Int64Range(-1e15, 1e15).Draw(t, "early"))}
		s := written(t, r)
		held(t, s, 1)
		read, err := ics.ParseCalendar(strings.NewReader(s))
		if err != nil || len(read.Events()) != 1 {
			t.Fatalf("%v: %s", err, s)
		}
		if got := read.Events()[0].GetProperty(ics.ComponentPropertySummary); got == nil || strings.Join(strings.Fields(got.Value), " ") != line(r.Title) {
			t.Fatalf("%q came back as %+v", line(r.Title), got)
		}
	})
}

func TestEvilWords(t *testing.T) {
	evil := "x\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nUID:2\r\nATTACH:http://example.invalid/\x00\u2028\\n;,\xff"
	s := written(t, Reminder{UID: evil, Kind: evil, At: made, Title: evil, Words: evil})
	held(t, s, 1)
	if strings.Contains(s, "\r\nATTACH") {
		t.Error(s)
	}
}

func TestTrigger(t *testing.T) {
	for d, want := range map[time.Duration]string{0: "PT0S", -15 * time.Minute: "-PT15M", nine: "PT9H", nine - 7*24*time.Hour: "-P6DT15H", 48 * time.Hour: "P2D", 90 * time.Second: "PT1M30S"} {
		if got := trigger(d); got != want {
			t.Errorf("%v: %s, want %s", d, got, want)
		}
	}
}
