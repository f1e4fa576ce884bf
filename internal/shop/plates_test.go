package shop

import (
	"errors"
	"testing"

	"seatboard/internal/craft/divide"
)

func TestPlatesAreKept(t *testing.T) {
	s := open(t)
	read := func(text string) divide.Plates {
		var p divide.Plates
		if err := p.UnmarshalText([]byte(text)); err != nil {
			t.Fatal(err)
		}
		return p
	}
	if k, err := s.Plates(t.Context()); err != nil || !k.Plates.Empty() || k.Version != 0 {
		t.Fatalf("%+v, %v", k, err)
	}
	one, other := read("plate A: 60 72"), read("head 40:1 with 21 23 / 27 29")
	if err := s.KeepPlates(t.Context(), "A. Restorer", 0, one); err != nil {
		t.Fatal(err)
	}
	var p *Problem
	if err := s.KeepPlates(t.Context(), "B. Restorer", 0, other); !errors.As(err, &p) || p.Code != Conflict || p.Differ[0].Before != one.String() {
		t.Fatalf("%v", err)
	}
	if err := s.KeepPlates(t.Context(), "B. Restorer", 0, one); err != nil {
		t.Fatalf("the same once more: %v", err)
	}
	if err := s.KeepPlates(t.Context(), "B. Restorer", 1, other); err != nil {
		t.Fatal(err)
	}
	if k, err := s.Plates(t.Context()); err != nil || k.Plates.String() != other.String() || k.Version != 2 {
		t.Fatalf("%+v, %v", k, err)
	}
	if err := s.KeepPlates(t.Context(), "B. Restorer", 2, divide.Plates{}); !errors.As(err, &p) || p.Code != BadInput {
		t.Fatalf("%v", err)
	}
}
