package web

import (
	"archive/zip"
	"context"
	"crypto/x509"
	"errors"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/netip"
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"seatboard/internal/book/device"
	"seatboard/internal/front/desk"
	"seatboard/internal/io/authority"
	"seatboard/internal/shop"
)

// lan is a shop that is open to phones, with its clock in the test's hand.
type lan struct {
	t        *testing.T
	s        *Server
	keys     string // folder
	ahead    atomic.Int64
	computer *visit
	phones   string // address
	help     string
}

func (l *lan) later(d time.Duration) { l.ahead.Add(int64(d)) }

// openLan opens an empty shop to phones, by https or not.
func openLan(t *testing.T, plain bool) *lan {
	t.Helper()
	l := &lan{t: t, keys: t.TempDir() + "/keys"}
	now := func() time.Time {
		return time.Date(2026, 11, 25, 9, 30, 0, 0, time.UTC).Add(time.Duration(l.ahead.Load()))
	}
	sh, err := shop.Open(t.Context(), t.TempDir(), now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { sh.Close() })
	reach := authority.Reach{Name: "werkstatt.local", Addresses: []netip.Addr{netip.MustParseAddr("127.0.0.1"), netip.MustParseAddr("192.168.1.5"), netip.MustParseAddr("fd00::5")}}
	open := &Lan{Here: func() authority.Reach { return reach }}
	phones, help := loopPort(t), loopPort(t)
	open.Port, l.phones = portOf(phones), "http://"+phones.Addr().String()
	if !plain {
		a, err := authority.Open(authority.Options{Dir: l.keys, Now: time.Now, Reach: func() (authority.Reach, error) { return reach, nil }})
		if err != nil {
			t.Fatal(err)
		}
		open.Authority, open.HelpPort = a, portOf(help)
		l.phones, l.help = "https://"+phones.Addr().String(), "http://"+help.Addr().String()
	}
	if l.s, err = New(Config{Shop: sh, Log: slog.New(slog.DiscardHandler), Version: "test", By: "tester", Lan: open}); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 2)
	go func() { ended <- l.s.ServePhones(ctx, phones) }()
	go func() { ended <- l.s.ServeHelp(ctx, help) }()
	ts := httptest.NewServer(l.s.Handler())
	t.Cleanup(func() { ts.Close(); stop(); <-ended; <-ended })
	l.computer = l.visit(ts.URL)
	return l
}

func loopPort(t *testing.T) net.Listener {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func portOf(l net.Listener) int { return l.Addr().(*net.TCPAddr).Port }

// visit is a browser that trusts the shop's root.
func (l *lan) visit(base string) *visit {
	jar, err := cookiejar.New(nil)
	if err != nil {
		l.t.Fatal(err)
	}
	tr := http.DefaultTransport.(*http.Transport).Clone()
	if a := l.s.Lan.Authority; a != nil {
		tr.TLSClientConfig.RootCAs = x509.NewCertPool()
		tr.TLSClientConfig.RootCAs.AddCert(a.Root())
	}
	l.t.Cleanup(tr.CloseIdleConnections)
	return &visit{t: l.t, base: base, client: &http.Client{Jar: jar, Transport: tr}}
}

// asks lets a phone ask to come in; the digits are those it shows.
func (l *lan) asks(name string) (phone *visit, digits string) {
	l.t.Helper()
	phone = l.visit(l.phones)
	l.computer.get("/phones").post("/phones/code").want(200, `role="img" aria-label="QR code that lets one phone in"`)
	token := l.s.pairing.Watch().Token
	if strings.Contains(l.computer.page, token) {
		l.t.Error("the token stands in the page beside its picture")
	}
	phone.get("/pair").want(200, "Your name")
	phone.post("/pair", "code", token, "name", name).want(200, "compare these figures")
	m := regexp.MustCompile(`<p class="left">(\d{4})</p>`).FindStringSubmatch(phone.page)
	if m == nil {
		l.t.Fatal("the phone shows no figures")
	}
	return phone, m[1]
}

// pair lets a phone in.
func (l *lan) pair(name string) *visit {
	l.t.Helper()
	phone, digits := l.asks(name)
	l.computer.get("/phones").want(200, digits, name)
	l.computer.post("/phones/answer", "digits", digits, "do", "yes").want(200, "is let in")
	phone.get("/pair").want(200, "Open the shop")
	phone.post("/pair/finish").want(200, name+" is let in", "This phone is let in.")
	return phone
}

// shutOut shuts the phone out that was let in last.
func (l *lan) shutOut() {
	l.t.Helper()
	all, err := l.s.Shop.Devices(l.t.Context())
	if err != nil || len(all) == 0 {
		l.t.Fatal(all, err)
	}
	l.computer.get("/phones").post("/phones/"+itoa(all[0].ID)+"/shut-out").want(200, "Shut out")
}

func itoa(n int64) string { return strconv.FormatInt(n, 10) }

var hole = regexp.MustCompile(`\{[a-z]+\}`)

// addresses lists every address the program answers, by the table itself.
func (l *lan) addresses() (out [][2]string) {
	for _, p := range l.s.routes().patterns {
		method, path, ok := strings.Cut(p, " ")
		if !ok {
			method, path = "GET", p
		}
		out = append(out, [2]string{method, hole.ReplaceAllString(strings.TrimSuffix(path, "{$}"), "1")})
	}
	return out
}

// ask sends one request to a handler and gives its answer.
func ask(h http.Handler, method, base, path string, change func(*http.Request)) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, base+path, nil)
	if change != nil {
		change(r)
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

// TestHostMatrix: no address answers under a name that is not the computer's
// now, on either side and on the page of the steps.
func TestHostMatrix(t *testing.T) {
	l := openLan(t, false)
	sides := []struct {
		name  string
		h     http.Handler
		own   []string
		alien []string
	}{
		{"computer", l.s.Handler(), []string{"127.0.0.1", "localhost", "[::1]"}, []string{"werkstatt.local", "192.168.1.5", "[fd00::5]"}},
		{"phones", l.s.Phones(), []string{"werkstatt.local", "WERKSTATT.local", "192.168.1.5", "[fd00::5]", "[::ffff:192.168.1.5]"}, []string{"localhost", "192.168.1.6", "[fd00::5%25eth0]"}},
		{"steps", l.s.Help(), []string{"192.168.1.5"}, []string{"localhost"}},
	}
	everywhere := []string{"evil.example", "werkstatt.local.", "werkstatt.local.evil.example", "localhost.", "127.0.0.1.evil.example", "0.0.0.0", "8.8.8.8", "other.local", ""}
	addresses := l.addresses()
	if len(addresses) < 80 {
		t.Fatalf("only %d addresses were found", len(addresses))
	}
	for _, side := range sides {
		for _, a := range addresses {
			for _, host := range append(everywhere, side.alien...) {
				w := ask(side.h, a[0], "http://x", a[1], func(r *http.Request) { r.Host = host + ":7900" })
				if w.Code != http.StatusMisdirectedRequest {
					t.Fatalf("%s: %s %s answers under %q with %d", side.name, a[0], a[1], host, w.Code)
				}
			}
		}
		for _, host := range side.own {
			if w := ask(side.h, "GET", "http://x", "/", func(r *http.Request) { r.Host = host + ":7900" }); w.Code == http.StatusMisdirectedRequest {
				t.Errorf("%s does not answer under %q", side.name, host)
			}
		}
	}
}

// TestOriginMatrix: no address that changes something takes it from another
// site, and none is read by one, whether or not the phone was let in.
func TestOriginMatrix(t *testing.T) {
	l := openLan(t, false)
	l.pair("Anna")
	from := map[string]map[string]string{
		"another site": {"Origin": "https://evil.example"}, "another port": {"Sec-Fetch-Site": "same-site", "Origin": "https://192.168.1.5:1"},
		"nowhere": {"Origin": "null"}, "a site by its own word": {"Sec-Fetch-Site": "cross-site"},
	}
	for name, h := range map[string]http.Handler{"http://127.0.0.1": l.s.Handler(), "https://192.168.1.5": l.s.Phones()} {
		for _, a := range l.addresses() {
			for who, header := range from {
				if a[0] == "GET" && header["Sec-Fetch-Site"] == "" || a[1] == "/" {
					continue // a read says where it comes from, or comes from no browser
				}
				w := ask(h, a[0], name, a[1], func(r *http.Request) {
					for k, v := range header {
						r.Header.Set(k, v)
					}
				})
				if w.Code != http.StatusForbidden {
					t.Errorf("%s%s %s from %s: %d", name, a[1], a[0], who, w.Code)
				}
			}
		}
	}
}

// TestNoAuthLAN: of all addresses a phone that was not let in reaches those
// few by which it comes to be, and reads nothing of the shop in them.
func TestNoAuthLAN(t *testing.T) {
	l := openLan(t, false)
	if err := l.s.Shop.FillDemo(t.Context(), tidied, desk.WorkSheet); err != nil {
		t.Fatal(err)
	}
	open := map[string]bool{"GET /pair": true, "POST /pair": true, "GET /pair/step": true, "POST /pair/finish": true,
		"GET /certificate": true, "GET /certificate/seatboard-root.crt": true, "GET /assets/1": true}
	seen := 0
	for i, a := range append(l.addresses(), [2]string{"GET", "/assets"}, [2]string{"GET", "/pair/"}, [2]string{"GET", "/nothing"}, [2]string{"HEAD", "/"}, [2]string{"DELETE", "/clocks/1"}) {
		for _, cookie := range []string{"", strings.Repeat("0", 64), "x"} {
			w := ask(l.s.Phones(), a[0], "https://192.168.1.5", a[1], func(r *http.Request) {
				r.RemoteAddr = "192.168.1." + itoa(int64(i%10)) + itoa(int64(i/10%10)) + ":9" // not one that asks too often
				if cookie != "" {
					r.AddCookie(&http.Cookie{Name: "__Host-" + keyCookie, Value: cookie})
				}
			})
			if open[a[0]+" "+a[1]] {
				if seen++; w.Code == http.StatusUnauthorized {
					t.Errorf("%s %s is not reached: %d", a[0], a[1], w.Code)
				}
			} else if w.Code != http.StatusUnauthorized {
				t.Errorf("%s %s answers a phone that was not let in with %d", a[0], a[1], w.Code)
			}
			for _, word := range []string{"2026-0", "Longcase", `href="/clocks`, "data-alarm", "data-work"} {
				if strings.Contains(w.Body.String(), word) {
					t.Errorf("%s %s shows %q to a phone that was not let in", a[0], a[1], word)
				}
			}
		}
	}
	if seen != 3*len(open) {
		t.Errorf("%d of the open addresses are in the table", seen/3)
	}
}

func TestPairing(t *testing.T) {
	l := openLan(t, false)
	anna := l.pair("Anna")
	anna.get("/").want(200, "Which clock is on the bench?", `href="/this-phone"`)
	anna.get("/phones").want(404, "at the shop’s computer")
	anna.get("/pair").want(200, "What it can do")
	anna.get("/clocks/new").post("/clocks", "number", "2026-900", "title", "Bracket clock").want(200)
	anna.get(strings.TrimSuffix(anna.at, "/") + "/history")
	anna.want(200, "Anna")
	l.computer.get("/phones").want(200, "Anna", "Shut Anna out")

	l.later(time.Minute)
	bob, digits := l.asks("Bob")
	token := l.s.pairing.Watch().Token
	l.computer.get("/phones").post("/phones/answer", "digits", digits, "do", "no").want(200, "turned away")
	bob.get("/pair").want(200, "turned away")
	bob.post("/pair", "code", token, "name", "Bob").want(410)
	bob.post("/pair/finish").want(410)
	bob.get("/").want(401, "not let in", "Show a code")
}

// TestCodes: a code that was used, has ended, or is wrong lets nobody in.
func TestCodes(t *testing.T) {
	l := openLan(t, false)
	thief := l.visit(l.phones)
	thief.get("/pair").post("/pair", "code", "ABCD EFGH", "name", "Thief").want(410, "does not count any more")

	begin := func() shop.PairingState {
		l.computer.get("/phones").post("/phones/code").want(200)
		return l.s.pairing.Watch()
	}
	st := begin()
	thief.get("/pair").post("/pair", "code", st.Token, "name", "").want(422, "Enter your name", st.Token)
	thief.post("/pair", "code", st.Token, "name", "First").want(200, "compare these figures")
	second := l.visit(l.phones)
	second.get("/pair").post("/pair", "code", st.Token, "name", "Second").want(410)
	second.get("/pair").post("/pair/finish").want(410)

	st = begin()
	l.later(shop.PairingLasts)
	second.get("/pair").post("/pair", "code", st.Token, "name", "Second").want(410)

	st = begin()
	second.get("/pair").post("/pair", "code", strings.ToLower(st.Typed[:4])+"-"+st.Typed[4:], "name", "Second").want(200, "compare these figures")
	if got := second.get("/pair/step").page; got != string(shop.Asking) {
		t.Errorf("the phone hears %q", got)
	}
	l.later(shop.PairingLasts)
	second.get("/pair").want(200, "took too long")
}

// TestPairBrute: a typed code is burnt after five wrong tries, however many
// follow and wherever they come from.
func TestPairBrute(t *testing.T) {
	l := openLan(t, false)
	l.computer.get("/phones").post("/phones/code").want(200)
	st := l.s.pairing.Watch()
	w := ask(l.s.Phones(), "GET", "https://192.168.1.5", "/pair", nil)
	token, cookie := tokenField.FindStringSubmatch(w.Body.String())[1], w.Result().Cookies()[0]
	codes := map[int]int{}
	guess := func(code string, i int) int {
		body := url.Values{"token": {token}, "code": {code}, "name": {"Thief"}}.Encode()
		r := httptest.NewRequest("POST", "https://192.168.1.5/pair", strings.NewReader(body))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.RemoteAddr = "192.168.2." + itoa(int64(i%10)) + itoa(int64(i/10%10)) + ":9"
		r.AddCookie(cookie)
		w := httptest.NewRecorder()
		l.s.Phones().ServeHTTP(w, r)
		return w.Code
	}
	wrong := "2222222"
	for i := range 1000 {
		codes[guess(wrong+string(st.Typed[7]^1), i)]++
		l.later(time.Second)
		l.s.pairing.Watch()
	}
	if codes[http.StatusUnprocessableEntity] != shop.PairingTries-1 || codes[http.StatusSeeOther] != 0 {
		t.Errorf("answers %v", codes)
	}
	if got := guess(st.Typed, 0); got != http.StatusGone {
		t.Errorf("the burnt code is taken: %d", got)
	}
	l.computer.get("/phones").want(200)
}

// TestSession: a key comes from the shop alone, no cookie is read by script
// or sent without https, and none outlives being shut out.
func TestSession(t *testing.T) {
	l := openLan(t, false)
	chosen := strings.Repeat("ab", 32)
	base, _ := url.Parse(l.phones)
	phone, digits := l.asks("Anna")
	phone.client.Jar.SetCookies(base, []*http.Cookie{{Name: "__Host-" + keyCookie, Value: chosen, Path: "/", Secure: true}})
	l.computer.get("/phones").post("/phones/answer", "digits", digits, "do", "yes").want(200)
	set := map[string]*http.Cookie{}
	phone.client.CheckRedirect = func(r *http.Request, _ []*http.Request) error {
		for _, c := range r.Response.Cookies() {
			set[c.Name] = c
		}
		return nil
	}
	before := tokenField.FindStringSubmatch(phone.get("/pair").page)[1]
	phone.post("/pair/finish").want(200)
	key := set["__Host-"+keyCookie]
	if key == nil || key.Value == chosen || len(key.Value) != 64 {
		t.Fatalf("the key is %+v", key)
	}
	for name, c := range set {
		if !strings.HasPrefix(name, "__Host-") || !c.Secure || !c.HttpOnly || c.SameSite != http.SameSiteStrictMode || c.Path != "/" || c.Domain != "" {
			t.Errorf("%+v", c)
		}
	}
	if after := tokenField.FindStringSubmatch(phone.page)[1]; after == before {
		t.Error("forms from before it was let in still count")
	}
	all, err := l.s.Shop.Devices(t.Context())
	if err != nil || len(all) != 1 || all[0].Key != device.Digest(key.Value) || all[0].Root != l.s.Lan.root() {
		t.Errorf("%+v, %v", all, err)
	}
	phone.get("/clocks").want(200)
	l.shutOut()
	phone.get("/clocks").want(401)
	phone.get("/pair").want(200, "Your name")
	l.pair("Bob").get("/").want(200)
}

// TestLeave: a phone can shut itself out.
func TestLeave(t *testing.T) {
	l := openLan(t, false)
	phone := l.pair("Anna")
	phone.get("/this-phone").post("/this-phone/leave").want(200, "Your name")
	phone.get("/").want(401)
}

// TestRevokeClosesStreams: what a phone has open ends when it is shut out,
// and that of another goes on.
func TestRevokeClosesStreams(t *testing.T) {
	l := openLan(t, false)
	bob := l.pair("Bob")
	l.later(time.Minute)
	anna := l.pair("Anna")
	page := anna.get("/listen/live")
	k, status := page.dial("", nil)
	if k == nil {
		t.Fatalf("no conversation: %d", status)
	}
	k.say(opening{Capture: 1, Train: "96/8 60/8 56/7 30", Path: "processor", Rate: 44100, Label: "Built-in"})
	st := k.hears(func(n now) bool { return n.Running })
	run := st.Run
	r, err := bob.client.Get(bob.base + "/listen/jobs/" + run + "/progress")
	if err != nil || r.StatusCode != 200 {
		t.Fatal(r, err)
	}
	defer r.Body.Close()
	mine, err := anna.client.Get(anna.base + "/listen/jobs/" + run + "/progress")
	if err != nil || mine.StatusCode != 200 {
		t.Fatal(mine, err)
	}
	defer mine.Body.Close()
	l.shutOut()
	ctx, cancel := context.WithTimeout(t.Context(), patience)
	defer cancel()
	for {
		if _, _, err := k.c.Read(ctx); err != nil {
			if ctx.Err() != nil {
				t.Error("live sound goes on after the phone was shut out")
			}
			break
		}
	}
	ended := make(chan error, 1)
	go func() { _, err := io.Copy(io.Discard, mine.Body); ended <- err }()
	select {
	case <-ended:
	case <-time.After(patience):
		t.Error("events go on after the phone was shut out")
	}
	if _, err := r.Body.Read(make([]byte, 1)); err != nil {
		t.Errorf("those of another phone have ended: %v", err)
	}
	live, err := l.s.Shop.Live(run)
	if err != nil {
		t.Fatal(err)
	}
	_ = live.Close()
}

// TestSteps: the port of the steps has the certificate, and nothing else.
func TestSteps(t *testing.T) {
	l := openLan(t, false)
	phone := l.visit(l.help)
	phone.get("/").want(200, authority.Fingerprint(l.s.Lan.Authority.Root()), "Certificate Trust Settings", "CA certificate", rootPath)
	if len(phone.head["Set-Cookie"]) > 0 || strings.Contains(phone.page, `href="/clocks`) {
		t.Error("the steps lead into the shop")
	}
	phone.get(rootPath).want(200)
	if c, err := x509.ParseCertificate([]byte(phone.page)); err != nil || !c.Equal(l.s.Lan.Authority.Root()) || phone.head.Get("Content-Type") != "application/x-x509-ca-cert" {
		t.Errorf("%v, %s", err, phone.head.Get("Content-Type"))
	}
	for _, a := range l.addresses() {
		if a[1] == "/" || a[1] == rootPath || strings.HasPrefix(a[1], "/assets/") {
			continue
		}
		if w := ask(l.s.Help(), a[0], "http://192.168.1.5", a[1], nil); w.Code != http.StatusNotFound && w.Code != http.StatusMethodNotAllowed && w.Code != http.StatusTooManyRequests {
			t.Errorf("%s %s answers with %d", a[0], a[1], w.Code)
		}
	}
}

// TestPlain: by plain http the pages say what is given up.
func TestPlain(t *testing.T) {
	l := openLan(t, true)
	l.computer.get("/phones").want(200, "Anyone in this network can read along", "gives no microphone")
	phone := l.pair("Anna")
	phone.want(200, "anyone in this network can read along")
	phone.get("/").want(200)
	phone.get(stepsPath).want(404, "by plain http")
	l.shutOut()
	phone.get("/").want(401)
}

// TestAlone: without a way for phones the page says how to open one.
func TestAlone(t *testing.T) {
	v := openShop(t, false)
	v.get("/phones").want(200, "seatboard serve --lan", "No phone was ever let in")
	v.post("/phones/code").want(404, "on this computer alone")
	v.get("/pair").want(404)
	v.get(stepsPath).want(404)
	v.get("/this-phone").want(200, "What it can do")
}

// TestKeysAreNotInABackup: neither the key of the certificate nor that of a
// phone leaves with a backup.
func TestKeysAreNotInABackup(t *testing.T) {
	l := openLan(t, false)
	phone := l.pair("Anna")
	base, _ := url.Parse(l.phones)
	var key string
	for _, c := range phone.client.Jar.Cookies(base) {
		if c.Name == "__Host-"+keyCookie {
			key = c.Value
		}
	}
	l.computer.get("/backup/shop.zip").want(200)
	whole := unzipped(t, l.computer.page)
	if !strings.Contains(whole, device.Digest(key)) {
		t.Error("the backup does not know the phone")
	}
	for _, word := range []string{key, "PRIVATE KEY"} {
		if strings.Contains(whole, word) {
			t.Error("a key is in the backup")
		}
	}
}

// TestTooMany: one address without a key, and one phone, ask so often and no
// more.
func TestTooMany(t *testing.T) {
	p := paces{of: map[string]pace{}}
	now := time.Date(2026, 11, 25, 9, 30, 0, 0, time.UTC)
	taken := 0
	for range 10 * atOnce {
		if p.takes("a", now) {
			taken++
		}
	}
	if taken != atOnce || !p.takes("b", now) || p.takes("a", now.Add(eachAfter/2)) || !p.takes("a", now.Add(eachAfter)) {
		t.Errorf("%d were taken", taken)
	}
	for i := range 3 * mostPaces {
		p.takes(time.Duration(i).String(), now)
	}
	if len(p.of) > mostPaces {
		t.Errorf("%d addresses are held", len(p.of))
	}

	g := newGuests()
	var leave []func()
	for range mostOfOne {
		_, l, err := g.enter(1)
		if err != nil {
			t.Fatal(err)
		}
		leave = append(leave, l)
	}
	if _, _, err := g.enter(1); err == nil {
		t.Error("one phone asks without end")
	}
	gone, _, err := g.enter(2)
	if err != nil {
		t.Error("another phone is kept out by the first")
	}
	for _, l := range leave {
		l()
	}
	if _, _, err := g.enter(1); err != nil {
		t.Error("what has ended is still counted")
	}
	g.shut(2)
	select {
	case <-gone:
	default:
		t.Error("what it has open goes on")
	}
	if gone, _, _ := g.enter(2); gone != nil {
		t.Error("it comes in again")
	}
}

// line is a listener that gives out connections with the addresses of a test.
type line struct {
	net.Listener
	left   [][2]string
	closed int
}

func (l *line) Accept() (net.Conn, error) {
	if len(l.left) == 0 {
		return nil, errors.New("no more")
	}
	x := l.left[0]
	l.left = l.left[1:]
	return addressed{of: l, local: tcp(x[0]), remote: tcp(x[1])}, nil
}

func tcp(s string) net.Addr { return net.TCPAddrFromAddrPort(netip.MustParseAddrPort(s)) }

type addressed struct {
	net.Conn
	of            *line
	local, remote net.Addr
}

func (c addressed) LocalAddr() net.Addr  { return c.local }
func (c addressed) RemoteAddr() net.Addr { return c.remote }
func (c addressed) Close() error         { c.of.closed++; return nil }

// TestHomely: connections from outside, or on an address that the world
// reaches, are closed unread.
func TestHomely(t *testing.T) {
	l := &line{left: [][2]string{{"192.168.1.5:1", "8.8.8.8:2"}, {"93.184.216.34:1", "192.168.1.7:2"}, {"[2001:db8::1]:1", "[2001:db8::2]:1"}, {"[::ffff:192.168.1.5]:1", "[::ffff:192.168.1.7]:2"}}}
	c, err := homely{l}.Accept()
	if err != nil || l.closed != 3 || c.RemoteAddr() == nil {
		t.Errorf("%v, %v, %d closed", c, err, l.closed)
	}
}

// TestRolling: a body may pause and may be slow, but not both for ever.
func TestRolling(t *testing.T) {
	start := time.Date(2026, 11, 25, 9, 30, 0, 0, time.UTC)
	for _, c := range []struct {
		after time.Duration
		came  int64
		want  time.Duration
	}{{0, 0, pieceTime}, {50 * time.Second, 10, graceTime}, {50 * time.Second, 60 * leastRate, 50*time.Second + pieceTime}, {time.Hour, 100 << 20, time.Hour + pieceTime}, {time.Hour, 3600, graceTime}} {
		b := &rolling{begun: start, came: c.came}
		if got := b.deadline(start.Add(c.after)).Sub(start); got != c.want {
			t.Errorf("after %v and %d bytes: %v, want %v", c.after, c.came, got, c.want)
		}
	}
	var set []time.Time
	b := &rolling{ReadCloser: io.NopCloser(strings.NewReader("abc")), begun: time.Now(), until: func(at time.Time) error { set = append(set, at); return nil }}
	if all, err := io.ReadAll(b); string(all) != "abc" || err != nil || len(set) < 2 || set[0].IsZero() || !set[len(set)-1].IsZero() {
		t.Errorf("%q, %v, %v", all, err, set)
	}
}

// unzipped is all files of an archive in one.
func unzipped(t *testing.T, archive string) string {
	t.Helper()
	z, err := zip.NewReader(strings.NewReader(archive), int64(len(archive)))
	if err != nil {
		t.Fatal(err)
	}
	var all strings.Builder
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.Copy(&all, r); err != nil {
			t.Fatal(err)
		}
		_ = r.Close()
	}
	return all.String()
}
