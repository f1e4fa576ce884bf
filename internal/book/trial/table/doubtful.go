package table

import (
	"slices"
	"strings"
	"unicode"

	"seatboard/internal/kit/meas"
)

// doubtful asks about what a heading does not settle, or the cells below it
// gainsay: the sign, the unit, what it is at all.
func (g *Guess) doubtful(rows [][]string) {
	for i := range g.Plan.Columns {
		words := headWord(g.heads[i])
		q, _, number := g.Plan.Columns[i].split()
		says := func(text string) { g.ask(meas.Doubt, column(i), name(g.Names, i)+" "+text) }
		switch {
		case g.Plan.Columns[i] == Skip:
			if m := meant(g.heads[i]); m != "" && m != Skip && !g.askedOf(i) && !fits(m, rows, i) {
				says("is named like “" + m.words() + "”, and what stands below is none; say what it is, or skip it.")
			}
			continue
		case !number:
			continue
		}
		symbol, other := unitIn(q.what, words)
		switch {
		case other != "":
			says("seems to be in “" + other + "”, which is not read; turn it into another unit, or skip it.")
		case (q.what == aRate || q.what == losing) && strings.ContainsFunc(g.heads[i], unicode.IsDigit) && overTime(words):
			says("may be over another time than a day; say its unit, and put the figures right where they are.")
		case minusSide(g.heads[i]):
			says("seems to say which side is negative: is it positive where the clock gains or is fast, or where it loses or is slow? Say error or slow, rate or losing.")
		case has2(words, bothWays) && !has2(words, oneWay):
			says("was written with either sign: is it positive where the clock gains or is fast, or where it loses or is slow? Say error or slow, rate or losing.")
		case symbol == "":
			g.unitless(i, q.what, rows, says)
		}
	}
	g.beyond(rows)
}

// minusSide tells a heading that says which side of right is negative, or that
// one is: "fast −", "slow negative".
func minusSide(head string) bool {
	head = strings.ToLower(strings.NewReplacer("−", "-", "–", "-", "=", " ", ":", " ").Replace(head))
	for _, w := range []string{"negativ", "minus", "négatif", "négative"} {
		if strings.Contains(head, w) {
			return true
		}
	}
	fields := strings.Fields(strings.NewReplacer("(", " ", ")", " ", ",", " ", ";", " ", "/", " ").Replace(head))
	return slices.Contains(fields, "-") || slices.ContainsFunc(fields, func(w string) bool {
		bare := strings.Trim(w, "-")
		return bare != w && (slices.Contains(oneWay, bare) || bare == "gain" || bare == "loss")
	})
}

func has2(words, of []string) bool {
	return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(of, w) })
}

// overTime tells a heading that names a time that its figures are over.
func overTime(words []string) bool {
	return has2(words, []string{"in", "per", "over", "for", "each", "every", "pro", "je", "par"}) && has2(words, []string{"days", "tage", "tagen", "jours", "hours", "h", "weeks"})
}

func (g *Guess) askedOf(i int) bool {
	return slices.ContainsFunc(g.Asks, func(a meas.Finding) bool { return a.About[0] == column(i) })
}

// unitless looks at the figures of a column that names no unit, nor do its
// cells.
func (g *Guess) unitless(i int, what string, rows [][]string, says func(string)) {
	low, high, n := 0.0, 0.0, 0
	for _, row := range rows {
		x, err := number(cell(row, i), g.Plan.Comma)
		if err != nil {
			continue
		}
		if n == 0 {
			low, high = x, x
		}
		low, high, n = min(low, x), max(high, x), n+1
	}
	switch {
	case n == 0:
	case what == temperature && (high > 45 || low > 30):
		says("names no unit, and its figures are not those of a room in °C: is it in °F?")
	case what == pressure && high < 850:
		says("names no unit: is it in hPa, mmHg or inHg?")
	case what == humidity && high <= 1:
		g.Plan.Columns[i] = of(humidity, "")
		g.ask(meas.Note, column(i), name(g.Names, i)+" is taken as parts of one, since no figure is above 1.")
	}
}

// beyond asks about cells that stand to the right of the last name: a decimal
// comma between commas parts one figure in two.
func (g *Guess) beyond(rows [][]string) {
	if !g.Plan.Heading {
		return
	}
	last := len(g.Names)
	for last > 0 && strings.TrimSpace(g.Names[last-1]) == "" {
		last--
	}
	for _, row := range rows {
		for i := last; i < len(row); i++ {
			if !absent(cell(row, i)) {
				g.ask(meas.Doubt, column(i), "There are more cells than names of columns, from "+name(g.Names, i)+" on: are decimal commas parting figures in two? Save the table with semicolons, or say what the column is.")
				return
			}
		}
	}
}

// threeColumns finds a date that stands in three.
func (g *Guess) threeColumns(rows [][]string) {
	find := func(words ...string) int {
		return slices.IndexFunc(g.heads, func(h string) bool { return has2(headWord(h), words) })
	}
	y, m, d := find("year", "jahr", "année", "an"), find("month", "monat", "mois", "mon"), find("day", "tag", "jour", "dom")
	if y < 0 || m < 0 || d < 0 || y == m || m == d || y == d {
		return
	}
	for _, row := range rows {
		if !absent(cell(row, y)) && !isDay(cell(row, y)+"-"+cell(row, m)+"-"+cell(row, d)) && !absent(cell(row, d)) {
			return
		}
	}
	g.Plan.Columns[y], g.Plan.Columns[m], g.Plan.Columns[d] = Year, Month, Date
}
