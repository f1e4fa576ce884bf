package shop

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"seatboard/internal/book/job"
	"seatboard/internal/book/picture"
	"seatboard/internal/io/photo"
	"seatboard/internal/io/store"
)

// shot is a photograph in one colour, with a place written beside it.
func shot(t testing.TB, c color.Gray) []byte {
	t.Helper()
	m := image.NewGray(image.Rect(0, 0, 900, 600))
	for i := range m.Pix {
		m.Pix[i] = c.Y
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	secret := "GPS 51.5 N, 0.1 W"
	note := append([]byte{0xff, 0xfe, 0, byte(len(secret) + 2)}, secret...) // a comment
	return append(append(bytes.Clone(b.Bytes()[:2]), note...), b.Bytes()[2:]...)
}

func TestPhotographIsKeptAsItCame(t *testing.T) {
	dir := t.TempDir()
	s := deaf(t, dir, (&hand{now: began}).Now)
	c := add(t, s, job.Clock{Number: "2026-001"})
	raw := shot(t, color.Gray{90})
	p, err := s.TakePhoto(t.Context(), "A", `..\..\evil/../dial.heic`, bytes.NewReader(raw), PhotoAsk{Clock: c.ID, Area: "dial", Stage: picture.Before})
	if err != nil || p.Again || p.Name != "dial.heic" {
		t.Fatalf("%+v, %v", p, err)
	}
	got, err := s.Photo(t.Context(), p.UID)
	if err != nil || got.Kind != picture.JPEG || got.Small != picture.Made || got.Width != 900 || got.Height != 600 || got.By != "A" || got.Area != "dial" {
		t.Fatalf("%+v, %v", got, err)
	}
	f, err := s.PhotoFile(got)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if whole, err := io.ReadAll(f); err != nil || !bytes.Equal(whole, raw) {
		t.Errorf("the file is not as it came: %v", err)
	}
	give, err := s.PhotoToGive(got)
	if err != nil {
		t.Fatal(err)
	}
	if out, err := io.ReadAll(give); err != nil || bytes.Contains(out, []byte("GPS")) || len(out) < 1000 {
		t.Errorf("the copy has the place, or nothing: %d bytes, %v", len(out), err)
	}
	if err := os.RemoveAll(filepath.Join(dir, "small")); err != nil { // as after a restore
		t.Fatal(err)
	}
	small, err := s.SmallPhoto(t.Context(), got, photo.SmallSide)
	if err != nil {
		t.Fatal(err)
	}
	defer small.Close()
	if m, err := jpeg.DecodeConfig(small); err != nil || m.Width != photo.SmallSide || m.Height != photo.SmallSide*2/3 {
		t.Errorf("%+v, %v", m, err)
	}
	if err := s.BinPhoto(t.Context(), "A", got.ID, true); err != nil {
		t.Fatal(err)
	}
	p, err = s.TakePhoto(t.Context(), "A", "again.jpg", bytes.NewReader(raw), PhotoAsk{Clock: c.ID, Part: "2"})
	if err != nil || !p.Again || p.UID != got.UID || len(p.Parts) != 1 || !p.Removed.IsZero() {
		t.Errorf("sent again out of the bin: %+v, %v", p, err)
	}
}

func TestWhatIsNoPhotographIsRefused(t *testing.T) {
	dir := t.TempDir()
	s := deaf(t, dir, (&hand{now: began}).Now)
	for name, x := range map[string]struct{ content, say string }{
		"empty.jpg":   {"", "is empty"},
		"drawing.svg": {`<svg xmlns="http://www.w3.org/2000/svg"><script>1</script></svg>`, "is not a photograph"},
		"page.jpg":    {"<!doctype html><script>1</script>", "is not a photograph"},
		"large.jpg":   {"\xff\xd8\xff" + strings.Repeat("x", picture.MaxBytes), "is larger than 60 MB"},
	} {
		_, err := s.TakePhoto(t.Context(), "A", name, strings.NewReader(x.content), PhotoAsk{})
		if err == nil || !strings.Contains(err.Error(), x.say) || AsProblem(err).Code == Internal {
			t.Errorf("%s: %v", name, err)
		}
	}
	if l, err := s.Photos(t.Context(), store.PhotoPlace{}, 0); err != nil || l.Total != 0 {
		t.Errorf("%+v, %v", l, err)
	}
	if left := filesIn(t, dir); len(left) != 0 {
		t.Errorf("left: %v", left)
	}
	cut := shot(t, color.Gray{3})
	p, err := s.TakePhoto(t.Context(), "A", "cut.jpg", bytes.NewReader(cut[:400]), PhotoAsk{})
	if err != nil {
		t.Fatal(err)
	}
	if got, err := s.Photo(t.Context(), p.UID); err != nil || got.Small != picture.None || got.Why == "" {
		t.Errorf("a damaged one is kept with the reason: %+v, %v", got, err)
	}
}

// TestManyPhotographsAtOnce sends thirty at once; all are kept, each once.
func TestManyPhotographsAtOnce(t *testing.T) {
	s := deaf(t, t.TempDir(), (&hand{now: began}).Now)
	c := add(t, s, job.Clock{Number: "2026-001"})
	var all sync.WaitGroup
	for i := range 30 {
		raw := shot(t, color.Gray{uint8(i * 8)})
		all.Go(func() {
			if _, err := s.TakePhoto(t.Context(), "A", "x.jpg", bytes.NewReader(raw), PhotoAsk{Clock: c.ID}); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	l, err := s.Photos(t.Context(), store.PhotoPlace{Clock: c.ID}, 0)
	if err != nil || l.Total != 30 || len(l.Photos) != 30 {
		t.Fatalf("%d, %v", l.Total, err)
	}
	for _, p := range l.Photos {
		if p.Small != picture.Made {
			t.Errorf("%+v", p)
		}
	}
}
