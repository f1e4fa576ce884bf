package web

import (
	"net/http"
	"slices"

	"seatboard/internal/front/desk"
	"seatboard/internal/kit/doc"
	"seatboard/internal/paper/present"
	"seatboard/internal/paper/svg"
	"seatboard/internal/shop"
)

// drawn writes the chosen drawings of a document as files to be kept.
func (s *Server) drawn(d doc.Doc, chosen []string) ([]shop.Drawn, error) {
	var out []shop.Drawn
	for _, one := range d.Drawings() {
		if slices.Contains(chosen, one.Name) && len(one.Views) > 0 {
			out = append(out, shop.Drawn{Name: one.Name + ".svg", Bytes: svg.File(one.Views[0].Picture)})
		}
	}
	return out, nil
}

// drawingsPDF sends all drawings of a clock with a list of them in front.
func (s *Server) drawingsPDF(w http.ResponseWriter, r *http.Request) error {
	m, err := s.makingIn(r)
	if err != nil {
		return err
	}
	all, err := desk.Drawings(r.Context(), m.Book)
	if err != nil {
		return err
	}
	return s.sendPDF(w, r, "drawings-"+m.Clock.Number, present.Drawings(m.Clock, all), shop.Foot(m.Clock))
}
