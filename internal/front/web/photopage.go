package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"seatboard/internal/book/condition"
	"seatboard/internal/book/parts"
	"seatboard/internal/book/picture"
	"seatboard/internal/kit/meas"
	"seatboard/internal/shop"
)

// photoView is one photograph.
type photoView struct {
	shotView
	head
	Title  string
	Fields []recordField
	Stages []optionView
	Bytes  string
	Wrong  *shop.Problem
	Draw   drawView
	Pairs  pairView
	Script string
}

// Under is the line under a photograph: what it shows, where and when.
func (v photoView) Under() string {
	words := []string{v.Caption, v.Photo.Area, string(v.Photo.Stage)}
	if len(v.Photo.Parts) > 0 {
		words = append(words, "part "+partsShown(v.Photo.Parts))
	}
	words = append(words, v.Received.Local().Format("2006-01-02"))
	return strings.Join(slices.DeleteFunc(words, func(w string) bool { return w == "" }), " · ")
}

func (s *Server) photo(w http.ResponseWriter, r *http.Request) error {
	p, err := s.Shop.Photo(r.Context(), r.PathValue("photo"))
	if err != nil {
		return err
	}
	return s.renderPhoto(w, r, http.StatusOK, p, nil, drawView{Kind: picture.MarkKind(r.URL.Query().Get("tool"))})
}

func (s *Server) renderPhoto(w http.ResponseWriter, r *http.Request, status int, p picture.Photo, wrong *shop.Problem, draw drawView) error {
	v := photoView{shotView: shotOf(p), Title: "Photograph", Bytes: fmt.Sprintf("%.1f MB", float64(p.Size)/1e6), Wrong: inWords(wrong), Draw: draw, Script: s.assets.url("marks.js")}
	v.Draw.over(p)
	var err error
	if v.Pairs, err = s.pairsOf(r, p); err != nil {
		return err
	}
	if p.ClockID != 0 {
		f, err := s.Shop.File(r.Context(), p.ClockID)
		if err != nil {
			return err
		}
		v.head = headOf(f.Clock, "photos")
		v.Title = v.head.title("Photograph")
	}
	var faults meas.Faults
	if wrong != nil {
		faults = wrong.Fields
	}
	if draw.Fault != "" {
		faults = meas.Faults{{Field: "mark", Text: draw.Fault}}
	}
	number := v.Clock.Number
	if r.PostForm.Has("clock") {
		number = r.PostForm.Get("clock")
	}
	shown := partsShown(p.Parts)
	v.Fields = withError([]recordField{
		{Name: "caption", Label: "What it shows", Lines: 2, target: &p.Caption},
		{Name: "area", Label: "Area", Hint: "Dial, movement, base", Size: 20, Options: condition.Areas(), target: &p.Area},
		{Name: "parts", Label: "Parts on it", Hint: "Their numbers: 2, 2.1", Size: 20, target: &shown},
		{Name: "clock", Label: "Clock", Hint: "Its number in the shop", Size: 14, target: &number},
	}, faults)
	v.Stages = stagesOf(p.Stage)
	return s.render(w, r, status, "photo", frame{Title: v.Title, Place: "clocks", Faults: faults, View: v})
}

// stagesOf offers the stages.
func stagesOf(chosen picture.Stage) (out []optionView) {
	for _, st := range picture.Stages() {
		out = append(out, optionView{Value: string(st), Label: string(st), Chosen: st == chosen})
	}
	return out
}

func partsShown(all []parts.Number) string {
	var words string
	for i, n := range all {
		if i > 0 {
			words += ", "
		}
		words += string(n)
	}
	return words
}

// changePhoto files a photograph, writes under it, or moves it to the bin and
// out of it.
func (s *Server) changePhoto(w http.ResponseWriter, r *http.Request) error {
	p, err := s.Shop.Photo(r.Context(), r.PathValue("photo"))
	if err != nil {
		return err
	}
	if do := r.PostForm.Get("do"); do == "bin" || do == "back" {
		if err := s.Shop.BinPhoto(r.Context(), s.by(r), p.ID, do == "bin"); err != nil {
			return err
		}
		return done(w, r, "/photos/"+p.UID, map[string]string{"bin": "binned", "back": "back"}[do])
	}
	switch r.PostForm.Get("do") {
	case "mark", "unmark":
		return s.changeMarks(w, r, p)
	case "main", "same", "another":
		return s.changePairs(w, r, p)
	}
	next, err := s.photoTyped(r, p)
	if err == nil {
		_, err = s.Shop.SavePhoto(r.Context(), s.by(r), next)
	}
	if err == nil {
		return done(w, r, "/photos/"+p.UID, "saved")
	}
	problem := shop.AsProblem(err)
	if problem.Code != shop.Conflict && len(problem.Fields) == 0 {
		return err
	}
	next.Version = p.Version // saving again keeps what is typed now
	return s.renderPhoto(w, r, statuses[problem.Code], next, problem, drawView{})
}

// photoTyped is the photograph as the form says.
func (s *Server) photoTyped(r *http.Request, p picture.Photo) (picture.Photo, error) {
	f := r.PostForm
	p.Version, _ = strconv.Atoi(f.Get("version")) // 0 conflicts, and what stands is shown
	p.Caption, p.Area, p.Stage = typed(f["caption"]), typed(f["area"]), picture.Stage(f.Get("stage"))
	number := typed(f["clock"])
	p.Parts = picture.ReadParts(number, f.Get("parts"))
	if number == "" {
		p.ClockID = 0
		return p, nil
	}
	id, err := s.numbered(r.Context(), number)
	if err != nil {
		return p, err
	}
	p.ClockID = id
	return p, nil
}
