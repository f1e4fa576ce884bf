package store_test

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"seatboard/internal/io/blob"
	"seatboard/internal/io/store"
	"seatboard/internal/io/store/storetest"
	"seatboard/internal/kit/progress"
)

// sounding makes a shop with clocks and n recordings, one of a removed
// listening and one that no record names.
func sounding(t *testing.T, n int) (*store.Store, *blob.Files, []string) {
	t.Helper()
	dir := t.TempDir()
	s := open(t, dir, store.Options{})
	files, err := blob.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	sums := fillSounds(t, s, files, n)
	keepSound(t, files, "named by no record")
	return s, files, sums
}

func fillSounds(t testing.TB, s *store.Store, files *blob.Files, n int) (sums []string) {
	c, err := clock(1), error(nil)
	err = s.Update(ctx, "t", func(tx *store.Tx) (err error) { c, err = tx.AddClock(c); return err })
	for i := range n {
		if err != nil {
			break
		}
		l := storetest.Listening(40, uint64(i))
		l.ClockID, l.Audio = c.ID, keepSound(t, files, strings.Repeat(fmt.Sprint("tick tock ", i), 20_000))
		sums = append(sums, l.Audio)
		err = s.Update(ctx, "t", func(tx *store.Tx) error {
			l, err := tx.AddListening(l)
			if err == nil && i == 0 {
				err = tx.RemoveListening(l.ID, true)
			}
			return err
		})
	}
	if err != nil {
		t.Fatal(err)
	}
	return sums
}

func keepSound(t testing.TB, files *blob.Files, content string) string {
	h, err := files.Hold(ctx, strings.NewReader(content), 1<<30)
	if err == nil {
		err = errors.Join(h.Keep(), h.Close())
	}
	if err != nil {
		t.Fatal(err)
	}
	return h.Sum()
}

func lay(dir string) (store.Laying, error) {
	f, err := blob.Open(dir)
	if err != nil {
		return nil, err
	}
	return f.Lay(), nil
}

// sameShop fails unless a restored folder has all recordings and records.
func sameShop(t *testing.T, dir string, sums []string) {
	t.Helper()
	s := open(t, dir, store.Options{})
	defer shut(t, s)
	whole(t, s)
	view(t, s, func(tx *store.Tx) error {
		if _, err := tx.ClockByUID(clock(1).UID); err != nil {
			t.Error(err)
		}
		named, err := tx.Sounds()
		if len(named) != len(sums) {
			t.Errorf("%d recordings are named, want %d", len(named), len(sums))
		}
		return err
	})
	files, err := blob.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	c, err := files.Check(ctx, sums, nil)
	if err != nil || len(c.Problems) > 0 || len(c.Orphans) > 0 || c.Files != len(sums) {
		t.Errorf("%+v %v", c, err)
	}
}

func TestBackupRestoreRoundTrip(t *testing.T) {
	s, files, sums := sounding(t, 5)
	out := filepath.Join(t.TempDir(), "ä # ? 50%.zip")
	var p, q progress.Counter
	b, err := s.Backup(ctx, out, store.BackupOptions{Files: files, Program: "test"}, &p)
	if err != nil || len(b.Files) != 5 || b.Size == 0 || len(b.LeftOut) > 0 {
		t.Fatalf("%+v %v", b, err)
	}
	if done, total := p.Sample(); done < total || total == 0 {
		t.Errorf("counted %d of %d bytes", done, total)
	}
	if left := inside(t, filepath.Dir(out)); len(left) != 1 {
		t.Errorf("left beside: %v", left)
	}
	var copied *store.CopyError
	if _, err := s.Backup(ctx, out, store.BackupOptions{Files: files}, nil); !errors.As(err, &copied) {
		t.Errorf("written over: %v", err)
	}
	dir := filepath.Join(t.TempDir(), "again")
	for _, bad := range []string{"00", strings.Repeat("0", 64)} {
		if _, err := store.RestoreBackup(ctx, out, bad, dir, lay, nil); !errors.As(err, &copied) {
			t.Errorf("another SHA-256: %v", err)
		}
	}
	got, err := store.RestoreBackup(ctx, out, strings.ToUpper(b.SHA256), dir, lay, &q)
	if err != nil || got.Files != 5 || len(got.Missing) > 0 {
		t.Fatalf("%+v %v", got, err)
	}
	if done, total := q.Sample(); done != total || total == 0 {
		t.Errorf("counted %d of %d bytes", done, total)
	}
	sameShop(t, dir, sums)
	var folder *store.FolderError
	if _, err := store.RestoreBackup(ctx, out, "", dir, lay, nil); !errors.As(err, &folder) {
		t.Errorf("restored over a shop: %v", err)
	}
}

// TestBackupUnpackedByHandIsAShop: no program of ours is needed.
func TestBackupUnpackedByHandIsAShop(t *testing.T) {
	s, files, sums := sounding(t, 2)
	var stream bytes.Buffer
	if _, err := s.WriteBackup(ctx, &stream, store.BackupOptions{Files: files}, nil); err != nil {
		t.Fatal(err)
	}
	z, err := zip.NewReader(bytes.NewReader(stream.Bytes()), int64(stream.Len()))
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if err := os.CopyFS(dir, z); err != nil {
		t.Fatal(err)
	}
	sameShop(t, dir, sums)
}

// TestOldCopiesAreRestored: a copy of the records alone, as older versions
// wrote, becomes a shop, and what it lacks is named.
func TestOldCopiesAreRestored(t *testing.T) {
	s, _, sums := sounding(t, 2)
	old := filepath.Join(t.TempDir(), "copy.db")
	sum := snapshot(t, s, old)
	dir := filepath.Join(t.TempDir(), "again")
	got, err := store.RestoreBackup(ctx, old, sum, dir, lay, nil)
	if err != nil || got.Files != 0 || len(got.Missing) != len(sums) {
		t.Fatalf("%+v %v", got, err)
	}
	again := open(t, dir, store.Options{})
	view(t, again, func(tx *store.Tx) error { _, err := tx.ClockByUID(clock(1).UID); return err })
}

func TestDamagedRecordingStopsABackup(t *testing.T) {
	for name, spoil := range map[string]func(path string) error{
		"missing": os.Remove,
		"changed": func(p string) error { return os.WriteFile(p, []byte("tack"), 0o600) },
		"cut":     func(p string) error { return os.Truncate(p, 5) },
	} {
		s, files, sums := sounding(t, 3)
		if err := spoil(filepath.Join(s.Dir(), "files", sums[1])); err != nil {
			t.Fatal(err)
		}
		out := filepath.Join(t.TempDir(), "copy.zip")
		var sound *store.SoundError
		if _, err := s.Backup(ctx, out, store.BackupOptions{Files: files}, nil); !errors.As(err, &sound) || sound.SHA256 != sums[1] {
			t.Errorf("%s: %v", name, err)
		}
		if left := inside(t, filepath.Dir(out)); len(left) != 0 {
			t.Errorf("%s left %v", name, left)
		}
		b, err := s.Backup(ctx, out, store.BackupOptions{Files: files, LeaveOut: true}, nil)
		if err != nil || len(b.LeftOut) != 1 || b.LeftOut[0].SHA256 != sums[1] || b.LeftOut[0].Why == "" || len(b.Files) != 2 {
			t.Errorf("%s: %+v %v", name, b, err)
			continue
		}
		got, err := store.RestoreBackup(ctx, out, "", filepath.Join(t.TempDir(), "again"), lay, nil)
		if err != nil || got.Files != 2 || len(got.Missing) != 1 {
			t.Errorf("%s: %+v %v", name, got, err)
		}
	}
}

// TestDamagedBackups flips bits of a backup, cuts it short, and swaps pieces
// of it: it is refused and nothing is left, or what is restored is whole.
func TestDamagedBackups(t *testing.T) {
	s, files, sums := sounding(t, 2)
	dir := t.TempDir()
	out := filepath.Join(dir, "copy.zip")
	b, err := s.Backup(ctx, out, store.BackupOptions{Files: files}, nil)
	if err != nil {
		t.Fatal(err)
	}
	good, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(3, 4))
	damaged := filepath.Join(dir, "damaged.zip")
	refused, harmless := 0, 0
	for i := range 120 {
		x := bytes.Clone(good)
		switch i % 4 {
		case 0:
			x[r.IntN(len(x))] ^= 1 << r.IntN(8)
		case 1:
			x = x[:r.IntN(len(x))]
		case 2: // in what the zip says of itself
			x[len(x)-1-r.IntN(400)] ^= 1 << r.IntN(8)
		case 3:
			from, to := r.IntN(len(x)-4096), r.IntN(len(x)-4096)
			copy(x[from:from+4096], good[to:to+4096])
		}
		if bytes.Equal(x, good) {
			continue
		}
		if err := os.WriteFile(damaged, x, 0o600); err != nil {
			t.Fatal(err)
		}
		again := filepath.Join(dir, fmt.Sprint("again", i))
		if i%10 == 0 {
			if _, err := store.RestoreBackup(ctx, damaged, b.SHA256, again, lay, nil); err == nil {
				t.Errorf("try %d: restored against the SHA-256", i)
			}
		}
		if _, err := store.RestoreBackup(ctx, damaged, "", again, lay, nil); err == nil {
			harmless++
			sameShop(t, again, sums)
			continue
		}
		refused++
		if _, err := os.Stat(again); err != nil {
			continue // refused before anything was made
		}
		for _, name := range inside(t, again) {
			if name != store.LockName {
				t.Fatalf("try %d left %s", i, name)
			}
		}
	}
	if refused < 80 {
		t.Errorf("refused only %d", refused)
	}
	t.Logf("%d refused, %d restored whole, none restored damaged", refused, harmless)
}

// TestForeignZips offers zips that are whole, but not as ours are.
func TestForeignZips(t *testing.T) {
	s, files, _ := sounding(t, 1)
	var stream bytes.Buffer
	if _, err := s.WriteBackup(ctx, &stream, store.BackupOptions{Files: files}, nil); err != nil {
		t.Fatal(err)
	}
	ours, err := zip.NewReader(bytes.NewReader(stream.Bytes()), int64(stream.Len()))
	if err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string]func(w *zip.Writer){
		"way out":    func(w *zip.Writer) { _, _ = w.CreateHeader(&zip.FileHeader{Name: "../evil"}) },
		"more":       func(w *zip.Writer) { _, _ = w.CreateHeader(&zip.FileHeader{Name: "notes.txt"}) },
		"twice":      func(w *zip.Writer) { _ = w.Copy(ours.File[1]) },
		"not said":   func(w *zip.Writer) { _, _ = w.CreateHeader(&zip.FileHeader{Name: "files/" + strings.Repeat("0", 64)}) },
		"compressed": func(w *zip.Writer) { _, _ = w.Create("files/" + strings.Repeat("0", 64)) },
		"a link": func(w *zip.Writer) {
			h := &zip.FileHeader{Name: "files/" + strings.Repeat("0", 64)}
			h.SetMode(os.ModeSymlink)
			_, _ = w.CreateHeader(h)
		},
		"only more":   nil,
		"no manifest": func(*zip.Writer) {},
	} {
		var b bytes.Buffer
		w := zip.NewWriter(&b)
		for i, e := range ours.File {
			if name == "no manifest" && i == 0 || change == nil && i > 0 {
				continue
			}
			if err := w.Copy(e); err != nil {
				t.Fatal(err)
			}
		}
		if change != nil {
			change(w)
		}
		if err := w.Close(); err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(t.TempDir(), "x.zip")
		if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		var copied *store.CopyError
		if _, err := store.RestoreBackup(ctx, file, "", filepath.Join(t.TempDir(), "again"), lay, nil); !errors.As(err, &copied) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestBackupCanBeStopped(t *testing.T) {
	s, files, _ := sounding(t, 3)
	out := filepath.Join(t.TempDir(), "copy.zip")
	for after := range 6 { // each recording is opened twice
		stopped, stop := context.WithCancel(ctx)
		_, err := s.Backup(stopped, out, store.BackupOptions{Files: &stopAt{files, stop, after}}, nil)
		stop()
		if !errors.Is(err, context.Canceled) {
			t.Errorf("after %d: %v", after, err)
		}
		if left := inside(t, filepath.Dir(out)); len(left) != 0 {
			t.Errorf("after %d left: %v", after, left)
		}
	}
}

// stopAt stops all when the files have been opened so often.
type stopAt struct {
	store.Files
	stop  func()
	after int
}

func (s *stopAt) Get(sum string) (*os.File, error) {
	if s.after--; s.after < 0 {
		s.stop()
	}
	return s.Files.Get(sum)
}

// childBackup backs up, again and again, until it is killed; it says each
// backup that was confirmed.
func childBackup(dir, out string) error {
	s, err := store.Open(ctx, dir, store.Options{})
	if err != nil {
		return err
	}
	files, err := blob.Open(dir)
	if err != nil {
		return err
	}
	fmt.Println("ready")
	for i := 0; ; i++ {
		name := filepath.Join(out, fmt.Sprintf("%d-%d.zip", os.Getpid(), i))
		b, err := s.Backup(ctx, name, store.BackupOptions{Files: files}, nil)
		if err != nil {
			return err
		}
		fmt.Println(b.SHA256, name)
	}
}

// childRestore restores a backup into new folders until it is killed.
func childRestore(dir, backup string) error {
	fmt.Println("ready")
	for i := 0; ; i++ {
		to := filepath.Join(dir, fmt.Sprintf("%d-%d", os.Getpid(), i))
		if _, err := store.RestoreBackup(ctx, backup, "", to, lay, nil); err != nil {
			return err
		}
		fmt.Println(to)
	}
}

// killedAfter runs a child and kills it some time after its first line.
func killedAfter(t *testing.T, what, dir, round string, after time.Duration) string {
	t.Helper()
	c := child(what, dir, round)
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	var first [6]byte
	if _, err := io.ReadFull(out, first[:]); err != nil {
		t.Fatal(err)
	}
	time.AfterFunc(after, func() { _ = c.Process.Kill() }) // Wait tells
	rest, err := io.ReadAll(out)
	if err != nil || c.Wait() == nil || strings.Contains(string(rest), "error") {
		t.Fatalf("the child ended by itself: %s %v", rest, err)
	}
	return string(rest)
}

// TestBackupKilled kills backups and restorations at random moments: every
// file of its name is whole, every folder has no records or all, and what a
// kill left is taken away by the next.
func TestBackupKilled(t *testing.T) {
	rounds := 8
	if n, err := strconv.Atoi(os.Getenv("SEATBOARD_KILL_ROUNDS")); err == nil {
		rounds = n
	}
	if testing.Short() {
		rounds = 3
	}
	s, _, sums := sounding(t, 12)
	shut(t, s)
	out, r := t.TempDir(), rand.New(rand.NewPCG(uint64(time.Now().UnixNano()), 9))
	confirmed, there := 0, 0
	var last string
	for range rounds {
		said := killedAfter(t, "backup", s.Dir(), out, time.Duration(20+r.IntN(200))*time.Millisecond)
		confirmed += strings.Count(said, "\n")
	}
	for _, name := range inside(t, out) {
		if strings.HasPrefix(name, ".") {
			continue
		}
		there++
		last = filepath.Join(out, name)
		to := filepath.Join(t.TempDir(), "again")
		if _, err := store.RestoreBackup(ctx, last, "", to, lay, nil); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	if there < confirmed || confirmed == 0 {
		t.Errorf("%d were confirmed, %d are there", confirmed, there)
	}
	s = open(t, s.Dir(), store.Options{})
	files, err := blob.Open(s.Dir())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Backup(ctx, filepath.Join(out, "last.zip"), store.BackupOptions{Files: files}, nil); err != nil {
		t.Fatal(err)
	}
	for _, name := range inside(t, out) {
		if strings.HasPrefix(name, ".") {
			t.Errorf("left: %s", name)
		}
	}
	complete, none := 0, 0
	to := t.TempDir()
	for range rounds {
		said := killedAfter(t, "restore", to, last, time.Duration(10+r.IntN(400))*time.Millisecond)
		for line := range strings.Lines(said) {
			if _, err := os.Stat(filepath.Join(strings.TrimSpace(line), "workshop.db")); err != nil {
				t.Errorf("confirmed and not there: %v", err)
			}
		}
	}
	for _, name := range inside(t, to) {
		dir := filepath.Join(to, name)
		if _, err := os.Stat(filepath.Join(dir, "workshop.db")); err != nil {
			none++
			if _, err := store.RestoreBackup(ctx, last, "", dir, lay, nil); err != nil {
				t.Errorf("restored once more: %v", err)
			}
		}
		complete++
		sameShop(t, dir, sums)
	}
	t.Logf("%d backups confirmed in %d kills, %d there, all whole; %d folders, %d of them without records at the kill", confirmed, rounds, there, complete, none)
}
