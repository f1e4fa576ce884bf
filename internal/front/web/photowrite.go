package web

import (
	"net/http"
	"net/url"
	"strconv"

	"seatboard/internal/book/condition"
	"seatboard/internal/book/picture"
	"seatboard/internal/kit/meas"
	"seatboard/internal/shop"
)

// writeView is one photograph of a series under which something is written.
type writeView struct {
	photoView
	Series string // its address
	Part   string
	Fault  string // of what was written
	Left   int    // under how many nothing is written, this one with them
	Done   bool
	Back   string // the list of photographs
}

// seriesPath is the address of a series after a photograph.
func seriesPath(r *http.Request, after int64) string {
	q := url.Values{}
	if part := r.FormValue("part"); part != "" {
		q.Set("part", part)
	}
	if after > 0 {
		q.Set("after", strconv.FormatInt(after, 10))
	}
	return r.URL.Path + "?" + q.Encode()
}

// writeUnder shows the next photograph without words.
func (s *Server) writeUnder(w http.ResponseWriter, r *http.Request) error {
	at, _, err := s.photoPlace(r)
	if err != nil {
		return err
	}
	after, _ := strconv.ParseInt(r.URL.Query().Get("after"), 10, 64) // what is no number begins at the first
	p, left, ok, err := s.Shop.PhotoToWrite(r.Context(), at, after)
	if err != nil {
		return err
	}
	return s.renderWrite(w, r, http.StatusOK, p, left, !ok, nil)
}

func (s *Server) renderWrite(w http.ResponseWriter, r *http.Request, status int, p picture.Photo, left int, over bool, wrong *shop.Problem) error {
	_, h, err := s.photoPlace(r)
	if err != nil {
		return err
	}
	v := writeView{Series: r.URL.Path, Part: r.FormValue("part"), Left: left, Done: over, Back: "/photos"}
	v.shotView, v.Title = shotOf(p), "Write under the photographs"
	v.Draw.over(p)
	v.Wrong = inWords(wrong)
	if v.head = h; h.Clock.ID != 0 {
		v.Title, v.Back = h.title(v.Title), h.Path+"/photos"
	}
	if v.Part != "" {
		v.Back += "?" + encode("part", v.Part)
	}
	var faults meas.Faults
	if wrong != nil {
		faults = wrong.Fields
	}
	v.Fault = faultOf(faults, "caption")
	v.Fields = withError([]recordField{
		{Name: "area", Label: "Area", Size: 20, Options: condition.Areas(), target: &p.Area},
	}, faults)
	v.Stages = stagesOf(p.Stage)
	return s.render(w, r, status, "photo-write", frame{Title: v.Title, Place: "clocks", Faults: faults, View: v})
}

// keepWritten keeps what was written and goes on to the next.
func (s *Server) keepWritten(w http.ResponseWriter, r *http.Request) error {
	f := r.PostForm
	p, err := s.Shop.Photo(r.Context(), f.Get("photo"))
	if err != nil {
		return err
	}
	next := p
	next.Version, _ = strconv.Atoi(f.Get("version")) // 0 conflicts, and what stands is shown
	next.Caption, next.Area, next.Stage = typed(f["caption"]), typed(f["area"]), picture.Stage(f.Get("stage"))
	if _, err = s.Shop.SavePhoto(r.Context(), s.by(r), next); err == nil {
		http.Redirect(w, r, seriesPath(r, p.ID), http.StatusSeeOther)
		return nil
	}
	problem := shop.AsProblem(err)
	if problem.Code != shop.Conflict && len(problem.Fields) == 0 {
		return err
	}
	next.Version = p.Version // saving again keeps what is typed now
	left, _ := strconv.Atoi(f.Get("left"))
	return s.renderWrite(w, r, statuses[problem.Code], next, left, false, problem)
}
