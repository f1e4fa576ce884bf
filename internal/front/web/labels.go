package web

import (
	"net/http"
	"net/netip"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"seatboard/internal/book/label"
	"seatboard/internal/book/parts"
	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/svg"
	"seatboard/internal/shop"
)

// labelsView is the labels of a clock: what gets one, on what, and how that
// comes out.
type labelsView struct {
	head
	Rows     []partRow
	Own      bool // the clock itself gets one
	Profiles []label.Kept
	Chosen   string
	First    string
	Copies   string
	Ahead    string
	Address  string
	Loopback bool // no telephone reaches the address
	Laid     *shop.LabelSheets
	Preview  string // address of the first sheet as a drawing
	Errs     map[string]string
}

// askOf reads which labels an address or a form asks for. Without any choice
// every part gets one.
func askOf(t shop.TakeDown, q url.Values) (shop.LabelAsk, meas.Faults) {
	ask := shop.LabelAsk{Profile: q.Get("profile"), Clock: q.Get("own") == "yes", Copies: 1, Address: typed(q["address"])}
	for _, n := range q["part"] {
		ask.Parts = append(ask.Parts, parts.Number(n))
	}
	if !q.Has("part") && !q.Has("laid") && !q.Has("ahead") {
		for _, p := range t.Ledger.Parts() {
			ask.Parts = append(ask.Parts, p.Number)
		}
		ask.Clock = len(ask.Parts) == 0
	}
	var faults meas.Faults
	whole := func(name, words string, to *int) {
		s := typed(q[name])
		n, err := strconv.Atoi(s)
		switch {
		case s == "":
		case err != nil || n < 1 || n > 1e6:
			faults = append(faults, meas.Fault{Field: name, Text: words + " must be a whole number from 1, like 3"})
		default:
			*to = n
		}
	}
	whole("copies", "How many of each", &ask.Copies)
	if typed(q["ahead"]) != "0" {
		whole("ahead", "How many parts to come", &ask.Ahead)
	}
	if q.Get("profile") == q.Get("for") { // a position belongs to the sheet it was shown for
		whole("first", "The first free position", &ask.First)
	}
	return ask, faults
}

// labels shows the labels of a clock, laid out.
func (s *Server) labels(w http.ResponseWriter, r *http.Request) error {
	return s.labelsPage(w, r, r.URL.Query(), nil)
}

// labelsPage lays out what is asked for and shows it; already is what went
// wrong before.
func (s *Server) labelsPage(w http.ResponseWriter, r *http.Request, q url.Values, already *shop.Problem) error {
	t, err := s.takeDown(r)
	if err != nil {
		return err
	}
	have, err := s.Shop.LabelSettings(r.Context())
	if err != nil {
		return err
	}
	ask, faults := askOf(t, q)
	if ask.Address == "" {
		ask.Address = addressOf(have, r)
	}
	v := labelsView{head: headOf(t.Clock, "parts"), Own: ask.Clock, Profiles: have.Profiles, Chosen: ask.Profile, First: typed(q["first"]), Copies: strconv.Itoa(ask.Copies), Address: ask.Address, Loopback: loopback(ask.Address)}
	v.Ahead = strconv.Itoa(ask.Ahead)
	for _, p := range t.Ledger.Parts() {
		v.Rows = append(v.Rows, partRow{Part: p, Whole: p.Number.Of(t.Clock.Number), Ticked: slices.Contains(ask.Parts, p.Number)})
	}
	laid, err := s.Shop.LayLabels(r.Context(), t.Clock.ID, ask)
	switch p := faultsOf(err); {
	case p != nil:
		faults = append(faults, p.Fields...)
	case err != nil:
		return err
	case len(faults) == 0:
		v.laidOut(laid)
	}
	if already != nil {
		faults = onceEach(append(faults, already.Fields...))
	}
	status := http.StatusOK
	if len(faults) > 0 {
		status = http.StatusUnprocessableEntity
	}
	v.Errs = map[string]string{}
	for _, f := range faults {
		v.Errs[f.Field] = faultOf(faults, f.Field)
	}
	return s.render(w, r, status, "labels", frame{Title: v.title("Labels"), Place: "clocks", Faults: faults, View: v})
}

// laidOut fills in what the order came to.
func (v *labelsView) laidOut(l shop.LabelSheets) {
	v.Laid, v.Chosen, v.Address = &l, l.Ask.Profile, l.Ask.Address
	v.First = strconv.Itoa(l.Ask.First)
	q := url.Values{"laid": {"yes"}, "profile": {l.Ask.Profile}, "for": {l.Ask.Profile}, "first": {v.First}, "copies": {"1"}, "ahead": {strconv.Itoa(l.Ask.Ahead)}, "address": {l.Ask.Address}}
	for _, n := range l.Ask.Parts {
		q.Add("part", string(n))
	}
	if l.Ask.Clock {
		q.Set("own", "yes")
	}
	v.Preview = v.Path + "/labels/sheet.svg?" + q.Encode()
}

// OnSheet is how many labels the chosen sheet has, 0 for a tape.
func (v labelsView) OnSheet() int {
	for _, k := range v.Profiles {
		if k.Name == v.Chosen {
			return k.OnSheet()
		}
	}
	return 0
}

// addressOf is what codes begin with: as kept, or as this page was reached.
func addressOf(have label.Settings, r *http.Request) string {
	if have.Address != "" {
		return have.Address
	}
	scheme := "http://"
	if r.TLS != nil {
		scheme = "https://"
	}
	return scheme + r.Host
}

// loopback tells whether an address is reached on this computer alone.
func loopback(address string) bool {
	u, err := url.Parse(address)
	if err != nil {
		return false
	}
	ip, err := netip.ParseAddr(strings.Trim(u.Hostname(), "[]"))
	return u.Hostname() == "localhost" || err == nil && ip.IsLoopback()
}

// labelsPDF sends the labels, and remembers where the sheet is free then.
func (s *Server) labelsPDF(w http.ResponseWriter, r *http.Request) error {
	t, err := s.takeDown(r)
	if err != nil {
		return err
	}
	ask, faults := askOf(t, r.PostForm)
	if len(faults) > 0 {
		return s.labelsPage(w, r, r.PostForm, nil)
	}
	b, l, err := s.Shop.PrintLabels(r.Context(), s.by(r), t.Clock.ID, ask)
	if p := faultsOf(err); p != nil {
		return s.labelsPage(w, r, r.PostForm, p)
	}
	if err != nil {
		return err
	}
	return writePDF(w, "labels-"+l.Clock.Number, b)
}

// labelsSheet sends the first sheet as a drawing.
func (s *Server) labelsSheet(w http.ResponseWriter, r *http.Request) error {
	t, err := s.takeDown(r)
	if err != nil {
		return err
	}
	ask, faults := askOf(t, r.URL.Query())
	if len(faults) > 0 {
		return shop.AsProblem(faults)
	}
	l, err := s.Shop.LayLabels(r.Context(), t.Clock.ID, ask)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "image/svg+xml")
	_, err = w.Write(svg.File(l.Sheets[0].Picture))
	return err
}

// whatIsThisView is a label that leads nowhere, or to more than one clock.
type whatIsThisView struct {
	Text  string // as scanned or typed
	Known bool   // it is a short id
	Found []shop.Meant
}

// shortID leads a label's code to its part.
func (s *Server) shortID(w http.ResponseWriter, r *http.Request) error {
	text := r.PathValue("short")
	id, found, ok, err := s.Shop.ShortID(r.Context(), text)
	if err != nil {
		return err
	}
	if path := meantPath(found); path != "" {
		http.Redirect(w, r, path, http.StatusSeeOther)
		return nil
	}
	v := whatIsThisView{Text: text, Known: ok, Found: found}
	if ok {
		v.Text = id.String()
	}
	return s.render(w, r, http.StatusNotFound, "what-is-this", frame{Title: "What is this?", Place: "clocks", View: v})
}

// meantPath is the page of the one thing that a short id means, "" where it
// means none or several.
func meantPath(found []shop.Meant) string {
	switch {
	case len(found) != 1:
		return ""
	case found[0].Number == "":
		return clockPath(found[0].Clock.ID)
	case found[0].Part == nil:
		return ""
	}
	return clockPath(found[0].Clock.ID) + "/parts/" + string(found[0].Number)
}

// typedID is where a short id, or the whole number of a part, leads that was
// typed into the box, or scanned into it by a reader that types; "" for other
// words.
func (s *Server) typedID(r *http.Request, text string) (string, error) {
	clock, part, ok, err := s.Shop.WholeNumber(r.Context(), text)
	if err != nil {
		return "", err
	}
	if ok {
		return clockPath(clock) + "/parts/" + string(part), nil
	}
	_, found, ok, err := s.Shop.ShortID(r.Context(), text)
	if !ok || err != nil || len(found) == 0 {
		return "", err
	}
	if path := meantPath(found); path != "" {
		return path, nil
	}
	return "/p/" + url.PathEscape(strings.TrimSpace(text[strings.LastIndex(text, "/")+1:])), nil
}
