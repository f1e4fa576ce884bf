package web

import (
	"html/template"
	"net/http"
	"strings"

	"seatboard/internal/book/job"
	"seatboard/internal/book/parts"
	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/html"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// closeOutView is what came off against what went back, and the reasons that
// are still to be written.
type closeOutView struct {
	head
	Sheet   template.HTML
	Reasons []reasonRow
	Ready   bool
	Trial   bool // the clock is on trial
	Refused string
}

// reasonRow asks why a part is where it is.
type reasonRow struct {
	parts.Part
	Field recordField
	Why   string
}

func closeOutOf(t shop.TakeDown, typedReasons map[parts.Number]string, faults meas.Faults) *closeOutView {
	v := &closeOutView{head: headOf(t.Clock, "parts"), Trial: t.Clock.Stage == job.Trial}
	v.Sheet = html.Render(present.CloseOut(t.Clock.Number, t.Ledger), html.Options{ID: "c", Level: 3})
	open := t.Ledger.CloseOut().Unexplained()
	v.Ready = len(open) == 0
	for _, l := range open {
		v.Reasons = append(v.Reasons, reasonRow{Part: l.Part, Why: typedReasons[l.Number]})
	}
	for i := range v.Reasons {
		x := &v.Reasons[i]
		name := "why-" + string(x.Number)
		x.Field = recordField{Name: name, Label: strings.TrimSpace(string(x.Number)+" "+x.Name) + ", " + x.State.Words(), Size: 40, Error: faultOf(faults, name), target: &x.Why}
	}
	return v
}

// closeOut shows the close-out.
func (s *Server) closeOut(w http.ResponseWriter, r *http.Request) error {
	t, err := s.takeDown(r)
	if err != nil {
		return err
	}
	return s.renderCloseOut(w, r, http.StatusOK, closeOutOf(t, nil, nil), nil)
}

func (s *Server) renderCloseOut(w http.ResponseWriter, r *http.Request, status int, v *closeOutView, faults meas.Faults) error {
	return s.render(w, r, status, "close-out", frame{Title: v.title("Close-out"), Place: "clocks", Faults: faults, View: v})
}

// closeOutPDF sends the close-out to print.
func (s *Server) closeOutPDF(w http.ResponseWriter, r *http.Request) error {
	t, err := s.takeDown(r)
	if err != nil {
		return err
	}
	return s.sendPDF(w, r, "close-out-"+t.Clock.Number, present.CloseOut(t.Clock.Number, t.Ledger), shop.Foot(t.Clock))
}

// explainParts keeps the reasons that were written.
func (s *Server) explainParts(w http.ResponseWriter, r *http.Request) error {
	t, err := s.takeDown(r)
	if err != nil {
		return err
	}
	reasons := map[parts.Number]string{}
	for name, v := range r.PostForm {
		if n, ok := strings.CutPrefix(name, "why-"); ok {
			reasons[parts.Number(n)] = typed(v)
		}
	}
	err = s.Shop.ExplainParts(r.Context(), s.by(r), t.Clock.ID, reasons)
	if err == nil {
		return done(w, r, clockPath(t.Clock.ID)+"/close-out", "saved")
	}
	p := faultsOf(err)
	if p == nil {
		return err
	}
	return s.renderCloseOut(w, r, statuses[p.Code], closeOutOf(t, reasons, p.Fields), p.Fields)
}

// refusedTrial shows the close-out to someone who would put the clock on
// trial with parts that are not accounted for.
func (s *Server) refusedTrial(w http.ResponseWriter, r *http.Request, p *shop.Problem) error {
	t, err := s.takeDown(r)
	if err != nil {
		return err
	}
	v := closeOutOf(t, nil, nil)
	v.Refused = p.Message
	return s.renderCloseOut(w, r, statuses[p.Code], v, nil)
}
