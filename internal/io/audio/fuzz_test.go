package audio

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"testing"
)

// seed adds our recordings, sound and damaged.
func seed(f *testing.F, names ...string) {
	for _, n := range names {
		f.Add(bytesOf(f, n))
	}
	for _, d := range damagedFiles(f) {
		if len(d.b) < 20_000 {
			f.Add(d.b)
		}
	}
}

// FuzzOgg: pages are made whole again, so that more than their sum is tried.
func FuzzOgg(f *testing.F) {
	seed(f, "clicks.ogg", "clicks.opus")
	f.Fuzz(func(t *testing.T, b []byte) {
		o, n := newOgg(bytes.NewReader(resum(bytes.Clone(b)))), 0
		for {
			p, err := o.next()
			if n += len(p.data); n > len(b) {
				t.Fatalf("%d bytes of packets out of %d", n, len(b))
			}
			var hurt damage
			if err != nil {
				if !errors.Is(err, io.EOF) && !errors.As(err, &hurt) {
					t.Fatal(err)
				}
				return
			}
		}
	})
}

// FuzzVorbisHeads: what the checks let through, the library must read without
// failing and with little memory.
func FuzzVorbisHeads(f *testing.F) {
	for _, name := range []string{"clicks.ogg", "clicks-other.ogg"} {
		o := newOgg(mustFile(f, name))
		var heads [3][]byte
		for i := range heads {
			p, err := o.next()
			if err != nil {
				f.Fatal(err)
			}
			heads[i] = bytes.Clone(p.data)
		}
		f.Add(heads[0], heads[1], heads[2])
	}
	f.Fuzz(func(t *testing.T, identity, comment, setup []byte) {
		_, channels, err := scanVorbisIdentity(identity)
		if err == nil && (channels < 1 || channels > 8) {
			t.Fatal(channels)
		}
		_ = scanVorbisComment(comment)
		_ = scanVorbisSetup(setup)
	})
}

// FuzzOpusHead, too, only must not fail.
func FuzzOpusHead(f *testing.F) {
	f.Add([]byte("OpusHead\x01\x01\x38\x01\x80\xbb\x00\x00\x00\x00\x00"))
	f.Fuzz(func(t *testing.T, b []byte) {
		channels, skip, gain, err := scanOpusHead(b)
		if err == nil && (channels < 1 || channels > 2 || skip < 0 || !(gain > 0)) {
			t.Fatal(channels, skip, gain)
		}
	})
}

// FuzzMP3Frames: whole frames come out, never more than went in; those of low
// rates hold the same sound, laid out anew.
func FuzzMP3Frames(f *testing.F) {
	seed(f, "clicks.mp3", "clicks-vbr-stereo.mp3", "clicks-24k.mp3", "clicks-22050.mp3", "clicks-22050-vbr-stereo.mp3", "clicks-11025.mp3")
	f.Fuzz(func(t *testing.T, b []byte) {
		r := bufio.NewReader(bytes.NewReader(b))
		if skipTags(r) != nil {
			return
		}
		head, _ := r.Peek(4)
		if len(head) < 4 || !mp3HeaderAt(head).sync() {
			return
		}
		h := mp3HeaderAt(head)
		in, _ := io.ReadAll(r)
		out, err := io.ReadAll(&mp3Frames{r: bufio.NewReader(bytes.NewReader(in)), like: h})
		if err != nil || !h.low() && len(out) > len(b) {
			t.Fatal(len(out), len(b), err)
		}
		if h.low() {
			sameMainData(t, h, in, out)
		}
	})
}

// sameMainData compares frame by frame what out, laid out anew, holds of in.
func sameMainData(t *testing.T, h mp3Header, in, out []byte) {
	t.Helper()
	next := func(b []byte, l *lowFrames) (data, rest []byte) {
		h := mp3HeaderAt(b)
		at := h.body()
		data, _, err := l.mainData(h, b[at:at+h.side()], b[at+h.side():h.size()])
		if err != nil {
			t.Fatal(err)
		}
		return data, b[h.size():]
	}
	var was, is lowFrames
	var a, b []byte
	for n := 0; len(out) > 0; n++ {
		if g, want := mp3HeaderAt(out), lowHead(h); !g.sync() || !g.sameAs(want) || g.summed() || g.size() != want.size() {
			t.Fatalf("frame %d begins with %x", n, out[:4])
		}
		a, in = next(in, &was)
		b, out = next(out, &is)
		if !bytes.Equal(a, b) {
			t.Fatalf("frame %d: %d bytes of main data became %d", n, len(a), len(b))
		}
	}
}

// FuzzFLACHeads: whatever stands in the heads, they are refused or make sense.
func FuzzFLACHeads(f *testing.F) {
	seed(f, "clicks.flac", "clicks-24-bits-stereo.flac")
	f.Fuzz(func(t *testing.T, b []byte) {
		s, err := openFLAC(bufio.NewReader(bytes.NewReader(b)))
		if err == nil && (s.state.Rate < leastRate || s.state.Rate > mostRate || s.state.Channels < 1 || s.state.Channels > 8) {
			t.Fatalf("%+v", s.state)
		}
	})
}

// FuzzDecode: checks and libraries together, as the child has them.
func FuzzDecode(f *testing.F) {
	seed(f, "clicks.ogg", "clicks.opus", "clicks.flac", "clicks.mp3", "clicks-24k.mp3", "clicks-22050.mp3", "clicks-22050-vbr-stereo.mp3")
	f.Fuzz(func(t *testing.T, b []byte) {
		if len(b) > 64<<10 {
			return
		}
		var out counter
		if serve(bytes.NewReader(resum(bytes.Clone(b))), &out) != 0 {
			t.Fatal("the answer was not written")
		}
	})
}

// counter counts what is written.
type counter struct{ n int64 }

func (c *counter) Write(p []byte) (int, error) { c.n += int64(len(p)); return len(p), nil }

// FuzzWire: the program believes nothing of what the child says.
func FuzzWire(f *testing.F) {
	var good bytes.Buffer
	serve(mustFile(f, "clicks.flac"), &good)
	f.Add(good.Bytes()[:200])
	f.Add([]byte(wireMark + "e\x02\x00\x00\x00{}"))
	f.Add([]byte(wireMark + "n\xff\xff\xff\xff"))
	f.Fuzz(func(t *testing.T, b []byte) {
		w := &wireReader{r: bytes.NewReader(b), note: func(string) {}}
		if _, err := w.head(); err != nil {
			return
		}
		if n, err := io.Copy(io.Discard, w); n > int64(len(b)) {
			t.Fatal(n, err)
		}
	})
}
