package shop

import (
	"context"
	"errors"

	"seatboard/internal/book/picture"
	"seatboard/internal/io/store"
)

// PhotoToWrite is the next photograph of a place, from one on (0 for the
// first), under which nothing is written, and how many there are in all; ok
// is false where none is left from there on.
func (s *Shop) PhotoToWrite(ctx context.Context, at store.PhotoPlace, after int64) (p picture.Photo, left int, ok bool, err error) {
	err = s.store.View(ctx, func(tx *store.Tx) (err error) { p, left, err = tx.PhotoToWrite(at, after); return err })
	if errors.Is(err, store.ErrNoPhoto) {
		return p, left, false, nil
	}
	return p, left, err == nil, explainPhoto(err)
}

// sameViewsShown is how many other photographs of the same view are listed.
const sameViewsShown = 12

// SameViews lists the others that show the same from the same side.
func (s *Shop) SameViews(ctx context.Context, p picture.Photo) ([]picture.Photo, error) {
	var out []picture.Photo
	err := s.store.View(ctx, func(tx *store.Tx) (err error) { out, err = tx.SameViews(p, sameViewsShown); return err })
	return out, explain(err)
}

// MainPhoto is the photograph that stands for a clock; ok is false where it
// has none.
func (s *Shop) MainPhoto(ctx context.Context, clock int64) (p picture.Photo, ok bool, err error) {
	err = s.store.View(ctx, func(tx *store.Tx) (err error) { p, err = tx.MainPhoto(clock); return err })
	if errors.Is(err, store.ErrNoPhoto) {
		return p, false, nil
	}
	return p, err == nil, explain(err)
}

// SetMainPhoto has a photograph stand for its clock.
func (s *Shop) SetMainPhoto(ctx context.Context, by string, p picture.Photo) error {
	return explainPhoto(s.store.Update(ctx, by, func(tx *store.Tx) error { return tx.SetMainPhoto(p) }))
}

// firstOfView is the photograph that all of the same view name; "" where
// there is no such photograph.
func firstOfView(tx *store.Tx, uid string) (string, error) {
	if uid == "" {
		return "", nil
	}
	p, err := tx.PhotoByUID(uid)
	switch {
	case errors.Is(err, store.ErrNoPhoto):
		return "", nil
	case err == nil && p.SameView != "":
		return p.SameView, nil
	}
	return uid, err
}

// PairPhotos says that another photograph shows the same as one from the same
// side, or that it does not.
func (s *Shop) PairPhotos(ctx context.Context, by string, p picture.Photo, other string, same bool) error {
	return explainPhoto(s.store.Update(ctx, by, func(tx *store.Tx) error {
		first, err := firstOfView(tx, p.UID)
		if err != nil {
			return err
		}
		if !same && other == first { // the others name that one
			other, first = p.UID, other
		}
		o, err := tx.PhotoByUID(other)
		if err != nil {
			return err
		}
		if o.SameView = first; !same {
			o.SameView = ""
		}
		if o.UID == first {
			return nil
		}
		_, err = tx.SavePhoto(o)
		return err
	}))
}
