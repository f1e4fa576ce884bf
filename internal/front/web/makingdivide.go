package web

import (
	"errors"
	"html/template"
	"net/http"
	"net/url"
	"strconv"

	"seatboard/internal/front/desk"
	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/html"
)

// dividedView is how the plates of the shop divide a wheel that is to be cut.
type dividedView struct {
	Title  string
	Answer template.HTML
	Href   string // of all about it, and its PDF
}

// divided says how the plates that the shop keeps divide what an answer is for;
// nothing where no plates are kept, or nothing is cut by it. level is that of
// the headings in it.
func (s *Server) divided(r *http.Request, o desk.Outcome, level int) ([]dividedView, error) {
	all := desk.Divisions(o.Answer)
	if len(all) == 0 {
		return nil, nil
	}
	kept, err := s.Shop.Plates(r.Context())
	if err != nil || kept.Plates.Empty() {
		return nil, err
	}
	var out []dividedView
	for i, d := range all {
		by, err := d.By(kept.Plates, o.Doc)
		if errors.As(err, new(meas.Faults)) {
			continue // such a circle is not divided
		}
		if err != nil {
			return nil, err
		}
		values := url.Values{"count": {strconv.Itoa(d.Count)}, "plates": {kept.Plates.String()}}
		if d.Diameter.Set {
			values.Set("diameter", d.Diameter.Written("mm"))
		}
		out = append(out, dividedView{by.Title + " by the plates of the shop", html.Render(by, html.Options{ID: "v" + strconv.Itoa(i), Level: level}), "/desk/divide?" + values.Encode()})
	}
	return out, nil
}
