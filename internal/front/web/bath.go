package web

import (
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"seatboard/internal/book/condition"
	"seatboard/internal/book/parts"
	"seatboard/internal/craft/clean"
	"seatboard/internal/front/form"
	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/html"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// bathsView lists the batches of a clock.
type bathsView struct {
	head
	Baths []shop.Bath
}

func (s *Server) baths(w http.ResponseWriter, r *http.Request) error {
	f, err := s.file(r)
	if err != nil {
		return err
	}
	all, err := s.Shop.Baths(r.Context(), f.Clock.ID)
	if err != nil {
		return err
	}
	slices.Reverse(all)
	v := bathsView{headOf(f.Clock, "baths"), all}
	return s.render(w, r, http.StatusOK, "baths", frame{Title: v.title("Baths"), Place: "clocks", View: v})
}

// newBathView is a batch that is being put together.
type newBathView struct {
	head
	Hazards   []condition.AreaHazard // of the areas of the clock
	Parts     []bathPart
	PartFault string
	Jar       string
	Form      formView
	Overrule  []overrule
	Answer    template.HTML
	Judged    bool
	Refused   bool // by what nothing lifts, or by a question
}

// bathPart is a part that can go in.
type bathPart struct {
	parts.Part
	Whole  string
	Made   string // of what, in words
	Ticked bool
}

// overrule is a refusal that a reason lifts.
type overrule struct {
	Name, Text, Value, Error string
}

// newBath shows what can go into a bath.
func (s *Server) newBath(w http.ResponseWriter, r *http.Request) error {
	t, err := s.takeDown(r)
	if err != nil {
		return err
	}
	v := newBathOf(t, r.URL.Query(), nil)
	return s.renderNewBath(w, r, http.StatusOK, v, nil)
}

func (s *Server) renderNewBath(w http.ResponseWriter, r *http.Request, status int, v newBathView, faults meas.Faults) (err error) {
	if v.Hazards, err = s.Shop.Cautions(r.Context(), v.Clock.ID); err != nil {
		return err
	}
	return s.render(w, r, status, "bath-new", frame{Title: v.title("Into a bath"), Place: "clocks", Faults: faults, View: v})
}

func newBathOf(t shop.TakeDown, typed url.Values, faults meas.Faults) newBathView {
	v := newBathView{head: headOf(t.Clock, "baths"), Jar: typed.Get("jar"), PartFault: faultOf(faults, "part")}
	for _, p := range shop.Bathable(t.Ledger) {
		x := bathPart{Part: p, Whole: p.Number.Of(t.Clock.Number), Ticked: slices.Contains(typed["part"], string(p.Number))}
		var words []string
		for _, m := range p.Detail.Made {
			words = append(words, m.Words())
		}
		x.Made = strings.Join(words, "; ")
		v.Parts = append(v.Parts, x)
	}
	v.Form = viewOf(form.Bath(new(clean.Query)), typed, faults)
	return v
}

// judged puts the answer into the page, and a field beside each refusal that
// a reason lifts.
func (v *newBathView) judged(a clean.Answer, typed url.Values, faults meas.Faults) {
	v.Judged = true
	v.Refused = a.Hard() || len(a.Questions) > 0
	v.Answer = html.Render(present.Clean(a), html.Options{ID: "a", Level: 3})
	seen := map[string]int{}
	for _, x := range a.Refusals {
		name := overruleName(x.Finding.Code)
		if x.Hard {
			continue
		}
		if i, ok := seen[name]; ok { // one reason lifts all refusals of a kind
			v.Overrule[i].Text += " " + x.Finding.Text
			continue
		}
		seen[name] = len(v.Overrule)
		v.Overrule = append(v.Overrule, overrule{Name: name, Text: x.Finding.Text, Value: typed.Get(name), Error: faultOf(faults, name)})
	}
}

func overruleName(code string) string { return "overrule." + code }

// beginBath judges what was ticked and, where that was pressed, begins.
func (s *Server) beginBath(w http.ResponseWriter, r *http.Request) error {
	t, err := s.takeDown(r)
	if err != nil {
		return err
	}
	ask, faults := bathAsked(r.PostForm)
	if len(faults) > 0 {
		return s.renderNewBath(w, r, http.StatusUnprocessableEntity, newBathOf(t, r.PostForm, faults), faults)
	}
	if r.PostForm.Get("do") != "begin" {
		a, err := s.Shop.JudgeBath(r.Context(), t.Clock.ID, ask)
		return s.showJudged(w, r, t, a, err)
	}
	id, a, err := s.Shop.BeginBath(r.Context(), s.by(r), t.Clock.ID, ask)
	if err == nil {
		return done(w, r, "/baths/"+id, "begun")
	}
	return s.showJudged(w, r, t, a, err)
}

// showJudged shows the page with the answer, and with every mistake.
func (s *Server) showJudged(w http.ResponseWriter, r *http.Request, t shop.TakeDown, a clean.Answer, err error) error {
	status := http.StatusOK
	var faults meas.Faults
	if err != nil {
		p := shop.AsProblem(err)
		if len(p.Fields) == 0 {
			return err
		}
		status, faults = statuses[p.Code], bathFaults(a, p.Fields)
	}
	v := newBathOf(t, r.PostForm, faults)
	if a.Verdict != "" {
		v.judged(a, r.PostForm, faults)
	}
	return s.renderNewBath(w, r, status, v, faults)
}

// bathFaults names the fields that the mistakes of a batch stand beside: the
// reason of a refusal, or the answer as a whole.
func bathFaults(a clean.Answer, faults meas.Faults) meas.Faults {
	codes := map[string]string{}
	for _, x := range a.Refusals {
		codes[x.Finding.Code] = overruleName(x.Finding.Code)
		if x.Hard {
			codes[x.Finding.Code] = "verdict"
		}
	}
	for _, q := range a.Questions {
		codes[q.Code] = "verdict"
	}
	out := slices.Clone(faults)
	for i := range out {
		if name, ok := codes[out[i].Field]; ok {
			out[i].Field = name
		}
		if strings.HasPrefix(out[i].Field, "pieces") {
			out[i].Field = "part"
		}
	}
	return out
}

// bathAsked reads the form of a new batch.
func bathAsked(typed url.Values) (shop.BathAsk, meas.Faults) {
	ask := shop.BathAsk{Jar: strings.TrimSpace(typed.Get("jar")), Overruled: map[string]string{}}
	for _, n := range typed["part"] {
		ask.Parts = append(ask.Parts, parts.Number(n))
	}
	for name, values := range typed {
		if code, ok := strings.CutPrefix(name, overruleName("")); ok {
			ask.Overruled[code] = strings.TrimSpace(values[0])
		}
	}
	faults := form.Bath(&ask.Query).Fill(typed)
	if len(ask.Parts) == 0 {
		faults = append(faults, meas.Fault{Field: "part", Text: "Tick the parts that go into this bath"})
	}
	return ask, faults
}
