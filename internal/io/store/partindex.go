package store

import (
	"database/sql"
	"slices"
	"strings"

	"seatboard/internal/book/job"
	"seatboard/internal/book/parts"
)

// FoundPart is a part as it stands, with the clock that it is of.
type FoundPart struct {
	ClockID int64
	Clock   string // the clock's number
	Title   string // what the clock is
	Number  parts.Number
	Name    string
	Place   string
	State   parts.State
	Count   int
}

// Whole is the part's number with the clock's before it.
func (p FoundPart) Whole() string { return p.Number.Of(p.Clock) }

// partLine is what a part is found by, but for its number: all words that are
// written of it, each once. Most shops name and lay parts alike, so that there
// are far fewer lines than parts.
func partLine(p parts.Part) string {
	words := strings.Fields(job.Fold(strings.Join([]string{p.Name, p.Place, p.Way, p.Mark, p.Repair, p.Looked, p.Material, p.Note, p.Reason}, " ")))
	slices.Sort(words)
	return strings.Join(slices.Compact(words), " ")
}

// indexed is a part as it stands in the search, with its line.
type indexed struct {
	line, name, place, state string
	pieces                   int
}

// IndexParts makes a clock's parts findable as they stand in its ledger now:
// all of them. It belongs into the change that writes the ledger.
func (tx *Tx) IndexParts(clock int64, all []parts.Part) error {
	had := map[parts.Number]indexed{}
	err := tx.each(`SELECT p.number, l.folded, p.name, p.place, p.state, p.pieces FROM part_search p JOIN part_line l ON l.id = p.line_id WHERE p.clock_id = $1`, []any{clock}, func(r *sql.Rows) error {
		var n parts.Number
		var x indexed
		err := r.Scan(&n, &x.line, &x.name, &x.place, &x.state, &x.pieces)
		had[n] = x
		return err
	})
	if err != nil {
		return err
	}
	for _, p := range all {
		x := indexed{partLine(p), p.Name, p.Place, string(p.State), p.Count}
		was, there := had[p.Number]
		delete(had, p.Number)
		if there && was == x {
			continue
		}
		if err := tx.indexPart(clock, p.Number, x, there); err != nil {
			return err
		}
	}
	for n := range had {
		if err := tx.unindexPart(clock, n); err != nil {
			return err
		}
	}
	return tx.exec(`DELETE FROM part_unread WHERE clock_id = $1`, clock)
}

func (tx *Tx) unindexPart(clock int64, n parts.Number) error {
	return tx.exec(`DELETE FROM part_search WHERE clock_id = $1 AND number = $2`, clock, string(n))
}

// indexPart puts a part behind all others: it was written of last.
func (tx *Tx) indexPart(clock int64, n parts.Number, x indexed, there bool) error {
	if there {
		if err := tx.unindexPart(clock, n); err != nil {
			return err
		}
	}
	if err := tx.exec(`INSERT INTO part_line (folded) VALUES ($1) ON CONFLICT (folded) DO NOTHING`, x.line); err != nil {
		return err
	}
	return tx.exec(`INSERT INTO part_search (clock_id, number, line_id, name, place, state, pieces) VALUES ($1, $2, (SELECT id FROM part_line WHERE folded = $3), $4, $5, $6, $7)`,
		clock, string(n), x.line, x.name, x.place, x.state, x.pieces)
}

// UnreadParts lists clocks whose ledger was written by a program that kept no
// parts to be found; [Tx.IndexParts] takes them off the list.
func (tx *Tx) UnreadParts(most int) ([]int64, error) {
	return tx.numbersOf(`SELECT clock_id FROM part_unread ORDER BY clock_id LIMIT $1`, most)
}

// numbersOf reads one column of whole numbers.
func (tx *Tx) numbersOf(query string, args ...any) (out []int64, err error) {
	err = tx.each(query, args, func(r *sql.Rows) error {
		var n int64
		err := r.Scan(&n)
		out = append(out, n)
		return err
	})
	return out, err
}
