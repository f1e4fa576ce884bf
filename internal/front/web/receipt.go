package web

import (
	"html/template"
	"net/http"
	"strings"

	"seatboard/internal/kit/doc"
	"seatboard/internal/paper/html"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// sheetView is a page that is a document to print: as it stands, or as PDF.
type sheetView struct {
	head
	Heading string
	Sheet   template.HTML
	PDF     string // its address as PDF
}

// receipt shows what the owner signs for when a clock is left.
func (s *Server) receipt(w http.ResponseWriter, r *http.Request) error {
	f, err := s.file(r)
	if err != nil {
		return err
	}
	d := present.Receipt(f.Clock)
	h := headOf(f.Clock, "taking-in")
	v := sheetView{head: h, Heading: d.Title, Sheet: html.Render(d, html.Options{ID: "r", Level: 3}), PDF: h.Path + "/receipt.pdf"}
	return s.render(w, r, http.StatusOK, "sheet", frame{Title: v.title("Receipt"), Place: "clocks", View: v})
}

// receiptPDF sends the same as PDF.
func (s *Server) receiptPDF(w http.ResponseWriter, r *http.Request) error {
	f, err := s.file(r)
	if err != nil {
		return err
	}
	return s.sendPDF(w, r, "receipt-"+f.Clock.Number, present.Receipt(f.Clock), shop.Foot(f.Clock))
}

// sendPDF sends a document on the paper that the address asks for.
func (s *Server) sendPDF(w http.ResponseWriter, r *http.Request, name string, d doc.Doc, foot string) error {
	b, err := s.Shop.Print(r.Context(), d, foot, r.URL.Query().Get("paper"))
	if err != nil {
		return err
	}
	return writePDF(w, name, b)
}

func writePDF(w http.ResponseWriter, name string, b []byte) error {
	w.Header().Set("Content-Type", "application/pdf")
	w.Header().Set("Content-Disposition", attachment(name+".pdf"))
	_, err := w.Write(b)
	return err
}

// onLetter is the address of a PDF on the other paper.
func onLetter(address string) string {
	if strings.Contains(address, "?") {
		return address + "&paper=Letter"
	}
	return address + "?paper=Letter"
}
