package web

import (
	"fmt"
	"net/http"
	"net/url"
	"strconv"

	"seatboard/internal/book/trial"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
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

// aimTyped is what counts as right as it stands in the form.
type aimTyped struct {
	rate, band, beat, promise string
	strikes                   bool
	home                      trial.Home
	gates                     []gateTyped
}

type gateTyped struct {
	n                      int // of the gate it was, from 1; 0 for a new one
	name, days, least, gap string
}

// typedOf writes what counts as right as a person would.
func typedOf(a trial.Aim) aimTyped {
	x := aimTyped{band: figure(a.Band.PerDay()), promise: a.Promise, strikes: a.Strikes}
	if a.Rate != 0 {
		x.rate = figure(a.Rate.PerDay())
	}
	if a.BeatError != 0 {
		x.beat = figure(float64(a.BeatError) * 1e3)
	}
	if a.Home != nil {
		x.home = *a.Home
	}
	for i, g := range a.Gates {
		x.gates = append(x.gates, gateTyped{i + 1, g.Name, figure(g.Days), strconv.Itoa(g.Least), figure(g.Gap)})
	}
	return x
}

func figure(x float64) string { return strconv.FormatFloat(x, 'g', 6, 64) }

// aimForm reads the form.
func aimForm(form url.Values) aimTyped {
	get := func(name string) string { return typed(form[name]) }
	x := aimTyped{rate: get("rate"), band: get("band"), beat: get("beat_error"), promise: get("promise"), strikes: form.Get("strikes") != "",
		home: trial.Home{Place: get("home.place"), Latitude: get("home.latitude"), Height: get("home.height"), Gravity: get("home.gravity"), Temperature: get("home.temperature")}}
	eachRow(form, "gates", "name", func(get func(string) string, n int) {
		g := gateTyped{n, get("name"), get("days"), get("least"), get("gap")}
		if g.name != "" || n == 0 && g != (gateTyped{}) {
			x.gates = append(x.gates, g)
		}
	})
	return x
}

// read is what counts as right in figures, with every mistake; was is what
// counted until now.
func (x aimTyped) read(was trial.Aim) (trial.Aim, meas.Faults) {
	var faults meas.Faults
	a := trial.Aim{Strikes: x.strikes, Promise: x.promise, ForHome: was.ForHome, Goes: was.Goes}
	a.Rate = quantity[unit.Rate](&faults, "rate", x.rate, "s/d")
	a.Band = quantity[unit.Rate](&faults, "band", x.band, "s/d")
	a.BeatError = quantity[unit.Duration](&faults, "beat_error", x.beat, "ms")
	h := x.home
	if h != (trial.Home{}) {
		a.Home = &h
	}
	quantity[unit.Angle](&faults, "home.latitude", h.Latitude, "°")
	quantity[unit.Length](&faults, "home.height", h.Height, "m")
	quantity[unit.Acceleration](&faults, "home.gravity", h.Gravity, "m/s²")
	quantity[unit.Temperature](&faults, "home.temperature", h.Temperature, "°C")
	for i, g := range x.gates {
		at := func(name string) string { return fmt.Sprintf("gates[%d].%s", i, name) }
		to := trial.Gate{Key: newKey(was, a.Gates), Name: g.name, Days: float64(quantity[unit.Ratio](&faults, at("days"), g.days, "")), Gap: float64(quantity[unit.Ratio](&faults, at("gap"), g.gap, ""))}
		if g.n >= 1 && g.n <= len(was.Gates) {
			to.Key = was.Gates[g.n-1].Key
		}
		least, err := strconv.Atoi(g.least)
		if g.least != "" && err != nil {
			faults = append(faults, meas.Fault{Field: at("least"), Text: "The number of readings must be a whole number, like 4"})
		}
		to.Least = least
		a.Gates = append(a.Gates, to)
	}
	return a, faults
}

// quantity reads one figure; nothing typed is nought.
func quantity[Q unit.Quantity](faults *meas.Faults, field, text, assumed string) Q {
	if text == "" {
		return 0
	}
	r, err := meas.Parse[Q](text, assumed)
	if err != nil {
		*faults = append(*faults, meas.Fault{Field: field, Text: err.Error()})
	}
	return r.Value
}

// newKey is a key that no gate has had.
func newKey(was trial.Aim, now []trial.Gate) string {
	for i := len(was.Gates) + len(now) + 1; ; i++ {
		key, free := "gate-"+strconv.Itoa(i), true
		for _, g := range append(was.Gates[:len(was.Gates):len(was.Gates)], now...) {
			free = free && g.Key != key
		}
		if free {
			return key
		}
	}
}

func trialAimViewOf(g shop.Gates, x aimTyped, faults meas.Faults) *trialAimView {
	v := &trialAimView{head: headOf(g.Clock, "trial"), Seen: g.Book.Len(), Said: g.Said, Words: trial.PresetWords, Presets: trial.Presets(), Strikes: x.strikes, Promised: g.Clock.Promise}
	v.At = v.Path + "/trial/gates/aim"
	v.Right = withError([]recordField{
		{Name: "rate", Label: "Rate to aim at, in s/d", Hint: "Empty for true; gaining is positive", Size: 9, target: &x.rate},
		{Name: "band", Label: "Right within, each way, in s/d", Hint: "5; or 30 s/wk", Size: 9, target: &x.band},
		{Name: "beat_error", Label: "Out of beat at the most, in ms", Hint: "From tick to tock less from tock to tick; empty where it is not asked", Size: 9, target: &x.beat},
	}, faults)
	v.Promise = withError([]recordField{{Name: "promise", Label: "What the owner was told", Hint: "In words: right to a minute a week, by Christmas", Size: 40, target: &x.promise}}, faults)
	h := &x.home
	v.Home = withError([]recordField{
		{Name: "home.place", Label: "Place", Size: 28, target: &h.Place},
		{Name: "home.latitude", Label: "Latitude", Hint: "51.5 or 51° 28′ N; south is S", Size: 14, target: &h.Latitude},
		{Name: "home.height", Label: "Height above the sea, in m", Size: 9, target: &h.Height},
		{Name: "home.gravity", Label: "Gravity, if it was measured, in m/s²", Size: 9, target: &h.Gravity},
		{Name: "home.temperature", Label: "The room there, in °C", Size: 9, target: &h.Temperature},
	}, faults)
	for i, r := range append(x.gates, gateTyped{}) {
		p := fmt.Sprintf("gates[%d].", i)
		row := listRow{N: r.n, Cells: []listCell{{Name: p + "name", Label: "Gate", Value: r.name, Size: 26}, {Name: p + "days", Label: "Days", Value: r.days, Size: 4}, {Name: p + "least", Label: "Readings, at least", Value: r.least, Size: 4}, {Name: p + "gap", Label: "Longest without one, days", Value: r.gap, Size: 4}}}
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
	return s.renderTrialAim(w, r, http.StatusOK, trialAimViewOf(g, typedOf(g.Aim), nil), nil)
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
	aim, faults := x.read(g.Aim)
	for _, p := range trial.Presets() {
		if p.Key == r.PostForm.Get("kind") {
			aim, faults = p.Aim, nil
			aim.Promise, aim.Strikes, aim.Home, aim.ForHome, aim.Goes, aim.Rate = g.Aim.Promise, g.Aim.Strikes, g.Aim.Home, g.Aim.ForHome, g.Aim.Goes, g.Aim.Rate
			x = typedOf(aim)
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
