package pendulum

import "math"

// rodWeight is the mass of the rod: weighed, or from its section, length and
// density.
func (n numbers) rodWeight() float64 {
	if known(n.rodMass) {
		return n.rodMass
	}
	return n.rodSection * n.rodLength * n.rodRho
}

// bobVolume is the volume of the bob's shape, NaN where it is not described.
func (n numbers) bobVolume() float64 {
	r := n.bobDia / 2
	switch n.bob {
	case Cylinder, Disc:
		return math.Pi * r * r * n.bobHigh
	case Sphere:
		return 4.0 / 3 * math.Pi * r * r * r
	case Lens:
		h := n.bobHigh / 2
		return 2 * math.Pi * h * h * (3*lensRadius(r, h) - h) / 3
	}
	return math.NaN()
}

// lensRadius is the radius of the sphere that a cap of radius r and height h
// is cut from.
func lensRadius(r, h float64) float64 { return (r*r + h*h) / (2 * h) }

// bobWeight is the mass of the bob: weighed, or from its shape.
func (n numbers) bobWeight() float64 {
	if known(n.bobMass) {
		return n.bobMass
	}
	return n.bobVolume() * n.bobRho
}

// density is the density of the bob, for the air: as stated, else that of its
// weight and size, else that of its material.
func (n numbers) density() float64 {
	if rho := n.bobMass / n.bobVolume(); !n.rhoStated && known(rho) {
		return rho
	}
	return n.bobRho
}

// bobGyration is the square of the bob's radius of gyration about its own
// centre, the axis square to the plane of the swing; 0 for a bob of no
// described shape.
func (n numbers) bobGyration() float64 {
	r := n.bobDia / 2
	var k2 float64
	switch n.bob {
	case Cylinder:
		k2 = r*r/4 + n.bobHigh*n.bobHigh/12
	case Disc:
		k2 = r * r / 2
	case Sphere:
		k2 = 0.4 * r * r
	case Lens:
		h := n.bobHigh / 2
		s := lensRadius(r, h)
		k2 = (4*s*s*h/3 - s*h*h + h*h*h/5) / (2 * (3*s - h) / 3)
	}
	if math.IsNaN(k2) {
		return 0 // a bob whose size was not stated counts as a point
	}
	return k2
}

// bobHalf is how far the bob reaches below its centre.
func (n numbers) bobHalf() float64 {
	if n.bob == Cylinder {
		return n.bobHigh / 2
	}
	return n.bobDia / 2
}

// sums are mass, first moment and moment of inertia about the suspension.
type sums struct{ m, s, i float64 }

func (a sums) add(m, x, k2 float64) sums {
	return sums{a.m + m, a.s + m*x, a.i + m*(x*x+k2)}
}

// fixed is the sums of what does not move with the bob.
func (n numbers) fixed() sums {
	var a sums
	if m, l := n.rodWeight(), n.rodLength; known(m) && known(l) {
		a = a.add(m, l/2, l*l/12+n.rodWide*n.rodWide/12)
	}
	return a
}

// withBob is the sums with the bob's centre at c; a nut whose place was stated
// is moved by shift.
func (n numbers) withBob(c, shift float64) sums {
	a := n.fixed().add(n.bobWeight(), c, n.bobGyration())
	if known(n.nutMass) {
		a = a.add(n.nutMass, n.nutFrom(c)+shift, 0)
	}
	return a
}

// nutFrom is the place of the nut: as stated, else under the bob at c.
func (n numbers) nutFrom(c float64) float64 {
	if known(n.nutAt) {
		return n.nutAt
	}
	if half := n.bobHalf(); known(half) {
		return c + half
	}
	return c
}

// equivalent is the length of the simple pendulum that beats with it.
func (a sums) equivalent() float64 { return a.i / a.s }

// target is the length the pendulum is to have: by the beat where one was
// stated, else as typed.
func (n numbers) target() float64 {
	if known(n.beat) {
		return n.byBeat()
	}
	return n.length
}

func (n numbers) byBeat() float64 { return n.g() * n.beat * n.beat / (math.Pi * math.Pi) }

// simple is the length to the centre of swing: as typed, else by the beat,
// else that of rod and bob where the bob's place was stated.
func (n numbers) simple() float64 {
	switch {
	case known(n.length):
		return n.length
	case known(n.beat):
		return n.byBeat()
	case known(n.bobCentre):
		return n.compoundLength()
	}
	return math.NaN()
}

// centre is where the bob's centre is, or must be for the target length; NaN
// where no place does.
func (n numbers) centre() float64 {
	if known(n.bobCentre) {
		return n.bobCentre
	}
	l := n.target()
	m, p, c := n.bobEquation(l)
	return (p + math.Sqrt(p*p-4*m*c)) / (2 * m)
}

// bobEquation gives the quadratic m x² − p x + c = 0 of the bob's place x that
// Σ m k² = l Σ m x is; the lower of its two places is the one a clock has.
func (n numbers) bobEquation(l float64) (m, p, c float64) {
	m, p = n.bobWeight(), l*n.bobWeight()
	if known(n.nutMass) && !known(n.nutAt) { // the nut goes with the bob
		m += n.nutMass
		p = l*m - 2*n.nutMass*n.nutFrom(0)
	}
	a := n.withBob(0, 0) // all but the distance of bob and nut
	return m, p, a.i - l*a.s
}

// compoundLength is the equivalent length of rod, bob and nut as they are.
func (n numbers) compoundLength() float64 {
	c := n.centre()
	return n.withBob(c, 0).equivalent()
}

// lift is the rate gained when the bob (and its nut) is raised by d.
func (n numbers) lift(d float64) float64 {
	c := n.centre()
	shift := 0.0
	if known(n.nutAt) {
		shift = -d
	}
	l0, l1 := n.withBob(c, 0).equivalent(), n.withBob(c-d, shift).equivalent()
	return math.Sqrt(l0/l1) - 1
}

// liftSimple is the rate gained when the whole length is shortened by d.
func (n numbers) liftSimple(d float64) float64 {
	l := n.simple()
	return math.Sqrt(l/(l-d)) - 1
}

// raiseFor is how far the bob (and its nut) is to be raised for a change of
// rate; the whole length where rod and bob are not known.
func (n numbers) raiseFor(rate float64) float64 {
	c := n.centre()
	if !known(c) || !known(n.bobWeight()) {
		l := n.simple()
		return l - l/((1+rate)*(1+rate))
	}
	// Σ m k² = l Σ m x once more, now in the way d of bob and nut together.
	now := n.withBob(c, 0)
	l := now.equivalent() / ((1 + rate) * (1 + rate))
	moving := sums{}.add(n.bobWeight(), c, 0)
	if known(n.nutMass) {
		moving = moving.add(n.nutMass, n.nutFrom(c), 0)
	}
	p := 2*moving.s - l*moving.m
	return (p - math.Sqrt(p*p-4*moving.m*(now.i-l*now.s))) / (2 * moving.m)
}
