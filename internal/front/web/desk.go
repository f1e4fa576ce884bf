package web

import (
	"errors"
	"html/template"
	"maps"
	"net/http"
	"net/url"
	"strings"

	"seatboard/internal/front/desk"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/paper/csv"
	"seatboard/internal/paper/html"
	"seatboard/internal/paper/svg"
)

// deskRoutes lists the addresses of the desk.
func (s *Server) deskRoutes(get, post func(string, handler)) {
	get("/desk", s.desk)
	get("/plates", s.plates)
	post("/plates", s.keepPlates)
	get("/desk/{name}", s.calculation)
	post("/desk/{name}", s.calculate)
	get("/desk/{name}/progress", s.followSearch)
	get("/desk/{name}/{file}", s.deskFile)
	get("/desk/{name}/drawing/{file}", s.deskDrawing)
}

// desk lists the calculations that need no clock.
func (s *Server) desk(w http.ResponseWriter, r *http.Request) error {
	return s.render(w, r, http.StatusOK, "desk", frame{Title: "Desk", Place: "desk", View: desk.Jobs()})
}

// calculationView is a form with its answer.
type calculationView struct {
	desk.Calculation
	Form    formView
	Answer  template.HTML
	PDF     string // address of the answer as PDF
	For     string // number of the clock that it is worked out for, "" for none
	Lent    bool   // its survey filled the form in, and nothing is worked out yet
	Keep    *keepView
	Script  string        // that turns a figure of the answer, "" where none does
	Plates  string        // what to say of the plates that the shop keeps; "" where they play no part
	Onward  []onwardView  // what the answer leads to
	Divided []dividedView // by the plates that the shop keeps
	Take    *takeView     // what of it may go into the clock's survey
	Follow  string        // address that says how far a long calculation is; "" where every answer comes at once
	AtOnce  string        // how long it is given where nobody follows it
}

func (s *Server) chosen(r *http.Request) (desk.Calculation, error) {
	c, ok := desk.Find(r.PathValue("name"))
	if !ok {
		return c, errNoPage
	}
	return c, nil
}

// calculation shows the form and, where the address carries values, the
// answer: an answer can be kept as a link.
func (s *Server) calculation(w http.ResponseWriter, r *http.Request) error {
	c, err := s.chosen(r)
	if err != nil {
		return err
	}
	return s.answer(w, r, c, r.URL.Query(), nil)
}

// maxAddress is the longest address an answer is kept in.
const maxAddress = 6000

// calculate reads the form and moves on to the address of the answer.
func (s *Server) calculate(w http.ResponseWriter, r *http.Request) error {
	c, err := s.chosen(r)
	if err != nil {
		return err
	}
	values := c.Typed(r.PostForm)
	address := maps.Clone(url.Values(values))
	if number := r.PostForm.Get(forClock); number != "" {
		address.Set(forClock, number)
	}
	if q := address.Encode(); len(q) < maxAddress {
		if _, err := s.worked(r.Context(), c, values, true); err == nil {
			http.Redirect(w, r, "/desk/"+c.Name+"?"+q, http.StatusSeeOther)
			return nil
		}
	}
	return s.answer(w, r, c, address, nil)
}

// answer renders the form with what was typed, and the answer or the
// mistakes; unkept is what is wrong with how it was to be kept.
func (s *Server) answer(w http.ResponseWriter, r *http.Request, c desk.Calculation, given url.Values, unkept meas.Faults) error {
	values := c.Begin().Form.Known(given)
	v := calculationView{Calculation: c, For: given.Get(forClock)}
	if c.Long() {
		v.Follow, v.AtOnce = "/desk/"+c.Name+"/progress", lasting(unit.Duration(desk.LongestAtOnce.Seconds()))
	}
	status, faults := http.StatusOK, meas.Faults(nil)
	if len(values) == 0 && v.For != "" {
		var err error
		if values, err = s.lent(r, c, v.For); err != nil {
			return err
		}
		v.Lent = len(values) > 0
	}
	if c.Name == "divide" && !v.Lent {
		var err error
		if values, err = s.withPlates(r, &v, values); err != nil {
			return err
		}
	}
	if len(values) > 0 && !v.Lent {
		out, err := s.worked(r.Context(), c, values, false)
		switch {
		case errors.As(err, &faults):
			status = http.StatusUnprocessableEntity
		case err != nil:
			return err
		default:
			choice := given.Get(enlarge)
			at, query := "/desk/"+c.Name, url.Values(values).Encode()
			if c.Name == "mesh" {
				v.Script = s.assets.url("depthing.js")
			}
			v.PDF = at + "/" + wholeSheet + "?" + query
			v.Onward, v.Take = onwardOf(c, out.Answer, v.For), takeOf(c, out.Answer, v.For, values, false)
			if v.Divided, err = s.divided(r, out, 3); err != nil {
				return err
			}
			v.Keep = keepOf(c, at, v.For, values, given, unkept)
			v.Answer = html.Render(c.Choose(out, choice).Doc, html.Options{Links: figureLinks(at, query+chosen(query, choice)), Drawings: drawingLinks(at, query), Choose: func(x string) string { return at + "?" + query + chosen(query, x) }})
		}
	}
	if len(unkept) > 0 {
		status = http.StatusUnprocessableEntity
	}
	v.Form = viewOf(c.Begin().Form, values, faults)
	return s.render(w, r, status, "calculation", frame{Title: c.Title, Place: "desk", Faults: append(faults, unkept...), View: v})
}

// lent is what the survey of a clock, by its number, fills in; nothing where
// there is no such clock.
func (s *Server) lent(r *http.Request, c desk.Calculation, number string) (url.Values, error) {
	id, err := s.numbered(r.Context(), number)
	var none meas.Faults
	if errors.As(err, &none) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	f, err := s.Shop.File(r.Context(), id)
	return c.Begin().Form.Known(c.Lent(typedParts(f.Survey))), err
}

// enlarge is the part of an address that chooses what a figure shows.
const enlarge = "enlarge"

// chosen adds a choice to a query.
func chosen(query, choice string) string {
	if choice == "" {
		return ""
	}
	s := enlarge + "=" + url.QueryEscape(choice)
	if query != "" {
		s = "&" + s
	}
	return s
}

// figureLinks makes the downloads of each figure.
func figureLinks(path, query string) func(string) []html.Link {
	if query != "" {
		query = "?" + query
	}
	return func(figure string) []html.Link {
		return []html.Link{
			{Text: "SVG", Href: path + "/" + figure + ".svg" + query},
			{Text: "PDF", Href: path + "/" + figure + ".pdf" + query},
			{Text: "CSV", Href: path + "/" + figure + ".csv" + query},
		}
	}
}

// deskFile sends a figure of an answer as a drawing or its numbers.
func (s *Server) deskFile(w http.ResponseWriter, r *http.Request) error {
	c, err := s.chosen(r)
	if err != nil {
		return err
	}
	out, err := s.worked(r.Context(), c, c.Typed(r.URL.Query()), false)
	if err != nil {
		return err
	}
	return s.sendFile(w, r, c.Choose(out, r.URL.Query().Get(enlarge)).Doc, r.PathValue("file"), "")
}

// wholeSheet is the file of a document as PDF, all of it.
const wholeSheet = "sheet.pdf"

// sendFile sends a figure of a document by its file name, or all of it as
// PDF; foot stands on every page of a PDF.
func (s *Server) sendFile(w http.ResponseWriter, r *http.Request, d doc.Doc, file, foot string) error {
	if file == wholeSheet {
		return s.sendPDF(w, r, d.Title, d, foot)
	}
	name, kind, _ := strings.Cut(file, ".")
	for _, f := range d.Figures() {
		if f.Name != name {
			continue
		}
		if kind == "pdf" {
			return s.sendPDF(w, r, name, doc.Doc{Title: d.Title, Sections: []doc.Section{{Body: []doc.Block{f}}}}, foot)
		}
		w.Header().Set("Content-Disposition", attachment(file))
		switch {
		case kind == "svg":
			w.Header().Set("Content-Type", "image/svg+xml")
			_, err := w.Write(svg.File(f.Wide))
			return err
		case kind == "csv" && f.Numbers != nil:
			w.Header().Set("Content-Type", "text/csv; charset=utf-8")
			return csv.Write(w, *f.Numbers)
		}
	}
	return errNoPage
}
