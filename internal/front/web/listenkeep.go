package web

import (
	"errors"
	"html/template"
	"io"
	"net/http"
	"strconv"

	"seatboard/internal/book/readings"
	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/front/form"
	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/csv"
	"seatboard/internal/paper/html"
	"seatboard/internal/paper/jsonout"
	"seatboard/internal/paper/present"
	"seatboard/internal/shop"
)

// keeping is how something heard is kept.
type keeping struct {
	number string
	shop.Keep
}

func (k *keeping) form() form.Form {
	return form.Form{Name: "keep", Groups: []form.Group{{Fields: []form.Field{
		form.Text("clock", "Clock", &k.number).Hinted("Its number in the shop").Sized(14),
		form.Text("note", "Note", &k.Note).Hinted("What was done before, where it stands").Sized(40),
	}}}}
}

// proposing lets the field of the clock propose numbers.
func proposing(fields []fieldView) []fieldView {
	for i := range fields {
		if fields[i].Name == "clock" {
			fields[i].List = "clock-numbers"
		}
	}
	return fields
}

// keepHeard puts something heard into a clock's file.
func (s *Server) keepHeard(w http.ResponseWriter, r *http.Request) error {
	h, err := s.heardBy(r)
	if err != nil {
		return err
	}
	var k keeping
	faults := k.form().Fill(r.PostForm)
	if len(faults) == 0 && k.number == "" {
		faults = meas.Faults{{Field: "clock", Text: "Enter the number of the clock"}}
	}
	if len(faults) == 0 {
		k.Clock, err = s.numbered(r.Context(), k.number)
		if err != nil && !errors.As(err, &faults) {
			return err
		}
	}
	if len(faults) > 0 {
		return s.renderHeard(w, r, http.StatusUnprocessableEntity, h, r.PostForm, faults)
	}
	k.Sound = r.PostForm.Get("sound") == "yes"
	l, err := s.Shop.KeepListening(r.Context(), s.by(r), h.ID, k.Keep)
	if err != nil {
		return err
	}
	return done(w, r, keptPath(l.ClockID, l.ID), "kept")
}

func keptPath(clock, id int64) string {
	return clockPath(clock) + "/listening/" + strconv.FormatInt(id, 10)
}

// listeningsView is what was listened to of a clock.
type listeningsView struct {
	head
	Kept, Removed []keptLine
}

// keptLine is one of them in the list.
type keptLine struct {
	readings.Listening
	Href string
}

// When is when it was heard, or else kept.
func (l keptLine) When() string {
	at := l.Started
	if at.IsZero() {
		at = l.Saved
	}
	if at.IsZero() {
		return "at a time not known"
	}
	return at.Local().Format("2 January 2006, 15:04")
}

// Rate is the rate with its limits, or the beats an hour, or why neither.
func (l keptLine) Rate() string {
	switch {
	case l.Gist.Mean.Set:
		return l.Gist.Mean.Text("s/d")
	case l.Gist.PerHour.Set:
		return l.Gist.PerHour.Text("") + " beats an hour"
	}
	return string(l.Verdict)
}

// Way says by which way the sound came.
func (l keptLine) Way() string { return way(l.Path) }

// Lasting is how long was listened.
func (l keptLine) Lasting() string { return lasting(l.Length) }

// listenings lists what was kept of a clock.
func (s *Server) listenings(w http.ResponseWriter, r *http.Request) error {
	f, err := s.file(r)
	if err != nil {
		return err
	}
	all, err := s.Shop.Listenings(r.Context(), f.Clock.ID)
	if err != nil {
		return err
	}
	v := listeningsView{head: headOf(f.Clock, "listening")}
	for _, l := range all {
		line := keptLine{l, keptPath(f.Clock.ID, l.ID)}
		if l.Removed.IsZero() {
			v.Kept = append(v.Kept, line)
		} else {
			v.Removed = append(v.Removed, line)
		}
	}
	return s.render(w, r, http.StatusOK, "listenings", frame{Title: v.title("Listening"), Place: "clocks", View: v})
}

// keptView is one of them.
type keptView struct {
	head
	keptLine
	Said    template.HTML
	Unread  bool // there is an answer that this program cannot read
	Again   bool // Said is worked out anew
	Differs bool // this program would answer otherwise
	Now     bool // and its answer can be shown
	Here    string
	Zoom    string       // script
	Noticed []noticeLine // beside the sound, while it was listened to
	OnTrial int          // the entry of the trial that it is; 0 for none
	Offered bool         // it can be one
}

// kept finds the listening that the address names, in the file of its clock.
func (s *Server) kept(r *http.Request) (shop.File, readings.Listening, error) {
	f, err := s.file(r)
	if err != nil {
		return f, readings.Listening{}, err
	}
	id, err := strconv.ParseInt(r.PathValue("listening"), 10, 64)
	if err != nil {
		return f, readings.Listening{}, errNoPage
	}
	l, err := s.Shop.Listening(r.Context(), id)
	if err == nil && l.ClockID != f.Clock.ID {
		err = errNoPage
	}
	return f, l, err
}

// keptPage shows what was heard.
func (s *Server) keptPage(w http.ResponseWriter, r *http.Request) error {
	f, l, err := s.kept(r)
	if err != nil {
		return err
	}
	v := keptView{head: headOf(f.Clock, "listening"), keptLine: keptLine{l, keptPath(f.Clock.ID, l.ID)}}
	v.Here, v.Zoom = shop.ThisProgram(), s.assets.url("zoom.js")
	if _, why := shop.EarReading(l); why == "" {
		t, err := s.Shop.Trial(r.Context(), f.Clock.ID)
		if err != nil {
			return err
		}
		v.OnTrial = t.Heard(l.UID)
		v.Offered = v.OnTrial == 0
	}
	switch a, told, again, err := keptAnswer(r, l); {
	case err == nil:
		v.Noticed = noticeLines(l, a.Hearing.Marks)
		query := ""
		if again {
			query = "again=yes"
		}
		v.Said = html.Render(present.Listen(a), html.Options{ID: "a", Level: 3, Links: figureLinks(v.Href, query)})
		v.Again, v.Differs, v.Now = again, told.Differs, len(told.Now.Hearing.Beats) > 0
	case !errors.Is(err, shop.ErrNoAnswer):
		v.Unread = true
	}
	return s.render(w, r, http.StatusOK, "listening", frame{Title: v.title("Listening, " + v.When()), Place: "clocks", View: v})
}

// useKept makes a kept listening a reading of its clock's trial.
func (s *Server) useKept(w http.ResponseWriter, r *http.Request) error {
	f, l, err := s.kept(r)
	if err != nil {
		return err
	}
	if _, err := s.Shop.ReadByEar(r.Context(), s.by(r), l.ID); err != nil {
		return err
	}
	return done(w, r, clockPath(f.Clock.ID)+"/trial", "looked")
}

// keptAnswer is the answer of a kept listening: as it was given then, or
// worked out anew where the address asks for that.
func keptAnswer(r *http.Request, l readings.Listening) (a listen.Answer, told shop.Told, again bool, err error) {
	if told, err = shop.Tell(l); err != nil {
		return a, told, false, err
	}
	if r.URL.Query().Get("again") == "yes" && told.Differs && len(told.Now.Hearing.Beats) > 0 {
		return told.Now, told, true, nil
	}
	return told.Then, told, false, nil
}

// answerOf is what the beats of a run that was cut off say: its own answer
// may be older than they are.
func answerOf(l readings.Listening) (listen.Answer, bool) {
	told, err := shop.Tell(l)
	return told.Now, err == nil && len(told.Now.Hearing.Beats) > 0
}

// removeKept marks a listening removed, or puts it back.
func (s *Server) removeKept(w http.ResponseWriter, r *http.Request) error {
	f, l, err := s.kept(r)
	if err != nil {
		return err
	}
	removed := r.PostForm.Get("removed") == "yes"
	if err := s.Shop.RemoveListening(r.Context(), s.by(r), l.ID, removed); err != nil {
		return err
	}
	what := "back"
	if removed {
		what = "removed"
	}
	return done(w, r, clockPath(f.Clock.ID)+"/listening", what)
}

// keptFile sends a figure, the answer, the beats or the sound.
func (s *Server) keptFile(w http.ResponseWriter, r *http.Request) error {
	f, l, err := s.kept(r)
	if err != nil {
		return err
	}
	file := r.PathValue("file")
	switch {
	case file == "sound":
		return s.sendSound(w, r, l)
	case file == "answer.json" && l.Answer != "" && r.URL.Query().Get("again") == "": // as it was given
		w.Header().Set("Content-Type", "application/json")
		w.Header().Set("Content-Disposition", attachment(file))
		_, err := io.WriteString(w, l.Answer)
		return err
	}
	a, _, _, err := keptAnswer(r, l)
	if err != nil && file == "beats.csv" {
		a, err = listen.Answer{Hearing: beat.Hearing{Beats: l.Beats}}, nil
	}
	if err != nil {
		return errNoPage
	}
	return s.sendHeard(w, r, a, file, shop.Foot(f.Clock))
}

// heardFile sends a figure, the answer or the beats of something heard.
func (s *Server) heardFile(w http.ResponseWriter, r *http.Request) error {
	h, err := s.heardBy(r)
	if err != nil {
		return err
	}
	if h.Answer == nil {
		return errNoPage
	}
	return s.sendHeard(w, r, *h.Answer, r.PathValue("file"), "")
}

func (s *Server) sendHeard(w http.ResponseWriter, r *http.Request, a listen.Answer, file, foot string) error {
	switch file {
	case "answer.json":
		w.Header().Set("Content-Type", "application/json")
		w.Header().Set("Content-Disposition", attachment(file))
		return jsonout.Write(w, a)
	case "beats.csv":
		w.Header().Set("Content-Type", "text/csv; charset=utf-8")
		w.Header().Set("Content-Disposition", attachment(file))
		return csv.Write(w, present.BeatsTable(a))
	}
	return s.sendFile(w, r, present.Listen(a), file, foot)
}
