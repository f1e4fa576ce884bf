package web

import (
	"bytes"
	"flag"
	"fmt"
	"html"
	"io"
	"log/slog"
	"maps"
	"mime/multipart"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"pgregory.net/rapid"

	"seatboard/internal/front/desk"
	"seatboard/internal/shop"
)

// TestAnyFormOfTheRecordIsAnswered sends the forms of the record, the trial and
// making with sense and nonsense, one after the other to one shop: there is
// always an answer, it is no fault of the program, and where something was
// wrong it says so and keeps what was typed. In the suite the draws are the
// same each time; with -rapid.checks they are left to chance.
func TestAnyFormOfTheRecordIsAnswered(t *testing.T) {
	if checks, seed := flag.Lookup("rapid.checks"), flag.Lookup("rapid.seed"); checks.Value.String() == checks.DefValue {
		for f, v := range map[*flag.Flag]string{checks: "60", seed: "7"} {
			was := f.Value.String()
			if err := f.Value.Set(v); err != nil {
				t.Fatal(err)
			}
			t.Cleanup(func() { _ = f.Value.Set(was) }) // it was that
		}
	}
	var from []string
	for _, p := range everyPage {
		if ofTheRecord(p) {
			from = append(from, p)
		}
	}
	s, sent := newSuffering(t), 0
	rapid.Check(t, func(r *rapid.T) {
		if sent++; sent%400 == 0 { // what is in the book makes its pages longer and longer
			s.end()
			s = newSuffering(t)
		}
		s.open(r, from)
		forms := s.forms(r)
		if len(forms) == 0 {
			return
		}
		f := rapid.SampledFrom(forms).Draw(r, "form")
		values, typed, ours := f.filled(r)
		ours = ours && !s.forged
		told := fmt.Sprintf("%s %s from %s with%s", f.method, f.action, s.at, short(values))
		q, err := f.request(s.base, s.at, values)
		if err != nil {
			r.Fatal(err)
		}
		s.send(r, q, told)
		s.forged = s.posted && !ours
		switch s.status {
		case http.StatusNotFound:
			if ours {
				r.Fatalf("%s: not found", told)
			}
		case http.StatusUnprocessableEntity, http.StatusConflict:
			if !saysWrong.MatchString(s.page) {
				r.Fatalf("%s: status %d says not what is wrong\n%s", told, s.status, s.page)
			}
			for _, m := range beside.FindAllStringSubmatch(s.page, -1) {
				if ours && !strings.Contains(s.page, ` id="`+m[1]+`"`) {
					r.Fatalf("%s: status %d, and the mistake stands beside no field %s\n%s", told, s.status, m[1], s.page)
				}
			}
			shown := asShown(html.UnescapeString(s.page))
			for _, name := range typed {
				if ours && s.posted && !strings.Contains(shown, asShown(values.Get(name))) {
					r.Fatalf("%s: status %d, and what was typed into %s stands no more in the page\n%s", told, s.status, name, s.page)
				}
			}
		}
	})
}

// ofTheRecord tells whether an address is of the record, the trial or making.
func ofTheRecord(path string) bool {
	return recordPages.MatchString(path) && !strings.Contains(path, "/listening")
}

// pageForm is a form as it stands in a page.
type pageForm struct {
	action, method string
	files          bool // it sends files
	fields         []*pageField
	presses        [][2]string // its buttons, name and value
}

// pageField is one field of it.
type pageField struct {
	name, value, kind string   // kind is the type of an input, or select, textarea
	options           []string // what a page offers
	off               bool     // not sent as it stands: a box that is not ticked
}

var (
	tag       = regexp.MustCompile(`<(/?)([a-z0-9]+)((?:[^>"]|"[^"]*")*)>`)
	attribute = regexp.MustCompile(`([a-z-]+)(?:="([^"]*)")?`)
	link      = regexp.MustCompile(`href="(/[^"#]*)`)

	recordPages = regexp.MustCompile(`^/($|p/|places|plates|photos|labels|baths|hours|stores|phones|this-phone|clocks)`)

	beside = regexp.MustCompile(`<li><a href="#([^"]*)">`)

	// How a page says what is wrong: beside fields, above them, or alone.
	saysWrong = regexp.MustCompile(`class="(wrong|errors|notice clash)"|<div class="page">\s*<h1>`)
)

// formsOf reads the forms of a page. A field stands in the form around it or
// in the one it names.
func formsOf(page string) []*pageForm {
	var all []*pageForm
	byID := map[string]*pageForm{}
	type named struct {
		form  string
		field *pageField
		press bool
	}
	var away []named
	var in *pageForm
	var chooses *pageField
	for _, m := range tag.FindAllStringSubmatchIndex(page, -1) {
		ends, name, a := m[2] != m[3], page[m[4]:m[5]], map[string]string{}
		for _, m := range attribute.FindAllStringSubmatch(page[m[6]:m[7]], -1) {
			a[m[1]] = html.UnescapeString(m[2])
		}
		_, off := a["disabled"]
		f := &pageField{name: a["name"], value: a["value"], kind: a["type"]}
		switch {
		case name == "form" && ends:
			in = nil
			continue
		case name == "form":
			in = &pageForm{action: a["action"], method: strings.ToUpper(a["method"]), files: strings.HasPrefix(a["enctype"], "multipart/")}
			all, byID[a["id"]] = append(all, in), in
			continue
		case name == "select" && ends:
			chooses = nil
			continue
		case name == "option" && !ends && chooses != nil:
			v, has := a["value"]
			if rest := page[m[1]:]; !has {
				v = strings.TrimSpace(html.UnescapeString(rest[:strings.IndexByte(rest, '<')]))
			}
			if _, chosen := a["selected"]; chosen || len(chooses.options) == 0 {
				chooses.value = v
			}
			chooses.options = append(chooses.options, v)
			continue
		case ends || off || f.name == "" && name != "button":
			continue
		case name == "input":
			_, checked := a["checked"]
			if f.kind == "checkbox" || f.kind == "radio" {
				if f.value == "" {
					f.value = "on"
				}
				f.off, f.options = !checked, []string{f.value}
			}
		case name == "textarea":
			rest := page[m[1]:]
			f.kind, f.value = name, html.UnescapeString(strings.TrimPrefix(rest[:strings.Index(rest, "</textarea>")], "\n"))
		case name == "select":
			f.kind, chooses = name, f
		case name == "button":
		default:
			continue
		}
		if id, far := a["form"]; far {
			away = append(away, named{id, f, name == "button"})
		} else if in != nil {
			in.put(f, name == "button")
		}
	}
	for _, n := range away {
		if f := byID[n.form]; f != nil {
			f.put(n.field, n.press)
		}
	}
	return all
}

func (f *pageForm) put(x *pageField, press bool) {
	if press {
		f.presses = append(f.presses, [2]string{x.name, x.value})
		return
	}
	f.fields = append(f.fields, x)
}

// someTyped is what may be typed into any field of the record, sense or not.
var someTyped = []string{"", " ", "0", "1", "2", "3", "7", "30", "-1", "-0.001", "1e9", "1e-9", "1e999", "99999999999999999999", "nan", "infinity", "1/0", "1/3", "½", "12,5", "1.234,5", "5 ± 100", "± 3", "?",
	"50 mm", "3 km", "12 in", "1 kg", "20 °C", "25 min", "1 h 20", "8 d", "90 s", "40 kHz", "£12.50", "12.345 EUR", "-5 %", "5 %", "2 l", "100 ml",
	"2026-11-25", "2026-11-25 09:10", "2026-11-24T09:10:00Z", "2026-02-30", "0000-00-00", "9999-12-31 23:59", "1066-10-14", "25:61", "09:30", "+12 s", "-3.5 s/d", "nut down 1/4", "now", "yesterday", "yes", "no", "on",
	"1.1", "2.1, 2", "1.a", "1.1.1.1.1.1.1.1", "2026-012", "great wheel", "tray 1", "unknown", "steel", "brass", "ivory", "radium", "mercury", "oak", "🕰 é ñ", "a\r\nb\r\n", "a;b,c", "\x00\x01\x1b[2J", "\xff\xfe", "\u202eabc\u200b",
	`"><script>alert(1)</script>`, "'; drop table clock; --", "%s%n%00", "../../etc/passwd", "{{.}}", "=1+1", strings.Repeat("x", 100_000), strings.Repeat("1 ", 50_000), strings.Repeat("a\n", 50_000)}

// filled is a form as it is sent: what a person left standing, chose or typed,
// and now and then what no page of ours sends; ours is false for that. The
// fields typed into are named.
func (f *pageForm) filled(t *rapid.T) (values url.Values, typed []string, ours bool) {
	values, ours = url.Values{}, true
	often := rapid.SampledFrom([]int{0, 10, 100}).Draw(t, "of a hundred fields changed")
	for _, x := range f.fields {
		some := func() { values.Add(x.name, rapid.SampledFrom(someTyped).Draw(t, x.name)) }
		switch {
		case x.name == "token":
			values.Set(x.name, x.value)
		case rapid.IntRange(1, 100).Draw(t, "change") > often:
			if !x.off {
				values.Add(x.name, x.value)
			}
		case rapid.IntRange(1, 20).Draw(t, "what no page sends") == 1:
			for range rapid.IntRange(0, 2).Draw(t, "times") { // left out, or twice
				some()
			}
			ours = false
		case len(x.options) > 0:
			values.Add(x.name, rapid.SampledFrom(x.options).Draw(t, x.name))
		case x.kind == "hidden":
			values.Add(x.name, x.value)
		default:
			some()
			if x.kind != "file" {
				typed = append(typed, x.name)
			}
		}
	}
	if len(f.presses) > 0 {
		if p := rapid.SampledFrom(f.presses).Draw(t, "press"); p[0] != "" {
			values.Set(p[0], p[1])
		}
	}
	if !ours {
		typed = nil
	}
	return values, typed, ours
}

// request sends it as a browser does.
func (f *pageForm) request(base, at string, values url.Values) (*http.Request, error) {
	where := f.action
	if where == "" {
		where = at
	}
	if f.method != "POST" {
		where, _, _ = strings.Cut(where, "?")
		return http.NewRequest("GET", base+where+"?"+values.Encode(), nil)
	}
	if !f.files {
		r, err := http.NewRequest("POST", base+where, strings.NewReader(values.Encode()))
		if err == nil {
			r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		}
		return r, err
	}
	var b bytes.Buffer
	m, sent := multipart.NewWriter(&b), map[string]bool{}
	for _, x := range f.fields { // in their order: some are read as they come
		if sent[x.name] {
			continue
		}
		sent[x.name] = true
		for _, v := range values[x.name] {
			w, err := m.CreateFormField(x.name)
			if x.kind == "file" {
				w, err = m.CreateFormFile(x.name, "a.txt")
			}
			if err != nil {
				return nil, err
			}
			_, _ = io.WriteString(w, v) // into memory
		}
	}
	m.Close()
	r, err := http.NewRequest("POST", base+where, &b)
	if err == nil {
		r.Header.Set("Content-Type", m.FormDataContentType())
	}
	return r, err
}

// suffering is a shop to which anything is sent.
type suffering struct {
	*visit
	posted bool // the last page answers a form itself
	forged bool // and that was none of ours, so that its own may not be
	log    *lockedText
	end    func()
}

// lockedText is a log that is read while it is written.
type lockedText struct {
	sync.Mutex
	strings.Builder
}

func (l *lockedText) Write(p []byte) (int, error) {
	l.Lock()
	defer l.Unlock()
	return l.Builder.Write(p)
}

func (l *lockedText) String() string {
	l.Lock()
	defer l.Unlock()
	return l.Builder.String()
}

func newSuffering(t *testing.T) *suffering {
	t.Helper()
	sh, err := shop.Open(t.Context(), t.TempDir(), func() time.Time { return time.Date(2026, 11, 25, 9, 30, 0, 0, time.UTC) })
	if err != nil {
		t.Fatal(err)
	}
	if err := sh.FillDemo(t.Context(), tidied, desk.WorkSheet); err != nil {
		t.Fatal(err)
	}
	s := &suffering{log: &lockedText{}}
	log := slog.NewTextHandler(s.log, nil)
	server, err := New(Config{Shop: sh, Log: slog.New(log), Version: "test", By: "tester", Demo: true})
	if err != nil {
		t.Fatal(err)
	}
	ts := httptest.NewUnstartedServer(server.Handler())
	ts.Config.ErrorLog = slog.NewLogLogger(log, slog.LevelError) // where a handler panics
	ts.Config.MaxHeaderBytes = maxHead
	ts.Start()
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	s.visit = &visit{t: t, base: ts.URL, client: &http.Client{Jar: jar}}
	s.end = sync.OnceFunc(func() { ts.Close(); sh.Close() })
	t.Cleanup(s.end)
	return s
}

// open shows a page: one of many, one that the page before leads to, or that
// page again.
func (s *suffering) open(t *rapid.T, from []string) {
	at := rapid.SampledFrom(from).Draw(t, "page")
	switch rapid.IntRange(1, 4).Draw(t, "from where") {
	case 1:
		if len(formsOf(s.page)) > 0 {
			return
		}
	case 2:
		var links []string
		for _, m := range link.FindAllStringSubmatch(s.page, -1) {
			if p := html.UnescapeString(m[1]); ofTheRecord(p) {
				links = append(links, p)
			}
		}
		if len(links) > 0 {
			at = rapid.SampledFrom(links).Draw(t, "link")
		}
	}
	r, err := http.NewRequest("GET", s.base+at, nil)
	if err != nil {
		t.Fatal(err)
	}
	s.send(t, r, "GET "+at)
	s.forged = false
}

// forms are those of the page that belong to the record; the strip of work is
// on every page, and sent from that of the hours.
func (s *suffering) forms(t *rapid.T) []*pageForm {
	forms := slices.DeleteFunc(formsOf(s.page), func(f *pageForm) bool {
		return f.method == "DIALOG" || f.action != "" && !ofTheRecord(f.action) || strings.HasPrefix(f.action, "/hours/st") && !strings.HasPrefix(s.at, "/hours")
	})
	posts := slices.DeleteFunc(slices.Clone(forms), func(f *pageForm) bool { return f.method != "POST" })
	if len(posts) > 0 && rapid.IntRange(1, 4).Draw(t, "to change something") > 1 {
		return posts
	}
	return forms
}

// send takes the answer; a fault of the program, or none, fails.
func (s *suffering) send(t *rapid.T, r *http.Request, told string) {
	a, err := s.client.Do(r)
	if err != nil {
		t.Fatalf("%s: %v\n%s", told, err, s.log)
	}
	defer a.Body.Close()
	b, err := io.ReadAll(a.Body)
	if err != nil {
		t.Fatalf("%s: %v\n%s", told, err, s.log)
	}
	s.status, s.page, s.at, s.posted = a.StatusCode, string(b), a.Request.URL.Path, a.Request.Method == "POST"
	if long := len(r.URL.String()) > maxHead/2; s.status >= 500 || s.status == http.StatusBadRequest || s.status == http.StatusRequestHeaderFieldsTooLarge && !long {
		t.Fatalf("%s: status %d\n%s", told, s.status, s.log)
	}
}

// asShown is text as a page shows it, with one blank for white space of any
// length; what no page can hold is replaced.
func asShown(s string) string {
	s = strings.ToValidUTF8(strings.ReplaceAll(s, "\x00", "\ufffd"), "\ufffd")
	return strings.Join(strings.Fields(s), " ")
}

// short is the fields as they were sent, cut where they are long.
func short(values url.Values) string {
	var b strings.Builder
	for _, name := range slices.Sorted(maps.Keys(values)) {
		for _, v := range values[name] {
			rest := max(0, len(v)-60)
			fmt.Fprintf(&b, " %s=%q", name, v[:len(v)-rest])
			if rest > 0 {
				fmt.Fprintf(&b, " and %d more", rest)
			}
		}
	}
	return b.String()
}
