package web

import (
	"net/http"
	"net/url"
	"strconv"

	"seatboard/internal/book/job"
	"seatboard/internal/book/label"
	"seatboard/internal/front/form"
	"seatboard/internal/kit/meas"
	"seatboard/internal/shop"
)

// labelSetView is the shop's sheets and tapes, one of them open to change.
type labelSetView struct {
	Profiles   []label.Kept
	Address    string
	AddressErr string
	Loopback   bool
	Open       string // the profile whose measures the form shows
	Seen       int
	Form       formView
	Differ     []job.Change
}

// labelSet shows the sheets and tapes.
func (s *Server) labelSet(w http.ResponseWriter, r *http.Request) error {
	have, err := s.Shop.LabelSettings(r.Context())
	if err != nil {
		return err
	}
	values, seen := url.Values{}, 0
	name := r.URL.Query().Get("profile")
	if k, ok := have.Find(name); ok && name != "" {
		values, seen = writtenProfile(k.Profile), k.Entry
	}
	return s.renderLabelSet(w, r, have, http.StatusOK, values, labelSetView{Open: name, Seen: seen}, nil)
}

func (s *Server) renderLabelSet(w http.ResponseWriter, r *http.Request, have label.Settings, status int, values url.Values, v labelSetView, faults meas.Faults) error {
	v.Profiles = have.Profiles
	v.AddressErr = faultOf(faults, "address")
	if v.AddressErr == "" || v.Address == "" {
		v.Address = addressOf(have, r)
	}
	v.Loopback = loopback(v.Address)
	v.Form = viewOf(form.Label(new(label.Profile)), values, faults)
	return s.render(w, r, status, "label-set", frame{Title: "Sheets and tapes for labels", Place: "clocks", Faults: faults, View: v})
}

// writtenProfile is a profile as its form has it.
func writtenProfile(p label.Profile) url.Values {
	v := url.Values{"name": {p.Name}, "kind": {string(p.Kind)}}
	for name, l := range map[string]label.Length{"width": p.Width, "height": p.Height, "page-width": p.PageWidth, "page-height": p.PageHeight, "left": p.Left, "top": p.Top,
		"step-right": p.StepRight, "step-down": p.StepDown, "bar-across": p.BarAcross, "bar-down": p.BarDown, "right": p.Right, "down": p.Down} {
		if l.Set {
			v.Set(name, l.Written("mm"))
		}
	}
	for name, n := range map[string]int{"columns": p.Columns, "rows": p.Rows} {
		if n > 0 {
			v.Set(name, strconv.Itoa(n))
		}
	}
	return v
}

// changeLabelSet keeps a profile, takes one out, or keeps the address.
func (s *Server) changeLabelSet(w http.ResponseWriter, r *http.Request) error {
	v := labelSetView{Address: typed(r.PostForm["address"])}
	var err error
	said := "saved"
	switch r.PostForm.Get("do") {
	case "address":
		err = s.Shop.SetLabelAddress(r.Context(), s.by(r), v.Address)
	case "remove":
		said = "removed"
		err = s.Shop.RemoveLabelProfile(r.Context(), s.by(r), r.PostForm.Get("profile"))
	case "save":
		v.Seen, _ = strconv.Atoi(r.PostForm.Get("version")) // what is no number has seen nothing
		v.Open = r.PostForm.Get("profile")
		err = s.saveProfile(r, v.Seen)
	default:
		return errNoPage
	}
	if err == nil {
		return done(w, r, "/labels", said)
	}
	p := shop.AsProblem(err)
	if p.Code != shop.Conflict && len(p.Fields) == 0 {
		return err
	}
	have, err := s.Shop.LabelSettings(r.Context())
	if err != nil {
		return err
	}
	if p.Code == shop.Conflict {
		v.Differ = p.Differ
		if k, ok := have.Find(typed(r.PostForm["name"])); ok {
			v.Seen = k.Entry // saving again keeps what is typed now
		}
	}
	return s.renderLabelSet(w, r, have, statuses[p.Code], r.PostForm, v, p.Fields)
}

// saveProfile reads a profile and keeps it. One that is saved under a new
// name is a new one.
func (s *Server) saveProfile(r *http.Request, seen int) error {
	var p label.Profile
	faults := form.Label(&p).Fill(r.PostForm)
	if len(faults) > 0 {
		for _, f := range p.Check() { // of what could be read
			if faultOf(faults, f.Field) == "" {
				faults = append(faults, f)
			}
		}
		return faults
	}
	if p.Name != r.PostForm.Get("profile") {
		seen = 0
	}
	return s.Shop.SaveLabelProfile(r.Context(), s.by(r), seen, p)
}

// labelTest sends the page by which a printer is measured.
func (s *Server) labelTest(w http.ResponseWriter, r *http.Request) error {
	q := r.URL.Query()
	b, err := s.Shop.LabelTestPage(r.Context(), q.Get("profile"), q.Get("corrected") == "yes")
	if err != nil {
		return err
	}
	return writePDF(w, "test-page", b)
}
