package web

import (
	"context"
	"fmt"
	"maps"
	"net/http"
	"net/url"
	"slices"
	"sync"
	"time"

	"seatboard/internal/book/making"
	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/front/desk"
	"seatboard/internal/paper/html"
)

const (
	searchesAtOnce = 2 // of either kind; the others wait their turn: each takes some 40 MB
	mostSearches   = 8 // whose answers are remembered
)

// searches are the calculations under way that may take long, and what came
// of them lately, so that what was seen is what is kept.
type searches struct {
	long, short chan struct{} // places to work at: short are those of desk.LongestAtOnce
	mu          sync.Mutex
	all         []*search // the last begun last
}

func newSearches() searches {
	return searches{long: make(chan struct{}, searchesAtOnce), short: make(chan struct{}, searchesAtOnce)}
}

// search is one of them.
type search struct {
	key       string
	short     bool
	sitting   desk.Sitting
	cancel    context.CancelFunc
	followers int           // without any it is stopped
	began     chan struct{} // closed when its turn has come
	ended     chan struct{} // closed when these two are there:
	outcome   desk.Outcome
	err       error
}

func (x *search) over() bool { return closed(x.ended) }

func closed(c chan struct{}) bool {
	select {
	case <-c:
		return true
	default:
		return false
	}
}

// join finds the search of values that is under way or remembered, or begins
// one; leave is to be called in the end. Anew it is no search that was
// stopped. Who wants a short one does not keep a long one going.
func (s *searches) join(c desk.Calculation, values url.Values, short, anew bool) (x *search, leave func()) {
	key := c.Name + "?" + values.Encode()
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, x := range slices.Backward(s.all) {
		over, forsaken := x.over(), x.followers == 0
		switch {
		case x.key != key, anew && over && x.outcome.Stopped, anew && !over && forsaken, !short && !over && x.short:
			continue
		case short && !x.short:
			return x, func() {}
		}
		x.followers++
		return x, func() { s.leave(x) }
	}
	s.all = slices.DeleteFunc(s.all, func(x *search) bool { return x.key == key && x.over() })
	ctx, cancel := context.WithCancel(context.Background())
	x = &search{key: key, short: short, sitting: c.Begin(), cancel: cancel, followers: 1, began: make(chan struct{}), ended: make(chan struct{})}
	s.all = append(s.all, x)
	go s.work(ctx, x, values)
	return x, func() { s.leave(x) }
}

// leave ends following; a search that nobody follows is stopped.
func (s *searches) leave(x *search) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if x.followers--; x.followers == 0 {
		x.cancel()
	}
}

// work waits for its turn and searches.
func (s *searches) work(ctx context.Context, x *search, values url.Values) {
	defer x.cancel()
	turn := s.long
	if x.short {
		turn = s.short
	}
	select {
	case turn <- struct{}{}:
		defer func() { <-turn }()
	case <-ctx.Done(): // it ends at once, with nothing
	}
	close(x.began)
	if x.short {
		within, done := context.WithTimeout(ctx, desk.LongestAtOnce)
		defer done()
		ctx = within
	}
	x.outcome, x.err = x.sitting.Work(ctx, values)
	close(x.ended)
	s.forget()
}

// forget lets go of what had mistakes, and of the oldest that ended.
func (s *searches) forget() {
	s.mu.Lock()
	defer s.mu.Unlock()
	ended := 0
	for i := len(s.all) - 1; i >= 0; i-- {
		if x := s.all[i]; !x.over() {
			continue
		} else if ended++; x.err != nil || ended > mostSearches {
			s.all = slices.Delete(s.all, i, i+1)
		}
	}
}

// worked is what comes of values. A calculation that takes long is remembered;
// where it is not under way already it is given desk.LongestAtOnce. What was
// stopped before its end is told again until it is asked for anew.
func (s *Server) worked(ctx context.Context, c desk.Calculation, values map[string][]string, anew bool) (desk.Outcome, error) {
	if !c.Long() {
		return c.Work(ctx, values)
	}
	values = c.Typed(values)
	x, leave := s.seeking.join(c, values, true, anew)
	defer leave()
	enough := make(<-chan time.Time) // a short one ends by itself
	if !x.short {
		enough = time.After(desk.LongestAtOnce)
	}
	select {
	case <-x.ended:
		return x.outcome, x.err
	case <-enough:
		return c.Work(ctx, values) // another page looks on and lets it go on
	case <-ctx.Done():
		return desk.Outcome{}, ctx.Err()
	}
}

// sheetOf is the sheet of values with what came of them.
func (s *Server) sheetOf(ctx context.Context, c desk.Calculation, values map[string][]string) (making.Sheet, desk.Outcome, error) {
	values = c.Typed(values)
	o, err := s.worked(ctx, c, values, false)
	if err != nil {
		return making.Sheet{Calculation: c.Name, Values: values}, o, err
	}
	is, err := c.SheetOf(values, o)
	return is, o, err
}

// sought is what a page shows of a search under way; script reads it as JSON.
type sought struct {
	Running bool    `json:"running"`
	State   string  `json:"state"` // "waiting", "searching", "done", "faulty"
	Say     string  `json:"say"`
	Far     string  `json:"far"`
	Share   float64 `json:"share"`          // done, 0 to 1
	At      string  `json:"at"`             // where the answer is
	Rows    *string `json:"rows,omitempty"` // the best so far; left out where they are as before
}

// followSearch works values out for as long as somebody looks, and shows the
// best so far. The answer then stands at its address.
func (s *Server) followSearch(w http.ResponseWriter, r *http.Request) error {
	c, err := s.chosen(r)
	if err != nil || !c.Long() {
		return errNoPage
	}
	values := url.Values(c.Typed(r.URL.Query()))
	x, leave := s.seeking.join(c, values, false, true)
	defer leave()
	at := maps.Clone(values)
	if number := r.URL.Query().Get(forClock); number != "" {
		at.Set(forClock, number)
	}
	shown := ""
	s.follow(w, r, func() (event any, last, ok bool) {
		over, f := x.over(), x.sitting.SoFar()
		n := x.now(f)
		n.At = "/desk/" + c.Name + "?" + at.Encode()
		if rows := string(html.Render(f.Doc, html.Options{ID: "s", Level: 3})); rows != shown {
			n.Rows, shown = &rows, rows
		}
		return n, over, true
	})
	return nil
}

// now is how it stands, f being how far it is.
func (x *search) now(f desk.SoFar) sought {
	n := sought{Running: true, State: "searching", Say: "Searching. The best so far, the likeliest first:", Share: f.Share}
	n.Far = phrase.Counted(float64(f.Found)) + " found"
	if f.Share > 0 {
		n.Far = fmt.Sprintf("%.0f %% of it, %s", 100*f.Share, n.Far)
	}
	switch {
	case !x.over() && !closed(x.began):
		n.State, n.Say = "waiting", "Waiting until another search has ended."
	case x.over() && x.err != nil:
		n.Running, n.State, n.Say = false, "faulty", "What was typed has to be looked at again."
	case x.over():
		n.Running, n.State, n.Say = false, "done", "The search has ended."
	}
	return n
}
