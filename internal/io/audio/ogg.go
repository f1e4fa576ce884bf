package audio

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math/bits"
)

// damage is where a compressed recording stops making sense. Its text is the
// end of a sentence.
type damage string

func (d damage) Error() string { return string(d) }

func damaged(format string, a ...any) error { return damage(fmt.Sprintf(format, a...)) }

// ogg takes the packets of the first stream out of an Ogg file. It trusts
// nothing: each page is checked as a whole before a packet of it is given.
type ogg struct {
	r      *bufio.Reader
	first  bool   // a page has been read
	serial uint32 // of the stream
	number uint32 // of the next page
	open   []byte // packet that goes on in the next page
	laces  []byte // of the page, not used yet
	body   []byte // of the page, not used yet
	end    bool   // the page is the stream's last
	count  int64  // the page's own count of samples, -1 where it has none
	most   int    // bytes of a packet
}

// Limits of packets: the heads may hold a picture.
const (
	mostHeadPacket  = 16 << 20
	mostSoundPacket = 1 << 20
)

func newOgg(r io.Reader) *ogg {
	return &ogg{r: bufio.NewReaderSize(r, 64<<10), most: mostHeadPacket}
}

// packet is one packet; it is valid until the next.
type oggPacket struct {
	data []byte
	// last tells that no other packet ends on its page; then count is the
	// page's own count of samples up to its end, -1 where it has none, and end
	// tells that the stream ends here.
	last  bool
	count int64
	end   bool
}

func (o *ogg) next() (oggPacket, error) {
	for {
		if len(o.laces) == 0 {
			if o.end {
				return oggPacket{}, o.atEnd()
			}
			if err := o.page(); err != nil {
				return oggPacket{}, err
			}
		}
		if p, ok, err := o.take(); ok || err != nil {
			return p, err
		}
	}
}

func (o *ogg) atEnd() error {
	if len(o.open) > 0 {
		return damaged("it ends in the middle of a packet")
	}
	return io.EOF
}

// take takes one packet from the page, or what the page has of one.
func (o *ogg) take() (oggPacket, bool, error) {
	n, ends := 0, false
	for !ends && len(o.laces) > 0 {
		n += int(o.laces[0])
		ends = o.laces[0] < 255
		o.laces = o.laces[1:]
	}
	part := o.body[:n]
	o.body = o.body[n:]
	if len(o.open)+n > o.most {
		return oggPacket{}, false, damaged("a packet is larger than any sound needs")
	}
	if !ends {
		o.open = append(o.open, part...)
		return oggPacket{}, false, nil
	}
	if len(o.open) > 0 {
		part = append(o.open, part...)
		o.open = nil
	}
	last := true
	for _, l := range o.laces {
		last = last && l == 255
	}
	return oggPacket{part, last, o.count, o.end}, true, nil
}

const (
	oggHead      = 27
	oggContinued = 1
	oggBegins    = 2
	oggEnds      = 4
)

// page reads the next page of the stream that has segments; pages of other
// streams are passed over.
func (o *ogg) page() error {
	for {
		head, laces, body, err := o.anyPage()
		if err != nil {
			return err
		}
		serial, number := binary.LittleEndian.Uint32(head[14:]), binary.LittleEndian.Uint32(head[18:])
		if !o.first {
			if head[5]&oggBegins == 0 {
				return damaged("its first page is missing")
			}
			o.first, o.serial, o.number = true, serial, number
		}
		if serial != o.serial {
			continue
		}
		if number != o.number {
			return damaged("a page is missing")
		}
		o.number++
		if (head[5]&oggContinued != 0) != (len(o.open) > 0) && len(laces) > 0 {
			return damaged("a packet is missing its beginning or its end")
		}
		o.laces, o.body = laces, body
		o.end = head[5]&oggEnds != 0
		o.count = int64(binary.LittleEndian.Uint64(head[6:]))
		return nil
	}
}

// anyPage reads one page and checks its sum.
func (o *ogg) anyPage() (head, laces, body []byte, err error) {
	head = make([]byte, oggHead)
	if n, err := io.ReadFull(o.r, head); err != nil {
		if n > 0 || len(o.open) > 0 {
			return nil, nil, nil, oggEnd(err)
		}
		return nil, nil, nil, err
	}
	if string(head[:4]) != "OggS" || head[4] != 0 {
		return nil, nil, nil, damaged("a page does not begin where it must")
	}
	laces = make([]byte, head[26])
	if _, err := io.ReadFull(o.r, laces); err != nil {
		return nil, nil, nil, oggEnd(err)
	}
	n := 0
	for _, l := range laces {
		n += int(l)
	}
	body = make([]byte, n)
	if _, err := io.ReadFull(o.r, body); err != nil {
		return nil, nil, nil, oggEnd(err)
	}
	sum := binary.LittleEndian.Uint32(head[22:])
	clear(head[22:26])
	if oggSum(oggSum(oggSum(0, head), laces), body) != sum {
		return nil, nil, nil, damaged("the sum of a page is wrong")
	}
	return head, laces, body, nil
}

func oggEnd(err error) error {
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return damaged("it ends in the middle of a page")
	}
	return err
}

// oggTable is x^32 to x^39 modulo 0x04c11db7 for each byte.
var oggTable = func() (t [256]uint32) {
	for i := range t {
		r := uint32(i) << 24
		for range 8 {
			r = r<<1 ^ uint32(int32(r)>>31)&0x04c11db7
		}
		t[i] = r
	}
	return t
}()

func oggSum(sum uint32, b []byte) uint32 {
	for _, v := range b {
		sum = sum<<8 ^ oggTable[byte(sum>>24)^v]
	}
	return sum
}

// bitReader reads numbers from the low end of each byte, as Vorbis has them.
type bitReader struct {
	b    []byte
	at   int // bits
	over bool
}

func (r *bitReader) read(n int) uint32 {
	if r.at+n > 8*len(r.b) {
		r.over = true
		return 0
	}
	var v uint64
	for i := range (r.at&7 + n + 7) / 8 {
		v |= uint64(r.b[r.at>>3+i]) << (8 * i)
	}
	v >>= r.at & 7
	r.at += n
	return uint32(v & (1<<n - 1))
}

// skip passes over n bits.
func (r *bitReader) skip(n int) {
	if n < 0 || n > 8*len(r.b)-r.at {
		r.over = true
		return
	}
	r.at += n
}

func bitLength(v int) int { return bits.Len(uint(v)) }
