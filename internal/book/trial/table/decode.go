package table

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"encoding/csv"
	"errors"
	"io"
	"unicode/utf16"
	"unicode/utf8"
)

// ErrTooLarge is returned where a table has more than MaxBytes.
var ErrTooLarge = errors.New("table: more than 16 MB")

// ErrNotText is returned where a file is no text.
var ErrNotText = errors.New("table: not a text file")

// capped stops with ErrTooLarge behind MaxBytes.
type capped struct {
	r    io.Reader
	left int64
}

func (c *capped) Read(p []byte) (int, error) {
	if c.left < 0 {
		return 0, ErrTooLarge
	}
	n, err := c.r.Read(p)
	if c.left -= int64(n); c.left < 0 {
		return 0, ErrTooLarge
	}
	return n, err
}

// text gives a file as UTF-8 without its mark, whatever it is written in.
func text(r io.Reader) (*bufio.Reader, error) {
	b := bufio.NewReaderSize(&capped{r, MaxBytes}, 1<<16)
	head, err := b.Peek(1 << 15)
	if err != nil && err != io.EOF {
		return nil, err
	}
	switch {
	case bytes.HasPrefix(head, []byte("\xef\xbb\xbf")):
		if _, err = b.Discard(3); err != nil {
			return b, notEOF(err)
		}
		return lines(b, head), nil
	case bytes.HasPrefix(head, []byte("\xff\xfe")):
		return bufio.NewReader(&wide{b, binary.LittleEndian, nil}), nil
	case bytes.HasPrefix(head, []byte("\xfe\xff")):
		return bufio.NewReader(&wide{b, binary.BigEndian, nil}), nil
	case everyOther(head, 1):
		return bufio.NewReader(&wide{b, binary.LittleEndian, nil}), nil
	case everyOther(head, 0):
		return bufio.NewReader(&wide{b, binary.BigEndian, nil}), nil
	case bytes.IndexByte(head, 0) >= 0 || bytes.HasPrefix(head, []byte("PK\x03\x04")):
		return nil, ErrNotText
	case !validButEnd(head):
		return lines(bufio.NewReader(&latin{r: b}), head), nil
	}
	return lines(b, head), nil
}

// everyOther tells text of two bytes a letter without a mark: most of the
// bytes at even places, or at odd ones, are nought, and none of the others.
func everyOther(head []byte, at int) bool {
	nought, others, n := 0, 0, len(head)/2
	for i, c := range head[:2*n] {
		switch {
		case c == 0 && i%2 == at:
			nought++
		case c == 0:
			others++
		}
	}
	return n > 1 && others == 0 && 10*nought > 9*n
}

// lines ends lines with \n where they end with \r alone, as old spreadsheets
// write them.
func lines(b *bufio.Reader, head []byte) *bufio.Reader {
	if bytes.IndexByte(head, '\n') >= 0 || bytes.IndexByte(head, '\r') < 0 {
		return b
	}
	return bufio.NewReader(&returns{b})
}

// returns turns \r into \n.
type returns struct{ r io.Reader }

func (c *returns) Read(p []byte) (int, error) {
	n, err := c.r.Read(p)
	for i, x := range p[:n] {
		if x == '\r' {
			p[i] = '\n'
		}
	}
	return n, err
}

func notEOF(err error) error {
	if err == io.EOF {
		return nil
	}
	return err
}

// validButEnd tells whether b is UTF-8, a rune cut off at its end aside.
func validButEnd(b []byte) bool {
	for i := 0; i < utf8.UTFMax && len(b) > 0; i++ {
		if utf8.Valid(b) {
			return true
		}
		b = b[:len(b)-1]
	}
	return utf8.Valid(b)
}

// wide turns UTF-16 into UTF-8.
type wide struct {
	r     io.Reader
	order binary.ByteOrder
	out   []byte
}

func (w *wide) Read(p []byte) (int, error) {
	if len(w.out) == 0 {
		buf := make([]byte, 8192)
		n, err := io.ReadFull(w.r, buf)
		if n < 2 {
			if err == nil || err == io.ErrUnexpectedEOF {
				err = io.EOF
			}
			return 0, err
		}
		if err != nil && err != io.ErrUnexpectedEOF && err != io.EOF {
			return 0, err
		}
		u := make([]uint16, n/2)
		for i := range u {
			u[i] = w.order.Uint16(buf[2*i:])
		}
		w.out = bytes.ReplaceAll([]byte(string(utf16.Decode(u))), []byte("\ufeff"), nil)
	}
	n := copy(p, w.out)
	w.out = w.out[n:]
	return n, nil
}

// dashes are the few signs of Windows 1252 that Latin-1 does not have and a
// table of figures may.
var dashes = map[byte]rune{0x80: '€', 0x91: '‘', 0x92: '’', 0x93: '“', 0x94: '”', 0x96: '–', 0x97: '—'}

// latin turns Latin-1, with those, into UTF-8.
type latin struct {
	r   io.Reader
	out []byte
}

func (l *latin) Read(p []byte) (int, error) {
	if len(l.out) == 0 {
		var buf [4096]byte
		n, err := l.r.Read(buf[:])
		if n == 0 {
			return 0, err
		}
		for _, b := range buf[:n] {
			r := rune(b)
			if d, ok := dashes[b]; ok {
				r = d
			}
			l.out = utf8.AppendRune(l.out, r)
		}
	}
	n := copy(p, l.out)
	l.out = l.out[n:]
	return n, nil
}

// cells reads rows of cells; a line that begins with # is left out.
func cells(r io.Reader, separator rune) *csv.Reader {
	c := csv.NewReader(r)
	c.Comma, c.Comment = separator, '#'
	c.FieldsPerRecord, c.TrimLeadingSpace, c.ReuseRecord = -1, separator != '\t', true
	return c
}
