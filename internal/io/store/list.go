package store

import (
	"database/sql"
	"fmt"
	"strconv"
	"strings"

	"seatboard/internal/book/job"
)

const summary = `c.id, c.uid, c.number, c.title, c.stage, c.owner_name, c.maker_as_read, c.maker_attributed, c.made_text, c.promise, c.invented, c.touched, c.touch`

// List gives the clocks that stand in the book and whose file has all the
// words (folded by job.Words), the one touched last first, at most limit of
// them after the place that an earlier next named. total counts all found.
func (tx *Tx) List(words []string, after string, limit int) (rows []job.Summary, next string, total int, err error) {
	where, args := []string{`c.removed = ''`}, []any{}
	from := `clock c`
	if len(words) > 0 {
		from += ` JOIN clock_search s ON s.clock_id = c.id`
	}
	for _, w := range words {
		args = append(args, "%"+escapeLike(w)+"%")
		where = append(where, fmt.Sprintf(`s.folded LIKE $%d ESCAPE '\'`, len(args)))
	}
	filter := strings.Join(where, " AND ")
	if err := tx.tx.QueryRowContext(tx.ctx, `SELECT count(*) FROM `+from+` WHERE `+filter, args...).Scan(&total); err != nil {
		return nil, "", 0, fmt.Errorf("store: count: %w", err)
	}
	if touch, err := strconv.ParseInt(after, 10, 64); err == nil {
		args = append(args, touch)
		filter += fmt.Sprintf(` AND c.touch < $%d`, len(args))
	}
	args = append(args, limit+1)
	rows, touches, err := tx.summaries(`SELECT `+summary+` FROM `+from+` WHERE `+filter+fmt.Sprintf(` ORDER BY c.touch DESC LIMIT $%d`, len(args)), args)
	if len(rows) > limit {
		rows, next = rows[:limit], strconv.FormatInt(touches[limit-1], 10)
	}
	return rows, next, total, err
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
		s.Invented, s.Touched = invented != 0, instant(touched)
		rows, touches = append(rows, s), append(touches, touch)
		return err
	})
	return rows, touches, err
}

// Promised lists clocks that are promised and not yet home, the day that
// reads earliest first.
func (tx *Tx) Promised(limit int) ([]job.Summary, error) {
	rows, _, err := tx.summaries(`SELECT `+summary+` FROM clock c WHERE c.removed = '' AND c.promise <> '' AND c.stage <> $1 ORDER BY c.promise, c.touch LIMIT $2`,
		[]any{string(job.GoneHome), limit})
	return rows, err
}

// Numbers lists the numbers that begin with a text, of removed clocks too.
func (tx *Tx) Numbers(prefix string) ([]string, error) {
	var out []string
	err := tx.each(`SELECT number FROM clock WHERE number_key LIKE $1 ESCAPE '\'`, []any{escapeLike(job.NumberKey(prefix)) + "%"}, func(r *sql.Rows) error {
		var n string
		err := r.Scan(&n)
		out = append(out, n)
		return err
	})
	return out, err
}
