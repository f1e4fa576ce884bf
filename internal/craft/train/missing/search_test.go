package missing

import (
	"cmp"
	"context"
	"fmt"
	"math/big"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/progress"
	"seatboard/internal/kit/unit"
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
	total, all := p.best(context.Background(), most, watch{}, func(h hit) bool { hits = append(hits, h); return true })
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
		if wheels > 0 && pinions > 0 && rapid.Bool().Draw(t, "sizes") {
			var arbors [2]train.Arbor
			arbors[0].Depth = mm(float64(rapid.IntRange(30, 60).Draw(t, "centres")) / 2)
			x.meshes = []sized{{ref{slot: 0}, ref{slot: 1}, arbors, &train.Bracket{Low: 0.45, High: 0.55}}}
		}
		want := x.found()
		if err := x.prepare(); err != nil {
			t.Fatal(err)
		}
		before := -1.0
		got := map[string]float64{}
		total, all := x.best(context.Background(), 1<<20, watch{}, func(h hit) bool {
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
		if total, all = x.best(context.Background(), 2, watch{}, func(hit) bool { return true }); all && total != len(want) {
			t.Fatalf("where two are wanted %d are found, where all are %d", total, len(want))
		}
	})
}

// Who looks on sees the best so far, in their order, those that keep their
// places first, and the share and what was found grow to the end.
func TestSeenOnTheWay(t *testing.T) {
	x := made(2, 2, 1, doubted(1800, 0.004), upTo(30, 120), upTo(6, 12), upTo(20, 40))
	var arbors [2]train.Arbor
	arbors[0].Depth = mm(24)
	x.meshes = []sized{{ref{slot: 0}, ref{slot: 1}, arbors, &train.Bracket{Low: 0.3, High: 0.8}}}
	if err := x.prepare(); err != nil {
		t.Fatal(err)
	}
	var count progress.Counter
	count.Expect(gapSteps)
	var seen [][]hit
	found, share, sure := 0, 0.0, 0
	w := watch{count: &count, asked: func() bool { return true }, give: func(best []hit, k, n int) {
		if n < found || count.Share() < share || k < sure || k > len(best) {
			t.Fatalf("%d found after %d, %g after %g, %d sure after %d", n, found, count.Share(), share, k, sure)
		}
		found, share, sure = n, count.Share(), k
		seen = append(seen, slices.Clone(best[:k]))
		if !slices.IsSortedFunc(best, func(a, b hit) int { return cmp.Compare(a.cost, b.cost) }) {
			t.Fatalf("out of order: %v", best)
		}
	}}
	var out []hit
	total, all := x.best(context.Background(), 12, w, func(h hit) bool { out = append(out, h); return true })
	if !all || len(seen) < 3 || found != total || int64(total) != count.Found() || count.Share() != 1 {
		t.Errorf("seen %d times; %d of %d found, %d counted, share %g", len(seen), found, total, count.Found(), count.Share())
	}
	for _, s := range seen {
		for i, h := range s {
			if !slices.Equal(h.filled, out[i].filled) {
				t.Fatalf("%v was sure of place %d and is not there: %v", h.filled, i+1, out[i].filled)
			}
		}
	}
}

// A search that is stopped says at what share, and has what it found.
func TestStoppedAnswer(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	q := ask(t, "?/? ?/? ?/? ?", func(q *Query) {
		q.Train.HourArbor, q.Train.Pendulum, q.Module = "1", pendulum(994, 3), meas.OfU(unit.Millimetres(0.7), unit.Millimetres(0.02))
		rows := train.MustChain("?/? ?/? ?/? ?").Arbors()
		rows[0].Depth = mm(30)
		q.Train.Trains[0] = train.Train{Name: train.Going, Arbors: rows}
	})
	p := new(Progress)
	p.SoFar.Look()
	go func() {
		for s := p.SoFar.Look(); s == nil || len(s.Answer.Gaps[0].Candidates) == 0; s = p.SoFar.Look() {
			time.Sleep(time.Millisecond)
		}
		stop()
	}()
	a, err := Solve(ctx, q, p)
	if err != nil || a.Complete || len(a.Gaps[0].Candidates) == 0 || a.Gaps[0].FoundAll {
		t.Fatalf("%v, complete %v, %+v", err, a.Complete, a.Gaps)
	}
	says(t, a, "stopped", "was stopped at", "the best so far")
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
	_, all := x.best(ctx, 50, watch{}, func(hit) bool { n++; stop(); return true })
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
		b.Run(fmt.Sprint(ratio), func(b *testing.B) {
			n := 0
			for b.Loop() {
				_, n = x.list(context.Background())
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
				x.best(context.Background(), 12, watch{}, func(hit) bool { return true })
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
				x.best(context.Background(), 12, watch{}, func(hit) bool { n++; return n < 12 })
			}
		})
	}
}
