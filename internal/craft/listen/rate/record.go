package rate

import (
	"cmp"
	"math"
	"slices"

	"seatboard/internal/craft/listen/beat"
)

// fewest is the number of beats that a run must have to count: below it
// period, phase and side offset leave nothing to judge the scatter by.
const fewest = 4

// farthest is how many beats one may be from the middle of its run: six years
// of quick ones.
const farthest = 1e9

// odd is the variance of an odd beat: so great that it does not count.
const odd = 1e11

// recordOf sorts the beats into stretches, takes the line out and sets apart
// what is wild at sight.
func recordOf(beats []beat.Beat) (record, error) {
	runs := map[int][]int{}
	latest := 0.0
	for i, b := range beats {
		if t := float64(b.At); !math.IsNaN(t) && !math.IsInf(t, 0) {
			runs[b.Run] = append(runs[b.Run], i)
			latest = max(latest, math.Abs(t))
		}
	}
	r := record{exact: 4e-16*latest + 1e-15}
	longest := 0
	for run, at := range runs {
		slices.SortStableFunc(at, func(a, b int) int { return cmp.Compare(beats[a].N, beats[b].N) })
		middle := float64(beats[at[len(at)/2]].N)
		at = slices.DeleteFunc(at, func(i int) bool { return math.Abs(float64(beats[i].N)-middle) > farthest })
		s := stretch{run: run, at: at}
		for _, i := range at {
			s.n = append(s.n, float64(beats[i].N)-float64(beats[at[0]].N))
			s.y = append(s.y, float64(beats[i].At-beats[at[0]].At))
			s.side = append(s.side, float64(beats[i].N&1)-0.5)
			s.v, s.odd = append(s.v, 1), append(s.odd, false)
		}
		if len(at) < fewest || s.span() < fewest-1 {
			continue
		}
		r.stretches = append(r.stretches, s)
		if len(at) > longest {
			longest, r.about = len(at), s.slope()
		}
	}
	if len(r.stretches) == 0 {
		return r, ErrTooFew
	}
	slices.SortFunc(r.stretches, func(a, b stretch) int { return cmp.Compare(a.run, b.run) })
	for i := range r.stretches {
		s := &r.stretches[i]
		s.since = min(math.Abs(float64(beats[s.at[0]].At-beats[r.stretches[0].at[0]].At)/max(math.Abs(r.about), 1e-9)), 1e9)
		for k := range s.y {
			s.y[k] -= r.about * s.n[k]
		}
		s.screen()
	}
	r.recount()
	return r, nil
}

// recount counts the beats with weight and the sides that have any.
func (r *record) recount() {
	r.used = 0
	for i := range r.stretches {
		s := &r.stretches[i]
		var sides [2]int
		for k := range s.y {
			if !s.odd[k] {
				r.used++
				if s.side[k] > 0 {
					sides[1]++
				} else {
					sides[0]++
				}
			}
		}
		s.sided = sides[0] > 0 && sides[1] > 0
		if !s.sided { // even an odd beat's side must not stand for an offset
			for k := range s.side {
				s.side[k] = 0
			}
		}
	}
}

// longest is the number of beats of the longest stretch.
func (r *record) longest() int {
	n := 0
	for i := range r.stretches {
		n = max(n, len(r.stretches[i].y))
	}
	return n
}

// slope is the median interval over half the stretch: wild beats do not move it.
func (s *stretch) slope() float64 {
	half := max(len(s.y)/2&^1, 2)
	var all []float64
	for i := 0; i+half < len(s.y); i++ {
		if d := s.n[i+half] - s.n[i]; d > 0 {
			all = append(all, (s.y[i+half]-s.y[i])/d)
		}
	}
	if len(all) == 0 {
		return s.y[len(s.y)-1] / s.span()
	}
	return median(all)
}

// screen marks as odd what is far from the six beats about it. The fit looks
// at each again and may take it back.
func (s *stretch) screen() {
	if len(s.y) < 9 {
		return
	}
	var ticks, bends []float64
	for i := 1; i+1 < len(s.y); i++ {
		if s.side[i] != s.side[i-1] && s.side[i] != s.side[i+1] {
			bends = append(bends, 2*s.side[i]*(s.y[i]-(s.y[i-1]+s.y[i+1])/2))
		}
	}
	offset := 0.0
	if len(bends) > 0 {
		offset = median(bends)
	}
	off := make([]float64, len(s.y))
	for i := range s.y {
		ticks = ticks[:0]
		from := min(max(i-3, 0), len(s.y)-7)
		for k := from; k < from+7; k++ {
			if k != i {
				ticks = append(ticks, s.y[k]-offset*s.side[k])
			}
		}
		off[i] = math.Abs(s.y[i] - offset*s.side[i] - median(ticks))
	}
	limit := 6*1.4826*median(slices.Clone(off)) + 1e-12
	marked := 0
	for i, d := range off {
		if s.odd[i] = d > limit; s.odd[i] {
			marked++
		}
	}
	if marked > len(off)/4 { // then it is the clock, not the noise
		clear(s.odd)
	}
	s.weights(nil)
}

// weights sets the variances: odd beats have next to no weight, the others
// that of their base, or 1.
func (s *stretch) weights(base []float64) {
	for i := range s.v {
		s.v[i] = 1
		if base != nil {
			s.v[i] = base[i]
		}
		if s.odd[i] {
			s.v[i] = odd
		}
	}
}

// median sorts x.
func median(x []float64) float64 {
	slices.Sort(x)
	return (x[len(x)/2] + x[(len(x)-1)/2]) / 2
}
