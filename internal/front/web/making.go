package web

import (
	"errors"
	"html/template"
	"net/http"
	"strconv"

	"seatboard/internal/book/job"
	"seatboard/internal/book/making"
	"seatboard/internal/front/desk"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/paper/html"
	"seatboard/internal/shop"
)

// makingRoutes lists the addresses of what was worked out for a clock.
func (s *Server) makingRoutes(get, post func(string, handler)) {
	get("/clocks/{id}/making", s.making)
	get("/clocks/{id}/drawings.pdf", s.drawingsPDF)
	post("/clocks/{id}/making/undo", s.undoSheet)
	get("/clocks/{id}/making/{n}", s.sheet)
	post("/clocks/{id}/making/{n}", s.changeSheet)
	get("/clocks/{id}/making/{n}/{file}", s.sheetFile)
	get("/clocks/{id}/making/{n}/drawing/{file}", s.sheetDrawing)
	get("/clocks/{id}/making/{n}/part", s.newPartForm)
	post("/clocks/{id}/making/{n}/part", s.makePart)
	post("/clocks/{id}/making/{n}/note", s.noteOnPart)
	post("/clocks/{id}/making/unmake", s.unmakePart)
	get("/clocks/{id}/making/{n}/kept/{sum}", s.keptDrawing)
	post("/desk/{name}/keep", s.keepSheet)
	post("/desk/{name}/take", s.takeIntoSurvey)
}

// makingView is what was worked out for a clock.
type makingView struct {
	head
	Sheets  []sheetLine
	Struck  []sheetLine
	Desk    []deskJob
	Damaged meas.Faults
}

// sheetLine is a sheet in the list.
type sheetLine struct {
	making.Standing
	What, Href, When string
}

// deskLine is a calculation that can be worked out for the clock.
type deskLine struct {
	desk.Calculation
	Href string
	Lent bool // the survey fills something in
}

// deskJob is what can be worked out in one stretch of the work.
type deskJob struct {
	Words string
	Of    []deskLine
}

func sheetLineOf(x making.Standing, path string) sheetLine {
	l := sheetLine{Standing: x, What: x.Calculation, Href: path + "/making/" + strconv.Itoa(x.N), When: x.Entry.When.Local().Format("2006-01-02 15:04")}
	if c, ok := desk.Find(x.Calculation); ok {
		l.What = c.Title
	}
	return l
}

// makingIn loads what was worked out for the clock that the address names.
func (s *Server) makingIn(r *http.Request) (shop.Making, error) {
	id, err := strconv.ParseInt(r.PathValue("id"), 10, 64)
	if err != nil {
		return shop.Making{}, errNoPage
	}
	return s.Shop.Making(r.Context(), id)
}

// making lists what was worked out, and what can be.
func (s *Server) making(w http.ResponseWriter, r *http.Request) error {
	m, err := s.makingIn(r)
	if err != nil {
		return err
	}
	v := makingView{head: headOf(m.Clock, "making"), Damaged: m.Damaged}
	for _, x := range m.Book.All() {
		if l := sheetLineOf(x, v.Path); x.Struck == 0 {
			v.Sheets = append(v.Sheets, l)
		} else {
			v.Struck = append(v.Struck, l)
		}
	}
	typed := typedParts(m.Survey)
	for _, j := range desk.Jobs() {
		lines := deskJob{Words: j.Words}
		for _, c := range j.Of {
			lines.Of = append(lines.Of, deskLine{c, "/desk/" + c.Name + "?" + encode(forClock, m.Clock.Number), len(c.Lent(typed)) > 0})
		}
		v.Desk = append(v.Desk, lines)
	}
	return s.render(w, r, http.StatusOK, "making", frame{Title: v.title("Making"), Place: "clocks", View: v})
}

// workedView is one sheet: what it says, what it was worked out from, and what
// can be done with it.
type workedView struct {
	head
	sheetLine
	Answer  template.HTML
	Lost    string // why there is no answer now
	Form    formView
	Own     []recordField // what it is called, and the note
	Read    int           // the entry that the page shows
	Then    *thenView     // what was told when it was kept, where that differs
	Differ  []job.Change
	History []sheetEntry
	Wrong   *shop.Problem
	Made    []madeView // parts made by it
	Onward  []onwardView
	Divided []dividedView // by the plates that the shop keeps
	Take    *takeView
	OnPart  recordField // the part that what was found is noted on
}

// thenView is what a sheet said otherwise when it was kept.
type thenView struct {
	Program string
	Changes []job.Change
	More    int
}

// sheetEntry is an entry of the log about a sheet.
type sheetEntry struct {
	N              int
	When, Who, Why string
	Words          string
	Stands, Back   bool
}

// oneSheet is the sheet that the address names, with its calculation.
func (s *Server) oneSheet(r *http.Request) (shop.Making, making.Standing, error) {
	m, err := s.makingIn(r)
	if err != nil {
		return m, making.Standing{}, err
	}
	n, err := strconv.Atoi(r.PathValue("n"))
	if err != nil {
		return m, making.Standing{}, errNoPage
	}
	x, ok := m.Book.Find(n)
	if !ok {
		return m, x, &shop.Problem{Code: shop.NotFound, Message: "There is no such sheet.", Hint: "It may have been taken back. The list under Making has all there are."}
	}
	return m, x, nil
}

// sheet shows one, worked out now from the values that were kept.
func (s *Server) sheet(w http.ResponseWriter, r *http.Request) error {
	m, x, err := s.oneSheet(r)
	if err != nil {
		return err
	}
	return s.renderSheet(w, r, http.StatusOK, m, x, x.Sheet, nil)
}

// renderSheet shows a sheet with a form; is is what stands in the form.
func (s *Server) renderSheet(w http.ResponseWriter, r *http.Request, status int, m shop.Making, x making.Standing, is making.Sheet, wrong *shop.Problem) error {
	v := workedView{head: headOf(m.Clock, "making"), Read: x.Entry.N}
	v.sheetLine = sheetLineOf(x, v.Path)
	f := frame{Title: v.title(x.Title), Place: "clocks"}
	if wrong != nil {
		f.Faults, v.Differ = onceEach(wrong.Fields), wrong.Differ
		if len(wrong.Fields) == 0 && len(wrong.Differ) == 0 {
			v.Wrong = wrong
		}
	}
	if c, ok := desk.Find(x.Calculation); ok {
		if err := s.answerSheet(r, c, x, &v); err != nil {
			return err
		}
		v.Form = viewOf(c.Begin().Form, is.Values, f.Faults)
	} else {
		v.Lost = "This Seatboard does not know the calculation “" + x.Calculation + "”. What was told stands in the answer as JSON."
	}
	v.Own = withError(ownOfSheet(&is), f.Faults)
	v.History = sheetHistory(m.Book, x)
	for _, p := range x.Parts {
		v.Made = append(v.Made, madeViewOf(x, p, v.Path))
	}
	number := typed(r.PostForm["part"])
	v.OnPart = recordField{Name: "part", Label: "Number of the part", Hint: "Like 2.1", Size: 8, Error: faultOf(f.Faults, "part"), target: &number}
	f.View = v
	return s.render(w, r, status, "worked", f)
}

// mostChanges is how many differences a page lists.
const mostChanges = 12

// answerSheet works a sheet out and holds it against what was told.
func (s *Server) answerSheet(r *http.Request, c desk.Calculation, x making.Standing, v *workedView) (err error) {
	now, o, err := s.sheetOf(r.Context(), c, x.Values)
	if err != nil {
		v.Lost = shop.AsProblem(err).Message + " What was told when it was kept stands in the answer as JSON."
		return nil
	}
	choice := r.URL.Query().Get(enlarge)
	v.Answer = html.Render(c.Choose(o, choice).Doc, html.Options{ID: "a", Level: 3, Links: figureLinks(v.Href, chosen("", choice)), Drawings: drawingLinks(v.Href, ""), Choose: func(to string) string { return v.Href + "?" + chosen("", to) }})
	v.Onward, v.Take = onwardOf(c, o.Answer, v.Clock.Number), takeOf(c, o.Answer, v.Clock.Number, now.Values, true)
	if v.Divided, err = s.divided(r, o, 4); err != nil {
		return err
	}
	if o.Stopped {
		v.Lost = "To open this sheet the search was given " + lasting(unit.Duration(desk.LongestAtOnce.Seconds())) + " and has not come to its end: below stands the best until then. What was told when it was kept stands in the answer as JSON."
		return nil
	}
	if changes := making.Differing(x.Answer, now.Answer); len(changes) > 0 {
		most := min(len(changes), mostChanges)
		v.Then = &thenView{Program: x.Program, Changes: changes[:most], More: len(changes) - most}
	}
	return nil
}

// ownOfSheet are the fields of a sheet that are the person's.
func ownOfSheet(is *making.Sheet) []recordField {
	return []recordField{
		{Name: "title", Label: "What it is called", Hint: "As you will look for it: third wheel", Size: 32, target: &is.Title},
		{Name: "note", Label: "Note", Lines: 2, target: &is.Note},
	}
}

func sheetHistory(b making.Book, x making.Standing) []sheetEntry {
	entries, standing := b.Of(x.N)
	var out []sheetEntry
	seen := false // a standing entry after this one rests on it
	for i, e := range entries {
		l := sheetEntry{N: e.N, When: e.When.Local().Format("2006-01-02 15:04"), Who: e.Who, Why: e.Why, Stands: standing[i]}
		switch e.Kind {
		case making.Kept:
			l.Words = "kept: " + e.Is.Gist
		case making.Changed:
			l.Words = "worked out anew: " + e.Is.Gist
		case making.Struck:
			l.Words = "struck out"
		case making.Made:
			l.Words = "part " + string(e.Part.Number) + " made"
		}
		l.Back = standing[i] && !seen && e.Kind != making.Made
		seen = seen || standing[i]
		out = append(out, l)
	}
	return out
}

// changeSheet works a sheet out anew and keeps it, or strikes it out.
func (s *Server) changeSheet(w http.ResponseWriter, r *http.Request) error {
	m, x, err := s.oneSheet(r)
	if err != nil {
		return err
	}
	if r.PostForm.Get("do") == "strike" {
		if err := s.Shop.StrikeSheet(r.Context(), s.by(r), m.Clock.ID, x.N, typed(r.PostForm["why"])); err != nil {
			return err
		}
		return done(w, r, clockPath(m.Clock.ID)+"/making", "struck")
	}
	c, ok := desk.Find(x.Calculation)
	if !ok {
		return errNoPage
	}
	is, _, err := s.sheetOf(r.Context(), c, r.PostForm)
	is.Title, is.Note = typed(r.PostForm["title"]), typed(r.PostForm["note"])
	read, _ := strconv.Atoi(r.PostForm.Get("read")) // 0 conflicts with every entry, and both are shown
	if err == nil {
		err = s.Shop.ChangeSheet(r.Context(), s.by(r), m.Clock.ID, x.N, read, is, typed(r.PostForm["why"]))
	} else if faults := is.Check(); len(faults) > 0 {
		err = withFaults(err, faults)
	}
	if err == nil {
		return done(w, r, clockPath(m.Clock.ID)+"/making/"+strconv.Itoa(x.N), "saved")
	}
	p := shop.AsProblem(err)
	if p.Code != shop.Conflict && len(p.Fields) == 0 {
		return err
	}
	return s.renderSheet(w, r, statuses[p.Code], m, x, is, p)
}

// withFaults adds mistakes to those of an error; any other error stays.
func withFaults(err error, more meas.Faults) error {
	var faults meas.Faults
	if !errors.As(err, &faults) {
		return err
	}
	return append(faults, more...)
}

// undoSheet takes an entry back.
func (s *Server) undoSheet(w http.ResponseWriter, r *http.Request) error {
	m, err := s.makingIn(r)
	if err != nil {
		return err
	}
	n, err := strconv.Atoi(r.PostForm.Get("n"))
	if err != nil {
		return errNoPage
	}
	if err := s.Shop.UndoSheet(r.Context(), s.by(r), m.Clock.ID, n); err != nil {
		return err
	}
	return done(w, r, clockPath(m.Clock.ID)+"/making", "undone")
}

// sheetFile sends the answer as it was told, or a file of the sheet as it is
// worked out now.
func (s *Server) sheetFile(w http.ResponseWriter, r *http.Request) error {
	m, x, err := s.oneSheet(r)
	if err != nil {
		return err
	}
	file := r.PathValue("file")
	if file == "answer.json" && len(x.Answer) > 0 {
		w.Header().Set("Content-Type", "application/json")
		w.Header().Set("Content-Disposition", attachment(file))
		_, err := w.Write(x.Answer)
		return err
	}
	d, err := s.docOfSheet(r, x)
	if err != nil {
		return err
	}
	return s.sendFile(w, r, ofThisClock(d, m.Clock.Number), file, shop.Foot(m.Clock))
}

// docOfSheet works a sheet out as a document.
func (s *Server) docOfSheet(r *http.Request, x making.Standing) (doc.Doc, error) {
	c, ok := desk.Find(x.Calculation)
	if !ok {
		return doc.Doc{}, errNoPage
	}
	_, o, err := s.sheetOf(r.Context(), c, x.Values)
	if err != nil {
		return doc.Doc{}, err
	}
	return c.Choose(o, r.URL.Query().Get(enlarge)).Doc, nil
}
