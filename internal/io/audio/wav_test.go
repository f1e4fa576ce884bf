package audio

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"io"
	"io/fs"
	"math"
	"os"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/kit/check"
)

// wave makes WAV files of any kind, right or wrong.
type wave struct {
	id       string // "RIFF" where empty
	tag      uint16
	ext      uint16 // format in an extensible head
	channels int
	rate     int
	bits     int
	align    int // where not channels*bits/8
	before   string
	after    string
	stated   int64 // size of the data, -1 for what is there
	ds64     int64
	data     []byte
}

func (w wave) bytes() []byte {
	le := binary.LittleEndian
	if w.id == "" {
		w.id = "RIFF"
	}
	if w.align == 0 {
		w.align = w.channels * w.bits / 8
	}
	var b []byte
	b = append(b, w.id...)
	b = le.AppendUint32(b, 0xffffffff)
	b = append(b, "WAVE"...)
	if w.ds64 != 0 {
		b = le.AppendUint32(append(b, "ds64"...), 28)
		b = le.AppendUint64(le.AppendUint64(b, uint64(w.ds64+100)), uint64(w.ds64))
		b = le.AppendUint32(le.AppendUint64(b, 0), 0)
	}
	b = append(b, w.before...)
	f := le.AppendUint16(le.AppendUint16(nil, w.tag), uint16(w.channels))
	f = le.AppendUint32(le.AppendUint32(f, uint32(w.rate)), uint32(w.rate*w.align))
	f = le.AppendUint16(le.AppendUint16(f, uint16(w.align)), uint16(w.bits))
	if w.tag == 0xfffe {
		f = le.AppendUint16(le.AppendUint16(f, 22), uint16(w.bits))
		f = append(le.AppendUint16(le.AppendUint32(f, 3), w.ext), extensible...)
	}
	b = append(le.AppendUint32(append(b, "fmt "...), uint32(len(f))), f...)
	size := uint32(len(w.data))
	if w.stated >= 0 {
		size = uint32(w.stated)
	}
	b = le.AppendUint32(append(b, "data"...), size)
	return append(append(b, w.data...), w.after...)
}

func pcm16Bytes(x ...int16) []byte {
	var b []byte
	for _, v := range x {
		b = binary.LittleEndian.AppendUint16(b, uint16(v))
	}
	return b
}

func plain(data []byte) wave {
	return wave{tag: 1, channels: 1, rate: 48000, bits: 16, stated: -1, data: data}
}

func mustOpen(t testing.TB, r io.Reader, o Options) Sound {
	t.Helper()
	s, err := OpenReader(context.Background(), r, o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	return s
}

// floats reads all of a sound.
func floats(t testing.TB, s beat.Source) []float32 {
	t.Helper()
	var all []float32
	b := make([]float32, 1000)
	for {
		n, err := s.ReadFloat(b)
		all = append(all, b[:n]...)
		if errors.Is(err, io.EOF) {
			return all
		}
		if err != nil {
			t.Fatal(err)
		}
	}
}

func whole(t testing.TB, s Sound) []int16 {
	t.Helper()
	s16, ok := s.(beat.Source16)
	if !ok {
		t.Fatalf("%+v is not read as 16 bits", s.Info())
	}
	var all []int16
	b := make([]int16, 1000)
	for {
		n, err := s16.ReadInt16(b)
		all = append(all, b[:n]...)
		if errors.Is(err, io.EOF) {
			return all
		}
		if err != nil {
			t.Fatal(err)
		}
	}
}

func near(t *testing.T, what string, got []float32, want ...float64) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%s: %d samples, want %d", what, len(got), len(want))
	}
	for i := range want {
		if math.Abs(float64(got[i])-want[i]) > 1e-7 {
			t.Errorf("%s: sample %d is %v, want %v", what, i, got[i], want[i])
		}
	}
}

func TestWAVNumbers(t *testing.T) {
	le := binary.LittleEndian
	f32 := func(x ...float32) (b []byte) {
		for _, v := range x {
			b = le.AppendUint32(b, math.Float32bits(v))
		}
		return b
	}
	f64 := func(x ...float64) (b []byte) {
		for _, v := range x {
			b = le.AppendUint64(b, math.Float64bits(v))
		}
		return b
	}
	for _, c := range []struct {
		name string
		wave wave
		want []float64
	}{
		{"8 bits", wave{tag: 1, channels: 1, rate: 8000, bits: 8, stated: -1, data: []byte{0, 128, 192, 255}}, []float64{-1, 0, 0.5, 127.0 / 128}},
		{"16 bits", wave{tag: 1, channels: 1, rate: 192000, bits: 16, stated: -1, data: pcm16Bytes(-32768, 0, 1, 32767)}, []float64{-1, 0, 1.0 / 32768, 32767.0 / 32768}},
		{"24 bits", wave{tag: 1, channels: 1, rate: 44100, bits: 24, stated: -1, data: []byte{0, 0, 0x80, 1, 0, 0, 0xff, 0xff, 0xff, 0, 0, 0x40}}, []float64{-1, 1.0 / (1 << 23), -1.0 / (1 << 23), 0.5}},
		{"32 bits", wave{tag: 1, channels: 1, rate: 44100, bits: 32, stated: -1, data: []byte{0, 0, 0, 0x80, 0, 0, 0, 0x40}}, []float64{-1, 0.5}},
		{"float 32", wave{tag: 3, channels: 1, rate: 44100, bits: 32, stated: -1, data: f32(-0.25, 1.5)}, []float64{-0.25, 1.5}},
		{"float 64", wave{tag: 3, channels: 1, rate: 44100, bits: 64, stated: -1, data: f64(-0.25, 0.75)}, []float64{-0.25, 0.75}},
		{"extensible float", wave{tag: 0xfffe, ext: 3, channels: 1, rate: 44100, bits: 32, stated: -1, data: f32(0.5)}, []float64{0.5}},
		{"extensible 20 bits in 3 bytes", wave{tag: 0xfffe, ext: 1, channels: 1, rate: 44100, bits: 20, align: 3, stated: -1, data: []byte{0, 0, 0x40}}, []float64{0.5}},
		{"24 bits in 4 bytes", wave{tag: 1, channels: 1, rate: 44100, bits: 24, align: 4, stated: -1, data: []byte{0, 0, 0, 0xc0}}, []float64{-0.5}},
		{"mean of two, 24 bits", wave{tag: 1, channels: 2, rate: 44100, bits: 24, stated: -1, data: []byte{0, 0, 0x40, 0, 0, 0}}, []float64{0.25}},
	} {
		s := mustOpen(t, bytes.NewReader(c.wave.bytes()), Options{})
		near(t, c.name, floats(t, s), c.want...)
		if s.Rate() != float64(c.wave.rate) || len(s.Notes()) != 0 || s.Info().Frames != int64(len(c.want)) {
			t.Errorf("%s: %v samples/s, %+v, notes %q", c.name, s.Rate(), s.Info(), s.Notes())
		}
	}
}

func TestWAVChannels(t *testing.T) {
	w := wave{tag: 1, channels: 3, rate: 48000, bits: 16, stated: -1, data: pcm16Bytes(10, 20, -31, -5, -6, -6)}
	for channel, want := range [][]int16{{0, -6}, {10, -5}, {20, -6}, {-31, -6}} {
		if got := whole(t, mustOpen(t, bytes.NewReader(w.bytes()), Options{Channel: channel})); got[0] != want[0] || got[1] != want[1] || len(got) != 2 {
			t.Errorf("channel %d: %v, want %v", channel, got, want)
		}
	}
	_, err := OpenReader(context.Background(), bytes.NewReader(w.bytes()), Options{Channel: 4})
	refused(t, err, "channel 4 was asked for and it has 3")
	two := wave{tag: 1, channels: 2, rate: 48000, bits: 16, stated: -1, data: pcm16Bytes(32767, 32767, -32768, -32768, 1, 2, -1, -2)}
	if got := whole(t, mustOpen(t, bytes.NewReader(two.bytes()), Options{})); got[0] != 32767 || got[1] != -32768 || got[2] != 2 || got[3] != -1 {
		t.Errorf("mean of two: %v", got)
	}
}

// refused fails the test unless err is a sentence with these words in it.
func refused(t *testing.T, err error, words string) {
	t.Helper()
	var f *FormatError
	if !errors.As(err, &f) {
		t.Fatalf("not refused: %v", err)
	}
	s := f.Error()
	if !strings.Contains(s, words) || !strings.HasPrefix(s, "This ") || !strings.HasSuffix(s, ".") {
		t.Errorf("refused with %q, want %q in it", s, words)
	}
}

// sized is a stream that knows the size of its file.
type sized struct {
	io.Reader
	size int64
}

func (s sized) Stat() (os.FileInfo, error) { return info{s.size}, nil }

type info struct{ size int64 }

func (i info) Name() string       { return "recording" }
func (i info) Size() int64        { return i.size }
func (i info) Mode() fs.FileMode  { return 0o600 }
func (i info) ModTime() time.Time { return time.Time{} }
func (i info) IsDir() bool        { return false }
func (i info) Sys() any           { return nil }

func TestWAVLengths(t *testing.T) {
	five := pcm16Bytes(1, 2, 3, 4, 5)
	list := "LIST\x05\x00\x00\x00INFOx\x00"
	const notStated, cut, odd = "does not state how long", "states more sound than there is", "in the middle of a sample"
	for _, c := range []struct {
		name    string
		change  func(*wave)
		samples int
		note    string
	}{
		{"right", func(w *wave) {}, 5, ""},
		{"a list before and after", func(w *wave) { w.before, w.after = list, list }, 5, ""},
		{"size 0", func(w *wave) { w.stated = 0 }, 5, notStated},
		{"size ffffffff", func(w *wave) { w.stated = 0xffffffff }, 5, notStated},
		{"size of a pipe", func(w *wave) { w.stated = 0x7ffff000 }, 5, ""},
		{"size of a pipe, 2 GiB", func(w *wave) { w.stated = 0x80000000 }, 5, ""},
		{"cut short", func(w *wave) { w.stated = 1000 }, 5, cut},
		{"cut in a sample", func(w *wave) { w.stated, w.data = 1000, w.data[:9] }, 4, cut},
		{"odd end", func(w *wave) { w.stated, w.data = 0, w.data[:9] }, 4, odd},
		{"RF64", func(w *wave) { w.id, w.ds64, w.stated, w.after = "RF64", 10, 0xffffffff, list }, 5, ""},
		{"BW64", func(w *wave) { w.id, w.ds64, w.stated, w.after = "BW64", 10, 0xffffffff, list }, 5, ""},
		{"RF64 with its own size", func(w *wave) { w.id, w.ds64, w.after = "RF64", 99, list }, 5, ""},
		{"RF64 without ds64", func(w *wave) { w.id, w.stated = "RF64", 0xffffffff }, 5, notStated},
		{"alignment 0", func(w *wave) { w.align = 1 }, 5, "which cannot be"},
	} {
		w := plain(five)
		c.change(&w)
		for _, r := range []io.Reader{bytes.NewReader(w.bytes()), iotest.OneByteReader(bytes.NewReader(w.bytes())), iotest.DataErrReader(bytes.NewReader(w.bytes()))} {
			s := mustOpen(t, r, Options{})
			got := whole(t, s)
			if len(got) != c.samples || got[0] != 1 || got[len(got)-1] != int16(c.samples) {
				t.Errorf("%s: %v, want %d samples", c.name, got, c.samples)
			}
			if notes := strings.Join(s.Notes(), " "); (c.note == "") != (notes == "") || !strings.Contains(notes, c.note) {
				t.Errorf("%s: notes %q, want %q", c.name, notes, c.note)
			}
		}
	}
}

// TestWAVBeyondFourGiB: sizes are kept beyond 32 bits, and a plain header
// whose size has wrapped is believed only as to its remainder.
func TestWAVBeyondFourGiB(t *testing.T) {
	w := plain(pcm16Bytes(7, 8))
	w.id, w.ds64, w.stated = "RF64", 10<<30, 0xffffffff
	s := mustOpen(t, bytes.NewReader(w.bytes()), Options{})
	if s.Info().Frames != 5<<30 {
		t.Errorf("RF64: %d frames", s.Info().Frames)
	}
	w = plain(pcm16Bytes(7, 8))
	w.stated = 4
	h := int64(len(w.bytes())) - 4
	s = mustOpen(t, sized{bytes.NewReader(w.bytes()), h + 4 + 4<<30}, Options{})
	if s.Info().Frames != (4<<30+4)/2 {
		t.Errorf("wrapped: %d frames", s.Info().Frames)
	}
	s = mustOpen(t, sized{bytes.NewReader(w.bytes()), h + 4 + 1<<20}, Options{})
	if s.Info().Frames != 2 {
		t.Errorf("something after the sound: %d frames", s.Info().Frames)
	}
}

func TestWAVRefused(t *testing.T) {
	for _, c := range []struct {
		words  string
		change func(*wave)
	}{
		{"stored as A-law", func(w *wave) { w.tag, w.bits = 6, 8 }},
		{"stored as µ-law", func(w *wave) { w.tag, w.bits = 7, 8 }},
		{"stored as µ-law", func(w *wave) { w.tag, w.ext, w.bits = 0xfffe, 7, 8 }},
		{"stored as IMA ADPCM", func(w *wave) { w.tag, w.bits = 0x11, 4 }},
		{"format number 777", func(w *wave) { w.tag = 777 }},
		{"it has 7999 samples a second", func(w *wave) { w.rate = 7999 }},
		{"it has 192001 samples a second", func(w *wave) { w.rate = 192001 }},
		{"0 channels", func(w *wave) { w.channels, w.align = 0, 2 }},
		{"65 channels", func(w *wave) { w.channels = 65 }},
		{"whole-number samples of 40 bits", func(w *wave) { w.bits = 40 }},
		{"floating-point samples of 16 bits", func(w *wave) { w.tag = 3 }},
		{"of 0 bits", func(w *wave) { w.bits, w.align = 0, 2 }},
		{"big end first", func(w *wave) { w.id = "RIFX" }},
		{"before its sound", func(w *wave) { w.before = "data\x00\x00\x00\x00" }},
		{"ends before the first sample", func(w *wave) { w.before = "LIST\xff\xff\xff\xff" }},
		{"not stated in full", func(w *wave) { w.before = "fmt \x04\x00\x00\x00abcd" }},
	} {
		w := plain(pcm16Bytes(1, 2))
		c.change(&w)
		_, err := OpenReader(context.Background(), bytes.NewReader(w.bytes()), Options{})
		refused(t, err, c.words)
	}
	full := plain(nil).bytes()
	for n := range len(full) {
		if _, err := OpenReader(context.Background(), bytes.NewReader(full[:n]), Options{}); err == nil {
			t.Errorf("the first %d bytes of a header are taken for a recording", n)
		}
	}
	nan := wave{tag: 3, channels: 1, rate: 48000, bits: 32, stated: -1, data: []byte{0, 0, 0, 0, 0, 0, 0xc0, 0x7f}}
	n, err := mustOpen(t, bytes.NewReader(nan.bytes()), Options{}).ReadFloat(make([]float32, 9))
	refused(t, err, "sample 2 is not a number")
	if n != 1 {
		t.Errorf("%d good samples before it, want 1", n)
	}
}

func TestRaw(t *testing.T) {
	s := mustOpen(t, bytes.NewReader(pcm16Bytes(1, 2, 3)), Options{Raw: &RawFormat{Rate: 48000, Bits: 16}})
	if got := whole(t, s); len(got) != 3 || got[2] != 3 || s.Info().Frames != -1 {
		t.Errorf("%v %+v", got, s.Info())
	}
	for _, f := range []RawFormat{{Rate: 48000, Bits: 12}, {Rate: 48000, Bits: 16, Float: true}, {Rate: 48000, Bits: 16, Channels: -1}, {Rate: math.NaN(), Bits: 16}, {Rate: 1, Bits: 16}} {
		_, err := OpenReader(context.Background(), strings.NewReader("x"), Options{Raw: &f})
		refused(t, err, "This raw recording cannot be read")
	}
}

func TestCancel(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	s, err := OpenReader(ctx, io.MultiReader(bytes.NewReader(plain(nil).bytes()[:40]), bytes.NewReader([]byte{0, 0, 0, 0}), endlessZeros{}), Options{})
	if err != nil {
		t.Fatal(err)
	}
	x := make([]float32, 100)
	if _, err := s.ReadFloat(x); err != nil {
		t.Fatal(err)
	}
	cancel()
	for range 3000 {
		if _, err = s.ReadFloat(x); err != nil {
			break
		}
	}
	if !errors.Is(err, context.Canceled) {
		t.Errorf("reading went on: %v", err)
	}
}

type endlessZeros struct{}

func (endlessZeros) Read(p []byte) (int, error) { clear(p); return len(p), nil }

// TestShared reads the real recordings that lie beside the project.
func TestShared(t *testing.T) {
	s, err := Open(context.Background(), check.Shared(t, "data", "noise", "speech_16k.wav"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	n := len(floats(t, s))
	if s.Rate() != 16000 || n < 10*16000 || int64(n) != s.Info().Frames || len(s.Notes()) != 0 {
		t.Errorf("%d samples, %+v, %q", n, s.Info(), s.Notes())
	}
}

// memory is an hour of sound read again and again from memory.
type memory struct{ left int64 }

var noise = bytes.Repeat([]byte{1, 2, 3, 4, 5, 6, 7, 8}, 64<<10)

func (m *memory) Read(p []byte) (int, error) {
	if m.left == 0 {
		return 0, io.EOF
	}
	n := copy(p, noise[:min(int64(len(noise)), m.left)])
	m.left -= int64(n)
	return n, nil
}

// BenchmarkWAV reads ten minutes of 48 kHz.
func BenchmarkWAV(b *testing.B) {
	const seconds = 600
	head := func(channels, bits int) []byte {
		w := wave{tag: 1, channels: channels, rate: 48000, bits: bits, stated: 0}
		return w.bytes()
	}
	for _, c := range []struct {
		name     string
		channels int
		bits     int
		channel  int
	}{{"mono", 1, 16, 0}, {"one-of-two", 2, 16, 1}, {"mean-of-two", 2, 16, 0}, {"mono24", 1, 24, 0}} {
		b.Run(c.name, func(b *testing.B) {
			x, y := make([]int16, 1<<16), make([]float32, 1<<16)
			for b.Loop() {
				s := mustOpen(b, io.MultiReader(bytes.NewReader(head(c.channels, c.bits)), &memory{int64(seconds * 48000 * c.channels * c.bits / 8)}), Options{Channel: c.channel})
				s16, is16 := s.(beat.Source16)
				n, total := 0, 0
				var err error
				for err == nil {
					if is16 {
						n, err = s16.ReadInt16(x)
					} else {
						n, err = s.ReadFloat(y)
					}
					total += n
				}
				if total != seconds*48000 {
					b.Fatal(total)
				}
			}
			b.ReportMetric(seconds*float64(b.N)/b.Elapsed().Seconds(), "×real")
		})
	}
}

func FuzzWAV(f *testing.F) {
	f.Add(plain(pcm16Bytes(1, 2, 3)).bytes())
	f.Add(wave{id: "RF64", ds64: 12, tag: 0xfffe, ext: 3, channels: 2, rate: 44100, bits: 32, stated: 0xffffffff, data: make([]byte, 12), before: "LIST\x05\x00\x00\x00INFOx\x00"}.bytes())
	f.Add(wave{tag: 1, channels: 3, rate: 8000, bits: 24, stated: 90, data: make([]byte, 20)}.bytes())
	f.Add(wave{tag: 1, channels: 1, rate: 192000, bits: 8, stated: 0, data: []byte{1, 2, 3}}.bytes())
	f.Add(wave{tag: 3, channels: 1, rate: 96000, bits: 64, stated: -1, data: make([]byte, 17)}.bytes())
	f.Fuzz(func(t *testing.T, b []byte) {
		if sniff(b) != kindWAV {
			return
		}
		x, end := readFuzzed(t, bytes.NewReader(b))
		y, other := readFuzzed(t, iotest.HalfReader(bytes.NewReader(b)))
		if len(x) > len(b) || len(x) != len(y) || (end == nil) != (other == nil) {
			t.Fatalf("%d bytes: %d samples, %v; in small pieces %d, %v", len(b), len(x), end, len(y), other)
		}
		const rounded = 0.5001 / 32768 // the mean of several, as whole numbers
		for i, v := range x {
			if !(math.Abs(float64(v)-float64(y[i])) <= rounded) {
				t.Fatalf("sample %d is %v, in small pieces %v", i, v, y[i])
			}
		}
		_, _ = readFuzzed(t, sized{bytes.NewReader(b), int64(len(b))<<20 + 5<<30}) // fails the test itself
	})
}

// readFuzzed reads all of a WAV, whatever is in it; every error must be a
// sentence, every sample a number, and 16 bits and floating point the same.
func readFuzzed(t *testing.T, r io.Reader) (all []float32, err error) {
	s, err := OpenReader(context.Background(), r, Options{})
	var x [333]float32
	var w [100]int16
	for n := 0; err == nil; {
		s16, ok := s.(beat.Source16)
		if ok && len(all)%2 == 1 {
			n, err = s16.ReadInt16(w[:])
			for i, v := range w[:n] {
				x[i] = float32(v) / 32768
			}
		} else {
			n, err = s.ReadFloat(x[:])
		}
		if n == 0 && err == nil {
			t.Fatal("nothing read and no error")
		}
		if notFinite(x[:n]) >= 0 {
			t.Fatalf("not a number among %v", x[:n])
		}
		all = append(all, x[:n]...)
	}
	var format *FormatError
	if err == io.EOF {
		return all, nil
	}
	if !errors.As(err, &format) {
		t.Fatalf("not a sentence: %v", err)
	}
	return all, err
}
