package web

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

func TestGuardHosts(t *testing.T) {
	h := guard(onLoop, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {}))
	for _, c := range []struct {
		host string
		want int
	}{
		{"127.0.0.1:7870", 200}, {"localhost:7870", 200}, {"LOCALHOST", 200}, {"[::1]:7870", 200}, {"127.0.0.1", 200},
		{"evil.example", 421}, {"evil.example:7870", 421}, {"localhost.", 421}, {"localhost.evil.example", 421},
		{"127.0.0.1.evil.example", 421}, {"192.168.1.5:7870", 421}, {"0.0.0.0:7870", 421}, {"", 421}, {"127.0.0.2", 421},
	} {
		r := httptest.NewRequest("GET", "/", nil)
		r.Host = c.host
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if w.Code != c.want {
			t.Errorf("host %q: %d, want %d", c.host, w.Code, c.want)
		}
		if !strings.Contains(w.Header().Get("Content-Security-Policy"), "default-src 'none'") {
			t.Errorf("host %q: no policy", c.host)
		}
	}
}

func TestGuardOrigins(t *testing.T) {
	h := guard(onLoop, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {}))
	for _, c := range []struct {
		name, method, path, site, mode, origin string
		want                                   int
	}{
		{"own post", "POST", "/clocks", "same-origin", "navigate", "http://127.0.0.1:7870", 200},
		{"cross-site post", "POST", "/clocks", "cross-site", "navigate", "https://evil.example", 403},
		{"post from another port", "POST", "/clocks", "same-site", "navigate", "http://127.0.0.1:9999", 403},
		{"post with origin null", "POST", "/clocks", "", "", "null", 403},
		{"post from a program", "POST", "/clocks", "", "", "", 200}, // the form token stops it later
		{"own read", "GET", "/clocks", "same-origin", "cors", "", 200},
		{"typed address", "GET", "/clocks", "none", "navigate", "", 200},
		{"fetch by another site", "GET", "/clocks", "cross-site", "no-cors", "", 403},
		{"image from another port", "GET", "/clocks", "same-site", "no-cors", "", 403},
		{"link elsewhere to the front page", "GET", "/", "cross-site", "navigate", "", 200},
		{"link elsewhere to a record", "GET", "/clocks/1", "cross-site", "navigate", "", 403},
	} {
		r := httptest.NewRequest(c.method, "http://127.0.0.1:7870"+c.path, nil)
		for k, v := range map[string]string{"Sec-Fetch-Site": c.site, "Sec-Fetch-Mode": c.mode, "Origin": c.origin} {
			if v != "" {
				r.Header.Set(k, v)
			}
		}
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if w.Code != c.want {
			t.Errorf("%s: %d, want %d", c.name, w.Code, c.want)
		}
	}
}

func TestTokens(t *testing.T) {
	own, err := newTokens()
	if err != nil {
		t.Fatal(err)
	}
	other, err := newTokens()
	if err != nil {
		t.Fatal(err)
	}
	w := httptest.NewRecorder()
	id := own.visitor(w, httptest.NewRequest("GET", "/", nil))
	r := httptest.NewRequest("POST", "/", nil)
	r.AddCookie(w.Result().Cookies()[0])
	if !own.accepts(r, own.form(id)) {
		t.Error("a form of this visit was refused")
	}
	if own.accepts(r, other.form(id)) || own.accepts(r, "") {
		t.Error("a foreign token was accepted")
	}
	bare := httptest.NewRequest("POST", "/", nil)
	if own.accepts(bare, own.form(id)) {
		t.Error("a token without its cookie was accepted")
	}
	invented := httptest.NewRequest("POST", "/", nil)
	invented.AddCookie(&http.Cookie{Name: own.cookie, Value: "abc.def"})
	if own.accepts(invented, own.form("abc.def")) {
		t.Error("an invented visitor was accepted")
	}
}

// TestFirstVisit: all forms of the page that is visited first are taken.
func TestFirstVisit(t *testing.T) {
	v := openShop(t, false)
	v.get("/clocks/new")
	if n := len(v.head["Set-Cookie"]); n != 1 {
		t.Errorf("%d cookies were set", n)
	}
	tokens := map[string]bool{}
	for _, m := range tokenField.FindAllStringSubmatch(v.page, -1) {
		tokens[m[1]] = true
	}
	if len(tokens) != 1 {
		t.Errorf("the page has %d tokens", len(tokens))
	}
}
