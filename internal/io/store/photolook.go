package store

import (
	"errors"
	"fmt"

	"seatboard/internal/book/job"
	"seatboard/internal/book/picture"
)

// PhotoToWrite reads the first photograph of a place with an ID above after
// under which nothing is written yet, and how many there are in all. The
// error is ErrNoPhoto where there is none.
func (tx *Tx) PhotoToWrite(at PhotoPlace, after int64) (p picture.Photo, left int, err error) {
	where, args := at.where()
	where += ` AND caption = ''`
	if err := tx.tx.QueryRowContext(tx.ctx, `SELECT count(*) FROM photo WHERE `+where, args...).Scan(&left); err != nil {
		return p, 0, fmt.Errorf("store: count photographs: %w", err)
	}
	if left == 0 {
		return p, 0, ErrNoPhoto
	}
	args = append(args, after)
	p, err = tx.onePhoto(where+fmt.Sprintf(` AND id > $%d ORDER BY id LIMIT 1`, len(args)), args...)
	return p, left, err
}

// SameViews lists the other photographs that show the same from the same side
// as one, the first received first, at most so many.
func (tx *Tx) SameViews(p picture.Photo, most int) ([]picture.Photo, error) {
	first := p.SameView
	if first == "" {
		first = p.UID
	}
	return tx.photos(`(uid = $1 OR same_view = $1) AND uid <> $2 AND removed = '' ORDER BY id LIMIT $3`, first, p.UID, most)
}

// MainPhoto reads the photograph that stands for a clock: the one that was
// chosen, or else the first. The error is ErrNoPhoto where there is none.
func (tx *Tx) MainPhoto(clock int64) (picture.Photo, error) {
	p, err := tx.onePhoto(`id = (SELECT photo_id FROM main_photo WHERE clock_id = $1) AND clock_id = $1 AND removed = ''`, clock)
	if errors.Is(err, ErrNoPhoto) {
		return tx.onePhoto(`clock_id = $1 AND removed = '' ORDER BY id LIMIT 1`, clock)
	}
	return p, err
}

// SetMainPhoto has a photograph stand for its clock. One in the tray has no
// clock: the error is ErrNoPhoto.
func (tx *Tx) SetMainPhoto(p picture.Photo) error {
	stands, err := tx.Photo(p.ID)
	if err != nil {
		return err
	}
	if stands.ClockID == 0 {
		return ErrNoPhoto
	}
	before := ""
	if was, err := tx.MainPhoto(stands.ClockID); err == nil {
		before = was.UID
	} else if !errors.Is(err, ErrNoPhoto) {
		return err
	}
	err = tx.exec(`INSERT INTO main_photo (clock_id, photo_id) VALUES ($1, $2) ON CONFLICT (clock_id) DO UPDATE SET photo_id = excluded.photo_id`, stands.ClockID, stands.ID)
	if err != nil || before == stands.UID {
		return err
	}
	return tx.photoChanges(stands, []job.Change{{Field: "main", Before: before, After: stands.UID}})
}
