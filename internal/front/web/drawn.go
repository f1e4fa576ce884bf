package web

import (
	"net/http"
	"slices"

	"seatboard/internal/front/desk"
	"seatboard/internal/kit/doc"
	"seatboard/internal/paper/dxf"
	"seatboard/internal/paper/present"
	"seatboard/internal/paper/svg"
	"seatboard/internal/shop"
)

// drawn writes the chosen drawings of a document as files to be kept: to look
// at, to print at true size, and to cut by.
func (s *Server) drawn(d doc.Doc, clock string, chosen []string) ([]shop.Drawn, error) {
	var out []shop.Drawn
	for _, one := range d.Drawings() {
		if !slices.Contains(chosen, one.Name) || len(one.Views) == 0 {
			continue
		}
		one.Of = clock
		sheets, err := s.Shop.DrawingNow(one, shop.Printer{})
		if err != nil {
			return nil, err
		}
		cut, err := dxf.File(one)
		if err != nil {
			return nil, err
		}
		out = append(out, shop.Drawn{Name: one.Name + ".pdf", Bytes: sheets}, shop.Drawn{Name: one.Name + ".dxf", Bytes: cut},
			shop.Drawn{Name: one.Name + ".svg", Bytes: svg.File(one.Views[0].Picture)})
	}
	return out, nil
}

// ofThisClock puts the number of a clock on the drawings of a document.
func ofThisClock(d doc.Doc, clock string) doc.Doc {
	d.Sections = slices.Clone(d.Sections)
	for i := range d.Sections {
		body := slices.Clone(d.Sections[i].Body)
		for k, b := range body {
			if one, ok := b.(doc.Drawing); ok {
				one.Of = clock
				body[k] = one
			}
		}
		d.Sections[i].Body = body
	}
	return d
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
