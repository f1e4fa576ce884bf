package pendulum

import (
	"math"

	"seatboard/internal/kit/cite"
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
}

// knob is an input that has an uncertainty.
type knob struct {
	name string
	at   func(*numbers) *float64
	u    float64
}

// bench is one calculation under way.
type bench struct {
	q     Query
	n     numbers
	knobs []knob
	steps []cite.Step
	finds []meas.Finding
}

// set puts a value into its number, with a knob where it has a doubt.
func (b *bench) set(name string, v, u float64, at func(*numbers) *float64) {
	*at(&b.n) = v
	if u > 0 {
		b.knobs = append(b.knobs, knob{name, at, u})
	}
}

// take puts a reading into its number, NaN where it was not stated.
func take[Q unit.Quantity](b *bench, name string, r meas.Reading[Q], at func(*numbers) *float64) {
	*at(&b.n) = math.NaN()
	if r.Set {
		b.set(name, float64(r.Value), float64(r.U), at)
	}
}

func known(x float64) bool { return !math.IsNaN(x) }

// find reckons a result and what its doubt comes from; inputs that play no
// part are left out of the budget.
func find[Q unit.Quantity](b *bench, f func(numbers) float64) meas.Result[Q] {
	inputs := make([]meas.Input, len(b.knobs))
	for i, k := range b.knobs {
		inputs[i] = meas.Input{Name: k.name, Value: *k.at(&b.n), U: k.u}
	}
	r := meas.Propagate(func(x []float64) Q {
		n := b.n
		for i, k := range b.knobs {
			*k.at(&n) = x[i]
		}
		return Q(f(n))
	}, inputs...)
	kept := r.Budget[:0]
	for _, s := range r.Budget {
		if s.Part > 0 {
			kept = append(kept, s)
		}
	}
	r.Budget = kept
	if len(kept) == 0 {
		r.HasU, r.U, r.Budget = false, 0, nil
	}
	return r
}

// step writes a line of working.
func (b *bench) step(name, formula, sums, result string, ref cite.Ref) {
	b.steps = append(b.steps, cite.Step{Name: name, Formula: formula, Numbers: sums, Result: result, Ref: ref})
}

// say adds a finding.
func (b *bench) say(level meas.Level, code, text, next string, ref cite.Ref, about ...string) {
	b.finds = append(b.finds, meas.Finding{Level: level, Code: code, Text: text, Next: next, About: about, Ref: ref})
}

// lay reads the whole query into a bench.
func lay(q Query) *bench {
	b := &bench{q: q}
	take(b, "length", q.Length, func(n *numbers) *float64 { return &n.length })
	take(b, "beat", q.Beat, func(n *numbers) *float64 { return &n.beat })
	if q.Beats.Set && !q.Beat.Set {
		v := float64(q.Beats.Value)
		b.set("beats an hour", 3600/v, 3600/(v*v)*float64(q.Beats.U), func(n *numbers) *float64 { return &n.beat })
	}
	take(b, "arc", q.Arc, func(n *numbers) *float64 { return &n.arc })
	take(b, "other arc", q.ToArc, func(n *numbers) *float64 { return &n.toArc })
	b.layRod()
	b.layBob()
	take(b, "pitch of the nut", q.NutPitch, func(n *numbers) *float64 { return &n.pitch })
	b.n.divisions = math.NaN()
	if q.NutDivisions > 0 {
		b.n.divisions = float64(q.NutDivisions)
	}
	take(b, "wanted change", q.Regulate, func(n *numbers) *float64 { return &n.regulate })
	take(b, "change of temperature", q.Warmer, func(n *numbers) *float64 { return &n.warmer })
	take(b, "place of the tray", q.TrayAt, func(n *numbers) *float64 { return &n.tray })
	take(b, "weight of the pendulum", q.Mass, func(n *numbers) *float64 { return &n.mass })
	b.layAir()
	return b
}

func (b *bench) layRod() {
	q := b.q
	take(b, "length of the rod", q.RodLength, func(n *numbers) *float64 { return &n.rodLength })
	take(b, "weight of the rod", q.RodMass, func(n *numbers) *float64 { return &n.rodMass })
	b.n.rodSection, b.n.rodWide, b.n.rodRho, b.n.alpha = math.NaN(), 0, math.NaN(), math.NaN()
	switch {
	case q.RodDiameter.Set:
		d := float64(q.RodDiameter.Value)
		b.set("diameter of the rod", math.Pi/4*d*d, math.Pi/2*d*float64(q.RodDiameter.U), func(n *numbers) *float64 { return &n.rodSection })
		b.n.rodWide = d * math.Sqrt(0.75) // r²/4 written as w²/12
	case q.RodWidth.Set && q.RodThickness.Set:
		w, t := float64(q.RodWidth.Value), float64(q.RodThickness.Value)
		b.set("section of the rod", w*t, math.Hypot(float64(q.RodWidth.U)*t, w*float64(q.RodThickness.U)), func(n *numbers) *float64 { return &n.rodSection })
		b.n.rodWide = w
	}
	if m, ok := FindMaterial(q.Rod); ok {
		b.set("density of "+m.Name+" (rod)", float64(m.Density), m.densityDoubt(), func(n *numbers) *float64 { return &n.rodRho })
		b.set("expansion of "+m.Name, float64(m.Expansion), m.doubt(), func(n *numbers) *float64 { return &n.alpha })
	}
}

func (b *bench) layBob() {
	q := b.q
	b.n.bob = q.Bob
	take(b, "diameter of the bob", q.BobDiameter, func(n *numbers) *float64 { return &n.bobDia })
	take(b, "height of the bob", q.BobHeight, func(n *numbers) *float64 { return &n.bobHigh })
	take(b, "weight of the bob", q.BobMass, func(n *numbers) *float64 { return &n.bobMass })
	take(b, "centre of the bob", q.BobCentre, func(n *numbers) *float64 { return &n.bobCentre })
	take(b, "weight of the nut", q.NutMass, func(n *numbers) *float64 { return &n.nutMass })
	take(b, "place of the nut", q.NutAt, func(n *numbers) *float64 { return &n.nutAt })
	b.n.bobRho = math.NaN()
	at := func(n *numbers) *float64 { return &n.bobRho }
	if m, ok := FindMaterial(q.BobMaterial); q.BobDensity.Set {
		take(b, "density of the bob", q.BobDensity, at)
	} else if ok {
		b.set("density of "+m.Name+" (bob)", float64(m.Density), m.densityDoubt(), at)
	}
}

func (b *bench) layAir() {
	q := b.q
	take(b, "temperature", q.Temperature, func(n *numbers) *float64 { return &n.temp })
	take(b, "pressure", q.Pressure, func(n *numbers) *float64 { return &n.pressure })
	take(b, "humidity", q.Humidity, func(n *numbers) *float64 { return &n.humidity })
	if !known(b.n.temp) {
		b.n.temp = 293.15
	}
	if !known(b.n.pressure) {
		b.n.pressure = 101325
	}
	if !known(b.n.humidity) {
		b.n.humidity = 0.5
	}
}

// layGravity settles on a gravity and says where it is from.
func (b *bench) layGravity() string {
	q := b.q
	at := func(n *numbers) *float64 { return &n.gravity }
	switch {
	case q.Gravity.Set:
		take(b, "gravity", q.Gravity, at)
		return FromTyped
	case q.SecondsPendulum.Set:
		p2 := math.Pi * math.Pi
		b.set("seconds pendulum", float64(q.SecondsPendulum.Value)*p2, float64(q.SecondsPendulum.U)*p2, at)
		return FromSeconds
	case q.Latitude.Set:
		g := b.place(q.Latitude, q.Height, func(n *numbers) *[2]float64 { return &n.drift })
		b.set("gravity of the place", g, g*placeDoubt.V, at)
		return FromPlace
	}
	g := float64(unit.StandardGravity)
	b.set("not knowing the place", g, g*nowhereDoubt.V, at)
	return FromStandard
}

// place is the normal gravity of a place; a doubt of latitude or height
// becomes a knob of its own, as the drift of gravity that it makes.
func (b *bench) place(latitude meas.Reading[unit.Angle], height meas.Reading[unit.Length], drift func(*numbers) *[2]float64) float64 {
	e := findEllipsoid(b.q.Ellipsoid)
	lat, h := float64(latitude.Value), float64(height.Value)
	ul, uh := float64(latitude.U), float64(height.U)
	b.set("latitude", 0, math.Abs(e.at(lat+ul, h)-e.at(lat-ul, h))/2, func(n *numbers) *float64 { return &drift(n)[0] })
	b.set("height above the sea", 0, math.Abs(e.at(lat, h+uh)-e.at(lat, h-uh))/2, func(n *numbers) *float64 { return &drift(n)[1] })
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
	take(b, "gravity of the other place", q.ToGravity, at)
	if !q.ToGravity.Set && q.ToLatitude.Set {
		g := b.place(q.ToLatitude, q.ToHeight, func(n *numbers) *[2]float64 { return &n.toDrift })
		b.set("gravity of the other place", g, g*placeDoubt.V, at)
	}
}
