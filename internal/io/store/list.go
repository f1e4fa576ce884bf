package store

import (
	"database/sql"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"seatboard/internal/book/job"
)

const summary = `id, uid, number, title, stage, owner_name, maker_as_read, maker_attributed, made_text, promise, invented, touched, touch`

// mostRows bounds a page of a list.
const mostRows = 500

// List gives the clocks that stand in the book and whose file has all the
// words (folded by job.Words), the one touched last first, at most limit
// (500) of them after the place that an earlier next named. total counts all
// found; next is "" at the end.
func (tx *Tx) List(words []string, after string, limit int) (rows []job.Summary, next string, total int, err error) {
	before, err := strconv.ParseInt(after, 10, 64)
	if err != nil {
		before = math.MaxInt64
	}
	limit = min(max(limit, 1), mostRows)
	var touches []int64
	if len(words) == 0 {
		rows, touches, total, err = tx.listAll(before, limit+1)
	} else {
		rows, touches, total, err = tx.listFound(words, before, limit+1)
	}
	if len(rows) > limit {
		rows, next = rows[:limit], strconv.FormatInt(touches[limit-1], 10)
	}
	return rows, next, total, err
}

// listAll is a page of all clocks.
func (tx *Tx) listAll(before int64, limit int) (rows []job.Summary, touches []int64, total int, err error) {
	if err := tx.tx.QueryRowContext(tx.ctx, `SELECT count(*) FROM clock WHERE removed = ''`).Scan(&total); err != nil {
		return nil, nil, 0, fmt.Errorf("store: count: %w", err)
	}
	rows, touches, err = tx.summaries(`SELECT `+summary+` FROM clock WHERE removed = '' AND touch < $1 ORDER BY touch DESC LIMIT $2`, []any{before, limit})
	return rows, touches, total, err
}

// listFound is a page of the clocks with all the words. The search text,
// which lies in the order of touching, is read through once: the page, what
// stands before it and what comes after it. That of a removed clock is empty.
func (tx *Tx) listFound(words []string, before int64, limit int) (rows []job.Summary, touches []int64, total int, err error) {
	var page []any
	last := before
	where, args := likes(words)
	where += fmt.Sprintf(` AND touch >= $%d AND touch < $%d`, len(args)+1, len(args)+2)
	args = slices.Clip(args)
	err = tx.each(`SELECT touch FROM clock_search WHERE `+where+fmt.Sprintf(` ORDER BY touch DESC LIMIT %d`, limit), append(args, 0, before), func(r *sql.Rows) error {
		err := r.Scan(&last)
		page = append(page, last)
		return err
	})
	if err != nil {
		return nil, nil, 0, err
	}
	total = len(page)
	for _, span := range [][2]int64{{before, math.MaxInt64}, {0, last}} {
		if span[0] == span[1] || span[1] == last && len(page) < limit {
			continue // nothing is left there
		}
		var n int
		if err := tx.tx.QueryRowContext(tx.ctx, `SELECT count(*) FROM clock_search WHERE `+where, append(args, span[0], span[1])...).Scan(&n); err != nil {
			return nil, nil, 0, fmt.Errorf("store: count: %w", err)
		}
		total += n
	}
	if len(page) == 0 {
		return nil, nil, total, nil
	}
	rows, touches, err = tx.summaries(`SELECT `+summary+` FROM clock WHERE removed = '' AND touch IN (`+places(1, len(page))+`) ORDER BY touch DESC`, page)
	return rows, touches, total, err
}

// likes is the condition that all words stand in the search text, the
// longest, which decides soonest, first.
func likes(words []string) (where string, args []any) {
	words = slices.SortedStableFunc(slices.Values(words), func(a, b string) int { return len(b) - len(a) })
	var terms []string
	for _, w := range words {
		args = append(args, "%"+escapeLike(w)+"%")
		terms = append(terms, fmt.Sprintf(`folded LIKE $%d ESCAPE '\'`, len(args)))
	}
	return strings.Join(terms, " AND "), args
}

// escapeLike takes the meaning from the marks of LIKE.
func escapeLike(s string) string {
	return strings.NewReplacer(`\`, `\\`, `%`, `\%`, `_`, `\_`).Replace(s)
}

func (tx *Tx) summaries(query string, args []any) (rows []job.Summary, touches []int64, err error) {
	err = tx.each(query, args, func(r *sql.Rows) error {
		var s job.Summary
		var asRead, attributed, touched string
		var invented int
		var touch int64
		err := r.Scan(&s.ID, &s.UID, &s.Number, &s.Title, &s.Stage, &s.Owner, &asRead, &attributed, &s.Made, &s.Promise, &invented, &touched, &touch)
		s.Maker = job.Maker{AsRead: asRead, Attributed: attributed}.Name()
		s.Invented, s.Touched, s.Touch = invented != 0, instant(touched), touch
		rows, touches = append(rows, s), append(touches, touch)
		return err
	})
	return rows, touches, err
}

// ListStage gives the clocks of a stage, the one touched last first, at most
// limit (500) of them after the place that an earlier next named; next is ""
// at the end.
func (tx *Tx) ListStage(stage job.Stage, after string, limit int) (rows []job.Summary, next string, err error) {
	before, err := strconv.ParseInt(after, 10, 64)
	if err != nil {
		before = math.MaxInt64
	}
	limit = min(max(limit, 1), mostRows)
	rows, touches, err := tx.summaries(`SELECT `+summary+` FROM clock WHERE removed = '' AND stage = $1 AND touch < $2 ORDER BY touch DESC LIMIT $3`, []any{string(stage), before, limit + 1})
	if len(rows) > limit {
		rows, next = rows[:limit], strconv.FormatInt(touches[limit-1], 10)
	}
	return rows, next, err
}

// TakenOut lists the clocks that were taken out of the book, the one touched
// last first, at most 500.
func (tx *Tx) TakenOut() ([]job.Summary, error) {
	rows, _, err := tx.summaries(`SELECT `+summary+` FROM clock WHERE removed > '' ORDER BY touch DESC LIMIT $1`, []any{mostRows})
	return rows, err
}

// StageCounts tells how many clocks stand at each stage; stages without one
// are left out.
func (tx *Tx) StageCounts() (map[job.Stage]int, error) {
	out := map[job.Stage]int{}
	err := tx.each(`SELECT stage, count(*) FROM clock WHERE removed = '' GROUP BY stage`, nil, func(r *sql.Rows) error {
		var stage string
		var n int
		err := r.Scan(&stage, &n)
		out[job.Stage(stage)] = n
		return err
	})
	return out, err
}

// Promised lists clocks that are promised and not yet home, the earliest day
// first; promises in which no day can be read come last.
func (tx *Tx) Promised(limit int) ([]job.Summary, error) {
	rows, _, err := tx.summaries(`SELECT `+summary+` FROM clock WHERE promise_day <> '' AND removed = '' AND stage <> $1 ORDER BY promise_day, touch LIMIT $2`,
		[]any{string(job.GoneHome), limit})
	return rows, err
}

// Numbers lists the numbers that begin with a text, of removed clocks too.
func (tx *Tx) Numbers(prefix string) ([]string, error) {
	key := job.NumberKey(prefix)
	var out []string
	err := tx.each(`SELECT number FROM clock WHERE number_key >= $1 AND number_key < $2`, []any{key, key + "\U0010FFFF"}, func(r *sql.Rows) error {
		var n string
		err := r.Scan(&n)
		out = append(out, n)
		return err
	})
	return out, err
}
