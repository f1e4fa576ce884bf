package store

import (
	"archive/zip"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/kit/progress"
)

// The names in a backup. Unpacked by hand into an empty folder they are a
// shop.
const (
	manifestName  = "backup.json"
	filesDir      = "files/"
	backupVersion = 1
)

// Backup says what is in a backup: the records as one database, and every
// recording that they name.
type Backup struct {
	Seatboard string    `json:"seatboard"` // "backup"
	Version   int       `json:"version"`
	Made      time.Time `json:"made"`
	Program   string    `json:"program"`
	Records   Piece     `json:"records"` // workshop.db
	Files     []Piece   `json:"files"`   // in files/, each named by its SHA-256
	LeftOut   []Piece   `json:"left_out,omitempty"`

	SHA256 string `json:"-"` // of the whole backup
	Size   int64  `json:"-"`
}

// Piece is one file of a backup.
type Piece struct {
	SHA256 string `json:"sha256"`
	Size   int64  `json:"size"`
	Why    string `json:"why,omitempty"` // it was left out
}

// Bytes is how many bytes of recordings there are.
func (b Backup) Bytes() (n int64) {
	for _, f := range b.Files {
		n += f.Size
	}
	return n
}

// Files is where recordings are kept (blob.Files).
type Files interface {
	Get(sum string) (*os.File, error)
}

// BackupOptions says how a backup is written.
type BackupOptions struct {
	Files    Files
	Program  string // that writes it
	LeaveOut bool   // a recording that is missing or damaged is left out and named; else it is an error
}

// Backup writes the records and every recording they name into one file, a
// zip without compression: under another name, each recording held against
// its SHA-256 as it is written, brought to the disk, read once more and held
// against the SHA-256 of the whole, and only then given its own name. A
// target that exists is refused. Saving goes on meanwhile. Nothing is left
// behind after an error or when ctx ends; what a kill left is taken away by
// the next backup into the same folder. p counts bytes and may be nil.
func (s *Store) Backup(ctx context.Context, target string, o BackupOptions, p *progress.Counter) (b Backup, err error) {
	if _, err := os.Lstat(target); err == nil {
		return b, &CopyError{target, "a file of this name is there already"}
	}
	dir := filepath.Dir(target)
	work, err := s.workBeside(dir)
	if err != nil {
		return b, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(work)) }()
	file := filepath.Join(work, "backup.zip")
	out, err := newFile(file)
	if err != nil {
		return b, unwritable(dir, err)
	}
	whole := sha256.New()
	b, err = s.writeBackup(ctx, io.MultiWriter(out, whole), work, o, 2, p)
	if err == nil {
		err = out.Sync()
	}
	if err = errors.Join(err, out.Close()); err != nil {
		return b, explained(fmt.Errorf("store: backup: %w", err))
	}
	b.SHA256 = hex.EncodeToString(whole.Sum(nil))
	if b.Size, err = readAgain(ctx, file, b.SHA256, p); err != nil {
		return b, err
	}
	if err := give(file, target); err != nil {
		return b, err
	}
	return b, syncDir(dir)
}

// WriteBackup writes a backup to w, such as a download. What is not written
// to its end is refused by [RestoreBackup].
func (s *Store) WriteBackup(ctx context.Context, w io.Writer, o BackupOptions, p *progress.Counter) (b Backup, err error) {
	work, err := s.workBeside(s.dir)
	if err != nil {
		return b, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(work)) }()
	return s.writeBackup(ctx, w, work, o, 1, p)
}

// workBeside makes a folder for what is not finished, and takes away what an
// earlier backup of this shop, which was killed, has left there.
func (s *Store) workBeside(dir string) (string, error) {
	name := sha256.Sum256([]byte(s.dir))
	prefix := fmt.Sprintf("%s%x-", tempPrefix, name[:4])
	s.backups.Lock()
	defer s.backups.Unlock()
	left, err := filepath.Glob(filepath.Join(escapeGlob(dir), prefix+"*"))
	if err != nil {
		return "", fmt.Errorf("store: %w", err)
	}
	for _, path := range left {
		if !s.working[path] {
			_ = os.RemoveAll(path) // it only takes room
		}
	}
	work, err := os.MkdirTemp(dir, prefix)
	if err != nil {
		return "", unwritable(dir, err)
	}
	if s.working == nil {
		s.working = map[string]bool{}
	}
	s.working[work] = true
	return work, nil
}

// writeBackup writes a backup; passes is how often its bytes are counted.
func (s *Store) writeBackup(ctx context.Context, w io.Writer, work string, o BackupOptions, passes int64, p *progress.Counter) (Backup, error) {
	records := filepath.Join(work, dbName)
	b := Backup{Seatboard: "backup", Version: backupVersion, Made: job.Instant(s.now()), Program: o.Program, Files: []Piece{}}
	sum, err := s.Snapshot(ctx, records, nil)
	if err != nil {
		return b, err
	}
	info, err := os.Stat(records)
	if err != nil {
		return b, err
	}
	b.Records = Piece{SHA256: sum, Size: info.Size()}
	sounds, err := soundsOf(ctx, records)
	if err != nil {
		return b, err
	}
	for _, sound := range sounds {
		piece, ok, err := look(ctx, o, sound)
		switch {
		case err != nil:
			return b, err
		case piece.SHA256 == "": // it is elsewhere
		case ok:
			b.Files = append(b.Files, piece)
		default:
			b.LeftOut = append(b.LeftOut, piece)
		}
	}
	p.Expect(passes * (b.Records.Size + b.Bytes()))
	return b, b.write(ctx, w, records, o.Files, p)
}

// look says how large a recording is; ok is false where it is to be left out,
// and the piece empty where it need not be here and is not.
func look(ctx context.Context, o BackupOptions, sound Sound) (piece Piece, ok bool, err error) {
	piece.SHA256 = sound.SHA256
	f, err := o.Files.Get(piece.SHA256)
	if err != nil && sound.Elsewhere {
		return Piece{}, false, nil
	}
	if err != nil {
		piece.Why = "it is missing"
		return piece, false, refused(o, piece)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return piece, false, fmt.Errorf("store: backup: %w", err)
	}
	piece.Size = info.Size()
	if !o.LeaveOut { // it is held against its sum when it is written
		return piece, true, nil
	}
	got := sha256.New()
	if _, err := io.Copy(got, stopping{ctx, f, nil}); err != nil || hex.EncodeToString(got.Sum(nil)) != piece.SHA256 {
		piece.Why = "it was changed or is damaged"
		return piece, false, ctx.Err()
	}
	return piece, true, nil
}

// refused is the error of a recording that cannot be copied, nil where it is
// left out.
func refused(o BackupOptions, p Piece) error {
	if o.LeaveOut {
		return nil
	}
	return &SoundError{p.SHA256, p.Why}
}

func (b Backup) write(ctx context.Context, w io.Writer, records string, files Files, p *progress.Counter) error {
	z := zip.NewWriter(w)
	manifest, err := json.MarshalIndent(b, "", "  ")
	if err != nil {
		return fmt.Errorf("store: backup: %w", err)
	}
	into, err := b.entry(z, manifestName)
	if err != nil {
		return err
	}
	if _, err := into.Write(append(manifest, '\n')); err != nil {
		return err
	}
	f, err := openCopy(records)
	if err != nil {
		return err
	}
	if err := b.add(ctx, z, dbName, f, b.Records, p); err != nil {
		return err
	}
	for _, piece := range b.Files {
		f, err := files.Get(piece.SHA256)
		if err != nil {
			return &SoundError{piece.SHA256, "it is missing"}
		}
		if err := b.add(ctx, z, filesDir+piece.SHA256, f, piece, p); err != nil {
			return err
		}
	}
	return z.Close()
}

// entry begins a file in the backup. Nothing is compressed: recordings hardly
// shrink, and what is not compressed cannot unpack to more than it is.
func (b Backup) entry(z *zip.Writer, name string) (io.Writer, error) {
	h := &zip.FileHeader{Name: name, Method: zip.Store, Modified: b.Made}
	h.SetMode(0o600)
	return z.CreateHeader(h)
}

// add writes one file, holds it against its sum, and closes it.
func (b Backup) add(ctx context.Context, z *zip.Writer, name string, f *os.File, piece Piece, p *progress.Counter) error {
	defer f.Close()
	into, err := b.entry(z, name)
	if err != nil {
		return err
	}
	got := sha256.New()
	n, err := io.Copy(io.MultiWriter(into, got), stopping{ctx, f, p})
	switch {
	case err != nil:
		return err
	case n != piece.Size || hex.EncodeToString(got.Sum(nil)) != piece.SHA256:
		return &SoundError{piece.SHA256, "it was changed or is damaged"}
	}
	return nil
}

// stopping is a reader that ends with its context and counts.
type stopping struct {
	ctx context.Context
	r   io.Reader
	p   *progress.Counter
}

func (s stopping) Read(b []byte) (int, error) {
	if err := s.ctx.Err(); err != nil {
		return 0, err
	}
	n, err := s.r.Read(b)
	s.p.Add(int64(n))
	return n, err
}
