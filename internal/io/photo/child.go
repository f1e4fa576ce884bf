package photo

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"time"

	"seatboard/internal/book/picture"
)

// ChildCommand is the hidden command of the program that calls [Serve].
const ChildCommand = "decode-picture"

// childMark is set in the child's surroundings, so that a child never starts
// another.
const childMark = "SEATBOARD_DECODING"

// Options of a look.
type Options struct {
	Child []string      // the command that calls Serve; this program with ChildCommand if empty
	Wait  time.Duration // how long it may take; a minute if 0
}

const mostAnswer = 16 << 20 // bytes

// Look looks into a file in another process. The error is ctx's or one of
// starting; what is wrong with the file stands in Why.
func Look(ctx context.Context, file *os.File, o Options) (Seen, error) {
	if os.Getenv(childMark) != "" {
		return Seen{}, errors.New("photo: a decoder does not start another")
	}
	argv := o.Child
	if len(argv) == 0 {
		self, err := os.Executable()
		if err != nil {
			return Seen{}, fmt.Errorf("photo: find the decoder: %w", err)
		}
		argv = []string{self, ChildCommand}
	}
	if o.Wait == 0 {
		o.Wait = time.Minute
	}
	if _, err := file.Seek(0, io.SeekStart); err != nil {
		return Seen{}, fmt.Errorf("photo: %w", err)
	}
	head := make([]byte, SniffLen)
	n, _ := file.ReadAt(head, 0) // a short file has a short head
	limit, cancel := context.WithTimeout(ctx, o.Wait)
	defer cancel()
	c := exec.CommandContext(limit, argv[0], argv[1:]...)
	c.Env = []string{childMark + "=1", "GOTRACEBACK=single"}
	c.Stdin = file
	out, said := &capped{most: mostAnswer}, &capped{most: 2000}
	c.Stdout, c.Stderr = out, said
	err := c.Run()
	var ended *exec.ExitError
	switch {
	case ctx.Err() != nil:
		return Seen{}, ctx.Err()
	case err != nil && limit.Err() == nil && !errors.As(err, &ended):
		return Seen{}, fmt.Errorf("photo: start the decoder: %w", err)
	}
	s, ok := read(out.b.Bytes())
	if err == nil && ok {
		return s, nil
	}
	return Seen{Kind: Sniff(head[:n]), Why: why(limit, o, said.b.String())}, nil
}

// why makes a clause of how the child ended.
func why(limit context.Context, o Options, said string) string {
	switch {
	case limit.Err() != nil:
		return fmt.Sprintf("its decoder was not ready after %.0f seconds", o.Wait.Seconds())
	case strings.Contains(said, "out of memory"), strings.Contains(said, "cannot allocate"):
		return "it asks for more memory than a picture needs"
	}
	return "the decoder fails on it"
}

// read reads the answer of the child, of which nothing is believed that does
// not hold.
func read(answer []byte) (s Seen, ok bool) {
	rest, found := bytes.CutPrefix(answer, []byte(answerMark))
	if !found {
		return s, false
	}
	r := bufio.NewReader(bytes.NewReader(rest))
	var n [3]int
	if _, err := fmt.Fscanf(r, "%d %d %d\n", &n[0], &n[1], &n[2]); err != nil {
		return s, false
	}
	var part [3][]byte
	for i, size := range n {
		if size < 0 || size > len(rest) {
			return s, false
		}
		part[i] = make([]byte, size)
		if _, err := io.ReadFull(r, part[i]); err != nil {
			return s, false
		}
	}
	if json.Unmarshal(part[0], &s) != nil {
		return s, false
	}
	s.Small, s.Middle = part[1], part[2]
	pictures := Sniff(s.Small) == picture.JPEG && Sniff(s.Middle) == picture.JPEG
	return s, pictures == (s.Why == "")
}

// capped keeps the first bytes that are written to it.
type capped struct {
	most int
	b    bytes.Buffer
}

func (c *capped) Write(p []byte) (int, error) {
	c.b.Write(p[:min(len(p), c.most-c.b.Len())])
	return len(p), nil
}
