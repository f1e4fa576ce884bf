package web

import (
	"html/template"
	"net/http"
	"net/url"
	"strconv"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/trial"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/html"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// trialGateRoutes lists the addresses of a clock's gates.
func (s *Server) trialGateRoutes(get, post func(string, handler)) {
	get("/clocks/{id}/trial/gates", s.trialGates)
	post("/clocks/{id}/trial/gates", s.changeTrialGates)
	get("/clocks/{id}/trial/gates.pdf", s.trialGatesPDF)
	get("/clocks/{id}/trial/reminders.ics", s.clockReminders)
	get("/today.ics", s.reminders)
	get("/clocks/{id}/trial/gates/aim", s.trialAim)
	post("/clocks/{id}/trial/gates/aim", s.saveTrialAim)
	get("/clocks/{id}/trial/home", s.trialHome)
	get("/clocks/{id}/trial/home.pdf", s.trialHomePDF)
}

// trialGatesView is how a clock stands with its gates, and what can be done.
type trialGatesView struct {
	head
	Short   template.HTML
	Sheet   template.HTML // gate by gate
	At      string        // address of the page
	Seen    int           // entries of the log
	By      string
	Gate    *trialGateForm // that is under way or comes next; nil where all are signed
	Anew    []anewForm     // those that can be begun anew
	Home    bool           // all are signed: it can move on
	Waive   *recordField   // the reason to go home without; nil where there is nothing to give up
	Waived  string         // why gates were given up
	Refused string
	Wrong   *shop.Problem
	Damaged meas.Faults
}

// trialGateForm is what can be done with the gate that is under way.
type trialGateForm struct {
	Key, Name string
	Begun     bool
	Ready     bool
	Unwritten int // times it began anew that nobody wrote down
	From, Why recordField
	from, why string
}

// anewForm begins a gate anew.
type anewForm struct {
	Key, Name string
	Signed    bool
	Why, From recordField
	why, from string
}

func trialGatesViewOf(g shop.Gates, by string, form url.Values, faults meas.Faults) *trialGatesView {
	v := &trialGatesView{head: headOf(g.Clock, "trial"), Seen: g.Book.Len(), By: by, Damaged: g.Damaged}
	v.At = v.Path + "/trial/gates"
	d := present.Gates(g.Clock, g.Standing, g.Now)
	first, rest := doc.Doc{Sections: d.Sections[:1]}, doc.Doc{Sections: d.Sections[1:]}
	v.Short, v.Sheet = html.Render(first, html.Options{ID: "s", Level: 3}), html.Render(rest, html.Options{ID: "g", Level: 3})
	do, key := form.Get("do"), form.Get("gate")
	field := func(name, label, hint, mine string, size int, to *string) recordField {
		f := recordField{Name: name, Label: label, Hint: hint, Size: size, target: to}
		if mine == do {
			*to, f.Error = typed(form[name]), faultOf(faults, name)
		}
		f.Name = mine + "-" + name
		return f
	}
	if s := g.Standing; s.Current < len(s.Gates) {
		x := s.Gates[s.Current]
		f := &trialGateForm{Key: x.Gate.Key, Name: x.Gate.Name, Begun: x.State != trial.NotBegun, Ready: x.State == trial.Ready, Unwritten: len(x.Unwritten())}
		f.From = field("from", "From when", "Empty for now; or yesterday 17:40, "+g.Now.Format(whenForm), "begin", 20, &f.from)
		f.Why = field("why", "Why it is signed though not all is right", "", "sign", 40, &f.why)
		v.Gate = f
	}
	for _, x := range g.Standing.Gates {
		if x.State == trial.NotBegun {
			continue
		}
		f := anewForm{Key: x.Gate.Key, Name: x.Gate.Name, Signed: x.Sign != nil}
		mine := "anew"
		if key != x.Gate.Key {
			mine = "another gate"
		}
		f.Why = field("why", "Why", "", mine, 40, &f.why)
		f.From = field("from", "From when it counts", "Empty for now", mine, 20, &f.from)
		f.Why.Name, f.From.Name = "anew-why-"+f.Key, "anew-from-"+f.Key
		v.Anew = append(v.Anew, f)
	}
	onTrial := g.Clock.Stage == job.Trial
	v.Home = onTrial && g.Standing.Passed
	if onTrial && !g.Standing.Passed {
		var why string
		f := field("why", "Why it goes home without", "", "waive", 40, &why)
		v.Waive = &f
	}
	if e, ok := g.Book.Waived(); ok {
		v.Waived = e.Why + " (" + e.Who + ", " + e.When.In(g.Now.Location()).Format(time.DateOnly) + ")"
	}
	return v
}

// whenForm is how a moment can be typed, in the time of the shop.
const whenForm = "2006-01-02 15:04"

func (s *Server) gatesOf(r *http.Request) (shop.Gates, error) {
	f, err := s.file(r)
	if err != nil {
		return shop.Gates{}, err
	}
	return s.Shop.Gates(r.Context(), f.Clock.ID)
}

// trialGates shows how a clock stands with its gates.
func (s *Server) trialGates(w http.ResponseWriter, r *http.Request) error {
	return s.renderTrialGates(w, r, http.StatusOK, nil, nil)
}

func (s *Server) renderTrialGates(w http.ResponseWriter, r *http.Request, status int, form url.Values, wrong *shop.Problem) error {
	g, err := s.gatesOf(r)
	if err != nil {
		return err
	}
	var f frame
	if wrong != nil {
		f.Faults = wrong.Fields
	}
	v := trialGatesViewOf(g, s.by(r), form, f.Faults)
	if wrong != nil && (len(wrong.Fields) == 0 || faultOf(wrong.Fields, "gate") != "") {
		v.Wrong, f.Faults = wrong, nil
	}
	for i := range f.Faults {
		f.Faults[i].Field = gateField(form, f.Faults[i].Field)
	}
	f.Title, f.Place, f.View = v.title("Gates"), "clocks", v
	return s.render(w, r, status, "gates", f)
}

// gateField is the name of a field as it stands in the form that was sent.
func gateField(form url.Values, field string) string {
	do := form.Get("do")
	if do == "anew" {
		return "anew-" + field + "-" + form.Get("gate")
	}
	return do + "-" + field
}

// changeTrialGates does what a button of the page says.
func (s *Server) changeTrialGates(w http.ResponseWriter, r *http.Request) error {
	f, err := s.file(r)
	if err != nil {
		return err
	}
	form := r.PostForm
	do, key := form.Get("do"), form.Get("gate")
	for _, name := range []string{"why", "from"} { // each form has names of its own
		form[name] = form[gateField(form, name)]
	}
	seen, _ := strconv.Atoi(form.Get("seen")) // 0 has seen nothing
	at, faults := s.momentTyped(typed(form["from"]))
	ctx, by, id, why := r.Context(), s.by(r), f.Clock.ID, typed(form["why"])
	if err = nil; len(faults) > 0 {
		err = &shop.Problem{Code: shop.BadInput, Message: "There is a problem with what was entered.", Fields: faults}
	}
	switch {
	case err != nil:
	case do == "begin":
		err = s.Shop.BeginGate(ctx, by, id, seen, key, at)
	case do == "sign":
		err = s.Shop.SignGate(ctx, by, id, seen, key, why)
	case do == "anew":
		err = s.Shop.FailGate(ctx, by, id, seen, key, why, at)
	case do == "write":
		err = s.Shop.WriteResets(ctx, by, id, seen, key)
	case do == "waive":
		err = s.Shop.WaiveGates(ctx, by, id, seen, why)
	default:
		return errNoPage
	}
	if err == nil {
		return done(w, r, clockPath(id)+"/trial/gates", map[string]string{"sign": "signed", "waive": "stage"}[do])
	}
	p := shop.AsProblem(err)
	if p.Code != shop.Conflict && len(p.Fields) == 0 {
		return err
	}
	return s.renderTrialGates(w, r, statuses[p.Code], form, p)
}

// momentTyped reads a moment in the time of the shop; nothing is none.
func (s *Server) momentTyped(text string) (time.Time, meas.Faults) {
	at, wrong := trial.ParseMoment(text, s.Shop.Now(), s.Shop.Zone())
	if wrong != "" {
		return at, meas.Faults{{Field: "from", Text: wrong}}
	}
	return at, nil
}

// trialGatesPDF sends the sheet of acceptance to print.
func (s *Server) trialGatesPDF(w http.ResponseWriter, r *http.Request) error {
	g, err := s.gatesOf(r)
	if err != nil {
		return err
	}
	return s.sendPDF(w, r, "acceptance-"+g.Clock.Number, present.Acceptance(g.Clock, g.Standing, g.Now), shop.Foot(g.Clock))
}

// refusedHome shows the gates to someone who would send a clock home that has
// not passed them.
func (s *Server) refusedHome(w http.ResponseWriter, r *http.Request, p *shop.Problem) error {
	g, err := s.gatesOf(r)
	if err != nil {
		return err
	}
	v := trialGatesViewOf(g, s.by(r), nil, nil)
	v.Refused = p.Message
	return s.render(w, r, statuses[p.Code], "gates", frame{Title: v.title("Gates"), Place: "clocks", View: v})
}

// clockReminders sends what is not to be forgotten of a clock to a calendar.
func (s *Server) clockReminders(w http.ResponseWriter, r *http.Request) error {
	f, err := s.file(r)
	if err != nil {
		return err
	}
	b, err := s.Shop.Reminders(r.Context(), f.Clock.ID)
	return sendCalendar(w, "reminders-"+f.Clock.Number, b, err)
}

// reminders sends what is not to be forgotten in the shop to a calendar.
func (s *Server) reminders(w http.ResponseWriter, r *http.Request) error {
	b, err := s.Shop.Reminders(r.Context(), 0)
	return sendCalendar(w, "reminders", b, err)
}

func sendCalendar(w http.ResponseWriter, name string, b []byte, err error) error {
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/calendar; charset=utf-8")
	w.Header().Set("Content-Disposition", attachment(name+".ics"))
	_, err = w.Write(b)
	return err
}
