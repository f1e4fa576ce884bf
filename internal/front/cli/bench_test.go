package cli

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/parts"
	"seatboard/internal/craft/clean"
	"seatboard/internal/shop"
)

// run carries out a command line on a folder.
func run(t *testing.T, dir string, args ...string) (status int, out, errs string) {
	t.Helper()
	var o, e bytes.Buffer
	status = Run(t.Context(), append(args, "--data", dir), Env{In: strings.NewReader(""), Out: &o, Err: &e, Width: 80})
	return status, o.String(), e.String()
}

// TestBathCommand lists a batch under way and ticks it to its end.
func TestBathCommand(t *testing.T) {
	dir := t.TempDir()
	s, err := shop.Open(t.Context(), dir, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	c, err := s.AddClock(t.Context(), "tester", job.Clock{Number: "2026-014", Promise: "1999-01-02"})
	if err != nil {
		t.Fatal(err)
	}
	d := parts.Detail{Name: "third wheel", Place: "tray 1", Made: []clean.Material{clean.Brass}}
	if _, err := s.RecordPart(t.Context(), "tester", c.ID, "", "", parts.Event{To: parts.Off, Count: 1, Detail: &d}, ""); err != nil {
		t.Fatal(err)
	}
	id, _, err := s.BeginBath(t.Context(), "tester", c.ID, shop.BathAsk{Jar: "blue jar", Parts: []parts.Number{"1"}, Query: clean.Query{Liquid: clean.WaterBath}})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	status, out, errs := run(t, dir, "bath")
	if status != 0 || !strings.Contains(out, id[:6]) || !strings.Contains(out, "2026-014 blue jar") || !strings.Contains(out, "min") {
		t.Fatalf("%d %s %s", status, out, errs)
	}
	if _, out, _ = run(t, dir, "today"); !strings.Contains(out, "In the liquid until") || !strings.Contains(out, "days late") {
		t.Errorf("today: %s", out)
	}
	if _, out, _ = run(t, dir, "parts", "2026-014"); !strings.Contains(out, "third wheel") || !strings.Contains(out, "tray 1") {
		t.Errorf("parts: %s", out)
	}
	if _, out, _ = run(t, dir, "closeout", "2026-014", "--json"); !strings.Contains(out, `"ready_for_trial": false`) || !strings.Contains(out, `"came_off": 1`) {
		t.Errorf("close-out: %s", out)
	}
	if status, _, errs = run(t, dir, "bath", id[:6], "--tick", clean.RinseStep); status != 2 || !strings.Contains(errs, "Bath comes first") {
		t.Errorf("the rinse before the end of the bath: %d %s", status, errs)
	}
	for _, step := range stepKeys() {
		if status, _, errs = run(t, dir, "bath", id[:6], "--tick", step, "--seen", "clean"); status != 0 {
			t.Fatalf("%s: %d %s", step, status, errs)
		}
	}
	_, out, _ = run(t, dir, "bath", "--json")
	var got struct{ Baths []bathLine }
	if err := json.Unmarshal([]byte(out), &got); err != nil || len(got.Baths) != 1 || got.Baths[0].Next != "" || got.Baths[0].In {
		t.Errorf("%v %s", err, out)
	}
}

// TestCleanFitsATerminal: no line of the tables of a batch is wider than 80.
func TestCleanFitsATerminal(t *testing.T) {
	_, out, _ := run(t, t.TempDir(), "clean", "plate: brass; click spring: steel-spring", "--liquid", "water", "--time", "5")
	if !strings.Contains(out, "Part by part") {
		t.Fatal(out)
	}
	for _, l := range strings.Split(out, "\n") {
		if n := len([]rune(l)); n > 80 {
			t.Errorf("%d wide: %s", n, l)
		}
	}
}
