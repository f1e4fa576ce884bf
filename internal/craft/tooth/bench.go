package tooth

import (
	"math"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// numbers is what the module follows from, lengths in m, NaN where nothing was
// stated.
type numbers struct {
	module, diametral, circular       float64
	wheelOver, pinionOver             float64
	wheelPitch, pinionPitch, distance float64
	wheelTip, pinionTip               float64 // heights over the pitch circle in modules
	pin                               float64
}

// bench is one calculation under way.
type bench struct {
	meas.Bench[numbers]
	q       Query
	sizings []sizing
	pairs   map[[2]float64]Pair // laid out before, by module and pin
	tips    [2][2]float64       // least and most height of wheel and pinion by the rules, in modules
}

// sizing is a size that was stated and how the module follows from it.
type sizing struct {
	field, what, size string
	typed             bool    // the module itself, in one of its three ways
	u                 float64 // of the size, as stated; 0 where it was not
	divisor           float64 // what the size is divided by
	of                func(numbers) float64
	weight            float64
}

// fine is the doubt, in m, that weighs a size whose doubt was not stated: that
// of a slide gauge.
const fine = 0.02e-3

// nominal is the part of a module, stated without a doubt, by which the sizes
// of a pair may be off it before they clash: old wheels are of no standard
// module. A choice of this program, without a source.
const nominal = 0.01

// lay reads the query into a bench. A tip that is rounded by a radius may be
// lower, in modules, by what the module makes of it: they are found together.
func lay(q Query) *bench {
	b := layAt(q, 0)
	if !q.TipRadius.Set {
		return b
	}
	for range 8 {
		b = layAt(q, b.module(b.N)*1000)
	}
	return b
}

// layAt does so at a module in mm, about; 0 where none is known yet.
func layAt(q Query, module float64) *bench {
	b := &bench{q: q, pairs: map[[2]float64]Pair{}}
	N, n := float64(q.Wheel), float64(q.Leaves)
	b.layHeights(module)
	b.length("module", "module", q.Module, 1, true, func(x *numbers) *float64 { return &x.module }, func(x numbers) float64 { return x.module })
	meas.Take(&b.Bench, "diametral pitch", q.DiametralPitch, func(x *numbers) *float64 { return &x.diametral })
	if r := q.DiametralPitch; r.Set {
		b.sizings = append(b.sizings, sizing{field: "diametral-pitch", what: "diametral pitch", size: r.Written("") + " to the inch", typed: true, divisor: 1,
			u: 0.0254 / float64(r.Value*r.Value) * float64(r.U), of: func(x numbers) float64 { return 0.0254 / x.diametral }})
	}
	b.length("circular-pitch", "circular pitch", q.CircularPitch, math.Pi, true, func(x *numbers) *float64 { return &x.circular }, func(x numbers) float64 { return x.circular / math.Pi })
	b.length("wheel-outside", "diameter of the wheel over the tips", q.WheelOutside, N+2*b.N.wheelTip, false, func(x *numbers) *float64 { return &x.wheelOver }, func(x numbers) float64 { return x.wheelOver / (N + 2*x.wheelTip) })
	b.length("pinion-outside", "diameter of the pinion over the tips", q.PinionOutside, n+2*b.N.pinionTip, false, func(x *numbers) *float64 { return &x.pinionOver }, func(x numbers) float64 {
		if q.Pin.Set {
			return (x.pinionOver - x.pin) / n
		}
		return x.pinionOver / (n + 2*x.pinionTip)
	})
	b.length("wheel-pitch-diameter", "pitch diameter of the wheel", q.WheelPitch, N, false, func(x *numbers) *float64 { return &x.wheelPitch }, func(x numbers) float64 { return x.wheelPitch / N })
	b.length("pinion-pitch-diameter", "pitch diameter of the pinion", q.PinionPitch, n, false, func(x *numbers) *float64 { return &x.pinionPitch }, func(x numbers) float64 { return x.pinionPitch / n })
	b.length("distance", "distance of the centres", q.Distance, (N+n)/2, false, func(x *numbers) *float64 { return &x.distance }, func(x numbers) float64 { return 2 * x.distance / (N + n) })
	meas.Take(&b.Bench, "diameter of a pin", q.Pin, func(x *numbers) *float64 { return &x.pin })
	b.weigh()
	return b
}

// length takes a size of which the module is a part.
func (b *bench) length(field, what string, r meas.Reading[unit.Length], divisor float64, typed bool, at func(*numbers) *float64, of func(numbers) float64) {
	meas.Take(&b.Bench, what, r, at)
	if r.Set {
		b.sizings = append(b.sizings, sizing{field: field, what: what, size: r.Written("mm"), typed: typed, u: float64(r.U), divisor: divisor, of: of})
	}
}

// layHeights settles on the heights of the teeth over their pitch circles,
// with a doubt where rules differ and a size over the tips leans on them.
func (b *bench) layHeights(module float64) {
	d := b.q.design(1)
	d.Pin, d.TipRadius, d.RootRadius, d.FullRoot = 0, 0, 0, false
	if module > 0 {
		d.TipRadius = b.q.TipRadius.Value / unit.Length(module)
	}
	pair, err := d.Pair()
	if err != nil { // the height that was stated: Solve says so
		d.Height, d.TipRadius = 0, 0
		pair, _ = d.Pair()
	}
	low, high := heightSpan(heightRules(d.Wheel, d.Leaves, d.Form))
	b.tips = [2][2]float64{{low, high}, pinionHeights.V}
	rectangle := func(x [2]float64) float64 { return (x[1] - x[0]) / math.Sqrt(12) }
	wheel, pinion := pair.Wheel.Tip.MM()-pair.Wheel.Pitch.MM(), pair.Pinion.Tip.MM()-pair.Pinion.Pitch.MM()
	if h := b.q.Height; h.Set {
		meas.Take(&b.Bench, "height of the wheel's teeth", h, func(x *numbers) *float64 { return &x.wheelTip })
		b.tips[0] = [2]float64{float64(h.Value), float64(h.Value)}
	} else {
		b.Set("rules for the height of the wheel's teeth", wheel, rectangle(b.tips[0]), func(x *numbers) *float64 { return &x.wheelTip })
	}
	if d.Form == LanternOf {
		b.tips[1] = [2]float64{pinion, pinion}
	}
	b.Set("rules for the height of the leaves", pinion, rectangle(b.tips[1]), func(x *numbers) *float64 { return &x.pinionTip })
}

// weigh gives each sizing its weight in the module: one over the square of
// its doubt. Where the module itself was stated, only it counts.
func (b *bench) weigh() {
	typed := false
	for _, s := range b.sizings {
		typed = typed || s.typed
	}
	for i := range b.sizings {
		s := &b.sizings[i]
		if typed && !s.typed {
			continue
		}
		u := s.u / s.divisor
		if s.u == 0 {
			u = fine / s.divisor
		}
		if r := meas.Find[unit.Length](&b.Bench, s.of); r.HasU {
			u = max(u, float64(r.U))
		}
		s.weight = 1 / (u * u)
	}
}

// module is the mean of the sizings by their weights.
func (b *bench) module(n numbers) float64 {
	sum, weights := 0.0, 0.0
	for _, s := range b.sizings {
		if s.weight > 0 {
			sum += s.weight * s.of(n)
			weights += s.weight
		}
	}
	return sum / weights
}

// pair is laid out at the module of the numbers; none where that cannot be.
func (b *bench) pair(n numbers) Pair {
	key := [2]float64{b.module(n) * 1000, n.pin}
	if p, known := b.pairs[key]; known {
		return p
	}
	d := b.q.design(key[0])
	if d.Pin > 0 {
		d.Pin = unit.Length(n.pin)
	}
	p, _ := d.Pair()
	b.pairs[key] = p
	return p
}

// bracket is the least and the most module that a sizing allows.
func (b *bench) bracket(s sizing) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for i := range 2 {
		n := b.N
		n.wheelTip, n.pinionTip = b.tips[0][i], b.tips[1][i]
		low, high = min(low, s.of(n)), max(high, s.of(n))
	}
	u := max(s.u, fine) / s.divisor
	if s.typed {
		if u = s.u / s.divisor; u == 0 {
			u = nominal / 2 * s.of(b.N)
		}
	}
	return low - 2*u, high + 2*u
}
