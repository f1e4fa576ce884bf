package web

import (
	"html/template"
	"math"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"sync"
	"time"

	"seatboard/internal/book/trial"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/io/hostclock"
	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/html"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// trialRoutes lists the addresses of a clock's time on trial.
func (s *Server) trialRoutes(get, post func(string, handler)) {
	get("/clocks/{id}/trial", s.trial)
	get("/clocks/{id}/trial.pdf", s.trialPDF)
	get("/clocks/{id}/trial.csv", s.trialLog)
	get("/clocks/{id}/trial/{file}", s.trialFile)
	post("/clocks/{id}/trial", s.changeTrial)
	get("/clocks/{id}/trial/stops", s.trialStops)
	post("/clocks/{id}/trial/stops", s.changeStops)
	get("/clocks/{id}/trial/stops/{file}", s.trialStopsFile)
	get("/time.json", s.timeNow)
	s.trialGateRoutes(get, post)
	s.tapRoutes(get, post)
}

// trialView is a clock on trial: a form for a look at it, what is asked, a
// form for what was done, and what is written down.
type trialView struct {
	head
	At      string // address of the page
	Script  string
	Time    string // of day when the page was made
	Kept    string // how the computer's clock is kept
	Seen    recordField
	When    recordField
	Warmth  recordField
	Air     []recordField
	AirOpen bool
	Touch   touchForm
	Last    string // what was read last, in words
	LastS   float64
	HasLast bool
	Asked   []askedView
	Sheet   template.HTML // what it comes to
	Entries []trialLine
	More    int // entries that are not shown
	Read    int // entries the page was made with
	Wrong   *shop.Problem
	Damaged meas.Faults

	Unsolved meas.Faults // why it comes to nothing

	ForHome forHomeView
	Winding *windingView // what is asked of its winding; nil where nothing is
}

// forHomeView is the control by which a clock is regulated for its home, or
// for here.
type forHomeView struct {
	Said bool // a home is written down
	On   bool // it is set for it
}

func forHomeOf(b *trial.Book) forHomeView {
	aim, _ := b.Aim()
	_, on := b.SetForHome()
	return forHomeView{Said: aim.Home != nil && aim.Home.Says(), On: on}
}

// windingView asks when a clock was wound last, or how long it goes.
type windingView struct {
	Text        string
	Wound, Goes recordField
}

// windingOf offers how long it goes where that is known, or what most clocks
// go; nobody having said so, it stands in the field to be put right.
func (s *Server) windingOf(t shop.Trial, form url.Values, faults meas.Faults) *windingView {
	w, ok := shop.WindingOf(t, s.Shop.Now())
	if !ok || !w.Asked() {
		return nil
	}
	wound, goes := form.Get("wound"), form.Get("goes")
	if goes == "" && w.By == shop.GoesMost {
		goes = "8 d"
	}
	v := &windingView{Text: w.Words()}
	v.Wound = recordField{Name: "wound", Label: "Wound last", Hint: "yesterday 17:40 · 2026-11-24 9:00", Size: 16, target: &wound, Error: faultOf(faults, "wound")}
	v.Goes = recordField{Name: "goes", Label: "It goes, wound up", Hint: "In days, or 30 h; empty for what the survey says", Size: 8, target: &goes, Error: faultOf(faults, "goes")}
	return v
}

// touchForm is something done to the clock, as typed.
type touchForm struct {
	Nut, Tray, After, Words, When recordField
	Hand                          []optionView
	Advised                       optionView // the turn that is advised, where one is
	Open                          bool       // something is typed in it, or wrong
}

// trialLine is an entry as a line.
type trialLine struct {
	N               int
	At, Who, Words  string
	Wrote           string // when it was written down, where that is another day
	Stands, CanUndo bool
}

// trialEntries is how many entries the page shows.
const trialEntries = 40

// trial shows a clock's time on trial.
func (s *Server) trial(w http.ResponseWriter, r *http.Request) error {
	return s.renderTrial(w, r, http.StatusOK, url.Values{}, nil)
}

// trialIn loads the trial of the clock that the address names.
func (s *Server) trialIn(r *http.Request) (shop.Trial, error) {
	f, err := s.file(r)
	if err != nil {
		return shop.Trial{}, err
	}
	return s.Shop.Trial(r.Context(), f.Clock.ID)
}

func (s *Server) renderTrial(w http.ResponseWriter, r *http.Request, status int, typed url.Values, wrong *shop.Problem) error {
	t, err := s.trialIn(r)
	if err != nil {
		return err
	}
	var faults meas.Faults
	if wrong != nil {
		faults = onceEach(wrong.Fields)
	}
	v := &trialView{head: headOf(t.Clock, "trial"), Script: s.assets.url("look.js"), Read: t.Book.Len(), Damaged: t.Damaged}
	v.At = v.Path + "/trial"
	v.Time = s.Shop.Now().Format("15:04:05")
	v.Kept = keptWords(hostclock.Disciplined(r.Context()))
	v.lookForm(typed, faults)
	v.Touch = touchFormOf(typed, t.Query.Known.Divisions, faults)
	v.Touch.Advised = advisedTurn(t.Answer)
	v.last(t.Query, s.Shop.Zone())
	v.Asked = askedOf(t, typed, faults)
	v.Winding = s.windingOf(t, typed, faults)
	v.Sheet, v.Unsolved, v.ForHome = s.sheets.of(t, v.At), t.Unsolved, forHomeOf(t.Book)
	most := trialEntries
	if r.URL.Query().Get("all") == "yes" {
		most = t.Book.Len()
	}
	v.Entries, v.More = trialLines(*t.Book, most, s.Shop.Zone())
	if wrong != nil && len(faults) == 0 {
		v.Wrong = wrong
	}
	return s.render(w, r, status, "trial", frame{Title: v.title("Trial"), Place: "clocks", Faults: faults, View: v})
}

// trialSheets keeps what trials come to as it was set out last: the picture of
// a year takes longer than all the rest of the page.
type trialSheets struct {
	mu   sync.Mutex
	kept map[*regulate.Answer]template.HTML
}

// keptSheets is how many are kept.
const keptSheets = 16

// of is what the readings of a trial come to; what is asked stands on the page
// with its buttons.
func (k *trialSheets) of(t shop.Trial, at string) template.HTML {
	if len(t.Query.Readings) == 0 || len(t.Unsolved) > 0 {
		return ""
	}
	k.mu.Lock()
	sheet, ok := k.kept[t.Answer]
	k.mu.Unlock()
	if ok {
		return sheet
	}
	a := *t.Answer
	a.Questions = nil
	sheet = html.Render(present.Regulate(a), html.Options{ID: "t", Level: 3, Links: figureLinks(at, "")})
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.kept == nil || len(k.kept) >= keptSheets {
		k.kept = map[*regulate.Answer]template.HTML{}
	}
	k.kept[t.Answer] = sheet
	return sheet
}

// keptWords says how far the time of day on the page is to be trusted.
func keptWords(st hostclock.Status) string {
	switch {
	case !st.Known:
		return "It is not known whether this computer’s clock is kept right; compare it with a time signal."
	case !st.Disciplined:
		return "Nothing keeps this computer’s clock right: compare it with a time signal, or type the true time."
	}
	return "The shop’s computer is kept right by a time service."
}

// lookForm is the form of a look as typed.
func (v *trialView) lookForm(typed url.Values, faults meas.Faults) {
	field := func(f recordField) recordField {
		text := typed.Get(f.Name)
		f.target, f.Error = &text, faultOf(faults, f.Name)
		return f
	}
	v.Seen = field(recordField{Name: "seen", Label: "Fast or slow, or what it shows", Hint: "12 s fast · −12 · 1 min 3 s slow · right · 9:14:12", Size: 16})
	v.When = field(recordField{Name: "at", Label: "True time, if not now", Hint: "9:14:30 · yesterday 17:40", Size: 16})
	v.Warmth = field(recordField{Name: "temperature", Label: "Temperature", Hint: "17.5 or 64 °F", Size: 8})
	v.Air = []recordField{
		field(recordField{Name: "pressure", Label: "Pressure", Hint: "1013 or 29.9 inHg", Size: 9}),
		field(recordField{Name: "humidity", Label: "Humidity", Hint: "In per cent", Size: 6}),
		field(recordField{Name: "arc", Label: "Half arc", Hint: "From the middle to one side, in degrees", Size: 6}),
		field(recordField{Name: "weight", Label: "Weight has still to fall", Hint: "820 mm", Size: 9}),
	}
	for _, f := range v.Air {
		v.AirOpen = v.AirOpen || f.Error != "" || *f.target != ""
	}
}

// Actions of the touch form that need no figure.
var handTouches = []optionView{{Value: "wound", Label: "Wound"}, {Value: "levelled", Label: "Levelled, put in beat"}, {Value: "oiled", Label: "Oiled"}, {Value: "moved", Label: "Moved"}, {Value: "stopped", Label: "It stopped"}, {Value: "worked", Label: "Something else"}}

func touchFormOf(typed url.Values, marks int, faults meas.Faults) touchForm {
	field := func(f recordField) recordField {
		text := typed.Get(f.Name)
		f.target, f.Error = &text, faultOf(faults, f.Name)
		return f
	}
	hint := "1/2 · 1 1/4"
	if marks > 0 {
		hint += " · 12 divisions"
	}
	t := touchForm{Hand: handTouches}
	t.Nut = field(recordField{Name: "nut", Label: "Turns of the nut", Hint: hint, Size: 12})
	t.Tray = field(recordField{Name: "tray", Label: "On the tray", Hint: "2 g · 500 mg", Size: 9})
	t.After = field(recordField{Name: "after", Label: "What it is wrong by afterwards", Hint: "right · 3 s slow; empty where not looked at", Size: 14})
	t.Words = field(recordField{Name: "words", Label: "A word, if there is one", Hint: "Where it was moved to, what was done", Size: 30})
	t.When = field(recordField{Name: "touch-at", Label: "When, if not now", Hint: "9:14 · yesterday 17:40", Size: 16})
	for _, f := range []recordField{t.Tray, t.After, t.Words, t.When} {
		t.Open = t.Open || f.Error != "" || *f.target != ""
	}
	return t
}

// advised is what the button of an advised turn begins with; the words of the
// touch follow.
const advised = "advised "

// advisedTurn is the button that writes down the turn of the nut that is
// advised; none where it is not.
func advisedTurn(a *regulate.Answer) optionView {
	if a == nil || a.Advice.Do != regulate.Turn {
		return optionView{}
	}
	turns := float64(a.Advice.Turns.Value)
	words := "nut up "
	if turns < 0 {
		words = "nut down "
	}
	if n := math.Abs(a.Advice.Divisions); n > 0 {
		words += strconv.FormatFloat(n, 'f', -1, 64) + " divisions"
	} else {
		words += strconv.FormatFloat(math.Abs(turns), 'f', -1, 64)
	}
	return optionView{Value: advised + words, Label: "Turned as advised: " + strings.TrimPrefix(words, "nut ")}
}

// last says what was read last.
func (v *trialView) last(q *regulate.Query, zone *time.Location) {
	var last regulate.Reading
	for _, r := range q.Readings {
		if r.From.IsZero() && !r.Out && !r.At.Before(last.At) {
			last = r
		}
	}
	if !last.At.IsZero() {
		v.HasLast, v.LastS = true, float64(last.Error)
		v.Last = present.FastWords(last.Error) + " on " + last.At.In(zone).Format("Monday 2 January at 15:04")
	}
}

// trialLines lists the last entries, newest first, and counts the others.
func trialLines(b trial.Book, most int, zone *time.Location) (out []trialLine, more int) {
	log := b.Log()
	for i := len(log) - 1; i >= 0; i-- {
		e := log[i]
		if e.Kind == trial.Undone {
			continue
		}
		if len(out) == most {
			more++
			continue
		}
		l := trialLine{N: e.N, Who: e.Who, Words: present.TrialEntry(e), Stands: b.Stands(e.N), CanUndo: b.CanUndo(e.N)}
		at := e.Moment()
		l.At = at.In(zone).Format("Mon 2 Jan 15:04")
		if d := e.When.Sub(at); d > time.Hour || d < -time.Hour {
			l.Wrote = e.When.In(zone).Format("Mon 2 Jan 15:04")
		}
		out = append(out, l)
	}
	return out, more
}
