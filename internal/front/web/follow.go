package web

import (
	"encoding/json"
	"fmt"
	"net/http"
	"time"
)

// quarter is how long lies between two looks at what goes on.
const quarter = 250 * time.Millisecond

// follow sends how something stands, at most four times a second, until it
// has ended (last), is gone (false), or nobody looks any more.
func (s *Server) follow(w http.ResponseWriter, r *http.Request, now func() (event any, last, ok bool)) {
	c := http.NewResponseController(w)
	_ = c.SetReadDeadline(time.Time{}) // not all connections have one; it is written to for as long as it is read
	w.Header().Set("Content-Type", "text/event-stream")
	for {
		event, last, ok := now()
		if !ok {
			return
		}
		b, err := json.Marshal(event)
		if err != nil {
			s.Log.Error("an event cannot be written", "path", r.URL.Path, "err", err)
			return
		}
		_ = c.SetWriteDeadline(time.Now().Add(10 * time.Second))
		if _, err := fmt.Fprintf(w, "data: %s\n\n", b); err != nil || c.Flush() != nil || last {
			return
		}
		select {
		case <-time.After(quarter):
		case <-r.Context().Done():
			return
		case <-s.closing:
			return
		}
	}
}
