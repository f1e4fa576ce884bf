package mesh

import (
	"math"
	"testing"

	"seatboard/internal/craft/tooth"
	"seatboard/internal/craft/train"
)

// The pinion stands where the farthest of its leaves is pushed to, whichever
// tooth does it: many points of seven teeth say where that is.
func TestThePairInFrontCarries(t *testing.T) {
	for _, c := range []struct {
		form          tooth.Form
		wheel, leaves train.Teeth
		apart         float64
	}{{tooth.Rounded, 60, 8, -0.3}, {tooth.Arcs, 60, 8, -0.2}, {tooth.Rounded, 120, 16, 0.1}, {tooth.Exact, 96, 12, 0.05}, {tooth.LanternOf, 96, 12, 0.15}} {
		p := pair(t, c.form, c.wheel, c.leaves, 0)
		_, g, turn := turnPair(p, c.apart, 0.2)
		distance := p.Distance.MM() + c.apart
		for i := 0; i < len(turn.Moments); i += 67 {
			m := turn.Moments[i]
			if m.Ratio == 0 {
				continue
			}
			on := math.Inf(-1)
			for j := -3; j <= 3; j++ {
				on = max(on, dense(p, distance, m.Wheel-float64(j)*g.pitch)+float64(j)*g.leafPitch)
			}
			if d := m.Pinion - on; d < -1e-9 || d > 2e-5 {
				t.Errorf("%s %+.2f mm, tooth at %.4f: the pinion stands %.3g rad beyond the many points", c.form, c.apart, m.Wheel, d)
			}
		}
	}
}

// What a tooth carries and what the wheel runs free make a pitch, and the
// lead is counted from where a tooth takes its leaf first.
func TestCarriedAndFreeMakeAPitch(t *testing.T) {
	several := 0
	for _, form := range []tooth.Form{tooth.Exact, tooth.Rounded, tooth.Arcs, tooth.LanternOf} {
		for _, apart := range []float64{-0.35, -0.2, 0, 0.2, 0.5} {
			for _, n := range []train.Teeth{6, 8, 16} {
				_, g, turn := turnPair(pair(t, form, n*15/2, n, 0), apart, 0.2)
				if turn.Apart || turn.Butts > 0 {
					continue
				}
				sum := turn.Drop
				for i, s := range turn.Carries {
					sum += s.To - s.From
					if !(s.To > s.From) || i > 0 && s.From < turn.Carries[i-1].To-1e-9 {
						t.Errorf("%s, %d leaves, %+.2f mm: %v", form, n, apart, turn.Carries)
					}
				}
				if math.Abs(sum-g.pitch) > 1e-9 {
					t.Errorf("%s, %d leaves, %+.2f mm: %v and %.4g free make %.9f of a pitch", form, n, apart, turn.Carries, turn.Drop, sum/g.pitch)
				}
				if math.Abs(turn.In.Wheel-turn.Carries[0].From) > 1e-9 {
					t.Errorf("%s, %d leaves, %+.2f mm: it takes its leaf at %.6f, carries from %.6f", form, n, apart, turn.In.Wheel, turn.Carries[0].From)
				}
				if len(turn.Carries) > 1 {
					several++
				}
			}
		}
	}
	if several == 0 {
		t.Error("nowhere does a tooth carry, stand back and carry again")
	}
}

// Of an exact pair both touch as long as both are on their cycloids; of one
// that lets its leaf go there is never a second.
func TestTwoPairsInTheLimits(t *testing.T) {
	p := pair(t, tooth.Exact, 120, 16, 1.9)
	_, g, turn := turnPair(p, 0, 0)
	w := g.two(turn.Out.Wheel, 1e-9)
	if w == nil || !(w.To-w.From > 0.05*g.pitch) {
		t.Fatalf("exact: %+v of a pitch of %.4f", w, g.pitch)
	}
	for x := 0.0; x <= 1; x += 0.05 {
		a := w.From + x*(w.To-w.From)
		front, behind := dense(p, p.Distance.MM(), a), dense(p, p.Distance.MM(), a-g.pitch)+g.leafPitch
		if d := math.Abs(front - behind); d > 1e-5 {
			t.Errorf("exact: at %.4f the second stands back by %.3g rad", a, d)
		}
	}
	if wider := g.two(turn.Out.Wheel, 1e-3); wider.From > w.From || wider.To < w.To+1e-4 {
		t.Errorf("within more it is %+v, within less %+v", wider, w)
	}
	_, g, turn = turnPair(pair(t, tooth.Rounded, 60, 8, 0), 1.8, 0)
	if w := g.two(turn.Out.Wheel, 1e-3); w != nil || turn.Drop <= 0 {
		t.Errorf("shallow: %+v, drop %v", w, turn.Drop)
	}
}

// A tooth that is bent by next to nothing takes its leaf where a sound one
// does, where that carries twice too.
func TestOddToothTakesItsLeafAsASoundOne(t *testing.T) {
	for _, apart := range []float64{-0.3, -0.2, 0, 0.3} {
		for _, form := range []tooth.Form{tooth.Rounded, tooth.Arcs} {
			s, g, turn := turnPair(pair(t, form, 60, 8, 0), apart, 0.2)
			o := s.odd(&g, turn.Play, 1e-12, 0)
			if math.Abs(o.Lead-turn.Lead()) > 1e-8 || math.Abs(o.Next-turn.Lead()) > 1e-8 {
				t.Errorf("%s %+.1f mm: lead %.9f, next %.9f, of a sound tooth %.9f", form, apart, o.Lead, o.Next, turn.Lead())
			}
		}
	}
	worn, _, turn := turnPair(pair(t, tooth.Rounded, 60, 8, 0), 0, 0.2)
	worn = worn.worn(turn, 0.06, 0.02)
	g := worn.at(turn.Distance, 0.2, parts)
	turn = g.turn(worn)
	if o := worn.odd(&g, turn.Play, 1e-12, 0); len(turn.Carries) < 2 || math.Abs(o.Lead-turn.Lead()) > 1e-8 {
		t.Errorf("worn: carries %v, lead %.9f, of a sound tooth %.9f", turn.Carries, o.Lead, turn.Lead())
	}
}
