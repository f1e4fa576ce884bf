package table

import (
	"slices"
	"strings"

	"seatboard/internal/book/trial"
	"seatboard/internal/kit/meas"
)

// handWords are words of a column that holds what the clock showed, where
// another column is the true time.
var handWords = []string{"clock", "dial", "hands", "uhr", "zifferblatt", "horloge", "cadran"}

// remarkWords are words of a column in which anything may stand.
var remarkWords = []string{"remark", "remarks", "note", "notes", "comment", "comments", "bemerkung", "bemerkungen", "notiz", "remarque", "remarques"}

// all tells whether there are cells in a column and all of them are such.
func all(rows [][]string, i int, such func(string) bool) bool {
	n := 0
	for _, row := range rows {
		if c := cell(row, i); !absent(c) {
			if n++; !such(c) {
				return false
			}
		}
	}
	return n > 0
}

// shown finds what the clock showed among several times of day, where nothing
// else tells what it was wrong by.
func (g *Guess) shown(rows [][]string, taken map[string]int) {
	if has(taken, anError) || has(taken, aRate) {
		return
	}
	day := slices.IndexFunc(g.Plan.Columns, func(m Meaning) bool { return m == At || m == Date })
	if day < 0 {
		return
	}
	timed := all(rows, day, func(c string) bool { _, t := splitWhen(c); return t != "" })
	var times []int
	for i, m := range g.Plan.Columns {
		if (m == Time || m == Skip) && all(rows, i, func(c string) bool { return strings.Contains(c, ":") && isClock(c) }) {
			times = append(times, i)
		}
	}
	others := 1
	if timed {
		others = 0
	}
	if len(times) != others+1 {
		return
	}
	named := slices.IndexFunc(times, func(i int) bool { return has2(headWord(g.heads[i]), handWords) })
	at := max(named, 0)
	if named < 0 {
		at = others
	}
	clock := times[at]
	g.Asks = slices.DeleteFunc(g.Asks, func(a meas.Finding) bool {
		return slices.ContainsFunc(times, func(i int) bool { return a.About[0] == column(i) })
	})
	delete(taken, string(Time))
	g.Plan.Columns[clock], taken[anError] = Shows, clock
	if timed {
		delete(taken, string(Date))
		g.Plan.Columns[day], taken[string(At)] = At, day
	} else {
		right := times[1-at]
		delete(taken, string(At))
		g.Plan.Columns[day], taken[string(Date)] = Date, day
		g.Plan.Columns[right], taken[string(Time)] = Time, right
	}
	if named < 0 {
		g.ask(meas.Doubt, column(clock), name(g.Names, clock)+" is taken for what the clock showed, and the other time for the true one; see whether they are.")
	}
}

// remarks looks for what was done to the clock in columns of remarks: one in
// which nothing else stands is taken for it.
func (g *Guess) remarks(rows [][]string, taken map[string]int) {
	for i, m := range g.Plan.Columns {
		if m != Skip || has(taken, string(Touch)) || !has2(headWord(g.heads[i]), remarkWords) || g.askedOf(i) {
			continue
		}
		first, done, n := "", 0, 0
		for _, row := range rows {
			c := cell(row, i)
			if absent(c) {
				continue
			}
			n++
			if isTouch(c) {
				if done++; first == "" {
					first = c
				}
			}
		}
		switch {
		case n == 0:
		case done == n:
			g.Plan.Columns[i], taken[string(Touch)] = Touch, i
		case done > 0:
			g.ask(meas.Doubt, column(i), name(g.Names, i)+" tells among other things what was done to the clock, “"+meas.Clip(first)+"”: say touch, and every remark is written down as something done; or skip it, and write down by hand what was.")
		default:
			g.ask(meas.Note, column(i), name(g.Names, i)+" is left out; say touch where it tells what was done to the clock.")
		}
	}
}

// isTouch tells words that begin as a touch does.
func isTouch(c string) bool {
	return slices.Contains(known, strings.ToLower(strings.TrimRight(firstWord(strings.TrimPrefix(c, "'")), ":,.;")))
}

// shown makes what the hands showed an error.
func (in *reading) shown(f *found) {
	if !f.timed {
		in.wrong("", "", "has what the clock showed, and no true time of day beside it")
		f.whole = false
		return
	}
	f.value[anError] = float64(trial.OffBy(*f.shows, f.at, in.zone))
	if _, stated := f.value[aDoubt]; f.coarse && !stated {
		f.value[aDoubt] = float64(trial.ToTheMinute)
	}
}
