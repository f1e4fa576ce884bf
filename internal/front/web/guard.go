package web

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"net"
	"net/http"
	"strings"
)

// policy is the content security policy of every page: nothing from outside,
// no inline script, no style attribute.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; media-src 'self'; " +
	"connect-src 'self'; font-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"

// guard stands in front of every route: host names first (it alone stops DNS
// rebinding), then requests that other sites cause, then the headers that
// every answer carries.
func guard(answers func(host string) bool, next http.Handler) http.Handler {
	cross := http.NewCrossOriginProtection()
	cross.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		http.Error(w, "This change was asked for by another site and was not made.", http.StatusForbidden)
	}))
	inner := cross.Handler(next)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		setHeaders(w.Header())
		switch {
		case !answers(hostOf(r.Host)):
			http.Error(w, "Seatboard answers only under its own address.", http.StatusMisdirectedRequest)
		case foreignRead(r):
			http.Error(w, "Open Seatboard by its own address; another site cannot read its pages.", http.StatusForbidden)
		default:
			inner.ServeHTTP(w, r)
		}
	})
}

func setHeaders(h http.Header) {
	h.Set("Content-Security-Policy", policy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "same-origin")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cross-Origin-Embedder-Policy", "require-corp") // a finer clock for live sound
	h.Set("Permissions-Policy", "microphone=(self), camera=(self), geolocation=(), payment=()")
	h.Set("Cache-Control", "no-store")
}

// hostOf is the host of a Host header in lower case, without port and
// brackets.
func hostOf(host string) string {
	if h, _, err := net.SplitHostPort(host); err == nil {
		host = h
	}
	return strings.ToLower(strings.Trim(host, "[]"))
}

// onLoop tells whether a host is a name of the program on its own computer.
func onLoop(host string) bool {
	return host == "127.0.0.1" || host == "localhost" || host == "::1"
}

// foreignRead tells whether another site caused a request that reads; only a
// plain visit to the front page may come from elsewhere.
func foreignRead(r *http.Request) bool {
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		return false
	}
	switch r.Header.Get("Sec-Fetch-Site") {
	case "cross-site", "same-site":
		return r.Header.Get("Sec-Fetch-Mode") != "navigate" || r.URL.Path != "/"
	}
	return false
}

// tokens binds the forms of a page to the browser that got it, for one run of
// the program. A cookie of a loopback address reaches every port, so the
// cookie alone proves nothing: each form carries a keyed digest of it.
type tokens struct {
	secret [32]byte
	cookie string // its name, see [cookieName]
}

// cookieName is the name of a cookie as a request carries it: by https it
// belongs to this host and port's pages alone (RFC 6265bis, the prefix
// __Host-).
func cookieName(r *http.Request, name string) string {
	if r.TLS != nil {
		return "__Host-" + name
	}
	return name
}

// setCookie gives the browser a cookie that no script reads and no other
// site sends; it lasts as long as the browser where age is 0, and is taken
// away where age is below 0.
func setCookie(w http.ResponseWriter, r *http.Request, name, value string, age int) {
	http.SetCookie(w, &http.Cookie{Name: cookieName(r, name), Value: value, Path: "/", MaxAge: age, Secure: r.TLS != nil, HttpOnly: true, SameSite: http.SameSiteStrictMode})
}

func newTokens() (*tokens, error) {
	t := &tokens{}
	if _, err := rand.Read(t.secret[:]); err != nil {
		return nil, err
	}
	var name [4]byte
	if _, err := rand.Read(name[:]); err != nil {
		return nil, err
	}
	t.cookie = "seatboard_" + hex.EncodeToString(name[:])
	return t, nil
}

// visitor is the visitor's id, set as a cookie at the first visit.
func (t *tokens) visitor(w http.ResponseWriter, r *http.Request) string {
	if c, err := r.Cookie(cookieName(r, t.cookie)); err == nil && t.issued(c.Value) {
		return c.Value
	}
	value := t.renew(w, r)
	r.AddCookie(&http.Cookie{Name: cookieName(r, t.cookie), Value: value}) // a page that asks twice gets one
	return value
}

// renew gives a visitor a new id: forms given out before are void.
func (t *tokens) renew(w http.ResponseWriter, r *http.Request) string {
	var b [16]byte
	_, _ = rand.Read(b[:]) // never fails: crypto/rand aborts the program instead
	id := hex.EncodeToString(b[:])
	value := id + "." + t.sign("visitor", id)
	setCookie(w, r, t.cookie, value, 0)
	return value
}

// issued tells whether a cookie value was made by this run: an id that a
// client invents is never adopted.
func (t *tokens) issued(value string) bool {
	id, mac, ok := strings.Cut(value, ".")
	return ok && hmac.Equal([]byte(mac), []byte(t.sign("visitor", id)))
}

// form is the token that a form given to this visitor carries.
func (t *tokens) form(visitor string) string { return t.sign("form", visitor) }

// accepts tells whether a request that changes something carries both.
func (t *tokens) accepts(r *http.Request, given string) bool {
	c, err := r.Cookie(cookieName(r, t.cookie))
	return err == nil && t.issued(c.Value) && hmac.Equal([]byte(given), []byte(t.form(c.Value)))
}

func (t *tokens) sign(purpose, s string) string {
	m := hmac.New(sha256.New, t.secret[:])
	m.Write([]byte(purpose + "\x00" + s))
	return hex.EncodeToString(m.Sum(nil)[:16])
}
