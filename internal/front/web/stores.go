package web

import (
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strconv"

	"seatboard/internal/book/job"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/stores"
	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/html"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// storesRoutes lists the addresses of the stores.
func (s *Server) storesRoutes(get, post func(string, handler)) {
	get("/stores", s.stores)
	post("/stores", s.changeStores)
	get("/clocks/{id}/materials", s.stores)
	post("/clocks/{id}/materials", s.changeStores)
}

// storesView is the shelf, with forms for what happens on it; of a clock, what
// it used as well.
type storesView struct {
	head
	Sheet     template.HTML
	At        string // address of the page
	Materials []optionView
	Move      storeMove
	Name      storeName
	Last      []storeLine
	Read      int
	Differ    []job.Change
	Wrong     *shop.Problem
	Damaged   meas.Faults
}

// storeMove is what came in, was used or is left, as typed.
type storeMove struct {
	Material, Amount, Job, Source string
	Fields                        []recordField
	MaterialErr                   string
}

// storeName is a material as typed.
type storeName struct {
	Which  string // its number, "" for a new one
	Name   string
	Unit   string
	Low    string
	Note   string
	Fields []recordField
	Open   bool // it is shown
}

// storeLine is an entry of the log.
type storeLine struct {
	N                int
	When, Who, Words string
	Stands           bool
}

// lastStores is how many entries the page shows.
const lastStores = 12

func storesViewOf(st shop.Stores, c job.Clock, form url.Values, faults meas.Faults) *storesView {
	v := &storesView{At: "/stores", Read: len(st.Shelf.Log()), Damaged: st.Damaged}
	if c.ID != 0 {
		v.head = headOf(c, "materials")
		v.At = v.Path + "/materials"
	}
	do := form.Get("do")
	get := func(name string, mine bool) string {
		if !mine {
			return ""
		}
		return typed(form[name])
	}
	moved, named := do != "" && do != "name", do == "name"
	v.Move = storeMove{Material: get("material", moved), Amount: get("amount", moved), Job: get("job", moved), Source: get("source", moved)}
	v.Name = storeName{Which: get("which", named), Name: get("name", named), Unit: get("unit", named), Low: get("low", named), Note: get("note", named)}
	for _, m := range st.Shelf.Stock() {
		v.Materials = append(v.Materials, optionView{strconv.Itoa(m.N), m.Name + ", " + m.Left.String() + " " + m.Unit, strconv.Itoa(m.N) == v.Move.Material})
	}
	v.Move.Fields = []recordField{{Name: "amount", Label: "How much", Hint: "In the unit of the material: 3 or 2,5", Size: 9, target: &v.Move.Amount}}
	if c.ID == 0 {
		v.Move.Fields = append(v.Move.Fields, recordField{Name: "job", Label: "For which clock", Hint: "Its number, or shop; only where it is used", Size: 12, target: &v.Move.Job})
	}
	v.Move.Fields = append(v.Move.Fields, recordField{Name: "source", Label: "Batch, maker, price", Size: 28, target: &v.Move.Source})
	v.Name.Fields = []recordField{
		{Name: "name", Label: "Material", Size: 28, target: &v.Name.Name},
		{Name: "unit", Label: "Unit", Size: 8, Options: []string{stores.Pieces, "m", "ml", "g"}, target: &v.Name.Unit},
		{Name: "low", Label: "Warn at", Hint: "Or less; empty for never", Size: 8, target: &v.Name.Low},
		{Name: "note", Label: "Note", Size: 28, target: &v.Name.Note},
	}
	if moved {
		withError(v.Move.Fields, faults)
		v.Move.MaterialErr = faultOf(faults, "material")
	}
	if v.Name.Open = named || len(v.Materials) == 0; named {
		withError(v.Name.Fields, faults)
	}
	v.Last = storeLines(st.Shelf, c.Number)
	return v
}

// storeLines lists the last entries, of a clock only its own.
func storeLines(s *stores.Shelf, clock string) []storeLine {
	names := map[int]stores.Stock{}
	for _, m := range s.Stock() {
		names[m.N] = m
	}
	log := s.Log()
	standing := ledger.Standing(log)
	var out []storeLine
	for i := len(log) - 1; i >= 0 && len(out) < lastStores; i-- {
		e := log[i]
		if e.Kind == stores.Undone || clock != "" && e.Job != clock {
			continue
		}
		m := names[e.Material]
		words := map[stores.Kind]string{stores.Named: m.Name + " named", stores.CameIn: e.Amount.String() + " " + m.Unit + " " + m.Name + " came in", stores.Used: e.Amount.String() + " " + m.Unit + " " + m.Name + " used for " + e.Job, stores.Counted: m.Name + " counted: " + e.Amount.String() + " " + m.Unit}[e.Kind]
		if e.Source != "" {
			words += " (" + e.Source + ")"
		}
		out = append(out, storeLine{N: e.N, When: e.When.Local().Format("2006-01-02 15:04"), Who: e.Who, Words: words, Stands: standing[i]})
	}
	return out
}

// stores shows the shelf, or what the clock in the address used of it.
func (s *Server) stores(w http.ResponseWriter, r *http.Request) error {
	return s.renderStores(w, r, http.StatusOK, nil, nil)
}

func (s *Server) renderStores(w http.ResponseWriter, r *http.Request, status int, form url.Values, wrong *shop.Problem) error {
	var c job.Clock
	if r.PathValue("id") != "" {
		f, err := s.file(r)
		if err != nil {
			return err
		}
		c = f.Clock
	}
	st, err := s.Shop.Stores(r.Context())
	if err != nil {
		return err
	}
	f := frame{Title: "Stores", Place: "stores"}
	if wrong != nil {
		f.Faults = onceEach(wrong.Fields)
	}
	v := storesViewOf(st, c, form, f.Faults)
	sheet, level := present.Stores(st.Shelf), 2
	if c.ID != 0 {
		elsewhere, err := s.Shop.UsedElsewhere(r.Context(), c.UID)
		if err != nil {
			return err
		}
		f.Title, f.Place, sheet, level = v.title("Materials"), "clocks", present.UsedFor(c.Number, st.Shelf, elsewhere), 3
	}
	v.Sheet = html.Render(sheet, html.Options{ID: "s", Level: level})
	if wrong != nil && len(wrong.Fields) == 0 {
		v.Wrong, v.Differ = wrong, wrong.Differ
	}
	f.View = v
	return s.render(w, r, status, "stores", f)
}

// changeStores does what a button of the page says.
func (s *Server) changeStores(w http.ResponseWriter, r *http.Request) error {
	e, faults := storeEvent(r.PostForm)
	at := "/stores"
	if r.PathValue("id") != "" {
		f, err := s.file(r)
		if err != nil {
			return err
		}
		at = clockPath(f.Clock.ID) + "/materials"
		if e.Kind == stores.Used {
			e.Job = f.Clock.Number
		}
	}
	if e.Kind == "" {
		return errNoPage
	}
	read, _ := strconv.Atoi(r.PostForm.Get("read")) // 0 has seen nothing
	var err error = faults
	if len(faults) == 0 {
		_, err = s.Shop.ChangeStores(r.Context(), s.by(r), read, e)
	}
	if err == nil {
		return done(w, r, at, "saved")
	}
	p := shop.AsProblem(err)
	if p.Code != shop.Conflict && len(p.Fields) == 0 {
		return err
	}
	if e.Kind == stores.Undone && len(p.Fields) > 0 { // it has no field
		p = &shop.Problem{Code: p.Code, Message: p.Fields[0].Text + ".", Hint: "Nothing was taken back."}
	}
	return s.renderStores(w, r, statuses[p.Code], r.PostForm, p)
}

// storeEvent reads what a form says; its kind is "" where it says nothing.
func storeEvent(form url.Values) (stores.Event, meas.Faults) {
	var e stores.Event
	var faults meas.Faults
	amount := func(field string) stores.Amount {
		a, err := stores.ParseAmount(typed(form[field]))
		if err != nil {
			faults = append(faults, meas.Fault{Field: field, Text: shop.AsProblem(err).Fields[0].Text})
		}
		return a
	}
	do := stores.Kind(form.Get("do"))
	switch {
	case do == "back":
		e.Kind = stores.Undone
		e.Undoes, _ = strconv.Atoi(form.Get("n")) // 0 is no entry
	case do == "name":
		e.Kind, e.Is = stores.Named, &stores.Material{Name: typed(form["name"]), Unit: typed(form["unit"]), Note: typed(form["note"])}
		e.Material, _ = strconv.Atoi(form.Get("which")) // 0 is a new one
		if typed(form["low"]) != "" {
			e.Is.Low = amount("low")
		}
	case slices.Contains([]stores.Kind{stores.CameIn, stores.Used, stores.Counted}, do):
		e.Kind, e.Job, e.Source = do, typed(form["job"]), typed(form["source"])
		if do != stores.Used {
			e.Job = ""
		}
		e.Material, _ = strconv.Atoi(form.Get("material")) // 0 is none
		if e.Material == 0 {
			faults = append(faults, meas.Fault{Field: "material", Text: "Choose the material"})
		}
		e.Amount = amount("amount")
	}
	return e, faults
}
