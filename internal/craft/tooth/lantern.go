package tooth

import (
	"fmt"
	"math"

	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/unit"
)

// lantern lays out a wheel for pins and the pins.
//
// The centre of a pin describes an epicycloid about the wheel, rolled by the
// whole pitch circle of the pinion; the flank runs beside it by half a pin.
// Next to the pitch circle the epicycloid is sharper than a pin and the curve
// beside it would be undercut: up to where it leaves the space of the pin that
// stands on the pitch circle the side is straight, and action begins a little
// after the line of centres.
func (l layout) lantern() (wheel, pinion Gear, err error) {
	half, pin, e, err := l.pinSpace()
	if err != nil {
		return wheel, pinion, err
	}
	k, err := l.beside(e, pin)
	if err != nil {
		return wheel, pinion, err
	}
	curve := Parallel{Of: e.to(k.last), Off: -pin, From: k.first / k.last, To: 1}
	corner, _ := curve.At(0)
	bottom := l.R - pin - clearance*l.m
	side := geom.Pt{X: math.Sqrt(bottom*bottom - pin*pin), Y: -pin}.Turn(e.Begin)
	flank := []geom.Curve{Straight{side, corner}, curve}
	switch p, _ := curve.At(1); {
	case l.TipRadius > 0:
		top, _, err := tipped(curve, k.last < k.point, l.TipRadius.MM())
		if err != nil {
			return wheel, pinion, err
		}
		flank = append(flank[:1], top...)
	case k.last < k.point:
		flank = append(flank, land(p))
	}
	wheel = Gear{Count: l.Wheel, Driver: true, Pitch: unit.Millimetres(l.R), Tip: unit.Millimetres(end(flank).X), Root: unit.Millimetres(bottom), Half: half, Flank: flank, TipRadius: l.TipRadius}
	pinion = Gear{Count: l.Leaves, Pitch: unit.Millimetres(l.r), Tip: unit.Millimetres(l.r + pin), Root: unit.Millimetres(l.r - pin),
		Half: 2 * math.Asin(pin/(2*l.r)), Lantern: true,
		Flank: []geom.Curve{Round{Centre: geom.Pt{X: l.r}, Radius: pin, Begin: math.Pi, Turn: -math.Pi}}}
	return wheel, pinion, nil
}

// pinSpace is half the angle of a tooth on the pitch circle, half the
// thickness of a pin and the curve that its centre describes.
func (l layout) pinSpace() (half, pin float64, e Epicycloid, err error) {
	pin = l.Pin.MM() / 2
	if pin == 0 {
		pin = pinPart * math.Pi * l.m / 2
	}
	if !(pin > 0 && pin < 0.3*math.Pi*l.m) || pin >= l.r*math.Sin(math.Pi/float64(l.Leaves)) {
		return 0, 0, e, fmt.Errorf("%w: %.3f mm thick on a pitch of %.3f mm", ErrPins, 2*pin, math.Pi*l.m)
	}
	step, wide := 2*math.Pi/float64(l.Wheel), math.Asin(pin/l.R)
	half = min(toothPart*step/2, (1-thinnest)*step/2-wide)
	if l.Tooth > 0 {
		half = l.half()
	}
	return half, pin, Epicycloid{Base: l.R, Rolling: l.r, Begin: half + wide}, nil
}

// pinTurns are the turns of the wheel at which a pin is met, left, and at
// which its tooth comes to a point.
type pinTurns struct{ first, last, point float64 }

// beside finds them on the curve beside the centre of a pin.
func (l layout) beside(e Epicycloid, pin float64) (pinTurns, error) {
	at := func(turn float64) geom.Pt { p, _ := Parallel{Of: e.to(turn), Off: -pin, To: 1}.At(1); return p }
	sharp := root(func(a float64) float64 { return e.bent(a) - pin }, 0, e.arch()) // the epicycloid as sharp as the pin
	point := root(func(a float64) float64 { return at(a).Y }, sharp, e.arch())
	first := root(func(a float64) float64 { return at(a).Turn(-e.Begin).Y + pin }, sharp, point)
	if !(first < point) {
		return pinTurns{}, fmt.Errorf("%w: nothing is left of the tooth", ErrPins)
	}
	k := pinTurns{first, min(point, first+l.lasting()), point}
	if h := l.Height * l.m; h > 0 {
		if high := at(point).Len() - l.R; h > high*(1+1e-12) {
			return k, fmt.Errorf("%w: %.3f modules, and it is pointed at %.3f", ErrHeight, l.Height, high/l.m)
		}
		k.last = root(func(a float64) float64 { return at(a).Len() - l.R - h }, first, point)
	}
	return k, nil
}
