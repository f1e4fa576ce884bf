package store_test

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"seatboard/internal/book/job"
	"seatboard/internal/io/store"
	"seatboard/internal/io/store/storetest"
)

// section is the text of docs/data-format.md under a heading.
func section(t *testing.T, heading string) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "..", "..", "docs", "data-format.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, after, ok := strings.Cut(string(b), "\n"+heading+"\n")
	if !ok {
		t.Fatalf("there is no %q in docs/data-format.md", heading)
	}
	mark := heading[:strings.IndexByte(heading, ' ')+1]
	if i := strings.Index(after, "\n"+mark); i >= 0 {
		after = after[:i]
	}
	if i := strings.Index(after, "\n## "); i >= 0 {
		after = after[:i]
	}
	return after
}

// TestDocumentedTables compares the page with the tables, column by column.
func TestDocumentedTables(t *testing.T) {
	dir := t.TempDir()
	open(t, dir, store.Options{})
	db, err := store.Connect(filepath.Join(dir, store.DBName), store.Live)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	rows, err := db.Query(`SELECT m.name, c.name FROM sqlite_schema m JOIN pragma_table_info(m.name) c
WHERE m.type = 'table' AND m.name NOT LIKE 'sqlite%' AND m.name NOT LIKE 'goose%' ORDER BY m.name, c.cid`)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	tables := map[string][]string{}
	for rows.Next() {
		var table, column string
		if err := rows.Scan(&table, &column); err != nil {
			t.Fatal(err)
		}
		tables[table] = append(tables[table], column)
	}
	if err := rows.Err(); err != nil || len(tables) < 7 {
		t.Fatalf("%d tables, %v", len(tables), err)
	}
	for table, columns := range tables {
		var named []string
		for line := range strings.Lines(section(t, "### "+table)) {
			if !strings.HasPrefix(line, "| `") {
				continue
			}
			first, _, _ := strings.Cut(line[2:], "|")
			for _, name := range strings.Split(first, ",") {
				named = append(named, strings.Trim(name, " `"))
			}
		}
		if !slices.Equal(named, columns) {
			t.Errorf("%s: the page has\n%v, the table\n%v", table, named, columns)
		}
	}
}

// TestDocumentedClock brings the example of the page in and writes it again.
func TestDocumentedClock(t *testing.T) {
	_, text, _ := strings.Cut(section(t, "## One clock as JSON"), "```json\n")
	text, _, ok := strings.Cut(text, "```")
	if !ok {
		t.Fatal("there is no example")
	}
	f, err := job.Decode(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	var again bytes.Buffer
	if err := job.Encode(&again, f); err != nil || again.String() != text {
		t.Errorf("it is not as it is written: %v\n%s", err, again.String())
	}
	s := open(t, t.TempDir(), store.Options{})
	update(t, s, func(tx *store.Tx) (err error) { f.Clock, err = tx.ImportClock(f); return err })
	same(t, s, f.Clock, withVersion(f.Survey, 1))
}

// TestDocumentedBeats runs the page's program over the page's example, so
// that beats can be read without Seatboard.
func TestDocumentedBeats(t *testing.T) {
	python, err := exec.LookPath("python3")
	if err != nil {
		t.Skip("there is no python3: the program on the page was not run")
	}
	page := section(t, "## One clock as JSON")
	_, program, _ := strings.Cut(page, "```python\n")
	program, _, _ = strings.Cut(program, "```")
	_, example, _ := strings.Cut(page, "```json\n")
	example, _, _ = strings.Cut(example, "```")
	f, err := job.Decode(strings.NewReader(example))
	if err != nil || len(f.Listenings) == 0 || len(f.Listenings[0].Beats) < 3 {
		t.Fatalf("the example has no beats: %v", err)
	}
	f.Listenings = append(f.Listenings, storetest.Listening(3000, 5))
	var file, want, stderr bytes.Buffer
	if err := job.Encode(&file, f); err != nil {
		t.Fatal(err)
	}
	for _, l := range f.Listenings {
		for _, b := range l.Beats {
			fmt.Fprintln(&want, math.Round(float64(b.At)*1e9), math.Round(float64(b.U)*1e9), b.N, b.Run)
		}
	}
	c := exec.Command(python, "-I", "-c", program)
	c.Stdin, c.Stderr = &file, &stderr
	out, err := c.Output()
	if err != nil {
		t.Fatal(err, stderr.String())
	}
	wants := strings.Fields(want.String())
	for i, got := range strings.Fields(string(out)) {
		if g, w := number(got), number(wants[min(i, len(wants)-1)]); g != w {
			t.Fatalf("figure %d: %v, want %v", i, g, w)
		}
	}
	if len(strings.Fields(string(out))) != len(wants) {
		t.Errorf("%d figures, want %d", len(strings.Fields(string(out))), len(wants))
	}
}

func number(s string) float64 {
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return math.NaN()
	}
	return x
}
