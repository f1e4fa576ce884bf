package audio

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"runtime"
	"strings"
	"testing"

	"seatboard/internal/craft/listen/beat"
)

// sparse is a stream of silence, of any length and at no cost, with 16-bit
// samples in it at stated bytes; it counts what was read of it.
type sparse struct {
	at, size int64
	marks    map[int64]int16 // by byte, even
	dirty    int             // reads until p is surely silent again
}

func (s *sparse) Read(p []byte) (int, error) {
	if s.at == s.size {
		return 0, io.EOF
	}
	n := min(int64(len(p)), s.size-s.at)
	if s.dirty > 0 {
		clear(p[:n])
		s.dirty--
	}
	for at, v := range s.marks {
		for i, b := range []byte{byte(v), byte(v >> 8)} {
			if k := at + int64(i) - s.at; k >= 0 && k < n {
				p[k], s.dirty = b, 3
			}
		}
	}
	s.at += n
	return int(n), nil
}

// TestRF64BeyondFourGiB reads more than 4 GiB of 64 channels to the end: what
// stands beyond the reach of 32 bits is at its right place, what follows the
// sound is left out, a recording that is cut there says so, and the memory
// stays that of a block.
func TestRF64BeyondFourGiB(t *testing.T) {
	const channels, frame = 64, 128
	const frames = (4<<30+4<<20)/frame + 7
	marks := map[int]int16{0: 11, 1<<32/frame - 1: 12, 1 << 32 / frame: 13, 1<<32/frame + 3: 14, frames - 1: 15}
	head := wave{id: "RF64", ds64: frames * frame, tag: 1, channels: channels, rate: 192000, bits: 16, stated: 0xffffffff}.bytes()
	plainHead := wave{tag: 1, channels: channels, rate: 192000, bits: 16, stated: frames*frame - 4<<30}.bytes()
	for _, c := range []struct {
		name   string
		head   []byte
		stream int64 // bytes after the head
		file   bool
		frames int
		note   string
	}{
		{"RF64", head, frames*frame + 1000, false, frames, ""},
		{"RF64, cut short", head, frames*frame - 2*frame - 1, false, frames - 3, "states more sound than there is"},
		{"WAV whose size has wrapped", plainHead, frames * frame, true, frames, "longer than a plain WAV header can state"},
	} {
		at := map[int64]int16{}
		for i, v := range marks {
			at[int64(i)*frame] = v
		}
		var r io.Reader = io.MultiReader(bytes.NewReader(c.head), &sparse{size: c.stream, marks: at})
		if c.file {
			r = sized{r, int64(len(c.head)) + c.stream}
		}
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		s := mustOpen(t, r, Options{Channel: 1})
		n, found := countMarks(t, s)
		runtime.ReadMemStats(&after)
		if n != c.frames {
			t.Errorf("%s: %d samples, want %d", c.name, n, c.frames)
		}
		for i, v := range marks {
			if i < c.frames && found[i] != v {
				t.Errorf("%s: sample %d is %d, want %d", c.name, i, found[i], v)
			}
		}
		if len(found) > len(marks) {
			t.Errorf("%s: silence is not silent: %v", c.name, found)
		}
		if notes := strings.Join(s.Notes(), " "); (c.note == "") != (notes == "") || !strings.Contains(notes, c.note) {
			t.Errorf("%s: notes %q, want %q", c.name, notes, c.note)
		}
		if grown := after.TotalAlloc - before.TotalAlloc; grown > 1<<20 {
			t.Errorf("%s: %d bytes were taken", c.name, grown)
		}
	}
}

// countMarks reads to the end and gives what is not silence.
func countMarks(t *testing.T, s Sound) (n int, found map[int]int16) {
	t.Helper()
	found = map[int]int16{}
	x := make([]int16, 1<<16)
	for {
		got, err := s.(beat.Source16).ReadInt16(x)
		for i, v := range x[:got] {
			if v != 0 {
				found[n+i] = v
			}
		}
		if n += got; err != nil {
			if !errors.Is(err, io.EOF) {
				t.Fatal(err)
			}
			return n, found
		}
	}
}

// TestWAVRates: every usual rate is read as it is, and a header that lies
// about bytes a second is not believed there.
func TestWAVRates(t *testing.T) {
	for _, rate := range []int{8000, 11025, 12000, 16000, 22050, 24000, 32000, 44100, 48000, 88200, 96000, 176400, 192000} {
		w := plain(pcm16Bytes(1, -2, 3))
		w.rate = rate
		b := w.bytes()
		binary.LittleEndian.PutUint32(b[28:], 7) // bytes a second
		s := mustOpen(t, bytes.NewReader(b), Options{})
		if got := whole(t, s); len(got) != 3 || got[1] != -2 || s.Rate() != float64(rate) || len(s.Notes()) != 0 {
			t.Errorf("%d samples a second: %v, %+v, %q", rate, got, s.Info(), s.Notes())
		}
	}
}

// TestWAVLies: headers that cannot be true do no harm, and what sound there
// is is read.
func TestWAVLies(t *testing.T) {
	five := pcm16Bytes(1, 2, 3, 4, 5)
	for _, c := range []struct {
		name    string
		change  func(*wave)
		samples int
		note    string
	}{
		{"a format twice, the second holds", func(w *wave) {
			o := *w
			o.rate, o.data = 8000, nil
			b := o.bytes()
			w.before = string(b[12 : len(b)-8])
		}, 5, ""},
		{"RF64 of less than nothing", func(w *wave) { w.id, w.ds64, w.stated = "RF64", -2, 0xffffffff }, 5, "does not state how long"},
		{"RF64 of more than any disk", func(w *wave) { w.id, w.ds64, w.stated = "RF64", 1<<63-1, 0xffffffff }, 5, "states more sound than there is"},
		{"a sound of one byte", func(w *wave) { w.stated = 1 }, 0, "in the middle of a sample"},
		{"an odd sound", func(w *wave) { w.stated = 5 }, 2, "in the middle of a sample"},
	} {
		w := plain(five)
		c.change(&w)
		s := mustOpen(t, bytes.NewReader(w.bytes()), Options{})
		got := whole(t, s)
		if notes := strings.Join(s.Notes(), " "); len(got) != c.samples || s.Rate() != 48000 || (c.note == "") != (notes == "") || !strings.Contains(notes, c.note) {
			t.Errorf("%s: %v, %v samples/s, notes %q", c.name, got, s.Rate(), notes)
		}
	}
}
