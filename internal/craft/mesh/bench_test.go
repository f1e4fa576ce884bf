package mesh

import "testing"

func BenchmarkOneDistance(b *testing.B) {
	p := theoretical(60, 8, 0.95)
	s := shapeOf(p)
	b.ReportAllocs()
	for b.Loop() {
		g := s.at(p.Distance.MM(), 0.2, 200)
		g.turn(s)
	}
}
