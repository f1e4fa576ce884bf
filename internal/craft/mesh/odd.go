package mesh

import (
	"math"

	"seatboard/internal/craft/tooth"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/num"
)

// Odd is what one tooth does that is bent or short, among sound ones.
type Odd struct {
	Lead   float64 `json:"lead"`      // of the pinion, before the line of centres, when this tooth takes its leaf, radians
	Next   float64 `json:"next_lead"` // when the tooth behind it does
	Ahead  float64 `json:"ahead"`     // most that the pinion is thrown forward against sound teeth, radians
	Behind float64 `json:"behind"`    // most that it falls back
	Drop   float64 `json:"drop"`      // of the wheel before the tooth behind it catches up, radians
	Butts  float64 `json:"butts"`     // radians that a leaf is too far back for this tooth or the next
	Binds  bool    `json:"binds"`     // it fills the space between two leaves
}

// turned is a curve carried round about the centre.
type turned struct {
	of geom.Curve
	by float64
}

// At implements geom.Curve.
func (c turned) At(t float64) (p, d geom.Pt) {
	p, d = c.of.At(t)
	return p.Turn(c.by), d.Turn(c.by)
}

// part is a curve as far as a parameter.
type part struct {
	of geom.Curve
	to float64
}

// At implements geom.Curve.
func (c part) At(t float64) (p, d geom.Pt) {
	p, d = c.of.At(t * c.to)
	return p, d.Times(c.to)
}

// shortened is a flank that is broken off at a radius, in mm.
func shortened(flank []geom.Curve, radius float64) []geom.Curve {
	var out []geom.Curve
	for _, c := range flank {
		if p, _ := c.At(1); p.Len() < radius {
			out = append(out, c)
			continue
		}
		t, err := num.Root(func(t float64) float64 { p, _ := c.At(t); return p.Len() - radius }, 0, 1, 1e-15)
		if err != nil {
			return flank
		}
		cut := part{c, t}
		p, _ := cut.At(1)
		return append(out, cut, tooth.Round{Radius: p.Len(), Begin: p.Angle(), Turn: -p.Angle()})
	}
	return flank
}

// odd turns the pair over one tooth that is bent forwards by so much at its
// tip or short by so much, mm; play is what sound teeth leave, radians of the
// pinion.
func (s shape) odd(g *gearing, play, bent, short float64) Odd {
	flank := s.drive
	if short > 0 {
		flank = shortened(flank, s.wheel.Tip.MM()-short)
	}
	by := bent / s.wheel.Tip.MM()
	if by != 0 {
		bentFlank := make([]geom.Curve, len(flank))
		for i, c := range flank {
			bentFlank[i] = turned{c, by}
		}
		flank = bentFlank
	}
	c := courseOf(closingOf(flank, s.leaf, g.distance), g.pitch, g.parts, fall)
	var o Odd
	if len(c.touches) == 0 {
		return o
	}
	_, lineLeaf := g.line()
	in, butts := handover(&g.drive, &c, g.pitch, g.leafPitch, g.parts)
	out, nextButts := handover(&c, &g.drive, g.pitch, g.leafPitch, g.parts)
	o.Butts = max(butts, nextButts)
	o.Lead = lineLeaf - g.takes(&g.drive, &c, in-g.pitch)
	o.Next = lineLeaf - g.takes(&c, &g.drive, out-g.pitch)
	o.Drop = max(out-c.last, 0)
	for k := int((in - 2*g.pitch) / c.step); float64(k)*c.step < out+g.pitch; k++ {
		sound, now := math.Inf(-1), c.stepped(k)
		for i := -2; i <= 2; i++ {
			x := g.drive.stepped(k+i*g.parts) - float64(i)*g.leafPitch
			sound = max(sound, x)
			if i != 0 {
				now = max(now, x)
			}
		}
		if math.IsInf(now, 0) || math.IsInf(sound, 0) {
			continue
		}
		o.Ahead, o.Behind = max(o.Ahead, now-sound), max(o.Behind, sound-now)
	}
	o.Binds = math.Abs(by)*g.even >= play
	return o
}

// takes is the angle of its leaf at which a tooth first carries in the place of
// the one in front, which gives over for good when the tooth stands at an angle.
func (g *gearing) takes(front, own *course, over float64) float64 {
	ahead := func(a float64) float64 { return own.at(a) - front.at(a+g.pitch) + g.leafPitch - level }
	for k := own.first; float64(k)*own.step < over; k++ {
		if own.stepped(k)+g.leafPitch-front.stepped(k+g.parts) > level {
			x, err := num.Root(ahead, max(own.begin, float64(k-1)*own.step), float64(k)*own.step, 1e-14)
			if err != nil {
				x = float64(k) * own.step
			}
			return own.at(x)
		}
	}
	return own.at(over)
}
