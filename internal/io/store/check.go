package store

import (
	"context"
	"database/sql"
	"fmt"
)

// Check looks the live records through, every page and every reference, and
// lists what is wrong with them.
func (s *Store) Check(ctx context.Context) ([]string, error) {
	return check(ctx, s.read, `PRAGMA integrity_check(20)`, `PRAGMA foreign_key_check`)
}

// check runs pragmas whose rows are problems, but for a row "ok".
func check(ctx context.Context, db *sql.DB, pragmas ...string) ([]string, error) {
	var problems []string
	for _, p := range pragmas {
		found, err := checkOne(ctx, db, p)
		if err != nil {
			return nil, fmt.Errorf("store: check: %w", err)
		}
		problems = append(problems, found...)
	}
	return problems, nil
}

func checkOne(ctx context.Context, db *sql.DB, pragma string) ([]string, error) {
	rows, err := db.QueryContext(ctx, pragma)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	columns, err := rows.Columns()
	if err != nil {
		return nil, err
	}
	values := make([]sql.NullString, len(columns))
	to := make([]any, len(columns))
	for i := range values {
		to[i] = &values[i]
	}
	var problems []string
	for rows.Next() {
		if err := rows.Scan(to...); err != nil {
			return nil, err
		}
		switch s := values[0].String; {
		case len(columns) > 1: // foreign_key_check: table, row, other table, key
			problems = append(problems, fmt.Sprintf("row %s of the table %s names a row of %s that is not there", values[1].String, s, values[2].String))
		case s != "ok":
			problems = append(problems, s)
		}
	}
	return problems, rows.Err()
}
