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
// Next to the pitch circle the epicycloid is sharper than a pin, so that there
// the pin that stands on the pitch circle bounds the tooth: action begins a
// little after the line of centres.
func (l layout) lantern() (wheel, pinion Gear, err error) {
	step := 2 * math.Pi / float64(l.Wheel)
	pin := l.Pin.MM() / 2
	if pin == 0 {
		pin = pinPart * math.Pi * l.m / 2
	}
	if !(pin > 0 && pin < 0.3*math.Pi*l.m) || pin >= l.r*math.Sin(math.Pi/float64(l.Leaves)) {
		return wheel, pinion, fmt.Errorf("%w: %.3f mm thick on a pitch of %.3f mm", ErrPins, 2*pin, math.Pi*l.m)
	}
	wide := math.Asin(pin / l.R)
	half := min(step/4, (1-thinnest)*step/2-wide)
	e := Epicycloid{Base: l.R, Rolling: l.r, Begin: half + wide}
	top, err := l.besidePins(e, pin)
	if err != nil {
		return wheel, pinion, err
	}
	stand, from := geom.Polar(l.R, e.Begin), e.Begin-math.Pi/2
	corner, _ := top[0].At(0)
	bound := Round{Centre: stand, Radius: pin, Begin: from, Turn: corner.Minus(stand).Angle() - from}
	edge, _ := bound.At(0)
	bottom := l.R - pin - clearance*l.m
	side := geom.Pt{X: math.Sqrt(bottom*bottom - pin*pin), Y: -pin}.Turn(e.Begin)
	wheel = Gear{Count: l.Wheel, Driver: true, Pitch: unit.Millimetres(l.R), Tip: unit.Millimetres(end(top).X), Root: unit.Millimetres(bottom),
		Half: half, Flank: append([]geom.Curve{Straight{side, edge}, bound}, top...)}
	pinion = Gear{Count: l.Leaves, Pitch: unit.Millimetres(l.r), Tip: unit.Millimetres(l.r + pin), Root: unit.Millimetres(l.r - pin),
		Half: 2 * math.Asin(pin/(2*l.r)), Lantern: true,
		Flank: []geom.Curve{Round{Centre: geom.Pt{X: l.r}, Radius: pin, Begin: math.Pi, Turn: -math.Pi}}}
	return wheel, pinion, nil
}

// besidePins is the flank of the wheel from where the curve beside the pins
// leaves the pin that stands on the pitch circle.
func (l layout) besidePins(e Epicycloid, pin float64) ([]geom.Curve, error) {
	beside := func(turn float64) geom.Pt { p, _ := Parallel{Of: e.to(turn), Off: -pin, To: 1}.At(1); return p }
	// Where the curve of the epicycloid is as sharp as the pin.
	sharp := root(func(a float64) float64 { return e.bent(a) - pin }, 0, e.arch())
	point := root(func(a float64) float64 { return beside(a).Y }, sharp, e.arch())
	stand := e.after(0)
	first := root(func(a float64) float64 { return beside(a).Minus(stand).Len() - pin }, sharp, point)
	if !(first < point) {
		return nil, fmt.Errorf("%w: nothing is left of the tooth", ErrPins)
	}
	last := min(point, first+l.lasting())
	if h := l.Height * l.m; h > 0 {
		if h > beside(point).Len()-l.R {
			return nil, fmt.Errorf("%w: it is pointed at %.3f modules", ErrHeight, (beside(point).Len()-l.R)/l.m)
		}
		last = root(func(a float64) float64 { return beside(a).Len() - l.R - h }, first, point)
	}
	flank := []geom.Curve{Parallel{Of: e.to(last), Off: -pin, From: first / last, To: 1}}
	if last < point {
		p := beside(last)
		flank = append(flank, land(p))
	}
	return flank, nil
}
