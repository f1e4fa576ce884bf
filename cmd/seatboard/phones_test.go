package main

import (
	"bufio"
	"crypto/tls"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"sync"
	"testing"
)

// TestServeLan starts the program for phones: its own computer reaches it as
// ever, a phone that was not let in is refused, the keys are this user's
// alone and lie apart, and a second start has the same certificate.
func TestServeLan(t *testing.T) {
	dir, keys := filepath.Join(t.TempDir(), "shop"), filepath.Join(t.TempDir(), "keys")
	var roots [2]string
	for i := range roots {
		own, port, end := startLan(t, dir, keys)
		if r := statusAt(t, own+"/phones"); r != http.StatusOK {
			t.Errorf("the computer itself: %d", r)
		}
		if r := statusAt(t, "https://127.0.0.1:"+port+"/"); r != http.StatusUnauthorized {
			t.Errorf("a phone that was not let in: %d", r)
		}
		if r := statusAt(t, "http://127.0.0.1:"+port+"/"); r != http.StatusBadRequest {
			t.Errorf("plain http on the way of https: %d", r)
		}
		b, err := os.ReadFile(filepath.Join(keys, "root.pem"))
		if err != nil {
			t.Fatal(err)
		}
		roots[i] = string(b)
		end()
	}
	if roots[0] != roots[1] {
		t.Error("a second start has another certificate")
	}
	if info, err := os.Stat(filepath.Join(keys, "root.key")); err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
		t.Errorf("%v, %v", info, err)
	}
}

// startLan runs the program on a shop, and tells the address on the computer,
// the port of phones, and how to end it.
func startLan(t *testing.T, dir, keys string) (own, port string, end func()) {
	t.Helper()
	cmd := exec.Command(os.Args[0], "serve", "--no-browser", "--lan", "--data", dir, "--keys", keys)
	cmd.Env = append(os.Environ(), "SEATBOARD_TEST_MAIN=1")
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	end = sync.OnceFunc(func() { _ = cmd.Process.Kill(); _ = cmd.Wait() })
	t.Cleanup(end)
	lines := bufio.NewScanner(out)
	for (own == "" || port == "") && lines.Scan() {
		if m := regexp.MustCompile(`open on (http://\S+)`).FindStringSubmatch(lines.Text()); m != nil {
			own = m[1]
		}
		if m := regexp.MustCompile(`by port (\d+)`).FindStringSubmatch(lines.Text()); m != nil {
			port = m[1]
		}
	}
	if own == "" || port == "" {
		t.Fatal("the program ended without an address")
	}
	return own, port, end
}

func statusAt(t *testing.T, url string) int {
	t.Helper()
	c := &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{InsecureSkipVerify: true}, DisableKeepAlives: true}}
	r, err := c.Get(url)
	if err != nil {
		t.Fatal(err)
	}
	_ = r.Body.Close()
	return r.StatusCode
}
