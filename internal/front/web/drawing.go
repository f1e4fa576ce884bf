package web

import (
	"net/http"
	"strings"

	"seatboard/internal/kit/doc"
	"seatboard/internal/paper/dxf"
	"seatboard/internal/paper/html"
	"seatboard/internal/paper/svg"
	"seatboard/internal/shop"
)

// drawingLinks makes the files of each drawing of a page.
func drawingLinks(path, query string) func(string) []html.Link {
	path += "/drawing/"
	if query != "" {
		query = "?" + query
	}
	return func(drawing string) []html.Link {
		pdf := path + drawing + ".pdf" + query
		return []html.Link{
			{Text: "PDF at true size, A4", Href: pdf},
			{Text: "Letter", Href: onLetter(pdf)},
			{Text: "DXF", Href: path + drawing + ".dxf" + query},
			{Text: "SVG", Href: path + drawing + ".svg" + query},
		}
	}
}

// deskDrawing sends a drawing of an answer.
func (s *Server) deskDrawing(w http.ResponseWriter, r *http.Request) error {
	c, err := s.chosen(r)
	if err != nil {
		return err
	}
	out, err := s.worked(r.Context(), c, c.Typed(r.URL.Query()), false)
	if err != nil {
		return err
	}
	return s.sendDrawing(w, r, out.Doc, r.PathValue("file"))
}

// sheetDrawing sends a drawing of a sheet that was kept for a clock.
func (s *Server) sheetDrawing(w http.ResponseWriter, r *http.Request) error {
	m, x, err := s.oneSheet(r)
	if err != nil {
		return err
	}
	d, err := s.docOfSheet(r, x)
	if err != nil {
		return err
	}
	return s.sendDrawing(w, r, ofThisClock(d, m.Clock.Number), r.PathValue("file"))
}

// sendDrawing sends a drawing of a document by its file name, as PDF for the
// printer that the address tells of.
func (s *Server) sendDrawing(w http.ResponseWriter, r *http.Request, d doc.Doc, file string) error {
	name, kind, _ := strings.Cut(file, ".")
	for _, one := range d.Drawings() {
		if one.Name != name || len(one.Views) == 0 {
			continue
		}
		switch kind {
		case "pdf":
			q := r.URL.Query()
			b, err := s.Shop.DrawingNow(one, shop.Printer{Paper: q.Get("paper"), BarAcross: q.Get("bar-across"), BarDown: q.Get("bar-down")})
			if err != nil {
				return err
			}
			return writePDF(w, name, b)
		case "svg":
			return attach(w, file, "image/svg+xml", svg.File(one.Views[0].Picture))
		case "dxf":
			b, err := dxf.File(one)
			if err != nil {
				return err
			}
			return attach(w, file, "image/vnd.dxf", b)
		}
	}
	return errNoPage
}

// attach sends a file to be kept.
func attach(w http.ResponseWriter, name, kind string, b []byte) error {
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", attachment(name))
	_, err := w.Write(b)
	return err
}
