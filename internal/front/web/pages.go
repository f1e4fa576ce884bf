package web

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"io/fs"
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"seatboard/internal/book/job"
	"seatboard/internal/kit/meas"
	"seatboard/internal/shop"
)

//go:embed templates
var templateFiles embed.FS

// frame is what every page has around its own view.
type frame struct {
	Title  string // of the page; the clock and the program follow it
	Place  string // the place of the navigation it belongs to
	Flash  string // what has just been done
	Faults meas.Faults
	Again  int // seconds after which a browser without script looks again; 0 is never
	Find   string
	Baths  []bathLine // under way
	Work   workStrip
	View   any

	Bare    bool // for a phone that is not let in: no way into the shop
	Phone   bool // for a phone that is
	Token   string
	Demo    bool
	Version string
	CSS     string
	Script  string
}

// FaultHref is the address of the field a mistake stands beside.
func (f frame) FaultHref(field string) string { return "#" + fieldID(field) }

// fieldID is the element id of a field; brackets and points become dashes.
func fieldID(name string) string {
	return "f-" + strings.Map(func(r rune) rune {
		if r == '[' || r == ']' || r == '.' || r == '/' {
			return '-'
		}
		return r
	}, name)
}

// pages are the parsed templates, one set for each page.
type pages struct {
	byName map[string]*template.Template
}

func newPages() (*pages, error) {
	p := &pages{byName: map[string]*template.Template{}}
	funcs := template.FuncMap{
		"changed": changeWords, "differs": differWords,
		"id": fieldID, "letter": onLetter, "add": func(a, b int) int { return a + b },
		"level": func(l meas.Level) string {
			if l == meas.Danger {
				return "caution"
			}
			return l.String()
		},
		"rowname": func(cell string) string { return cell[:strings.LastIndexByte(cell, '.')+1] },
	}
	names, err := fs.Glob(templateFiles, "templates/page-*.html")
	if err != nil {
		return nil, err
	}
	for _, file := range names {
		name := strings.TrimSuffix(strings.TrimPrefix(file, "templates/page-"), ".html")
		t, err := template.New("frame.html").Funcs(funcs).ParseFS(templateFiles, "templates/frame.html", "templates/part-*.html", file)
		if err != nil {
			return nil, fmt.Errorf("web: page %s: %w", name, err)
		}
		p.byName[name] = t
	}
	return p, nil
}

// renderPart writes one part of a page, for script to put in its place.
func (s *Server) renderPart(w http.ResponseWriter, part string, view any) error {
	var b bytes.Buffer
	if err := s.pages.byName["clocks"].ExecuteTemplate(&b, part, view); err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_, _ = w.Write(b.Bytes()) // the visitor is gone if this fails
	return nil
}

// render writes a page; a fault of the template is an error, never half a
// page.
func (s *Server) render(w http.ResponseWriter, r *http.Request, status int, name string, f frame) error {
	t, ok := s.pages.byName[name]
	if !ok {
		return fmt.Errorf("web: there is no page %q", name)
	}
	f.Demo, f.Version = s.Demo, s.Version
	g, fromLan := guestOf(r)
	f.Bare, f.Phone = fromLan && !g.paired(), fromLan
	if !g.reads {
		f.Token = s.tokens.form(s.tokens.visitor(w, r))
	}
	if !f.Bare {
		s.strips(r, &f)
	}
	f.CSS, f.Script = s.assets.url("seatboard.css"), s.assets.url("seatboard.js")
	f.Flash = flashes[r.URL.Query().Get("done")]
	if len(f.Faults) > 0 {
		f.Flash = ""
	}
	var b bytes.Buffer
	if err := t.Execute(&b, f); err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_, _ = w.Write(b.Bytes()) // the visitor is gone if this fails
	return nil
}

// strips puts what goes on in the shop into a page.
func (s *Server) strips(r *http.Request, f *frame) {
	f.Baths, _ = s.bathLines(r) // a page is shown without them where the book cannot be read, and says so itself
	var about job.Clock
	if v, ok := f.View.(ofClock); ok {
		about = v.clockOf()
	}
	f.Work = s.workStripOf(r, about.ID, about.Number, f.Token)
}

// flashes are the sentences a page can open with after something was done,
// by the word in its address.
var flashes = map[string]string{
	"added":    "The clock is in the book.",
	"saved":    "Saved.",
	"stage":    "The clock has moved on its way.",
	"imported": "The clock was brought in.",
	"ended":    "The clock was brought in. A bath or work was under way in its file: here the bath is given up, no alarm rings for it, and the work counts nothing. Baths and hours say it; look where the parts are.",
	"endpart":  "The clock was brought in. A bath or work was under way in its file: here the bath is given up, no alarm rings for it, and the work counts nothing. Something in the file is not known to this Seatboard; it stands in the history as it was.",
	"partly":   "The clock was brought in. Something in its file is not known to this Seatboard; it stands in the history as it was.",
	"kept":     "Kept in the clock’s file.",
	"compared": "Compared: what is heard with this recorder from now on is reckoned with it.",
	"binned":   "In the bin; it can be taken out again.",
	"begun":    "They are in the bath; the time runs.",
	"ticked":   "Written down.",
	"hushed":   "Quiet for two minutes.",
	"rung":     "It has rung. If you heard nothing, look at the loudspeaker of the shop’s computer.",
	"thrown":   "Thrown away.",
	"removed":  "Removed from the list; it can be put back.",
	"back":     "Put back.",
	"out":      "Taken out of the book. It can be put back.",
	"moved":    "Moved.",
	"taken":    "The counts are in the survey, marked as inferred; what they were worked out from stands under Making.",
	"made":     "Written down: the part, its line in the originality ledger, and the drawings.",
	"working":  "Work has begun; it is written down from now.",
	"stopped":  "Stopped. The hours are written down.",
	"asked":    "Stopped. Say when the work truly ended: until then it stands in no sum.",
	"answered": "Written down with that end.",
	"looked":   "Written down.",
	"brought":  "Brought in as one entry. It can be taken back as one.",
	"written":  "The hours are written down.",
	"signed":   "Signed, with your name and the time of now.",
	"fixed":    "Fixed: it stays as it is. Print it, and write down what the owner says.",
	"struck":   "Marked removed; it counts no more, and can be taken back.",
	"undone":   "Taken back.",
	"let-in":   "This phone is let in.",
	"shut-out": "It is shut out. What it had open has ended.",
}

// done sends the browser to a page that says what was done.
func done(w http.ResponseWriter, r *http.Request, path, what string) error {
	http.Redirect(w, r, path+"?done="+url.QueryEscape(what), http.StatusSeeOther)
	return nil
}

// renderProblem shows a problem as a page of its own.
func (s *Server) renderProblem(w http.ResponseWriter, r *http.Request, p *shop.Problem) {
	err := s.render(w, r, statuses[p.Code], "problem", frame{Title: p.Message, View: p})
	if err != nil {
		s.Log.Error("the problem page failed", "err", err)
		http.Error(w, p.Message+"\n"+p.Hint, statuses[p.Code])
	}
}

// stale answers a form that was not given out in this run: all that was
// typed stands in it again, to be sent once more.
func (s *Server) stale(w http.ResponseWriter, r *http.Request) error {
	if r.MultipartForm != nil { // a browser does not give a file twice
		p := &shop.Problem{Code: shop.BadInput, Message: "The page was open from before Seatboard was last started.", Hint: "Nothing was brought in. Choose the file once more."}
		return s.render(w, r, http.StatusForbidden, "bring-in", frame{Title: p.Message, Place: "clocks", View: bringInView{p}})
	}
	view := staleView{Action: r.URL.Path}
	for _, name := range slices.Sorted(maps.Keys(r.PostForm)) {
		if name == "token" {
			continue
		}
		for _, v := range r.PostForm[name] {
			view.Fields = append(view.Fields, staleField{name, v})
		}
	}
	return s.render(w, r, http.StatusForbidden, "stale", frame{Title: "Press the button once more", View: view})
}

type staleView struct {
	Action string
	Fields []staleField
}

type staleField struct{ Name, Value string }
