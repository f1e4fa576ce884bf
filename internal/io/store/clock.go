package store

import (
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/kit/meas"
)

// column is a column of the table clock and the field it holds.
type column struct {
	name string
	text *string
}

// texts are the text columns, each as typed, in the order of the table.
func texts(c *job.Clock) []column {
	o := &c.Object
	return []column{
		{"number", &c.Number}, {"title", &c.Title}, {"stage", (*string)(&c.Stage)}, {"promise", &c.Promise},
		{"owner_name", &c.Owner.Name}, {"owner_contact", &c.Owner.Contact}, {"owner_note", &c.Owner.Note},
		{"object_type", &o.Type}, {"object_materials", &o.Materials}, {"object_measurements", &o.Measurements},
		{"object_inscriptions", &o.Inscriptions}, {"made_text", &o.Made.Text}, {"made_from", &o.Made.From},
		{"made_to", &o.Made.To}, {"made_certainty", &o.Made.Certainty}, {"maker_as_read", &o.Maker.AsRead},
		{"maker_attributed", &o.Maker.Attributed}, {"maker_role", &o.Maker.Role}, {"object_subject", &o.Subject},
		{"object_title", &o.Title}, {"object_features", &o.Features}, {"object_description", &o.Description},
		{"object_inventory", &o.Inventory}, {"object_writings", &o.Writings}, {"object_place", &o.Place},
		{"object_related", &o.Related}, {"object_documented", &o.Documented},
	}
}

// names lists the text columns, separated by commas.
func names(cols []column) string {
	out := make([]string, len(cols))
	for i, c := range cols {
		out[i] = c.name
	}
	return strings.Join(out, ", ")
}

// Clock reads a clock's record.
func (tx *Tx) Clock(id int64) (job.Clock, error) { return tx.clockWhere(`id = $1`, id) }

// ClockByUID reads the clock with an identifier.
func (tx *Tx) ClockByUID(uid string) (job.Clock, error) { return tx.clockWhere(`uid = $1`, uid) }

// ClockByNumber reads the clock with a number of the shop, however it is
// written.
func (tx *Tx) ClockByNumber(number string) (job.Clock, error) {
	return tx.clockWhere(`number_key = $1`, job.NumberKey(number))
}

// ClocksBetween reads the clocks whose identifier lies between two, those
// included, in their order, at most so many.
func (tx *Tx) ClocksBetween(from, to string, most int) ([]job.Clock, error) {
	var ids []int64
	err := tx.each(`SELECT id FROM clock WHERE uid BETWEEN $1 AND $2 ORDER BY uid LIMIT $3`, []any{from, to, most}, func(r *sql.Rows) error {
		var id int64
		err := r.Scan(&id)
		ids = append(ids, id)
		return err
	})
	if err != nil {
		return nil, err
	}
	var out []job.Clock
	for _, id := range ids {
		c, err := tx.Clock(id)
		if err != nil {
			return nil, err
		}
		out = append(out, c)
	}
	return out, nil
}

func (tx *Tx) clockWhere(where string, arg any) (job.Clock, error) {
	var c job.Clock
	var created, touched, removed string
	var invented int
	cols := texts(&c)
	to := []any{&c.ID, &c.UID, &c.Version, &invented, &created, &touched, &removed}
	for _, t := range cols {
		to = append(to, t.text)
	}
	err := tx.tx.QueryRowContext(tx.ctx, `SELECT id, uid, version, invented, created, touched, removed, `+names(cols)+` FROM clock WHERE `+where, arg).Scan(to...)
	if errors.Is(err, sql.ErrNoRows) {
		return c, ErrNotFound
	}
	if err != nil {
		return c, fmt.Errorf("store: read clock: %w", err)
	}
	c.Invented = invented != 0
	c.Created, c.Touched, c.Removed = instant(created), instant(touched), instant(removed)
	if err := tx.readHolders(&c); err != nil {
		return c, err
	}
	return c, tx.readPieces(&c)
}

// stamp writes an instant, nothing for none.
func stamp(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.UTC().Format("2006-01-02T15:04:05.000Z")
}

// instant reads an instant that stamp wrote.
func instant(s string) time.Time {
	t, _ := time.Parse(time.RFC3339, s) // only stamp writes this column; '' is none
	return t
}

func number(b bool) int {
	if b {
		return 1
	}
	return 0
}

// AddClock takes a clock into the book, without a survey. Its history begins
// with one change; the values it began with are the Before of later ones.
func (tx *Tx) AddClock(c job.Clock) (job.Clock, error) {
	c.Created, c.Removed = tx.now, time.Time{}
	if f := c.Check(); len(f) > 0 {
		return c, meas.Faults(f)
	}
	c, err := job.Settle(job.Clock{}, c, tx.now)
	if err != nil {
		return c, err
	}
	if c, err = tx.insert(c); err != nil {
		return c, err
	}
	return c, tx.addChanges(c.ID, []job.Change{{Record: "clock", Field: job.CreatedField, After: c.Number}})
}

// insert writes a new clock with its lists and its search text.
func (tx *Tx) insert(c job.Clock) (job.Clock, error) {
	if err := tx.freeNumber(c); err != nil {
		return c, err
	}
	if _, err := tx.idOf(`uid = $1`, c.UID); !errors.Is(err, ErrNotFound) {
		return c, errors.Join(err, ErrUIDTaken)
	}
	touch, err := tx.touch()
	if err != nil {
		return c, err
	}
	c.Version, c.Touched = 1, tx.now
	cols := texts(&c)
	args := []any{c.UID, c.Version, touch, job.NumberKey(c.Number), promiseDay(c), number(c.Invented), stamp(c.Created), stamp(c.Touched), stamp(c.Removed)}
	for _, t := range cols {
		args = append(args, *t.text)
	}
	query := `INSERT INTO clock (uid, version, touch, number_key, promise_day, invented, created, touched, removed, ` + names(cols) + `) VALUES (` + places(1, len(args)) + `) RETURNING id`
	if err := tx.tx.QueryRowContext(tx.ctx, query, args...).Scan(&c.ID); err != nil {
		return c, fmt.Errorf("store: add clock: %w", err)
	}
	if err := tx.writeLists(c); err != nil {
		return c, err
	}
	return c, tx.index(c, nil, touch)
}

// freeNumber refuses a number that another clock has.
func (tx *Tx) freeNumber(c job.Clock) error {
	_, err := tx.idOf(`number_key = $1 AND id <> $2`, job.NumberKey(c.Number), c.ID)
	switch {
	case errors.Is(err, ErrNotFound):
		return nil
	case err != nil:
		return err
	}
	return &NumberTakenError{c.Number}
}

// idOf finds a clock; the error is ErrNotFound where there is none.
func (tx *Tx) idOf(where string, args ...any) (id int64, err error) {
	err = tx.tx.QueryRowContext(tx.ctx, `SELECT id FROM clock WHERE `+where, args...).Scan(&id)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return 0, ErrNotFound
	case err != nil:
		return 0, fmt.Errorf("store: find clock: %w", err)
	}
	return id, nil
}

// promiseDay is the promised day as the list of promises is ordered by: one
// that cannot be read comes after all days; it is empty where there is none.
func promiseDay(c job.Clock) string {
	day, ok := c.PromiseDay()
	switch {
	case ok:
		return day.Format(time.DateOnly)
	case strings.TrimSpace(c.Promise) == "":
		return ""
	}
	return "unread"
}

// touch counts the changes of the book; the order of lists comes from it.
func (tx *Tx) touch() (int64, error) {
	var n int64
	err := tx.tx.QueryRowContext(tx.ctx, `UPDATE counter SET value = value + 1 WHERE name = 'touch' RETURNING value`).Scan(&n)
	if err != nil {
		return 0, fmt.Errorf("store: touch: %w", err)
	}
	return n, nil
}

// places is "$1, $2, …" from the first to the last.
func places(first, last int) string {
	out := make([]string, 0, last-first+1)
	for i := first; i <= last; i++ {
		out = append(out, fmt.Sprintf("$%d", i))
	}
	return strings.Join(out, ", ")
}

// SaveClock keeps a changed record. Its Version must be the one that is kept;
// if not, the error is a *ConflictError with what stands. A save that changes
// nothing writes nothing.
func (tx *Tx) SaveClock(c job.Clock) (job.Clock, error) {
	before, err := tx.Clock(c.ID)
	if err != nil {
		return c, err
	}
	c.UID, c.Created = before.UID, before.Created
	if f := c.Check(); len(f) > 0 {
		return c, meas.Faults(f)
	}
	if before.Version != c.Version {
		return c, &ConflictError{Stored: before, Yours: c}
	}
	if c, err = job.Settle(before, c, tx.now); err != nil {
		return c, err
	}
	changes := job.Diff(before, c)
	if len(changes) == 0 {
		return before, nil
	}
	if err := tx.freeNumber(c); err != nil {
		return c, err
	}
	if c, err = tx.update(c); err != nil {
		return c, err
	}
	return c, tx.addChanges(c.ID, changes)
}

func (tx *Tx) update(c job.Clock) (job.Clock, error) {
	touch, err := tx.touch()
	if err != nil {
		return c, err
	}
	c.Version, c.Touched = c.Version+1, tx.now
	args := []any{c.ID, c.Version, touch, job.NumberKey(c.Number), promiseDay(c), number(c.Invented), stamp(c.Touched), stamp(c.Removed)}
	set := []string{"version = $2", "touch = $3", "number_key = $4", "promise_day = $5", "invented = $6", "touched = $7", "removed = $8"}
	for _, t := range texts(&c) {
		args = append(args, *t.text)
		set = append(set, fmt.Sprintf("%s = $%d", t.name, len(args)))
	}
	if err := tx.exec(`UPDATE clock SET `+strings.Join(set, ", ")+` WHERE id = $1`, args...); err != nil {
		return c, err
	}
	if err := tx.writeLists(c); err != nil {
		return c, err
	}
	s, err := tx.Survey(c.ID)
	if err != nil {
		return c, err
	}
	return c, tx.index(c, s, touch)
}

// index keeps the words a clock is found by, each once; a removed clock is
// not found. A word has no white space in it, so that order does not matter.
func (tx *Tx) index(c job.Clock, s job.Survey, touch int64) error {
	folded := ""
	if c.Removed.IsZero() {
		words := strings.Fields(job.SearchText(c, s))
		slices.Sort(words)
		folded = strings.Join(slices.Compact(words), " ")
	}
	return tx.exec(`INSERT INTO clock_search (clock_id, touch, folded) VALUES ($1, $2, $3)
ON CONFLICT (clock_id) DO UPDATE SET touch = excluded.touch, folded = excluded.folded`, c.ID, touch, folded)
}

// touchClock notes that something in a clock's file was changed now.
func (tx *Tx) touchClock(c job.Clock, s job.Survey) error {
	touch, err := tx.touch()
	if err != nil {
		return err
	}
	if err := tx.exec(`UPDATE clock SET touch = $2, touched = $3 WHERE id = $1`, c.ID, touch, stamp(tx.now)); err != nil {
		return err
	}
	return tx.index(c, s, touch)
}
