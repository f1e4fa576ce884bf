package store

import (
	"context"
	"database/sql"
	"embed"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/pressly/goose/v3"
)

// migrations are numbered and only ever added to; a released one is not
// changed. Another dialect gets a folder of its own.
//
//go:embed migrations
var migrations embed.FS

// applicationID says that a database file is ours ("STBD"); the first
// migration writes it.
const applicationID = 0x53544244

func provider(db *sql.DB, fsys fs.FS) (*goose.Provider, error) {
	p, err := goose.NewProvider(goose.DialectSQLite3, db, fsys,
		goose.WithLogger(goose.NopLogger()), goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return nil, fmt.Errorf("store: migrations: %w", err)
	}
	return p, nil
}

// versions is the version of the records, 0 if there are none, and the one
// that this program writes.
func (s *Store) versions(ctx context.Context, db *sql.DB) (at, want int64, err error) {
	if at, err = version(ctx, db); err != nil {
		return 0, 0, err
	}
	names, err := fs.Glob(s.fsys, "*.sql")
	if err != nil {
		return 0, 0, fmt.Errorf("store: migrations: %w", err)
	}
	for _, name := range names {
		var n int64
		if _, err := fmt.Sscanf(name, "%d_", &n); err != nil {
			return 0, 0, fmt.Errorf("store: migration %s: %w", name, err)
		}
		want = max(want, n)
	}
	return at, want, nil
}

// version is the version of the records in a database, 0 if there are none.
func version(ctx context.Context, db *sql.DB) (int64, error) {
	var at int64
	err := db.QueryRowContext(ctx, `SELECT count(*) FROM sqlite_schema WHERE type = 'table' AND name = 'goose_db_version'`).Scan(&at)
	if err == nil && at > 0 {
		err = db.QueryRowContext(ctx, `SELECT coalesce(max(version_id), 0) FROM goose_db_version`).Scan(&at)
	}
	if err != nil {
		return 0, fmt.Errorf("store: version: %w", err)
	}
	return at, nil
}

// migrate brings the schema up to date; an older database is copied first.
func (s *Store) migrate(ctx context.Context) error {
	at, want, err := s.versions(ctx, s.write)
	if err != nil {
		return err
	}
	switch {
	case at == want:
		return nil
	case at > want:
		return &FolderError{s.dir, "its records were written by a newer Seatboard; use that one"}
	case at > 0:
		if err := s.copyBefore(ctx, at); err != nil {
			return err
		}
	default:
		if err := s.refuseForeign(ctx); err != nil {
			return err
		}
	}
	p, err := provider(s.write, s.fsys)
	if err != nil {
		return err
	}
	if _, err := p.Up(ctx); err != nil {
		return fmt.Errorf("store: migrate: %w", err)
	}
	return nil
}

// refuseForeign refuses a workshop.db that another program filled.
func (s *Store) refuseForeign(ctx context.Context) error {
	var tables int
	err := s.write.QueryRowContext(ctx, `SELECT count(*) FROM sqlite_schema WHERE name NOT LIKE 'goose%' AND name NOT LIKE 'sqlite%'`).Scan(&tables)
	if err != nil {
		return fmt.Errorf("store: schema: %w", err)
	}
	if tables > 0 {
		return &FolderError{s.dir, "the " + dbName + " in it is not Seatboard's"}
	}
	return nil
}

// copyBefore keeps the records as they were before a migration.
func (s *Store) copyBefore(ctx context.Context, version int64) error {
	dir := filepath.Join(s.dir, copiesDir)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return unwritable(s.dir, err)
	}
	stem := fmt.Sprintf("version-%d-%s", version, s.now().UTC().Format("20060102T150405.000Z"))
	name := stem
	for n := 2; ; n++ { // the wall clock may say the same instant twice
		if _, err := os.Lstat(filepath.Join(dir, name+".db")); err != nil {
			break
		}
		name = fmt.Sprintf("%s-%d", stem, n)
	}
	_, err := s.Snapshot(ctx, filepath.Join(dir, name+".db"), nil)
	return err
}
