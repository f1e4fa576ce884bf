// Package photo looks into the files of photographs: what they are by their
// first bytes, which way up they are, when the camera says that they were
// taken; makes small pictures of them; and writes copies from which all that
// the camera wrote beside the picture is left out.
//
// # What it promises
//
// A file is decoded in another process, which is this program started with
// [ChildCommand]: it has limits of memory, processor time and files, writes
// to nothing but its answer, and is stopped after a minute. A picture is
// decoded only when its own header says at most 64 million pixels and at most
// 30,000 on a side. What cannot be decoded, for whatever reason, is told in a
// clause ([Seen.Why]) and is no error: the file is kept as it came.
//
// A small picture stands upright and has nothing in it but the picture.
//
// [Export] copies a JPEG, PNG or WebP without encoding it anew: it keeps the
// parts that make the picture and drops every other, by a list of what is
// kept, not of what is dropped. The colour profile and the orientation stay.
// What lies behind the end of the picture is dropped as well: telephones put
// whole films there.
//
// # Gaps
//
// HEIC is not decoded, and no copy without the place is made of it. Small
// pictures are in the numbers of the file's own colour space, taken as sRGB.
// The child's memory is limited by the system on Linux alone; elsewhere by
// Go's own limit and the checks made before. A child that lacks memory may end
// in other ways than saying so; the file is kept all the same.
package photo

import "seatboard/internal/book/picture"

// SniffLen is how many bytes [Sniff] looks at.
const SniffLen = 64

// Sniff tells by the first bytes what a file is; "" is nothing that is taken.
func Sniff(head []byte) picture.Kind {
	at := func(i int, s string) bool { return len(head) >= i+len(s) && string(head[i:i+len(s)]) == s }
	switch {
	case at(0, "\xff\xd8\xff"):
		return picture.JPEG
	case at(0, "\x89PNG\r\n\x1a\n"):
		return picture.PNG
	case at(0, "RIFF") && at(8, "WEBP"):
		return picture.WebP
	case at(4, "ftyp") && heic(head):
		return picture.HEIC
	}
	return ""
}

// heic looks through the brands that a file says it is of (ISO/IEC 23008-12,
// 10.2 and annex B: heic, heix, heim, heis; mif1 is any still picture).
func heic(head []byte) bool {
	size := min(len(head), int(head[3])+int(head[2])<<8)
	for i := 8; i+4 <= size; i += 4 {
		switch string(head[i : i+4]) {
		case "heic", "heix", "heim", "heis":
			return true
		}
	}
	return false
}
