package missing

import "math/bits"

// index is every multiset of k counts from a range, sorted by product. The
// counts of an entry rise.
type index struct {
	k       int
	entries []entry
}

// entry is a product with its counts: product in the upper 32 bits, then the
// counts with 10 bits each, the unused ones nought.
type entry uint64

// The bounds of an index: counts up to 1023, products up to 2³².
const (
	mostInner   = 3
	mostIndexed = 1_600_000 // entries; more are searched with a count less
	countBits   = 10
)

func (e entry) product() uint64 { return uint64(e) >> 32 }

// count is one of the counts, from 0.
func (e entry) count(i int) int { return int(e>>(countBits*i)) & (1<<countBits - 1) }

// counts gives the counts of the entry, rising.
func (e entry) counts(k int, to []int) []int {
	to = to[:0]
	for i := range k {
		to = append(to, e.count(i))
	}
	return to
}

// multisets is how many multisets of k there are of n things, or a number
// beyond most where there are more.
func multisets(n, k int) int {
	total := 1
	for i := range k {
		total = total * (n + i) / (i + 1)
		if total > 1<<40 {
			return total
		}
	}
	return total
}

// newIndex lists the multisets of k of the given counts, which rise and are
// at most 1023; the product of the largest k is below 2³².
func newIndex(counts []int, k int) *index {
	x := &index{k: k, entries: make([]entry, 0, multisets(len(counts), k))}
	switch k {
	case 1:
		for _, a := range counts {
			x.entries = append(x.entries, entry(a)<<32|entry(a))
		}
		return x
	case 2:
		for i, a := range counts {
			for _, b := range counts[i:] {
				x.entries = append(x.entries, entry(a*b)<<32|entry(a)|entry(b)<<countBits)
			}
		}
	default:
		for i, a := range counts {
			for j, b := range counts[i:] {
				ab, tail := a*b, entry(a)|entry(b)<<countBits
				for _, c := range counts[i+j:] {
					x.entries = append(x.entries, entry(ab*c)<<32|tail|entry(c)<<(2*countBits))
				}
			}
		}
	}
	x.sort()
	return x
}

// sort orders by product, radix by 11 bits, stable: three passes at most for
// 32 bits.
func (x *index) sort() {
	const digit = 11
	most := uint64(0)
	for _, e := range x.entries {
		most = max(most, e.product())
	}
	from, to := x.entries, make([]entry, len(x.entries))
	for shift := 32; shift < 32+bits.Len64(most); shift += digit {
		var begin [1 << digit]int
		for _, e := range from {
			begin[e>>shift&(1<<digit-1)]++
		}
		sum := 0
		for i, n := range begin {
			begin[i], sum = sum, sum+n
		}
		for _, e := range from {
			d := e >> shift & (1<<digit - 1)
			to[begin[d]] = e
			begin[d]++
		}
		from, to = to, from
	}
	x.entries = from
}

// span is the entries, from one to before another, whose product lies from low
// to high.
func (x *index) span(low, high uint64) (from, to int) {
	if low > high || high == 0 {
		return 0, 0
	}
	from = x.first(low)
	return from, x.after(from, high)
}

// first is the place of the first entry with that product or more.
func (x *index) first(product uint64) int {
	if product > 1<<32-1 {
		return len(x.entries)
	}
	low, high := 0, len(x.entries)
	for low < high {
		mid := int(uint(low+high) >> 1)
		if x.entries[mid].product() < product {
			low = mid + 1
		} else {
			high = mid
		}
	}
	return low
}

// after is the place after the last entry with at most that product, looked
// for from a place before it in growing steps.
func (x *index) after(from int, product uint64) int {
	step, low := 1, from
	for low+step < len(x.entries) && x.entries[low+step].product() <= product {
		low += step
		step *= 2
	}
	high := min(low+step, len(x.entries))
	for low < high {
		mid := int(uint(low+high) >> 1)
		if x.entries[mid].product() <= product {
			low = mid + 1
		} else {
			high = mid
		}
	}
	return low
}
