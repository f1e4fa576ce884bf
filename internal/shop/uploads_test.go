package shop

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"image/color"
	"io"
	"strings"
	"sync"
	"testing"
	"testing/iotest"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/picture"
	"seatboard/internal/io/store"
)

func askFor(n int, content []byte, at PhotoAsk) UploadAsk {
	sum := sha256.Sum256(content)
	return UploadAsk{ID: fmt.Sprintf("%032x", n), Name: "shot.jpg", Size: int64(len(content)), SHA256: hex.EncodeToString(sum[:]), PhotoAsk: at}
}

// sent sends a photograph in pieces of so many bytes.
func sent(s *Shop, t testing.TB, ask UploadAsk, content []byte, piece int) (UploadState, error) {
	st, err := s.BeginUpload(t.Context(), "A", ask)
	for err == nil && !st.Safe && st.At < ask.Size {
		st, err = s.AppendUpload(t.Context(), ask.ID, st.At, bytes.NewReader(content[st.At:min(int(st.At)+piece, len(content))]))
	}
	if err != nil || st.Safe {
		return st, err
	}
	return s.FinishUpload(t.Context(), "A", ask.ID)
}

func TestUploadInPieces(t *testing.T) {
	dir := t.TempDir()
	s := deaf(t, dir, (&hand{now: began}).Now)
	c := add(t, s, job.Clock{Number: "2026-001"})
	raw := shot(t, color.Gray{90})
	ask := askFor(1, raw, PhotoAsk{Clock: c.ID, Part: "2", Stage: picture.Before, Area: "dial"})
	st, err := s.BeginUpload(t.Context(), "A", ask)
	if err != nil || st.At != 0 || st.Safe {
		t.Fatal(st, err)
	}
	if _, err := s.FinishUpload(t.Context(), "A", ask.ID); AsProblem(err).Code != Conflict {
		t.Errorf("finished before anything came: %v", err)
	}
	cut := io.MultiReader(bytes.NewReader(raw[:100]), iotest.ErrReader(errors.New("the line dropped")))
	if st, err = s.AppendUpload(t.Context(), ask.ID, 0, cut); err == nil || st.At != 100 {
		t.Fatal(st, err)
	}
	if st, err = s.AppendUpload(t.Context(), ask.ID, 50, bytes.NewReader(raw[50:90])); AsProblem(err).Code != Conflict || st.At != 100 {
		t.Errorf("a piece at another place: %+v %v", st, err)
	}
	if st, err = s.BeginUpload(t.Context(), "A", ask); err != nil || st.At != 100 {
		t.Errorf("begun again it does not go on: %+v %v", st, err)
	}
	if st, err = sent(s, t, ask, raw, 1000); err != nil || !st.Safe || st.Photo.Again {
		t.Fatal(st, err)
	}
	uid := st.Photo.UID
	for name, again := range map[string]func() (UploadState, error){
		"finish": func() (UploadState, error) { return s.FinishUpload(t.Context(), "A", ask.ID) },
		"append": func() (UploadState, error) {
			return s.AppendUpload(t.Context(), ask.ID, 0, strings.NewReader("x"))
		},
		"begin": func() (UploadState, error) { return s.BeginUpload(t.Context(), "A", ask) },
	} {
		if st, err := again(); err != nil || !st.Safe || st.Photo.UID != uid {
			t.Errorf("%s once more: %+v %v", name, st, err)
		}
	}
	another := askFor(2, raw, PhotoAsk{Clock: c.ID, Part: "2.1"})
	if st, err = s.BeginUpload(t.Context(), "A", another); err != nil || !st.Safe || !st.Photo.Again || st.Photo.UID != uid || len(st.Photo.Parts) != 2 {
		t.Errorf("the same of another part: %+v %v", st, err)
	}
	other := add(t, s, job.Clock{Number: "2026-002"})
	if st, err = s.BeginUpload(t.Context(), "A", askFor(3, raw, PhotoAsk{Clock: other.ID})); err != nil || !st.Safe || !st.Photo.Again || st.Photo.UID == uid {
		t.Errorf("the same in another clock's file: %+v %v", st, err)
	}
	if got := filesIn(t, dir); len(got) != 1 {
		t.Errorf("there are %v", got)
	}
}

func TestUploadsThatAreRefused(t *testing.T) {
	s := deaf(t, t.TempDir(), (&hand{now: began}).Now)
	raw := shot(t, color.Gray{90})
	svg := []byte(`<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>`)
	large := askFor(1, raw, PhotoAsk{})
	large.Size, large.Name = 200<<20, "../../large.jpg"
	damaged := askFor(2, raw, PhotoAsk{})
	damaged.SHA256 = strings.Repeat("0", 64)
	long := askFor(3, raw, PhotoAsk{})
	long.Size -= 10
	nameless := askFor(4, raw, PhotoAsk{})
	nameless.ID = "../../x"
	for name, x := range map[string]struct {
		ask     UploadAsk
		content []byte
		say     string
	}{
		"empty":        {askFor(5, nil, PhotoAsk{}), nil, "shot.jpg is empty"},
		"200 MB":       {large, raw, "large.jpg is larger than 60 MB"},
		"damaged":      {damaged, raw, "was damaged on its way"},
		"long":         {long, raw, "longer than it was said"},
		"no ID":        {nameless, raw, "not an upload"},
		"SVG":          {askFor(6, svg, PhotoAsk{}), svg, "is not a photograph"},
		"no clock":     {askFor(7, raw, PhotoAsk{Clock: 99}), raw, "no such clock"},
		"no stage":     {askFor(8, raw, PhotoAsk{Stage: "later"}), raw, "Choose before, during or after"},
		"part of tray": {askFor(9, raw, PhotoAsk{Part: "2"}), raw, "Name the clock before its parts"},
	} {
		_, err := sent(s, t, x.ask, x.content, 1000)
		if err == nil || !strings.Contains(err.Error(), x.say) || AsProblem(err).Code == Internal {
			t.Errorf("%s: %v", name, err)
		}
	}
	if l, err := s.Photos(t.Context(), store.PhotoPlace{}, 0); err != nil || l.Total != 0 {
		t.Errorf("%+v, %v", l, err)
	}
	if _, err := s.AppendUpload(t.Context(), strings.Repeat("e", 32), 0, bytes.NewReader(raw)); AsProblem(err).Code != NotFound {
		t.Errorf("of nothing known: %v", err)
	}
	damaged.SHA256 = askFor(2, raw, PhotoAsk{}).SHA256
	if _, err := sent(s, t, damaged, raw, 1000); err == nil {
		t.Error("the same ID for another file")
	}
}

func TestDamagedUploadIsBegunAnew(t *testing.T) {
	s := deaf(t, t.TempDir(), (&hand{now: began}).Now)
	raw := shot(t, color.Gray{9})
	ask := askFor(1, raw, PhotoAsk{})
	bad := bytes.Clone(raw)
	bad[len(bad)/2] ^= 1
	if _, err := sent(s, t, ask, bad, 999); AsProblem(err).Code != Conflict {
		t.Fatal(err)
	}
	if st, err := sent(s, t, ask, raw, 999); err != nil || !st.Safe {
		t.Fatal(st, err)
	}
}

// TestManyUploadsAtOnce has fifty on their way at once, of three senders that
// all send the same; each is kept once.
func TestManyUploadsAtOnce(t *testing.T) {
	s := deaf(t, t.TempDir(), (&hand{now: began}).Now)
	var all sync.WaitGroup
	for i := range 50 {
		raw := shot(t, color.Gray{uint8(i * 5)})
		for sender := range 3 {
			all.Go(func() {
				for {
					st, err := sent(s, t, askFor(100*sender+i, raw, PhotoAsk{}), raw, 1500)
					if err == nil && st.Safe {
						return
					}
					if err == nil || AsProblem(err).Code != TooOften {
						t.Error(st, err)
						return
					}
				}
			})
		}
	}
	all.Wait()
	s.behind.Wait()
	l, err := s.Photos(t.Context(), store.PhotoPlace{}, 0)
	if err != nil || l.Total != 50 {
		t.Fatal(l.Total, err)
	}
	for _, p := range l.Photos {
		if p.Small != picture.Made {
			t.Errorf("%+v", p)
		}
	}
}

func TestAbandonedUploadsAreLetGo(t *testing.T) {
	dir := t.TempDir()
	h := &hand{now: began}
	s := deaf(t, dir, h.Now)
	raw := shot(t, color.Gray{9})
	for i := range mostUploads {
		raw := append(bytes.Clone(raw), byte(i))
		if st, err := s.BeginUpload(t.Context(), "A", askFor(i, raw, PhotoAsk{})); err != nil || st.Safe {
			t.Fatal(st, err)
		}
	}
	next := askFor(1000, raw, PhotoAsk{})
	if _, err := s.BeginUpload(t.Context(), "A", next); AsProblem(err).Code != TooOften {
		t.Fatal(err)
	}
	h.add(uploadIdle + time.Second)
	if st, err := sent(s, t, next, raw, 1000); err != nil || !st.Safe {
		t.Fatal(st, err)
	}
	for tries := 0; len(filesIn(t, dir)) != 1; tries++ {
		if tries > 10_000 {
			t.Fatalf("left: %v", filesIn(t, dir))
		}
		time.Sleep(10 * time.Millisecond)
	}
}
