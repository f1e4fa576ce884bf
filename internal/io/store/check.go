package store

import (
	"context"
	"database/sql"
	"fmt"
	"net/url"
	"path/filepath"
)

// checkFile checks a database file that nothing else has open.
func checkFile(ctx context.Context, file string) ([]string, error) {
	u := url.URL{Scheme: "file", Path: filepath.ToSlash(file), OmitHost: true,
		RawQuery: url.Values{"mode": {"ro"}, "immutable": {"1"}, "_pragma": {"query_only(1)", "trusted_schema(0)", "cell_size_check(1)", "mmap_size(0)"}}.Encode()}
	db, err := sql.Open("sqlite", u.String())
	if err != nil {
		return nil, fmt.Errorf("store: check: %w", err)
	}
	defer db.Close()
	return check(ctx, db)
}

// check runs the checks of integrity and of foreign keys.
func check(ctx context.Context, db *sql.DB) ([]string, error) {
	var problems []string
	for _, query := range []string{`PRAGMA integrity_check(20)`, `PRAGMA foreign_key_check`} {
		rows, err := db.QueryContext(ctx, query)
		if err != nil {
			return nil, fmt.Errorf("store: check: %w", err)
		}
		columns, err := rows.Columns()
		if err != nil {
			rows.Close()
			return nil, fmt.Errorf("store: check: %w", err)
		}
		values := make([]any, len(columns))
		for i := range values {
			values[i] = new(sql.NullString)
		}
		for rows.Next() {
			if err := rows.Scan(values...); err != nil {
				rows.Close()
				return nil, fmt.Errorf("store: check: %w", err)
			}
			if s := values[0].(*sql.NullString).String; s != "ok" {
				problems = append(problems, s)
			}
		}
		if err := rows.Close(); err != nil {
			return nil, fmt.Errorf("store: check: %w", err)
		}
		if err := rows.Err(); err != nil {
			return nil, fmt.Errorf("store: check: %w", err)
		}
	}
	return problems, nil
}
