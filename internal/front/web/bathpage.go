package web

import (
	"encoding/json"
	"html/template"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"seatboard/internal/book/bath"
	"seatboard/internal/craft/clean"
	"seatboard/internal/paper/html"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// bathView is one batch: what is left of its time, and what is to be ticked.
type bathView struct {
	head
	Bath    *shop.Bath
	At      string // address of the page
	Left    string
	Todo    []stepLine
	Next    clean.Step
	ToClose bool // all is ticked
	CanBack bool
	Typed   url.Values
	Wrong   *shop.Problem // what else is wrong
	SeenErr string
	MinErr  string
	WhyErr  string
	Trouble string // why the computer could not ring
	Answer  template.HTML
}

// stepLine is a step with when it was done.
type stepLine struct {
	clean.Step
	Done, Who, Seen string
	Now             bool
}

// Milliseconds is what is left, for script to count on from.
func (v bathView) Milliseconds() int64 { return v.Bath.Remains.Milliseconds() }

func (s *Server) bath(w http.ResponseWriter, r *http.Request) error {
	b, err := s.Shop.Bath(r.Context(), r.PathValue("bath"))
	if err != nil {
		return err
	}
	return s.renderBath(w, r, http.StatusOK, b, nil)
}

func (s *Server) renderBath(w http.ResponseWriter, r *http.Request, status int, b shop.Bath, wrong *shop.Problem) error {
	v := bathView{head: headOf(b.Clock, "baths"), Bath: &b, At: "/baths/" + b.ID, Left: shop.Minutes(b.Remains), Wrong: wrong, Typed: r.PostForm, Trouble: s.Shop.AlarmTrouble()}
	f := frame{Title: v.title("Bath"), Place: "clocks"}
	if wrong != nil {
		f.Faults = wrong.Fields
		v.SeenErr, v.MinErr, v.WhyErr = faultOf(f.Faults, "seen"), faultOf(f.Faults, "minutes"), faultOf(f.Faults, "why")
	}
	step, open := b.Next()
	v.Next, v.ToClose = step, !open && !b.Ended()
	_, v.CanBack = shop.Undoable(b)
	for i, x := range clean.Steps() {
		l := stepLine{Step: x, Now: open && x.Key == step.Key}
		if i < len(b.Ticks) {
			t := b.Ticks[i]
			l.Done, l.Who, l.Seen = t.At.Local().Format("15:04"), t.Who, t.Seen
		}
		v.Todo = append(v.Todo, l)
	}
	if b.InLiquid() {
		f.Again = 10
	}
	if a, err := clean.Solve(b.Asked); err == nil {
		v.Answer = html.Render(present.Clean(a), html.Options{ID: "a", Level: 3})
	}
	f.View = v
	return s.render(w, r, status, "bath", f)
}

// bathDeeds are the things that can be done with a batch, by the word of the
// button.
var bathDeeds = map[string]bath.Kind{"tick": bath.Ticked, "longer": bath.Moved, "close": bath.Closed, "give-up": bath.Abandoned, "back": bath.Undone}

// changeBath does what a button of the batch's page says.
func (s *Server) changeBath(w http.ResponseWriter, r *http.Request) error {
	id, typed := r.PathValue("bath"), r.PostForm
	if typed.Get("do") == "hush" {
		if err := s.Shop.HushBath(r.Context(), id); err != nil {
			return err
		}
		return done(w, r, "/baths/"+id, "hushed")
	}
	kind, ok := bathDeeds[typed.Get("do")]
	if !ok {
		return errNoPage
	}
	change := shop.BathChange{Kind: kind, Step: typed.Get("step"), Words: strings.TrimSpace(typed.Get(bathWords(kind)))}
	change.Seen, _ = strconv.Atoi(typed.Get("version")) // 0 conflicts, and the batch is shown as it stands
	var err error
	if kind == bath.Moved {
		change.In, err = shop.BathMinutes(typed.Get("minutes"))
	}
	if err == nil {
		_, err = s.Shop.ChangeBath(r.Context(), s.by(r), id, change)
	}
	if err == nil {
		return done(w, r, "/baths/"+id, "ticked")
	}
	p := shop.AsProblem(err)
	if p.Code != shop.Conflict && len(p.Fields) == 0 {
		return err
	}
	b, lost := s.Shop.Bath(r.Context(), id)
	if lost != nil {
		return lost
	}
	return s.renderBath(w, r, statuses[p.Code], b, p)
}

// bathWords is the field in which a deed's words are typed.
func bathWords(kind bath.Kind) string {
	switch kind {
	case bath.Ticked:
		return "seen"
	case bath.Moved:
		return "longer-why"
	}
	return "why"
}

// bathLine is a batch under way, as every page shows it.
type bathLine struct {
	ID    string `json:"id"`
	Name  string `json:"name"`
	Words string `json:"words"` // what is left, or what comes next
	In    bool   `json:"in"`    // it is in the liquid: Left counts down
	Left  int64  `json:"left"`  // ms
	Rings bool   `json:"rings"`
}

func (s *Server) bathLines(r *http.Request) ([]bathLine, error) {
	running, err := s.Shop.RunningBaths(r.Context())
	out := []bathLine{}
	for _, b := range running {
		l := bathLine{ID: b.ID, Name: strings.TrimSpace(b.Clock.Number + " " + b.Jar), Words: shop.Minutes(b.Remains), In: b.InLiquid(), Left: b.Remains.Milliseconds(), Rings: b.Ringing}
		if b.Damaged != "" {
			l.In, l.Words = false, "its log is damaged: look at the jar now"
		} else if !l.In {
			l.Words = "to be closed"
			if step, ok := b.Next(); ok {
				l.Words = "next: " + strings.ToLower(step.Name)
			}
		}
		out = append(out, l)
	}
	return out, err
}

// alarmNow tells a page what is under way.
func (s *Server) alarmNow(w http.ResponseWriter, r *http.Request) error {
	lines, err := s.bathLines(r)
	if err != nil && len(lines) == 0 {
		return err // else what was known last goes on
	}
	w.Header().Set("Content-Type", "application/json")
	return json.NewEncoder(w).Encode(map[string]any{"baths": lines, "trouble": s.Shop.AlarmTrouble()})
}

// testAlarm rings the shop's computer once.
func (s *Server) testAlarm(w http.ResponseWriter, r *http.Request) error {
	if err := s.Shop.TestAlarm(r.Context()); err != nil {
		return err
	}
	return done(w, r, "/", "rung")
}
