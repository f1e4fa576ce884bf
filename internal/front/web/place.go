package web

import (
	"net/http"
	"strings"

	"seatboard/internal/book/parts"
	"seatboard/internal/shop"
)

// placeView is a place into which parts are put one after the other, with what
// lies there.
type placeView struct {
	Place    string
	Part     string // as typed
	PlaceErr string
	PartErr  string
	Parts    []shop.FoundPart
	More     bool
}

// place shows what lies in a place, and takes the next part.
func (s *Server) place(w http.ResponseWriter, r *http.Request) error {
	return s.renderPlace(w, r, http.StatusOK, placeView{Place: strings.TrimSpace(r.URL.Query().Get("place"))}, nil)
}

func (s *Server) renderPlace(w http.ResponseWriter, r *http.Request, status int, v placeView, p *shop.Problem) (err error) {
	f := frame{Title: "Into a place", Place: "clocks"}
	if v.Place != "" {
		f.Title = "Into " + v.Place
	}
	if p != nil {
		f.Faults, v.PlaceErr, v.PartErr = p.Fields, faultOf(p.Fields, "place"), faultOf(p.Fields, "part")
	}
	if v.Parts, v.More, err = s.Shop.PartsIn(r.Context(), v.Place); err != nil {
		return err
	}
	f.View = v
	return s.render(w, r, status, "place", f)
}

// putInPlace puts one part there, and is ready for the next.
func (s *Server) putInPlace(w http.ResponseWriter, r *http.Request) error {
	v := placeView{Place: typed(r.PostForm["place"]), Part: typed(r.PostForm["part"])}
	clock, n, err := s.Shop.OnePart(r.Context(), v.Part)
	if err == nil {
		_, err = s.Shop.PlaceParts(r.Context(), s.by(r), clock, shop.PlaceAsk{Parts: []parts.Number{n}, Into: v.Place})
	}
	if err == nil {
		return doneAt(w, r, "/places?"+encode("place", v.Place), "moved")
	}
	p := faultsOf(err)
	if p == nil {
		return err
	}
	for i := range p.Fields {
		if p.Fields[i].Field == "into" {
			p.Fields[i].Field = "place"
		}
	}
	return s.renderPlace(w, r, statuses[p.Code], v, p)
}
