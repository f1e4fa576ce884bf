package mesh

import (
	"math"
	"slices"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// How finely the pair is turned.
const (
	parts     = 200  // steps in a pitch at the distance that is asked for
	distances = 41   // that are tried
	fair      = 0.10 // of evenness: what may be lost before the depth is called shallow or deep
)

// Solve turns the pair. The error is a meas.Faults with every mistake in the
// inputs.
func Solve(q Query) (Answer, error) {
	a := Answer{Query: q}
	if faults := q.Check(); len(faults) > 0 {
		return a, faults
	}
	b := &bench{q: q}
	b.sizes, _ = q.lay()
	b.friction()
	a.Pair = b.sizes.pair
	b.turn(&a)
	b.doubts(&a)
	b.sweep(&a)
	a.Roots = b.roots()
	b.say(&a)
	a.Working, a.Findings = b.Steps, b.ByLevel()
	a.Complete = a.State == Works
	return a, nil
}

// bench is one calculation under way.
type bench struct {
	meas.Bench[struct{}]
	q     Query
	sizes sizes
	mu    float64
	shape shape // as it is, worn
}

func (b *bench) friction() {
	f, known := findFaces(b.q.Faces)
	if !known {
		f, _ = findFaces(Dry)
	}
	b.mu = f.Coefficient.V
	switch {
	case b.q.Friction.Set:
		b.mu = float64(b.q.Friction.Value)
	case !known:
		b.Say(meas.Doubt, "friction", "No friction was stated, so that of "+f.On+" stands: "+unit.Number(b.mu, 2)+". Nothing was found that was measured on the teeth of clocks.",
			"Say how the faces are, or enter a coefficient.", f.Coefficient.Ref, "faces")
	}
	from := f.Coefficient.Ref
	if b.q.Friction.Set {
		from = cite.Ref{Grade: cite.Measured, Note: "as stated"}
	}
	b.Step("Coefficient of friction", "µ", f.On, unit.Number(b.mu, 2), from)
	if b.q.Friction.Set {
		b.Steps[len(b.Steps)-1].Numbers = "as stated"
	}
}

// turn turns the pair at the distance it stands at.
func (b *bench) turn(a *Answer) {
	s := shapeOf(b.sizes.pair)
	g := s.at(b.sizes.distance, b.mu, parts)
	t := g.turn(s)
	if pit, worn := b.q.Pit.Value.MM(), b.q.Worn.Value.MM(); pit+worn > 0 && !t.Apart {
		before := Sum(t)
		a.Unworn = &before
		s = s.worn(t, pit, worn)
		g = s.at(b.sizes.distance, b.mu, parts)
		t = g.turn(s)
	}
	b.shape = s
	a.Turn, a.Moments, a.Flanks = t, t.Moments, [2][]geom.Curve{s.drive, s.driven}
	if bent, short := b.q.Bent.Value.MM(), b.q.Short.Value.MM(); (bent != 0 || short != 0) && !t.Apart {
		o := s.odd(&g, t.Play, bent, short)
		a.Odd = &o
	}
	d := Sum(t)
	a.State, a.Carries = d.State, t.Carries
	if !t.Apart {
		a.Two = g.two(t.Out.Wheel, close*b.sizes.pinion/b.sizes.pair.Pinion.Pitch.MM())
	}
	b.steps(a)
}

// doubts works every figure out again with each size shifted by its doubt.
func (b *bench) doubts(a *Answer) {
	inputs := b.inputs()
	stands := [sizeCount]float64{}
	for i, x := range inputs {
		stands[i] = x.Value
	}
	done := map[[sizeCount]float64]shifted{}
	at := func(x []float64) shifted {
		key := [sizeCount]float64(x)
		y, ok := done[key]
		if !ok {
			y = b.again(key, key == stands, a.Turn)
			done[key] = y
		}
		return y
	}
	angle := func(f func(shifted) float64) meas.Result[unit.Angle] {
		return bare(meas.Propagate(func(x []float64) unit.Angle { return unit.Angle(f(at(x))) }, inputs...))
	}
	ratio := func(f func(shifted) float64) meas.Result[unit.Ratio] {
		return bare(meas.Propagate(func(x []float64) unit.Ratio { return unit.Ratio(f(at(x))) }, inputs...))
	}
	length := func(f func(shifted) float64) meas.Result[unit.Length] {
		return bare(meas.Propagate(func(x []float64) unit.Length { return unit.Millimetres(f(at(x))) }, inputs...))
	}
	a.WheelModule = length(func(s shifted) float64 { return s.wheel })
	a.PinionModule = length(func(s shifted) float64 { return s.pinion })
	a.Touching = length(func(s shifted) float64 { return s.touching })
	a.Distance = length(func(s shifted) float64 { return s.distance })
	a.Friction = ratio(func(s shifted) float64 { return s.mu })
	if a.State == Apart {
		return
	}
	a.Bottom = length(func(s shifted) float64 { return s.Bottom })
	a.Play = length(func(s shifted) float64 { return s.Play * s.pair.Pinion.Pitch.MM() })
	if a.State == Binds || a.State == Butts {
		return
	}
	a.Lead = angle(func(s shifted) float64 { return s.Lead })
	a.After = angle(func(s shifted) float64 { return s.After })
	a.Drop = angle(func(s shifted) float64 { return s.Drop })
	a.Slowest = ratio(func(s shifted) float64 { return s.Slowest })
	a.Fastest = ratio(func(s shifted) float64 { return s.Fastest })
	a.Weakest = ratio(func(s shifted) float64 { return s.Weakest })
	a.Strongest = ratio(func(s shifted) float64 { return s.Strongest })
	a.Mean = ratio(func(s shifted) float64 { return s.Mean })
	if b.q.Torque.Set {
		even := float64(b.q.Torque.Value) * float64(b.q.Leaves) / float64(b.q.Wheel)
		a.EvenTorque = meas.Exactly(unit.Torque(even))
		a.LeastTorque = meas.Result[unit.Torque]{Value: unit.Torque(even * float64(a.Weakest.Value)), U: unit.Torque(even * float64(a.Weakest.U)), HasU: a.Weakest.HasU, Budget: a.Weakest.Budget, Set: true}
	}
}

// bare takes a doubt of nought off: that of a size that plays no part.
func bare[Q unit.Quantity](r meas.Result[Q]) meas.Result[Q] {
	r.Budget = slices.DeleteFunc(r.Budget, func(s meas.Share) bool { return !(s.Part > 0) })
	if !(r.U > 0) {
		r.U, r.HasU, r.Budget = 0, false, nil
	}
	return r
}

// shifted is the pair with its sizes a little different.
type shifted struct {
	sizes
	Depth
	mu float64
}

// sizeCount is how many sizes have doubts: the lengths, height and friction.
const sizeCount = 11

// lengths are those of the query that have doubts.
func (q *Query) lengths() [sizeCount - 2]*meas.Reading[unit.Length] {
	return [...]*meas.Reading[unit.Length]{&q.Distance, &q.WheelOutside, &q.PinionOutside, &q.Module, &q.ToothWidth, &q.ToothSpace, &q.LeafWidth, &q.LeafSpace, &q.Pin}
}

// inputs are the sizes with their doubts, friction last.
func (b *bench) inputs() []meas.Input {
	names := [...]string{"distance of the centres", "diameter of the wheel", "diameter of the pinion", "module", "width of a tooth", "space between teeth", "width of a leaf", "space between leaves", "diameter of a pin"}
	var out []meas.Input
	for i, r := range b.q.lengths() {
		out = append(out, meas.From(names[i], *r))
	}
	return append(out, meas.From("height of the teeth", b.q.Height), meas.Input{Name: "friction", Value: b.mu, U: float64(b.q.Friction.U)})
}

// again lays the pair out anew with other sizes and turns it; as it stands it
// is turned already.
func (b *bench) again(sizes [sizeCount]float64, same bool, t Turn) shifted {
	q, mu := b.q, sizes[sizeCount-1]
	for i, r := range q.lengths() {
		r.Value = unit.Length(sizes[i])
	}
	q.Height.Value = unit.Ratio(sizes[sizeCount-2])
	if same {
		return shifted{b.sizes, Sum(t), mu}
	}
	s, faults := q.lay()
	if len(faults) > 0 {
		s.wheel, s.pinion, s.touching, s.distance = math.NaN(), math.NaN(), math.NaN(), math.NaN()
		return shifted{sizes: s, mu: mu, Depth: Depth{Lead: math.NaN(), After: math.NaN(), Drop: math.NaN(), Slowest: math.NaN(), Fastest: math.NaN(), Weakest: math.NaN(), Strongest: math.NaN(), Mean: math.NaN(), Play: math.NaN(), Bottom: math.NaN()}}
	}
	shape := shapeOf(s.pair)
	if b.shape.back != nil {
		shape = shape.worn(t, q.Pit.Value.MM(), q.Worn.Value.MM())
	}
	return shifted{s, shape.depthAt(s.distance, mu), mu}
}

// sweep turns the pair at distances from deep to shallow and finds the best.
func (b *bench) sweep(a *Answer) {
	m := (b.sizes.wheel + b.sizes.pinion) / 2
	from, to := b.sizes.touching-0.45*m, b.sizes.touching+0.55*m
	from, to = min(from, b.sizes.distance-0.1*m), max(to, b.sizes.distance+0.1*m)
	if b.q.Deepest.Set {
		from = b.q.Deepest.Value.MM()
	}
	if b.q.Shallowest.Set {
		to = b.q.Shallowest.Value.MM()
	}
	if from >= to {
		from, to = min(from, to)-0.1*m, max(from, to)+0.1*m
	}
	a.Depths = b.shape.sweep(from, to, distances, b.mu)
	best, ok := b.shape.best(a.Depths, b.mu)
	if !ok {
		return
	}
	a.AtBest = &best
	low, high := b.shape.tolerance(a.Depths, best, b.mu)
	place := func(x float64) meas.Result[unit.Length] {
		return meas.Result[unit.Length]{Value: unit.Millimetres(x), U: a.Touching.U, HasU: a.Touching.HasU, Budget: a.Touching.Budget, Set: true}
	}
	a.Best, a.BestLow, a.BestHigh = place(best.Distance), place(low), place(high)
	b.Step("Best distance", "least torque of a pitch over the greatest, as near to 1 as can be", "between "+millimetres(from)+" and "+millimetres(to), millimetres(best.Distance)+", "+unit.Number(best.Even(), 3), method)
}

// tolerance is how far about the best the torque stays nearly as even.
func (s shape) tolerance(swept []Depth, best Depth, friction float64) (low, high float64) {
	keeps := func(d Depth) bool { return d.Even() >= best.Even()-fair }
	edge := func(in, out float64) float64 {
		for range 8 {
			m := (in + out) / 2
			if keeps(s.depthAt(m, friction)) {
				in = m
			} else {
				out = m
			}
		}
		return in
	}
	low, high = best.Distance, best.Distance
	for i := len(swept) - 1; i >= 0; i-- {
		if d := swept[i]; d.Distance < low {
			if !keeps(d) {
				low = edge(low, d.Distance)
				break
			}
			low = d.Distance
		}
	}
	for _, d := range swept {
		if d.Distance > high {
			if !keeps(d) {
				high = edge(high, d.Distance)
				break
			}
			high = d.Distance
		}
	}
	return low, high
}

// method is how the figures come about.
var method = cite.Ref{Grade: cite.Computed, Note: "the flanks turned against each other; held to an independent envelope in the tests"}
