package store

import (
	"database/sql"
	"fmt"
	"time"

	"seatboard/internal/book/job"
)

// LastSeen is when a person last did anything that was written down, after
// one instant and up to another; zero where that is nothing. Entries of one
// book do not count: they are what is asked about.
func (tx *Tx) LastSeen(who string, after, until time.Time, but string) (time.Time, error) {
	var at sql.NullString
	err := tx.tx.QueryRowContext(tx.ctx, `SELECT max(at) FROM (
		SELECT max(e.at) AS at FROM log_entry e JOIN log l ON l.id = e.log_id WHERE e.who = $1 AND e.at > $2 AND e.at <= $3 AND l.book <> $4 AND l.touched > $2
		UNION ALL SELECT max(at) FROM change WHERE who = $1 AND at > $2 AND at <= $3
		UNION ALL SELECT max(received) FROM photo WHERE who = $1 AND received > $2 AND received <= $3)`, who, stamp(after), stamp(until), but).Scan(&at)
	if err != nil {
		return time.Time{}, fmt.Errorf("store: last seen: %w", err)
	}
	return instant(at.String), nil
}

// LogsSince lists the logs of a book that were written on at an instant or
// later, the first begun first.
func (tx *Tx) LogsSince(book string, at time.Time) ([]Log, error) {
	return tx.logs(`SELECT `+logColumns+` FROM log WHERE book = $1 AND touched >= $2 ORDER BY id`, book, stamp(at))
}

// HomeLogs lists the logs of a book that are in the files of clocks that have
// gone home, the last begun first, at most so many.
func (tx *Tx) HomeLogs(book string, most int) ([]Log, error) {
	return tx.logs(`SELECT `+logColumns+` FROM log WHERE book = $1 AND clock_id IN (SELECT id FROM clock WHERE stage = $2 AND removed = '') ORDER BY id DESC LIMIT $3`, book, string(job.GoneHome), most)
}
