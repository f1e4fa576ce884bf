package missing

import (
	"context"
	"fmt"
	"math/big"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"seatboard/internal/craft/train"
)

func upTo(low, high int) []int {
	var out []int
	for n := low; n <= high; n++ {
		out = append(out, n)
	}
	return out
}

// made is a problem of so many wheels, pinions and escape wheels over the
// given counts.
func made(wheels, pinions, escapes int, target span, w, p, e []int) *problem {
	x := &problem{target: target}
	var meshes []mesh
	for i := range max(wheels, pinions) {
		m := mesh{wheel: ref{-1, 60}, pinion: ref{-1, 8}, known: true}
		if i < wheels {
			x.slots = append(x.slots, slot{Member{train.Going, i, wheelPart}, w})
			m.wheel = ref{slot: len(x.slots) - 1}
		}
		if i < pinions {
			x.slots = append(x.slots, slot{Member{train.Going, i + 1, pinionPart}, p})
			m.pinion = ref{slot: len(x.slots) - 1}
		}
		meshes = append(meshes, m)
	}
	var escape *ref
	if escapes > 0 {
		x.slots = append(x.slots, slot{Member{train.Going, 9, escapePart}, e})
		escape = &ref{slot: len(x.slots) - 1}
	}
	x.model = newModel(newPractices(train.GoodrichTrains()).going, meshes, escape, x.slots, true, target)
	return x
}

func (p *problem) count(t testing.TB, most int) (hits []hit, total int) {
	t.Helper()
	if err := p.prepare(); err != nil {
		t.Fatal(err)
	}
	total, all := p.best(context.Background(), most, nil, func(h hit) bool { hits = append(hits, h); return true })
	if !all {
		t.Fatal("the search was not brought to its end")
	}
	return hits, total
}

// Two wheels of 20 to 160 over one pinion of 5 to 24, and three over three,
// order apart.
func TestCountsOfSets(t *testing.T) {
	w, p := upTo(20, 160), upTo(5, 24)
	if _, n := made(2, 1, 0, whole(480), w, p, nil).count(t, 5); n != 126 {
		t.Errorf("two wheels and a pinion that make 480: %d, want 126", n)
	}
	for want, ratio := range map[int]int{25665: 720, 6266: 1728, 671: 5400} {
		if _, n := made(3, 3, 0, whole(ratio), w, p, nil).count(t, 5); n != want {
			t.Errorf("three wheels and three pinions that make %d: %d, want %d", ratio, n, want)
		}
	}
}

// found is the sets of counts that a search without any index or order finds.
func (p *problem) found() map[string]float64 {
	out := map[string]float64{}
	filled := make([]int, len(p.slots))
	var try func(i int)
	try = func(i int) {
		if i < len(filled) {
			for _, c := range p.slots[i].counts {
				filled[i] = c
				try(i + 1)
			}
			return
		}
		r := big.NewRat(1, 1)
		for k, s := range p.slots {
			if s.pinion() {
				r.Quo(r, big.NewRat(int64(filled[k]), 1))
			} else {
				r.Mul(r, big.NewRat(int64(filled[k]), 1))
			}
		}
		if r.Cmp(p.target.low) < 0 || r.Cmp(p.target.high) > 0 || !p.fits(filled) {
			return
		}
		key, cost := p.key(filled), p.model.cost(filled)
		if was, ok := out[key]; !ok || cost < was {
			out[key] = cost
		}
	}
	try(0)
	return out
}

// key names the counts of each group without their order.
func (p *problem) key(filled []int) string {
	s := ""
	for _, g := range groupSlots(p.slots) {
		var c []int
		for _, i := range g.slots {
			c = append(c, filled[i])
		}
		slices.Sort(c)
		s += fmt.Sprint(c)
	}
	return s
}

// Whatever is missing, the search finds just what trying everything finds,
// each with its least points, in their order.
func TestSearchIsComplete(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		wheels, pinions, escapes := rapid.IntRange(0, 4).Draw(t, "wheels"), rapid.IntRange(0, 3).Draw(t, "pinions"), rapid.IntRange(0, 1).Draw(t, "escapes")
		if wheels+pinions+escapes == 0 || wheels+pinions+escapes > 5 {
			t.Skip()
		}
		low := rapid.IntRange(20, 90).Draw(t, "fewest teeth")
		w := upTo(low, low+rapid.IntRange(1, 9).Draw(t, "more teeth"))
		p := upTo(6, 6+rapid.IntRange(0, 4).Draw(t, "more leaves"))
		e := upTo(28, 28+rapid.IntRange(0, 3).Draw(t, "more escape teeth"))
		target := big.NewRat(1, 1)
		for range wheels {
			target.Mul(target, big.NewRat(int64(rapid.SampledFrom(w).Draw(t, "wheel")), 1))
		}
		for range pinions {
			target.Quo(target, big.NewRat(int64(rapid.SampledFrom(p).Draw(t, "pinion")), 1))
		}
		if escapes > 0 {
			target.Mul(target, big.NewRat(int64(rapid.SampledFrom(e).Draw(t, "escape")), 1))
		}
		s := exact(target)
		if rapid.Bool().Draw(t, "measured") {
			s = doubted(float(target), rapid.Float64Range(1e-4, 3e-2).Draw(t, "doubt"))
		}
		x := made(wheels, pinions, escapes, s, w, p, e)
		if rapid.Bool().Draw(t, "other counts of one") && wheels > 1 {
			x.slots[0].counts = w[:1+len(w)/2] // a group of its own
		}
		want := x.found()
		if err := x.prepare(); err != nil {
			t.Fatal(err)
		}
		before := -1.0
		got := map[string]float64{}
		total, all := x.best(context.Background(), 1<<20, nil, func(h hit) bool {
			if h.cost < before {
				t.Fatalf("%v comes with %g after %g", h.filled, h.cost, before)
			}
			before = h.cost
			got[x.key(h.filled)] = h.cost
			return true
		})
		if !all || total != len(want) || len(got) != len(want) {
			t.Fatalf("found %d and handed on %d, trying everything finds %d; all %v", total, len(got), len(want), all)
		}
		for k, c := range want {
			if d := got[k] - c; d > 1e-9 || d < -1e-9 {
				t.Fatalf("%s has %g points, wants %g", k, got[k], c)
			}
		}
	})
}

// The best few are the first of all.
func TestBestAreTheFirst(t *testing.T) {
	w, p, e := upTo(50, 100), upTo(6, 12), upTo(28, 32)
	s := doubted(1800, 0.002)
	all, total := made(2, 2, 1, s, w, p, e).count(t, 1<<20)
	few, again := made(2, 2, 1, s, w, p, e).count(t, 7)
	if total != again || len(few) != 7 || total != len(all) {
		t.Fatalf("%d and %d found, %d listed", total, again, len(few))
	}
	for i, h := range few {
		if !slices.Equal(h.filled, all[i].filled) {
			t.Errorf("the %d. is %v, was %v", i+1, h.filled, all[i].filled)
		}
	}
}

// A search that is stopped hands on what it has.
func TestStopped(t *testing.T) {
	x := made(3, 3, 1, doubted(21600, 0.004), upTo(20, 160), upTo(5, 24), upTo(12, 45))
	if err := x.prepare(); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	n := 0
	_, all := x.best(ctx, 50, nil, func(hit) bool { n++; stop(); return true })
	if all || n == 0 {
		t.Errorf("%d handed on, all %v", n, all)
	}
}

// The edge of an interval belongs to it, and nothing beyond does.
func TestEdges(t *testing.T) {
	w, p := upTo(20, 160), upTo(5, 24)
	for _, s := range []span{
		{big.NewRat(15, 2), big.NewRat(751, 100), big.NewRat(38, 5), 0.001},
		{big.NewRat(22, 3), big.NewRat(37, 5), big.NewRat(15, 2), 0.001},
		exact(big.NewRat(1447, 49)), exact(new(big.Rat).SetFrac64(1<<62, 3)),
	} {
		x := made(1, 1, 0, s, w, p, nil)
		_, n := x.count(t, 3)
		if want := len(x.found()); n != want {
			t.Errorf("%v to %v: %d, want %d", s.low, s.high, n, want)
		}
	}
}

func BenchmarkIndex(b *testing.B) {
	w := upTo(20, 160)
	for b.Loop() {
		newIndex(w, 3)
	}
}

// BenchmarkLookUp is the search of three wheels and three pinions after the
// index, all of it counted and nothing ranked.
func BenchmarkLookUp(b *testing.B) {
	for _, ratio := range []int{720, 1728, 5400} {
		x := made(3, 3, 0, whole(ratio), upTo(20, 160), upTo(5, 24), nil)
		if err := x.prepare(); err != nil {
			b.Fatal(err)
		}
		tuples := x.list(false)
		b.Run(fmt.Sprint(ratio), func(b *testing.B) {
			n := 0
			for b.Loop() {
				n = 0
				for _, t := range tuples {
					from, to := x.index.span(x.reach(t, nil))
					n += to - from
				}
			}
			b.ReportMetric(float64(n), "found")
		})
	}
}

// BenchmarkThree is any three members missing, the best twelve ranked, after
// the index.
func BenchmarkThree(b *testing.B) {
	w, p, e := upTo(20, 160), upTo(5, 24), upTo(12, 45)
	for _, c := range []struct {
		name                     string
		wheels, pinions, escapes int
		target                   span
	}{{"two wheels, pinion", 2, 1, 0, whole(480)}, {"wheel, two pinions", 1, 2, 0, exact(big.NewRat(5, 4))}, {"wheel, pinion, escape wheel", 1, 1, 1, whole(225)},
		{"three wheels", 3, 0, 0, whole(64 * 60 * 96)}, {"three pinions", 0, 3, 0, exact(big.NewRat(1, 512))}, {"wheel, pinion, escape wheel, measured", 1, 1, 1, doubted(225, 0.003)}} {
		b.Run(c.name, func(b *testing.B) {
			x := made(c.wheels, c.pinions, c.escapes, c.target, w, p, e)
			if err := x.prepare(); err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				x.best(context.Background(), 12, nil, func(hit) bool { return true })
			}
		})
	}
}

// BenchmarkFirstPage is a train of which nothing but its beats for a turn of
// the great wheel is known, to the best twelve.
func BenchmarkFirstPage(b *testing.B) {
	for _, c := range []struct {
		name            string
		wheels, pinions int
		target          span
	}{{"three wheels, three pinions, escape wheel", 3, 3, whole(21600)}, {"the same, measured", 3, 3, doubted(21600, 0.003)}, {"four wheels, four pinions, escape wheel, measured", 4, 4, doubted(86400, 0.003)}} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				x := made(c.wheels, c.pinions, 1, c.target, upTo(20, 160), upTo(5, 24), upTo(12, 45))
				if err := x.prepare(); err != nil {
					b.Fatal(err)
				}
				n := 0
				x.best(context.Background(), 12, nil, func(hit) bool { n++; return n < 12 })
			}
		})
	}
}
