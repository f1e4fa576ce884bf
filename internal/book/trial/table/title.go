package table

import (
	"slices"
	"strings"

	"seatboard/internal/kit/meas"
)

// layout finds the line with the names of the columns: skip rows stand above
// it, a title most often, and under rows with units below. Rows without
// anything are not counted.
func layout(rows [][]string) (skip, under int, heading bool) {
	first := slices.IndexFunc(rows, isData)
	if first < 0 {
		return 0, 0, !hasFigures(rows[0])
	}
	best := -1
	for i, row := range rows[:first] {
		if n := namesIn(row); !hasFigures(row) && filled(row) > 1 && n > best {
			skip, best = i, n
		}
	}
	if best < 0 {
		return 0, 0, false
	}
	for _, row := range rows[skip+1 : first] {
		if !isUnits(row) {
			break
		}
		under++
	}
	return skip, under, true
}

// isData tells a row with a day or figures in at least two cells.
func isData(row []string) bool {
	n := 0
	for _, c := range row {
		if hasFigures([]string{c}) {
			n++
		}
	}
	return n > 1
}

func filled(row []string) int {
	n := 0
	for _, c := range row {
		if strings.TrimSpace(c) != "" {
			n++
		}
	}
	return n
}

// namesIn is how many cells of a row are headings that say something.
func namesIn(row []string) int {
	n := 0
	for _, c := range row {
		if meant(c) != "" {
			n++
		}
	}
	return n
}

// moreUnits are words of units that need not be told apart.
var moreUnits = []string{"s", "sec", "secs", "seconds", "sekunden", "secondes", "d", "day", "tag", "jour", "j", "per", "deg", "°", "utc", "ut", "gmt", "local"}

// isUnits tells a row of units below the names.
func isUnits(row []string) bool {
	for _, c := range row {
		for _, w := range strings.FieldsFunc(strings.ToLower(c), func(r rune) bool { return strings.ContainsRune(" /()[].,_", r) }) {
			known := slices.Contains(moreUnits, w)
			for _, all := range unitWords {
				known = known || slices.ContainsFunc(all, func(u [2]string) bool { return u[0] == w })
			}
			for _, all := range otherUnits {
				known = known || slices.Contains(all, w)
			}
			if !known {
				return false
			}
		}
	}
	return filled(row) > 0
}

// head takes the names of the columns, and gives the rows below. What stands
// above them is left out, and that is said.
func (g *Guess) head(rows [][]string) [][]string {
	skip, under, heading := layout(rows)
	if !heading {
		return rows
	}
	g.Plan.Heading, g.Plan.Above, g.Plan.Under = true, skip, under
	copy(g.Names, rows[skip])
	copy(g.heads, rows[skip])
	for _, row := range rows[skip+1 : skip+1+under] {
		for i, c := range row {
			g.heads[i] += " " + c
		}
	}
	if skip > 0 {
		g.ask(meas.Note, "file", "What stands above the line with the names of the columns is left out: “"+meas.Clip(strings.TrimSpace(strings.Join(rows[0], " ")))+"”.")
	}
	return rows[skip+1+under:]
}
