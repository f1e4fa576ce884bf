package web

import (
	"net/http"

	"seatboard/internal/book/picture"
	"seatboard/internal/io/store"
)

// pairView is the photographs of the same view as one, and those that may be.
type pairView struct {
	Same, Offered []shotView
	Main          bool // it stands for its clock
}

// offeredPairs is how many others are offered as of the same view.
const offeredPairs = 24

// pairsOf finds them.
func (s *Server) pairsOf(r *http.Request, p picture.Photo) (v pairView, err error) {
	same, err := s.Shop.SameViews(r.Context(), p)
	if err != nil || p.ClockID == 0 {
		return v, err
	}
	known := map[string]bool{p.UID: true}
	for _, o := range same {
		known[o.UID] = true
		v.Same = append(v.Same, shotOf(o))
	}
	l, err := s.Shop.Photos(r.Context(), store.PhotoPlace{Clock: p.ClockID}, 0)
	if err != nil {
		return v, err
	}
	for _, o := range l.Photos {
		if len(v.Offered) < offeredPairs && !known[o.UID] && (p.Area == "" || o.Area == p.Area) {
			v.Offered = append(v.Offered, shotOf(o))
		}
	}
	main, ok, err := s.Shop.MainPhoto(r.Context(), p.ClockID)
	v.Main = ok && main.UID == p.UID
	return v, err
}

// changePairs does what a button of the photograph's page says of others, or
// of its clock.
func (s *Server) changePairs(w http.ResponseWriter, r *http.Request, p picture.Photo) error {
	do, err := r.PostForm.Get("do"), error(nil)
	if do == "main" {
		err = s.Shop.SetMainPhoto(r.Context(), s.by(r), p)
	} else {
		err = s.Shop.PairPhotos(r.Context(), s.by(r), p, r.PostForm.Get("other"), do == "same")
	}
	if err != nil {
		return err
	}
	return done(w, r, "/photos/"+p.UID, "saved")
}
