package divide

import (
	"cmp"
	"slices"
)

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	if a < 0 {
		return -a
	}
	return a
}

func lcm(a, b int) int { return a / gcd(a, b) * b }

// ways lists all exact ways for n, the simplest first: a plate before a head,
// one circle before two, then few holes in the sector, then a large circle.
func ways(p Plates, n int, compound bool) []Way {
	var out []Way
	for _, d := range p.Direct {
		for _, h := range d.Rings {
			if h%n == 0 {
				out = append(out, Way{Kind: Direct, By: d.String(), Circle: h, Holes: h / n})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Way) int { return cmp.Compare(a.Holes, b.Holes) })
	var simple, both []Way
	for _, h := range p.Heads {
		for _, plate := range h.Plates {
			simple = append(simple, oneCircle(h, plate, n)...)
			if compound {
				both = append(both, twoCircles(h, plate, n)...)
			}
		}
	}
	// A larger circle lies farther out: what a hole is off counts for less.
	slices.SortStableFunc(simple, func(a, b Way) int { return cmp.Compare(b.Circle, a.Circle) })
	slices.SortStableFunc(both, func(a, b Way) int { return cmp.Compare(a.counted(), b.counted()) })
	return append(append(out, simple...), both...)
}

// counted is how many holes are counted at each division.
func (w Way) counted() int { return w.Holes + max(w.SecondHoles, -w.SecondHoles) }

func oneCircle(h Head, plate []int, n int) []Way {
	var out []Way
	for _, c := range plate {
		if h.Ratio*c%n == 0 {
			move := h.Ratio * c / n
			out = append(out, Way{Kind: Simple, By: h.String(), Ratio: h.Ratio, Circle: c, Turns: move / c, Holes: move % c})
		}
	}
	return out
}

// twoCircles lists the pairs of circles on one plate that reach n and no one
// of which does alone.
func twoCircles(h Head, plate []int, n int) []Way {
	var out []Way
	for i, c := range plate {
		for _, d := range plate[:i] {
			l := lcm(c, d)
			if h.Ratio*l%n != 0 || h.Ratio*c%n == 0 || h.Ratio*d%n == 0 {
				continue
			}
			if w, ok := shared(h, c, d, h.Ratio*l/n); ok {
				out = append(out, w)
			}
		}
	}
	return out
}

// shared makes m steps of 1/lcm(c, d) turn with holes in both circles, as few
// as can be.
func shared(h Head, c, d, m int) (Way, bool) {
	best, found := Way{}, false
	for _, p := range [][2]int{{c, d}, {d, c}} {
		w, ok := split(p[0], p[1], m)
		if ok && (!found || w.counted() < best.counted()) {
			best, found = w, true
		}
	}
	best.Kind, best.By, best.Ratio = Compound, h.String(), h.Ratio
	return best, found
}

// split solves a/c + b/d = m/lcm(c, d) with a ≥ 0 and the smallest b that is
// not nought.
func split(c, d, m int) (Way, bool) {
	l := lcm(c, d)
	one, other := l/c, l/d
	for k := 1; k <= d; k++ {
		for _, b := range [2]int{k, -k} {
			rest := m - b*other
			if rest >= 0 && rest%one == 0 {
				a := rest / one
				return Way{Circle: c, Turns: a / c, Holes: a % c, Second: d, SecondHoles: b}, true
			}
		}
	}
	return Way{}, false
}

// reach lists the counts from least to most that divide exactly.
func reach(p Plates, least, most int, compound bool) []Reached {
	var out []Reached
	for n := least; n <= most; n++ {
		if k := reaches(p, n, compound); k != "" {
			out = append(out, Reached{n, k})
		}
	}
	return out
}

// reaches is the simplest kind of way that n has, "" where there is none.
func reaches(p Plates, n int, compound bool) Kind {
	for _, d := range p.Direct {
		for _, h := range d.Rings {
			if h%n == 0 {
				return Direct
			}
		}
	}
	kind := Kind("")
	for _, h := range p.Heads {
		for _, plate := range h.Plates {
			for i, c := range plate {
				if h.Ratio*c%n == 0 {
					return Simple
				}
				for _, d := range plate[:i] {
					if compound && h.Ratio*lcm(c, d)%n == 0 {
						kind = Compound
					}
				}
			}
		}
	}
	return kind
}
