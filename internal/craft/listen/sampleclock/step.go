package sampleclock

import (
	"math"
	"slices"

	"seatboard/internal/kit/unit"
)

// Step is a place where samples were lost or put in.
type Step struct {
	Frame int64         // count of the first sample after it, to about a second of samples
	Size  unit.Duration // positive when samples were put in, so that later beats come late by the count; negative when lost
}

// Change is a place where the number of samples a second changed.
type Change struct {
	Frame int64   // count of the first sample after it, to about twenty seconds
	Rate  float64 // samples in a second of the host's from there on
	Was   float64 // and before
}

const (
	window    = 3    // blocks on each side of a step
	smallest  = 1e-3 // s: no smaller step is looked for
	certainty = 7    // times the scatter of the differences
)

// steady cuts blocks where the slope changes for good: two neighbouring
// intervals that both differ from the two before by more than any crystal.
func steady(b []block) [][]block {
	slope := func(i int) float64 { return (b[i+1].y - b[i].y) / (b[i+1].x - b[i].x) }
	var out [][]block
	from := 0
	for i := from + 2; i+2 < len(b); i++ {
		if math.Abs(slope(i)-slope(i-2)) < float64(absurd.V)/4 {
			continue
		}
		before := (slope(i-2) + slope(i-1)) / 2
		if i-from >= 8 {
			before = middleSlope(b[i-8 : i])
		}
		limit := float64(absurd.V)
		d1, d2 := slope(i)-before, slope(i+1)-before
		// A step is in one interval only; a block in which the rate changed may precede.
		if math.Abs(d1) > limit && math.Abs(d2) > limit && d1*d2 > 0 && math.Abs(d1-d2) < 0.5*math.Abs(d2)+limit && i-from >= 2 {
			out = append(out, b[from:i])
			from = i + 1
			i = from + 1
		}
	}
	if len(b) > from {
		out = append(out, b[from:])
	}
	return out
}

func (f *Fitter) change(after, before []block) Change {
	return Change{
		Frame: f.frame(after[0].n * blockLen),
		Rate:  f.rate * (1 + float64(fromSlope(middleSlope(after)))),
		Was:   f.rate * (1 + float64(fromSlope(middleSlope(before)))),
	}
}

// split cuts a stretch at its steps.
func (f *Fitter) split(b []block) (kept []piece, steps []Step, unseen float64) {
	m := middleSlope(b)
	flat := make([]float64, len(b))
	for i := range b {
		flat[i] = b[i].y - m*b[i].x
	}
	var pieces []piece
	from := 0
	found, unseen := edges(flat)
	for _, i := range found {
		steps = append(steps, f.place(b, flat, i, m))
		pieces = append(pieces, newPiece(b[from:i]))
		from = i
	}
	pieces = append(pieces, newPiece(b[from:]))
	kept = pieces[:0]
	for _, p := range pieces {
		if len(p.blocks) >= 2 {
			kept = append(kept, p)
		}
	}
	return kept, steps, unseen
}

func newPiece(b []block) piece { return piece{b, make([]bool, len(b))} }

// edges lists the blocks that begin a new level, and the least step that is
// told from the scatter.
func edges(flat []float64) (out []int, limit float64) {
	n := len(flat)
	if n < 2*window {
		return nil, math.Inf(1)
	}
	jump := make([]float64, n) // 0 where there is no full window
	var size []float64
	for i := window; i+window <= n; i++ {
		jump[i] = slices.Min(flat[i:i+window]) - slices.Min(flat[i-window:i])
		size = append(size, jump[i])
	}
	limit = smallest
	if len(size) >= 8 {
		mid := median(slices.Clone(size))
		for i := range size {
			size[i] = math.Abs(size[i] - mid)
		}
		limit = max(limit, certainty*1.4826*median(size))
	} else {
		limit = 5 * smallest
	}
	for i := window; i+window <= n; i++ {
		if math.Abs(jump[i]) <= limit {
			continue
		}
		j, peak := i, jump[i]
		for j+1+window <= n && jump[j+1]*jump[i] > 0 && math.Abs(jump[j+1]) > limit && j+1-i < 2*window {
			j++
			if math.Abs(jump[j]) > math.Abs(peak) {
				peak = jump[j]
			}
		}
		out = append(out, edge(jump, i, j, peak))
		i = j
	}
	return out, limit
}

// edge is the block from i to j that begins the new level. Each window holds
// its least, so an upward jump shows in full from the first block after it,
// a downward one up to it.
func edge(jump []float64, i, j int, peak float64) int {
	if peak > 0 {
		for jump[i] < 0.8*peak {
			i++
		}
		return i
	}
	for jump[j] > 0.8*peak {
		j--
	}
	return j
}

// place finds the second in which a step fell, and its size.
func (f *Fitter) place(b []block, flat []float64, i int, slope float64) Step {
	lo, hi := max(i-window, 0), min(i+window, len(b))
	before, after := slices.Min(flat[lo:i]), slices.Min(flat[i:hi])
	step := Step{Frame: f.frame(b[i].n * blockLen), Size: unit.Duration(before - after)}
	middle := (before + after) / 2
	low := func(k, s int) bool { // in the lower of the two levels
		x := float64(b[k].n)*blockLen + (float64(s)+0.5)*slotLen
		return b[k].y+float64(b[k].least[s])-slope*x < middle
	}
	if after > before { // the last second of the old, lower level
		for k := i; k >= max(i-2, 0); k-- {
			for s := slots - 1; s >= 0; s-- {
				if low(k, s) {
					step.Frame = f.frame(b[k].n*blockLen + int64(s) + 1)
					return step
				}
			}
		}
		return step
	}
	for k := max(i-1, 0); k <= min(i+1, len(b)-1); k++ { // the first of the new
		for s := range slots {
			if low(k, s) {
				step.Frame = f.frame(b[k].n*blockLen + int64(s))
				return step
			}
		}
	}
	return step
}
