package shop

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"slices"

	"seatboard/internal/book/parts"
	"seatboard/internal/book/picture"
	"seatboard/internal/io/blob"
	"seatboard/internal/io/photo"
	"seatboard/internal/io/store"
)

// PhotoAsk says where a photograph belongs.
type PhotoAsk struct {
	Clock    int64        // 0 is the tray
	Part     parts.Number // that it shows; "" for none
	Stage    picture.Stage
	Area     string
	SameView string // UID of a photograph that shows the same from the same side
}

// TakenPhoto is a photograph that was taken in.
type TakenPhoto struct {
	picture.Photo
	Again bool // its very content was there already
}

// TakePhoto takes a photograph in: when it returns without an error the file
// is on the disk as it came, byte for byte, and the book names it. What it is
// is told by its content, never by its name. The same content is kept once;
// out of the bin it comes back.
func (s *Shop) TakePhoto(ctx context.Context, by, name string, r io.Reader, ask PhotoAsk) (TakenPhoto, error) {
	held, err := s.ears.files.Hold(ctx, r, picture.MaxBytes)
	if errors.Is(err, blob.ErrTooLarge) {
		return TakenPhoto{}, largePhoto(picture.CleanName(name))
	}
	if err != nil {
		return TakenPhoto{}, explain(err)
	}
	defer held.Close()
	t, err := s.keepPhoto(ctx, by, held, name, ask)
	if err != nil {
		return t, err
	}
	return t, s.LookAtPhotos(ctx)
}

// keepPhoto brings a file that was held to the disk and then into the book.
func (s *Shop) keepPhoto(ctx context.Context, by string, held *blob.Held, name string, ask PhotoAsk) (TakenPhoto, error) {
	p, err := photoOf(held, name)
	if err != nil {
		return TakenPhoto{}, err
	}
	if err := held.Keep(); err != nil {
		return TakenPhoto{}, explain(err)
	}
	t, err := s.enter(ctx, by, p, ask)
	return t, explainPhoto(err)
}

// photoOf is the record of a file that was held.
func photoOf(held *blob.Held, name string) (picture.Photo, error) {
	p := picture.Photo{SHA256: held.Sum(), Size: held.Size(), Name: picture.CleanName(name), Small: picture.Waiting}
	head := make([]byte, photo.SniffLen)
	n, err := held.File.ReadAt(head, 0)
	switch p.Kind = photo.Sniff(head[:n]); {
	case err != nil && err != io.EOF:
		return p, err
	case p.Size == 0:
		return p, emptyPhoto(p.Name)
	case p.Kind == "":
		return p, &Problem{Code: BadInput, Message: p.Name + " is not a photograph that is taken in here.", Hint: "Send JPEG, PNG, WebP or HEIC; what a file is called does not matter."}
	}
	p.UID, err = newUID()
	return p, err
}

// takeInto puts the record into the book, or finds the one that is there.
func takeInto(tx *store.Tx, p picture.Photo) (TakenPhoto, error) {
	var err error
	if p.SameView, err = firstOfView(tx, p.SameView); err != nil {
		return TakenPhoto{}, err
	}
	same, err := tx.PhotoOfContent(p.ClockID, p.SHA256)
	if errors.Is(err, store.ErrNoPhoto) {
		p, err = tx.AddPhoto(p)
		return TakenPhoto{Photo: p}, err
	}
	if err != nil {
		return TakenPhoto{}, err
	}
	if !same.Removed.IsZero() {
		if err := tx.RemovePhoto(same.ID, false); err != nil {
			return TakenPhoto{}, err
		}
		if same, err = tx.Photo(same.ID); err != nil {
			return TakenPhoto{}, err
		}
	}
	for _, n := range p.Parts {
		if !slices.Contains(same.Parts, n) {
			same.Parts = append(same.Parts, n)
		}
	}
	if same.Elsewhere() { // its file came now
		same.Small, same.Why = picture.Waiting, ""
		if err := tx.SetSmall(same); err != nil {
			return TakenPhoto{}, err
		}
	}
	if same.SameView == "" && p.SameView != same.UID {
		same.SameView = p.SameView
	}
	same, err = tx.SavePhoto(same)
	return TakenPhoto{Photo: same, Again: true}, err
}

// LookAtPhotos looks into the files of all photographs that were not looked
// into yet, one after the other, and makes their small pictures.
func (s *Shop) LookAtPhotos(ctx context.Context) error { return s.look(ctx, nil) }

// look does it in its turn; what was wanted is then under way.
func (s *Shop) look(ctx context.Context, wanted <-chan struct{}) error {
	select {
	case s.looking <- struct{}{}:
		defer func() { <-s.looking }()
	case <-ctx.Done():
		return nil // they wait for the next look
	}
	if wanted != nil {
		<-wanted
	}
	const some = 100
	for {
		var waiting []picture.Photo
		err := s.store.View(ctx, func(tx *store.Tx) (err error) { waiting, err = tx.PhotosWaiting(some); return err })
		if err != nil {
			return explain(err)
		}
		for _, p := range waiting {
			if err := s.lookAt(ctx, p); err != nil {
				return err
			}
		}
		if len(waiting) < some {
			return nil
		}
	}
}

func (s *Shop) lookAt(ctx context.Context, p picture.Photo) error {
	f, err := s.PhotoFile(p)
	if err != nil {
		return err
	}
	defer f.Close()
	seen, err := photo.Look(ctx, f, photo.Options{})
	if err != nil {
		return err
	}
	p.Width, p.Height, p.Orientation, p.Taken, p.Why, p.Small = seen.Width, seen.Height, seen.Orientation, seen.Taken, seen.Why, picture.None
	if seen.Why == "" {
		p.Small = picture.Made
		if err := s.small.Put(p.SHA256, seen); err != nil {
			return explain(err)
		}
	}
	return explain(s.store.Update(ctx, p.By, func(tx *store.Tx) error { return tx.SetSmall(p) }))
}

// PhotoList is a page of photographs, the last received first.
type PhotoList struct {
	Photos []picture.Photo
	Total  int
	Before int64 // where the next page begins; 0 at the end
}

// photosOnPage is how many photographs stand on one page.
const photosOnPage = 60

// Photos lists the photographs of a place from one on (0 for the last).
func (s *Shop) Photos(ctx context.Context, at store.PhotoPlace, before int64) (PhotoList, error) {
	var l PhotoList
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		l.Photos, l.Total, err = tx.Photos(at, before, photosOnPage+1)
		return err
	})
	if len(l.Photos) > photosOnPage {
		l.Photos = l.Photos[:photosOnPage]
		l.Before = l.Photos[photosOnPage-1].ID
	}
	return l, explain(err)
}

// Photo reads one photograph's record.
func (s *Shop) Photo(ctx context.Context, uid string) (picture.Photo, error) {
	var p picture.Photo
	err := s.store.View(ctx, func(tx *store.Tx) (err error) { p, err = tx.PhotoByUID(uid); return err })
	return p, explainPhoto(err)
}

// SavePhoto keeps where a photograph belongs and what is written of it; the
// version it was read at must be the one that stands.
func (s *Shop) SavePhoto(ctx context.Context, by string, p picture.Photo) (picture.Photo, error) {
	check := p.Check()
	if len(check) > 0 {
		return p, &Problem{Code: BadInput, Message: "There is a problem with what was entered.", Fields: check}
	}
	err := s.store.Update(ctx, by, func(tx *store.Tx) (err error) { p, err = tx.SavePhoto(p); return err })
	return p, explainPhoto(err)
}

// BinPhoto puts a photograph into the bin, or takes it out.
func (s *Shop) BinPhoto(ctx context.Context, by string, id int64, removed bool) error {
	return explainPhoto(s.store.Update(ctx, by, func(tx *store.Tx) error { return tx.RemovePhoto(id, removed) }))
}

// SmallPhoto opens a small picture of a photograph: side is
// photo.SmallSide or photo.MiddleSide. Where it is gone, as after a restore,
// it is made anew.
func (s *Shop) SmallPhoto(ctx context.Context, p picture.Photo, side int) (*os.File, error) {
	f, err := s.small.Get(p.SHA256, side)
	if errors.Is(err, photo.ErrNone) && p.Small == picture.Made {
		if f, err = s.smallAnew(ctx, p, side); err != nil && !errors.Is(err, photo.ErrNone) {
			return nil, err
		}
	}
	if errors.Is(err, photo.ErrNone) {
		return nil, &Problem{Code: NotFound, Message: "There is no small picture of this photograph.", Hint: "The photograph itself can be downloaded.", cause: err}
	}
	return f, err
}

func (s *Shop) smallAnew(ctx context.Context, p picture.Photo, side int) (*os.File, error) {
	select {
	case s.looking <- struct{}{}:
		defer func() { <-s.looking }()
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	if f, err := s.small.Get(p.SHA256, side); !errors.Is(err, photo.ErrNone) {
		return f, err // another made it meanwhile
	}
	if err := s.lookAt(ctx, p); err != nil {
		return nil, err
	}
	return s.small.Get(p.SHA256, side)
}

// PhotoFile opens a photograph as it came.
func (s *Shop) PhotoFile(p picture.Photo) (*os.File, error) {
	f, err := s.ears.files.Get(p.SHA256)
	if errors.Is(err, blob.ErrNotFound) {
		return nil, &Problem{Code: NotFound, Message: "The file of this photograph is not here.", Hint: "The records came from a copy without it; restore a whole backup.", cause: err}
	}
	return f, err
}

// PhotoToGive is a photograph without all that the camera wrote beside the
// picture: the place, the time, the device.
func (s *Shop) PhotoToGive(p picture.Photo) (io.ReadSeeker, error) {
	f, err := s.PhotoFile(p)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	whole, err := io.ReadAll(f)
	if err != nil {
		return nil, err
	}
	out, err := photo.Export(whole, p.Orientation)
	if err != nil {
		return nil, &Problem{Code: BadInput, Message: "No copy without the place can be made of this file.", Hint: "Give away a JPEG, PNG or WebP of it instead.", cause: err}
	}
	return bytes.NewReader(out), nil
}

// explainPhoto turns what can go wrong with photographs into problems.
func explainPhoto(err error) error {
	var conflict *store.PhotoConflictError
	switch {
	case errors.Is(err, store.ErrNoPhoto):
		return &Problem{Code: NotFound, Message: "There is no such photograph.", Hint: "It may be in another clock's file.", cause: err}
	case errors.As(err, &conflict):
		return &Problem{Code: Conflict, Message: "Someone else wrote here meanwhile.", Hint: "Nothing was changed. Both are shown.", Differ: conflict.Differences(), cause: err}
	}
	return explain(err)
}
