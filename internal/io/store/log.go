package store

import (
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"seatboard/internal/book/ledger"
)

// Log names one log that only grows.
type Log struct {
	Book    string // the kind of log: "parts", "bath", …
	Name    string // which of that kind; unique in its book
	ClockID int64  // whose file it is in; 0 where it is the shop's
	Running bool   // something in it is under way: a bath, a timer
	Entries int    // how many it has
	Touched time.Time
}

// LogConflictError is returned where entries would be put behind others than
// those that were read: someone else has written meanwhile.
type LogConflictError struct {
	Book, Name string
	Read       int // entries that were read
	Stands     int // entries that stand now
}

func (e *LogConflictError) Error() string {
	return fmt.Sprintf("store: log %s %s has %d entries, %d were read", e.Book, e.Name, e.Stands, e.Read)
}

// EntryError is returned where an entry of a log is not what its book keeps:
// the records are damaged, or a newer program wrote them.
type EntryError struct {
	Book, Name string
	N          int
	Cause      error
}

func (e *EntryError) Error() string {
	return fmt.Sprintf("entry %d of log %s %s: %s", e.N, e.Book, e.Name, e.Cause)
}

func (e *EntryError) Unwrap() error { return e.Cause }

const logColumns = `book, name, coalesce(clock_id, 0), running, entries, touched`

// Log reads one log; it is empty where there is none of that name.
func (tx *Tx) Log(book, name string) (Log, error) {
	found, err := tx.logs(`SELECT `+logColumns+` FROM log WHERE book = $1 AND name = $2`, book, name)
	if err != nil || len(found) == 0 {
		return Log{Book: book, Name: name}, err
	}
	return found[0], nil
}

// ClockLogs lists the logs of a book in a clock's file, the first begun
// first.
func (tx *Tx) ClockLogs(clock int64, book string) ([]Log, error) {
	return tx.logs(`SELECT `+logColumns+` FROM log WHERE clock_id = $1 AND book = $2 ORDER BY id`, clock, book)
}

// ShopLogs lists the logs of a book, of all clocks and of the shop, the last
// begun first, at most so many.
func (tx *Tx) ShopLogs(book string, most int) ([]Log, error) {
	return tx.logs(`SELECT `+logColumns+` FROM log WHERE book = $1 ORDER BY id DESC LIMIT $2`, book, most)
}

// RunningLogs lists the logs of a book in which something is under way, the
// first begun first.
func (tx *Tx) RunningLogs(book string) ([]Log, error) {
	return tx.logs(`SELECT `+logColumns+` FROM log WHERE book = $1 AND running = 1 ORDER BY id`, book)
}

func (tx *Tx) logs(query string, args ...any) ([]Log, error) {
	var out []Log
	err := tx.each(query, args, func(r *sql.Rows) error {
		var l Log
		var running int
		var touched string
		if err := r.Scan(&l.Book, &l.Name, &l.ClockID, &running, &l.Entries, &touched); err != nil {
			return err
		}
		l.Running, l.Touched = running != 0, instant(touched)
		out = append(out, l)
		return nil
	})
	return out, err
}

// Entries reads all entries of a log, oldest first.
func Entries[E ledger.Logged](tx *Tx, l Log) ([]E, error) { return EntriesFrom[E](tx, l, 1) }

// EntriesFrom reads the entries of a log from number n on, oldest first.
func EntriesFrom[E ledger.Logged](tx *Tx, l Log, n int) ([]E, error) {
	var out []E
	err := tx.each(`SELECT e.n, e.entry FROM log_entry e JOIN log l ON l.id = e.log_id WHERE l.book = $1 AND l.name = $2 AND e.n >= $3 ORDER BY e.n`,
		[]any{l.Book, l.Name, n}, func(r *sql.Rows) error {
			var n int
			var text string
			if err := r.Scan(&n, &text); err != nil {
				return err
			}
			var e E
			if err := json.Unmarshal([]byte(text), &e); err != nil {
				return &EntryError{l.Book, l.Name, n, err}
			}
			out = append(out, e)
			return nil
		})
	return out, err
}

// Append puts entries at the end of a log, which is begun where it is not
// there yet, and keeps whether something in it is under way. l is the log as
// it was read; the error is [*LogConflictError] where it has grown since, and
// [ErrNotFound] where there is no such clock.
func Append[E ledger.Logged](tx *Tx, l Log, entries ...E) (Log, error) {
	id, err := tx.growLog(l, len(entries))
	if err != nil {
		return l, err
	}
	for _, e := range entries {
		h := e.Head()
		l.Entries++
		if h.N != l.Entries {
			return l, fmt.Errorf("store: log %s %s: entry %d carries the number %d", l.Book, l.Name, l.Entries, h.N)
		}
		text, err := json.Marshal(e)
		if err != nil {
			return l, fmt.Errorf("store: entry: %w", err)
		}
		if err := tx.exec(`INSERT INTO log_entry (log_id, n, at, who, entry) VALUES ($1, $2, $3, $4, $5)`, id, h.N, stamp(h.When), h.Who, string(text)); err != nil {
			return l, err
		}
	}
	l.Touched = tx.now
	return l, tx.touchOwner(l.ClockID)
}

// growLog makes room for so many entries behind those that were read.
func (tx *Tx) growLog(l Log, more int) (id int64, err error) {
	stands := 0
	err = tx.tx.QueryRowContext(tx.ctx, `SELECT id, entries FROM log WHERE book = $1 AND name = $2`, l.Book, l.Name).Scan(&id, &stands)
	switch {
	case err != nil && !errors.Is(err, sql.ErrNoRows):
		return 0, fmt.Errorf("store: find log: %w", err)
	case stands != l.Entries:
		return 0, &LogConflictError{Book: l.Book, Name: l.Name, Read: l.Entries, Stands: stands}
	case err == nil:
		return id, tx.exec(`UPDATE log SET running = $2, entries = $3, touched = $4 WHERE id = $1`, id, number(l.Running), stands+more, stamp(tx.now))
	}
	owner := sql.NullInt64{Int64: l.ClockID, Valid: l.ClockID != 0}
	err = tx.tx.QueryRowContext(tx.ctx, `INSERT INTO log (book, name, clock_id, running, entries, touched) VALUES ($1, $2, $3, $4, $5, $6) RETURNING id`,
		l.Book, l.Name, owner, number(l.Running), more, stamp(tx.now)).Scan(&id)
	if err != nil {
		return 0, fmt.Errorf("store: begin log: %w", err)
	}
	return id, nil
}

// touchOwner marks the clock of a log as touched; 0 is the shop.
func (tx *Tx) touchOwner(clock int64) error {
	if clock == 0 {
		return nil
	}
	c, err := tx.Clock(clock)
	if err != nil {
		return err
	}
	s, err := tx.Survey(clock)
	if err != nil {
		return err
	}
	return tx.touchClock(c, s)
}
