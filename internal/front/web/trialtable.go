package web

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	tables "seatboard/internal/book/trial/table"
	"seatboard/internal/kit/meas"
	"seatboard/internal/shop"
)

// tableView is the page that brings in a table: first which file, then what
// its columns mean.
type tableView struct {
	head
	At, Script string
	Held       string // id of the file; "" while there is none
	Name       string
	Size       string
	Columns    []columnView
	Dates      []optionView
	Zone       recordField
	Heading    bool
	Comma      bool
	Asks       []askLine
	FileFault  string
	DatesFault string
	Lines      meas.Faults // mistakes by line
	Wrong      *shop.Problem
}

// askLine is what the file does not tell.
type askLine struct {
	Text  string
	Doubt bool
}

// columnView is a column with what it may mean.
type columnView struct {
	N     int
	Head  string
	First string
	Means []optionView
	Error string
}

// tablePage asks for a file, or shows how the held one would be read.
func (s *Server) tablePage(w http.ResponseWriter, r *http.Request) error {
	return s.renderTable(w, r, http.StatusOK, r.URL.Query().Get("held"), nil, nil)
}

func (s *Server) renderTable(w http.ResponseWriter, r *http.Request, status int, held string, form url.Values, wrong *shop.Problem) error {
	f, err := s.file(r)
	if err != nil {
		return err
	}
	v := &tableView{head: headOf(f.Clock, "trial"), Script: s.assets.url("table.js"), Held: held}
	v.At = v.Path + "/trial/table"
	var faults meas.Faults
	if wrong != nil {
		for _, x := range wrong.Fields {
			if strings.HasPrefix(x.Field, "line-") || x.Field == "file" && held != "" {
				v.Lines = append(v.Lines, x)
			} else {
				faults = append(faults, x)
			}
		}
		v.FileFault = faultOf(faults, "file")
		if len(v.Lines) > 0 || len(faults) == 0 {
			v.Wrong = wrong
		}
	}
	if held != "" {
		h, err := s.Shop.HeldTable(f.Clock.ID, held)
		if err != nil {
			return err
		}
		v.held(h, form, faults)
	}
	return s.render(w, r, status, "trial-table", frame{Title: v.title("Bring in a table"), Place: "clocks", Faults: faults, View: v})
}

// held lays out a file: the guess, or what was chosen.
func (v *tableView) held(h shop.HeldTable, form url.Values, faults meas.Faults) {
	p := h.Guess.Plan
	if form != nil {
		p = planOf(h.Guess, form)
	}
	v.Name, v.Heading, v.Comma = h.Name, p.Heading, p.Comma
	v.Size = fmt.Sprintf("%.0f kB", max(1, float64(h.Bytes)/1024))
	for i, m := range p.Columns {
		c := columnView{N: i + 1, Head: h.Guess.Names[i], Error: faultOf(faults, "column-"+strconv.Itoa(i+1))}
		if c.Head == "" {
			c.Head = "column " + strconv.Itoa(i+1)
		}
		var first []string
		for _, row := range h.Guess.Rows[:min(3, len(h.Guess.Rows))] {
			if i < len(row) {
				first = append(first, row[i])
			}
		}
		c.First = strings.Join(first, " · ")
		for _, x := range tables.Meanings() {
			c.Means = append(c.Means, optionView{Value: string(x.Meaning), Label: x.Words, Chosen: x.Meaning == m})
		}
		v.Columns = append(v.Columns, c)
	}
	if p = openDates(h.Guess, p, form); p.Dates == "" {
		v.Dates = append(v.Dates, optionView{Label: "say which", Chosen: true})
	}
	v.DatesFault = faultOf(faults, "dates")
	for _, o := range tables.Orders() {
		v.Dates = append(v.Dates, optionView{Value: string(o), Label: string(o), Chosen: o == p.Dates})
	}
	zone := p.Zone
	v.Zone = recordField{Name: "zone", Label: "Times that name no zone are in", Hint: "local (the shop’s), UTC, or like +01:00", Size: 8, target: &zone, Error: faultOf(faults, "zone")}
	for _, a := range h.Guess.Asks {
		v.Asks = append(v.Asks, askLine{a.Text, a.Level == meas.Doubt})
	}
}

// openDates leaves the order of dates open where the file does not tell it and
// nobody has said it yet.
func openDates(g tables.Guess, p tables.Plan, form url.Values) tables.Plan {
	for _, a := range g.Asks {
		if a.Level == meas.Doubt && a.About[0] == "dates" && form.Get("dates") == "" {
			p.Dates = ""
		}
	}
	return p
}

// planOf is the plan that the form says.
func planOf(g tables.Guess, form url.Values) tables.Plan {
	p := g.Plan
	p.Columns = make([]tables.Meaning, len(g.Plan.Columns))
	for i := range p.Columns {
		p.Columns[i] = tables.Meaning(form.Get("column-" + strconv.Itoa(i+1)))
	}
	p.Zone, p.Heading, p.Comma = typed(form["zone"]), form.Get("heading") == "yes", form.Get("comma") == "yes"
	for _, o := range tables.Orders() {
		if string(o) == form.Get("dates") {
			p.Dates = o
		}
	}
	return openDates(g, p, form)
}

// changeTable holds the file that was chosen, or brings the held one in.
func (s *Server) changeTable(w http.ResponseWriter, r *http.Request) error {
	f, err := s.file(r)
	if err != nil {
		return err
	}
	held := r.PostFormValue("held")
	if held == "" {
		file, head, err := r.FormFile("file")
		if err != nil {
			return s.renderTable(w, r, http.StatusUnprocessableEntity, "", nil, &shop.Problem{Code: shop.BadInput, Fields: meas.Faults{{Field: "file", Text: "Choose a table: no file came"}}})
		}
		defer file.Close()
		h, err := s.Shop.HoldTable(f.Clock.ID, head.Filename, file)
		if err != nil {
			return s.refuseTable(w, r, "", nil, err)
		}
		http.Redirect(w, r, clockPath(f.Clock.ID)+"/trial/table?held="+h.ID, http.StatusSeeOther)
		return nil
	}
	h, err := s.Shop.HeldTable(f.Clock.ID, held)
	if err != nil {
		return err
	}
	if _, err = s.Shop.BringHeld(r.Context(), s.by(r), f.Clock.ID, held, planOf(h.Guess, r.PostForm)); err != nil {
		return s.refuseTable(w, r, held, r.PostForm, err)
	}
	return done(w, r, clockPath(f.Clock.ID)+"/trial", "brought")
}

// refuseTable shows the page again with what was wrong.
func (s *Server) refuseTable(w http.ResponseWriter, r *http.Request, held string, form url.Values, err error) error {
	p := shop.AsProblem(err)
	if p.Code == shop.Internal || p.Code == shop.Storage || p.Code == shop.Gone {
		return err
	}
	if held == "" && len(p.Fields) == 0 {
		q := *p
		q.Fields = meas.Faults{{Field: "file", Text: strings.TrimSpace(p.Message + " " + p.Hint)}}
		p = &q
	}
	return s.renderTable(w, r, statuses[p.Code], held, form, p)
}

// tableProgress tells how far a table has come.
func (s *Server) tableProgress(w http.ResponseWriter, r *http.Request) error {
	f, err := s.file(r)
	if err != nil {
		return err
	}
	done, total, busy, err := s.Shop.TableProgress(f.Clock.ID, r.URL.Query().Get("held"))
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "application/json")
	return json.NewEncoder(w).Encode(map[string]any{"done": done, "total": total, "busy": busy})
}

// readingsCSV sends what stands as a table.
func (s *Server) readingsCSV(w http.ResponseWriter, r *http.Request) error {
	t, err := s.trialIn(r)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/csv; charset=utf-8; header=present")
	w.Header().Set("Content-Disposition", attachment("readings-"+t.Clock.Number+".csv"))
	return tables.Write(w, *t.Query)
}
