// Package web is the page: server-rendered HTML that works without script,
// served on the shop's own computer.
//
// Every route stands in [Server.routes]. A request passes the guard (host
// names, other sites, headers), then the form token where it changes
// something, then its handler, which reads what was typed, asks the shop and
// renders a template. A handler answers a mistake with the same page, all
// that was typed, every mistake beside its field and status 422.
//
// Nothing is loaded from outside, no page is longer than it needs, and a
// page asked for twice shows the same.
package web

import (
	"context"
	"crypto/tls"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"strings"
	"sync"
	"time"

	"seatboard/internal/book/job"
	tables "seatboard/internal/book/trial/table"
	"seatboard/internal/front/desk"
	"seatboard/internal/shop"
)

// Config is what a server needs.
type Config struct {
	Shop    *shop.Shop
	Log     *slog.Logger
	Version string
	By      string // who is at this computer, for the history
	Demo    bool   // the shop is invented: every page says so
	Lan     *Lan   // how phones come; nil where the shop is open on its own computer alone
}

// Server answers the pages.
type Server struct {
	Config
	tokens  *tokens
	pages   *pages
	assets  *assets
	pairing *shop.Pairing
	guests  *guests
	paces   paces
	sheets  trialSheets
	seeking searches

	closing chan struct{} // closed when the server ends: what goes on for long ends with it
	closed  sync.Once
}

// New makes a server; it fails only if the program was built wrongly or the
// system gives no random numbers.
func New(c Config) (*Server, error) {
	t, err := newTokens()
	if err != nil {
		return nil, err
	}
	a, err := newAssets()
	if err != nil {
		return nil, err
	}
	p, err := newPages()
	if err != nil {
		return nil, err
	}
	c.Shop.ReadSurveys(desk.ReadSurvey)
	return &Server{Config: c, tokens: t, pages: p, assets: a, pairing: c.Shop.NewPairing(c.Lan.root()), guests: newGuests(),
		paces: paces{of: map[string]pace{}}, seeking: newSearches(), closing: make(chan struct{})}, nil
}

// Handler is everything that is reached on the shop's own computer.
func (s *Server) Handler() http.Handler {
	return guard(onLoop, compressed(limited(s.routes())))
}

// table is the addresses the program answers, with what answers.
type table struct {
	http.ServeMux
	patterns []string
}

// Handle takes an address in.
func (t *table) Handle(pattern string, h http.Handler) {
	t.patterns = append(t.patterns, pattern)
	t.ServeMux.Handle(pattern, h)
}

// routes lists every address the program answers.
func (s *Server) routes() *table {
	mux := &table{}
	get := func(path string, h handler) { mux.Handle("GET "+path, s.handle(h)) }
	post := func(path string, h handler) { mux.Handle("POST "+path, s.handle(s.changing(h))) }

	get("/{$}", s.today)
	get("/clocks", s.clocks)
	get("/clocks/found", s.found)
	get("/clocks/new", s.newClock)
	post("/clocks", s.addClock)
	get("/clocks/bring-in", s.bringIn)
	post("/clocks/bring-in", s.bringInFile)
	get("/clocks/{id}", s.clock)
	get("/clocks/{id}/taking-in", s.takingIn)
	post("/clocks/{id}/taking-in", s.saveTakingIn)
	post("/clocks/{id}/stage", s.saveStage)
	post("/clocks/{id}/out", s.takeOut)
	get("/clocks/{id}/survey", s.survey)
	get("/clocks/{id}/survey/{part}", s.surveyPart)
	post("/clocks/{id}/survey/{part}", s.saveSurveyPart)
	get("/clocks/{id}/survey/{part}/{file}", s.surveyFile)
	get("/clocks/{id}/parts", s.partsPage)
	post("/clocks/{id}/parts", s.addPart)
	get("/clocks/{id}/parts/new", s.newPart)
	post("/clocks/{id}/parts/move", s.moveParts)
	post("/clocks/{id}/parts/undo", s.undoParts)
	get("/clocks/{id}/parts/{number}", s.partPage)
	post("/clocks/{id}/parts/{number}", s.changePart)
	get("/places", s.place)
	post("/places", s.putInPlace)
	s.printRoutes(get, post)
	get("/clocks/{id}/close-out", s.closeOut)
	post("/clocks/{id}/close-out", s.explainParts)
	get("/clocks/{id}/history", s.history)
	get("/clocks/{id}/clock.json", s.export)
	get("/clocks/{id}/listening", s.listenings)
	get("/clocks/{id}/listening/{listening}", s.keptPage)
	post("/clocks/{id}/listening/{listening}/remove", s.removeKept)
	post("/clocks/{id}/listening/{listening}/again", s.listenAgain)
	get("/clocks/{id}/listening/{listening}/{file}", s.keptFile)
	s.photoRoutes(mux)
	get("/clocks/{id}/baths", s.baths)
	get("/clocks/{id}/baths/new", s.newBath)
	post("/clocks/{id}/baths/new", s.beginBath)
	get("/baths/{bath}", s.bath)
	post("/baths/{bath}", s.changeBath)
	s.conditionRoutes(get, post)
	s.hoursRoutes(get, post)
	s.trialRoutes(get, post)
	s.estimateRoutes(get, post)
	s.phoneRoutes(get, post)
	get("/alarm.json", s.alarmNow)
	post("/alarm/test", s.testAlarm)
	get("/listen", s.listenTo)
	mux.Handle("POST /listen", s.handle(s.upload)) // it reads its own form, as it comes
	post("/listen/own", s.listenOwn)
	get("/listen/recorders", s.recorders)
	post("/listen/recorders/state", s.stateRecorder)
	post("/listen/recorders/none", s.forgetRecorder)
	post("/listen/recorders/again", s.useCompared)
	post("/listen/recorders/ask", s.askTime)
	get("/listen/live", s.liveTo)
	get("/listen/live/sound", s.liveSound)
	get("/listen/jobs/{job}", s.heardPage)
	get("/listen/jobs/{job}/progress", s.followHeard)
	get("/listen/jobs/{job}/ribbon", s.ribbonOf)
	post("/listen/jobs/{job}/stop", s.stopHeard)
	post("/listen/jobs/{job}/compare", s.keepCompared)
	post("/listen/jobs/{job}/keep", s.keepHeard)
	post("/listen/jobs/{job}/throw", s.throwHeard)
	get("/listen/jobs/{job}/{file}", s.heardFile)
	s.deskRoutes(get, post)
	get("/backup", s.backup)
	get("/backup/{file}", s.sendBackup)
	get("/sources", s.sources)
	get("/sources/validation", s.validation)
	get("/keys", s.keys)
	mux.Handle("GET /assets/{file}", s.assets)
	mux.Handle("/", s.handle(func(http.ResponseWriter, *http.Request) error { return errNoPage }))
	return mux
}

// photoRoutes are those of photographs. Photographs are read as they come, so
// that these look for their token themselves.
func (s *Server) photoRoutes(mux *table) {
	take := func(path string, h handler) { mux.Handle("POST "+path, s.handle(h)) }
	get := func(path string, h handler) { mux.Handle("GET "+path, s.handle(h)) }

	get("/clocks/{id}/photos", s.photos)
	take("/clocks/{id}/photos", s.takePhotos)
	get("/photos", s.photos)
	take("/photos", s.takePhotos)
	get("/clocks/{id}/photos/write", s.writeUnder)
	take("/clocks/{id}/photos/write", s.changing(s.keepWritten))
	get("/photos/write", s.writeUnder)
	take("/photos/write", s.changing(s.keepWritten))
	take("/uploads", s.uploading(s.beginUpload))
	take("/uploads/{upload}", s.uploading(s.appendUpload))
	take("/uploads/{upload}/finish", s.uploading(s.finishUpload))
	get("/photos/{photo}", s.photo)
	take("/photos/{photo}", s.changing(s.changePhoto))
	get("/photos/{photo}/{file}", s.photoFile)
}

// printRoutes lists what is printed, and where the codes on labels lead.
func (s *Server) printRoutes(get, post func(path string, h handler)) {
	get("/clocks/{id}/close-out.pdf", s.closeOutPDF)
	get("/clocks/{id}/receipt.pdf", s.receiptPDF)
	get("/clocks/{id}/receipt", s.receipt)
	get("/clocks/{id}/labels", s.labels)
	post("/clocks/{id}/labels.pdf", s.labelsPDF)
	get("/clocks/{id}/labels/sheet.svg", s.labelsSheet)
	get("/labels", s.labelSet)
	post("/labels", s.changeLabelSet)
	get("/labels/test.pdf", s.labelTest)
	get("/p/{short}", s.shortID)
}

var errNoPage = &shop.Problem{Code: shop.NotFound, Message: "There is no such page.", Hint: "Start from Today, or find the clock by its number."}

// handler answers a request or says why it cannot.
type handler func(http.ResponseWriter, *http.Request) error

// statuses maps the kind of a problem to the HTTP status.
var statuses = map[shop.Code]int{
	shop.BadInput: http.StatusUnprocessableEntity, shop.NotFound: http.StatusNotFound, shop.Conflict: http.StatusConflict,
	shop.InUse: http.StatusServiceUnavailable, shop.TooLarge: http.StatusRequestEntityTooLarge,
	shop.Gone: http.StatusGone, shop.TooOften: http.StatusTooManyRequests,
	shop.Storage: http.StatusInsufficientStorage, shop.Internal: http.StatusInternalServerError,
}

// handle shows the problem of a handler as a page of its own.
func (s *Server) handle(h handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		err := h(w, r)
		if err == nil {
			return
		}
		p := shop.AsProblem(err)
		if p.Code == shop.Internal && !errors.Is(err, context.Canceled) {
			s.Log.Error("request failed", "method", r.Method, "path", r.URL.Path, "err", err)
		}
		s.renderProblem(w, r, p)
	})
}

const (
	maxHead   = 16 << 10
	maxBody   = 1 << 20 // of a form
	maxImport = job.MaxFile + 1<<20
	maxPhotos = 2 << 30 // of all photographs sent at once
)

// limited bounds what a request may send.
func limited(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		most := int64(maxBody)
		switch path := r.URL.Path; {
		case path == "/clocks/bring-in":
			most = maxImport
		case path == "/listen":
			most = maxSound + maxBody
		case strings.HasPrefix(path, "/uploads/"):
			most = maxPiece
		case strings.HasSuffix(path, "/photos"):
			most = maxPhotos
		case strings.HasSuffix(path, "/trial/table"):
			most = tables.MaxBytes + maxBody
		}
		r.Body = inTime(w, http.MaxBytesReader(w, r.Body, most))
		next.ServeHTTP(w, r)
	})
}

var errTooLarge = &shop.Problem{Code: shop.TooLarge, Message: "More was sent than a page takes (1 MB).",
	Hint: "Nothing was changed. Go back: what you typed is still in the page; put in only what belongs to this clock."}

// changing lets a request through that carries the token of a form given to
// this browser in this run of the program.
func (s *Server) changing(h handler) handler {
	return func(w http.ResponseWriter, r *http.Request) error {
		if err := parseForm(r); err != nil {
			var big *http.MaxBytesError
			if errors.As(err, &big) {
				return errTooLarge
			}
			return &shop.Problem{Code: shop.BadInput, Message: "What was sent could not be read as a form.", Hint: "Go back and press the button once more."}
		}
		if !s.tokens.accepts(r, r.PostFormValue("token")) {
			return s.stale(w, r)
		}
		return h(w, r)
	}
}

func parseForm(r *http.Request) error {
	if r.URL.Path == "/clocks/bring-in" || strings.HasSuffix(r.URL.Path, "/trial/table") && strings.HasPrefix(r.Header.Get("Content-Type"), "multipart/") {
		return r.ParseMultipartForm(8 << 20) // the rest lies in a file
	}
	return r.ParseForm()
}

// Serve answers on a listener of the shop's own computer until ctx ends, then
// lets running requests finish.
func (s *Server) Serve(ctx context.Context, l net.Listener) error {
	return s.serve(ctx, l, s.Handler(), nil)
}

// serve answers on a listener, by https where conf is given.
func (s *Server) serve(ctx context.Context, l net.Listener, h http.Handler, conf *tls.Config) error {
	server := &http.Server{
		Handler:           h,
		TLSConfig:         conf,
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       60 * time.Second,
		WriteTimeout:      60 * time.Second,
		IdleTimeout:       60 * time.Second,
		MaxHeaderBytes:    maxHead,
		HTTP2:             &http.HTTP2Config{MaxConcurrentStreams: mostOnOneLine},
		ErrorLog:          slog.NewLogLogger(s.Log.Handler(), slog.LevelDebug),
	}
	done := make(chan error, 1)
	go func() {
		if l := capped(l, maxConnections); conf != nil {
			done <- server.ServeTLS(l, "", "") // the certificate is in conf
		} else {
			done <- server.Serve(l)
		}
	}()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	s.closed.Do(func() { close(s.closing) })
	stop, cancel := context.WithTimeout(context.WithoutCancel(ctx), 5*time.Second)
	defer cancel()
	return server.Shutdown(stop)
}
