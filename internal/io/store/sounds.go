package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"seatboard/internal/book/making"
	"seatboard/internal/book/picture"
)

// Sound is a file that the records name: a recording, a photograph or a
// drawing.
type Sound struct {
	SHA256 string
	// Elsewhere: it belongs to something that was brought in with a clock's
	// JSON file, which has no files, so it need not be here.
	Elsewhere bool
	Photo     bool // it is a photograph
}

// Sounds lists every file that the records name, those of removed and
// unfinished listenings and of photographs in the bin too, each once, in
// order.
func (tx *Tx) Sounds() ([]Sound, error) {
	out, err := tx.sounds(soundsQuery + photosQuery + soundsOrder)
	if err != nil {
		return nil, err
	}
	return tx.withDrawings(out)
}

// withDrawings adds the drawings that were kept when parts were made; each
// file stands once, in order. One of a log entry that is not read stands
// nowhere: whoever reads the log says that it is damaged.
func (tx *Tx) withDrawings(out []Sound) ([]Sound, error) {
	at := map[string]int{}
	for i, s := range out {
		at[s.SHA256] = i
	}
	err := tx.each(drawingsQuery, []any{making.LogBook}, func(r *sql.Rows) error {
		var text string
		var elsewhere bool
		if err := r.Scan(&text, &elsewhere); err != nil {
			return err
		}
		var e making.Event
		if json.Unmarshal([]byte(text), &e) != nil || e.Part == nil {
			return nil
		}
		for _, f := range e.Part.Drawings {
			i, ok := at[f.SHA256]
			if !ok {
				i, at[f.SHA256] = len(out), len(out)
				out = append(out, Sound{SHA256: f.SHA256, Elsewhere: elsewhere})
			}
			out[i].Elsewhere = out[i].Elsewhere && elsewhere
		}
		return nil
	})
	slices.SortFunc(out, func(a, b Sound) int { return strings.Compare(a.SHA256, b.SHA256) })
	return out, err
}

// drawingsQuery tells the entries that came with a clock's file by their
// instants: they were written before the clock was brought in.
const drawingsQuery = `SELECT e.entry, CASE WHEN EXISTS (SELECT 1 FROM change i WHERE i.clock_id = l.clock_id AND i.record = 'clock' AND i.field = 'imported' AND i.at >= e.at) THEN 1 ELSE 0 END
FROM log l JOIN log_entry e ON e.log_id = l.id WHERE l.book = $1 ORDER BY l.id, e.n`

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
	const firstWithSounds, firstWithLogs, firstWithPhotos = 2, 3, 4
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
	in := &Tx{ctx: ctx, tx: tx}
	out, err := in.sounds(query)
	if err != nil || at < firstWithLogs {
		return out, err
	}
	return in.withDrawings(out)
}
