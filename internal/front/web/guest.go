package web

import (
	"context"
	"net/http"

	"seatboard/internal/book/device"
)

// guest is who sent a request that did not come from the shop's computer.
type guest struct {
	device device.Device   // zero before it is let in
	gone   <-chan struct{} // closed when it is shut out; nil before it is let in
	reads  bool            // it only reads how to install the certificate
}

type guestKey struct{}

// from is a request that a guest sent.
func from(r *http.Request, g guest) *http.Request {
	return r.WithContext(context.WithValue(r.Context(), guestKey{}, g))
}

// guestOf is who sent a request; ok is false where it came from the shop's
// computer.
func guestOf(r *http.Request) (g guest, ok bool) {
	g, ok = r.Context().Value(guestKey{}).(guest)
	return g, ok
}

// paired tells whether the guest was let in.
func (g guest) paired() bool { return g.device.ID != 0 }

// by is who makes a change, for the history: the person whose phone sent the
// request, and otherwise who is at the shop's computer.
func (s *Server) by(r *http.Request) string {
	if g, ok := guestOf(r); ok && g.paired() {
		return g.device.Name
	}
	return s.By
}
