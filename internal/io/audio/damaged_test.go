package audio

import (
	"bytes"
	"encoding/binary"
	"io"
	"slices"
	"testing"
)

// defect is a recording of ours with one thing wrong.
type defect struct {
	name    string
	b       []byte
	samples int    // at least so many are read; 0: it is refused
	words   string // in the sentence
}

func bytesOf(t testing.TB, name string) []byte {
	t.Helper()
	b, err := io.ReadAll(mustFile(t, name))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// resum gives every page of an Ogg file its right sum.
func resum(b []byte) []byte {
	for at := 0; at+oggHead <= len(b) && string(b[at:at+4]) == "OggS"; {
		n := oggHead + int(b[at+26])
		for _, l := range b[min(at+oggHead, len(b)):min(at+n, len(b))] {
			n += int(l)
		}
		if at+n > len(b) {
			break
		}
		clear(b[at+22 : at+26])
		binary.LittleEndian.PutUint32(b[at+22:], oggSum(0, b[at:at+n]))
		at += n
	}
	return b
}

// pages are the places of the pages of an Ogg file.
func pages(b []byte) (at []int) {
	for i := range b {
		if bytes.HasPrefix(b[i:], []byte("OggS\x00")) {
			at = append(at, i)
		}
	}
	return at
}

// damagedFiles makes the recordings with a defect.
func damagedFiles(t testing.TB) []defect {
	change := func(name string, f func(b []byte) []byte) []byte { return f(slices.Clone(bytesOf(t, name))) }
	put := func(name, find string, skip int, with string) []byte {
		return change(name, func(b []byte) []byte {
			i := bytes.Index(b, []byte(find))
			if i < 0 {
				t.Fatalf("%s has no %q", name, find)
			}
			copy(b[i+skip:], with)
			return resum(b)
		})
	}
	cut := func(name string, n int) []byte { return change(name, func(b []byte) []byte { return b[:n] }) }
	out := []defect{
		{"vorbis-codebook-dimensions-0", put("clicks.ogg", "BCV", 3, "\x00\x00"), 0, "entries of 0 numbers"},
		{"vorbis-codebook-entries-1", put("clicks.ogg", "BCV", 5, "\x01\x00\x00"), 0, "states 1 entries"},
		{"vorbis-codebook-entries-ffffff", put("clicks.ogg", "BCV", 5, "\xff\xff\xff"), 0, "16777215 entries"},
		{"vorbis-blocks-32768", put("clicks.ogg", "\x01vorbis", 28, "\xff"), 0, "blocks of"},
		{"vorbis-channels-0", put("clicks.ogg", "\x01vorbis", 11, "\x00"), 0, "0 channels"},
		{"vorbis-rate-1", put("clicks.ogg", "\x01vorbis", 12, "\x01\x00\x00\x00"), 0, "it has 1 samples a second"},
		{"vorbis-comment-length-ffffffff", put("clicks.ogg", "\x03vorbis", 7, "\xff\xff\xff\xff"), 0, "comments are longer"},
		{"opus-channels-255", put("clicks.opus", "OpusHead", 9, "\xff"), 0, "255 channels"},
		{"opus-tags-count-ffffffff", put("clicks.opus", "OpusTags", 8, "\x00\x00\x00\x00\xff\xff\xff\xff"), 0, "states 4294967295 comments"},
		{"flac-rate-0", change("clicks.flac", func(b []byte) []byte { copy(b[18:], "\x00\x00\x00"); return b }), 0, "it has 0 samples a second"},
		{"flac-head-of-16-MB", change("clicks.flac", func(b []byte) []byte { copy(b[43:], "\xff\xff\xff"); return b }), 0, "ends before the first sample"},
		{"flac-heads-only", cut("clicks.flac", 60), 0, "ends before the first sample"},
		{"flac-cut", cut("clicks.flac", 4000), 4000, "ends in the middle of a frame"},
		{"mp3-cut", cut("clicks.mp3", 4000), 10000, "ends in the middle of a frame"},
		{"mp3-hole", change("clicks.mp3", func(b []byte) []byte { return slices.Delete(b, 4000, 4100) }), 10000, "does not begin where it must"},
		{"mp3-tag-larger-than-file", append([]byte("ID3\x04\x00\x00\x7f\x7f\x7f\x7f"), make([]byte, 100)...), 0, "larger than 64 MB"},
		{"mp3-low-cut", cut("clicks-22050.mp3", 4000), 10000, "ends in the middle of a frame"},
		{"mp3-low-states-too-much", change("clicks-22050.mp3", func(b []byte) []byte { copy(b[4+1:], "\x7f\xff"); return b }), 0, "states more than it holds"},
		{"mp3-8000", append([]byte("\xff\xe3\x48\xc4"), make([]byte, 300)...), 0, "8,000 samples a second"},
		{"mp3-free-size", append([]byte("\xff\xfb\x04\xc4"), make([]byte, 300)...), 0, "of free size"},
		{"ogg-flood-of-empty-pages", emptyPages(1000), 0, "ends before the first sample"},
		{"ogg-packet-without-end", endlessPacket(300), 0, "larger than any sound needs"},
	}
	for _, name := range []string{"clicks.ogg", "clicks.opus"} {
		at := pages(bytesOf(t, name))
		out = append(out,
			defect{name + "-bit-wrong", change(name, func(b []byte) []byte { b[at[2]+200] ^= 1; return b }), 0, "sum of a page is wrong"},
			defect{name + "-heads-only", cut(name, at[2]), 0, "ends before the first sample"},
			defect{name + "-page-missing", change(name, func(b []byte) []byte { return append(b[:at[1]], b[at[2]:]...) }), 0, "a page is missing"})
	}
	return out
}

// oggPage is one page with a right sum.
func oggPage(flags byte, number uint32, laces, body []byte) []byte {
	b := append([]byte("OggS\x00"), flags)
	b = append(b, make([]byte, 8)...)
	b = binary.LittleEndian.AppendUint32(b, 7)
	b = binary.LittleEndian.AppendUint32(b, number)
	b = append(b, 0, 0, 0, 0, byte(len(laces)))
	return resum(append(append(b, laces...), body...))
}

func emptyPages(n int) (b []byte) {
	for i := range n {
		flags := byte(0)
		if i == 0 {
			flags = oggBegins
		}
		b = append(b, oggPage(flags, uint32(i), nil, nil)...)
	}
	return b
}

// endlessPacket is one packet that goes on over n full pages.
func endlessPacket(n int) (b []byte) {
	laces, body := bytes.Repeat([]byte{255}, 255), make([]byte, 255*255)
	for i := range n {
		flags := byte(oggContinued)
		if i == 0 {
			flags = oggBegins
		}
		b = append(b, oggPage(flags, uint32(i), laces, body)...)
	}
	return b
}
