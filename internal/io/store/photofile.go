package store

import (
	"errors"
	"fmt"

	"seatboard/internal/book/picture"
	"seatboard/internal/kit/meas"
)

// ClockPhotos lists all photographs in a clock's file, those in the bin too,
// the first received first.
func (tx *Tx) ClockPhotos(clock int64) ([]picture.Photo, error) {
	return tx.photos(`clock_id = $1 ORDER BY id`, clock)
}

// ChosenPhoto reads the photograph that was chosen for a clock. The error is
// ErrNoPhoto where none was.
func (tx *Tx) ChosenPhoto(clock int64) (picture.Photo, error) {
	return tx.onePhoto(`id = (SELECT photo_id FROM main_photo WHERE clock_id = $1) AND clock_id = $1`, clock)
}

// importPhotos keeps the records of a clock's photographs as they were kept
// then; main is the UID of the one that was chosen. Their files are elsewhere
// but where the very file is here already.
func (tx *Tx) importPhotos(clock int64, all []picture.Photo, main string) error {
	var f meas.Faults
	for i, p := range all {
		switch _, err := tx.PhotoByUID(p.UID); {
		case err == nil:
			f = append(f, meas.Fault{Field: fmt.Sprintf("photographs[%d].uid", i), Text: "This photograph is in the book already, with another clock or in the tray"})
		case !errors.Is(err, ErrNoPhoto):
			return err
		}
		if len(f) > 0 {
			continue
		}
		p.ID, p.ClockID, p.Small, p.Why = 0, clock, picture.None, picture.StayedElsewhere
		same, err := tx.PhotoOfSum(p.SHA256)
		if err == nil {
			p.Small, p.Why = same.Small, same.Why
		} else if !errors.Is(err, ErrNoPhoto) {
			return err
		}
		if err := tx.insertPhoto(&p); err != nil {
			return err
		}
		if p.UID == main {
			if err := tx.exec(`INSERT INTO main_photo (clock_id, photo_id) VALUES ($1, $2)`, clock, p.ID); err != nil {
				return err
			}
		}
	}
	if len(f) > 0 {
		return f
	}
	return nil
}
