package web

import (
	"bytes"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"seatboard/internal/book/device"
)

func TestAuthor(t *testing.T) {
	s := &Server{Config: Config{By: "at the computer"}}
	r := httptest.NewRequest("POST", "/", nil)
	if got := s.by(r); got != "at the computer" {
		t.Errorf("a change at the computer is by %q", got)
	}
	if got := s.by(from(r, guest{device: device.Device{ID: 1, Name: "Anna"}})); got != "Anna" {
		t.Errorf("a change from Anna’s phone is by %q", got)
	}
}

// TestAuthorsComeFromRequests: no handler takes the author from the server,
// but for the one that lets a phone in.
func TestAuthorsComeFromRequests(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) < 20 {
		t.Fatal(files, err)
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") || name == "guest.go" || name == "pair.go" {
			continue
		}
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(b, []byte("s.By,")) || bytes.Contains(b, []byte("s.By)")) {
			t.Errorf("%s takes the author from the server: write s.by(r)", name)
		}
	}
}
