package label

import (
	"fmt"
	"math/bits"
	"strconv"
	"strings"

	"seatboard/internal/book/parts"
)

// signs are those of a short id, and places how many stand for the clock.
const (
	signs  = "23456789ACDEFGHJKMNPQRTVWXY"
	places = 6
)

// allMarks is the number of different marks, len(signs)^places.
func allMarks() uint64 {
	n := uint64(1)
	for range places {
		n *= uint64(len(signs))
	}
	return n
}

// Short is the short id of a part, or with "" of the clock itself; "" for a
// UID that is none.
func Short(uid string, n parts.Number) string {
	v, err := strconv.ParseUint(uid, 16, 64)
	if err != nil || len(uid) != 16 {
		return ""
	}
	mark, _ := bits.Mul64(v, allMarks()) // v·all/2^64: it grows with the UID
	var b [places]byte
	for i := places - 1; i >= 0; i-- {
		b[i] = signs[mark%uint64(len(signs))]
		mark /= uint64(len(signs))
	}
	if n == "" {
		return string(b[:])
	}
	return string(b[:]) + "." + string(n)
}

// ID is a short id that was read.
type ID struct {
	Mark   string       // the six signs of the clock
	Number parts.Number // of the part, "" for the clock itself
}

// String is the id as it is printed.
func (d ID) String() string {
	if d.Number == "" {
		return d.Mark
	}
	return d.Mark + "." + string(d.Number)
}

// alike reads what is easily taken for a sign as that sign.
var alike = strings.NewReplacer("S", "5", "B", "8", "Z", "2", "U", "V", " ", "", "-", "")

// Parse reads a short id as it was typed or scanned, with or without the
// address before it; false for anything else.
func Parse(s string) (ID, bool) {
	if i := strings.LastIndex(s, "/p/"); i >= 0 {
		s = s[i+len("/p/"):]
	}
	s = alike.Replace(strings.ToUpper(strings.TrimSpace(s)))
	mark, number, part := strings.Cut(s, ".")
	d := ID{Mark: mark, Number: parts.Number(number)}
	if len(mark) != places || strings.Trim(mark, signs) != "" || part && !d.Number.Valid() {
		return ID{}, false
	}
	return d, true
}

// UIDs is the first and the last UID of clocks that share the mark.
func (d ID) UIDs() (from, to string) {
	mark := uint64(0)
	for _, r := range d.Mark {
		mark = mark*uint64(len(signs)) + uint64(max(strings.IndexRune(signs, r), 0))
	}
	return fmt.Sprintf("%016x", least(mark)), fmt.Sprintf("%016x", least(mark+1)-1)
}

// least is the least UID of a mark: mark·2^64/all, rounded up; 0 beyond the
// last, so that one less is the greatest UID.
func least(mark uint64) uint64 {
	all := allMarks()
	if mark >= all {
		return 0
	}
	quo, rem := bits.Div64(mark, 0, all)
	if rem > 0 {
		quo++
	}
	return quo
}
