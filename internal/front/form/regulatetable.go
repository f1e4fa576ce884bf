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

// isTable tells a table from lines: its first line is a heading, or it has
// tabs or semicolons in it.
func isTable(text string) bool {
	for line := range strings.Lines(strings.TrimPrefix(text, "\ufeff")) {
		line = strings.TrimSpace(line)
		if line == "" || line[0] == '#' {
			continue
		}
		heading := line[0] < '0' || line[0] > '9'
		return strings.ContainsAny(line, "\t;") || heading && strings.Contains(line, ",")
	}
	return false
}

// readTable takes a table by what its beginning looks like; said is what was
// supposed of it. Where days can be read in two ways nobody is there to be
// asked, and that is a mistake.
func readTable(ctx context.Context, text string, zone *time.Location, divisions int) (q regulate.Query, said []meas.Finding, err error) {
	g, err := table.Look(strings.NewReader(text))
	if err != nil {
		return q, nil, err
	}
	for _, a := range g.Asks {
		if slices.Contains(a.About, "dates") {
			return q, nil, meas.Faults{{Text: "the days can be read as day/month or as month/day; write them like 2026-11-03"}}
		}
		said = append(said, meas.Finding{Level: meas.Note, Code: "table", Text: a.Text, About: []string{"lines"}})
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
