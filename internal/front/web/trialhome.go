package web

import (
	"html/template"
	"net/http"

	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/html"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// trialHomeView is what a clock will do in its home.
type trialHomeView struct {
	head
	At     string
	Place  string
	Said   bool
	Sheet  template.HTML
	Faults meas.Faults
}

// homeDoc is the sheet to take along.
func homeDoc(n shop.NewHome) doc.Doc {
	d := present.Home(n.Answer)
	d.Title = n.Clock.Number + ", to its home"
	d.Lead = n.Home.Place
	return d
}

func (s *Server) homeIn(r *http.Request) (shop.NewHome, error) {
	f, err := s.file(r)
	if err != nil {
		return shop.NewHome{}, err
	}
	return s.Shop.NewHome(r.Context(), f.Clock.ID)
}

// trialHome shows what a clock on trial will do in its home, and how to set it
// before it leaves.
func (s *Server) trialHome(w http.ResponseWriter, r *http.Request) error {
	n, err := s.homeIn(r)
	if err != nil {
		return err
	}
	v := &trialHomeView{head: headOf(n.Clock, "trial"), Place: n.Home.Place, Said: n.Said, Faults: n.Faults}
	v.At = v.Path + "/trial/home"
	if len(n.Faults) == 0 {
		v.Sheet = html.Render(present.Home(n.Answer), html.Options{ID: "h", Level: 3})
	}
	return s.render(w, r, http.StatusOK, "trial-home", frame{Title: v.title("To its home"), Place: "clocks", View: v})
}

// trialHomePDF sends the sheet to print.
func (s *Server) trialHomePDF(w http.ResponseWriter, r *http.Request) error {
	n, err := s.homeIn(r)
	if err != nil {
		return err
	}
	if len(n.Faults) > 0 {
		return &shop.Problem{Code: shop.BadInput, Message: "The home cannot be read.", Hint: "Put it right under What counts as right.", Fields: n.Faults}
	}
	return s.sendPDF(w, r, "home-"+n.Clock.Number, homeDoc(n), shop.Foot(n.Clock))
}
