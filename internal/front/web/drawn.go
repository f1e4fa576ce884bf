package web

import (
	"slices"

	"seatboard/internal/kit/doc"
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
