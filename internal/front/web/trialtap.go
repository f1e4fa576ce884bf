package web

import (
	"html/template"
	"math"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"seatboard/internal/craft/regulate/tap"
	"seatboard/internal/io/hostclock"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/paper/html"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// tapRoutes lists the addresses of readings by taps, by the strike, from a
// table, and from what was heard.
func (s *Server) tapRoutes(get, post func(string, handler)) {
	get("/clocks/{id}/trial/tap", s.tapPage)
	post("/clocks/{id}/trial/tap", s.changeTaps)
	get("/clocks/{id}/trial/table", s.tablePage)
	post("/clocks/{id}/trial/table", s.changeTable)
	get("/clocks/{id}/trial/table.json", s.tableProgress)
	get("/clocks/{id}/trial/readings.csv", s.readingsCSV)
	post("/clocks/{id}/listening/{listening}/trial", s.useKept)
}

// pressLate is how late an instant may be that is stamped as a press arrives
// here, one standard uncertainty: what the browser and the network take.
const pressLate unit.Duration = 0.1

// tapMarks are what is tapped at; Value is what the form sends.
var tapMarks = []struct {
	option optionView
	way    tap.Way
	every  unit.Duration
	beats  int
}{
	{optionView{Value: "seconds-60", Label: "The seconds hand at 60, each minute"}, tap.Seconds, 60, 0},
	{optionView{Value: "seconds-15", Label: "The seconds hand at 15, 30, 45 and 60"}, tap.Seconds, 15, 0},
	{optionView{Value: "beat-1", Label: "Each beat, along with it"}, tap.InBeat, 0, 1},
	{optionView{Value: "beat-2", Label: "Every second beat, along with it"}, tap.InBeat, 0, 2},
	{optionView{Value: "beat-4", Label: "Every fourth beat, along with it"}, tap.InBeat, 0, 4},
	{optionView{Value: "minutes-60", Label: "The minute hand onto a minute"}, tap.Minutes, 60, 0},
	{optionView{Value: "strike", Label: "The first blow of the hour"}, tap.Blow, 3600, 0},
}

// tapView is the page of taps.
type tapView struct {
	head
	At, Script string
	Marks      []optionView
	Shown      recordField
	Beat       recordField
	Blows      []optionView
	Taps       []string // instants, as the form keeps them
	Said       template.HTML
	U          string
	Kept       string
	TapsFault  string
	Read       int
	Wrong      *shop.Problem
}

// tapPage shows the page of taps with none.
func (s *Server) tapPage(w http.ResponseWriter, r *http.Request) error {
	form := url.Values{}
	if at := r.URL.Query().Get("at"); at == "strike" {
		form.Set("marks", at)
	}
	return s.renderTaps(w, r, http.StatusOK, form, nil)
}

// tapAsk reads what the form says.
func tapAsk(form url.Values) shop.TapAsk {
	m := tapMarks[0]
	for _, x := range tapMarks {
		if x.option.Value == form.Get("marks") {
			m = x
		}
	}
	ask := shop.TapAsk{Way: m.way, Every: m.every, Beats: m.beats, Beat: typed(form["beat"]), Shown: typed(form["dial"]), Blows: -1, U: pressLate}
	for _, t := range strings.FieldsFunc(form.Get("taps"), func(r rune) bool { return r == ' ' || r == ',' }) {
		ms, err := strconv.ParseFloat(t, 64)
		if err != nil || !(ms > 0 && ms < 4e13) || len(ask.Taps) > tap.MaxTaps {
			continue // it was not made by this page
		}
		whole, part := math.Modf(ms)
		ask.Taps = append(ask.Taps, time.UnixMilli(int64(whole)).Add(time.Duration(part*1e6)))
	}
	if u, err := strconv.ParseFloat(form.Get("u"), 64); err == nil && u >= 0 && u < 60 {
		ask.U = unit.Duration(u)
	}
	if n, err := strconv.Atoi(form.Get("blows")); err == nil && n >= 0 && n <= 100 && ask.Way == tap.Blow {
		ask.Blows = n
	}
	if ask.Way == tap.Blow && len(ask.Taps) > 1 {
		ask.Taps = ask.Taps[len(ask.Taps)-1:] // the last press counts
	}
	return ask
}

// changeTaps does what a button of the page says: one more tap, one less, all
// away, look, or save.
func (s *Server) changeTaps(w http.ResponseWriter, r *http.Request) error {
	came := s.Shop.Now()
	form := r.PostForm
	f, err := s.file(r)
	if err != nil {
		return err
	}
	switch form.Get("do") {
	case "tap":
		form.Set("taps", strings.TrimSpace(form.Get("taps")+" "+strconv.FormatFloat(float64(came.UnixMicro())/1e3, 'f', 1, 64)))
		form.Set("u", unit.Number(float64(pressLate), 3))
		return s.renderTaps(w, r, http.StatusOK, form, nil)
	case "less":
		t := strings.Fields(form.Get("taps"))
		form.Set("taps", strings.Join(t[:max(0, len(t)-1)], " "))
		return s.renderTaps(w, r, http.StatusOK, form, nil)
	case "none":
		form.Set("taps", "")
		return s.renderTaps(w, r, http.StatusOK, form, nil)
	case "look":
		if form.Get("part") == "yes" {
			return s.tapPart(w, r, f.Clock.ID, form)
		}
		return s.renderTaps(w, r, http.StatusOK, form, nil)
	case "save":
	default:
		return errNoPage
	}
	read, err := strconv.Atoi(form.Get("read"))
	if err != nil || read < 0 {
		read = 0
	}
	_, err = s.Shop.SaveTaps(r.Context(), s.by(r), f.Clock.ID, read, tapAsk(form))
	if err == nil {
		return done(w, r, clockPath(f.Clock.ID)+"/trial", "looked")
	}
	p := shop.AsProblem(err)
	if p.Code != shop.Conflict && len(p.Fields) == 0 {
		return err
	}
	return s.renderTaps(w, r, statuses[p.Code], form, p)
}

// tapPart sends what the taps say alone, for script to put in its place.
func (s *Server) tapPart(w http.ResponseWriter, r *http.Request, clock int64, form url.Values) error {
	said, err := s.tapSaid(r, clock, tapAsk(form))
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_, err = w.Write([]byte(said))
	return err
}

// tapSaid is what taps say; of none nothing.
func (s *Server) tapSaid(r *http.Request, clock int64, ask shop.TapAsk) (template.HTML, error) {
	if len(ask.Taps) == 0 {
		return "", nil
	}
	got, err := s.Shop.LookTaps(r.Context(), clock, ask)
	if err != nil {
		if p := shop.AsProblem(err); len(p.Fields) > 0 {
			return template.HTML(`<p class="wrong">` + template.HTMLEscapeString(p.Fields[0].Text) + "</p>"), nil
		}
		return "", err
	}
	said := html.Render(present.Taps(got.Answer, s.Shop.Zone()), html.Options{ID: "t", Level: 3})
	if ask.Way == tap.Blow && got.Answer.Complete {
		said = template.HTML("<p>"+template.HTMLEscapeString(strikeWords(got))+"</p>") + said
	}
	return said, nil
}

// strikeWords says what the strike is held against.
func strikeWords(got shop.Tapped) string {
	words := "Taken for " + strconv.Itoa(got.Hour) + " o’clock. "
	if !got.Lag.Set {
		return words + "How far this clock strikes from what its hands show is not known: read its hands within an hour of a strike and it is. Until then the strike stands with a wide doubt."
	}
	way := "before"
	if got.Lag.Value < 0 {
		way = "behind"
	}
	return words + "It strikes " + unit.Text(max(got.Lag.Value, -got.Lag.Value), "s", 1) + " ± " + unit.Text(got.Lag.U, "s", 1) + " " + way + " its hands, by " + strconv.Itoa(got.Pairs) + " strikes beside readings of the hands; that is taken off."
}

func (s *Server) renderTaps(w http.ResponseWriter, r *http.Request, status int, form url.Values, wrong *shop.Problem) error {
	t, err := s.trialIn(r)
	if err != nil {
		return err
	}
	var faults meas.Faults
	if wrong != nil {
		faults = onceEach(wrong.Fields)
	}
	ask := tapAsk(form)
	v := &tapView{head: headOf(t.Clock, "trial"), Script: s.assets.url("tap.js"), Read: t.Book.Len(), U: form.Get("u"), TapsFault: faultOf(faults, "taps")}
	v.At = v.Path + "/trial/tap"
	v.Kept = keptWords(hostclock.Disciplined(r.Context()))
	for _, m := range tapMarks {
		o := m.option
		o.Chosen = o.Value == form.Get("marks")
		v.Marks = append(v.Marks, o)
	}
	field := func(f recordField) recordField {
		text := form.Get(f.Name)
		f.target, f.Error = &text, faultOf(faults, map[string]string{"dial": "shown"}[f.Name])
		return f
	}
	v.Shown = field(recordField{Name: "dial", Label: "What the dial showed at the first tap", Hint: "9:14:00; empty where the clock is near right", Size: 10})
	v.Beat = field(recordField{Name: "beat", Label: "Beat of the pendulum", Hint: "Empty for " + s.beatSaid(r, t), Size: 8})
	v.Beat.Error = faultOf(faults, "beat")
	v.blows(form.Get("blows"))
	v.Taps = strings.Fields(form.Get("taps"))
	if v.Said, err = s.tapSaid(r, t.Clock.ID, ask); err != nil {
		return err
	}
	if wrong != nil && len(faults) == 0 {
		v.Wrong = wrong
	}
	return s.render(w, r, status, "tap", frame{Title: v.title("Taps"), Place: "clocks", Faults: faults, View: v})
}

func (v *tapView) blows(chosen string) {
	v.Blows = []optionView{{Value: "", Label: "not counted"}}
	for n := range 14 {
		x := strconv.Itoa(n)
		v.Blows = append(v.Blows, optionView{Value: x, Label: x, Chosen: x == chosen})
	}
}

// beatSaid is the beat that is taken where none is typed.
func (s *Server) beatSaid(r *http.Request, t shop.Trial) string {
	if b := s.Shop.BeatOf(r.Context(), t.Survey); b > 0 {
		return unit.Significant(float64(b), 4) + " s, by the survey"
	}
	return "1 s"
}
