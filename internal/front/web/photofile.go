package web

import (
	"io"
	"net/http"
	"time"

	"seatboard/internal/io/photo"
)

// photoFile sends a photograph: a small picture to look at, the file as it
// came, or a copy without the place. A photograph never changes, so that a
// browser may keep a small one.
func (s *Server) photoFile(w http.ResponseWriter, r *http.Request) error {
	p, err := s.Shop.Photo(r.Context(), r.PathValue("photo"))
	if err != nil {
		return err
	}
	file := r.PathValue("file")
	var content io.ReadSeeker
	switch side := map[string]int{"small.jpg": photo.SmallSide, "middle.jpg": photo.MiddleSide}[file]; {
	case side != 0:
		f, err := s.Shop.SmallPhoto(r.Context(), p, side)
		if err != nil {
			return err
		}
		defer f.Close()
		w.Header().Set("Content-Type", "image/jpeg")
		w.Header().Set("Cache-Control", "private, max-age=86400, immutable")
		content = f
	case file == "original":
		f, err := s.Shop.PhotoFile(p)
		if err != nil {
			return err
		}
		defer f.Close()
		content = f
	case file == "copy":
		if content, err = s.Shop.PhotoToGive(p); err != nil {
			return err
		}
	default:
		return errNoPage
	}
	if w.Header().Get("Content-Type") == "" { // it came from outside: it is never shown in a page of ours
		w.Header().Set("Content-Type", p.Kind.Type())
		w.Header().Set("Content-Disposition", attachment(p.Name))
	}
	_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(time.Hour)) // not all connections have one
	http.ServeContent(w, r, "", time.Time{}, content)
	return nil
}
