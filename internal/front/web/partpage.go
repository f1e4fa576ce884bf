package web

import (
	"encoding/json"
	"net/http"
	"net/url"
	"slices"
	"strconv"

	"seatboard/internal/book/job"
	"seatboard/internal/book/parts"
	"seatboard/internal/craft/clean"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
	"seatboard/internal/shop"
)

// partPageView is one part: what it is, where it is in its life, what may be
// done with it, and all that was.
type partPageView struct {
	head
	Part     parts.Part
	Whole    string
	Hazards  []clean.Hazard
	Moves    []parts.Move
	AnyWhy   bool // one of the moves wants a reason
	Bathable bool // it may go into a bath
	Held     bool // a batch under way holds it
	Of       []parts.Part
	Entry    partEntry
	Fields   []recordField
	Made     []optionView
	Before   string // the detail as shown, to tell a change in between
	Life     []lifeLine
	Shots    []shotView // the newest photographs of it
	ByMaking *madeView  // what it was made by; nil where that is not known
	Last     *lifeLine  // what can be taken back by one tap
	Draft    string
	Why      string
	Count    string
	CountErr string
	WhyErr   string
	Open     string // which fold stands open
	Differ   []job.Change
	Script   string
}

// lifeLine is one entry of the ledger about the part.
type lifeLine struct {
	N              int
	When, Who, Why string
	Words          string
	Stands         bool
	Batch          string // that did it; then it is taken back on the page of its bath
}

func (s *Server) partViewOf(t shop.TakeDown, p parts.Part) *partPageView {
	v := &partPageView{head: headOf(t.Clock, "parts"), Part: p, Whole: p.Number.Of(t.Clock.Number), Entry: entryOfPart(p), Count: strconv.Itoa(p.Count), Script: s.assets.url("takedown.js")}
	v.Moves = p.State.NextByHand()
	v.AnyWhy = slices.ContainsFunc(v.Moves, func(m parts.Move) bool { return m.NeedsWhy })
	_, v.Bathable = parts.FindMove(p.State, parts.InBath)
	for _, q := range t.Ledger.Parts() {
		if q.Number.Parent() == p.Number {
			v.Of = append(v.Of, q)
		}
	}
	before, _ := json.Marshal(p.Detail) // texts and lists of texts: it never fails
	v.Before, v.Draft = string(before), "about "+string(p.Number)+" of "+t.Clock.UID
	v.Life = lifeOf(t.Ledger, p.Number)
	for i := range v.Life {
		if v.Life[i].Stands {
			v.Last = &v.Life[i]
			break
		}
	}
	return v
}

// lifeOf lists the entries about a part, newest first.
func lifeOf(l *parts.Ledger, n parts.Number) []lifeLine {
	log, standing := l.Log(), l.Standing()
	var out []lifeLine
	for i := len(log) - 1; i >= 0; i-- {
		e := log[i]
		if e.Part != n && e.Into != n {
			continue // an undo is seen on what it undoes
		}
		out = append(out, lifeLine{N: e.N, When: e.When.Local().Format("2006-01-02 15:04"), Who: e.Who, Why: e.Why, Words: eventWords(e), Stands: standing[i], Batch: e.Batch})
	}
	return out
}

// fill lays out what is known of the part, with the mistakes beside it.
func (v *partPageView) fill(faults meas.Faults) {
	name, place := v.Entry.quick()
	v.Fields = append([]recordField{name, place}, v.Entry.rest()...)
	v.Fields = append(v.Fields, recordField{Name: "looked", Label: "What the second look found", Lines: 2, target: &v.Entry.Looked})
	v.Fields = withError(append(v.Fields, v.Entry.last()...), faults)
	v.Made = v.Entry.madeOf()
	v.CountErr, v.WhyErr = faultOf(faults, "count"), faultOf(faults, "why")
}

// partIn finds the part that the address names.
func (s *Server) partIn(r *http.Request) (shop.TakeDown, parts.Part, error) {
	t, err := s.takeDown(r)
	if err != nil {
		return t, parts.Part{}, err
	}
	p, ok := t.Ledger.Find(parts.Number(r.PathValue("number")))
	if !ok {
		return t, p, &shop.Problem{Code: shop.NotFound, Message: "There is no such part in the ledger of this clock.", Hint: "It may have been taken back. The list of parts has all there are."}
	}
	return t, p, nil
}

// partPage shows one part.
func (s *Server) partPage(w http.ResponseWriter, r *http.Request) error {
	t, p, err := s.partIn(r)
	if err != nil {
		return err
	}
	v := s.partViewOf(t, p)
	if v.Hazards, err = s.Shop.PartHazards(r.Context(), t, p.Number); err != nil {
		return err
	}
	v.fill(nil)
	return s.renderOnePart(w, r, http.StatusOK, v, nil)
}

// shotsOfPart is how many photographs stand on the page of a part.
const shotsOfPart = 4

func (s *Server) renderOnePart(w http.ResponseWriter, r *http.Request, status int, v *partPageView, faults meas.Faults) error {
	l, err := s.Shop.Photos(r.Context(), store.PhotoPlace{Clock: v.Clock.ID, Part: v.Part.Number}, 0)
	if err != nil {
		return err
	}
	if v.Held, err = s.Shop.InRunningBath(r.Context(), v.Part); err != nil {
		return err
	}
	if v.ByMaking, err = s.madeBy(r, v.Clock.ID, v.Part.Number); err != nil {
		return err
	}
	for _, p := range l.Photos[:min(shotsOfPart, len(l.Photos))] {
		v.Shots = append(v.Shots, shotOf(p))
	}
	return s.render(w, r, status, "part", frame{Title: v.title(string(v.Part.Number) + " " + v.Part.Name), Place: "clocks", Faults: faults, View: v})
}

// changePart moves, describes, counts, splits or explains a part.
func (s *Server) changePart(w http.ResponseWriter, r *http.Request) error {
	t, p, err := s.partIn(r)
	if err != nil {
		return err
	}
	do := r.PostForm.Get("do")
	said := "saved"
	if do == "move" {
		said = "moved"
	}
	err = s.partChanged(r, t, p, do)
	if err == nil {
		return done(w, r, clockPath(t.Clock.ID)+"/parts/"+string(p.Number), said)
	}
	problem := shop.AsProblem(err)
	if problem.Code != shop.Conflict && len(problem.Fields) == 0 {
		return err
	}
	v := s.partViewOf(t, p)
	if v.Hazards, err = s.Shop.PartHazards(r.Context(), t, p.Number); err != nil {
		return err
	}
	v.Open, v.Why, v.Differ = do, typed(r.PostForm["why"]), problem.Differ
	if do == "describe" {
		v.Entry = entryOf(r.PostForm)
	}
	if r.PostForm.Has("count") {
		v.Count = typed(r.PostForm["count"])
	}
	v.fill(problem.Fields)
	return s.renderOnePart(w, r, statuses[problem.Code], v, problem.Fields)
}

// partChanged does what the form says.
func (s *Server) partChanged(r *http.Request, t shop.TakeDown, p parts.Part, do string) error {
	why := typed(r.PostForm["why"])
	if do == "describe" {
		var before parts.Detail
		if err := json.Unmarshal([]byte(r.PostForm.Get("before")), &before); err != nil {
			before = p.Detail // it was sent without what was shown, so nothing can be compared
		}
		return s.Shop.DescribePart(r.Context(), s.by(r), t.Clock.ID, p.Number, before, entryOf(r.PostForm).detail(t.Clock.Number))
	}
	e, err := changeOf(r.PostForm, p.Number, do)
	if err != nil {
		return err
	}
	_, err = s.Shop.ChangePart(r.Context(), s.by(r), t.Clock.ID, e, why)
	return err
}

// changeOf is the entry that a form of the part's page asks for.
func changeOf(form url.Values, n parts.Number, do string) (parts.Event, error) {
	e := parts.Event{Part: n}
	e.Count, _ = strconv.Atoi(typed(form["count"])) // what is no number is 0, or refused as a count
	switch do {
	case "move":
		e.Kind, e.From, e.To, e.Count = parts.Moved, parts.State(form.Get("from")), parts.State(form.Get("to")), 0
	case "split":
		e.Kind = parts.Split
	case "recount":
		e.Kind = parts.Recounted
		if _, err := strconv.Atoi(typed(form["count"])); err != nil {
			e.Count = -1
		}
	case "explain":
		e.Kind, e.Count = parts.Explained, 0
	default:
		return e, errNoPage
	}
	return e, nil
}
