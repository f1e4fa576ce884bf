package ratio

import (
	"cmp"
	"math/big"
	"slices"

	"seatboard/internal/craft/train"
)

// mostWays bounds how many ways of one ratio are listed.
const mostWays = 400

// Ways lists trains within the limits that make a ratio of one or more
// exactly, those with the fewest teeth first; 400 at the most.
func Ways(r *big.Rat, l Limits) []Train {
	if !r.Num().IsInt64() || !r.Denom().IsInt64() {
		return nil
	}
	n, d := r.Num().Int64(), r.Denom().Int64()
	var out []Train
	for _, leaves := range sets(l.Pairs, l.LeafFrom, l.LeafTo) {
		p := int64(leaves.product)
		if p%d != 0 || float64(p/d)*float64(n) > 1<<53 {
			continue
		}
		wheels := splits(n*(p/d), l.Pairs, l.WheelFrom, l.WheelTo)
		if len(wheels) == 0 {
			continue
		}
		for _, b := range splits(p, l.Pairs, l.LeafFrom, l.LeafTo) {
			for _, a := range wheels {
				out = append(out, exactTrain(r, a, b))
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Train) int {
		return cmp.Or(cmp.Compare(a.Teeth, b.Teeth), slices.CompareFunc(a.Pairs, b.Pairs, func(x, y Pair) int { return cmp.Compare(x.Pinion, y.Pinion) }))
	})
	return out[:min(len(out), mostWays)]
}

// exactTrain pairs counts, smallest first, to a train, largest first.
func exactTrain(r *big.Rat, wheels, leaves []train.Teeth) Train {
	t := Train{Ratio: r, Miss: new(big.Rat), Ways: 1}
	for i := len(wheels) - 1; i >= 0; i-- {
		t.Pairs = append(t.Pairs, Pair{wheels[i], leaves[i]})
		t.Teeth += wheels[i] + leaves[i]
	}
	return t
}

// splits lists the sets of so many counts with a product, smallest count
// first.
func splits(product int64, n int, from, to train.Teeth) [][]train.Teeth {
	if n == 1 {
		if product >= int64(from) && product <= int64(to) {
			return [][]train.Teeth{{train.Teeth(product)}}
		}
		return nil
	}
	var out [][]train.Teeth
	for c := from; c <= to; c++ {
		if power(int64(c), n) > product {
			break
		}
		if product%int64(c) != 0 {
			continue
		}
		for _, rest := range splits(product/int64(c), n-1, c, to) {
			out = append(out, append([]train.Teeth{c}, rest...))
		}
	}
	return out
}

func power(c int64, n int) int64 {
	out := int64(1)
	for range n {
		out *= c
	}
	return out
}
