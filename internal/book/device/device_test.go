package device

import (
	"strings"
	"testing"
	"time"
)

func TestCheck(t *testing.T) {
	for name, want := range map[string]int{
		"Anna’s phone": 0, strings.Repeat("é", 40): 0, "": 1, "  ": 1, strings.Repeat("é", 41): 1, "a\nb": 1, "\u202eenohp": 1, "\xff": 1,
	} {
		if got := (Device{Name: name, Key: Digest("x")}).Check(); len(got) != want {
			t.Errorf("%q: %v", name, got)
		}
	}
	if (Device{Name: "a", Key: "x"}).Check() == nil {
		t.Error("a key that is no digest is kept")
	}
}

func TestLetIn(t *testing.T) {
	if !(Device{}).LetIn() || (Device{Revoked: time.Unix(1, 0)}).LetIn() {
		t.Error("only one that was shut out is shut out")
	}
}

// TestDigest holds the digest to FIPS 180-4's SHA-256 of "abc", as printed in
// NIST's example values.
func TestDigest(t *testing.T) {
	if got := Digest("abc"); got != "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad" {
		t.Error(got)
	}
}
