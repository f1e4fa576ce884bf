package web

import (
	"cmp"
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"seatboard/internal/book/trial"
	"seatboard/internal/kit/meas"
	"seatboard/internal/shop"
)

// trialAimView is what counts as right for a clock, as typed.
type trialAimView struct {
	head
	At       string
	Seen     int
	Said     bool
	Words    string // where the figures of the kinds are from
	Presets  []trial.Preset
	Right    []recordField
	Strikes  bool
	Promise  []recordField
	Promised string // by the clock's file
	Gates    []listRow
	Home     []recordField
	Wrong    *shop.Problem
}

// aimForm reads the form.
func aimForm(form url.Values) trial.AimTyped {
	get := func(name string) string { return typed(form[name]) }
	x := trial.AimTyped{Rate: get("rate"), Band: get("band"), BeatError: get("beat_error"), Promise: get("promise"), Strikes: form.Get("strikes") != "",
		Home: trial.Home{Place: get("home.place"), Latitude: get("home.latitude"), Height: get("home.height"), Gravity: get("home.gravity"), Temperature: get("home.temperature")}}
	eachRow(form, "gates", "name", func(get func(string) string, n int) {
		g := trial.GateTyped{Was: n, Name: get("name"), Days: get("days"), Least: get("least"), Gap: get("gap")}
		if g.Name != "" || n == 0 && g != (trial.GateTyped{}) {
			x.Gates = append(x.Gates, g)
		}
	})
	return x
}

func trialAimViewOf(g shop.Gates, x trial.AimTyped, faults meas.Faults) *trialAimView {
	v := &trialAimView{head: headOf(g.Clock, "trial"), Seen: g.Book.Len(), Said: g.Said, Words: trial.PresetWords, Presets: trial.Presets(), Strikes: x.Strikes, Promised: g.Clock.Promise}
	v.At = v.Path + "/trial/gates/aim"
	sizes := map[string]int{"promise": 40, "home.place": 44, "home.latitude": 14}
	for _, f := range x.Fields() {
		r := recordField{Name: f.Name, Label: f.Label, Hint: f.Hint, Size: cmp.Or(sizes[f.Name], 9), target: f.To}
		if f.Unit != "" {
			r.Label += ", in " + f.Unit
		}
		to := &v.Right
		switch {
		case f.Name == "promise":
			to = &v.Promise
		case strings.HasPrefix(f.Name, "home."):
			to = &v.Home
		}
		*to = append(*to, withError([]recordField{r}, faults)...)
	}
	for i, r := range append(x.Gates, trial.GateTyped{}) {
		p := fmt.Sprintf("gates[%d].", i)
		row := listRow{N: r.Was, Cells: []listCell{{Name: p + "name", Label: "Gate", Value: r.Name, Size: 26}, {Name: p + "days", Label: "Days", Value: r.Days, Size: 4}, {Name: p + "least", Label: "Readings, at least", Value: r.Least, Size: 4}, {Name: p + "gap", Label: "Longest without one, days", Value: r.Gap, Size: 4}}}
		for j := range row.Cells {
			row.Cells[j].Error = faultOf(faults, row.Cells[j].Name)
		}
		v.Gates = append(v.Gates, row)
	}
	return v
}

// trialAim shows what counts as right for a clock.
func (s *Server) trialAim(w http.ResponseWriter, r *http.Request) error {
	g, err := s.gatesOf(r)
	if err != nil {
		return err
	}
	return s.renderTrialAim(w, r, http.StatusOK, trialAimViewOf(g, g.Aim.Typed(), nil), nil)
}

func (s *Server) renderTrialAim(w http.ResponseWriter, r *http.Request, status int, v *trialAimView, faults meas.Faults) error {
	return s.render(w, r, status, "gates-aim", frame{Title: v.title("What counts as right"), Place: "clocks", Faults: faults, View: v})
}

// saveTrialAim keeps what counts as right, as typed or as is common for a kind
// of clock.
func (s *Server) saveTrialAim(w http.ResponseWriter, r *http.Request) error {
	g, err := s.gatesOf(r)
	if err != nil {
		return err
	}
	x := aimForm(r.PostForm)
	aim, faults := x.Read(g.Aim)
	for _, p := range trial.Presets() {
		if p.Key == r.PostForm.Get("kind") {
			aim, faults = p.For(g.Aim), nil
			x = aim.Typed()
		}
	}
	seen, _ := strconv.Atoi(r.PostForm.Get("seen")) // 0 has seen nothing
	if err = nil; len(faults) > 0 {
		err = &shop.Problem{Code: shop.BadInput, Message: "There is a problem with what was entered.", Fields: faults}
	} else {
		err = s.Shop.SetAim(r.Context(), s.by(r), g.Clock.ID, seen, aim)
	}
	if err == nil {
		return done(w, r, clockPath(g.Clock.ID)+"/trial/gates", "saved")
	}
	p := shop.AsProblem(err)
	if p.Code != shop.Conflict && len(p.Fields) == 0 {
		return err
	}
	v := trialAimViewOf(g, x, p.Fields)
	if len(p.Fields) == 0 {
		v.Wrong = p
	}
	return s.renderTrialAim(w, r, statuses[p.Code], v, p.Fields)
}
