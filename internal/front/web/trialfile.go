package web

import (
	"net/http"

	"seatboard/internal/kit/doc"
	"seatboard/internal/paper/csv"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// trialDoc is all that a trial comes to, with what is asked.
func trialDoc(t shop.Trial) doc.Doc {
	a := *t.Answer
	a.Questions = t.Questions
	d := present.Regulate(a)
	d.Title = t.Clock.Number + ", on trial"
	return d
}

// trialPDF sends a trial to print.
func (s *Server) trialPDF(w http.ResponseWriter, r *http.Request) error {
	t, err := s.trialIn(r)
	if err != nil {
		return err
	}
	return s.sendPDF(w, r, "trial-"+t.Clock.Number, trialDoc(t), shop.Foot(t.Clock))
}

// trialLog sends the regulation log for a spreadsheet.
func (s *Server) trialLog(w http.ResponseWriter, r *http.Request) error {
	t, err := s.trialIn(r)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/csv; charset=utf-8")
	w.Header().Set("Content-Disposition", attachment("trial-"+t.Clock.Number+".csv"))
	return csv.Write(w, present.RegulationLog(*t.Answer))
}

// trialFile sends the picture of a trial, or its numbers.
func (s *Server) trialFile(w http.ResponseWriter, r *http.Request) error {
	t, err := s.trialIn(r)
	if err != nil {
		return err
	}
	return s.sendFile(w, r, trialDoc(t), r.PathValue("file"), shop.Foot(t.Clock))
}
