package missing

import (
	"math"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// sized is a mesh of which something was measured: its counts must allow one
// module that suits all of it.
type sized struct {
	wheel, pinion ref
	arbors        [2]train.Arbor
	module        *train.Bracket // stated; nil where not
}

// measured tells whether there is anything to hold the counts against.
func (s sized) measured() bool {
	n := 0
	for _, set := range []bool{s.arbors[0].WheelDiameter.Set, s.arbors[1].PinionDiameter.Set && !s.arbors[1].Pinion.Lantern, s.arbors[0].Depth.Set, s.module != nil} {
		if set {
			n++
		}
	}
	return n > 1
}

// suits tells whether a wheel and a pinion fit what was measured.
func (s sized) suits(wheel, pinion int) bool {
	low, high := 0.0, math.Inf(1)
	for _, b := range [...]*train.Bracket{s.module, s.arbors[0].WheelModule(train.Teeth(wheel)), s.arbors[1].PinionModule(train.Teeth(pinion)), s.arbors[0].DepthModule(train.Teeth(wheel), train.Teeth(pinion))} {
		if b != nil {
			low, high = math.Max(low, b.Low), math.Min(high, b.High)
		}
	}
	return low <= high
}

// fits holds filled slots against the sizes.
func (p *problem) fits(filled []int) bool {
	for _, s := range p.meshes {
		if !s.suits(s.wheel.at(filled), s.pinion.at(filled)) {
			return false
		}
	}
	return true
}

// moduleBracket is the stated module with three of its doubts each way, or 4 %
// where none was stated.
func moduleBracket(m meas.Reading[unit.Length]) *train.Bracket {
	if !m.Set {
		return nil
	}
	off := 0.04 * m.Value.MM()
	if m.HasU {
		off = widths * m.U.MM()
	}
	return &train.Bracket{Low: m.Value.MM() - off, High: m.Value.MM() + off}
}

// narrow takes out of a slot's counts those that its mesh cannot have where
// the other member is known; both is true where neither is.
func (s sized) narrow(slots []slot) (both bool) {
	keep := func(r ref, ok func(n int) bool) {
		var left []int
		for _, n := range slots[r.slot].counts {
			if ok(n) {
				left = append(left, n)
			}
		}
		slots[r.slot].counts = left
	}
	switch w, p := s.wheel, s.pinion; {
	case w.slot >= 0 && p.slot >= 0:
		return true
	case w.slot >= 0:
		keep(w, func(n int) bool { return s.suits(n, p.count) })
	case p.slot >= 0:
		keep(p, func(n int) bool { return s.suits(w.count, n) })
	}
	return false
}
