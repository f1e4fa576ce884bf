package store

import (
	"database/sql"

	"seatboard/internal/book/job"
)

func (tx *Tx) readHolders(c *job.Clock) error {
	return tx.each(`SELECT n, name, from_when, to_when, how, removed FROM holder WHERE clock_id = $1 ORDER BY place, n`, []any{c.ID}, func(r *sql.Rows) error {
		var h job.Holder
		var removed string
		err := r.Scan(&h.N, &h.Name, &h.From, &h.To, &h.How, &removed)
		h.Removed = instant(removed)
		c.Holders = append(c.Holders, h)
		return err
	})
}

func (tx *Tx) readPieces(c *job.Clock) error {
	return tx.each(`SELECT n, what, how_many, note, received, removed FROM piece WHERE clock_id = $1 ORDER BY place, n`, []any{c.ID}, func(r *sql.Rows) error {
		var p job.Piece
		var received int
		var removed string
		err := r.Scan(&p.N, &p.What, &p.Count, &p.Note, &received, &removed)
		p.Received, p.Removed = received != 0, instant(removed)
		c.Pieces = append(c.Pieces, p)
		return err
	})
}

// writeLists keeps holders and pieces in their order. Rows are never taken
// out: what left the list is in it, marked removed.
func (tx *Tx) writeLists(c job.Clock) error {
	for i, h := range c.Holders {
		err := tx.exec(`INSERT INTO holder (clock_id, n, place, name, from_when, to_when, how, removed) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)
ON CONFLICT (clock_id, n) DO UPDATE SET place = excluded.place, name = excluded.name, from_when = excluded.from_when, to_when = excluded.to_when, how = excluded.how, removed = excluded.removed`,
			c.ID, h.N, i, h.Name, h.From, h.To, h.How, stamp(h.Removed))
		if err != nil {
			return err
		}
	}
	for i, p := range c.Pieces {
		err := tx.exec(`INSERT INTO piece (clock_id, n, place, what, how_many, note, received, removed) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)
ON CONFLICT (clock_id, n) DO UPDATE SET place = excluded.place, what = excluded.what, how_many = excluded.how_many, note = excluded.note, received = excluded.received, removed = excluded.removed`,
			c.ID, p.N, i, p.What, p.Count, p.Note, number(p.Received), stamp(p.Removed))
		if err != nil {
			return err
		}
	}
	return nil
}
