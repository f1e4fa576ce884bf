package web

import (
	"io"
	"net/http"
	"time"
)

// A body may come slowly, but not for ever: so long may pass between two
// pieces, and so much must have come in all after a while.
const (
	pieceTime = 30 * time.Second
	graceTime = 60 * time.Second
	leastRate = 4 << 10 // bytes a second
)

// rolling is a body that has to come in time.
type rolling struct {
	io.ReadCloser
	begun time.Time
	came  int64
	until func(time.Time) error
}

func inTime(w http.ResponseWriter, body io.ReadCloser) io.ReadCloser {
	return &rolling{ReadCloser: body, begun: time.Now(), until: http.NewResponseController(w).SetReadDeadline}
}

// deadline is when the next piece must be here.
func (b *rolling) deadline(now time.Time) time.Time {
	whole := b.begun.Add(graceTime + time.Duration(b.came/leastRate)*time.Second)
	if piece := now.Add(pieceTime); piece.Before(whole) {
		return piece
	}
	return whole
}

// Read reads the next piece.
func (b *rolling) Read(p []byte) (int, error) {
	_ = b.until(b.deadline(time.Now())) // not all connections have one
	n, err := b.ReadCloser.Read(p)
	_ = b.until(time.Time{}) // while it is worked on nothing presses
	b.came += int64(n)
	return n, err
}
