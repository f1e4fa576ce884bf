package web

import (
	"html/template"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"seatboard/internal/book/trial"
	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/html"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// stopsView is a form for a clock found standing, what its stops have in
// common, and the stops.
type stopsView struct {
	head
	At     string // address of the page
	Hands  recordField
	Hours  []optionView
	Mins   []optionView
	Strike []optionView
	First  []recordField // seen where it stands
	More   []recordField
	Open   bool // something of More is typed, or wrong
	Read   int  // entries the page was made with
	Still  string
	After  recordField
	Said   template.HTML
	Stops  []trialLine
	Wrong  *shop.Problem
	Damage meas.Faults
}

// trialStops shows the stops of a clock on trial.
func (s *Server) trialStops(w http.ResponseWriter, r *http.Request) error {
	return s.renderStops(w, r, http.StatusOK, url.Values{}, nil)
}

// stopsIn loads the stops of the clock that the address names.
func (s *Server) stopsIn(r *http.Request) (shop.TrialStops, error) {
	f, err := s.file(r)
	if err != nil {
		return shop.TrialStops{}, err
	}
	return s.Shop.TrialStops(r.Context(), f.Clock.ID)
}

// trialStopsFile sends a drawing of the page, its numbers, or all of it as PDF.
func (s *Server) trialStopsFile(w http.ResponseWriter, r *http.Request) error {
	t, err := s.stopsIn(r)
	if err != nil {
		return err
	}
	if t.Answer == nil {
		return errNoPage
	}
	return s.sendFile(w, r, present.Stops(*t.Answer), r.PathValue("file"), shop.Foot(t.Clock))
}

func (s *Server) renderStops(w http.ResponseWriter, r *http.Request, status int, typed url.Values, wrong *shop.Problem) error {
	t, err := s.stopsIn(r)
	if err != nil {
		return err
	}
	var faults meas.Faults
	if wrong != nil {
		faults = onceEach(wrong.Fields)
	}
	v := &stopsView{head: headOf(t.Clock, "trial"), Read: t.Book.Len(), Damage: t.Damaged}
	v.At = v.Path + "/trial/stops"
	v.form(typed, faults, t.Dial)
	if t.Still != nil {
		v.Still = "It was found standing on " + t.Still.Found.In(s.Shop.Zone()).Format("Monday 2 January at 15:04") + " and nothing is written of it going since."
	}
	if t.Answer != nil {
		v.Said = html.Render(present.Stops(*t.Answer), html.Options{ID: "s", Level: 3, Links: figureLinks(v.At, "")})
	}
	for i := len(t.Found) - 1; i >= 0; i-- {
		e := t.Book.Log()[t.Found[i].N-1]
		v.Stops = append(v.Stops, trialLine{N: e.N, Who: e.Who, Words: present.TrialEntry(e), At: e.Stop.Found.In(s.Shop.Zone()).Format("Mon 2 Jan 15:04"), CanUndo: t.Book.CanUndo(e.N)})
	}
	if wrong != nil && len(faults) == 0 {
		v.Wrong = wrong
	}
	return s.render(w, r, status, "stops", frame{Title: v.title("Stops"), Place: "clocks", Faults: faults, View: v})
}

// form is the form of a stop as typed.
func (v *stopsView) form(typed url.Values, faults meas.Faults, dial int) {
	field := func(f recordField) recordField {
		text := typed.Get(f.Name)
		f.target, f.Error = &text, faultOf(faults, f.Name)
		return f
	}
	v.Hands = field(recordField{Name: "hands", Label: "Where the hands stand", Hint: "10:47, or 10:47:12 with the seconds hand", Size: 10})
	choose := func(name string, from, to int, write func(int) string) []optionView {
		out := []optionView{{Label: "–"}}
		for i := from; i <= to; i++ {
			n := strconv.Itoa(i)
			out = append(out, optionView{Value: n, Label: write(i), Chosen: typed.Get(name) == n})
		}
		return out
	}
	v.Hours = choose("hour", 1, dial, strconv.Itoa)
	v.Mins = choose("minute", 0, 59, func(i int) string { return ("0" + strconv.Itoa(i))[len(strconv.Itoa(i))-1:] })
	for _, w := range trial.StrikeStates() {
		v.Strike = append(v.Strike, optionView{Value: w, Label: strings.ToUpper(w[:1]) + w[1:], Chosen: typed.Get("strike") == w || typed.Get("strike") == "" && w == "not known"})
	}
	v.First = []recordField{
		field(recordField{Name: "weight", Label: "Weight above the floor of the case", Hint: "Its bottom: 310 mm", Size: 9}),
		field(recordField{Name: "room", Label: "Temperature", Hint: "17.5 or 64 °F", Size: 8}),
	}
	v.More = []recordField{
		field(recordField{Name: "found", Label: "When it was found, if not now", Hint: "9:14 · yesterday 17:40", Size: 16}),
		field(recordField{Name: "wound", Label: "When it was wound last", Hint: "Empty where it is written down already", Size: 16}),
		field(recordField{Name: "pendulum", Label: "What the pendulum did", Hint: "Hanging still, touching, swinging a little", Size: 28}),
		field(recordField{Name: "words", Label: "A word, if there is one", Size: 30}),
	}
	for _, f := range v.More {
		v.Open = v.Open || f.Error != "" || *f.target != ""
	}
	v.After = field(recordField{Name: "after", Label: "What it is wrong by afterwards", Hint: "right · 3 s slow; empty for right", Size: 14})
}

// changeStops does what a button of the page says.
func (s *Server) changeStops(w http.ResponseWriter, r *http.Request) error {
	came := s.Shop.Now()
	f, err := s.file(r)
	if err != nil {
		return err
	}
	form := r.PostForm
	read, err := strconv.Atoi(form.Get("read"))
	if err != nil || read < 0 {
		read = 0 // it has seen nothing
	}
	get := func(name string) string { return typed(form[name]) }
	what := "looked"
	switch form.Get("do") {
	case "", "stood": // Enter presses no button in some browsers
		ask := shop.StopAsk{Hands: get("hands"), Hour: get("hour"), Minute: get("minute"), Found: get("found"), Wound: get("wound"), Weight: get("weight"),
			Strike: get("strike"), Room: get("room"), Pendulum: get("pendulum"), Words: get("words"), Moment: came}
		_, err = s.Shop.StandTrial(r.Context(), s.by(r), f.Clock.ID, read, ask)
	case "left":
		_, err = s.Shop.TouchTrial(r.Context(), s.by(r), f.Clock.ID, read, shop.TouchAsk{What: "started", Moment: came})
	case "set":
		after := get("after")
		if after == "" {
			after = "right"
		}
		_, err = s.Shop.TouchTrial(r.Context(), s.by(r), f.Clock.ID, read, shop.TouchAsk{What: "started " + after, Moment: came})
		err = besideTyped(err, "started")
	case "back":
		n, wrong := strconv.Atoi(form.Get("n"))
		if wrong != nil {
			return errNoPage
		}
		what = "undone"
		_, err = s.Shop.AddTrial(r.Context(), s.by(r), f.Clock.ID, read, trial.Undo(n))
	default:
		return errNoPage
	}
	if err == nil {
		return done(w, r, clockPath(f.Clock.ID)+"/trial/stops", what)
	}
	p := shop.AsProblem(err)
	if p.Code != shop.Conflict && len(p.Fields) == 0 {
		return err
	}
	return s.renderStops(w, r, statuses[p.Code], form, p)
}
