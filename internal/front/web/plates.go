package web

import (
	"maps"
	"net/http"
	"net/url"
	"strconv"

	"seatboard/internal/book/job"
	"seatboard/internal/craft/divide"
	"seatboard/internal/front/form"
	"seatboard/internal/kit/meas"
	"seatboard/internal/shop"
)

// platesView is the plates that the shop keeps, to change.
type platesView struct {
	Form    formView
	Version int
	Differ  []job.Change
}

// plates shows the plates that the shop keeps.
func (s *Server) plates(w http.ResponseWriter, r *http.Request) error {
	kept, err := s.Shop.Plates(r.Context())
	if err != nil {
		return err
	}
	return s.renderPlates(w, r, http.StatusOK, url.Values{"plates": {kept.Plates.String()}}, platesView{Version: kept.Version}, nil)
}

func (s *Server) renderPlates(w http.ResponseWriter, r *http.Request, status int, values url.Values, v platesView, faults meas.Faults) error {
	v.Form = viewOf(form.Plates(new(divide.Plates)), values, faults)
	return s.render(w, r, status, "plates", frame{Title: "Plates of the shop", Place: "desk", Faults: faults, View: v})
}

// keepPlates keeps what was typed.
func (s *Server) keepPlates(w http.ResponseWriter, r *http.Request) error {
	var p divide.Plates
	v := platesView{}
	v.Version, _ = strconv.Atoi(r.PostForm.Get("version")) // what is no number has seen nothing
	if faults := form.Plates(&p).Fill(r.PostForm); len(faults) > 0 {
		return s.renderPlates(w, r, http.StatusUnprocessableEntity, r.PostForm, v, faults)
	}
	err := s.Shop.KeepPlates(r.Context(), s.by(r), v.Version, p)
	if err == nil {
		return done(w, r, "/plates", "saved")
	}
	problem := shop.AsProblem(err)
	if problem.Code != shop.Conflict && len(problem.Fields) == 0 {
		return err
	}
	if problem.Code == shop.Conflict {
		kept, err := s.Shop.Plates(r.Context())
		if err != nil {
			return err
		}
		v.Differ, v.Version = problem.Differ, kept.Version // saving again keeps what is typed now
	}
	return s.renderPlates(w, r, statuses[problem.Code], r.PostForm, v, problem.Fields)
}

// withPlates fills in the plates that the shop keeps where none were typed;
// where nothing was, it is left at that.
func (s *Server) withPlates(r *http.Request, v *calculationView, values url.Values) (url.Values, error) {
	kept, err := s.Shop.Plates(r.Context())
	if err != nil {
		return nil, err
	}
	v.Plates = "Plates that are written down once need not be typed again."
	if kept.Plates.Empty() || len(values["plates"]) > 0 {
		return values, nil
	}
	v.Plates = "Filled in with the plates that the shop keeps."
	v.Lent = len(values) == 0
	filled := maps.Clone(values)
	if filled == nil {
		filled = url.Values{}
	}
	filled.Set("plates", kept.Plates.String())
	return filled, nil
}
