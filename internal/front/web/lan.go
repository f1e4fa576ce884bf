package web

import (
	"context"
	"crypto/tls"
	"net"
	"net/http"
	"net/netip"
	"strconv"
	"strings"

	"seatboard/internal/io/authority"
)

// Lan is how phones reach the shop over its own network.
type Lan struct {
	Authority *authority.Authority   // vouches for the computer; nil where phones come by plain http
	Here      func() authority.Reach // how the computer is reached now
	Port      int                    // that phones come to
	HelpPort  int                    // of the certificate and the steps; 0 by plain http
}

// plain tells that phones come by plain http.
func (l *Lan) plain() bool { return l.Authority == nil }

// root is the fingerprint of the certificate that phones trust, "" by plain
// http.
func (l *Lan) root() string {
	if l == nil || l.plain() {
		return ""
	}
	return authority.Fingerprint(l.Authority.Root())
}

// answers tells whether the computer is reached under a host now.
func (l *Lan) answers(host string) bool {
	here := l.Here()
	if host == here.Name {
		return true
	}
	a, err := netip.ParseAddr(host)
	if err != nil || a.Zone() != "" {
		return false
	}
	for _, x := range here.Addresses {
		if x == a.Unmap() {
			return true
		}
	}
	return false
}

// address is that of a page under a host; "" where there is no host.
func (l *Lan) address(host string, port int, path string) string {
	if host == "" {
		return ""
	}
	scheme := "https://"
	if l.plain() || port == l.HelpPort {
		scheme = "http://"
	}
	return scheme + net.JoinHostPort(host, strconv.Itoa(port)) + path
}

// first is the address in figures that a phone is told, "" where the computer
// is in no network.
func (l *Lan) first() string {
	if a := l.Here().First(); a.IsValid() {
		return a.String()
	}
	return ""
}

// name is the .local name that a phone may use, "" where the certificate does
// not vouch for it.
func (l *Lan) name() string {
	if !l.plain() && !l.Authority.Names() {
		return ""
	}
	return l.Here().Name
}

// Phones is what phones reach: host names first, then other sites, then
// whether the phone was let in. It is called where there is a Lan.
func (s *Server) Phones() http.Handler {
	return guard(s.Lan.answers, s.gate(compressed(limited(s.routes()))))
}

// Help is what a phone reaches before it trusts the computer: the
// certificate and the steps, and nothing else.
func (s *Server) Help() http.Handler {
	mux := http.NewServeMux()
	mux.Handle("GET /{$}", s.handle(s.steps))
	mux.Handle("GET "+rootPath, s.handle(s.rootFile))
	mux.Handle("GET /assets/{file}", s.assets)
	reader := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if s.mayAsk(w, r) {
			mux.ServeHTTP(w, from(r, guest{reads: true}))
		}
	})
	return guard(s.Lan.answers, compressed(limited(reader)))
}

// ServePhones answers phones on a listener until ctx ends.
func (s *Server) ServePhones(ctx context.Context, l net.Listener) error {
	var conf *tls.Config
	if !s.Lan.plain() {
		conf = s.Lan.Authority.TLS()
	}
	return s.serve(ctx, homely{l}, s.Phones(), conf)
}

// ServeHelp answers phones that do not trust the computer yet.
func (s *Server) ServeHelp(ctx context.Context, l net.Listener) error {
	return s.serve(ctx, homely{l}, s.Help(), nil)
}

// homely takes connections from private networks and on addresses of private
// networks only.
type homely struct{ net.Listener }

func (l homely) Accept() (net.Conn, error) {
	for {
		c, err := l.Listener.Accept()
		if err != nil || private(c.LocalAddr()) && private(c.RemoteAddr()) {
			return c, err
		}
		_ = c.Close() // a stranger's
	}
}

func private(a net.Addr) bool {
	p, err := netip.ParseAddrPort(a.String())
	return err == nil && authority.Private(p.Addr())
}

// remote is the address a request came from, for limits and the log.
func remote(r *http.Request) string {
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		return r.RemoteAddr
	}
	return strings.ToLower(host)
}
