package web

import (
	"fmt"
	"io"
	"net/http"
	"path"
	"slices"
	"strconv"
	"strings"

	"seatboard/internal/book/making"
	"seatboard/internal/book/parts"
	"seatboard/internal/book/work"
	"seatboard/internal/craft/clean"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/shop"
)

// makePartView is the form by which a part is written down as made: the part,
// the drawings, and a draft of its line in the originality ledger.
type makePartView struct {
	head
	sheetLine
	Read     int
	Part     []recordField
	Made     []optionView
	Drawings []drawingChoice
	Deed     deedForm
	Wrong    *shop.Problem
}

// drawingChoice is a drawing that is kept with the part if it is ticked.
type drawingChoice struct {
	Name, Title string
	Chosen      bool
}

// partPrefix stands before the fields of the part, whose names the line in the
// originality ledger has too.
const partPrefix = "part-"

// madeEntry is a part as typed there.
type madeEntry struct {
	partEntry
	drawings []string
}

func madeEntryOf(form map[string][]string) madeEntry {
	own := map[string][]string{"made": form["made"]}
	for name, v := range form {
		if field, ok := strings.CutPrefix(name, partPrefix); ok {
			own[field] = v
		}
	}
	return madeEntry{entryOf(own), form["drawing"]}
}

// fields are the fields of the part; names are offered.
func (e *madeEntry) fields(names []string, faults meas.Faults) []recordField {
	list := []recordField{
		{Name: "name", Label: "What it is", Size: 26, Options: names, target: &e.Name},
		{Name: "parent", Label: "Part of", Hint: "The number of the part that carries it; empty for the clock itself", Size: 8, target: &e.Parent},
		{Name: "count", Label: "Pieces", Size: 4, target: &e.Count},
		{Name: "place", Label: "Where it is now", Size: 20, Options: parts.Places(), target: &e.Place},
		{Name: "material", Label: "Material", Size: 20, target: &e.Material},
		{Name: "replaces", Label: "In place of part", Hint: "The number of the one it stands for, where that is in the ledger", Size: 8, target: &e.Replaces},
		{Name: "note", Label: "Note on the part", Lines: 2, target: &e.Note},
	}
	for i := range list {
		list[i].Name = partPrefix + list[i].Name
	}
	return withError(list, faults)
}

// newPartForm shows the form, with what is known of the part in it.
func (s *Server) newPartForm(w http.ResponseWriter, r *http.Request) error {
	m, x, err := s.oneSheet(r)
	if err != nil {
		return err
	}
	d, err := s.docOfSheet(r, x)
	if err != nil {
		return err
	}
	draft := work.Intervention{Who: s.by(r), When: s.Shop.Now(), Found: x.Title + " lost", Done: doneWords(x, d), Undo: work.Freely, KeptAt: "not found"}
	e := madeEntry{partEntry: partEntry{Name: strings.ToLower(x.Title), Count: "1", Place: "tray", Made: []string{string(clean.Brass)}, Material: "brass"}}
	for _, one := range d.Drawings() {
		e.drawings = append(e.drawings, one.Name)
	}
	return s.renderNewPart(w, r, m, x, d, e, deedTyped(draft, m.Clock.Number), nil)
}

// doneWords is a draft of what was done: what the drawings say, or what came
// out.
func doneWords(x making.Standing, d doc.Doc) string {
	said := x.Gist
	if all := d.Drawings(); len(all) > 0 { // the first is the part, the others are for making it
		said = all[0].Title
		for _, datum := range all[0].Data {
			if strings.HasPrefix(datum.Name, "Module") {
				said += ", module " + datum.Value
			}
		}
	}
	return "made new, by sheet " + strconv.Itoa(x.N) + ": " + said
}

// renderNewPart shows the form; wrong is why it could not be kept, nil where
// nothing is wrong.
func (s *Server) renderNewPart(w http.ResponseWriter, r *http.Request, m shop.Making, x making.Standing, d doc.Doc, e madeEntry, deed map[string]string, wrong *shop.Problem) error {
	v := makePartView{head: headOf(m.Clock, "making"), Read: x.Entry.N, Made: e.madeOf()}
	status, faults := http.StatusOK, meas.Faults(nil)
	if wrong != nil {
		status, faults = statuses[wrong.Code], fieldsOfPart(wrong.Fields)
		if len(faults) == 0 {
			v.Wrong = wrong
		}
	}
	v.sheetLine = sheetLineOf(x, v.Path)
	t, err := s.takeDown(r)
	if err != nil {
		return err
	}
	v.Part = e.fields(offered(r.Context(), t), faults)
	for _, one := range d.Drawings() {
		v.Drawings = append(v.Drawings, drawingChoice{one.Name, one.Title, slices.Contains(e.drawings, one.Name)})
	}
	o, err := s.originalityIn(r)
	if err != nil {
		return err
	}
	v.Deed = deedFormOf(deed, r.PostForm["before"], r.PostForm["after"], o, faults)
	v.Deed.Rest = slices.DeleteFunc(v.Deed.Rest, func(f recordField) bool { return f.Name == "part" }) // it is this one
	return s.render(w, r, status, "make-part", frame{Title: v.title("Part made: " + x.Title), Place: "clocks", Faults: onceEach(faults), View: v})
}

// makePart writes the part down with its line and its drawings.
func (s *Server) makePart(w http.ResponseWriter, r *http.Request) error {
	m, x, err := s.oneSheet(r)
	if err != nil {
		return err
	}
	d, err := s.docOfSheet(r, x)
	if err != nil {
		return err
	}
	e := madeEntryOf(r.PostForm)
	ask := shop.MakeAsk{Detail: e.detail(m.Clock.Number)}
	ask.Read, _ = strconv.Atoi(r.PostForm.Get("read")) // 0 conflicts with every entry
	ask.Count, _ = strconv.Atoi(e.Count)               // what is no number is refused as a count
	deed, unread := readDeed(work.Intervention{}, r.PostForm, m.Clock.Number)
	ask.Deed, ask.Deed.Part = deed, ""
	ask.Unread = partOfPart(e, m, &ask)
	for _, f := range unread {
		ask.Unread = append(ask.Unread, meas.Fault{Field: "deed." + f.Field, Text: f.Text})
	}
	if ask.Drawings, err = s.drawn(d, m.Clock.Number, e.drawings); err != nil {
		return err
	}
	made, err := s.Shop.MakePart(r.Context(), s.by(r), m.Clock.ID, x.N, ask)
	if err == nil {
		return done(w, r, clockPath(m.Clock.ID)+"/parts/"+string(made.Number), "made")
	}
	p := shop.AsProblem(err)
	if p.Code != shop.Conflict && len(p.Fields) == 0 {
		return err
	}
	text := map[string]string{}
	for name, values := range r.PostForm {
		text[name] = typed(values)
	}
	return s.renderNewPart(w, r, m, x, d, e, text, p)
}

// partOfPart reads under which part the new one stands.
func partOfPart(e madeEntry, m shop.Making, ask *shop.MakeAsk) meas.Faults {
	if e.Parent == "" {
		return nil
	}
	n, err := parts.ParseNumber(m.Clock.Number, e.Parent)
	if err != nil {
		return meas.Faults{{Field: "parent", Text: "“" + meas.Clip(e.Parent) + "” is not the number of a part; write it like 2.1, or leave it empty"}}
	}
	ask.Parent = n
	return nil
}

// fieldsOfPart gives the mistakes the names of the fields on the page.
func fieldsOfPart(faults meas.Faults) meas.Faults {
	var out meas.Faults
	for _, f := range faults {
		field, deed := strings.CutPrefix(f.Field, "deed.")
		switch {
		case deed || field == "made":
		case field == "part":
			field = partPrefix + "parent"
		default:
			field = partPrefix + field
		}
		out = append(out, meas.Fault{Field: field, Text: f.Text})
	}
	return out
}

// unmakePart takes back that a part was made.
func (s *Server) unmakePart(w http.ResponseWriter, r *http.Request) error {
	m, err := s.makingIn(r)
	if err != nil {
		return err
	}
	n, err := strconv.Atoi(r.PostForm.Get("n"))
	if err != nil {
		return errNoPage
	}
	if err := s.Shop.TakeBackPart(r.Context(), s.by(r), m.Clock.ID, n); err != nil {
		p := shop.AsProblem(err)
		if len(p.Fields) > 0 { // what rests on it stands in the page of the problem
			return &shop.Problem{Code: shop.Conflict, Message: p.Fields[0].Text + ".", Hint: "Nothing was taken back."}
		}
		return err
	}
	return done(w, r, clockPath(m.Clock.ID)+"/making", "undone")
}

// noteOnPart writes what a sheet found on a part that is there.
func (s *Server) noteOnPart(w http.ResponseWriter, r *http.Request) error {
	m, x, err := s.oneSheet(r)
	if err != nil {
		return err
	}
	number := typed(r.PostForm["part"])
	n, err := parts.ParseNumber(m.Clock.Number, number)
	if err != nil {
		n = parts.Number(number)
	}
	if err := s.Shop.NotePart(r.Context(), s.by(r), m.Clock.ID, x.N, n); err != nil {
		if p := faultsOf(err); p != nil {
			return s.renderSheet(w, r, http.StatusUnprocessableEntity, m, x, x.Sheet, p)
		}
		return err
	}
	return done(w, r, clockPath(m.Clock.ID)+"/parts/"+string(n), "saved")
}

// keptDrawing sends a drawing as it was kept when a part was made.
func (s *Server) keptDrawing(w http.ResponseWriter, r *http.Request) error {
	m, x, err := s.oneSheet(r)
	if err != nil {
		return err
	}
	sum := r.PathValue("sum")
	entries, _ := m.Book.Of(x.N)
	for _, e := range entries {
		if e.Part == nil {
			continue
		}
		at := slices.IndexFunc(e.Part.Drawings, func(f making.File) bool { return f.SHA256 == sum })
		if at < 0 {
			continue
		}
		f, err := s.Shop.KeptDrawing(sum)
		if err != nil {
			return err
		}
		defer f.Close()
		name := e.Part.Drawings[at].Name
		w.Header().Set("Content-Type", drawingKinds[path.Ext(name)])
		w.Header().Set("Content-Disposition", attachment(name))
		_, err = io.Copy(w, f)
		return err
	}
	return errNoPage
}

// drawingKinds are what the files of drawings are, by their suffix.
var drawingKinds = map[string]string{".svg": "image/svg+xml", ".pdf": "application/pdf", ".dxf": "image/vnd.dxf"}

// madeView is what a part was made by.
type madeView struct {
	Href, Title string
	Entry       int // that says so
	Drawings    []keptLink
}

// keptLink is a drawing that was kept.
type keptLink struct{ Name, Href, Size string }

// madeBy finds what a part was made by; nil where it was not.
func (s *Server) madeBy(r *http.Request, clock int64, n parts.Number) (*madeView, error) {
	m, err := s.Shop.Making(r.Context(), clock)
	if err != nil {
		return nil, err
	}
	for _, x := range m.Book.All() {
		for _, p := range x.Parts {
			if p.Number == n {
				v := madeViewOf(x, p, clockPath(clock))
				return &v, nil
			}
		}
	}
	return nil, nil
}

func madeViewOf(x making.Standing, p making.MadePart, clock string) madeView {
	v := madeView{Href: clock + "/making/" + strconv.Itoa(x.N), Title: x.Title, Entry: p.Entry.N}
	for _, f := range p.Drawings {
		v.Drawings = append(v.Drawings, keptLink{f.Name, v.Href + "/kept/" + f.SHA256, fmt.Sprintf("%d kB", (f.Size+999)/1000)})
	}
	return v
}
