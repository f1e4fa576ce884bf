package web

import (
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/proposal"
	"seatboard/internal/book/work"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/html"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// estimateRoutes lists the addresses of proposals.
func (s *Server) estimateRoutes(get, post func(string, handler)) {
	get("/clocks/{id}/estimate", s.estimate)
	post("/clocks/{id}/estimate", s.saveEstimate)
	get("/clocks/{id}/estimate/{version}", s.version)
	post("/clocks/{id}/estimate/{version}", s.changeVersion)
	get("/clocks/{id}/estimate/{version}/{file}", s.estimateFile)
}

// estimateView is the draft of a proposal with its range.
type estimateView struct {
	head
	Sheet    template.HTML
	Versions []versionLine
	Form     draftForm
	Version  int // the entry of the draft that is shown
	Next     int // the number that the next version gets
	CanFix   bool
	Differ   []job.Change
	Left     []shop.FinishedJob // finished, and not learned from
	Damaged  meas.Faults
}

// versionLine is a fixed version as a line.
type versionLine struct {
	Href, Words, When, State string
	Good, Bad                bool
	Here                     bool
}

func versionPath(clock int64, n int) string {
	return clockPath(clock) + "/estimate/" + strconv.Itoa(n)
}

// Here is the version that the page shows, 0 for the draft.
func (v estimateView) Here() int { return 0 }

// PDF is the address of the version as a file.
func (v versionView) PDF() string { return versionPath(v.Clock.ID, v.V.N) + "/" + wholeSheet }

// Here is the version that the page shows.
func (v versionView) Here() int { return v.V.N }

func versionLines(e shop.Estimate, here int) []versionLine {
	var out []versionLine
	for _, v := range e.Proposal.Versions {
		l := versionLine{Href: versionPath(e.Clock.ID, v.N), Words: fmt.Sprintf("Version %d", v.N), When: v.When.Local().Format(time.DateOnly), State: "no word yet", Here: v.N == here}
		if c, ok := work.Standing(e.Proposal.Consents, v.N); ok {
			l.Good, l.Bad, l.State = !c.Refused, c.Refused, "agreed to"
			if c.Refused {
				l.State = "refused"
			}
		}
		out = append(out, l)
	}
	return out
}

// estimate shows the draft of a clock's proposal.
func (s *Server) estimate(w http.ResponseWriter, r *http.Request) error {
	e, err := s.estimateOf(r)
	if err != nil {
		return err
	}
	return s.renderEstimate(w, r, http.StatusOK, e, draftFormOf(draftTyped(e.Proposal.Draft), nil), nil)
}

func (s *Server) estimateOf(r *http.Request) (shop.Estimate, error) {
	id, err := strconv.ParseInt(r.PathValue("id"), 10, 64)
	if err != nil {
		return shop.Estimate{}, errNoPage
	}
	return s.Shop.Estimate(r.Context(), id)
}

func (s *Server) renderEstimate(w http.ResponseWriter, r *http.Request, status int, e shop.Estimate, form draftForm, p *shop.Problem) error {
	v := estimateView{head: headOf(e.Clock, "estimate"), Versions: versionLines(e, 0), Form: form, Version: e.Proposal.Drafted, Damaged: e.Damaged}
	v.Sheet = html.Render(estimateDoc(e), html.Options{ID: "e", Level: 3, Links: figureLinks(v.Path+"/estimate/draft", "")})
	v.CanFix = e.Answer.Range.Set && status == http.StatusOK
	v.Next = 1
	if n := len(e.Proposal.Versions); n > 0 {
		v.Next = e.Proposal.Versions[n-1].N + 1
	}
	for _, j := range e.Finished {
		if j.LeftOut != "" {
			v.Left = append(v.Left, j)
		}
	}
	f := frame{Title: v.title("Estimate"), Place: "clocks", View: &v}
	if p != nil {
		f.Faults, v.Differ = p.Fields, p.Differ
	}
	return s.render(w, r, status, "estimate", f)
}

// estimateDoc sets out the draft beside what was worked.
func estimateDoc(e shop.Estimate) doc.Doc {
	return present.Estimate(e.Answer, present.Worked{Total: e.Total, On: e.DoneOn})
}

// saveEstimate keeps the draft as typed, and where that was pressed fixes it
// as a version.
func (s *Server) saveEstimate(w http.ResponseWriter, r *http.Request) error {
	e, err := s.estimateOf(r)
	if err != nil {
		return err
	}
	ctx, clock := r.Context(), e.Clock.ID
	seen, _ := strconv.Atoi(r.PostForm.Get("version")) // 0 conflicts where there is a draft
	if r.PostForm.Get("do") == "fix" {
		n, err := s.Shop.FixEstimate(ctx, s.by(r), clock, seen)
		if err != nil {
			return err
		}
		return done(w, r, versionPath(clock, n), "fixed")
	}
	d, faults := readDraft(r.PostForm)
	err = faults
	if len(faults) == 0 {
		err = s.Shop.SaveEstimate(ctx, s.by(r), clock, seen, d)
	}
	if err == nil {
		return done(w, r, clockPath(clock)+"/estimate", "saved")
	}
	p := shop.AsProblem(err)
	if p.Code != shop.Conflict && len(p.Fields) == 0 {
		return err
	}
	return s.renderEstimate(w, r, statuses[p.Code], e, draftFormOf(r.PostForm, p.Fields), p)
}

// versionView is a fixed version, as the owner is shown it.
type versionView struct {
	head
	Versions []versionLine
	V        proposal.Version
	Sheet    template.HTML
	Findings []meas.Finding // no consent yet, or a refusal
	Back     *backLine      // what can be taken back
	Word     []recordField
	Refused  bool
	Money    []recordField
}

type backLine struct {
	Entry int
	Words string
}

// foundVersion reads the version that the address names.
func (s *Server) foundVersion(r *http.Request) (shop.Estimate, proposal.Version, error) {
	e, err := s.estimateOf(r)
	if err != nil {
		return e, proposal.Version{}, err
	}
	n, err := strconv.Atoi(r.PathValue("version"))
	v, ok := e.Proposal.Find(n)
	if err != nil || !ok {
		return e, v, errNoPage
	}
	return e, v, nil
}

// version shows what was put before the owner, to be printed and agreed to.
func (s *Server) version(w http.ResponseWriter, r *http.Request) error {
	e, v, err := s.foundVersion(r)
	if err != nil {
		return err
	}
	return s.renderVersion(w, r, http.StatusOK, e, v, url.Values{}, nil)
}

func (s *Server) renderVersion(w http.ResponseWriter, r *http.Request, status int, e shop.Estimate, x proposal.Version, typed url.Values, faults meas.Faults) error {
	v := versionView{head: headOf(e.Clock, "estimate"), Versions: versionLines(e, x.N), V: x, Refused: typed.Get("refused") != ""}
	v.Sheet = html.Render(proposalDoc(e, x), html.Options{ID: "v", Level: 3, Links: versionLinks(versionPath(e.Clock.ID, x.N))})
	v.Findings = work.Authorised(e.Proposal.Consents, x.N, nil)
	if b, ok := e.Proposal.Undoable(); ok && ofVersion(b) == x.N {
		v.Back = &backLine{b.N, map[proposal.Kind]string{proposal.Fixed: "this version", proposal.Said: "the last word", proposal.Paid: "the last deposit"}[b.Kind]}
	}
	v.forms(typed, s.Shop.Now().Format(time.DateOnly), e.Clock.Owner.Name, faults)
	return s.render(w, r, status, "version", frame{Title: v.title(fmt.Sprintf("Proposal, version %d", x.N)), Place: "clocks", Faults: faults, View: v})
}

// versionLinks are the downloads of a version's figures; the tasks have their
// table beside them.
func versionLinks(path string) func(string) []html.Link {
	all := figureLinks(path, "")
	return func(figure string) []html.Link {
		links := all(figure)
		if figure == "tasks" {
			links = slices.DeleteFunc(links, func(l html.Link) bool { return l.Text == "CSV" })
		}
		return links
	}
}

func ofVersion(e proposal.Event) int {
	switch e.Kind {
	case proposal.Fixed:
		return e.Version.N
	case proposal.Said:
		return e.Consent.Version
	}
	return e.Deposit.Version
}

// forms lays out the fields of the owner's word and of a deposit.
func (v *versionView) forms(typed url.Values, today, owner string, faults meas.Faults) {
	value := func(name, other string) *string {
		x := other
		if typed.Has(name) {
			x = typed.Get(name)
		}
		return &x
	}
	v.Word = withError([]recordField{
		{Name: "name", Label: "Who has said it", Size: 28, target: value("name", owner)},
		{Name: "how", Label: "How", Size: 16, Options: work.Hows(), target: value("how", "")},
		{Name: "when", Label: "Day", Size: 12, target: value("when", today)},
		{Name: "deposit", Label: "Deposit agreed", Hint: "With its currency", Size: 14, target: value("deposit", "")},
		{Name: "words", Label: "What was said, limits and wishes", Lines: 2, target: value("words", "")},
	}, faults)
	v.Money = withError([]recordField{
		{Name: "amount", Label: "Amount", Hint: "With its currency", Size: 14, target: value("amount", "")},
		{Name: "paid_how", Label: "How it came", Size: 16, target: value("paid_how", "")},
		{Name: "paid", Label: "Day it came", Size: 12, target: value("paid", today)},
	}, faults)
}

// changeVersion writes down the owner's word or a deposit, or takes the last
// back.
func (s *Server) changeVersion(w http.ResponseWriter, r *http.Request) error {
	e, v, err := s.foundVersion(r)
	if err != nil {
		return err
	}
	form, ctx, clock := r.PostForm, r.Context(), e.Clock.ID
	get := func(name string) string { return typed(form[name]) }
	what := "saved"
	switch form.Get("do") {
	case "word":
		c := work.Consent{Version: v.N, Name: get("name"), How: get("how"), Words: get("words"), Deposit: get("deposit"), Refused: form.Get("refused") != ""}
		err = s.Shop.SayOwner(ctx, s.by(r), clock, c, get("when"))
	case "deposit":
		err = s.Shop.PayDeposit(ctx, s.by(r), clock, proposal.Deposit{Version: v.N, Amount: get("amount"), How: get("paid_how")}, get("paid"))
	case "back":
		n, _ := strconv.Atoi(form.Get("entry")) // 0 is refused
		err, what = s.Shop.UndoEstimate(ctx, s.by(r), clock, n), "undone"
	default:
		return errNoPage
	}
	if err == nil {
		if now, lost := s.Shop.Estimate(ctx, clock); lost == nil {
			if _, ok := now.Proposal.Find(v.N); !ok { // it was taken back
				return done(w, r, clockPath(clock)+"/estimate", what)
			}
		}
		return done(w, r, versionPath(clock, v.N), what)
	}
	p := faultsOf(err)
	if p == nil {
		return err
	}
	return s.renderVersion(w, r, statuses[p.Code], e, v, form, p.Fields)
}

// proposalDoc is a version as its owner is shown it.
func proposalDoc(e shop.Estimate, v proposal.Version) doc.Doc {
	return present.Proposal(v, e.Proposal.Consents, e.Proposal.Deposits)
}

// estimateFile sends a figure of the draft or of a version, or a version as
// PDF.
func (s *Server) estimateFile(w http.ResponseWriter, r *http.Request) error {
	if r.PathValue("version") == "draft" {
		e, err := s.estimateOf(r)
		if err != nil {
			return err
		}
		return s.sendFile(w, r, estimateDoc(e), r.PathValue("file"), shop.Foot(e.Clock))
	}
	e, v, err := s.foundVersion(r)
	if err != nil {
		return err
	}
	return s.sendFile(w, r, proposalDoc(e, v), r.PathValue("file"), shop.Foot(e.Clock))
}
