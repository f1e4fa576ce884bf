package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"image"
	"image/jpeg"
	"io"
	"math/rand/v2"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// shot is the nth photograph: a small picture with noise behind its end, as
// telephones put films there.
func shot(t *testing.T, n int) (content []byte, sum string) {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 64, 48)), nil); err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(uint64(n), 1))
	for range 100_000 {
		b.WriteByte(byte(r.Uint32()))
	}
	s := sha256.Sum256(b.Bytes())
	return b.Bytes(), hex.EncodeToString(s[:])
}

type answer struct {
	At    int64
	Safe  bool
	Wrong *struct{ Code, Message string }
}

// ask makes one step of an upload; ok is false when no answer came.
func (v *visitor) ask(path string, body io.Reader, form bool) (a answer, ok bool) {
	r, err := http.NewRequest("POST", v.url+path, body)
	if err != nil {
		v.t.Fatal(err)
	}
	r.Header.Set("Seatboard-Token", v.token)
	if form {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	}
	got, err := v.client.Do(r)
	if err != nil {
		return a, false
	}
	defer got.Body.Close()
	return a, json.NewDecoder(got.Body).Decode(&a) == nil
}

// sends sends the nth photograph and tells whether it was said to be safe.
func (v *visitor) sends(n int) bool {
	content, sum := shot(v.t, n)
	id := fmt.Sprintf("%032x", n)
	a, ok := v.ask("/uploads", strings.NewReader(url.Values{"id": {id}, "name": {"../../x.jpg"}, "size": {strconv.Itoa(len(content))}, "sha256": {sum}}.Encode()), true)
	for ok && a.Wrong == nil && !a.Safe {
		if int(a.At) < len(content) {
			a, ok = v.ask(fmt.Sprintf("/uploads/%s?at=%d", id, a.At), bytes.NewReader(content[a.At:min(int(a.At)+30_000, len(content))]), false)
		} else {
			a, ok = v.ask("/uploads/"+id+"/finish", nil, false)
		}
	}
	if ok && a.Wrong != nil {
		v.t.Errorf("photograph %d: %+v", n, *a.Wrong)
	}
	return ok && a.Safe
}

// TestKilledWhilePhotographsArrive kills the program at random moments while
// photographs arrive, two at a time; each that was said to be safe is there
// afterwards, whole, and nothing half-written is. It runs 20 rounds, or as
// many as SEATBOARD_KILL_ROUNDS says.
func TestKilledWhilePhotographsArrive(t *testing.T) {
	rounds := 20
	if n, err := strconv.Atoi(os.Getenv("SEATBOARD_KILL_ROUNDS")); err == nil {
		rounds = n
	}
	if testing.Short() {
		rounds = 3
	}
	dir := t.TempDir()
	safe := map[int]bool{}
	for round := 0; round < rounds || len(safe) == 0 && round < 200; round++ {
		within := time.Duration(30+rand.IntN(300)+10*round) * time.Millisecond
		for _, n := range sendUntilKilled(t, dir, round, within) {
			safe[n] = true
		}
	}
	s := start(t, dir)
	v := newVisitor(t, s.url)
	v.get("/photos")
	for n := range safe {
		content, sum := shot(t, n)
		if kept, err := os.ReadFile(filepath.Join(dir, "files", sum)); err != nil || !bytes.Equal(kept, content) {
			t.Errorf("photograph %d was said to be safe and is not as it was: %v", n, err)
		}
		a, ok := v.ask("/uploads", strings.NewReader(url.Values{"id": {fmt.Sprintf("%032x", 1<<40+n)}, "name": {"x"}, "size": {strconv.Itoa(len(content))}, "sha256": {sum}}.Encode()), true)
		if !ok || !a.Safe {
			t.Errorf("photograph %d was said to be safe and is not in the book: %+v", n, a)
		}
	}
	_ = s.cmd.Process.Signal(os.Interrupt)
	_ = s.cmd.Wait()
	wholeFiles(t, dir)
	check := exec.Command(os.Args[0], "check", "--data", dir)
	check.Env = append(os.Environ(), "SEATBOARD_TEST_MAIN=1")
	if out, err := check.CombinedOutput(); err != nil || !strings.Contains(string(out), "whole") {
		t.Errorf("check: %v %s", err, out)
	}
	if len(safe) == 0 {
		t.Error("no photograph was ever safe: nothing was tested")
	}
	t.Logf("%d rounds, %d photographs said to be safe, none lost", rounds, len(safe))
}

// sendUntilKilled sends photographs until the program is killed, so long after
// its start, and gives those that were said to be safe.
func sendUntilKilled(t *testing.T, dir string, round int, within time.Duration) []int {
	t.Helper()
	s := start(t, dir)
	time.AfterFunc(within, func() { _ = s.cmd.Process.Signal(syscall.SIGKILL) })
	found := make(chan []int)
	for sender := range 2 {
		v := newVisitor(t, s.url)
		r, err := v.client.Get(s.url + "/photos")
		if err != nil {
			go func() { found <- nil }()
			continue
		}
		page, _ := io.ReadAll(r.Body) // cut short where it was killed by then
		r.Body.Close()
		_, after, _ := strings.Cut(string(page), `name="token" value="`)
		v.token, _, _ = strings.Cut(after, `"`)
		go func() {
			var safe []int
			for n := 1000*round + 500*sender; v.token != "" && v.sends(n); n++ {
				safe = append(safe, n)
			}
			found <- safe
		}()
	}
	all := append(<-found, <-found...)
	_ = s.cmd.Wait()
	return all
}

// wholeFiles wants every kept file to be what its name says, and nothing else
// to be there.
func wholeFiles(t *testing.T, dir string) {
	t.Helper()
	kept, err := os.ReadDir(filepath.Join(dir, "files"))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range kept {
		content, err := os.ReadFile(filepath.Join(dir, "files", e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		if sum := sha256.Sum256(content); hex.EncodeToString(sum[:]) != e.Name() {
			t.Errorf("%s is not what its name says", e.Name())
		}
	}
}
