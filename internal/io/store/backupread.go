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
	"regexp"
	"strings"

	"seatboard/internal/kit/progress"
)

// Laying puts recordings into a folder that is being restored (blob.Laying).
type Laying interface {
	// Lay writes one and holds it against its SHA-256, also as it lies there.
	Lay(ctx context.Context, sum string, r io.Reader) error
	// Undo takes away what Lay has added.
	Undo() error
}

// Restored says what was restored.
type Restored struct {
	Files   int      // recordings
	Missing []string // SHA-256 of those that the records name and the backup does not have
}

// RestoreBackup makes a folder of a backup, or of a copy of the records alone
// such as older versions wrote. A folder that has records is refused. Every
// file is held against its SHA-256; the records get their name last, so that
// a folder is without records or whole whenever it is stopped. Nothing is
// left behind after an error. sum is the SHA-256 that was noted of the whole
// file, "" for none; lay opens the place of recordings in the folder. p
// counts bytes and may be nil.
func RestoreBackup(ctx context.Context, file, sum, dir string, lay func(dir string) (Laying, error), p *progress.Counter) (Restored, error) {
	f, err := openCopy(file)
	if err != nil {
		return Restored{}, fmt.Errorf("store: backup: %w", err)
	}
	defer f.Close()
	head := make([]byte, 16)
	n, err := io.ReadFull(f, head)
	switch {
	case err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF):
		return Restored{}, fmt.Errorf("store: backup: %w", err)
	case string(head[:n]) == "SQLite format 3\x00":
		return restoreRecords(ctx, file, sum, dir, p)
	case n < 4 || string(head[:4]) != "PK\x03\x04":
		return Restored{}, &CopyError{file, "it is not a backup of Seatboard"}
	}
	if sum != "" {
		if _, err := readAgain(ctx, file, strings.ToLower(sum), nil); err != nil {
			return Restored{}, err
		}
	}
	b, err := openBackup(f, file)
	if err != nil {
		return Restored{}, err
	}
	p.Expect(b.said.Records.Size + b.said.Bytes())
	out := Restored{Files: len(b.said.Files)}
	var laying Laying
	err = restore(ctx, origin{
		file: file, sum: b.said.Records.SHA256, step: func() {},
		records: func(to string) error { return b.unpack(ctx, to, p) },
		beside: func(dir, records string) (err error) {
			if out.Missing, err = b.missing(ctx, records); err != nil {
				return err
			}
			if laying, err = lay(dir); err != nil {
				return err
			}
			return b.lay(ctx, laying, p)
		},
		undo: func() error {
			if laying == nil {
				return nil
			}
			return laying.Undo()
		},
	}, dir)
	return out, err
}

// restoreRecords restores a copy of the records alone.
func restoreRecords(ctx context.Context, file, sum, dir string, p *progress.Counter) (out Restored, err error) {
	p.Expect(3)
	err = restore(ctx, origin{
		file: file, sum: sum, step: func() { p.Add(1) },
		records: func(to string) error { return copyFile(file, to) },
		beside: func(_, records string) error {
			sounds, err := soundsOf(ctx, records)
			for _, x := range sounds {
				if !x.Elsewhere {
					out.Missing = append(out.Missing, x.SHA256)
				}
			}
			return err
		},
		undo: func() error { return nil },
	}, dir)
	return out, err
}

// backupFile is a backup opened to be read.
type backupFile struct {
	name    string
	said    Backup
	entries map[string]*zip.File
}

var pieceName = regexp.MustCompile(`^files/[0-9a-f]{64}$`)

// openBackup reads what a backup says of itself and holds it against what is
// there. Nothing of it is unpacked.
func openBackup(f *os.File, name string) (*backupFile, error) {
	bad := func(why string) error { return &CopyError{name, why} }
	info, err := f.Stat()
	if err != nil {
		return nil, fmt.Errorf("store: backup: %w", err)
	}
	z, err := zip.NewReader(f, info.Size())
	if err != nil {
		return nil, bad("it is cut short or damaged")
	}
	b := &backupFile{name: name, entries: map[string]*zip.File{}}
	left := info.Size()
	for _, e := range z.File {
		known := e.Name == manifestName || e.Name == dbName || pieceName.MatchString(e.Name)
		size := int64(min(e.UncompressedSize64, 1<<62))
		if left -= size; !known || b.entries[e.Name] != nil || !e.Mode().IsRegular() || e.Method != zip.Store || left < 0 {
			return nil, bad("it is not a backup as Seatboard writes it")
		}
		b.entries[e.Name] = e
	}
	if err := b.manifest(); err != nil {
		return nil, err
	}
	want := map[string]Piece{dbName: b.said.Records}
	for _, piece := range b.said.Files {
		want[filesDir+piece.SHA256] = piece
	}
	if len(want) != len(b.entries)-1 || len(want) != len(b.said.Files)+1 {
		return nil, bad("it does not hold what it says it holds")
	}
	for entry, piece := range want {
		if e := b.entries[entry]; e == nil || int64(e.UncompressedSize64) != piece.Size {
			return nil, bad("it does not hold what it says it holds")
		}
	}
	return b, nil
}

// manifest reads what the backup says of itself.
func (b *backupFile) manifest() error {
	const most = 64 << 20
	e := b.entries[manifestName]
	if e == nil || e.UncompressedSize64 > most {
		return &CopyError{b.name, "it is not a backup of Seatboard"}
	}
	r, err := e.Open()
	if err != nil {
		return &CopyError{b.name, "it is damaged"}
	}
	defer r.Close()
	text, err := io.ReadAll(r)
	if err != nil || json.Unmarshal(text, &b.said) != nil || b.said.Seatboard != "backup" {
		return &CopyError{b.name, "what it says of itself is damaged"}
	}
	if b.said.Version != backupVersion {
		return &CopyError{b.name, fmt.Sprintf("it is of version %d, which this Seatboard does not read; use a newer one", b.said.Version)}
	}
	return nil
}

// missing lists the recordings that the records name and that are not there;
// one that is not said to have been left out makes the backup unfit.
func (b *backupFile) missing(ctx context.Context, records string) ([]string, error) {
	sounds, err := soundsOf(ctx, records)
	if err != nil {
		return nil, err
	}
	said := map[string]bool{}
	for _, piece := range b.said.LeftOut {
		said[piece.SHA256] = true
	}
	var out []string
	for _, x := range sounds {
		switch {
		case b.entries[filesDir+x.SHA256] != nil, x.Elsewhere:
		case said[x.SHA256]:
			out = append(out, x.SHA256)
		default:
			return nil, &CopyError{b.name, "a recording that its records name is not in it (" + x.SHA256 + ")"}
		}
	}
	return out, nil
}

// unpack writes the records to a new file and waits for the disk.
func (b *backupFile) unpack(ctx context.Context, to string, p *progress.Counter) error {
	out, err := newFile(to)
	if err != nil {
		return err
	}
	err = b.each(dbName, func(r io.Reader) error {
		_, err := io.Copy(out, stopping{ctx, r, p})
		return err
	})
	return errors.Join(err, out.Sync(), out.Close())
}

// lay lays the recordings.
func (b *backupFile) lay(ctx context.Context, l Laying, p *progress.Counter) error {
	for _, piece := range b.said.Files {
		err := b.each(filesDir+piece.SHA256, func(r io.Reader) error { return l.Lay(ctx, piece.SHA256, stopping{ctx, r, p}) })
		if err != nil {
			return err
		}
	}
	return nil
}

// each reads an entry; damage that the zip itself shows is a *CopyError.
func (b *backupFile) each(name string, read func(io.Reader) error) error {
	r, err := b.entries[name].Open()
	if err == nil {
		err = errors.Join(read(r), r.Close())
	}
	if errors.Is(err, zip.ErrChecksum) || errors.Is(err, zip.ErrFormat) || errors.Is(err, zip.ErrAlgorithm) {
		return &CopyError{b.name, name + " in it is damaged"}
	}
	return err
}

// readAgain holds a whole backup, as it lies on the disk, against its
// SHA-256, and gives its size.
func readAgain(ctx context.Context, file, sum string, p *progress.Counter) (int64, error) {
	f, err := openCopy(file)
	if err != nil {
		return 0, fmt.Errorf("store: backup: %w", err)
	}
	defer f.Close()
	got := sha256.New()
	n, err := io.Copy(got, stopping{ctx, f, p})
	if err != nil {
		return n, fmt.Errorf("store: backup: %w", err)
	}
	if hex.EncodeToString(got.Sum(nil)) != sum {
		return n, &CopyError{file, "its SHA-256 is not the one that was noted: it was changed or is damaged"}
	}
	_, err = openBackup(f, file)
	return n, err
}
