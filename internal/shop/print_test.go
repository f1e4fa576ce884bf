package shop

import (
	"bytes"
	"image/color"
	"testing"

	"seatboard/internal/book/job"
	"seatboard/internal/book/picture"
	"seatboard/internal/paper/present"
)

// TestPhotographsArePrinted: what is printed is the picture made of the file,
// and nothing that the camera wrote beside it.
func TestPhotographsArePrinted(t *testing.T) {
	s := deaf(t, t.TempDir(), (&hand{now: began}).Now)
	c := add(t, s, job.Clock{Number: "2026-001"})
	for _, grey := range []uint8{20, 90, 200} {
		if _, err := s.TakePhoto(t.Context(), "A", "dial.jpg", bytes.NewReader(shot(t, color.Gray{grey})), PhotoAsk{Clock: c.ID, Area: "dial", Stage: picture.Before}); err != nil {
			t.Fatal(err)
		}
	}
	got, err := s.Condition(t.Context(), c.ID)
	if err != nil {
		t.Fatal(err)
	}
	d := present.Condition("2026-001", got.Record, got.Photos)
	b, err := s.Print(t.Context(), d, "", "")
	if err != nil || bytes.Count(b, []byte("/DCTDecode")) != 3 || bytes.Contains(b, []byte("GPS")) {
		t.Errorf("%v: %d photographs are in it, GPS %v", err, bytes.Count(b, []byte("/DCTDecode")), bytes.Contains(b, []byte("GPS")))
	}
}
