package web

import (
	"context"
	"net/http"

	"seatboard/internal/book/device"
)

// pairedKey is where the device that sent a request stands in its context.
type pairedKey struct{}

// from is a request that a paired device sent.
func from(r *http.Request, d device.Device) *http.Request {
	return r.WithContext(context.WithValue(r.Context(), pairedKey{}, d))
}

// by is who makes a change, for the history: the person whose phone sent the
// request, and otherwise who is at the shop's computer.
func (s *Server) by(r *http.Request) string {
	if d, ok := r.Context().Value(pairedKey{}).(device.Device); ok {
		return d.Name
	}
	return s.By
}
