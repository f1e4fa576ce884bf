package shop

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"

	"seatboard/internal/io/blob"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/progress"
)

// Backup writes the records and every recording and photograph they name into one file that
// is checked as it is written. The file must not exist. With leaveOut a
// file that is missing or damaged is left out and named; without, it is
// an error. p counts bytes and may be nil.
func (s *Shop) Backup(ctx context.Context, target string, leaveOut bool, p *progress.Counter) (store.Backup, error) {
	b, err := s.store.Backup(ctx, target, store.BackupOptions{Files: s.ears.files, Program: program(), LeaveOut: leaveOut}, p)
	if folder := (*store.FolderError)(nil); errors.As(err, &folder) {
		return b, &Problem{Code: Storage, Message: "The backup cannot be written into " + folder.Dir + ": " + folder.Why + ".", Hint: "Choose another place for it.", cause: err}
	}
	return b, explain(err)
}

// WriteBackup writes the same to w; damaged files are left out and named
// in it. What is cut short is refused when it is restored.
func (s *Shop) WriteBackup(ctx context.Context, w io.Writer) error {
	_, err := s.store.WriteBackup(ctx, w, store.BackupOptions{Files: s.ears.files, Program: program(), LeaveOut: true}, nil)
	return explain(err)
}

// Begun tells whether a folder has a shop in it.
func Begun(dir string) bool { return store.Begun(dir) }

// Restore makes a shop of a backup, or of a copy of the records alone such as
// older versions wrote, in a folder that has no records yet. sum is the
// SHA-256 noted with it, "" where it was not. p counts bytes and may be nil.
func Restore(ctx context.Context, file, sum, dir string, p *progress.Counter) (store.Restored, error) {
	out, err := store.RestoreBackup(ctx, file, sum, dir, func(dir string) (store.Laying, error) {
		f, err := blob.Open(dir)
		if err != nil {
			return nil, err
		}
		return f.Lay(), nil
	}, p)
	if errors.Is(err, fs.ErrNotExist) {
		return out, &Problem{Code: NotFound, Message: fmt.Sprintf("The file %q is not there.", file), Hint: "Check its name.", cause: err}
	}
	return out, explain(err)
}

// Checked is what a look through the shop found.
type Checked struct {
	Problems  []string // what is damaged or missing, none if all is well
	Files     int      // recordings and photographs
	Bytes     int64    // of these
	Elsewhere int      // recordings and photographs that stayed where a clock’s file came from
	Orphans   []string // files that no record names; they do no harm
}

// Check looks the records through, and holds every file against its
// name and the records.
func (s *Shop) Check(ctx context.Context) (Checked, error) {
	var c Checked
	var err error
	if c.Problems, err = s.store.Check(ctx); err != nil {
		return c, explain(err)
	}
	var sounds []store.Sound
	err = s.store.View(ctx, func(tx *store.Tx) (err error) {
		sounds, err = tx.Sounds()
		return err
	})
	if err != nil {
		return c, explain(err)
	}
	var named, elsewhere []string
	for _, x := range sounds {
		if !x.Elsewhere {
			named = append(named, x.SHA256)
			continue
		}
		elsewhere = append(elsewhere, x.SHA256)
		if _, err := s.ears.files.Size(x.SHA256); err != nil {
			c.Elsewhere++
		}
	}
	files, err := s.ears.files.Check(ctx, named, elsewhere)
	c.Problems = append(c.Problems, files.Problems...)
	c.Files, c.Bytes, c.Orphans = files.Files, files.Bytes, files.Orphans
	return c, explain(err)
}

// Holding is what a backup would have in it.
type Holding struct {
	Clocks  int // removed ones apart
	Files   int // recordings and photographs that the records name
	Bytes   int64
	Missing int // files that the records name and that are not there
}

// Holding counts what a backup would have in it.
func (s *Shop) Holding(ctx context.Context) (Holding, error) {
	var h Holding
	var sounds []store.Sound
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		if _, _, h.Clocks, err = tx.List(nil, "", 1); err != nil {
			return err
		}
		sounds, err = tx.Sounds()
		return err
	})
	for _, x := range sounds {
		n, err := s.ears.files.Size(x.SHA256)
		switch {
		case err == nil:
			h.Files, h.Bytes = h.Files+1, h.Bytes+n
		case !x.Elsewhere:
			h.Missing++
		}
	}
	return h, explain(err)
}
