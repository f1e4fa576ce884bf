package store

import (
	"database/sql"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"seatboard/internal/book/job"
	"seatboard/internal/book/parts"
	"seatboard/internal/book/picture"
)

func sortParts(n []parts.Number) { slices.SortFunc(n, parts.Compare) }

// photoClock refuses a clock that is not in the book; 0 is the tray.
func (tx *Tx) photoClock(id int64) error {
	if id == 0 {
		return nil
	}
	_, err := tx.idOf(`id = $1`, id)
	return err
}

// photoArgs is the values of every column but the ID.
func photoArgs(p picture.Photo) ([]any, error) {
	if p.Marks == nil {
		p.Marks = []picture.Mark{}
	}
	marks, err := json.Marshal(p.Marks)
	if err != nil {
		return nil, fmt.Errorf("store: marks: %w", err)
	}
	clock := sql.NullInt64{Int64: p.ClockID, Valid: p.ClockID != 0}
	return []any{p.UID, p.Version, p.SHA256, p.Size, string(p.Kind), p.Name, p.Width, p.Height, p.Orientation, p.Taken, string(p.Small), p.Why,
		stamp(p.Received), p.By, clock, p.Area, string(p.Stage), p.Caption, p.SameView, string(marks), stamp(p.Removed)}, nil
}

// insertPhoto writes a record that is not there yet, and its ID into p.
func (tx *Tx) insertPhoto(p *picture.Photo) error {
	args, err := photoArgs(*p)
	if err != nil {
		return err
	}
	err = tx.tx.QueryRowContext(tx.ctx, `INSERT INTO photo (uid, version, sha256, size_bytes, kind, name, width_px, height_px, orientation, taken, small, why, received, who, clock_id, area, stage, caption, same_view, marks, removed)
VALUES (`+places(1, len(args))+`) RETURNING id`, args...).Scan(&p.ID)
	if err != nil {
		return fmt.Errorf("store: add photograph: %w", err)
	}
	return tx.writePhotoParts(*p)
}

// writePhoto writes over what may change of a photograph.
func (tx *Tx) writePhoto(p picture.Photo) error {
	args, err := photoArgs(p)
	if err != nil {
		return err
	}
	const fixed = 14 // columns before clock_id
	args = append([]any{p.ID, p.Version}, args[fixed:]...)
	err = tx.exec(`UPDATE photo SET version = $2, clock_id = $3, area = $4, stage = $5, caption = $6, same_view = $7, marks = $8, removed = $9 WHERE id = $1`, args...)
	if err != nil {
		return err
	}
	return tx.writePhotoParts(p)
}

func (tx *Tx) writePhotoParts(p picture.Photo) error {
	if err := tx.exec(`DELETE FROM photo_part WHERE photo_id = $1`, p.ID); err != nil {
		return err
	}
	for _, n := range p.Parts {
		if err := tx.exec(`INSERT INTO photo_part (photo_id, part) VALUES ($1, $2) ON CONFLICT DO NOTHING`, p.ID, string(n)); err != nil {
			return err
		}
	}
	return nil
}

// photoChanges notes changes of a photograph in the history of its clock,
// which is touched. One in the tray has no clock and no history.
func (tx *Tx) photoChanges(p picture.Photo, changes []job.Change) error {
	if p.ClockID == 0 {
		return nil
	}
	for i := range changes {
		changes[i].Record, changes[i].Field = photoRecord, p.UID+"."+changes[i].Field
	}
	if err := tx.touchOwner(p.ClockID); err != nil {
		return err
	}
	return tx.addChanges(p.ClockID, changes)
}

// photoWords is a photograph in a line.
func photoWords(p picture.Photo) string {
	words := []string{string(p.Kind), p.Name}
	if len(p.Parts) > 0 {
		words = append(words, "of "+joinParts(p.Parts))
	}
	if p.Caption != "" {
		words = append(words, p.Caption)
	}
	return strings.Join(words, ", ")
}

func joinParts(all []parts.Number) string {
	var out []string
	for _, n := range all {
		out = append(out, string(n))
	}
	return strings.Join(out, " ")
}

// photoDiff lists the fields in which two records of a photograph differ.
func photoDiff(a, b picture.Photo) []job.Change {
	text := func(p picture.Photo) [][2]string {
		p.Parts = slices.Clone(p.Parts)
		sortParts(p.Parts)
		marks, err := json.Marshal(p.Marks)
		if err != nil || len(p.Marks) == 0 {
			marks = nil // what cannot be written was refused by its Check
		}
		clock := ""
		if p.ClockID != 0 {
			clock = fmt.Sprint("file ", p.ClockID)
		}
		return [][2]string{{"clock", clock}, {"parts", joinParts(p.Parts)}, {"area", p.Area}, {"stage", string(p.Stage)},
			{"caption", p.Caption}, {"same_view", p.SameView}, {"marks", string(marks)}}
	}
	var out []job.Change
	to := text(b)
	for i, from := range text(a) {
		if from[1] != to[i][1] {
			out = append(out, job.Change{Record: photoRecord, Field: from[0], Before: from[1], After: to[i][1]})
		}
	}
	return out
}
