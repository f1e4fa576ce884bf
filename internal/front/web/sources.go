package web

import (
	"net/http"

	"seatboard/internal/paper/html"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// sources lists where every constant and table is from.
func (s *Server) sources(w http.ResponseWriter, r *http.Request) error {
	d := present.Sources(shop.Chapters())
	return s.render(w, r, http.StatusOK, "sources", frame{Title: d.Title, Place: "sources", View: html.Render(d, html.Options{})})
}

// validation sets printed figures beside those computed now.
func (s *Server) validation(w http.ResponseWriter, r *http.Request) error {
	d := present.Validation(shop.Chapters())
	return s.render(w, r, http.StatusOK, "sources", frame{Title: d.Title, Place: "sources", View: html.Render(d, html.Options{})})
}

// keys lists the keys, for those without script.
func (s *Server) keys(w http.ResponseWriter, r *http.Request) error {
	return s.render(w, r, http.StatusOK, "keys", frame{Title: "Keys"})
}
