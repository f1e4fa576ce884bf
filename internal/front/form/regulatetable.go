package form

import (
	"context"
	"slices"
	"strings"
	"time"

	"seatboard/internal/book/trial/table"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
)

// isTable tells a table from lines: its first line has tabs or semicolons in
// it, or begins with no figure, as a line of a trial does, and commas follow.
func isTable(text string) bool {
	heading := false
	n := 0
	for line := range strings.Lines(strings.TrimPrefix(text, "\ufeff")) {
		line = strings.TrimSpace(line)
		if line == "" || line[0] == '#' {
			continue
		}
		if n++; n == 1 {
			heading = line[0] < '0' || line[0] > '9'
		}
		if strings.ContainsAny(line, "\t;") || heading && strings.Contains(line, ",") {
			return true
		}
		if !heading || n > 10 {
			return false
		}
	}
	return false
}

// readTable takes a table by what its beginning looks like; said is what was
// supposed of it. Where something must be asked nobody is there to answer, and
// that is a mistake.
func readTable(ctx context.Context, text string, zone *time.Location, divisions int) (q regulate.Query, said []meas.Finding, err error) {
	g, err := table.Look(strings.NewReader(text))
	if err != nil {
		return q, nil, err
	}
	var asked meas.Faults
	for _, a := range g.Asks {
		switch {
		case slices.Contains(a.About, "dates"):
			asked = append(asked, meas.Fault{Text: "the days can be read as day/month or as month/day; write them like 2026-11-03"})
			continue
		case a.Level == meas.Doubt:
			asked = append(asked, meas.Fault{Text: a.Text + " Write it into the heading, or bring the table in with seatboard readings import"})
			continue
		}
		said = append(said, meas.Finding{Level: meas.Note, Code: "table", Text: a.Text, About: []string{"lines"}})
	}
	if len(asked) > 0 {
		return q, nil, asked
	}
	if g.Plan.Zone == "" {
		g.Plan.Zone = "local"
	}
	g.Plan.Marks = divisions
	t, err := table.Read(ctx, strings.NewReader(text), g.Plan, zone, nil)
	if err != nil {
		return q, nil, err
	}
	q = regulate.Query{Readings: t.Readings, Touches: t.Touches, Air: t.Air}
	for i := range q.Readings {
		q.Readings[i].ID = i + 1
	}
	for i := range q.Touches {
		q.Touches[i].ID = i + 1
	}
	return q, said, nil
}
