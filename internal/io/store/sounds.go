package store

import (
	"context"
	"database/sql"
	"fmt"
)

// Sounds lists the SHA-256 of every recording that the records name, removed
// and unfinished ones too, each once, in order.
func (tx *Tx) Sounds() ([]string, error) {
	var out []string
	err := tx.each(soundsQuery, nil, func(r *sql.Rows) error {
		var sum string
		err := r.Scan(&sum)
		out = append(out, sum)
		return err
	})
	return out, err
}

const soundsQuery = `SELECT DISTINCT audio FROM listening WHERE audio <> '' ORDER BY audio`

// soundsOf is Sounds of a copy that nobody writes; one from before there were
// recordings has none.
func soundsOf(ctx context.Context, file string) ([]string, error) {
	db, err := connect(file, frozen)
	if err != nil {
		return nil, err
	}
	defer db.Close()
	const firstWithSounds = 2
	if at, err := version(ctx, db); err != nil || at < firstWithSounds {
		return nil, err
	}
	rows, err := db.QueryContext(ctx, soundsQuery)
	if err != nil {
		return nil, fmt.Errorf("store: sounds: %w", err)
	}
	defer rows.Close()
	var out []string
	for rows.Next() {
		var sum string
		if err := rows.Scan(&sum); err != nil {
			return nil, fmt.Errorf("store: sounds: %w", err)
		}
		out = append(out, sum)
	}
	return out, rows.Err()
}
