package strikework

import (
	"seatboard/internal/craft/tooth/saw"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Answer is everything that follows from a Query.
type Answer struct {
	Query      Query          `json:"query"`
	Rack       *Rack          `json:"rack"`
	CountWheel *Wheel         `json:"count_wheel"`
	Chosen     []string       `json:"chosen"`
	Working    []cite.Step    `json:"working"`
	Findings   []meas.Finding `json:"findings"`
	Complete   bool           `json:"complete"`
}

// Rack is a rack with its snail.
type Rack struct {
	Steps   int                      `json:"steps"`
	Teeth   int                      `json:"teeth"`
	Tooth   unit.Angle               `json:"tooth"`
	Pitch   meas.Result[unit.Length] `json:"pitch"` // along the tips
	Fall    meas.Result[unit.Length] `json:"fall"`  // of a step, the mean
	Centres unit.Length              `json:"centres"`
	Radii   []unit.Length            `json:"radii"`
	Uneven  unit.Length              `json:"uneven"` // most that a radius is off equal falls
	Depth   unit.Length              `json:"depth"`
	Arms    *Arms                    `json:"arms"` // nil where they cannot be drawn

	// Saw is the teeth as drawn.
	Saw saw.Teeth `json:"-"`
}

// Wheel is a count wheel.
type Wheel struct {
	Divisions int         `json:"divisions"`
	Division  unit.Angle  `json:"division"`
	Slots     []Slot      `json:"slots"`
	Width     unit.Length `json:"width"`
	Depth     unit.Length `json:"depth"`
	Report    string      `json:"report,omitempty"`

	rim float64 // radius, mm
}

// Slot is where the strike stops.
type Slot struct {
	Hour  string     `json:"hour"`  // that was struck: "4", "4 1/2"
	After int        `json:"after"` // blows from the beginning
	Angle unit.Angle `json:"angle"`
}

// Outline is the rack without its arms as one closed path: the teeth, and a rim
// of a width inside their root. The first tooth's tip is on the x axis.
func (r Rack) Outline() geom.Path {
	p := r.Saw.Run(r.Teeth)
	if len(p.Segs) == 0 {
		return p
	}
	inner := r.Saw.Root - rimDepths*(r.Saw.Tip-r.Saw.Root)
	end := p.Segs[len(p.Segs)-1].To
	a, b := end.Angle(), p.From.Angle()
	if a < b {
		a += fullTurn
	}
	p.Segs = append(p.Segs, geom.Seg{To: end.Times(inner / end.Len())}, geom.Seg{To: p.From.Times(inner / p.From.Len()), Bulge: quarterTan(b - a)}, geom.Seg{To: p.From})
	p.Closed = true
	return p
}

// Snail is the snail as one closed path, drawn with y downwards as it stands: 1
// o'clock is in the middle on the x axis, and the hours go against the clock.
func (r Rack) Snail() geom.Path {
	step := fullTurn / float64(len(r.Radii))
	at := func(k int, side float64) geom.Pt {
		return geom.Polar(r.Radii[k].MM(), -(float64(k)+side)*step)
	}
	p := geom.Path{From: at(0, -0.5), Closed: true}
	for k := range r.Radii {
		p.Segs = append(p.Segs, geom.Seg{To: at(k, 0.5), Bulge: quarterTan(-step)})
		if k+1 < len(r.Radii) {
			p.Segs = append(p.Segs, geom.Seg{To: at(k+1, -0.5)})
		}
	}
	p.Segs = append(p.Segs, geom.Seg{To: p.From})
	return p
}

// Outline is the wheel as one closed path, drawn with y downwards as it stands:
// it turns clockwise, so that the hours follow each other against the clock.
func (w Wheel) Outline() geom.Path {
	half := w.Width.MM() / 2 / w.rim
	low := w.rim - w.Depth.MM()
	var p geom.Path
	for i, s := range w.Slots {
		from, to := -float64(s.Angle)+half, -float64(s.Angle)-half
		if i == 0 {
			p.From = geom.Polar(w.rim, from)
		}
		next := -fullTurn - float64(w.Slots[0].Angle) + half
		if i+1 < len(w.Slots) {
			next = -float64(w.Slots[i+1].Angle) + half
		}
		p.Segs = append(p.Segs, geom.Seg{To: geom.Polar(low, from)}, geom.Seg{To: geom.Polar(low, to), Bulge: quarterTan(to - from)},
			geom.Seg{To: geom.Polar(w.rim, to)}, geom.Seg{To: geom.Polar(w.rim, next), Bulge: quarterTan(next - to)})
	}
	p.Closed = true
	p.Segs[len(p.Segs)-1].To = p.From
	return p
}
