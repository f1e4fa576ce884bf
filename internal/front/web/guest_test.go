package web

import (
	"net/http/httptest"
	"testing"

	"seatboard/internal/book/device"
)

func TestAuthor(t *testing.T) {
	s := &Server{Config: Config{By: "at the computer"}}
	r := httptest.NewRequest("POST", "/", nil)
	if got := s.by(r); got != "at the computer" {
		t.Errorf("a change at the computer is by %q", got)
	}
	if got := s.by(from(r, guest{device: device.Device{ID: 1, Name: "Anna"}})); got != "Anna" {
		t.Errorf("a change from Anna’s phone is by %q", got)
	}
}
