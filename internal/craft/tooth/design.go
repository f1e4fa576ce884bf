package tooth

import (
	"errors"
	"fmt"
	"math"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/unit"
)

// Form is the shape of the teeth of a pair.
type Form string

// The forms.
const (
	Exact     Form = "exact"   // cycloids on both sides of the line of centres, as long as they are needed
	Rounded   Form = "rounded" // cycloidal wheel tooth, rounded short of its point; leaf rounded by half its width
	Arcs      Form = "arcs"    // wheel tooth of two arcs, as commonly found; leaf rounded by half its width
	LanternOf Form = "lantern" // pins in the place of leaves, wheel tooth cycloidal to suit
)

// The proportions that are taken where none is stated.
const (
	clearance  = 0.4     // modules between a tip and the bottom that it reaches into
	overlap    = 1.05    // pitches that a tooth of exact form keeps in action
	shorter    = 0.95    // of the pointed height, for the forms that are rounded
	pinPart    = 1.0 / 3 // of the pitch, diameter of a pin
	thinnest   = 0.05    // of the pitch, the least play of a pin in its space
	Fewest     = 4       // leaves that are laid out
	mostLeaves = 30      // leaves that are laid out
	mostTeeth  = 400     // of a wheel
	leastTeeth = 6       // of a wheel
)

// Why a pair cannot be laid out.
var (
	ErrCount  = errors.New("tooth: a count outside what is laid out")
	ErrModule = errors.New("tooth: the module is not a length above nought")
	ErrHeight = errors.New("tooth: no tooth of this form has this height")
	ErrLeaf   = errors.New("tooth: the leaf does not fit its pitch")
	ErrTooth  = errors.New("tooth: the tooth of the wheel does not fit its pitch")
	ErrPins   = errors.New("tooth: the pins do not fit their pitch")
	ErrForm   = errors.New("tooth: no such form")
)

// Design is what a pair is to be. What is left at nought is taken by the rule
// of its form.
type Design struct {
	Form   Form
	Wheel  train.Teeth // 6 to 400
	Leaves train.Teeth // 4 to 30
	Module unit.Length

	Height float64     // of the wheel's addendum, in modules
	Tooth  float64     // width of a tooth of the wheel on its pitch circle, as a part of the pitch; up to 0.8
	Leaf   float64     // the same of a leaf; up to 0.7
	Pin    unit.Length // diameter of the pins of a lantern

	TipRadius  unit.Length // of the corners at the tips of the wheel, of a form that has them
	RootRadius unit.Length // of the corners at the bottom of the spaces; sharp where 0
	FullRoot   bool        // one round from side to side there
	Rooted     Part        // whose roots are rounded; both where empty
}

// Theoretical is the pair of exact form: it drives at a constant ratio as
// long as two teeth touch.
func Theoretical(wheel, leaves train.Teeth, module unit.Length) (Pair, error) {
	return Design{Form: Exact, Wheel: wheel, Leaves: leaves, Module: module}.Pair()
}

// Practical is the pair of rounded form.
func Practical(wheel, leaves train.Teeth, module unit.Length) (Pair, error) {
	return Design{Form: Rounded, Wheel: wheel, Leaves: leaves, Module: module}.Pair()
}

// Lantern is a wheel with a lantern pinion of pins of a diameter; nought is a
// third of the pitch.
func Lantern(wheel, pins train.Teeth, module, pin unit.Length) (Pair, error) {
	return Design{Form: LanternOf, Wheel: wheel, Leaves: pins, Module: module, Pin: pin}.Pair()
}

// Pair lays the design out, or says with one of the errors above why not.
func (d Design) Pair() (Pair, error) {
	if err := d.check(); err != nil {
		return Pair{}, err
	}
	m := d.Module.MM()
	l := layout{d, m, m * float64(d.Wheel) / 2, m * float64(d.Leaves) / 2}
	lay := l.leaves
	if d.Form == LanternOf {
		lay = l.lantern
	}
	w, p, err := lay()
	if err != nil {
		return Pair{}, err
	}
	if d.RootRadius > 0 || d.FullRoot {
		if d.Rooted != ThePinion {
			if w, err = w.rooted(d.RootRadius.MM(), d.FullRoot); err != nil {
				return Pair{}, err
			}
		}
		if d.Rooted != TheWheel && !p.Lantern {
			if p, err = p.rooted(d.RootRadius.MM(), d.FullRoot); err != nil {
				return Pair{}, err
			}
		}
	}
	return Pair{Wheel: w, Pinion: p, Distance: unit.Millimetres(l.R + l.r)}, nil
}

func (d Design) check() error {
	switch {
	case d.Leaves < Fewest, d.Leaves > mostLeaves, d.Wheel < leastTeeth, d.Wheel > mostTeeth:
		return fmt.Errorf("%w: a wheel of %d, a pinion of %d", ErrCount, d.Wheel, d.Leaves)
	case !(d.Module > 0) || math.IsInf(float64(d.Module), 0):
		return ErrModule
	case !(d.Height >= 0 && d.Height <= 3):
		return fmt.Errorf("%w: %g modules", ErrHeight, d.Height)
	case !(d.Leaf >= 0 && d.Leaf <= 0.7):
		return fmt.Errorf("%w: %g of it", ErrLeaf, d.Leaf)
	case !(d.TipRadius >= 0) || !(d.RootRadius >= 0):
		return ErrModule
	case !(d.Tooth >= 0 && d.Tooth <= 0.8):
		return fmt.Errorf("%w: %g of it", ErrTooth, d.Tooth)
	}
	switch d.Form {
	case Exact, Rounded, Arcs, LanternOf:
		return nil
	}
	return fmt.Errorf("%w: %q", ErrForm, d.Form)
}

// LeafPart is the width of a leaf on the pitch circle as a part of the pitch:
// a third up to ten leaves, two fifths above (Goodrich 1905, ch. XIV, for 6 to
// 9 and for 12; he has 11/36 for 10).
func LeafPart(leaves train.Teeth) float64 {
	if leaves <= 10 {
		return 1.0 / 3
	}
	return 2.0 / 5
}

// layout is a design in millimetres.
type layout struct {
	Design
	m, R, r float64 // module, pitch radii of wheel and pinion
}

// leaves lays out a wheel and a pinion with leaves.
func (l layout) leaves() (wheel, pinion Gear, err error) {
	half, leaf := l.half(), l.Leaf
	if leaf == 0 {
		leaf = LeafPart(l.Leaves)
	}
	leaf *= math.Pi / float64(l.Leaves)
	top, turn, err := l.wheelTop(Epicycloid{Base: l.R, Rolling: l.r / 2, Begin: half})
	if err != nil {
		return wheel, pinion, err
	}
	tip := halfRound(l.r, leaf)
	if l.Form == Exact {
		before := l.lasting() - turn
		tip = Epicycloid{Base: l.r, Rolling: l.R / 2, Begin: leaf}.capped(before * l.R / l.r)
	}
	out, in := end(top).X-l.R, end(tip).X-l.r
	if l.r-out-clearance*l.m <= 0 {
		return wheel, pinion, fmt.Errorf("%w: the pinion has no body left", ErrHeight)
	}
	wheel = radial(l.Wheel, l.R, half, l.R-in-clearance*l.m, top)
	wheel.Driver, wheel.TipRadius = true, l.TipRadius
	return wheel, radial(l.Leaves, l.r, leaf, l.r-out-clearance*l.m, tip), nil
}

// half is half the angle of a tooth of the wheel on its pitch circle.
func (l layout) half() float64 {
	if l.Tooth > 0 {
		return l.Tooth * math.Pi / float64(l.Wheel)
	}
	return toothPart * math.Pi / float64(l.Wheel)
}

// lasting is the angle that the wheel turns through while a tooth of exact
// form is in action.
func (l layout) lasting() float64 { return overlap * 2 * math.Pi / float64(l.Wheel) }

// wheelTop is the flank of the wheel above its pitch circle, and the angle
// that the wheel turns after the line of centres while a leaf touches the
// cycloid.
func (l layout) wheelTop(e Epicycloid) ([]geom.Curve, float64, error) {
	point := e.pointed()
	if e.after(point).Y > 1e-9*l.R {
		return nil, 0, fmt.Errorf("%w: its cycloids do not meet", ErrTooth)
	}
	full := e.out(point) - l.R
	height := l.Height * l.m
	if height == 0 {
		height = shorter * full
	}
	if l.Form != Arcs && height > full*(1+1e-12) {
		return nil, 0, fmt.Errorf("%w: %.3f modules, and it is pointed at %.3f", ErrHeight, height/l.m, full/l.m)
	}
	switch l.Form {
	case Arcs:
		top, err := twoArcs(l.R, e.Begin, height)
		if err != nil || l.TipRadius == 0 {
			return top, 0, err
		}
		top, _, err = tipped(top[0], false, l.TipRadius.MM())
		return top, 0, err
	case Rounded:
		return e.rounded(l.R + height)
	}
	turn := min(point, l.lasting())
	if l.Height > 0 {
		turn = e.reaches(l.R+height, point)
	}
	if l.TipRadius > 0 {
		top, part, err := tipped(e.to(turn), turn < point, l.TipRadius.MM())
		return top, turn * part, err
	}
	return e.topped(turn, point), turn, nil
}

// radial is a gear whose flanks are radial below the pitch circle.
func radial(count train.Teeth, pitch, half, root float64, top []geom.Curve) Gear {
	flank := append([]geom.Curve{Straight{geom.Polar(root, half), geom.Polar(pitch, half)}}, top...)
	return Gear{Count: count, Pitch: unit.Millimetres(pitch), Tip: unit.Millimetres(end(top).X),
		Root: unit.Millimetres(root), Half: half, Flank: flank}
}

// end is the last point of a flank.
func end(flank []geom.Curve) geom.Pt {
	p, _ := flank[len(flank)-1].At(1)
	return p
}
