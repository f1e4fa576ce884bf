package seatboard_test

import (
	"encoding/csv"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// recordRow is a line of a table of docs/records.md: its name, its state, and
// where it is met or why not.
var recordRow = regexp.MustCompile(`(?m)^\| (\w+) \| [^|]+ \| ([^|]*) \| ([^|]*) \|$`)

// TestRecordsAreComplete: docs/records.md answers every line that the
// standards ask, once; testdata/record_lines.txt has their names, and the
// tables it was made from must have no others where they are at hand.
func TestRecordsAreComplete(t *testing.T) {
	list, err := os.ReadFile("testdata/record_lines.txt")
	if err != nil {
		t.Fatal(err)
	}
	var want []string
	for _, line := range strings.Split(string(list), "\n") {
		if line != "" && !strings.HasPrefix(line, "#") {
			want = append(want, line)
		}
	}
	text, err := os.ReadFile("docs/records.md")
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, m := range recordRow.FindAllStringSubmatch(string(text), -1) {
		if m[1] == "line" {
			continue
		}
		got = append(got, m[1])
		if !slices.Contains([]string{"met", "partly", "not"}, m[2]) || len(m[3]) < 8 {
			t.Errorf("%s: “%s”, “%s” says neither where nor why not", m[1], m[2], m[3])
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("lines %v\nwant  %v", got, want)
	}
	var tables []string
	for _, name := range []string{"record_acceptance.csv", "objectid_checklist.csv"} {
		f, err := os.Open("../shared/reference/tables/" + name)
		if err != nil {
			t.Logf("%s is not at hand; the list kept here stands alone", name)
			return
		}
		rows, err := csv.NewReader(f).ReadAll()
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range rows[1:] {
			tables = append(tables, r[0])
		}
	}
	if !slices.Equal(tables, want) {
		t.Errorf("the tables have %v\nthe list has %v", tables, want)
	}
}
