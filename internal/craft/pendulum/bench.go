package pendulum

import (
	"math"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// numbers is the query in SI, NaN where nothing was stated, so that what
// cannot be reckoned comes out NaN by itself.
type numbers struct {
	length, beat                           float64
	gravity, toGravity                     float64
	drift, toDrift                         [2]float64 // of gravity by the doubt of latitude and height
	arc, toArc                             float64
	rodLength, rodSection, rodWide, rodRho float64 // section in m²; rodWide across the swing
	rodMass, alpha                         float64
	bobDia, bobHigh, bobMass, bobRho       float64
	bobCentre, nutMass, nutAt              float64
	pitch, divisions, regulate             float64
	warmer, temp, pressure, humidity       float64
	tray, mass                             float64
	bob                                    string
	rhoStated                              bool // the density of the bob was stated, not its material
}

// bench is one calculation under way.
type bench struct {
	meas.Bench[numbers]
	q Query
}

func known(x float64) bool { return !math.IsNaN(x) }

// lay reads the whole query into a bench.
func lay(q Query) *bench {
	b := &bench{q: q}
	meas.Take(&b.Bench, "length", q.Length, func(n *numbers) *float64 { return &n.length })
	meas.Take(&b.Bench, "beat", q.Beat, func(n *numbers) *float64 { return &n.beat })
	if q.Beats.Set && !q.Beat.Set {
		v := float64(q.Beats.Value)
		b.Set("beats an hour", 3600/v, 3600/(v*v)*float64(q.Beats.U), func(n *numbers) *float64 { return &n.beat })
	}
	meas.Take(&b.Bench, "arc", q.Arc, func(n *numbers) *float64 { return &n.arc })
	meas.Take(&b.Bench, "other arc", q.ToArc, func(n *numbers) *float64 { return &n.toArc })
	b.layRod()
	b.layBob()
	meas.Take(&b.Bench, "pitch of the nut", q.NutPitch, func(n *numbers) *float64 { return &n.pitch })
	b.N.divisions = math.NaN()
	if q.NutDivisions > 0 {
		b.N.divisions = float64(q.NutDivisions)
	}
	meas.Take(&b.Bench, "wanted change", q.Regulate, func(n *numbers) *float64 { return &n.regulate })
	meas.Take(&b.Bench, "change of temperature", q.Warmer, func(n *numbers) *float64 { return &n.warmer })
	meas.Take(&b.Bench, "place of the tray", q.TrayAt, func(n *numbers) *float64 { return &n.tray })
	meas.Take(&b.Bench, "weight of the pendulum", q.Mass, func(n *numbers) *float64 { return &n.mass })
	b.layAir()
	return b
}

func (b *bench) layRod() {
	q := b.q
	meas.Take(&b.Bench, "length of the rod", q.RodLength, func(n *numbers) *float64 { return &n.rodLength })
	meas.Take(&b.Bench, "weight of the rod", q.RodMass, func(n *numbers) *float64 { return &n.rodMass })
	b.N.rodSection, b.N.rodWide, b.N.rodRho, b.N.alpha = math.NaN(), 0, math.NaN(), math.NaN()
	switch {
	case q.RodDiameter.Set:
		d := float64(q.RodDiameter.Value)
		b.Set("diameter of the rod", math.Pi/4*d*d, math.Pi/2*d*float64(q.RodDiameter.U), func(n *numbers) *float64 { return &n.rodSection })
		b.N.rodWide = d * math.Sqrt(0.75) // r²/4 written as w²/12
	case q.RodWidth.Set && q.RodThickness.Set:
		w, t := float64(q.RodWidth.Value), float64(q.RodThickness.Value)
		b.Set("section of the rod", w*t, math.Hypot(float64(q.RodWidth.U)*t, w*float64(q.RodThickness.U)), func(n *numbers) *float64 { return &n.rodSection })
		b.N.rodWide = w
	}
	if m, ok := FindMaterial(q.Rod); ok {
		b.Set("density of "+m.Name+" (rod)", float64(m.Density), m.densityDoubt(), func(n *numbers) *float64 { return &n.rodRho })
		b.Set("expansion of "+m.Name, float64(m.Expansion), m.doubt(), func(n *numbers) *float64 { return &n.alpha })
	}
}

func (b *bench) layBob() {
	q := b.q
	b.N.bob = q.Bob
	meas.Take(&b.Bench, "diameter of the bob", q.BobDiameter, func(n *numbers) *float64 { return &n.bobDia })
	meas.Take(&b.Bench, "height of the bob", q.BobHeight, func(n *numbers) *float64 { return &n.bobHigh })
	meas.Take(&b.Bench, "weight of the bob", q.BobMass, func(n *numbers) *float64 { return &n.bobMass })
	meas.Take(&b.Bench, "centre of the bob", q.BobCentre, func(n *numbers) *float64 { return &n.bobCentre })
	meas.Take(&b.Bench, "weight of the nut", q.NutMass, func(n *numbers) *float64 { return &n.nutMass })
	meas.Take(&b.Bench, "place of the nut", q.NutAt, func(n *numbers) *float64 { return &n.nutAt })
	b.N.bobRho = math.NaN()
	at := func(n *numbers) *float64 { return &n.bobRho }
	b.N.rhoStated = q.BobDensity.Set
	if m, ok := FindMaterial(q.BobMaterial); q.BobDensity.Set {
		meas.Take(&b.Bench, "density of the bob", q.BobDensity, at)
	} else if ok {
		b.Set("density of "+m.Name+" (bob)", float64(m.Density), m.densityDoubt(), at)
	}
}

func (b *bench) layAir() {
	q := b.q
	meas.Take(&b.Bench, "temperature", q.Temperature, func(n *numbers) *float64 { return &n.temp })
	meas.Take(&b.Bench, "pressure", q.Pressure, func(n *numbers) *float64 { return &n.pressure })
	meas.Take(&b.Bench, "humidity", q.Humidity, func(n *numbers) *float64 { return &n.humidity })
	if !known(b.N.temp) {
		b.N.temp = 293.15
	}
	if !known(b.N.pressure) {
		b.N.pressure = 101325
	}
	if !known(b.N.humidity) {
		b.N.humidity = 0.5
	}
}

// layGravity settles on a gravity and says where it is from.
func (b *bench) layGravity() string {
	q := b.q
	at := func(n *numbers) *float64 { return &n.gravity }
	switch {
	case q.Gravity.Set:
		meas.Take(&b.Bench, "gravity", q.Gravity, at)
		return FromTyped
	case q.SecondsPendulum.Set:
		p2 := math.Pi * math.Pi
		b.Set("seconds pendulum", float64(q.SecondsPendulum.Value)*p2, float64(q.SecondsPendulum.U)*p2, at)
		return FromSeconds
	case q.Latitude.Set:
		g := b.place(q.Latitude, q.Height, func(n *numbers) *[2]float64 { return &n.drift })
		b.Set("gravity of the place", g, g*placeDoubt.V, at)
		return FromPlace
	}
	g := float64(unit.StandardGravity)
	b.Set("not knowing the place", g, g*nowhereDoubt.V, at)
	return FromStandard
}

// place is the normal gravity of a place; a doubt of latitude or height
// becomes a knob of its own, as the drift of gravity that it makes.
func (b *bench) place(latitude meas.Reading[unit.Angle], height meas.Reading[unit.Length], drift func(*numbers) *[2]float64) float64 {
	e := findEllipsoid(b.q.Ellipsoid)
	lat, h := float64(latitude.Value), float64(height.Value)
	ul, uh := float64(latitude.U), float64(height.U)
	b.Set("latitude", 0, math.Abs(e.at(lat+ul, h)-e.at(lat-ul, h))/2, func(n *numbers) *float64 { return &drift(n)[0] })
	b.Set("height above the sea", 0, math.Abs(e.at(lat, h+uh)-e.at(lat, h-uh))/2, func(n *numbers) *float64 { return &drift(n)[1] })
	return e.at(lat, h)
}

// g is gravity at the place, there that at the other place.
func (n numbers) g() float64     { return n.gravity + n.drift[0] + n.drift[1] }
func (n numbers) there() float64 { return n.toGravity + n.toDrift[0] + n.toDrift[1] }

// layOtherPlace settles on the gravity of the other place, NaN where none
// was named.
func (b *bench) layOtherPlace() {
	q := b.q
	at := func(n *numbers) *float64 { return &n.toGravity }
	meas.Take(&b.Bench, "gravity of the other place", q.ToGravity, at)
	if !q.ToGravity.Set && q.ToLatitude.Set {
		g := b.place(q.ToLatitude, q.ToHeight, func(n *numbers) *[2]float64 { return &n.toDrift })
		b.Set("gravity of the other place", g, g*placeDoubt.V, at)
	}
}
