package web

import (
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"seatboard/internal/book/job"
	"seatboard/internal/book/parts"
	"seatboard/internal/craft/clean"
	"seatboard/internal/kit/meas"
	"seatboard/internal/shop"
)

// partEntry is a part as typed.
type partEntry struct {
	Parent, Number, To            string
	Name, Count, Place            string
	Way, Mark, Repair, Looked     string
	Material, Replaces, Note, Why string
	Made                          []string
}

// entryOf reads what was typed, or what stays from the entry before.
func entryOf(form url.Values) partEntry {
	get := func(name string) string { return typed(form[name]) }
	return partEntry{Parent: get("parent"), Number: get("number"), To: get("to"), Name: get("name"), Count: get("count"), Place: get("place"), Way: get("way"), Mark: get("mark"),
		Repair: get("repair"), Looked: get("looked"), Material: get("material"), Replaces: get("replaces"), Note: get("note"), Why: get("why"), Made: form["made"]}
}

// entryOfPart is a part of the ledger as it would be typed.
func entryOfPart(p parts.Part) partEntry {
	e := partEntry{Name: p.Name, Place: p.Place, Way: p.Way, Mark: p.Mark, Repair: p.Repair, Looked: p.Looked, Material: p.Material, Replaces: string(p.Replaces), Note: p.Note}
	for _, m := range p.Made {
		e.Made = append(e.Made, string(m))
	}
	return e
}

// detail is what was typed of a part; a number that cannot be read is left
// for the ledger to refuse.
func (e partEntry) detail(clock string) parts.Detail {
	d := parts.Detail{Name: e.Name, Place: e.Place, Way: e.Way, Mark: e.Mark, Repair: e.Repair, Looked: e.Looked, Material: e.Material, Note: e.Note, Replaces: parts.Number(e.Replaces)}
	if n, err := parts.ParseNumber(clock, e.Replaces); err == nil {
		d.Replaces = n
	}
	for _, m := range e.Made {
		d.Made = append(d.Made, clean.Material(m))
	}
	return d
}

// quick are the fields that every part is asked for.
func (e *partEntry) quick() (name, place recordField) {
	return recordField{Name: "name", Label: "What it is", Size: 26, target: &e.Name},
		recordField{Name: "place", Label: "Where it is now", Size: 20, Options: parts.Places(), target: &e.Place}
}

// rest are the fields that some parts are.
func (e *partEntry) rest() []recordField {
	return []recordField{
		{Name: "way", Label: "Which way round", Hint: "Boss to the front plate; long end up", Size: 28, target: &e.Way},
		{Name: "mark", Label: "Index mark", Hint: "Found or made: where, how many dots", Size: 28, target: &e.Mark},
		{Name: "repair", Label: "Earlier repair seen", Hint: "It is marked for a second look", Size: 28, target: &e.Repair},
		{Name: "material", Label: "Material", Size: 20, target: &e.Material},
	}
}

func (e *partEntry) last() []recordField {
	return []recordField{
		{Name: "replaces", Label: "In place of part", Hint: "Of a part made new: the number of the one it stands for", Size: 8, target: &e.Replaces},
		{Name: "note", Label: "Note", Lines: 2, target: &e.Note},
	}
}

// madeOf offers the materials that matter to a bath.
func (e partEntry) madeOf() []optionView {
	var out []optionView
	for _, m := range clean.Materials() {
		out = append(out, optionView{string(m), m.Words(), slices.Contains(e.Made, string(m))})
	}
	return out
}

// entryView is the quick entry of one part after the other.
type entryView struct {
	head
	Entry       partEntry
	Whole       string // the number that this part gets, with the clock's
	Parents     []parentChoice
	Name, Place recordField
	Rest, Last  []recordField
	Made        []optionView
	Ways        []optionView // taken off, left in place, made new
	Offers      []string     // the names likeliest now
	CountErr    string
	WhyErr      string
	Saved       *savedPart
	Taken       string // what the number shown before went to
	Differ      []job.Change
	Draft       string // under which the browser keeps what is typed
	Script      string
}

// parentChoice is a part that others may be of, with the number they get.
type parentChoice struct {
	Number, Words, Next string
	Chosen              bool
}

// savedPart is the part that the server has just kept.
type savedPart struct {
	Number            parts.Number
	Whole, Name, When string
	Entry             int
}

// offersShown is how many names stand as buttons.
const offersShown = 6

func (s *Server) entryViewOf(r *http.Request, t shop.TakeDown, e partEntry, faults meas.Faults) *entryView {
	v := &entryView{head: headOf(t.Clock, "parts"), Entry: e, Script: s.assets.url("takedown.js")}
	v.Draft = "part of " + t.Clock.UID
	parent := parts.Number(e.Parent)
	if _, ok := t.Ledger.Find(parent); !ok {
		parent, v.Entry.Parent = "", ""
	}
	next := t.Ledger.Next(parent)
	v.Entry.Number, v.Whole = string(next), next.Of(t.Clock.Number)
	if v.Entry.Count == "" {
		v.Entry.Count = "1"
	}
	if v.Entry.To == "" {
		v.Entry.To = string(parts.Off)
	}
	v.Name, v.Place = v.Entry.quick()
	v.Rest, v.Last, v.Made = v.Entry.rest(), v.Entry.last(), v.Entry.madeOf()
	all := []*recordField{&v.Name, &v.Place}
	for _, list := range [][]recordField{v.Rest, v.Last} {
		for i := range list {
			all = append(all, &list[i])
		}
	}
	for _, f := range all {
		f.Error = faultOf(faults, f.Name)
	}
	v.CountErr, v.WhyErr = faultOf(faults, "count"), faultOf(faults, "why")
	for _, x := range [][2]string{{string(parts.Off), "Taken off"}, {string(parts.OnClock), "Left in place"}, {string(parts.Mended), "Made new or bought"}} {
		v.Ways = append(v.Ways, optionView{x[0], x[1], x[0] == v.Entry.To})
	}
	v.Parents = append(v.Parents, parentChoice{"", "the clock itself", string(t.Ledger.Next("")), parent == ""})
	for _, p := range t.Ledger.Parts() {
		v.Parents = append(v.Parents, parentChoice{string(p.Number), string(p.Number) + " " + p.Name, string(t.Ledger.Next(p.Number)), p.Number == parent})
	}
	names := offered(r.Context(), t)
	v.Name.Options, v.Offers = names, names[:min(offersShown, len(names))]
	return v
}

// newPart shows the quick entry. What stays from the entry before stands in
// the address; what was saved is looked up in the ledger.
func (s *Server) newPart(w http.ResponseWriter, r *http.Request) error {
	t, err := s.takeDown(r)
	if err != nil {
		return err
	}
	q := r.URL.Query()
	v := s.entryViewOf(r, t, partEntry{Parent: q.Get("parent"), Place: q.Get("place"), To: q.Get("to")}, nil)
	if p, ok := t.Ledger.Find(parts.Number(q.Get("saved"))); ok {
		v.Saved = &savedPart{Number: p.Number, Whole: p.Number.Of(t.Clock.Number), Name: p.Name, When: t.Ledger.Log()[p.Order-1].When.Local().Format("15:04"), Entry: p.Order}
	}
	return s.renderEntry(w, r, http.StatusOK, v, nil)
}

func (s *Server) renderEntry(w http.ResponseWriter, r *http.Request, status int, v *entryView, faults meas.Faults) error {
	return s.render(w, r, status, "part-new", frame{Title: v.title("Part " + v.Entry.Number), Place: "clocks", Faults: faults, View: v})
}

// addPart records a part and asks for the next.
func (s *Server) addPart(w http.ResponseWriter, r *http.Request) error {
	t, err := s.takeDown(r)
	if err != nil {
		return err
	}
	e := entryOf(r.PostForm)
	d := e.detail(t.Clock.Number)
	count, _ := strconv.Atoi(e.Count) // 0 is refused, beside the field
	shown := parts.Number(e.Number)
	if shown.Parent() != parts.Number(e.Parent) {
		shown = "" // the page showed a number under another part
	}
	kept, err := s.Shop.RecordPart(r.Context(), s.by(r), t.Clock.ID, parts.Number(e.Parent), shown, parts.Event{To: parts.State(e.To), Count: count, Detail: &d}, e.Why)
	if err == nil {
		return s.savedEntry(w, r, t, kept)
	}
	p := faultsOf(err)
	if p == nil {
		return err
	}
	v := s.entryViewOf(r, t, e, p.Fields)
	if p.Code == shop.Conflict {
		v.Taken, v.Differ = p.Hint, p.Differ
	}
	return s.renderEntry(w, r, statuses[p.Code], v, p.Fields)
}

func (s *Server) savedEntry(w http.ResponseWriter, r *http.Request, t shop.TakeDown, kept parts.Event) error {
	q := encode("saved", string(kept.Part), "parent", string(kept.Part.Parent()), "place", strings.TrimSpace(kept.Detail.Place), "to", string(kept.To))
	http.Redirect(w, r, clockPath(t.Clock.ID)+"/parts/new?"+q, http.StatusSeeOther)
	return nil
}
