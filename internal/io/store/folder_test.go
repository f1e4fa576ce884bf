package store_test

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/io/store"
	"seatboard/internal/io/store/storetest"
)

// TestOddPaths keeps records in folders of odd names, and finds them there
// and nowhere else.
func TestOddPaths(t *testing.T) {
	names := []string{
		"with space", "Wärkstatt", "時計", "a%20b", "100%", "it's", "a&b=c;d", "clock ⌀🕰️", "#1", strings.Repeat("long", 50), "a+b", "[x]{y}",
	}
	if runtime.GOOS != "windows" {
		names = append(names, "what?", `quo"te`, "two\nlines", `back\slash`, "?mode=memory", "star*", " ", "file:x")
	}
	for _, name := range names {
		root := t.TempDir()
		dir := filepath.Join(root, name)
		s := open(t, dir, store.Options{})
		c := add(t, s, clock(1))
		snapshot(t, s, filepath.Join(dir, name[:min(len(name), 60)]+".db"))
		leftover := filepath.Join(dir, store.Temp+"1")
		if err := os.Mkdir(leftover, 0o700); err != nil {
			t.Fatal(err)
		}
		shut(t, s)
		s = open(t, dir, store.Options{})
		same(t, s, c, job.Survey{})
		shut(t, s)
		noLeftovers(t, dir)
		if got := inside(t, root); len(got) != 1 || got[0] != name {
			t.Errorf("%q: there is %q beside it", name, got)
		}
		if got := inside(t, dir); !slices.Contains(got, store.DBName) {
			t.Errorf("%q: there is only %q in it", name, got)
		}
	}
}

func TestModes(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("there are no modes on Windows")
	}
	dir := filepath.Join(t.TempDir(), "a", "shop")
	s := open(t, dir, store.Options{})
	add(t, s, clock(1))
	for _, name := range append(inside(t, dir), ".") {
		info, err := os.Stat(filepath.Join(dir, name))
		if err != nil || info.Mode().Perm()&0o077 != 0 {
			t.Errorf("others may use %s: %v %v", name, info.Mode(), err)
		}
	}
	open0755 := t.TempDir()
	if err := os.WriteFile(filepath.Join(open0755, "letter.txt"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(open0755, 0o755); err != nil {
		t.Fatal(err)
	}
	shut(t, open(t, open0755, store.Options{}))
	if info, err := os.Stat(open0755); err != nil || info.Mode().Perm() != 0o755 {
		t.Errorf("another's folder was narrowed: %v %v", info.Mode(), err)
	}
}

func TestCloudFolders(t *testing.T) {
	for path, want := range map[string]string{
		"/home/a/Dropbox/shop": "Dropbox", "/home/a/Dropbox (Quay Lane)/s": "Dropbox", `/c/Users/a/OneDrive - Quay Lane/s`: "OneDrive", "/c/Users/a/OneDrive": "OneDrive",
		"/v/GoogleDrive-a@example.org/My Drive": "Google Drive", "/g/My Drive/s": "Google Drive", "/Users/a/Library/Mobile Documents/x": "iCloud",
		"/Users/a/Library/CloudStorage/Box-Box": "a cloud service", "/home/a/Nextcloud2/s": "Nextcloud", "/home/a/ownCloud/s": "ownCloud",
		"/home/a/shop": "", "/home/a/Dropboxes/s": "", "/home/dropdrive/s": "", "/home/a/onedriven": "",
	} {
		if got := store.CloudName(path); got != want {
			t.Errorf("%s: %q, want %q", path, got, want)
		}
	}
	root := t.TempDir()
	cloud := filepath.Join(root, "Dropbox")
	if err := os.Mkdir(cloud, 0o700); err != nil {
		t.Fatal(err)
	}
	refused := func(dir string) {
		t.Helper()
		var folder *store.FolderError
		if _, err := store.Open(ctx, dir, store.Options{}); !errors.As(err, &folder) || !strings.Contains(folder.Why, "Dropbox") {
			t.Errorf("%s: %v", dir, err)
		}
	}
	refused(filepath.Join(cloud, "new", "shop"))
	if err := os.Symlink(cloud, filepath.Join(root, "link")); err == nil {
		refused(filepath.Join(root, "link", "shop"))
	}
	if got := inside(t, cloud); len(got) != 0 {
		t.Errorf("a refused folder was made: %v", got)
	}
}

func TestPlacesThatCannotKeepRecords(t *testing.T) {
	file := filepath.Join(t.TempDir(), "letter.txt")
	if err := os.WriteFile(file, []byte("dear"), 0o600); err != nil {
		t.Fatal(err)
	}
	foreign := t.TempDir()
	if err := os.WriteFile(filepath.Join(foreign, store.DBName), []byte(strings.Repeat("not a database ", 400)), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, dir := range []string{"", "a\x00b", file, filepath.Join(file, "below")} {
		var folder *store.FolderError
		if _, err := store.Open(ctx, dir, store.Options{}); !errors.As(err, &folder) || strings.HasSuffix(folder.Why, ".") {
			t.Errorf("%q: %v", dir, err)
		}
	}
	if _, err := store.Open(ctx, foreign, store.Options{}); err == nil {
		t.Error("a file that is no database was opened")
	}
	if _, err := store.Open(ctx, filepath.Join(t.TempDir(), "none"), store.Options{ReadOnly: true}); err == nil {
		t.Error("a folder that is not there was opened to read")
	}
}

func TestReadOnlyOption(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir, store.Options{})
	c := add(t, s, clock(1))
	shut(t, s)
	before := inside(t, dir)
	a := open(t, dir, store.Options{ReadOnly: true})
	b := open(t, dir, store.Options{ReadOnly: true}) // readers may be many
	same(t, a, c, job.Survey{})
	same(t, b, c, job.Survey{})
	if err := a.Update(ctx, "A", func(*store.Tx) error { return nil }); !errors.Is(err, store.ErrReadOnly) {
		t.Error(err)
	}
	snapshot(t, a, filepath.Join(t.TempDir(), "copy.db"))
	var inUse *store.InUseError
	if _, err := store.Open(ctx, dir, store.Options{}); !errors.As(err, &inUse) {
		t.Errorf("opened to write while it is read: %v", err)
	}
	shut(t, a)
	shut(t, b)
	if after := inside(t, dir); !slices.Equal(before, after) {
		t.Errorf("reading has changed the folder from %v to %v", before, after)
	}
}

// TestHealth damages a page of records that were not closed in order: the
// store opens all the same, and says so soon after. The next owner is told
// again.
func TestHealth(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir, store.Options{})
	if s.Health().Unclean {
		t.Error("a new folder is not unclean")
	}
	if err := storetest.Fill(ctx, s, 200, 1); err != nil {
		t.Fatal(err)
	}
	shut(t, s)
	mark := filepath.Join(dir, store.OpenMark)
	if _, err := os.Lstat(mark); err == nil {
		t.Error("the mark stands after it was closed in order")
	}
	leave := func() {
		t.Helper()
		if err := os.WriteFile(mark, nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	leave()
	if h := looked(t, dir); !h.Unclean || len(h.Problems) > 0 || h.Err != nil {
		t.Errorf("whole records: %+v", h)
	}
	if h := looked(t, dir); h.Unclean {
		t.Errorf("looked through already: %+v", h)
	}
	b, err := os.ReadFile(filepath.Join(dir, store.DBName)) // it is closed
	if err != nil {
		t.Fatal(err)
	}
	for at := len(b) / 2 &^ 4095; at < len(b)-8192; at += 4096 {
		copy(b[at:], strings.Repeat("\xa5", 4096))
	}
	if err := os.WriteFile(filepath.Join(dir, store.DBName), b, 0o600); err != nil {
		t.Fatal(err)
	}
	leave()
	for range 2 {
		if h := looked(t, dir); !h.Unclean || len(h.Problems) == 0 && h.Err == nil {
			t.Errorf("damaged records: %+v", h)
		}
	}
}

// looked opens a folder and waits for the look-through in the background.
func looked(t *testing.T, dir string) store.Health {
	t.Helper()
	s := open(t, dir, store.Options{})
	defer shut(t, s)
	for range 20_000 {
		if h := s.Health(); !h.Running {
			return h
		}
		time.Sleep(5 * time.Millisecond)
	}
	t.Fatal("the look-through does not end")
	return store.Health{}
}
