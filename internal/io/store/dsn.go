package store

import (
	"context"
	"database/sql"
	"embed"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"runtime"

	"github.com/pressly/goose/v3"
	"modernc.org/sqlite"
)

//go:embed migrations
var migrations embed.FS

// dsn is the address of a database file, escaped by net/url: a path may hold
// ?, # or %.
func dsn(path string, readOnly bool) string {
	q := url.Values{
		"_txlock":    {"immediate"},
		"_defensive": {"1"},
		"_dqs":       {"0"},
		"_pragma": {
			"busy_timeout(5000)", "journal_mode(WAL)", "synchronous(FULL)", "foreign_keys(1)", "trusted_schema(0)",
			"cell_size_check(1)", "mmap_size(0)", "journal_size_limit(67108864)",
		},
	}
	if runtime.GOOS == "darwin" {
		q["_pragma"] = append(q["_pragma"], "fullfsync(1)", "checkpoint_fullfsync(1)")
	}
	if readOnly {
		q.Set("_txlock", "deferred")
		q["_pragma"] = append(q["_pragma"], "query_only(1)")
	}
	path = filepath.ToSlash(path)
	if runtime.GOOS == "windows" {
		path = "/" + path
	}
	u := url.URL{Scheme: "file", Path: path, OmitHost: true, RawQuery: q.Encode()}
	return u.String()
}

// connect opens a pool on a database file.
func connect(path string, readOnly bool) (*sql.DB, error) {
	if runtime.GOOS == "linux" {
		if _, err := sqlite.OFDLocking(true); err != nil {
			return nil, fmt.Errorf("store: locks: %w", err)
		}
	}
	sqlite.StrictPragmas(true)
	db, err := sql.Open("sqlite", dsn(path, readOnly))
	if err != nil {
		return nil, fmt.Errorf("store: open: %w", err)
	}
	if err := db.Ping(); err != nil {
		db.Close()
		return nil, fmt.Errorf("store: open: %w", err)
	}
	return db, nil
}

// migrate brings the schema up to date; an older database is copied first.
func (s *Store) migrate(ctx context.Context) error {
	dir, err := fs.Sub(migrations, "migrations/sqlite")
	if err != nil {
		return err
	}
	p, err := goose.NewProvider(goose.DialectSQLite3, s.write, dir, goose.WithLogger(goose.NopLogger()))
	if err != nil {
		return fmt.Errorf("store: migrations: %w", err)
	}
	at, want, err := p.GetVersions(ctx)
	if err != nil {
		return fmt.Errorf("store: version: %w", err)
	}
	switch {
	case at == want:
		return nil
	case at > want:
		return &FolderError{s.dir, "its records were written by a newer Seatboard"}
	case at > 0:
		if err := s.copyBefore(ctx, at); err != nil {
			return err
		}
	}
	if _, err := p.Up(ctx); err != nil {
		return fmt.Errorf("store: migrate: %w", err)
	}
	return nil
}

// copyBefore keeps the records as they were before a migration.
func (s *Store) copyBefore(ctx context.Context, version int64) error {
	dir := filepath.Join(s.dir, copiesDir)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return fmt.Errorf("store: copy: %w", err)
	}
	name := fmt.Sprintf("version-%d-%s.db", version, s.now().UTC().Format("20060102T150405.000Z"))
	_, err := s.Snapshot(ctx, filepath.Join(dir, name))
	return err
}
