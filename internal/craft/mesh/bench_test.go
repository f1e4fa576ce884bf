package mesh

import (
	"testing"

	"seatboard/internal/craft/tooth"
)

func BenchmarkOneDistance(b *testing.B) {
	p := pair(b, tooth.Exact, 60, 8, 1.47)
	s := shapeOf(p)
	b.ReportAllocs()
	for b.Loop() {
		g := s.at(p.Distance.MM(), 0.2, 200)
		g.turn(s)
	}
}

func BenchmarkFortyOneDistances(b *testing.B) {
	p := pair(b, tooth.Rounded, 60, 8, 0)
	s := shapeOf(p)
	b.ReportAllocs()
	for b.Loop() {
		s.sweep(p.Distance.MM()-0.4, p.Distance.MM()+0.6, distances, 0.2)
	}
}
