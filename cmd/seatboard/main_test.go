package main

import (
	"bufio"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain lets the test binary be the program itself.
func TestMain(m *testing.M) {
	if os.Getenv("SEATBOARD_TEST_MAIN") == "1" || len(os.Args) == 2 && (os.Args[1] == "decode-sound" || os.Args[1] == "decode-picture") {
		main()
		return
	}
	testscript.Main(m, map[string]func(){"seatboard": main})
}

// TestScripts runs the command line as people do; each script says in its
// first line what it is about.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(e *testscript.Env) error {
			e.Setenv("XDG_DATA_HOME", filepath.Join(e.WorkDir, "data"))
			e.Setenv("HOME", e.WorkDir)
			return nil
		},
	})
}

// started is a running program.
type started struct {
	cmd *exec.Cmd
	url string
}

// start runs the program on a shop and waits for its address.
func start(t testing.TB, dir string) *started {
	t.Helper()
	cmd := exec.Command(os.Args[0], "serve", "--no-browser", "--data", dir)
	cmd.Env = append(os.Environ(), "SEATBOARD_TEST_MAIN=1")
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	cmd.Stderr = os.Stderr
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = cmd.Process.Kill(); _ = cmd.Wait() })
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		if u := regexp.MustCompile(`http://\S+`).FindString(lines.Text()); u != "" {
			go io.Copy(io.Discard, out)
			return &started{cmd, u}
		}
	}
	t.Fatal("the program ended without an address")
	return nil
}

// TestKilledWhileSaving kills the program in the middle of saves, many times:
// every save that was confirmed to the browser must be there. It runs 20
// rounds, or as many as SEATBOARD_KILL_ROUNDS says.
func TestKilledWhileSaving(t *testing.T) {
	rounds := 20
	if n, err := strconv.Atoi(os.Getenv("SEATBOARD_KILL_ROUNDS")); err == nil {
		rounds = n
	}
	if testing.Short() {
		rounds = 5
	}
	dir := t.TempDir()
	var confirmed []string
	for round := range rounds {
		confirmed = append(confirmed, saveUntilKilled(t, dir, round)...)
	}
	s := start(t, dir)
	v := newVisitor(t, s.url)
	for _, title := range confirmed {
		if page := v.get("/clocks/found?find=" + url.QueryEscape(title)); !strings.Contains(page, title) {
			t.Fatalf("%q was confirmed to the browser and is not in the book", title)
		}
	}
	_ = s.cmd.Process.Signal(os.Interrupt)
	_ = s.cmd.Wait()
	check := exec.Command(os.Args[0], "check", "--data", dir)
	check.Env = append(os.Environ(), "SEATBOARD_TEST_MAIN=1")
	if out, err := check.CombinedOutput(); err != nil || !strings.Contains(string(out), "whole") {
		t.Errorf("check: %v %s", err, out)
	}
	t.Logf("%d rounds, %d saves confirmed, none lost", rounds, len(confirmed))
}

// saveUntilKilled saves clocks through the page until the program is killed
// at a random moment, and gives the titles whose save was confirmed.
func saveUntilKilled(t *testing.T, dir string, round int) []string {
	t.Helper()
	s := start(t, dir)
	v := newVisitor(t, s.url)
	v.get("/clocks/new")
	time.AfterFunc(time.Duration(15+rand.IntN(200))*time.Millisecond, func() { _ = s.cmd.Process.Signal(syscall.SIGKILL) })
	var confirmed []string
	for i := 0; ; i++ {
		title := fmt.Sprintf("clock r%dn%d.", round, i)
		if !v.add(fmt.Sprintf("%d-%d", round, i), title) {
			_ = s.cmd.Wait()
			return confirmed
		}
		confirmed = append(confirmed, title)
	}
}

// visitor is a browser without script.
type visitor struct {
	t      *testing.T
	url    string
	client *http.Client
	token  string
}

func newVisitor(t *testing.T, url string) *visitor {
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	return &visitor{t: t, url: url, client: &http.Client{Jar: jar, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}}
}

func (v *visitor) get(path string) string {
	v.t.Helper()
	r, err := v.client.Get(v.url + path)
	if err != nil {
		v.t.Fatal(err)
	}
	defer r.Body.Close()
	b, _ := io.ReadAll(r.Body)
	if m := regexp.MustCompile(`name="token" value="([^"]*)"`).FindSubmatch(b); m != nil {
		v.token = string(m[1])
	}
	return string(b)
}

// add takes a clock in and tells whether that was confirmed.
func (v *visitor) add(number, title string) bool {
	r, err := v.client.PostForm(v.url+"/clocks", url.Values{"token": {v.token}, "number": {number}, "title": {title}})
	if err != nil {
		return false
	}
	defer r.Body.Close()
	return r.StatusCode == http.StatusSeeOther
}

// TestStopsCleanly: asked to stop, the program finishes and leaves no lock.
func TestStopsCleanly(t *testing.T) {
	dir := t.TempDir()
	s := start(t, dir)
	if err := s.cmd.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	if err := s.cmd.Wait(); err != nil {
		t.Errorf("it ended with %v", err)
	}
	start(t, dir)
}
