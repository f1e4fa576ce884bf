package web

import (
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"time"

	"seatboard/internal/book/condition"
	"seatboard/internal/book/job"
	"seatboard/internal/craft/clean"
	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// conditionRoutes lists the addresses of a clock's state, of what was done to
// it, and of what was used for it.
func (s *Server) conditionRoutes(get, post func(string, handler)) {
	s.originalityRoutes(get, post)
	s.makingRoutes(get, post)
	s.storesRoutes(get, post)
	get("/clocks/{id}/condition", s.condition)
	post("/clocks/{id}/condition", s.observe)
	post("/clocks/{id}/condition/undo", s.undoObservation)
	get("/clocks/{id}/condition.pdf", s.conditionPDF)
}

// conditionView is the state of a clock area by area, with a form for the next
// observation.
type conditionView struct {
	head
	Hazards []condition.AreaHazard
	Areas   []areaView
	Entry   observed
	Read    int // entries that the page shows
	Differ  []job.Change
	Told    string // of a conflict
	Damaged meas.Faults
}

// areaView is one area with what was seen of it.
type areaView struct {
	Name, Href, PhotosHref string
	Hazards                []clean.Hazard
	Seen                   []observationLine
	Shots                  []shotView
}

// observationLine is an observation as a line.
type observationLine struct {
	condition.Event
	Cautions string
}

// observed is an observation as typed.
type observed struct {
	Area, Day, Seen, Thought string
	Areas, Severities        []optionView
	Hazards, Gone            []optionView
	Fields                   []recordField // seen and thought
	DayField                 recordField
	AreaErr, HazardErr       string
}

// observedOf lays a form out for what was typed.
func observedOf(o condition.Observation, r condition.Record, faults meas.Faults) *observed {
	e := &observed{Area: o.Area, Day: o.Day, Seen: o.Seen, Thought: o.Thought, AreaErr: faultOf(faults, "area"), HazardErr: faultOf(faults, "hazard")}
	for _, a := range condition.Areas() {
		e.Areas = append(e.Areas, optionView{a, a, a == o.Area})
	}
	for _, x := range condition.Severities() {
		e.Severities = append(e.Severities, optionView{string(x), string(x), x == o.Severity})
	}
	for _, key := range condition.HazardKeys() {
		e.Hazards = append(e.Hazards, optionView{key, condition.HazardWords(key), slices.Contains(o.Hazards, key)})
	}
	for _, h := range r.Hazards(o.Area) {
		e.Gone = append(e.Gone, optionView{h.Key, condition.HazardWords(h.Key), slices.Contains(o.Gone, h.Key)})
	}
	e.Fields = withError([]recordField{
		{Name: "seen", Label: "What is seen", Hint: "What anybody could see; no reason, no guess", Lines: 3, target: &e.Seen},
		{Name: "thought", Label: "What you think of it", Hint: "Why it is so, how old it is, what it may come to", Lines: 2, target: &e.Thought},
	}, faults)
	e.DayField = recordField{Name: "day", Label: "Seen on", Size: 11, Error: faultOf(faults, "day"), target: &e.Day}
	return e
}

func observationOf(form url.Values) condition.Observation {
	return condition.Observation{Area: form.Get("area"), Day: typed(form["day"]), Seen: typed(form["seen"]), Thought: typed(form["thought"]), Severity: condition.Severity(form.Get("severity")), Hazards: form["hazard"], Gone: form["gone"]}
}

func conditionOf(c shop.Condition, o condition.Observation, faults meas.Faults) *conditionView {
	v := &conditionView{head: headOf(c.Clock, "condition"), Hazards: c.Record.AllHazards(), Read: c.Record.Len(), Damaged: c.Damaged, Entry: *observedOf(o, c.Record, faults)}
	for _, a := range condition.Areas() {
		x := areaView{Name: a, Href: v.Path + "/condition?area=" + a, PhotosHref: v.Path + "/photos?area=" + a, Hazards: c.Record.Hazards(a)}
		for _, e := range c.Record.Of(a) {
			x.Seen = append(x.Seen, observationLine{e, present.ConditionCautions(e.Observation)})
		}
		for _, p := range c.Photos[a] {
			x.Shots = append(x.Shots, shotOf(p))
		}
		if len(x.Seen)+len(x.Shots) > 0 {
			v.Areas = append(v.Areas, x)
		}
	}
	return v
}

// conditionIn loads the state of the clock that the address names.
func (s *Server) conditionIn(r *http.Request) (shop.Condition, error) {
	id, err := strconv.ParseInt(r.PathValue("id"), 10, 64)
	if err != nil {
		return shop.Condition{}, errNoPage
	}
	return s.Shop.Condition(r.Context(), id)
}

// condition shows the state, with the form for the area in the address.
func (s *Server) condition(w http.ResponseWriter, r *http.Request) error {
	c, err := s.conditionIn(r)
	if err != nil {
		return err
	}
	area, ok := condition.FindArea(r.URL.Query().Get("area"))
	if !ok {
		area = nextArea(c.Record, "")
	}
	return s.renderCondition(w, r, http.StatusOK, conditionOf(c, condition.Observation{Area: area, Day: s.Shop.Now().Format(time.DateOnly)}, nil), nil)
}

func (s *Server) renderCondition(w http.ResponseWriter, r *http.Request, status int, v *conditionView, faults meas.Faults) error {
	return s.render(w, r, status, "condition", frame{Title: v.title("Condition"), Place: "clocks", Faults: faults, View: v})
}

// nextArea is the first area behind another that was not looked at, or the
// first of all.
func nextArea(r condition.Record, after string) string {
	all := condition.Areas()
	i := slices.Index(all, after) + 1
	for _, a := range slices.Concat(all[i:], all[:i]) {
		if len(r.Of(a)) == 0 {
			return a
		}
	}
	return all[0]
}

// observe keeps an observation and asks for the next area.
func (s *Server) observe(w http.ResponseWriter, r *http.Request) error {
	c, err := s.conditionIn(r)
	if err != nil {
		return err
	}
	o := observationOf(r.PostForm)
	read, err := strconv.Atoi(r.PostForm.Get("read"))
	if err != nil {
		read = c.Record.Len() // it was sent without what was shown, so nothing can be compared
	}
	err = s.Shop.Observe(r.Context(), s.by(r), c.Clock.ID, read, o)
	if err == nil {
		return doneAt(w, r, clockPath(c.Clock.ID)+"/condition?area="+nextArea(c.Record, o.Area), "saved")
	}
	p := shop.AsProblem(err)
	if p.Code != shop.Conflict && len(p.Fields) == 0 {
		return err
	}
	if c, err = s.conditionIn(r); err != nil { // with what was written meanwhile
		return err
	}
	v := conditionOf(c, o, p.Fields)
	v.Differ = p.Differ
	if p.Code == shop.Conflict {
		v.Told = p.Message + " " + p.Hint
	}
	return s.renderCondition(w, r, statuses[p.Code], v, p.Fields)
}

// undoObservation takes an observation back.
func (s *Server) undoObservation(w http.ResponseWriter, r *http.Request) error {
	c, err := s.conditionIn(r)
	if err != nil {
		return err
	}
	n, err := strconv.Atoi(r.PostForm.Get("n"))
	if err != nil {
		return errNoPage
	}
	if err := s.Shop.UndoObservation(r.Context(), s.by(r), c.Clock.ID, n); err != nil {
		return err
	}
	return done(w, r, clockPath(c.Clock.ID)+"/condition", "undone")
}

// conditionPDF sends the state to print.
func (s *Server) conditionPDF(w http.ResponseWriter, r *http.Request) error {
	c, err := s.conditionIn(r)
	if err != nil {
		return err
	}
	return s.sendPDF(w, r, "condition-"+c.Clock.Number, present.Condition(c.Clock.Number, c.Record, c.Photos), shop.Foot(c.Clock))
}
