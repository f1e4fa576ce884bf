package store

import (
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"path/filepath"
	"runtime"

	"modernc.org/sqlite"
)

// access is what a connection is for.
type access uint8

const (
	live    access = iota // reads and writes the live file
	reading               // reads the live file
	frozen                // reads a file that nobody writes, as it lies there
)

// dsn is the address of a database file, escaped by net/url: a path may hold
// ?, # or %.
func dsn(path string, a access) string {
	pragmas := []string{
		"busy_timeout(5000)", "foreign_keys(1)", "trusted_schema(0)", "cell_size_check(1)", "mmap_size(0)",
		"temp_store(memory)",
	}
	q := url.Values{"_txlock": {"immediate"}, "_defensive": {"1"}, "_dqs": {"0"}}
	switch a {
	case live:
		// fullfsync has a meaning on macOS only and is 0 by default even there.
		pragmas = append(pragmas, "journal_mode(WAL)", "synchronous(FULL)", "journal_size_limit(67108864)", "fullfsync(1)", "checkpoint_fullfsync(1)")
	case reading:
		q.Set("_txlock", "deferred")
		pragmas = append(pragmas, "query_only(1)", "cache_size(-6000)") // 6 MB: a search reads the whole search text
	case frozen:
		q.Set("_txlock", "deferred")
		q.Set("mode", "ro")
		q.Set("immutable", "1") // not query_only: it would forbid VACUUM INTO another file
	}
	q["_pragma"] = pragmas
	path = filepath.ToSlash(path)
	if runtime.GOOS == "windows" {
		path = "/" + path
	}
	u := url.URL{Scheme: "file", Path: path, OmitHost: true, RawQuery: q.Encode()}
	return u.String()
}

// connect opens a pool on a database file.
func connect(path string, a access) (*sql.DB, error) {
	// Without these locks any other open and close of the file in this
	// process would drop SQLite's. Where there are none (other systems, odd
	// file systems) the rule that nobody else opens the file has to do.
	if _, err := sqlite.OFDLocking(true); err != nil && !errors.Is(err, sqlite.ErrOFDLockingUnavailable) {
		return nil, fmt.Errorf("store: locks: %w", err)
	}
	sqlite.StrictPragmas(true)
	db, err := sql.Open("sqlite", dsn(path, a))
	if err != nil {
		return nil, fmt.Errorf("store: open: %w", err)
	}
	if err := db.Ping(); err != nil {
		return nil, errors.Join(fmt.Errorf("store: open: %w", err), db.Close())
	}
	return db, nil
}
