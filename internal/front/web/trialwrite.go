package web

import (
	"cmp"
	"encoding/json"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"seatboard/internal/book/trial"
	"seatboard/internal/kit/meas"
	"seatboard/internal/shop"
)

// timeNow tells a page the time of day, so that it can show it as it runs.
func (s *Server) timeNow(w http.ResponseWriter, _ *http.Request) error {
	now := s.Shop.Now()
	_, offset := now.Zone()
	w.Header().Set("Content-Type", "application/json")
	return json.NewEncoder(w).Encode(map[string]int64{"now": now.UnixMilli(), "offset": int64(offset)})
}

// changeTrial does what a button of the page says.
func (s *Server) changeTrial(w http.ResponseWriter, r *http.Request) error {
	came := s.Shop.Now()
	f, err := s.file(r)
	if err != nil {
		return err
	}
	form := r.PostForm
	read, err := strconv.Atoi(form.Get("read"))
	if err != nil || read < 0 {
		read = 0 // it has seen nothing
	}
	switch do := form.Get("do"); do {
	case "", "read": // Enter presses no button in some browsers
		_, err = s.Shop.ReadTrial(r.Context(), s.by(r), f.Clock.ID, read, lookAsked(form, came))
	case "back":
		n, wrong := strconv.Atoi(form.Get("n"))
		if wrong != nil {
			return errNoPage
		}
		_, err = s.Shop.AddTrial(r.Context(), s.by(r), f.Clock.ID, read, trial.Undo(n))
	case "winding", "winding-never":
		err = s.Shop.WindTrial(r.Context(), s.by(r), f.Clock.ID, read, shop.WindAsk{Wound: typed(form["wound"]), Goes: typed(form["goes"]), Never: do == "winding-never"})
	case "home-now":
		err = s.Shop.SetForHome(r.Context(), s.by(r), f.Clock.ID, read, trial.FromNow)
	case "home-never":
		err = s.Shop.SetForHome(r.Context(), s.by(r), f.Clock.ID, read, trial.NotAtAll)
	case "answer":
		_, err = s.Shop.AnswerTrial(r.Context(), s.by(r), f.Clock.ID, read, answerAsked(form))
	default:
		what, ok := touchAsked(do, form)
		if !ok {
			return errNoPage
		}
		ask := shop.TouchAsk{What: what, At: typed(form["touch-at"]), Words: typed(form["words"]), Moment: came}
		if do == "worked" {
			ask.Words = "" // they are what was done
		}
		_, err = s.Shop.TouchTrial(r.Context(), s.by(r), f.Clock.ID, read, ask)
		err = besideTyped(err, do)
	}
	if err == nil {
		what, ok := map[string]string{"back": "undone", "home-now": "saved", "home-never": "saved", "winding": "saved", "winding-never": "saved"}[form.Get("do")]
		if !ok {
			what = "looked"
		}
		return done(w, r, clockPath(f.Clock.ID)+"/trial", what)
	}
	p := shop.AsProblem(err)
	if p.Code != shop.Conflict && len(p.Fields) == 0 {
		return err
	}
	return s.renderTrial(w, r, statuses[p.Code], form, p)
}

// lookAsked is a look as it was typed: at the moment at which the form came,
// less how long ago its script says that the clock was looked at.
func lookAsked(form url.Values, came time.Time) shop.TrialAsk {
	ask := shop.TrialAsk{Seen: typed(form["seen"]), At: typed(form["at"]), Moment: came, Shown: form.Get("shown") == "yes"}
	ask.Air = shop.AirAsk{Temperature: typed(form["temperature"]), Pressure: typed(form["pressure"]), Humidity: typed(form["humidity"]), Arc: typed(form["arc"]), Weight: typed(form["weight"])}
	if age, err := strconv.Atoi(form.Get("age")); err == nil && age > 0 && age < oldestLook {
		ask.Moment = came.Add(-time.Duration(age) * time.Millisecond)
	}
	return ask
}

// oldestLook is from when on the age of a look is not taken from a page, in ms.
const oldestLook = 3600_000

// touchAsked is what a button of the touch form says in words; false for a
// button that there is not.
func touchAsked(do string, form url.Values) (string, bool) {
	after := typed(form["after"])
	if words, ok := strings.CutPrefix(do, advised+"nut "); ok {
		return "nut " + words, true
	}
	switch do {
	case "nut-up":
		return "nut up " + typed(form["nut"]), true
	case "nut-down":
		return "nut down " + typed(form["nut"]), true
	case "tray-on":
		return "tray on " + typed(form["tray"]), true
	case "tray-off":
		return "tray off " + typed(form["tray"]), true
	case "set", "started":
		return strings.TrimSpace(do + " " + after), true
	case "worked":
		return "worked " + typed(form["words"]), true
	}
	for _, h := range handTouches {
		if h.Value == do {
			return do, true
		}
	}
	return "", false
}

// besideTyped names the field of the page that a mistake stands beside.
func besideTyped(err error, do string) error {
	if err == nil {
		return nil
	}
	p := *shop.AsProblem(err)
	fields := map[string]string{"nut-up": "nut", "nut-down": "nut", "tray-on": "tray", "tray-off": "tray", "set": "after", "started": "after", "worked": "words"}
	own := meas.Faults{}
	for _, f := range p.Fields {
		if f.Field == "at" {
			f.Field = "touch-at"
		} else {
			f.Field = cmp.Or(fields[do], "words")
		}
		own = append(own, f)
	}
	p.Fields = own
	return &p
}
