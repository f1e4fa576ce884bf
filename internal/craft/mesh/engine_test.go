package mesh

import (
	"math"
	"testing"

	"seatboard/internal/craft/tooth"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/unit"
)

// theoretical is a pair whose wheel has radial flanks and epicycloids, cut
// off at part of the pointed height, and whose pinion has them too.
func theoretical(wheel, leaves int, height float64) tooth.Pair {
	R, r := float64(wheel)/2, float64(leaves)/2
	half := math.Pi / float64(2*wheel)
	leaf := math.Pi / float64(leaves) * 0.35
	top := pointed(R, r/2, half, height)
	tip := pointed(r, R/2, leaf, 0.7)
	outW, outP := end(top).Len(), end(tip).Len()
	rootW, rootP := R-(outP-r)-0.4, r-(outW-R)-0.4
	return tooth.Pair{
		Wheel: tooth.Gear{Count: train.Teeth(wheel), Driver: true, Pitch: unit.Millimetres(R), Tip: unit.Millimetres(outW), Root: unit.Millimetres(rootW), Half: half,
			Flank: append([]geom.Curve{tooth.Straight{From: geom.Polar(rootW, half), To: geom.Polar(R, half)}}, top...)},
		Pinion: tooth.Gear{Count: train.Teeth(leaves), Pitch: unit.Millimetres(r), Tip: unit.Millimetres(outP), Root: unit.Millimetres(rootP), Half: leaf,
			Flank: append([]geom.Curve{tooth.Straight{From: geom.Polar(rootP, leaf), To: geom.Polar(r, leaf)}}, tip...)},
		Distance: unit.Millimetres(R + r),
	}
}

// pointed is an epicycloid that begins at an angle and runs to part of the
// height at which it comes to the x axis, with a land there.
func pointed(base, rolling, half, part float64) []geom.Curve {
	lo, hi := 0.0, min(math.Pi*rolling/base, 2.5*rolling/(base+rolling))
	for range 200 {
		m := (lo + hi) / 2
		if end([]geom.Curve{tooth.Epicycloid{Base: base, Rolling: rolling, Begin: half, Turn: -m}}).Y > 0 {
			lo = m
		} else {
			hi = m
		}
	}
	height := part * (end([]geom.Curve{tooth.Epicycloid{Base: base, Rolling: rolling, Begin: half, Turn: -lo}}).Len() - base)
	hi, low := lo, 0.0
	for range 200 {
		m := (low + hi) / 2
		if end([]geom.Curve{tooth.Epicycloid{Base: base, Rolling: rolling, Begin: half, Turn: -m}}).Len()-base < height {
			low = m
		} else {
			hi = m
		}
	}
	e := tooth.Epicycloid{Base: base, Rolling: rolling, Begin: half, Turn: -low}
	p := end([]geom.Curve{e})
	return []geom.Curve{e, tooth.Round{Radius: p.Len(), Begin: p.Angle(), Turn: -p.Angle()}}
}

func end(c []geom.Curve) geom.Pt {
	p, _ := c[len(c)-1].At(1)
	return p
}

func TestConjugateAction(t *testing.T) {
	p := theoretical(60, 8, 0.95)
	s := shapeOf(p)
	g := s.at(p.Distance.MM(), 0.2, 200)
	turn := g.turn(s)
	deg := 180 / math.Pi
	t.Logf("in %.4f out %.4f line %.4f approach %.4f recess %.4f drop %.5f butts %g play %g bottom %g", turn.In.Wheel*deg, turn.Out.Wheel*deg, turn.Line*deg, turn.Lead()*deg, turn.After()*deg, turn.Drop*deg, turn.Butts, turn.Play*deg, turn.Bottom)
	for i, m := range turn.Moments {
		if i%20 == 0 || i > len(turn.Moments)-4 {
			t.Logf("%+.5f", m)
		}
	}
}
