// Package device is a phone, or another computer, that was let into the shop:
// who works with it, when it came and was last here, and whether it is still
// let in.
//
// A device shows a key of 256 random bits. What is kept of it is its SHA-256,
// from which the key cannot be found, so that neither the records nor a
// backup of them let anybody in.
package device

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"seatboard/internal/kit/meas"
)

// Device is a device that was let in once.
type Device struct {
	ID      int64
	Name    string    // of who works with it, as it stands in the history; 1 to 40 characters
	Key     string    // SHA-256 of its key, 64 hexadecimal figures
	Root    string    // fingerprint of the root it was let in under, "" without https
	Paired  time.Time // let in at
	Seen    time.Time // last seen, within five minutes
	Revoked time.Time // shut out at; zero while it is let in
}

// LetIn tells whether it may come in.
func (d Device) LetIn() bool { return d.Revoked.IsZero() }

// SeenEvery is how often it is written down that a device was here.
const SeenEvery = 5 * time.Minute

// MaxName is the most characters of a name.
const MaxName = 40

// Check finds what keeps a device from being let in.
func (d Device) Check() meas.Faults {
	var f meas.Faults
	switch {
	case strings.TrimSpace(d.Name) == "":
		f = append(f, meas.Fault{Field: "name", Text: "Enter your name, as it is to stand in the history"})
	case utf8.RuneCountInString(d.Name) > MaxName || !utf8.ValidString(d.Name) || strings.ContainsFunc(d.Name, hiding):
		f = append(f, meas.Fault{Field: "name", Text: "The name must be plain words of at most 40 characters"})
	}
	if b, err := hex.DecodeString(d.Key); err != nil || len(b) != sha256.Size {
		f = append(f, meas.Fault{Text: "The key of the device is not a SHA-256"})
	}
	return f
}

// hiding tells whether a character is not seen, or turns the others round.
func hiding(r rune) bool {
	return unicode.IsControl(r) || unicode.Is(unicode.Cf, r)
}

// Digest is what is kept of a key.
func Digest(key string) string {
	sum := sha256.Sum256([]byte(key))
	return hex.EncodeToString(sum[:])
}
