package store_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"seatboard/internal/book/parts"
	"seatboard/internal/book/picture"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
)

// photo is an invented photograph with the number n.
func photo(n int, clock int64, of ...parts.Number) picture.Photo {
	return picture.Photo{
		UID: fmt.Sprintf("%016x", n), SHA256: fmt.Sprintf("%064x", n), Size: 1000, Kind: picture.JPEG, Name: "dial.jpg", Small: picture.Waiting,
		ClockID: clock, Parts: of, Marks: []picture.Mark{{Kind: picture.Number, X: 5, Y: 6, N: 1}},
	}
}

func addPhoto(t testing.TB, s *store.Store, p picture.Photo) picture.Photo {
	t.Helper()
	update(t, s, func(tx *store.Tx) (err error) { p, err = tx.AddPhoto(p); return err })
	return p
}

func photos(t testing.TB, s *store.Store, at store.PhotoPlace, before int64, most int) (uids []string, total int) {
	t.Helper()
	view(t, s, func(tx *store.Tx) error {
		list, n, err := tx.Photos(at, before, most)
		for _, p := range list {
			uids = append(uids, strings.TrimLeft(p.UID, "0"))
		}
		total = n
		return err
	})
	return uids, total
}

func TestPhotosAreListedByPlace(t *testing.T) {
	s := open(t, t.TempDir(), store.Options{})
	a, b := add(t, s, clock(1)), add(t, s, clock(2))
	addPhoto(t, s, photo(1, 0))
	addPhoto(t, s, photo(2, a.ID, "10", "2"))
	addPhoto(t, s, photo(3, a.ID, "2"))
	addPhoto(t, s, photo(4, b.ID, "2"))
	gone := addPhoto(t, s, photo(5, a.ID))
	update(t, s, func(tx *store.Tx) error { return tx.RemovePhoto(gone.ID, true) })
	for _, x := range []struct {
		at     store.PhotoPlace
		before int64
		most   int
		want   []string
		total  int
	}{
		{store.PhotoPlace{}, 0, 9, []string{"1"}, 1},
		{store.PhotoPlace{Clock: a.ID}, 0, 9, []string{"3", "2"}, 2},
		{store.PhotoPlace{Clock: a.ID}, 3, 9, []string{"2"}, 2},
		{store.PhotoPlace{Clock: a.ID}, 0, 1, []string{"3"}, 2},
		{store.PhotoPlace{Clock: a.ID, Part: "2"}, 0, 9, []string{"3", "2"}, 2},
		{store.PhotoPlace{Clock: a.ID, Part: "10"}, 0, 9, []string{"2"}, 1},
		{store.PhotoPlace{Clock: a.ID, Part: "1"}, 0, 9, nil, 0},
		{store.PhotoPlace{Clock: a.ID, Bin: true}, 0, 9, []string{"5"}, 1},
		{store.PhotoPlace{Bin: true}, 0, 9, nil, 0},
	} {
		if got, n := photos(t, s, x.at, x.before, x.most); !slices.Equal(got, x.want) || n != x.total {
			t.Errorf("%+v: %v of %d, want %v of %d", x.at, got, n, x.want, x.total)
		}
	}
	view(t, s, func(tx *store.Tx) error {
		p, err := tx.Photo(2)
		if !slices.Equal(p.Parts, []parts.Number{"2", "10"}) || len(p.Marks) != 1 || p.By != "A. Restorer" || p.Received.IsZero() || p.Version != 1 {
			t.Errorf("read: %+v", p)
		}
		return err
	})
}

func TestPhotoIsFiledAndItsHistoryTold(t *testing.T) {
	s := open(t, t.TempDir(), store.Options{})
	c := add(t, s, clock(1))
	p := addPhoto(t, s, photo(1, 0))
	save := func(p picture.Photo) (picture.Photo, error) {
		err := s.Update(ctx, "A. Restorer", func(tx *store.Tx) (err error) { p, err = tx.SavePhoto(p); return err })
		return p, err
	}
	filed := p
	filed.ClockID, filed.Parts, filed.Caption, filed.SHA256, filed.Size = c.ID, []parts.Number{"3"}, "third wheel", strings.Repeat("f", 64), 5
	filed, err := save(filed)
	if err != nil || filed.Version != 2 || filed.SHA256 != p.SHA256 || filed.Size != 1000 {
		t.Fatalf("%+v %v", filed, err)
	}
	var conflict *store.PhotoConflictError
	late := p
	late.Caption = "something else"
	if _, err := save(late); !errors.As(err, &conflict) || conflict.Stored.Caption != "third wheel" || len(conflict.Differences()) != 3 {
		t.Errorf("the second of two: %v", err)
	}
	var faults meas.Faults
	back := filed
	back.ClockID, back.Parts = 0, nil
	if _, err := save(back); !errors.As(err, &faults) {
		t.Errorf("back to the tray: %v", err)
	}
	nowhere := filed
	nowhere.ClockID = 99
	if _, err := save(nowhere); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("into no file: %v", err)
	}
	if again, err := save(filed); err != nil || again.Version != 2 {
		t.Errorf("nothing changed, and it is %+v %v", again, err)
	}
	for _, removed := range []bool{true, true, false} {
		update(t, s, func(tx *store.Tx) error { return tx.RemovePhoto(p.ID, removed) })
	}
	_, _, h := load(t, s, c.ID)
	var got []string
	for _, x := range slices.Backward(h) {
		if x.Record == "photograph" {
			got = append(got, strings.TrimPrefix(x.Field, p.UID+".")+"="+x.After)
		}
	}
	want := []string{fmt.Sprint("clock=file ", c.ID), "parts=3", "caption=third wheel", "removed=yes", "removed=no"}
	if !slices.Equal(got, want) {
		t.Errorf("history %q, want %q", got, want)
	}
	whole(t, s)
}

func TestPhotosFilesAreNamed(t *testing.T) {
	s := open(t, t.TempDir(), store.Options{})
	c := add(t, s, clock(1))
	p := addPhoto(t, s, photo(7, c.ID))
	addPhoto(t, s, photo(8, 0))
	update(t, s, func(tx *store.Tx) error { return tx.RemovePhoto(p.ID, true) })
	view(t, s, func(tx *store.Tx) error {
		got, err := tx.Sounds()
		want := []store.Sound{{SHA256: p.SHA256, Photo: true}, {SHA256: photo(8, 0).SHA256, Photo: true}}
		if !slices.Equal(got, want) {
			t.Errorf("%v", got)
		}
		return err
	})
	seen := p
	seen.Width, seen.Height, seen.Orientation, seen.Taken, seen.Small = 4, 3, 6, "2026-11-25 10:31:00", picture.Made
	update(t, s, func(tx *store.Tx) error { return tx.SetSmall(seen) })
	view(t, s, func(tx *store.Tx) error {
		p, err := tx.Photo(p.ID)
		if p.Width != 4 || p.Height != 3 || p.Orientation != 6 || p.Small != picture.Made || p.Version != 2 {
			t.Errorf("%+v", p)
		}
		waiting, werr := tx.PhotosWaiting(9)
		if len(waiting) != 1 || waiting[0].UID != photo(8, 0).UID {
			t.Errorf("waiting: %v", waiting)
		}
		return errors.Join(err, werr)
	})
}
