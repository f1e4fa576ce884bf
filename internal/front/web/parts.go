package web

import (
	"cmp"
	"context"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"seatboard/internal/book/condition"
	"seatboard/internal/book/parts"
	"seatboard/internal/craft/train"
	"seatboard/internal/front/desk"
	"seatboard/internal/kit/meas"
	"seatboard/internal/shop"
)

// takeDown loads the clock that the address names with its take-down ledger.
func (s *Server) takeDown(r *http.Request) (shop.TakeDown, error) {
	id, err := strconv.ParseInt(r.PathValue("id"), 10, 64)
	if err != nil {
		return shop.TakeDown{}, errNoPage
	}
	return s.Shop.TakeDown(r.Context(), id)
}

// partsView is the take-down ledger as a list.
type partsView struct {
	head
	Hazards []condition.AreaHazard // of the parts shown; each names them
	Next    parts.Number
	Rows    []partRow
	Pieces  int
	Shown   []stateChoice // what the list can be narrowed to
	State   parts.State
	Lack    string        // what the parts shown lack, by its key
	Lacking []stateChoice // what else the list can be narrowed to
	ByOrder bool
	To      []parts.State // where any of those shown may go
	Chosen  parts.State
	Why     string
	Places  []string // where parts lie
	Into    string   // typed
	From    string   // chosen
	IntoErr string
	Last    *lastAct
	Damaged meas.Faults
	Fault   string // of the ticks
	WhyErr  string
}

// partRow is one part of the list.
type partRow struct {
	parts.Part
	N      string // its number, as the list of parts writes it
	Whole  string // the number with the clock's
	Href   string // its page, from the list of parts
	Ticked bool
	Hurts  string // what can hurt on it, in a word each
}

// Sub tells whether it is a part of a part.
func (r partRow) Sub() bool { return r.Number.Parent() != "" }

// stateChoice is one state with how many pieces are in it.
type stateChoice struct {
	Words, Href string
	Pieces      int
	Here        bool
}

func partsOf(t shop.TakeDown, q url.Values, ticked []string, shot map[parts.Number]bool) partsView {
	v := partsView{head: headOf(t.Clock, "parts"), Next: t.Ledger.Next(""), State: parts.State(q.Get("state")), Lack: q.Get("lack"), ByOrder: q.Get("order") == "taken", Damaged: t.Damaged, Last: lastActOf(t.Ledger)}
	all := t.Ledger.Parts()
	if v.ByOrder {
		all = t.Ledger.InOrder()
	}
	v.Shown = v.choices(t.Ledger.Tally())
	v.Places = placesOf(all)
	chosen := map[string]bool{}
	for _, n := range ticked {
		chosen[n] = true
	}
	if v.State != "" {
		all = slices.DeleteFunc(all, func(p parts.Part) bool { return p.State != v.State })
	}
	for _, p := range v.narrowed(all, shot) {
		n := string(p.Number)
		v.Pieces += p.Count
		v.Rows = append(v.Rows, partRow{Part: p, N: n, Whole: p.Number.Of(t.Clock.Number), Href: v.Path + "/parts/" + n, Ticked: chosen[n]})
	}
	v.To = movable(v.Rows)
	return v
}

// placesOf lists where parts that are off lie, each once, in the order of the
// alphabet.
func placesOf(all []parts.Part) []string {
	var out []string
	for _, p := range all {
		if p.Place != "" && p.Place != parts.LeftInPlace {
			out = append(out, p.Place)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// movable lists where any of the parts may go by hand: none of those in a
// bath, and none into one.
func movable(rows []partRow) []parts.State {
	may := map[parts.State]bool{}
	for _, from := range parts.States() {
		if from == parts.InBath || !slices.ContainsFunc(rows, func(r partRow) bool { return r.State == from }) {
			continue
		}
		for _, m := range from.NextByHand() {
			may[m.To] = true
		}
	}
	return slices.DeleteFunc(parts.States(), func(to parts.State) bool { return !may[to] })
}

// choices lists the states in which there is anything.
func (v partsView) choices(t parts.Tally) []stateChoice {
	href := func(state parts.State) string { return v.address(state, "", v.ByOrder) }
	out := []stateChoice{{Words: "All", Href: href(""), Pieces: t.Recorded + t.Recounted, Here: v.State == ""}}
	for _, st := range parts.States() {
		if t.Now[st] > 0 || st == v.State {
			out = append(out, stateChoice{Words: st.Words(), Href: href(st), Pieces: t.Now[st], Here: st == v.State})
		}
	}
	return out
}

// OrderHref is the list in its other order.
func (v partsView) OrderHref() string { return v.address(v.State, v.Lack, !v.ByOrder) }

// partsPage lists what is in the ledger.
func (s *Server) partsPage(w http.ResponseWriter, r *http.Request) error {
	t, err := s.takeDown(r)
	if err != nil {
		return err
	}
	v, err := s.partsView(r, t, r.URL.Query(), nil)
	if err != nil {
		return err
	}
	return s.renderParts(w, r, http.StatusOK, v, nil)
}

func (s *Server) renderParts(w http.ResponseWriter, r *http.Request, status int, v partsView, faults meas.Faults) error {
	return s.render(w, r, status, "parts", frame{Title: v.title("Take-down"), Place: "clocks", Faults: faults, View: v})
}

// moveParts does with what is ticked what a button says, with all of it or
// none.
func (s *Server) moveParts(w http.ResponseWriter, r *http.Request) error {
	t, err := s.takeDown(r)
	if err != nil {
		return err
	}
	var numbers []parts.Number
	for _, n := range r.PostForm["part"] {
		numbers = append(numbers, parts.Number(n))
	}
	into := typed(r.PostForm["into"])
	switch do := r.PostForm.Get("do"); {
	case do == "labels":
		some := url.Values{}
		for _, n := range numbers {
			if _, ok := t.Ledger.Find(n); ok {
				some.Add("part", string(n))
			}
		}
		if len(some) > 0 {
			http.Redirect(w, r, clockPath(t.Clock.ID)+"/labels?"+some.Encode(), http.StatusSeeOther)
			return nil
		}
		err = meas.Faults{{Field: "part", Text: "Tick the parts that are to have labels"}}
	case do == "place":
		_, err = s.Shop.PlaceParts(r.Context(), s.by(r), t.Clock.ID, shop.PlaceAsk{Parts: numbers, From: r.PostForm.Get("from"), Into: into})
	case into != "": // the key Enter presses the first button of a form
		err = meas.Faults{{Field: "into", Text: "Press “Put them there” for the place; nothing was moved"}}
	default:
		err = s.Shop.MoveParts(r.Context(), s.by(r), t.Clock.ID, parts.State(r.PostForm.Get("to")), typed(r.PostForm["why"]), numbers...)
	}
	if err == nil {
		return done(w, r, clockPath(t.Clock.ID)+"/parts", "moved")
	}
	p := faultsOf(err)
	if p == nil {
		return err
	}
	v, err := s.partsView(r, t, r.PostForm, r.PostForm["part"])
	if err != nil {
		return err
	}
	v.Chosen, v.Why, v.Into, v.From = parts.State(r.PostForm.Get("to")), typed(r.PostForm["why"]), into, r.PostForm.Get("from")
	v.Fault, v.WhyErr, v.IntoErr = faultOf(p.Fields, "part"), faultOf(p.Fields[:1], "why"), faultOf(p.Fields, "into")
	return s.renderParts(w, r, statuses[p.Code], v, onceEach(p.Fields))
}

// onceEach leaves out what is said already.
func onceEach(faults meas.Faults) meas.Faults {
	var out meas.Faults
	for _, f := range faults {
		if !slices.Contains(out, f) {
			out = append(out, f)
		}
	}
	return out
}

// lastAct is what was done last and can be taken back: one entry, or the
// entries of several parts moved at once.
type lastAct struct {
	Words   string
	When    string
	Who     string
	Entries []int
	Batch   string // that did it; then it is taken back on the page of its bath
}

// lastActOf finds it; nil where nothing stands.
func lastActOf(l *parts.Ledger) *lastAct {
	log := l.Log()
	standing := l.Standing()
	for i := len(log) - 1; i >= 0; i-- {
		e := log[i]
		if !standing[i] || e.Kind == parts.Undone {
			continue
		}
		a := &lastAct{Words: eventWords(e), When: e.When.Local().Format("2006-01-02 15:04"), Who: e.Who, Entries: []int{e.N}, Batch: l.BatchOf(e.N)}
		for j := i - 1; j >= 0 && standing[j] && sameAct(log[j], e); j-- {
			a.Entries = append(a.Entries, log[j].N)
		}
		if n := len(a.Entries); n > 1 {
			a.Words = strconv.Itoa(n) + " parts: " + e.To.Words()
			if e.Kind == parts.Described {
				a.Words = strconv.Itoa(n) + " parts put into " + e.Detail.Place
			}
		}
		slices.Reverse(a.Entries)
		return a
	}
	return nil
}

// sameAct tells whether two entries are of parts that went together: into a
// state, or into a place.
func sameAct(a, b parts.Event) bool {
	switch {
	case a.Kind != b.Kind || a.Who != b.Who || !a.When.Equal(b.When):
		return false
	case a.Kind == parts.Described:
		return a.Detail.Place == b.Detail.Place
	}
	return a.Kind == parts.Moved && a.To == b.To
}

// eventWords is an entry of the log as the page says it.
func eventWords(e parts.Event) string {
	n := string(e.Part)
	switch e.Kind {
	case parts.Recorded:
		if e.Detail != nil && e.Detail.Name != "" {
			n += " " + e.Detail.Name
		}
		return n + " recorded, " + e.To.Words()
	case parts.Described:
		return n + changedWords(e)
	case parts.Moved:
		return n + ": " + e.From.Words() + " → " + e.To.Words()
	case parts.Split:
		return strconv.Itoa(e.Count) + " of " + n + " split off as " + string(e.Into)
	case parts.Recounted:
		return n + " recounted: " + strconv.Itoa(e.Was) + " → " + strconv.Itoa(e.Count)
	case parts.Explained:
		return n + " explained"
	}
	return "entry " + strconv.Itoa(e.Undoes) + " taken back"
}

// changedWords is what was written anew of a part: what stood there, and what
// does now.
func changedWords(e parts.Event) string {
	if e.Before == nil || e.Detail == nil {
		return " described anew"
	}
	var words []string
	for _, c := range shop.DetailsDiffer(*e.Before, *e.Detail) {
		words = append(words, c.Field+": "+cmp.Or(c.Before, "nothing")+" → "+cmp.Or(c.After, "nothing"))
	}
	return ", " + strings.Join(words, "; ")
}

// undoParts takes entries back and returns to where the button was.
func (s *Server) undoParts(w http.ResponseWriter, r *http.Request) error {
	t, err := s.takeDown(r)
	if err != nil {
		return err
	}
	var entries []int
	for _, n := range r.PostForm["n"] {
		i, err := strconv.Atoi(n)
		if err != nil {
			return errNoPage
		}
		entries = append(entries, i)
	}
	if err := s.Shop.UndoParts(r.Context(), s.by(r), t.Clock.ID, entries...); err != nil {
		return err
	}
	back := clockPath(t.Clock.ID) + "/parts"
	switch from := r.PostForm.Get("from"); {
	case from == "new":
		back += "/new"
	case parts.Number(from).Valid():
		back += "/" + from
		now, err := s.takeDown(r)
		if err != nil {
			return err
		}
		if _, ok := now.Ledger.Find(parts.Number(from)); !ok { // its recording was taken back
			back = clockPath(t.Clock.ID) + "/parts"
		}
	}
	return done(w, r, back, "undone")
}

// offered lists names of parts: those of the surveyed movement, what is not
// in the ledger yet first.
func offered(ctx context.Context, t shop.TakeDown) []string {
	var a train.Answer
	for _, p := range desk.WorkSurvey(ctx, typedParts(t.Survey)).Parts {
		if p.Outcome != nil {
			if found, ok := p.Outcome.Answer.(train.Answer); ok {
				a = found
			}
		}
	}
	return t.Ledger.Offer(parts.NamesFrom(a), "")
}
