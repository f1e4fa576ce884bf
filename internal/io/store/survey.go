package store

import (
	"database/sql"
	"encoding/json"
	"fmt"

	"seatboard/internal/book/job"
	"seatboard/internal/kit/meas"
)

// Survey reads the parts of a clock's survey, removed ones among them.
func (tx *Tx) Survey(clock int64) (job.Survey, error) {
	s := job.Survey{}
	err := tx.each(`SELECT part, version, typed, saved, removed FROM survey_part WHERE clock_id = $1`, []any{clock}, func(r *sql.Rows) error {
		var p job.Part
		var key, typed, saved, removed string
		if err := r.Scan(&key, &p.Version, &typed, &saved, &removed); err != nil {
			return err
		}
		p.Saved, p.Removed = instant(saved), instant(removed)
		s[key] = p
		if err := json.Unmarshal([]byte(typed), &p.Values); err != nil {
			return fmt.Errorf("part %s: %w", key, err)
		}
		s[key] = p
		return nil
	})
	return s, err
}

// SavePart keeps a part of the survey as typed. Its Version must be the one
// that is kept, 0 for a part that is not there; if not, the error is a
// *PartConflictError with what stands. A save that changes nothing writes
// nothing.
func (tx *Tx) SavePart(clock int64, key string, p job.Part) (job.Part, error) {
	c, err := tx.Clock(clock)
	if err != nil {
		return p, err
	}
	s, err := tx.Survey(clock)
	if err != nil {
		return p, err
	}
	if f := p.Check(key); len(f) > 0 {
		return p, meas.Faults(f)
	}
	before := s[key]
	if before.Version != p.Version {
		return p, &PartConflictError{Key: key, Stored: before, Yours: p}
	}
	changes := job.DiffPart(key, before, p)
	if len(changes) == 0 && before.Version > 0 {
		return before, nil
	}
	p.Version, p.Saved = p.Version+1, tx.now
	if err := tx.writePart(clock, key, p); err != nil {
		return p, err
	}
	s[key] = p
	if err := tx.touchClock(c, s); err != nil {
		return p, err
	}
	return p, tx.addChanges(clock, changes)
}

func (tx *Tx) writePart(clock int64, key string, p job.Part) error {
	if p.Values == nil {
		p.Values = map[string][]string{}
	}
	typed, err := json.Marshal(p.Values)
	if err != nil {
		return fmt.Errorf("store: part %s: %w", key, err)
	}
	return tx.exec(`INSERT INTO survey_part (clock_id, part, version, typed, saved, removed) VALUES ($1, $2, $3, $4, $5, $6)
ON CONFLICT (clock_id, part) DO UPDATE SET version = excluded.version, typed = excluded.typed, saved = excluded.saved, removed = excluded.removed`,
		clock, key, p.Version, string(typed), stamp(p.Saved), stamp(p.Removed))
}

// Changes lists every change of a clock's file, newest first.
func (tx *Tx) Changes(clock int64) ([]job.Change, error) {
	var out []job.Change
	err := tx.each(`SELECT id, at, who, record, field, before, after FROM change WHERE clock_id = $1 ORDER BY id DESC`, []any{clock}, func(r *sql.Rows) error {
		var c job.Change
		var at string
		err := r.Scan(&c.ID, &at, &c.Who, &c.Record, &c.Field, &c.Before, &c.After)
		c.When = instant(at)
		out = append(out, c)
		return err
	})
	return out, err
}

// addChanges writes changes that are made now by the one who makes them.
func (tx *Tx) addChanges(clock int64, changes []job.Change) error {
	for _, c := range changes {
		c.When, c.Who = tx.now, tx.by
		if err := tx.addChange(clock, c); err != nil {
			return err
		}
	}
	return nil
}

func (tx *Tx) addChange(clock int64, c job.Change) error {
	return tx.exec(`INSERT INTO change (clock_id, at, who, record, field, before, after) VALUES ($1, $2, $3, $4, $5, $6, $7)`,
		clock, stamp(c.When), c.Who, c.Record, c.Field, c.Before, c.After)
}
