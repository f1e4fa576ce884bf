package table

import (
	"bytes"
	"errors"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"seatboard/internal/kit/meas"
)

// Guess is what the beginning of a file looks like.
type Guess struct {
	Plan  Plan
	Names []string       // of the columns, "" where there is no heading
	Rows  [][]string     // the first, without the heading
	Asks  []meas.Finding // what the beginning does not tell; About names the field
	heads []string       // Names with the units that stand below them
}

// shownRows is how many rows a guess has.
const shownRows = 8

// sample is how much of a file is looked at.
const sample = 1 << 16

var errEmpty = meas.Faults{{Field: "file", Text: "There is nothing in this table"}}

// Look guesses what a file is from its beginning. The error is ErrNotText,
// ErrTooLarge, meas.Faults, or that of r.
func Look(r io.Reader) (Guess, error) {
	t, err := text(r)
	if err != nil {
		return Guess{}, err
	}
	head := make([]byte, sample)
	n, err := io.ReadFull(t, head)
	head = head[:n]
	if err == nil { // cut at a whole line
		if i := bytes.LastIndexByte(head, '\n'); i > 0 {
			head = head[:i]
		}
	} else if err != io.EOF && err != io.ErrUnexpectedEOF {
		return Guess{}, err
	}
	if bytes.IndexByte(head, 0) >= 0 {
		return Guess{}, ErrNotText
	}
	g := Guess{Plan: Plan{Separator: separatorOf(head), Zone: "local", Dates: YMD}}
	rows := some(head, g.Plan.Separator)
	if len(rows) == 0 {
		return Guess{}, errEmpty
	}
	width := 0
	for _, row := range rows {
		width = max(width, len(row))
	}
	if width > maxCols {
		return Guess{}, meas.Faults{{Field: "file", Text: "This table has more than 64 columns; leave out those that are not wanted"}}
	}
	g.Names, g.heads = make([]string, width), make([]string, width)
	rows = g.head(rows)
	g.Rows = rows[:min(len(rows), shownRows)]
	g.columns(rows, width)
	g.dates(rows)
	g.marks(rows)
	g.doubtful(rows)
	return g, nil
}

// separatorOf is the sign that parts most lines alike. Where a tab or a
// semicolon parts nearly all of them alike it is that: commas may be decimal.
func separatorOf(head []byte) rune {
	best, most := ',', 0
	for _, sep := range []rune{'\t', ';', ',', '|'} {
		rows := some(head, sep)
		counts := map[int]int{}
		for _, row := range rows {
			counts[len(row)]++
		}
		for width, n := range counts {
			if (sep == '\t' || sep == ';') && width > 1 && n > 1 && 10*n >= 9*len(rows) {
				return sep
			}
			if width > 1 && n*min(width, 12) > most {
				best, most = sep, n*min(width, 12)
			}
		}
	}
	return best
}

// some reads up to 200 rows of a beginning; lines that cannot be read are left
// out, and so are empty ones.
func some(head []byte, separator rune) [][]string {
	c := cells(bytes.NewReader(head), separator)
	c.ReuseRecord = false
	var out [][]string
	for range 400 {
		row, err := c.Read()
		if errors.Is(err, io.EOF) || len(out) == 200 {
			break
		}
		if err == nil && strings.TrimSpace(strings.Join(row, "")) != "" {
			out = append(out, row)
		}
	}
	return out
}

// hasFigures tells whether a row holds a number or a date.
func hasFigures(row []string) bool {
	for _, c := range row {
		c = strings.TrimSpace(c)
		if _, err := number(c, true); err == nil {
			return true
		}
		if d, _ := splitWhen(c); d != "" {
			if _, _, ok := numbersOf(d); ok {
				return true
			}
		}
	}
	return false
}

// columns guesses what each means, by its heading and then by what is in it.
func (g *Guess) columns(rows [][]string, width int) {
	taken := map[string]int{}
	put := func(i int, m Meaning) {
		if j, twice := taken[m.group()]; twice && m != Skip {
			level, say := meas.Note, " seem to be the same; the first is taken."
			if m.group() == anError || m.group() == aRate { // minutes and seconds apart, fast and slow apart, as found and as corrected
				level, say = meas.Doubt, " both seem to be what the clock was wrong by, or its rate; say which it is, and skip the other."
			}
			g.ask(level, column(i), name(g.Names, j)+" and "+name(g.Names, i)+say)
			m = Skip
		}
		if m != Skip {
			taken[m.group()] = i
		}
		g.Plan.Columns[i] = m
	}
	g.Plan.Columns = make([]Meaning, width)
	if g.threeColumns(rows); slices.Contains(g.Plan.Columns, Year) {
		taken[string(Date)] = slices.Index(g.Plan.Columns, Date)
	}
	for i := range width {
		if m := meant(g.heads[i]); m != "" && g.Plan.Columns[i] == "" && fits(m, rows, i) {
			put(i, m)
		}
	}
	g.byContent(rows, put, taken)
	for i, m := range g.Plan.Columns {
		switch {
		case m == "":
			g.Plan.Columns[i] = Skip
		case m == Date && !has(taken, string(Time)) && has(taken, string(At)):
			g.Plan.Columns[i] = Skip
		}
	}
	g.onlyOne(rows, taken)
	g.shown(rows, taken)
	g.remarks(rows, taken)
}

func has(taken map[string]int, group string) bool { _, ok := taken[group]; return ok }

// byContent looks at the columns whose heading tells nothing.
func (g *Guess) byContent(rows [][]string, put func(int, Meaning), taken map[string]int) {
	for i, m := range g.Plan.Columns {
		if m != "" {
			continue
		}
		date, clock, figure, said, n := 0, 0, 0, 0, 0
		for _, row := range rows {
			c := cell(row, i)
			if absent(c) {
				continue
			}
			n++
			d, t := splitWhen(c)
			switch {
			case isDay(d):
				date++
			case t == "" && strings.Count(c, ":") > 0 && isClock(c):
				clock++
			default:
				if _, err := number(c, true); err == nil {
					figure++
				} else if saysWhich(c) {
					said++
				}
			}
		}
		anything := has(taken, anError) || has(taken, aRate)
		switch {
		case n == 0:
		case date == n && has(taken, string(At)) && !has(taken, string(From)) && !has(taken, string(Date)):
			put(taken[string(At)], Skip)
			delete(taken, string(At))
			put(i, At)
			for j := range i {
				if g.Plan.Columns[j] == Skip && isDay(first(splitWhen(cell(rows[0], j)))) {
					put(j, From)
					break
				}
			}
		case date == n && !has(taken, string(At)) && !has(taken, string(Date)):
			put(i, At)
		case clock == n && !has(taken, string(Time)) && (has(taken, string(Date)) || has(taken, string(At))):
			if j, ok := taken[string(At)]; ok {
				delete(taken, string(At))
				put(j, Date)
			}
			put(i, Time)
		case said == n && !anything:
			put(i, of(anError, "s"))
		case figure == n && !anything && strings.TrimSpace(g.Names[i]) == "":
			if has(taken, string(From)) {
				put(i, of(aRate, "s/d"))
			} else {
				put(i, of(anError, "s"))
			}
			g.ask(meas.Doubt, column(i), name(g.Names, i)+" is taken for what the clock was wrong by or its rate; see whether it is.")
		}
	}
}

// saysWhich tells a cell that says fast or slow behind its figure.
func saysWhich(c string) bool {
	_, err := quantityOf(c, quantities[0], "s", true)
	return err == nil && slices.ContainsFunc(words(c), func(w string) bool { return slices.Contains([]string{"fast", "ahead", "slow", "behind"}, w) })
}

func first(a, _ string) string { return a }

func cell(row []string, i int) string {
	if i >= len(row) {
		return ""
	}
	return strings.TrimSpace(row[i])
}

func isDay(s string) bool {
	for _, o := range Orders() {
		if _, err := parseDay(s, o); err == nil {
			return true
		}
	}
	return false
}

func isClock(s string) bool { _, err := parseClock(s); return err == nil }

// fits tells whether most cells of a column could be what its heading says.
func fits(m Meaning, rows [][]string, i int) bool {
	q, symbol, ok := m.split()
	n, good := 0, 0
	for _, row := range rows {
		c := cell(row, i)
		if absent(c) {
			continue
		}
		n++
		switch {
		case ok:
			if _, err := quantityOf(c, q, symbol, true); err == nil {
				good++
			}
		case strings.HasPrefix(string(m), "at "):
			if t, err := counted(c, strings.TrimPrefix(string(m), "at ")); err == nil && t.Year() >= 1650 && t.Year() < 2200 {
				good++
			}
		case m == At || m == From || m == Date:
			if isDay(first(splitWhen(c))) {
				good++
			}
		case m == Time || m == Shows:
			if isClock(c) {
				good++
			}
		default:
			good++
		}
	}
	return 2*good >= n
}

// onlyOne leaves a rate out where the error stands beside it.
func (g *Guess) onlyOne(rows [][]string, taken map[string]int) {
	e, ok := taken[anError]
	r, both := taken[aRate]
	if !ok || !both {
		return
	}
	for _, row := range rows {
		if !absent(cell(row, e)) && !absent(cell(row, r)) {
			g.Plan.Columns[r] = Skip
			g.ask(meas.Note, column(r), name(g.Names, r)+" is left out: a rate that was worked out from the errors would count twice.")
			return
		}
	}
}

// dates finds the order of day and month, and asks where the file does not
// tell it.
func (g *Guess) dates(rows [][]string) {
	can := map[Dates]bool{}
	for _, o := range Orders() {
		can[o] = true
	}
	dots := false
	for i, m := range g.Plan.Columns {
		if m != At && m != From && m != Date || slices.Contains(g.Plan.Columns, Year) {
			continue
		}
		for _, row := range rows {
			d, _ := splitWhen(cell(row, i))
			if absent(d) {
				continue
			}
			dots = dots || strings.Contains(d, ".")
			for o := range can {
				if _, err := parseDay(d, o); err != nil {
					can[o] = false
				}
			}
		}
	}
	switch {
	case can[YMD]:
		g.Plan.Dates = YMD
	case can[DMY] && can[MDY] && dots:
		g.Plan.Dates = DMY
	case can[DMY] && can[MDY]:
		g.Plan.Dates = DMY
		g.ask(meas.Doubt, "dates", "The dates can be read as day/month or as month/day; say which.")
	case can[MDY]:
		g.Plan.Dates = MDY
	case can[DMY] || !can[ShortDMY] && !can[ShortMDY]:
		g.Plan.Dates = DMY
	default:
		g.Plan.Dates = ShortDMY
		if !can[ShortDMY] {
			g.Plan.Dates = ShortMDY
		}
		either := ""
		if can[ShortDMY] && can[ShortMDY] {
			either = ", and day and month can be read either way"
		}
		g.ask(meas.Doubt, "dates", "The years have two figures and are taken as 2000 to 2099"+either+"; say how the dates are written.")
	}
}

// marks finds the decimal mark.
func (g *Guess) marks(rows [][]string) {
	comma, point := 0, 0
	for i, m := range g.Plan.Columns {
		if _, _, ok := m.split(); !ok {
			continue
		}
		for _, row := range rows {
			c := cell(row, i)
			dot, com := strings.LastIndexByte(c, '.'), strings.LastIndexByte(c, ',')
			switch {
			case com > dot && !thousands(strings.ReplaceAll(c, "−", "-")):
				comma++
			case dot > com:
				point++
			case com > dot:
				comma += 0
			}
		}
	}
	g.Plan.Comma = comma > point || comma+point == 0 && g.Plan.Separator == ';'
}

func column(i int) string { return "column-" + strconv.Itoa(i+1) }

func (g *Guess) ask(level meas.Level, about, text string) {
	g.Asks = append(g.Asks, meas.Finding{Level: level, Code: "guess", Text: text, About: []string{about}})
}

// zoneOf is the plan's zone; it was checked.
func (p Plan) zoneOf(local *time.Location) *time.Location {
	z, err := ParseZone(p.Zone, local)
	if err != nil {
		return time.UTC
	}
	return z
}
