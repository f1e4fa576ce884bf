package web

import (
	"net/http"
	"strings"
	"time"

	"seatboard/internal/book/work"
	"seatboard/internal/kit/doc"
	"seatboard/internal/paper/csv"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// hoursFile sends the hours of a clock, as a table for a spreadsheet or as
// PDF.
func (s *Server) hoursFile(w http.ResponseWriter, r *http.Request) error {
	f, err := s.file(r)
	if err != nil {
		return err
	}
	h, err := s.Shop.Hours(r.Context(), f.Clock.ID)
	if err != nil {
		return err
	}
	t := s.stretches(h.Work)
	if strings.HasSuffix(r.URL.Path, ".csv") {
		return sendTable(w, "hours-"+f.Clock.Number, t)
	}
	d := present.Hours(f.Clock.Number, h.Sums)
	d.Sections = append(d.Sections, doc.Section{Body: []doc.Block{t}})
	return s.sendPDF(w, r, "hours-"+f.Clock.Number, d, shop.Foot(f.Clock))
}

func (s *Server) stretches(all []shop.Work) doc.Table {
	var out []work.Stretch
	for _, x := range all {
		out = append(out, x.Stretch)
	}
	return present.Stretches(out, s.Shop.WorkRule(), s.Shop.Now())
}

func sendTable(w http.ResponseWriter, name string, t doc.Table) error {
	w.Header().Set("Content-Type", "text/csv; charset=utf-8")
	w.Header().Set("Content-Disposition", attachment(name+".csv"))
	return csv.Write(w, t)
}

// weekAsked is the day of the week that the address asks for, today where it
// asks for none.
func (s *Server) weekAsked(r *http.Request) time.Time {
	day, err := time.ParseInLocation(time.DateOnly, r.URL.Query().Get("week"), s.Shop.Zone())
	if err != nil {
		return s.Shop.Now()
	}
	return day
}

// weekFile sends the hours of a week as a table for a spreadsheet.
func (s *Server) weekFile(w http.ResponseWriter, r *http.Request) error {
	week, err := s.Shop.Week(r.Context(), s.weekAsked(r))
	if err != nil {
		return err
	}
	var all []shop.Work
	for _, d := range week.Days {
		all = append(all, d.Work...)
	}
	return sendTable(w, "hours-"+week.Monday.Format(time.DateOnly), s.stretches(all))
}
