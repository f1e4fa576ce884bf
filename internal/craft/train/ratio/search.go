package ratio

import (
	"cmp"
	"math"
	"math/big"
	"slices"
	"sort"

	"seatboard/internal/craft/train"
)

// Limits are what a shop can cut.
type Limits struct {
	Pairs     int         `json:"pairs"` // of wheel and pinion, 1 to 3
	WheelFrom train.Teeth `json:"wheel_from"`
	WheelTo   train.Teeth `json:"wheel_to"`
	LeafFrom  train.Teeth `json:"leaf_from"`
	LeafTo    train.Teeth `json:"leaf_to"`
}

// Train is pairs of wheel and pinion that come near a ratio.
type Train struct {
	Pairs []Pair      `json:"pairs"` // the largest wheel with the largest pinion, and so on
	Ratio *big.Rat    `json:"ratio"`
	Miss  *big.Rat    `json:"miss"`  // less the wanted ratio, exactly
	Teeth train.Teeth `json:"teeth"` // of all its wheels and pinions
	Ways  int         `json:"ways"`  // of making the ratio within the limits, as sets of wheels and of pinions
	Few   bool        `json:"few"`   // none within the limits is as near with fewer teeth
}

// Exact tells whether a train is the wanted ratio itself.
func (t Train) Exact() bool { return t.Miss.Sign() == 0 }

// set is a set of counts by its product, with the least sum that makes it.
type set struct {
	product float64 // a whole number under 2⁵³
	sum     train.Teeth
	counts  [3]train.Teeth
	ways    int
}

// sets lists the products of so many counts, smallest first, each once.
func sets(n int, from, to train.Teeth) []set {
	var out []set
	var grow func(s set, least train.Teeth, depth int)
	grow = func(s set, least train.Teeth, depth int) {
		if depth == n {
			out = append(out, s)
			return
		}
		for c := least; c <= to; c++ {
			next := s
			next.product *= float64(c)
			next.sum += c
			next.counts[depth] = c
			grow(next, c, depth+1)
		}
	}
	grow(set{product: 1, ways: 1}, from, 0)
	slices.SortFunc(out, func(a, b set) int {
		return cmp.Or(cmp.Compare(a.product, b.product), cmp.Compare(a.sum, b.sum))
	})
	kept := out[:0]
	for _, s := range out {
		if last := len(kept) - 1; last >= 0 && kept[last].product == s.product {
			kept[last].ways += s.ways
			continue
		}
		kept = append(kept, s)
	}
	return kept
}

// howMany is the number of sets of n counts out of k, with repeats.
func howMany(n int, k float64) float64 {
	out := 1.0
	for i := range n {
		out *= (k + float64(i)) / float64(i+1)
	}
	return out
}

// found is a candidate: a set of wheels over a set of pinions.
type found struct {
	lowest         [2]int64 // its ratio in lowest terms
	miss           float64  // relative to the wanted ratio
	wheels, leaves *set
}

func (f found) sum() train.Teeth { return f.wheels.sum + f.leaves.sum }

// Search finds the trains that are within a part of a ratio above nought (0.001 is one
// in a thousand): the nearest, and those that none beats in both teeth and
// nearness. It looks at every one within the limits. The list is by nearness,
// then by teeth; each ratio stands once, with the fewest teeth that make it.
func Search(r *big.Rat, l Limits, within float64, nearest int) []Train {
	wheels, leaves := sets(l.Pairs, l.WheelFrom, l.WheelTo), sets(l.Pairs, l.LeafFrom, l.LeafTo)
	all := candidates(r, wheels, leaves, within)
	slices.SortFunc(all, func(a, b found) int {
		return cmp.Or(byMiss(a, b, r), cmp.Compare(a.sum(), b.sum()))
	})
	var out []Train
	at := map[[2]int64]int{}
	fewest := train.Teeth(math.MaxInt32)
	for _, f := range all {
		key := f.lowest
		if i, known := at[key]; known {
			out[i].Ways += f.ways()
			continue
		}
		few := f.sum() < fewest
		if !few && len(out) >= nearest {
			continue
		}
		t := Train{Pairs: f.pairs(), Ratio: big.NewRat(key[0], key[1]), Teeth: f.sum(), Ways: f.ways(), Few: few}
		t.Miss = new(big.Rat).Sub(t.Ratio, r)
		fewest = min(fewest, t.Teeth)
		at[key] = len(out)
		out = append(out, t)
	}
	return out
}

// byMiss puts the one first that misses r by less: exactly, as one that is too
// large by as much as another is too small is as near.
func byMiss(a, b found, r *big.Rat) int {
	x, y := math.Abs(a.miss), math.Abs(b.miss)
	if a.lowest == b.lowest || math.Abs(x-y) > 1e-12*x {
		return cmp.Compare(x, y)
	}
	exactly := func(f found) *big.Rat {
		d := big.NewRat(f.lowest[0], f.lowest[1])
		return d.Abs(d.Sub(d, r))
	}
	return exactly(a).Cmp(exactly(b))
}

// candidates pairs each set of pinions with the sets of wheels that bring it
// within a part of the ratio.
func candidates(r *big.Rat, wheels, leaves []set, within float64) []found {
	high, _ := r.Float64()
	rest, _ := new(big.Rat).Sub(r, new(big.Rat).SetFloat64(high)).Float64()
	var out []found
	for i := range leaves {
		p := &leaves[i]
		want := high * p.product
		from := sort.Search(len(wheels), func(k int) bool { return wheels[k].product >= want*(1-within) })
		for k := from; k < len(wheels) && wheels[k].product <= want*(1+within); k++ {
			f := found{lowest: lowest(int64(wheels[k].product), int64(p.product)), wheels: &wheels[k], leaves: p}
			n, d := float64(f.lowest[0]), float64(f.lowest[1])
			f.miss = (math.FMA(-high, d, n) - rest*d) / (high * d) // of one rounding: a small miss keeps its figures
			out = append(out, f)
		}
	}
	return out
}

// lowest is a ratio in its lowest terms.
func lowest(n, d int64) [2]int64 {
	a, b := n, d
	for b != 0 {
		a, b = b, a%b
	}
	return [2]int64{n / a, d / a}
}

func (f found) ways() int { return f.wheels.ways * f.leaves.ways }

// pairs sets the largest wheel with the largest pinion, and so on.
func (f found) pairs() []Pair {
	var out []Pair
	for i := len(f.wheels.counts) - 1; i >= 0; i-- {
		if f.wheels.counts[i] > 0 {
			out = append(out, Pair{f.wheels.counts[i], f.leaves.counts[i]})
		}
	}
	return out
}
