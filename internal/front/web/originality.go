package web

import (
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/parts"
	"seatboard/internal/book/picture"
	"seatboard/internal/book/work"
	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// originalityRoutes lists the addresses of what was done to a clock.
func (s *Server) originalityRoutes(get, post func(string, handler)) {
	get("/clocks/{id}/interventions", s.interventions)
	post("/clocks/{id}/interventions", s.intervene)
	get("/clocks/{id}/interventions/{n}", s.intervention)
	post("/clocks/{id}/interventions/{n}", s.intervene)
	post("/clocks/{id}/interventions/undo", s.undoDeed)
	get("/clocks/{id}/interventions.pdf", s.originalityPDF)
}

// originalityView is the originality ledger, with a form for one intervention:
// a new one, or one that is corrected.
type originalityView struct {
	head
	All      []deedView
	One      *deedView // the one that is corrected; nil on the list
	Form     deedForm
	Read     int // the entry that the form shows
	History  []deedLine
	Findings []meas.Finding
	Differ   []job.Change
	Wrong    *shop.Problem
	Damaged  meas.Faults
}

// deedView is an intervention as it stands.
type deedView struct {
	work.Intervention
	Href, Day, Took string
	BeforeShots     []shotView
	AfterShots      []shotView
	Open            int // what the ledger does not tell yet
}

// deedLine is an entry of the ledger about an intervention.
type deedLine struct {
	N              int
	When, Who, Why string
	Words          string
	Changes        []job.Change
	Back           bool // it can be taken back
}

// deedForm is an intervention as typed.
type deedForm struct {
	typed  map[string]*string
	First  []recordField // found, done, why
	Rest   []recordField
	Undo   []optionView
	Before []shotChoice
	After  []shotChoice
	Why    string // of a correction
	Errors meas.Faults
}

// shotChoice is a photograph that can be ticked.
type shotChoice struct {
	shotView
	Chosen bool
}

// deedTyped lists what is typed, by name, as an intervention has it.
func deedTyped(v work.Intervention, clock string) map[string]string {
	out := map[string]string{"found": v.Found, "done": v.Done, "why": v.Why, "departure": v.Departure, "added": v.Added, "removed": v.Removed, "undo": string(v.Undo), "how": v.How, "kept_at": v.KeptAt, "legal": v.Legal, "who": v.Who, "part": string(v.Part)}
	if !v.When.IsZero() {
		out["when"] = v.When.Local().Format(time.DateOnly)
	}
	if v.Hours > 0 {
		out["hours"] = work.Clocked(v.Hours)
	}
	return out
}

// deedFormOf lays a form out for what is typed.
func deedFormOf(text map[string]string, before, after []string, o shop.Originality, faults meas.Faults) deedForm {
	f := deedForm{typed: map[string]*string{}, Errors: faults}
	field := func(name, label, hint string, lines, size int) recordField {
		value := text[name]
		f.typed[name] = &value
		return recordField{Name: name, Label: label, Hint: hint, Lines: lines, Size: size, Error: faultOf(faults, name), target: &value}
	}
	f.First = []recordField{
		field("found", "Found", "How it was", 2, 0),
		field("done", "Done", "", 2, 0),
		field("why", "Why", "", 2, 0),
	}
	f.Rest = []recordField{
		field("added", "Material that came", "Exactly: alloy, product, strength", 2, 0),
		field("removed", "Material that went", "", 2, 0),
		field("kept_at", "Where the original piece is", "Bag, box, with the owner", 0, 30),
		field("how", "How it can be undone", "", 2, 0),
		field("part", "Part", "Its number, like 2.1; empty for the whole clock", 0, 8),
		field("hours", "Hours", "1:30 or 1.5 h", 0, 8),
		field("departure", "Departure from the plan, and why", "", 0, 36),
		field("legal", "What the law allows, and who said so", "Of new ivory", 0, 36),
		field("who", "Who did it", "", 0, 20),
		field("when", "Day", "", 0, 11),
	}
	for _, u := range work.Undoings() {
		f.Undo = append(f.Undo, optionView{string(u), string(u), string(u) == text["undo"]})
	}
	f.Before, f.After = shotChoices(o, before, picture.Before), shotChoices(o, after, picture.After)
	return f
}

// mostChoices is how many photographs are offered beside those chosen.
const mostChoices = 12

// shotChoices offers the photographs that are chosen, then the last of the
// stage or of none.
func shotChoices(o shop.Originality, chosen []string, stage picture.Stage) []shotChoice {
	var out []shotChoice
	for _, sum := range chosen {
		if p, ok := o.Shots[sum]; ok {
			out = append(out, shotChoice{shotOf(p), true})
		}
	}
	most := len(out) + mostChoices
	for _, p := range o.Offered {
		if (p.Stage == stage || p.Stage == "" || p.Stage == picture.During) && !slices.Contains(chosen, p.SHA256) && len(out) < most {
			out = append(out, shotChoice{shotOf(p), false})
		}
	}
	return out
}

// UndoErr is what is wrong with the choice of undoing.
func (f deedForm) UndoErr() string { return faultOf(f.Errors, "undo") }

// readDeed makes an intervention of a form over another; all mistakes of
// reading are named.
func readDeed(v work.Intervention, form url.Values, clock string) (work.Intervention, meas.Faults) {
	var faults meas.Faults
	get := func(name string) string { return typed(form[name]) }
	shown := deedTyped(v, clock)
	v.Found, v.Done, v.Why, v.Departure, v.Added, v.Removed = get("found"), get("done"), get("why"), get("departure"), get("added"), get("removed")
	v.Undo, v.How, v.KeptAt, v.Legal, v.Who = work.Undoing(form.Get("undo")), get("how"), get("kept_at"), get("legal"), get("who")
	v.Before, v.After = form["before"], form["after"]
	v.Part = parts.Number(get("part"))
	if n, err := parts.ParseNumber(clock, get("part")); err == nil {
		v.Part = n
	}
	if get("when") != shown["when"] || v.When.IsZero() {
		day, err := time.ParseInLocation(time.DateOnly, get("when"), time.Local)
		if err != nil {
			faults = append(faults, meas.Fault{Field: "when", Text: "Write the day like 2026-03-04"})
		}
		v.When = day
	}
	if text := get("hours"); text != shown["hours"] {
		v.Hours = 0
		if text != "" {
			d, wrong := work.ParseLength(text)
			if wrong != "" {
				faults = append(faults, meas.Fault{Field: "hours", Text: wrong})
			}
			v.Hours = d
		}
	}
	return v, faults
}

func (s *Server) deedViewOf(o shop.Originality, v work.Intervention, path string) deedView {
	x := deedView{Intervention: v, Href: path + "/interventions/" + strconv.Itoa(v.N), Day: v.When.Local().Format(time.DateOnly)}
	if v.Hours > 0 {
		x.Took = work.Clocked(v.Hours) + " h"
	}
	for _, f := range v.Findings() {
		if f.Level > meas.Note {
			x.Open++
		}
	}
	for _, sum := range v.Before {
		if p, ok := o.Shots[sum]; ok {
			x.BeforeShots = append(x.BeforeShots, shotOf(p))
		}
	}
	for _, sum := range v.After {
		if p, ok := o.Shots[sum]; ok {
			x.AfterShots = append(x.AfterShots, shotOf(p))
		}
	}
	return x
}

// originalityIn loads the ledger of the clock that the address names.
func (s *Server) originalityIn(r *http.Request) (shop.Originality, error) {
	id, err := strconv.ParseInt(r.PathValue("id"), 10, 64)
	if err != nil {
		return shop.Originality{}, errNoPage
	}
	return s.Shop.Originality(r.Context(), id)
}

// interventions lists what was done, with a form for the next.
func (s *Server) interventions(w http.ResponseWriter, r *http.Request) error {
	o, err := s.originalityIn(r)
	if err != nil {
		return err
	}
	fresh := work.Intervention{Who: s.by(r), When: s.Shop.Now(), Part: parts.Number(r.URL.Query().Get("part"))}
	return s.renderOriginality(w, r, http.StatusOK, o, nil, deedFormOf(deedTyped(fresh, o.Clock.Number), nil, nil, o, nil), nil)
}

// oneDeed is the intervention that the address names.
func oneDeed(r *http.Request, o shop.Originality) (*work.Deed, error) {
	n, err := strconv.Atoi(r.PathValue("n"))
	if err != nil {
		return nil, errNoPage
	}
	d, ok := o.Ledger.Last(n)
	if !ok {
		return nil, &shop.Problem{Code: shop.NotFound, Message: "There is no such intervention.", Hint: "It may have been taken back. The list has all there are."}
	}
	return &d, nil
}

// intervention shows one with all that was written of it.
func (s *Server) intervention(w http.ResponseWriter, r *http.Request) error {
	o, err := s.originalityIn(r)
	if err != nil {
		return err
	}
	d, err := oneDeed(r, o)
	if err != nil {
		return err
	}
	v := d.Intervention
	return s.renderOriginality(w, r, http.StatusOK, o, d, deedFormOf(deedTyped(v, o.Clock.Number), v.Before, v.After, o, nil), nil)
}

func (s *Server) renderOriginality(w http.ResponseWriter, r *http.Request, status int, o shop.Originality, d *work.Deed, form deedForm, wrong *shop.Problem) error {
	v := originalityView{head: headOf(o.Clock, "interventions"), Form: form, Damaged: o.Damaged}
	f := frame{Title: v.title("Interventions"), Place: "clocks"}
	if wrong != nil {
		f.Faults, v.Differ = wrong.Fields, wrong.Differ
		if len(wrong.Fields) == 0 && len(wrong.Differ) == 0 {
			v.Wrong = wrong
		}
	}
	for _, x := range o.Ledger.Standing() {
		v.All = append(v.All, s.deedViewOf(o, x, v.Path))
	}
	if d != nil {
		one := s.deedViewOf(o, d.Intervention, v.Path)
		v.One, v.Read, v.Findings = &one, d.N, d.Intervention.Findings()
		v.History = deedHistory(o.Ledger, d.Intervention.N, d.N)
		f.Title = v.title("Intervention " + strconv.Itoa(one.N))
	}
	f.View = v
	return s.render(w, r, status, "interventions", f)
}

// deedHistory lists the entries about an intervention, newest first.
func deedHistory(o work.Originality, n, last int) []deedLine {
	var out []deedLine
	for _, c := range o.Changes(n) {
		x := deedLine{N: c.N, When: c.When.Local().Format("2006-01-02 15:04"), Who: c.Who, Why: c.Why, Words: string(c.Kind), Changes: c.Changes, Back: c.N == last}
		if c.Kind == work.Undone {
			x.Words = "entry " + strconv.Itoa(c.Undoes) + " taken back"
		}
		out = append(out, x)
	}
	slices.Reverse(out)
	return out
}

// intervene writes an intervention down, or corrects the one in the address.
func (s *Server) intervene(w http.ResponseWriter, r *http.Request) error {
	o, err := s.originalityIn(r)
	if err != nil {
		return err
	}
	var d *work.Deed
	var v work.Intervention
	if r.PathValue("n") != "" {
		if d, err = oneDeed(r, o); err != nil {
			return err
		}
		v = d.Intervention
	}
	read, _ := strconv.Atoi(r.PostForm.Get("read")) // 0 conflicts with every entry, and both are shown
	v, faults := readDeed(v, r.PostForm, o.Clock.Number)
	if len(faults) == 0 {
		_, err = s.Shop.Intervene(r.Context(), s.by(r), o.Clock.ID, read, v, typed(r.PostForm["correction"]))
	} else {
		err = append(faults, v.Check()...)
	}
	if err == nil {
		return done(w, r, clockPath(o.Clock.ID)+"/interventions", "saved")
	}
	p := shop.AsProblem(err)
	if p.Code != shop.Conflict && len(p.Fields) == 0 {
		return err
	}
	p.Fields = onceEach(p.Fields)
	text := map[string]string{}
	for name, values := range r.PostForm {
		text[name] = typed(values)
	}
	form := deedFormOf(text, r.PostForm["before"], r.PostForm["after"], o, p.Fields)
	form.Why = strings.TrimSpace(text["correction"])
	return s.renderOriginality(w, r, statuses[p.Code], o, d, form, p)
}

// undoDeed takes an entry back.
func (s *Server) undoDeed(w http.ResponseWriter, r *http.Request) error {
	o, err := s.originalityIn(r)
	if err != nil {
		return err
	}
	n, err := strconv.Atoi(r.PostForm.Get("n"))
	if err != nil {
		return errNoPage
	}
	if err := s.Shop.UndoDeed(r.Context(), s.by(r), o.Clock.ID, n); err != nil {
		return err
	}
	return done(w, r, clockPath(o.Clock.ID)+"/interventions", "undone")
}

// originalityPDF sends the ledger to print.
func (s *Server) originalityPDF(w http.ResponseWriter, r *http.Request) error {
	o, err := s.originalityIn(r)
	if err != nil {
		return err
	}
	return s.sendPDF(w, r, "interventions-"+o.Clock.Number, present.Originality(o.Clock, o.Ledger, o.Shots), shop.Foot(o.Clock))
}
