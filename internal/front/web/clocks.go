package web

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"seatboard/internal/book/job"
	"seatboard/internal/kit/meas"
	"seatboard/internal/shop"
)

// today shows what needs a hand now.
func (s *Server) today(w http.ResponseWriter, r *http.Request) error {
	t, err := s.Shop.Today(r.Context())
	if err != nil {
		return err
	}
	v := todayView{Today: t}
	for _, n := range t.Needs {
		l := needLine{Need: n}
		if n.Bath != nil {
			l.Href = "/baths/" + n.Bath.ID
		} else {
			l.Href = workHref(*n.Work)
		}
		v.Lines = append(v.Lines, l)
	}
	for _, t := range t.Trials[:min(len(t.Trials), triedShown)] {
		l := triedLine{OnTrial: t, Href: clockPath(t.Clock.ID) + "/trial"}
		if len(t.Wants) > 0 && t.Wants[0].Gates {
			l.Href += "/gates"
		}
		v.Tried = append(v.Tried, l)
	}
	v.MoreTried = len(t.Trials) - len(v.Tried)
	for _, st := range t.Stages {
		if st.Stage != job.Trial {
			v.House = append(v.House, st)
		}
	}
	if v.Make, err = s.toMake(r.Context(), t.Stages); err != nil {
		return err
	}
	return s.render(w, r, http.StatusOK, "today", frame{Title: "Today", Place: "today", View: v})
}

// todayView is what needs a hand now, each line with its place.
type todayView struct {
	shop.Today
	Lines     []needLine
	Tried     []triedLine
	MoreTried int
	Make      []makeLine
	House     []shop.InStage // but those on trial, which have lines of their own
}

// triedShown is how many clocks on trial the page shows.
const triedShown = 25

type triedLine struct {
	shop.OnTrial
	Href string
}

type needLine struct {
	shop.Need
	Href string
}

// clocksView is the list of clocks, all or found.
type clocksView struct {
	shop.List
	Next     string // address of the rest of the list
	AllParts string // address of all parts that were found, "" where they stand here
	Out      bool   // those that were taken out of the book
	AnyOut   bool   // there are such
}

// clocks lists the clocks, newest touched first, or those found.
func (s *Server) clocks(w http.ResponseWriter, r *http.Request) error {
	path, err := s.typedID(r, r.URL.Query().Get("find"))
	if err != nil {
		return err
	}
	if path != "" {
		http.Redirect(w, r, path, http.StatusSeeOther)
		return nil
	}
	v, err := s.list(r)
	if err != nil {
		return err
	}
	if v.Find == "" && v.Stage == "" {
		out, err := s.Shop.TakenOut(r.Context())
		if err != nil {
			return err
		}
		v.AnyOut = len(out) > 0
		if r.URL.Query().Get("out") == "yes" {
			v = clocksView{List: shop.List{Clocks: out, Total: len(out)}, Out: true}
		}
	}
	return s.render(w, r, http.StatusOK, "clocks", frame{Title: "Clocks", Place: "clocks", Find: v.Find, View: v})
}

// found is the list alone, for find-as-you-type.
func (s *Server) found(w http.ResponseWriter, r *http.Request) error {
	v, err := s.list(r)
	if err != nil {
		return err
	}
	return s.renderPart(w, "found", v)
}

func (s *Server) list(r *http.Request) (clocksView, error) {
	q := r.URL.Query()
	find := q.Get("find")
	stage := job.Stage(q.Get("stage"))
	var l shop.List
	var err error
	if find == "" && stage.Known() {
		l, err = s.Shop.FindStage(r.Context(), stage, q.Get("after"))
	} else {
		l, err = s.Shop.Find(r.Context(), find, q.Get("after"))
	}
	if err != nil {
		return clocksView{}, err
	}
	v := clocksView{List: l, AllParts: "/clocks?" + encode("find", find, "all", "parts")}
	if find != "" && q.Get("all") == "parts" {
		v.Clocks, v.After, v.AllParts = nil, "", ""
		v.Parts, v.MoreParts, err = s.Shop.FindParts(r.Context(), find)
		return v, err
	}
	if l.After != "" {
		v.Next = "/clocks?" + encode("find", find, "stage", string(l.Stage), "after", l.After)
	}
	return v, nil
}

// newClockView is the form of a new clock.
type newClockView struct{ Fields []recordField }

// newClock asks the one question: which clock is on the bench?
func (s *Server) newClock(w http.ResponseWriter, r *http.Request) error {
	number, err := s.Shop.NextNumber(r.Context())
	if err != nil {
		return err
	}
	c := job.Clock{Number: number}
	return s.render(w, r, http.StatusOK, "new", frame{Title: "Which clock is on the bench?", Place: "clocks", View: newClockView{ownFields(&c)}})
}

// addClock takes a clock into the book.
func (s *Server) addClock(w http.ResponseWriter, r *http.Request) error {
	c := job.Clock{Stage: job.TakingIn}
	readRecord(&c, r.PostForm)
	kept, err := s.Shop.AddClock(r.Context(), s.by(r), c)
	if p := faultsOf(err); p != nil {
		v := newClockView{withError(ownFields(&c), p.Fields)}
		return s.render(w, r, statuses[p.Code], "new", frame{Title: "Which clock is on the bench?", Place: "clocks", Faults: p.Fields, View: v})
	}
	if err != nil {
		return err
	}
	return done(w, r, clockPath(kept.ID), "added")
}

// faultsOf is the problem of an error that the same page can show beside its
// fields, nil for all others.
func faultsOf(err error) *shop.Problem {
	if err == nil {
		return nil
	}
	if p := shop.AsProblem(err); len(p.Fields) > 0 {
		return p
	}
	return nil
}

func clockPath(id int64) string { return "/clocks/" + strconv.FormatInt(id, 10) }

// file loads the clock that the address names.
func (s *Server) file(r *http.Request) (shop.File, error) {
	id, err := strconv.ParseInt(r.PathValue("id"), 10, 64)
	if err != nil {
		return shop.File{}, errNoPage
	}
	return s.Shop.File(r.Context(), id)
}

// head is the top of every page of a clock's file: what it is and where it
// stands in its journey.
type head struct {
	Clock   job.Clock
	Path    string
	Chapter string // the chapter that is open
	Steps   []step
}

// step is a mark on the journey.
type step struct {
	Words, Href string
	Here        bool // the clock is here
	Open        bool // the page is here
}

func headOf(c job.Clock, chapter string) head {
	h := head{Clock: c, Path: clockPath(c.ID), Chapter: chapter}
	chapters := map[job.Stage]string{job.TakingIn: "taking-in", job.Surveying: "survey", job.TakingDown: "parts", job.Trial: "trial"}
	for _, st := range job.Stages() {
		if st == job.GoneHome {
			continue // the end of the track is not a stretch of it
		}
		x := step{Words: st.Words(), Here: st == c.Stage}
		if path, ok := chapters[st]; ok {
			x.Href, x.Open = h.Path+"/"+path, path == chapter
		}
		h.Steps = append(h.Steps, x)
	}
	return h
}

// About is the line under the title: when, by whom, whose.
func (h head) About() string {
	var parts []string
	for _, p := range []string{h.Clock.Object.Made.Text, h.Clock.Object.Maker.Name(), h.Clock.Owner.Name} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	return strings.Join(parts, " · ")
}

// title names a page of a clock's file.
func (h head) title(page string) string {
	t := h.Clock.Number
	if h.Clock.Title != "" {
		t += " " + h.Clock.Title
	}
	if page != "" {
		t = page + " – " + t
	}
	return t
}

// takingInView is the form of the record.
type takingInView struct {
	head
	Groups   []recordGroup
	Holders  []listRow
	Pieces   []listRow
	Findings []meas.Finding
	Version  int
	Differ   []job.Change // from what someone else saved meanwhile
}

func takingInOf(c job.Clock, faults meas.Faults) takingInView {
	v := takingInView{head: headOf(c, "taking-in"), Holders: holderRows(c), Pieces: pieceRows(c), Findings: c.Findings(), Version: c.Version}
	v.Groups = withErrors(recordGroups(&c), faults)
	for _, rows := range [][]listRow{v.Holders, v.Pieces} {
		for i := range rows {
			for j := range rows[i].Cells {
				rows[i].Cells[j].Error = faultOf(faults, rows[i].Cells[j].Name)
			}
		}
	}
	return v
}

// takingIn shows the record of a clock.
func (s *Server) takingIn(w http.ResponseWriter, r *http.Request) error {
	f, err := s.file(r)
	if err != nil {
		return err
	}
	v := takingInOf(f.Clock, nil)
	return s.render(w, r, http.StatusOK, "taking-in", frame{Title: v.title("Taking in"), Place: "clocks", View: v})
}

// saveTakingIn keeps the record as typed.
func (s *Server) saveTakingIn(w http.ResponseWriter, r *http.Request) error {
	f, err := s.file(r)
	if err != nil {
		return err
	}
	c := f.Clock
	readRecord(&c, r.PostForm)
	c.Version, _ = strconv.Atoi(r.PostForm.Get("version")) // 0 conflicts, and the conflict is shown
	_, err = s.Shop.SaveClock(r.Context(), s.by(r), c)
	if err == nil {
		return done(w, r, clockPath(c.ID)+"/taking-in", "saved")
	}
	p := shop.AsProblem(err)
	if p.Code != shop.Conflict && len(p.Fields) == 0 {
		return err
	}
	v := takingInOf(c, p.Fields)
	if p.Code == shop.Conflict {
		v.Differ, v.Version = p.Differ, f.Clock.Version // saving again keeps what is typed now
	}
	return s.render(w, r, statuses[p.Code], "taking-in", frame{Title: v.title("Taking in"), Place: "clocks", Faults: p.Fields, View: v})
}

// saveStage moves the clock on its journey.
func (s *Server) saveStage(w http.ResponseWriter, r *http.Request) error {
	f, err := s.file(r)
	if err != nil {
		return err
	}
	c := f.Clock
	if was := job.Stage(r.PostForm.Get("was")); was != "" && was != c.Stage {
		return &shop.Problem{Code: shop.Conflict, Message: fmt.Sprintf("The clock was moved meanwhile: it stands at “%s”, not at “%s”.", c.Stage.Words(), was.Words()), Hint: "Nothing was changed. Look at its page as it is now, and move it there."}
	}
	c.Stage = job.Stage(r.PostForm.Get("stage"))
	if _, err := s.Shop.SaveClock(r.Context(), s.by(r), c); err != nil {
		if p := faultsOf(err); p != nil && c.Stage == job.Trial {
			return s.refusedTrial(w, r, p)
		} else if p != nil && f.Clock.Stage == job.Trial {
			return s.refusedHome(w, r, p)
		}
		return err
	}
	return done(w, r, clockPath(c.ID), "stage")
}

// takeOut takes a clock out of the book, or puts it back.
func (s *Server) takeOut(w http.ResponseWriter, r *http.Request) error {
	f, err := s.file(r)
	if err != nil {
		return err
	}
	do, said := s.Shop.TakeOut, "out"
	if r.PostForm.Get("do") == "back" {
		do, said = s.Shop.PutBack, "back"
	}
	if err := do(r.Context(), s.by(r), f.Clock.ID); err != nil {
		return err
	}
	return done(w, r, clockPath(f.Clock.ID), said)
}

// historyView is every change of a clock's file.
type historyView struct {
	head
	Changes []job.Change
}

// history shows who changed what, newest first.
func (s *Server) history(w http.ResponseWriter, r *http.Request) error {
	f, err := s.file(r)
	if err != nil {
		return err
	}
	changes, err := s.Shop.History(r.Context(), f.Clock.ID)
	if err != nil {
		return err
	}
	v := historyView{headOf(f.Clock, "history"), changes}
	return s.render(w, r, http.StatusOK, "history", frame{Title: v.title("History"), Place: "clocks", View: v})
}
