package web

import (
	"context"
	"html/template"
	"net/http"
	"slices"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/readings"
	"seatboard/internal/craft/listen"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/html"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// heard is something listened to as it stands: a recording, a live run, or a
// live run that was cut off.
type heard struct {
	ID      string
	Query   shop.ListenQuery
	Running bool
	Live    bool
	Answer  *listen.Answer // nil while there is none
	Problem *shop.Problem  // why there is no answer
	Sound   bool           // the sound can be kept with it
	Wanted  bool           // somebody said beforehand that it is to be kept
	Size    string         // of the sound that came live
	Kept    int64          // the listening in a clock's file, 0 for none
	Now     now
}

// At is the address of its page.
func (h heard) At() string { return jobPath(h.ID) }

// Name is what it is called in a list.
func (h heard) Name() string {
	if h.Query.Source == "" {
		return "A run without a name"
	}
	return h.Query.Source
}

// heardBy finds what the address names.
func (s *Server) heardBy(r *http.Request) (heard, error) {
	id := r.PathValue("job")
	j, err := s.Shop.Job(id)
	if err == nil {
		return ofJob(j), nil
	}
	if l, lerr := s.Shop.Live(id); lerr == nil {
		if !l.State().Running {
			_ = l.Close() // it never fails; it waits until all is worked out
		}
		return ofLive(l.State()), nil
	}
	cut, lerr := s.Shop.Unfinished(r.Context())
	if lerr != nil {
		return heard{}, lerr
	}
	for _, l := range cut {
		if l.UID != id {
			continue
		}
		if l, lerr = s.Shop.Listening(r.Context(), l.ID); lerr != nil {
			return heard{}, lerr
		}
		return ofRecord(l), nil
	}
	return heard{}, err
}

func ofJob(j shop.ListenJob) heard {
	return heard{ID: j.ID, Query: j.Query, Running: !j.State.Ended(), Answer: j.Answer, Problem: j.Problem, Sound: j.Sound, Kept: j.Kept, Now: nowOfJob(j)}
}

func ofLive(st shop.LiveState) heard {
	st.Query.Started = st.Began
	return heard{ID: st.ID, Query: st.Query, Running: st.Running, Live: true, Answer: st.Answer, Sound: st.Sound.Ready, Wanted: st.Sound.Asked, Size: megabytes(st.Sound.Bytes), Kept: st.Kept, Now: nowOfLive(st)}
}

func ofRecord(l readings.Listening) heard {
	h := heard{ID: l.UID, Live: true, Query: shop.ListenQuery{Clock: l.ClockID, Source: l.Source, Path: l.Path, Started: l.Started}}
	if a, ok := answerOf(l); ok {
		h.Answer = &a
	}
	return h
}

// heardView is the page of something heard.
type heardView struct {
	heard
	Ribbon  template.HTML // while it runs
	Said    template.HTML // when it is done
	Where   string        // it is kept
	Noticed []noticeLine  // beside the sound
	Fields  []fieldView   // of the form that keeps it
	Clocks  []job.Summary
	Script  string
	Zoom    string // script of the picture of every beat
}

// heardPage shows something heard: how far it is, or what it says.
func (s *Server) heardPage(w http.ResponseWriter, r *http.Request) error {
	h, err := s.heardBy(r)
	if err != nil {
		return err
	}
	return s.renderHeard(w, r, http.StatusOK, h, nil, nil)
}

func (s *Server) renderHeard(w http.ResponseWriter, r *http.Request, status int, h heard, typed map[string][]string, faults meas.Faults) error {
	v := heardView{heard: h, Script: s.assets.url("listen.js"), Zoom: s.assets.url("zoom.js")}
	f := frame{Title: "What was heard", Place: "listen", Faults: faults}
	switch {
	case h.Running:
		f.Title, f.Again = "Listening", 2
		v.Ribbon = ribbon(h.Answer)
	case h.Answer != nil:
		v.Noticed = noticeLines(readings.Listening{Path: h.Query.Path, Started: h.Query.Started}, h.Answer.Hearing.Marks)
		v.Said = html.Render(present.Listen(*h.Answer), html.Options{ID: "a", Links: figureLinks(h.At(), "")})
		l, err := s.Shop.Find(r.Context(), "", "")
		if err != nil {
			return err
		}
		v.Clocks = l.Clocks
	}
	if h.Kept != 0 {
		l, err := s.Shop.Listening(r.Context(), h.Kept)
		if err != nil {
			return err
		}
		v.Where = keptPath(l.ClockID, l.ID)
	}
	if typed == nil && h.Query.Clock != 0 {
		if c, err := s.Shop.File(r.Context(), h.Query.Clock); err == nil {
			typed = map[string][]string{"clock": {c.Clock.Number}}
		}
	}
	var k keeping
	for _, x := range k.form().Fields() {
		v.Fields = append(v.Fields, fieldOf(x, typed, faults))
	}
	v.Fields = proposing(v.Fields)
	f.View = v
	return s.render(w, r, status, "heard", f)
}

// ribbon draws the beats so far, nothing where there is nothing to draw.
func ribbon(a *listen.Answer) template.HTML {
	if a == nil {
		return ""
	}
	d := present.Listen(*a)
	for _, f := range d.Figures() {
		if f.Name == "every-beat" {
			return html.Render(doc.Doc{Sections: []doc.Section{{Body: []doc.Block{f}}}}, html.Options{ID: "r"})
		}
	}
	return ""
}

// ribbonOf sends the drawing alone, for script to put in its place.
func (s *Server) ribbonOf(w http.ResponseWriter, r *http.Request) error {
	h, err := s.heardBy(r)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_, err = w.Write([]byte(ribbon(h.Answer)))
	return err
}

// followHeard sends how far a listening is until it has ended.
func (s *Server) followHeard(w http.ResponseWriter, r *http.Request) error {
	if _, err := s.heardBy(r); err != nil {
		return err
	}
	s.follow(w, r, func() (event any, last, ok bool) {
		h, err := s.heardBy(r)
		return h.Now, !h.Running, err == nil // else it was thrown away meanwhile
	})
	return nil
}

// stopHeard ends a listening; what was heard until then is answered.
func (s *Server) stopHeard(w http.ResponseWriter, r *http.Request) error {
	h, err := s.heardBy(r)
	if err != nil {
		return err
	}
	if err := s.stop(r.Context(), h); err != nil {
		return err
	}
	http.Redirect(w, r, h.At(), http.StatusSeeOther)
	return nil
}

func (s *Server) stop(ctx context.Context, h heard) error {
	switch {
	case !h.Running:
		return nil
	case h.Live:
		l, err := s.Shop.Live(h.ID)
		if err != nil {
			return err
		}
		return l.Close()
	}
	if err := s.Shop.StopJob(h.ID); err != nil {
		return err
	}
	ctx, cancel := context.WithTimeout(ctx, 5*time.Second)
	defer cancel()
	_, err := s.Shop.WaitJob(ctx, h.ID)
	return err
}

// throwHeard forgets what was heard.
func (s *Server) throwHeard(w http.ResponseWriter, r *http.Request) error {
	if err := s.Shop.ThrowAway(r.Context(), s.by(r), r.PathValue("job")); err != nil {
		return err
	}
	return done(w, r, "/listen", "thrown")
}

// lately lists what is listened to now, what was lately, and what was cut
// off and waits to be kept or thrown away.
func (s *Server) lately(ctx context.Context) ([]heard, error) {
	var out []heard
	for _, l := range s.Shop.Lives() {
		out = append(out, ofLive(l))
	}
	for _, j := range s.Shop.Jobs() {
		out = append(out, ofJob(j))
	}
	cut, err := s.Shop.Unfinished(ctx)
	for _, l := range cut {
		if !slices.ContainsFunc(out, func(h heard) bool { return h.ID == l.UID }) {
			out = append(out, ofRecord(l))
		}
	}
	return slices.DeleteFunc(out, func(h heard) bool { return h.Kept != 0 }), err
}
