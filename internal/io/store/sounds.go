package store

import (
	"context"
	"database/sql"
	"fmt"

	"seatboard/internal/book/picture"
)

// Sound is a file that the records name: a recording or a photograph.
type Sound struct {
	SHA256 string
	// Elsewhere: it belongs to a listening or a photograph that was brought in
	// with a clock's JSON file, which has no files, so it need not be here.
	Elsewhere bool
	Photo     bool // it is a photograph
}

// Sounds lists every file that the records name, those of removed and
// unfinished listenings and of photographs in the bin too, each once, in
// order.
func (tx *Tx) Sounds() ([]Sound, error) { return tx.sounds(soundsQuery + photosQuery + soundsOrder) }

func (tx *Tx) sounds(query string) ([]Sound, error) {
	var out []Sound
	err := tx.each(query, nil, func(r *sql.Rows) error {
		var s Sound
		err := r.Scan(&s.SHA256, &s.Elsewhere, &s.Photo)
		out = append(out, s)
		return err
	})
	return out, err
}

// soundsQuery tells by the history, which is counted, where a listening comes
// from: one that was kept here stands there after the last time that its
// clock was brought in.
const (
	soundsQuery = `SELECT sum, min(elsewhere), max(photo) FROM (SELECT audio AS sum, CASE WHEN EXISTS (SELECT 1 FROM change i WHERE i.clock_id = l.clock_id AND i.record = 'clock' AND i.field = 'imported'
 AND NOT EXISTS (SELECT 1 FROM change a WHERE a.clock_id = l.clock_id AND a.record = 'listening' AND a.field = l.uid || '.added' AND a.id > i.id)) THEN 1 ELSE 0 END AS elsewhere, 0 AS photo
FROM listening l WHERE audio <> ''`
	photosQuery = ` UNION ALL SELECT sha256, CASE WHEN small = '` + string(picture.None) + `' AND why = '` + picture.StayedElsewhere + `' THEN 1 ELSE 0 END, 1 FROM photo`
	soundsOrder = `) GROUP BY sum ORDER BY sum`
)

// soundsOf is Sounds of a copy that nobody writes; one from before there were
// recordings or photographs has none.
func soundsOf(ctx context.Context, file string) ([]Sound, error) {
	db, err := connect(file, frozen)
	if err != nil {
		return nil, err
	}
	defer db.Close()
	const firstWithSounds, firstWithPhotos = 2, 4
	at, err := version(ctx, db)
	if err != nil || at < firstWithSounds {
		return nil, err
	}
	query := soundsQuery + soundsOrder
	if at >= firstWithPhotos {
		query = soundsQuery + photosQuery + soundsOrder
	}
	tx, err := db.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return nil, fmt.Errorf("store: sounds: %w", err)
	}
	defer tx.Rollback() // it only reads
	return (&Tx{ctx: ctx, tx: tx}).sounds(query)
}
