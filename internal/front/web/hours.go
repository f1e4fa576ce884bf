package web

import (
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/work"
	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/html"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// workStrip is what every page shows of the hours of the person it is shown
// to: what runs, what is asked, or a button to begin.
type workStrip struct {
	On      *workLine
	Asked   []workLine
	Clock   int64 // that the page is about; 0 for none
	Number  string
	Back    string // address of the page
	Token   string
	Stopped *workLine // just now
	Refused string
}

// workLine is a stretch of work as a line.
type workLine struct {
	shop.Work
	Href   string
	For    string // what it is for
	When   string // "2026-11-25 09:15–11:40"
	Lasted string
	Since  int64 // ms that it has been running
}

// hoursRoutes lists the addresses of hours.
func (s *Server) hoursRoutes(get, post func(string, handler)) {
	get("/hours", s.shopHours)
	post("/hours", s.addWork)
	get("/hours.csv", s.weekFile)
	get("/hours/strip", s.strip)
	post("/hours/start", s.startWork)
	post("/hours/stop", s.stopWork)
	get("/hours/{n}", s.oneWork)
	post("/hours/{n}", s.changeWork)
	get("/clocks/{id}/hours", s.clockHours)
	post("/clocks/{id}/hours", s.addWork)
	get("/clocks/{id}/hours.csv", s.hoursFile)
	get("/clocks/{id}/hours.pdf", s.hoursFile)
	get("/clocks/{id}/hours/{n}", s.oneWork)
	post("/clocks/{id}/hours/{n}", s.changeWork)
}

// Elsewhere tells whether the page is about another clock than the work.
func (s workStrip) Elsewhere() bool { return s.Clock != 0 && s.On != nil && s.On.ClockID != s.Clock }

// CanBegin tells whether work can begin: nothing runs.
func (s workStrip) CanBegin() bool {
	return s.On == nil && !slices.ContainsFunc(s.Asked, func(l workLine) bool { return l.Running() })
}

func (s *Server) workLineOf(w shop.Work) workLine {
	now := s.Shop.Now()
	l := workLine{Work: w, Href: workHref(w), For: w.Words(), When: w.Day(s.Shop.Zone()), Lasted: work.Clocked(w.Lasted(now))}
	if !w.DayOnly {
		l.When += " " + w.Typed(s.Shop.Zone())
	}
	if w.Running() {
		l.Since = w.Lasted(now).Milliseconds()
	}
	return l
}

func (s *Server) workLines(all []shop.Work) []workLine {
	var out []workLine
	for _, w := range all {
		out = append(out, s.workLineOf(w))
	}
	return out
}

// hoursPath is where the hours of a clock stand; 0 is of the shop.
func hoursPath(clock int64) string {
	if clock == 0 {
		return "/hours"
	}
	return clockPath(clock) + "/hours"
}

func workHref(w shop.Work) string { return hoursPath(w.ClockID) + "/" + strconv.Itoa(w.N) }

// workStripOf is the strip of a page: clock is what the page is about.
func (s *Server) workStripOf(r *http.Request, clock int64, number, token string) workStrip {
	v := workStrip{Clock: clock, Number: number, Back: pageOf(r), Token: token}
	open, err := s.Shop.OpenWork(r.Context())
	if err != nil {
		return v // the page itself says what is wrong with the book
	}
	for _, x := range open {
		switch l := s.workLineOf(x); {
		case !work.SamePerson(x.Who, s.by(r)):
		case x.Question != nil:
			v.Asked = append(v.Asked, l)
		default:
			v.On = &l
		}
	}
	return v
}

// pageOf is the address of the page that is asked for, to come back to; after
// a form it is Today, so that nothing is sent twice.
func pageOf(r *http.Request) string {
	if r.Method != http.MethodGet {
		return "/"
	}
	q := r.URL.Query()
	q.Del("done")
	if len(q) == 0 {
		return r.URL.Path
	}
	return r.URL.Path + "?" + q.Encode()
}

// backTo is an address of this program that was sent along, or another.
func backTo(given, other string) string {
	u, err := url.Parse(given)
	if err != nil || u.IsAbs() || u.Host != "" || !strings.HasPrefix(u.Path, "/") || strings.HasPrefix(u.Path, "//") || strings.Contains(given, "\\") {
		return other
	}
	return u.RequestURI()
}

// ofClock is a view of a clock's file.
type ofClock interface{ clockOf() job.Clock }

func (h head) clockOf() job.Clock { return h.Clock }

// strip is the strip alone, for script to put in its place.
func (s *Server) strip(w http.ResponseWriter, r *http.Request) error {
	return s.renderPart(w, "work-strip", s.stripAsked(w, r, r.URL.Query()))
}

// stripAsked is the strip of the page that asks for it.
func (s *Server) stripAsked(w http.ResponseWriter, r *http.Request, typed url.Values) workStrip {
	clock, _ := strconv.ParseInt(typed.Get("page"), 10, 64) // 0 is none
	number := ""
	if clock != 0 {
		if f, err := s.Shop.File(r.Context(), clock); err == nil {
			number = f.Clock.Number
		}
	}
	v := s.workStripOf(r, clock, number, s.tokens.form(s.tokens.visitor(w, r)))
	v.Back = backTo(typed.Get("back"), "/")
	return v
}

// startWork begins work for the person who asks, on a clock or none.
func (s *Server) startWork(w http.ResponseWriter, r *http.Request) error {
	typed := r.PostForm
	clock, _ := strconv.ParseInt(typed.Get("clock"), 10, 64) // 0 is none
	on, err := s.Shop.StartWork(r.Context(), s.by(r), clock, strings.TrimSpace(typed.Get("chapter")), strings.TrimSpace(typed.Get("task")), typed.Get("over") == "yes")
	if typed.Get("part") != "" {
		v := s.stripAsked(w, r, typed)
		if err != nil {
			v.Refused = firstWords(err)
		}
		return s.renderPart(w, "work-strip", v)
	}
	if err != nil {
		if p := faultsOf(err); p != nil {
			return &shop.Problem{Code: p.Code, Message: p.Fields[0].Text + ".", Hint: "Every page shows what is running, with a button to stop it."}
		}
		return err
	}
	return doneAt(w, r, backTo(typed.Get("back"), workHref(on)), "working")
}

// firstWords is what is wrong, in one sentence.
func firstWords(err error) string {
	p := shop.AsProblem(err)
	if len(p.Fields) > 0 {
		return p.Fields[0].Text + "."
	}
	return p.Message
}

// stopWork stops what runs; where it was probably forgotten the true end is
// asked for.
func (s *Server) stopWork(w http.ResponseWriter, r *http.Request) error {
	typed := r.PostForm
	clock, _ := strconv.ParseInt(typed.Get("clock"), 10, 64) // 0 is none
	n, _ := strconv.Atoi(typed.Get("n"))
	after, err := s.Shop.StopWork(r.Context(), s.by(r), clock, n)
	if typed.Get("part") != "" {
		v := s.stripAsked(w, r, typed)
		if err != nil {
			v.Refused = firstWords(err)
		} else if after.Question == nil {
			l := s.workLineOf(after)
			v.Stopped = &l
		}
		return s.renderPart(w, "work-strip", v)
	}
	if err != nil {
		return err
	}
	if after.Question != nil {
		return done(w, r, workHref(after), "asked")
	}
	return doneAt(w, r, backTo(typed.Get("back"), workHref(after)), "stopped")
}

// doneAt is done for an address that may have a question in it.
func doneAt(w http.ResponseWriter, r *http.Request, at, what string) error {
	join := "?"
	if strings.Contains(at, "?") {
		join = "&"
	}
	http.Redirect(w, r, at+join+"done="+url.QueryEscape(what), http.StatusSeeOther)
	return nil
}

// hoursView is the hours of one clock.
type hoursView struct {
	head
	Sheet    template.HTML
	Work     []workLine
	Struck   []workLine
	Asked    []workLine
	Findings []meas.Finding
	Damaged  meas.Faults
	Add      workForm
}

// PDF is the address of the hours as a file.
func (v hoursView) PDF() string { return v.Path + "/hours.pdf" }

// clockHours shows the hours of a clock.
func (s *Server) clockHours(w http.ResponseWriter, r *http.Request) error {
	f, err := s.file(r)
	if err != nil {
		return err
	}
	return s.renderHours(w, r, http.StatusOK, f.Clock.ID, s.newAsk(r, f.Clock.Number), nil)
}

func (s *Server) newAsk(r *http.Request, clock string) shop.WorkAsk {
	return shop.WorkAsk{Who: s.by(r), Clock: clock, Day: s.Shop.Now().Format(time.DateOnly)}
}

func (s *Server) renderHours(w http.ResponseWriter, r *http.Request, status int, clock int64, ask shop.WorkAsk, faults meas.Faults) error {
	h, err := s.Shop.Hours(r.Context(), clock)
	if err != nil {
		return err
	}
	v := hoursView{head: headOf(h.Clock, "hours"), Work: s.workLines(h.Work), Struck: s.workLines(h.Struck), Findings: h.Findings, Damaged: h.Damaged}
	v.Sheet = html.Render(present.Hours(h.Clock.Number, h.Sums), html.Options{ID: "h", Level: 3})
	for _, l := range v.Work {
		if l.Question != nil {
			v.Asked = append(v.Asked, l)
		}
	}
	proposed, err := s.Shop.ProposedTasks(r.Context(), clock)
	if err != nil {
		return err
	}
	v.Add = workFormOf(ask, tasksOf(h.Work, proposed), faults)
	return s.render(w, r, status, "hours", frame{Title: v.title("Hours"), Place: "clocks", Faults: faults, View: v})
}

// weekView is the hours of the shop in one week.
type weekView struct {
	Week       shop.WeekHours
	Days       []dayView
	Total      string
	Open       []workLine
	Loose      []workLine // for no clock yet
	Add        workForm
	Prev, Next string
}

type dayView struct {
	Day, Who, Sum string
	Work          []workLine
}

// shopHours shows what was worked in a week, by day and person.
func (s *Server) shopHours(w http.ResponseWriter, r *http.Request) error {
	return s.renderWeek(w, r, http.StatusOK, s.newAsk(r, ""), nil)
}

func (s *Server) renderWeek(w http.ResponseWriter, r *http.Request, status int, ask shop.WorkAsk, faults meas.Faults) error {
	week, err := s.Shop.Week(r.Context(), s.weekAsked(r))
	if err != nil {
		return err
	}
	open, err := s.Shop.OpenWork(r.Context())
	if err != nil {
		return err
	}
	loose, err := s.Shop.Hours(r.Context(), 0)
	if err != nil {
		return err
	}
	v := weekView{Week: week, Total: work.Clocked(week.Total), Open: s.workLines(open), Loose: s.workLines(loose.Work), Add: workFormOf(ask, nil, faults)}
	v.Prev = "/hours?week=" + week.Monday.AddDate(0, 0, -7).Format(time.DateOnly)
	if next := week.Monday.AddDate(0, 0, 7); !next.After(s.Shop.Now()) {
		v.Next = "/hours?week=" + next.Format(time.DateOnly)
	}
	for _, d := range week.Days {
		v.Days = append(v.Days, dayView{Day: d.Day, Who: d.Who, Sum: work.Clocked(d.Length), Work: s.workLines(d.Work)})
	}
	return s.render(w, r, status, "hours-week", frame{Title: "Hours", Faults: faults, View: v})
}
