package web

import (
	"context"
	"errors"
	"fmt"
	"math"
	"net/http"
	"net/url"
	"strconv"
	"time"

	"seatboard/internal/book/readings"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/front/form"
	"seatboard/internal/io/hostclock"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/shop"
)

// recordersView is the page of what is known of the recorders' own clocks.
type recordersView struct {
	Recorders []recorderLine
	Host      hostclock.Status // of this computer's clock
	Asked     []string         // what a time server's last answer means
	When      string           // of it
	Server    string           // proposed, or as typed
	State     []fieldView
	Wrong     *shop.Problem
}

// recorderLine is one recorder.
type recorderLine struct {
	shop.Recorder
	Name  string
	Stand []string // what is known of it, in sentences
	Runs  []comparing
	Past  []pastLine
	Warm  fieldView // how warm it is while it is compared
}

// pastLine is what was kept of a recorder before.
type pastLine struct {
	N                          int // from the last, which is 0
	On, Error, Length, How, By string
	Usable                     bool
}

// comparing is a run that compares the clock of its recorder meanwhile.
type comparing struct{ At, Words string }

const recordersPath = "/listen/recorders"

func (s *Server) recorders(w http.ResponseWriter, r *http.Request) error {
	return s.recordersPage(w, r, http.StatusOK, nil, nil, nil)
}

func (s *Server) recordersPage(w http.ResponseWriter, r *http.Request, status int, typed url.Values, faults meas.Faults, wrong *shop.Problem) error {
	all, err := s.Shop.Recorders(r.Context())
	if err != nil {
		return err
	}
	v := recordersView{Host: hostclock.Disciplined(r.Context()), Server: shop.TimeServer, Wrong: wrong}
	if typed.Has("server") {
		v.Server = typed.Get("server")
	}
	if a, ok := s.Shop.LastAsked(r.Context()); ok {
		v.Asked, v.When = a.Means, a.Offset.When.Local().Format("15:04")
	}
	names := ownNames(r.Context())
	f := frame{Title: "Recorders", Place: "listen", Faults: faults}
	for _, x := range all {
		l := recorderLine{Recorder: x, Name: x.Device, Stand: standing(x)}
		if n := names[x.Device]; n != "" {
			l.Name = n + ", of this computer"
		}
		for _, st := range x.Runs {
			l.Runs = append(l.Runs, comparing{jobPath(st.ID), compareWords(st)})
			f.Again = 5
		}
		var q warmly
		l.Warm = fieldOf(q.form().Fields()[0], typed, faults)
		l.Past = pastOf(x)
		v.Recorders = append(v.Recorders, l)
	}
	var q stated
	for _, x := range q.form().Fields() {
		v.State = append(v.State, fieldOf(x, typed, faults))
	}
	f.View = v
	return s.render(w, r, status, "recorders", f)
}

// ownNames are the names of this computer's microphones by their keys.
func ownNames(ctx context.Context) map[string]string {
	out := map[string]string{}
	for _, d := range ownMicrophones(ctx).Devices {
		out[d.ID] = d.Name
	}
	return out
}

// standing says what is known of a recorder's clock.
func standing(x shop.Recorder) []string {
	c := x.Kept.Clock
	on := x.Kept.When.Local().Format("2 January 2006")
	var out []string
	switch c.How {
	case sampleclock.Calibrated:
		out = append(out, "Its clock runs "+errorWords(c)+".",
			"Compared on "+on+" for "+lasting(x.Kept.Length)+" with this computer’s clock, "+against(x.Kept)+"."+byWhom(x.Kept.By))
	case sampleclock.Stated:
		out = append(out, "Its clock runs "+errorWords(c)+", as was stated on "+on+"."+byWhom(x.Kept.By))
	default:
		if !x.Kept.When.IsZero() {
			out = append(out, "On "+on+" it was decided to use nothing of what was known of it."+byWhom(x.Kept.By))
		}
		return append(out, uncompared)
	}
	if c.How == sampleclock.Calibrated && x.Used.Limit > c.Limit {
		out = append(out, "What is heard with it is reckoned with "+errorWords(x.Used)+": on another day it is warmer or colder, which is allowed 1 ppm.")
	}
	if x.Old() {
		out = append(out, fmt.Sprintf("That was %.0f months ago. Crystals age: compare it again.", x.Age.Hours()/24/30.4))
	}
	return out
}

// against says what kept the computer's clock right during a comparison, and
// how warm it was.
func against(c readings.Calibration) string {
	s := "which was kept right"
	if c.Against != "" {
		s += " by " + c.Against
	}
	if c.Warm.Set {
		s += ", at " + c.Warm.String()
	}
	return s
}

// pastOf are the lines of what was kept before.
func pastOf(x shop.Recorder) []pastLine {
	var out []pastLine
	for i, c := range x.Before {
		l := pastLine{N: i + 1, On: c.When.Local().Format("2 January 2006, 15:04"), By: c.By, Length: "–"}
		switch c.Clock.How {
		case sampleclock.Calibrated:
			l.Error, l.Length, l.How, l.Usable = errorWords(c.Clock), lasting(c.Length), "compared with a clock "+against(c), true
		case sampleclock.Stated:
			l.Error, l.How, l.Usable = errorWords(c.Clock), "stated", true
		default:
			l.Error, l.How = "within 50 ppm", "use nothing of it"
		}
		out = append(out, l)
	}
	return out
}

// useCompared lets an earlier comparison count again.
func (s *Server) useCompared(w http.ResponseWriter, r *http.Request) error {
	n, err := strconv.Atoi(r.PostForm.Get("n"))
	if err != nil {
		n = -1
	}
	if err := s.Shop.UseCalibration(r.Context(), s.by(r), r.PostForm.Get("device"), n); err != nil {
		return s.recordersProblem(w, r, err)
	}
	return done(w, r, recordersPath, "saved")
}

// warmly is the warmth of the room as typed.
type warmly struct {
	room meas.Reading[unit.Temperature]
}

func (x *warmly) form() form.Form {
	return form.Form{Name: "warmth", Groups: []form.Group{{Fields: []form.Field{
		form.Quantity("temperature", "How warm it is", "°C", &x.room).Hinted("If known: a crystal changes with its warmth"),
	}}}}
}

const uncompared = "Its clock was never compared: it may be fast or slow by 50 ppm, which alone makes every rate heard with it uncertain by ± 4.3 s a day, however long is listened. Beat error and the evenness of the beats do not depend on it."

func byWhom(by string) string {
	if by == "" {
		return ""
	}
	return " By " + by + "."
}

// errorWords is "fast by 12.3 ± 0.5 ppm (1.06 ± 0.04 s a day)".
func errorWords(c sampleclock.Clock) string {
	e := unit.Rate(math.Abs(float64(c.Error)))
	size := func(symbol string) string {
		v, u, n := meas.Rounded(e, c.Limit, symbol)
		return unit.Number(v, n) + "\u00a0±\u00a0" + unit.Number(u, n)
	}
	words := size("ppm") + "\u00a0ppm (" + size("s/d") + "\u00a0s a day)"
	switch {
	case e <= c.Limit:
		return "true within the doubt: " + words
	case c.Error < 0:
		return "slow by " + words
	}
	return "fast by " + words
}

// compareWords says how far the comparison of a run's recorder is.
func compareWords(st shop.LiveState) string {
	f, c := st.Fit, st.Recorder
	far := "The microphone’s own clock is being compared with this computer’s"
	if f.Length > 0 {
		far = "The microphone’s own clock was compared with this computer’s for " + lasting(f.Length)
	}
	switch {
	case f.Length == 0:
		return far + "; a first figure comes after a minute or two."
	case c.How == sampleclock.Calibrated:
		return far + ": " + errorWords(c) + ". The longer, the narrower: two minutes tell ± 10 ppm or so, an hour ± 0.5."
	case c.How == sampleclock.Compared && st.Host == sampleclock.Undisciplined:
		return far + ", but nothing is known to keep this computer’s clock right: that is worth no more than ± 50 ppm."
	case c.How == sampleclock.Compared:
		return far + ": it does not make the samples a second that it states."
	}
	return far + ": nothing better than ± 50 ppm yet."
}

// keepCompared keeps what a run has found of its recorder's clock.
func (s *Server) keepCompared(w http.ResponseWriter, r *http.Request) error {
	var x warmly
	if faults := x.form().Fill(r.PostForm); len(faults) > 0 {
		return s.recordersPage(w, r, http.StatusUnprocessableEntity, r.PostForm, faults, nil)
	}
	if _, err := s.Shop.CalibrateLive(r.Context(), s.by(r), r.PathValue("job"), x.room); err != nil {
		return s.recordersProblem(w, r, err)
	}
	return done(w, r, recordersPath, "compared")
}

func (s *Server) recordersProblem(w http.ResponseWriter, r *http.Request, err error) error {
	p := shop.AsProblem(err)
	if p.Code == shop.Internal {
		return err
	}
	if len(p.Fields) > 0 {
		return s.recordersPage(w, r, statuses[p.Code], r.PostForm, p.Fields, nil)
	}
	return s.recordersPage(w, r, statuses[p.Code], r.PostForm, nil, p)
}

// stated is an error of a recorder's clock as typed.
type stated struct {
	device string
	clock  meas.Reading[unit.Rate]
}

func (x *stated) form() form.Form {
	return form.Form{Name: "recorder", Groups: []form.Group{{Fields: []form.Field{
		form.Text("device", "Recorder", &x.device).Hinted("Its name as it stands with what was heard").Sized(32),
		form.Quantity("error", "Error of its clock", "ppm", &x.clock).Hinted("Positive where it runs fast, with its limit: 12 ± 3"),
	}}}}
}

// stateRecorder keeps an error that was measured otherwise.
func (s *Server) stateRecorder(w http.ResponseWriter, r *http.Request) error {
	var x stated
	faults := x.form().Fill(r.PostForm)
	if len(faults) == 0 && !(x.clock.Set && x.clock.U > 0) {
		faults = append(faults, meas.Fault{Field: "error", Text: "Say how well it is known, as in 12 ± 3 ppm"})
	}
	if len(faults) > 0 {
		return s.recordersPage(w, r, http.StatusUnprocessableEntity, r.PostForm, faults, nil)
	}
	_, err := s.Shop.StateRecorder(r.Context(), s.by(r), x.device, sampleclock.Clock{Error: x.clock.Value, Limit: x.clock.U})
	if err != nil {
		return s.recordersProblem(w, r, err)
	}
	return done(w, r, recordersPath, "saved")
}

// forgetRecorder lets nothing be known of a recorder's clock.
func (s *Server) forgetRecorder(w http.ResponseWriter, r *http.Request) error {
	if err := s.Shop.ForgetRecorder(r.Context(), s.by(r), r.PostForm.Get("device")); err != nil {
		return s.recordersProblem(w, r, err)
	}
	return done(w, r, recordersPath, "saved")
}

// askTime asks a time server once: only because the button was pressed.
func (s *Server) askTime(w http.ResponseWriter, r *http.Request) error {
	ctx, cancel := context.WithTimeout(r.Context(), 10*time.Second)
	defer cancel()
	if _, err := s.Shop.AskTime(ctx, r.PostForm.Get("server")); err != nil {
		var p *shop.Problem
		if errors.As(err, &p) && p.Code == shop.NotFound { // it is the server that was not found, not a page
			return s.recordersPage(w, r, http.StatusBadGateway, r.PostForm, nil, p)
		}
		return s.recordersProblem(w, r, err)
	}
	http.Redirect(w, r, recordersPath+"#asked", http.StatusSeeOther)
	return nil
}
