package web

import (
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"time"

	"seatboard/internal/book/estimate"
	"seatboard/internal/book/job"
	"seatboard/internal/book/work"
	"seatboard/internal/kit/meas"
	"seatboard/internal/shop"
)

// workForm is the form in which work is typed.
type workForm struct {
	ask    shop.WorkAsk
	Fields []recordField // asked for always
	Rest   []recordField
	Open   bool // the rest is shown
}

// chapters are words for the chapter of work; any other may be typed.
func workChapters() []string {
	return []string{"Taking in", "Survey", "Taking down", "Cleaning", "Movement", "Striking", "Dial and hands", "Case", "Putting together", "Trial", "Papers"}
}

// tasksOf lists the tasks that are proposed, and those of work, each once, the
// last first.
func tasksOf(all []shop.Work, proposed []estimate.Task) []string {
	var out []string
	for _, t := range proposed {
		if !t.LeftOut && !slices.Contains(out, t.What) {
			out = append(out, t.What)
		}
	}
	for _, w := range all {
		if w.Task != "" && !slices.Contains(out, w.Task) {
			out = append(out, w.Task)
		}
	}
	return out
}

func workFormOf(ask shop.WorkAsk, tasks []string, faults meas.Faults) workForm {
	f := workForm{ask: ask}
	a := &f.ask
	f.Fields = []recordField{
		{Name: "span", Label: "How long, or from–to", Hint: "1:30, 1.5 h, 90 min, 9:15–11:40", Size: 16, target: &a.Span},
		{Name: "task", Label: "Task", Size: 28, Options: tasks, target: &a.Task},
		{Name: "chapter", Label: "Chapter", Size: 20, Options: workChapters(), target: &a.Chapter},
	}
	f.Rest = []recordField{
		{Name: "day", Label: "Day", Hint: "Such as 2026-11-25; the day it began", Size: 12, target: &a.Day},
		{Name: "clock", Label: "Clock", Hint: "Its number; nothing where it is for none yet", Size: 14, target: &a.Clock},
		{Name: "who", Label: "Who", Size: 20, target: &a.Who},
		{Name: "note", Label: "Note", Lines: 2, target: &a.Note},
	}
	if ask.Clock == "" { // it is to be said
		f.Fields, f.Rest = append(f.Fields, f.Rest[1]), append(f.Rest[:1], f.Rest[2:]...)
	}
	f.Fields, f.Rest = withError(f.Fields, faults), withError(f.Rest, faults)
	f.Open = slices.ContainsFunc(f.Rest, func(x recordField) bool { return x.Error != "" })
	return f
}

// askTyped reads the form of work.
func askTyped(form url.Values) shop.WorkAsk {
	get := func(name string) string { return typed(form[name]) }
	return shop.WorkAsk{Who: get("who"), Clock: get("clock"), Chapter: get("chapter"), Task: get("task"), Note: get("note"), Day: get("day"), Span: get("span")}
}

// addWork writes work down by hand, from the page of a clock or of the shop.
func (s *Server) addWork(w http.ResponseWriter, r *http.Request) error {
	clock := int64(0)
	if r.PathValue("id") != "" {
		f, err := s.file(r)
		if err != nil {
			return err
		}
		clock = f.Clock.ID
	}
	ask := askTyped(r.PostForm)
	_, err := s.Shop.AddWork(r.Context(), s.by(r), ask)
	if err == nil {
		return done(w, r, hoursPath(clock), "written")
	}
	p := faultsOf(err)
	if p == nil {
		return err
	}
	if clock == 0 {
		return s.renderWeek(w, r, statuses[p.Code], ask, p.Fields)
	}
	return s.renderHours(w, r, statuses[p.Code], clock, ask, p.Fields)
}

// workView is one stretch of work.
type workView struct {
	head
	Line    workLine
	At      string
	Version int
	Form    workForm
	Ends    []endChoice
	Asked   string
	EndErr  string
	End     string // as typed
	WhyErr  string
	Why     string
	Back    string // what is taken back, "" for nothing
	History []workEntry
	Differ  []job.Change
	Wrong   *shop.Problem
}

// endChoice is an end that may be meant.
type endChoice struct{ Value, Words string }

// workEntry is an entry of the log as the page says it.
type workEntry struct{ When, Who, Words, Why string }

// oneWork shows a stretch of work.
func (s *Server) oneWork(w http.ResponseWriter, r *http.Request) error {
	x, err := s.foundWork(r)
	if err != nil {
		return err
	}
	return s.renderWork(w, r, http.StatusOK, x, s.Shop.AskOf(x.Work), nil)
}

// foundWork reads the stretch that the address names.
func (s *Server) foundWork(r *http.Request) (shop.OneWork, error) {
	n, err := strconv.Atoi(r.PathValue("n"))
	clock := int64(0)
	if id := r.PathValue("id"); id != "" && err == nil {
		clock, err = strconv.ParseInt(id, 10, 64)
	}
	if err != nil {
		return shop.OneWork{}, errNoPage
	}
	return s.Shop.OneWork(r.Context(), clock, n)
}

func (s *Server) renderWork(w http.ResponseWriter, r *http.Request, status int, x shop.OneWork, ask shop.WorkAsk, wrong *shop.Problem) error {
	v := workView{Line: s.workLineOf(x.Work), Version: x.Entry, End: typed(r.PostForm["end"]), Why: typed(r.PostForm["why"])}
	v.At = v.Line.Href
	title := "Work of " + x.Who
	if x.Clock.ID != 0 {
		v.head = headOf(x.Clock, "hours")
		title = v.title("Work")
	}
	f := frame{Title: title}
	if wrong != nil {
		f.Faults, v.Differ = wrong.Fields, wrong.Differ
		if len(wrong.Fields) == 0 {
			v.Wrong = wrong
		}
	}
	var tasks []string
	if x.Clock.ID != 0 {
		proposed, err := s.Shop.ProposedTasks(r.Context(), x.Clock.ID)
		if err != nil {
			return err
		}
		tasks = tasksOf(nil, proposed)
	}
	v.Form = workFormOf(ask, tasks, f.Faults)
	v.EndErr, v.WhyErr = faultOf(f.Faults, "end"), faultOf(f.Faults, "why")
	q, asked, err := s.Shop.AskAbout(r.Context(), x.Work)
	if err != nil {
		return err
	}
	if asked {
		v.Asked = q.Text
		for _, t := range q.Ends {
			v.Ends = append(v.Ends, endChoice{t.Format("2006-01-02T15:04:05.999Z07:00"), s.endWords(x.Work, t)})
		}
	}
	for _, e := range x.History {
		v.History = append(v.History, workEntry{e.When.In(s.Shop.Zone()).Format("2006-01-02 15:04"), e.Who, s.entryWords(e), e.Why})
		if e.N == x.Entry && x.Billed == "" && e.Kind != work.Moved {
			v.Back = string(e.Kind)
		}
	}
	f.View = v
	return s.render(w, r, status, "hours-work", f)
}

// endWords is an end that may be meant, with what it makes the work.
func (s *Server) endWords(x shop.Work, t time.Time) string {
	words := t.In(s.Shop.Zone()).Format("15:04")
	if day := t.In(s.Shop.Zone()).Format(time.DateOnly); day != x.Day(s.Shop.Zone()) {
		words += " on " + day
	}
	return words + ", " + work.Clocked(t.Sub(x.Start)) + " h"
}

func (s *Server) entryWords(e work.Event) string {
	switch e.Kind {
	case work.Undone:
		return "entry " + strconv.Itoa(e.Undoes) + " taken back"
	case work.Struck, work.Moved:
		return string(e.Kind)
	}
	x := e.Stretch
	words := string(e.Kind) + ": " + x.Day(s.Shop.Zone()) + " " + x.Typed(s.Shop.Zone())
	if x.Task != "" {
		words += ", " + x.Task
	}
	return words
}

// changeWork does what a button of a stretch's page says.
func (s *Server) changeWork(w http.ResponseWriter, r *http.Request) error {
	x, err := s.foundWork(r)
	if err != nil {
		return err
	}
	form, ctx := r.PostForm, r.Context()
	seen, _ := strconv.Atoi(form.Get("version")) // 0 conflicts, and the stretch is shown as it stands
	ask, after, what := s.Shop.AskOf(x.Work), x.Work, "saved"
	switch form.Get("do") {
	case "correct":
		ask = askTyped(form)
		after, err = s.Shop.ChangeWork(ctx, s.by(r), x.ClockID, x.N, seen, ask)
	case "end":
		end := typed(form["offered"])
		if end == "" {
			end = typed(form["end"])
		}
		after, err = s.Shop.AnswerWork(ctx, s.by(r), x.ClockID, x.N, seen, end)
		what = "answered"
	case "strike":
		err = s.Shop.StrikeWork(ctx, s.by(r), x.ClockID, x.N, seen, typed(form["why"]))
		what = "struck"
	case "back":
		err = s.Shop.UndoWork(ctx, s.by(r), x.ClockID, x.N, seen)
		what = "undone"
	default:
		return errNoPage
	}
	if err == nil {
		if _, lost := s.Shop.OneWork(ctx, after.ClockID, after.N); lost != nil { // its beginning was taken back
			return done(w, r, hoursPath(after.ClockID), what)
		}
		return done(w, r, workHref(after), what)
	}
	p := shop.AsProblem(err)
	if p.Code != shop.Conflict && len(p.Fields) == 0 {
		return err
	}
	now, lost := s.foundWork(r)
	if lost != nil {
		return lost
	}
	return s.renderWork(w, r, statuses[p.Code], now, ask, p)
}
