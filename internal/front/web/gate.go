package web

import (
	"context"
	"net/http"
	"strings"
	"sync"
	"time"

	"seatboard/internal/shop"
)

// unpaired are the addresses that a phone reaches before it is let in; those
// that end in a stroke with all that is under them.
var unpaired = []string{"/pair", "/pair/step", "/pair/finish", stepsPath, rootPath, "/assets/"}

func opens(path string) bool {
	for _, p := range unpaired {
		if path == p || strings.HasSuffix(p, "/") && strings.HasPrefix(path, p) {
			return true
		}
	}
	return false
}

var errAtOnce = &shop.Problem{Code: shop.TooOften, Message: "This phone has too many pages open at once.", Hint: "Close some of them and load this one again."}

// gate lets in what phones ask that were let in, and of all others the few
// addresses by which they come to be.
func (s *Server) gate(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		d, ok, err := s.knownBy(r)
		stranger := from(r, guest{})
		if !ok && !s.mayAsk(w, r) {
			return
		}
		switch {
		case err != nil:
			s.renderProblem(w, stranger, shop.AsProblem(err))
		case !ok && opens(r.URL.Path):
			next.ServeHTTP(w, stranger)
		case !ok:
			s.refuse(w, stranger)
		default:
			gone, leave, problem := s.guests.enter(d.ID)
			if problem != nil {
				s.renderProblem(w, stranger, problem)
				return
			}
			if gone == nil {
				s.refuse(w, stranger)
				return
			}
			defer leave()
			ctx, cancel := context.WithCancel(r.Context())
			defer cancel()
			go func() {
				select {
				case <-gone:
					cancel()
				case <-ctx.Done():
				}
			}()
			next.ServeHTTP(w, from(r.WithContext(ctx), guest{device: d, gone: gone}))
		}
	})
}

// refuse says to a phone that was not let in, or was shut out, what to do.
func (s *Server) refuse(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("WWW-Authenticate", "Pairing")
	if err := s.render(w, r, http.StatusUnauthorized, "not-in", frame{Title: "This phone is not let in"}); err != nil {
		s.Log.Error("the page of refusal failed", "err", err)
		http.Error(w, "This phone is not let in.", http.StatusUnauthorized)
	}
}

const (
	mostOfOne     = 64 // requests of one phone at a time, streams among them
	mostOfAll     = 192
	mostOnOneLine = 32 // requests of one connection at a time; the browser holds the others back
)

// guests are the phones whose requests are being answered. It may be used
// from several goroutines.
type guests struct {
	mu   sync.Mutex
	here map[int64]*stay
	out  map[int64]bool // shut out in this run
	all  int
}

type stay struct {
	n    int
	gone chan struct{}
}

func newGuests() *guests { return &guests{here: map[int64]*stay{}, out: map[int64]bool{}} }

// enter counts a request of a phone; gone is closed when it is shut out, and
// nil where it was just now.
func (p *guests) enter(id int64) (gone <-chan struct{}, leave func(), err *shop.Problem) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.out[id] {
		return nil, nil, nil
	}
	x := p.here[id]
	if x == nil {
		x = &stay{gone: make(chan struct{})}
	}
	if x.n >= mostOfOne || p.all >= mostOfAll {
		return nil, nil, errAtOnce
	}
	p.here[id] = x
	x.n++
	p.all++
	return x.gone, func() {
		p.mu.Lock()
		defer p.mu.Unlock()
		p.all--
		if x.n--; x.n == 0 && p.here[id] == x {
			delete(p.here, id)
		}
	}, nil
}

// shut ends all that a phone has under way, and lets nothing of it begin.
func (p *guests) shut(id int64) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.out[id] = true
	if x := p.here[id]; x != nil {
		close(x.gone)
		delete(p.here, id)
	}
}

const (
	atOnce    = 120 // requests without a key that one address may send at once
	eachAfter = 100 * time.Millisecond
	mostPaces = 1024
)

// paces bound how often an address asks without being let in: a bucket that
// fills again by one each eachAfter.
type paces struct {
	mu sync.Mutex
	of map[string]pace
}

type pace struct {
	left float64
	at   time.Time
}

// takes tells whether an address may ask now.
func (p *paces) takes(who string, now time.Time) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	x, ok := p.of[who]
	if !ok {
		p.makeRoom(now)
		x = pace{left: atOnce, at: now}
	}
	x.left = min(atOnce, x.left+float64(max(now.Sub(x.at), 0))/float64(eachAfter))
	x.at = now
	if ok = x.left >= 1; ok {
		x.left--
	}
	p.of[who] = x
	return ok
}

// makeRoom forgets those that have their full measure again, or everybody
// where there are too many.
func (p *paces) makeRoom(now time.Time) {
	if len(p.of) < mostPaces {
		return
	}
	for who, x := range p.of {
		if now.Sub(x.at) > atOnce*eachAfter {
			delete(p.of, who)
		}
	}
	if len(p.of) >= mostPaces {
		clear(p.of)
	}
}

// mayAsk bounds how often one address asks that shows no key.
func (s *Server) mayAsk(w http.ResponseWriter, r *http.Request) bool {
	if s.paces.takes(remote(r), time.Now()) {
		return true
	}
	w.Header().Set("Retry-After", "2")
	http.Error(w, "Too many requests from this phone at once. Wait two seconds and load the page again.", http.StatusTooManyRequests)
	return false
}
