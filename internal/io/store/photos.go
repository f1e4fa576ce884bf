package store

import (
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"

	"seatboard/internal/book/job"
	"seatboard/internal/book/parts"
	"seatboard/internal/book/picture"
	"seatboard/internal/kit/meas"
)

// ErrNoPhoto is returned for a photograph that is not in the records.
var ErrNoPhoto = errors.New("store: no such photograph")

// PhotoConflictError is returned when a photograph was changed meanwhile: the
// record that stands and the one that was to be saved, which was not.
type PhotoConflictError struct{ Stored, Yours picture.Photo }

func (e *PhotoConflictError) Error() string { return "store: the photograph was changed meanwhile" }

// Differences lists what differs: Before is what stands, After what was to be
// saved.
func (e *PhotoConflictError) Differences() []job.Change { return photoDiff(e.Stored, e.Yours) }

// PhotoPlace is where photographs are looked for.
type PhotoPlace struct {
	Clock int64        // 0 is the tray
	Part  parts.Number // of the clock; "" for all
	Bin   bool         // those in the bin, instead of those that stand
	Areas bool         // only those of which it is written what area they show
}

// where is the condition of a place, as the indexes have it.
func (at PhotoPlace) where() (where string, args []any) {
	where = `clock_id = $1`
	if at.Clock == 0 {
		where = `clock_id IS NULL AND $1 = 0`
	}
	if at.Bin {
		where += ` AND removed <> ''`
	} else {
		where += ` AND removed = ''`
	}
	if at.Areas {
		where += ` AND area <> ''`
	}
	args = []any{at.Clock}
	if at.Part != "" {
		where += ` AND id IN (SELECT photo_id FROM photo_part WHERE part = $2)`
		args = append(args, string(at.Part))
	}
	return where, args
}

const (
	photoColumns = `id, uid, version, sha256, size_bytes, kind, name, width_px, height_px, orientation, taken, small, why, received, who, coalesce(clock_id, 0), area, stage, caption, same_view, marks, removed`
	photoRecord  = "photograph" // the name of such a record in the history
)

// Photos lists photographs of a place, the last received first, at most so
// many with an ID below before (0 for no bound), and how many there are in
// all.
func (tx *Tx) Photos(at PhotoPlace, before int64, most int) (out []picture.Photo, total int, err error) {
	where, args := at.where()
	if err := tx.tx.QueryRowContext(tx.ctx, `SELECT count(*) FROM photo WHERE `+where, args...).Scan(&total); err != nil {
		return nil, 0, fmt.Errorf("store: count photographs: %w", err)
	}
	if before > 0 {
		args = append(args, before)
		where += fmt.Sprintf(` AND id < $%d`, len(args))
	}
	args = append(args, most)
	out, err = tx.photos(where+fmt.Sprintf(` ORDER BY id DESC LIMIT $%d`, len(args)), args...)
	return out, total, err
}

// Photo reads one photograph.
func (tx *Tx) Photo(id int64) (picture.Photo, error) { return tx.onePhoto(`id = $1`, id) }

// PhotoByUID reads the one with an identifier.
func (tx *Tx) PhotoByUID(uid string) (picture.Photo, error) { return tx.onePhoto(`uid = $1`, uid) }

// PhotoOfContent reads the photograph of a clock (0 is the tray) whose file
// has this SHA-256, one in the bin too.
func (tx *Tx) PhotoOfContent(clock int64, sum string) (picture.Photo, error) {
	return tx.onePhoto(`sha256 = $1 AND coalesce(clock_id, 0) = $2 ORDER BY id LIMIT 1`, sum, clock)
}

// PhotoOfSum reads the first photograph whose file has this SHA-256, wherever
// it is.
func (tx *Tx) PhotoOfSum(sum string) (picture.Photo, error) {
	return tx.onePhoto(`sha256 = $1 ORDER BY id LIMIT 1`, sum)
}

// PhotosWaiting lists photographs whose small pictures are not made yet, the
// first received first, at most so many.
func (tx *Tx) PhotosWaiting(most int) ([]picture.Photo, error) {
	return tx.photos(`small = 'waiting' ORDER BY id LIMIT $1`, most)
}

func (tx *Tx) onePhoto(where string, args ...any) (picture.Photo, error) {
	found, err := tx.photos(where, args...)
	if err != nil || len(found) == 0 {
		return picture.Photo{}, errors.Join(err, ErrNoPhoto)
	}
	return found[0], nil
}

func (tx *Tx) photos(where string, args ...any) ([]picture.Photo, error) {
	var out []picture.Photo
	err := tx.each(`SELECT `+photoColumns+` FROM photo WHERE `+where, args, func(r *sql.Rows) error {
		var p picture.Photo
		var received, marks, removed string
		err := r.Scan(&p.ID, &p.UID, &p.Version, &p.SHA256, &p.Size, &p.Kind, &p.Name, &p.Width, &p.Height, &p.Orientation, &p.Taken, &p.Small, &p.Why,
			&received, &p.By, &p.ClockID, &p.Area, &p.Stage, &p.Caption, &p.SameView, &marks, &removed)
		if err != nil {
			return err
		}
		p.Received, p.Removed = instant(received), instant(removed)
		out = append(out, p)
		return json.Unmarshal([]byte(marks), &out[len(out)-1].Marks)
	})
	if err != nil || len(out) == 0 {
		return out, err
	}
	return out, tx.partsOn(out)
}

// partsOn fills in the parts that photographs show.
func (tx *Tx) partsOn(photos []picture.Photo) error {
	ids, place := make([]any, len(photos)), map[int64]*picture.Photo{}
	for i := range photos {
		ids[i], place[photos[i].ID] = photos[i].ID, &photos[i]
	}
	err := tx.each(`SELECT photo_id, part FROM photo_part WHERE photo_id IN (`+places(1, len(ids))+`)`, ids, func(r *sql.Rows) error {
		var id int64
		var n parts.Number
		if err := r.Scan(&id, &n); err != nil {
			return err
		}
		place[id].Parts = append(place[id].Parts, n)
		return nil
	})
	for i := range photos {
		sortParts(photos[i].Parts)
	}
	return err
}

// PhotographedParts tells which parts of a clock a photograph shows that is not
// in the bin.
func (tx *Tx) PhotographedParts(clock int64) (map[parts.Number]bool, error) {
	out := map[parts.Number]bool{}
	err := tx.each(`SELECT DISTINCT part FROM photo_part WHERE photo_id IN (SELECT id FROM photo WHERE clock_id = $1 AND removed = '')`, []any{clock}, func(r *sql.Rows) error {
		var n parts.Number
		err := r.Scan(&n)
		out[n] = true
		return err
	})
	return out, err
}

// AddPhoto takes a photograph into the records; its file must be kept by
// then.
func (tx *Tx) AddPhoto(p picture.Photo) (picture.Photo, error) {
	p.Version, p.Received, p.By, p.Removed = 1, tx.now, tx.by, instant("")
	if f := p.Check(); len(f) > 0 {
		return p, f
	}
	if err := tx.photoClock(p.ClockID); err != nil {
		return p, err
	}
	if err := tx.insertPhoto(&p); err != nil {
		return p, err
	}
	return p, tx.photoChanges(p, []job.Change{{Field: addedField, After: photoWords(p)}})
}

// SavePhoto keeps where a photograph belongs, what is written under it and
// its marks; the version it was read at must be the one that stands, or the
// error is *PhotoConflictError. What was found in its file stays. A filed
// photograph does not go back to the tray.
func (tx *Tx) SavePhoto(p picture.Photo) (picture.Photo, error) {
	stands, err := tx.Photo(p.ID)
	switch {
	case err != nil:
		return p, err
	case stands.Version != p.Version:
		return p, &PhotoConflictError{Stored: stands, Yours: p}
	}
	next := stands
	next.ClockID, next.Parts, next.Area, next.Stage, next.Caption, next.SameView, next.Marks = p.ClockID, p.Parts, p.Area, p.Stage, p.Caption, p.SameView, p.Marks
	if f := next.Check(); len(f) > 0 {
		return p, f
	}
	changes := photoDiff(stands, next)
	if len(changes) == 0 {
		return stands, nil
	}
	if stands.ClockID != 0 && next.ClockID == 0 {
		return p, meas.Faults{{Field: "clock", Text: "A photograph in a clock's file does not go back to the tray; put it into another clock's file, or into the bin"}}
	}
	if err := tx.photoClock(next.ClockID); err != nil {
		return p, err
	}
	next.Version++
	if err := tx.writePhoto(next); err != nil {
		return p, err
	}
	if stands.ClockID != 0 && stands.ClockID != next.ClockID {
		gone := job.Change{Field: "clock", Before: photoWords(stands), After: "in another clock's file"}
		if err := tx.photoChanges(stands, []job.Change{gone}); err != nil {
			return p, err
		}
	}
	return next, tx.photoChanges(next, changes)
}

// SetSmall keeps what was found when the file of a photograph was looked
// into, with every record of the same file. It is no change of the record.
func (tx *Tx) SetSmall(p picture.Photo) error {
	p.Marks = nil // they may have been drawn before the size was known
	if f := p.Check(); len(f) > 0 {
		return f
	}
	return tx.exec(`UPDATE photo SET width_px = $2, height_px = $3, orientation = $4, taken = $5, small = $6, why = $7 WHERE sha256 = $1`,
		p.SHA256, p.Width, p.Height, p.Orientation, p.Taken, string(p.Small), p.Why)
}

// RemovePhoto puts a photograph into the bin, or takes it out again; what is
// so already stays as it is.
func (tx *Tx) RemovePhoto(id int64, removed bool) error {
	p, err := tx.Photo(id)
	if err != nil || removed == !p.Removed.IsZero() {
		return err
	}
	h := job.Change{Field: job.RemovedField, Before: "yes", After: "no"}
	p.Removed = instant("")
	if removed {
		p.Removed, h.Before, h.After = tx.now, "no", "yes"
	}
	p.Version++
	if err := tx.writePhoto(p); err != nil {
		return err
	}
	return tx.photoChanges(p, []job.Change{h})
}
