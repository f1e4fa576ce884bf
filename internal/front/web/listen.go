package web

import (
	"context"
	"errors"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"path"
	"strings"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/readings"
	"seatboard/internal/craft/pendulum"
	"seatboard/internal/craft/train"
	"seatboard/internal/front/form"
	"seatboard/internal/kit/meas"
	"seatboard/internal/shop"
)

// listenView is the page that sound is brought to.
type listenView struct {
	Fields []fieldView
	Clocks []job.Summary // proposed
	Script string
	Module string // of the part that runs beside the sound
	Wrong  *shop.Problem

	Own    ownView
	Lately []heard
}

const maxSound = 2 << 30

// listenTo shows the three ways to listen.
func (s *Server) listenTo(w http.ResponseWriter, r *http.Request) error {
	return s.listenPage(w, r, http.StatusOK, r.URL.Query(), nil, nil)
}

// liveTo shows the page that listens by the browser's microphone.
func (s *Server) liveTo(w http.ResponseWriter, r *http.Request) error {
	v, err := s.listenView(r, r.URL.Query(), nil)
	if err != nil {
		return err
	}
	return s.render(w, r, http.StatusOK, "live", frame{Title: "Listen now", Place: "listen", View: v})
}

func (s *Server) listenPage(w http.ResponseWriter, r *http.Request, status int, values url.Values, faults meas.Faults, wrong *shop.Problem) error {
	v, err := s.listenView(r, values, faults)
	if err != nil {
		return err
	}
	v.Wrong = wrong
	v.Own = ownMicrophones(r.Context())
	if v.Lately, err = s.lately(r.Context()); err != nil {
		return err
	}
	return s.render(w, r, status, "listen", frame{Title: "Listen", Place: "listen", Faults: faults, View: v})
}

func (s *Server) listenView(r *http.Request, values url.Values, faults meas.Faults) (listenView, error) {
	var a asked
	v := listenView{Script: s.assets.url("listen.js"), Module: s.assets.url("capture.js")}
	for _, f := range a.form().Fields() {
		v.Fields = append(v.Fields, fieldOf(f, values, faults))
	}
	v.Fields = proposing(v.Fields)
	l, err := s.Shop.Find(r.Context(), "", "")
	v.Clocks = l.Clocks
	return v, err
}

// asked is what a person says of the clock that is heard.
type asked struct {
	number string
	shop.ListenQuery
}

func (a *asked) form() form.Form {
	return form.Form{Name: "listen", Groups: []form.Group{{Fields: []form.Field{
		form.Text("clock", "Clock", &a.number).Hinted("Its number in the shop; the train of its survey is used").Sized(14),
		form.Text("train", "Train", &a.Train).Hinted("Wheel counts, where no clock is named: 96/8 60/8 56/7 30").Sized(28),
		form.Quantity("beats", "Beats an hour", "", &a.BeatsPerHour).Hinted("Where the train is not known"),
	}}}}
}

// heardOf reads what is known of the clock, and fetches its survey. by is who
// listens.
func (s *Server) heardOf(ctx context.Context, by string, values map[string][]string) (shop.ListenQuery, error) {
	var a asked
	if faults := a.form().Fill(values); len(faults) > 0 {
		return a.ListenQuery, faults
	}
	a.By = by
	if a.number == "" {
		return a.ListenQuery, nil
	}
	c, err := s.numbered(ctx, a.number)
	if err != nil {
		return a.ListenQuery, err
	}
	f, err := s.Shop.File(ctx, c)
	if err != nil {
		return a.ListenQuery, err
	}
	a.Clock = c
	typed := typedParts(f.Survey)
	var t train.Query
	if len(typed["train"]) > 0 && len(form.Train(&t).Fill(typed["train"])) == 0 {
		a.Survey.Train = &t
	}
	var p pendulum.Query
	if len(typed["pendulum"]) > 0 && len(form.Pendulum(&p).Fill(typed["pendulum"])) == 0 {
		a.Survey.Pendulum = &p
	}
	return a.ListenQuery, nil
}

// numbered finds a clock by its number in the shop.
func (s *Server) numbered(ctx context.Context, number string) (int64, error) {
	l, err := s.Shop.Find(ctx, number, "")
	if err != nil {
		return 0, err
	}
	for _, c := range l.Clocks {
		if c.Number == number {
			return c.ID, nil
		}
	}
	return 0, meas.Faults{{Field: "clock", Text: "No clock has the number " + number + "; find it under Clocks"}}
}

var errSoundTooLarge = &shop.Problem{Code: shop.TooLarge, Message: "The recording is larger than 2 GB.", Hint: "Listen to it with the command: seatboard listen FILE."}

// upload takes a recording in as it comes and begins to listen to it. The
// words of the form stand before the sound in what is sent.
func (s *Server) upload(w http.ResponseWriter, r *http.Request) error {
	_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(time.Hour)) // not all connections have one
	values, sound, err := readUpload(r)
	defer func() { _, _ = io.Copy(io.Discard, r.Body) }() // a browser reads the answer when all is sent
	if err != nil {
		return soundProblem(err)
	}
	if !s.tokens.accepts(r, values.Get("token")) {
		p := &shop.Problem{Code: shop.BadInput, Message: "The page was open from before Seatboard was last started.", Hint: "Nothing was listened to. Choose the file once more."}
		return s.listenPage(w, r, http.StatusForbidden, values, nil, p)
	}
	id, err := s.take(r, values, sound)
	var faults meas.Faults
	if errors.As(err, &faults) {
		return s.listenPage(w, r, http.StatusUnprocessableEntity, values, faults, nil)
	}
	if p := shop.AsProblem(err); err != nil && p.Code != shop.Internal {
		return s.listenPage(w, r, statuses[p.Code], values, p.Fields, p)
	}
	if err != nil {
		return err
	}
	http.Redirect(w, r, jobPath(id), http.StatusSeeOther)
	return nil
}

// take takes the sound in and begins to listen to it.
func (s *Server) take(r *http.Request, values url.Values, sound *multipart.Part) (id string, err error) {
	q, err := s.heardOf(r.Context(), s.by(r), values)
	if err != nil {
		return "", err
	}
	if sound == nil || sound.FileName() == "" {
		return "", &shop.Problem{Code: shop.BadInput, Message: "No file was chosen.", Hint: "Choose a recording of the clock first."}
	}
	q.Source = path.Base(strings.ReplaceAll(sound.FileName(), `\`, "/"))
	q.Path = readings.File
	held, err := s.Shop.Receive(r.Context(), sound)
	if err != nil {
		return "", soundProblem(err)
	}
	return s.Shop.StartListening(q, held)
}

func soundProblem(err error) error {
	var big *http.MaxBytesError
	if errors.As(err, &big) {
		return errSoundTooLarge
	}
	return err
}

// readUpload reads the words of a form up to its file.
func readUpload(r *http.Request) (url.Values, *multipart.Part, error) {
	bad := &shop.Problem{Code: shop.BadInput, Message: "What was sent could not be read as a form.", Hint: "Go back and press the button once more."}
	values := url.Values{}
	m, err := r.MultipartReader()
	if err != nil {
		return values, nil, bad
	}
	for range 16 {
		p, err := m.NextPart()
		switch {
		case errors.Is(err, io.EOF):
			return values, nil, nil
		case err != nil:
			return values, nil, bad
		case p.FormName() == "sound":
			return values, p, nil
		}
		word, err := io.ReadAll(io.LimitReader(p, 64<<10))
		if err != nil {
			return values, nil, bad
		}
		values.Set(p.FormName(), string(word))
	}
	return values, nil, bad
}

func jobPath(id string) string { return "/listen/jobs/" + url.PathEscape(id) }
