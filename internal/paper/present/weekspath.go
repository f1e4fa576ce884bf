package present

import (
	"math"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// pathPoint is one place of a path with its band, in the figures of its
// scale.
type pathPoint struct{ at, value, low, high float64 }

// towards is the place at an instant on the way to another.
func (p pathPoint) towards(q pathPoint, at float64) pathPoint {
	k := (at - p.at) / (q.at - p.at)
	return pathPoint{at, p.value + k*(q.value-p.value), p.low + k*(q.low-p.low), p.high + k*(q.high-p.high)}
}

// path is an unbroken run of places.
type path []pathPoint

// thin keeps of every column of a field what can be seen of it: the lowest
// and highest of the band, the mean between, and both ends of the path.
func (p path) thin(f frame, column float64) path {
	if len(p) <= 3 {
		return p
	}
	var out path
	for i := 0; i < len(p); {
		c, n, k := p[i], 1.0, int(f.x(p[i].at)/column)
		for i++; i < len(p) && int(f.x(p[i].at)/column) == k; i++ {
			c.value += p[i].value
			c.low, c.high = math.Min(c.low, p[i].low), math.Max(c.high, p[i].high)
			n++
		}
		c.value /= n
		if n > 1 {
			c.at = (c.at + p[i-1].at) / 2
		}
		out = append(out, c)
	}
	if len(out) == 1 {
		out = append(out, out[0])
	}
	out[0].at, out[len(out)-1].at = p[0].at, p[len(p)-1].at
	return out
}

// band is the closed outline of the path's band.
func (p path) band(f frame) []pic.Pt {
	out := make([]pic.Pt, 0, 2*len(p))
	for _, c := range p {
		out = append(out, pic.Pt{X: f.inX(c.at), Y: f.inY(c.high)})
	}
	for i := len(p) - 1; i >= 0; i-- {
		out = append(out, pic.Pt{X: f.inX(p[i].at), Y: f.inY(p[i].low)})
	}
	return out
}

// line is the path itself.
func (p path) line(f frame) []pic.Pt {
	out := make([]pic.Pt, 0, len(p))
	for _, c := range p {
		out = append(out, pic.Pt{X: f.inX(c.at), Y: f.inY(c.value)})
	}
	return out
}

// cuts are the instants where the rate changed by a touch, in order, and of
// them those where the error did.
func (s *weeksSheet) cuts() (rate, error []float64) {
	for _, t := range weekTouches(s.a) {
		if t.minor {
			continue
		}
		rate = append(rate, s.since(t.at))
		if !t.until.IsZero() {
			rate = append(rate, s.since(t.until))
		}
		if t.set {
			error = append(error, s.since(t.at))
		}
	}
	return rate, error
}

// ratePaths are the runs of the rate between the touches, each drawn out to
// the touches at its ends: the rate is a step there.
func (s *weeksSheet) ratePaths() []path {
	cuts, _ := s.cuts()
	all := s.paths(s.a.Past, cuts, func(p *regulate.Point) (pathPoint, bool) {
		return s.onRate(p.Rate), inBand(p.Rate)
	})
	for i, p := range all {
		first, last := p[0], p[len(p)-1]
		from, to := 0.0, s.now
		for _, c := range cuts {
			if c <= first.at && c > from {
				from = c
			}
			if c > last.at && c < to {
				to = c
			}
		}
		if from < first.at {
			first.at = from
			p = append(path{first}, p...)
		}
		if to > last.at {
			last.at = to
			p = append(p, last)
		}
		all[i] = p.thin(s.rate, columnWidth)
	}
	return all
}

func (s *weeksSheet) onRate(i meas.Interval[unit.Rate]) pathPoint {
	return pathPoint{value: s.bend(i.Value.PerDay()), low: s.bend(i.Low.PerDay()), high: s.bend(i.High.PerDay())}
}

func onError(i meas.Interval[unit.Duration]) pathPoint {
	return pathPoint{value: float64(i.Value), low: float64(i.Low), high: float64(i.High)}
}

// paths makes runs of points that are not parted by a cut.
func (s *weeksSheet) paths(points []regulate.Point, cuts []float64, of func(*regulate.Point) (pathPoint, bool)) []path {
	var out []path
	last := math.Inf(-1)
	for i := range points {
		p := &points[i]
		c, ok := of(p)
		if !ok {
			continue
		}
		c.at = s.since(p.At)
		if c.at > s.rate.x1 {
			if n := len(out); n > 0 && !parted(cuts, last, s.rate.x1) {
				end := out[n-1][len(out[n-1])-1]
				out[n-1] = append(out[n-1], end.towards(c, s.rate.x1))
			}
			break
		}
		if len(out) == 0 || parted(cuts, last, c.at) {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], c)
		last = c.at
	}
	return out
}

// parted tells whether a cut stands after one instant and not after another.
func parted(cuts []float64, after, until float64) bool {
	for _, c := range cuts {
		if c > after && c <= until {
			return true
		}
	}
	return false
}

// columnWidth is how much of a picture is one place of a path, in pixels.
const columnWidth = 3.0

// drawPaths draws what was, and what is to come in a hatching of its own.
func (s *weeksSheet) drawPaths() {
	s.went = s.ratePaths()
	for _, p := range s.went {
		s.drawPath(s.rate, p, pic.Band, pic.Steel)
	}
	if s.error.foot > 0 {
		s.drawErrors()
	}
	ahead := s.fromNow()
	if len(ahead) < 2 {
		return
	}
	for _, p := range s.paths(ahead, nil, func(p *regulate.Point) (pathPoint, bool) { return s.onRate(p.Rate), inBand(p.Rate) }) {
		s.drawPath(s.rate, p, pic.Hatch, pic.Dashed)
	}
	if s.error.foot > 0 {
		for _, p := range s.paths(ahead, nil, func(p *regulate.Point) (pathPoint, bool) { return onError(p.Error), inBand(p.Error) }) {
			s.drawPath(s.error, p, pic.Hatch, pic.Dashed)
		}
	}
}

// fromNow is what is to come, from now on.
func (s *weeksSheet) fromNow() []regulate.Point {
	if n := len(s.a.Ahead); n == 0 || s.since(s.a.Ahead[n-1].At) <= s.now {
		return nil
	}
	if s.a.Ahead[0].At.After(s.a.Now.At) && inBand(s.a.Now.Rate) {
		return append([]regulate.Point{s.a.Now}, s.a.Ahead...)
	}
	return s.a.Ahead
}

// drawErrors draws what the clock was wrong by.
func (s *weeksSheet) drawErrors() {
	_, set := s.cuts()
	for _, p := range s.paths(s.a.Past, set, func(p *regulate.Point) (pathPoint, bool) { return onError(p.Error), inBand(p.Error) }) {
		s.drawPath(s.error, p, pic.Band, pic.Steel)
	}
}

func (s *weeksSheet) drawPath(f frame, p path, fill pic.Fill, pen pic.Pen) {
	p = p.thin(f, columnWidth)
	if len(p) == 1 { // as wide as can be seen
		end := p[0]
		end.at += 2 * f.x1 / (f.right - f.left)
		p = append(p, end)
	}
	edge := pic.NoLine
	if fill == pic.Hatch {
		edge = pic.Hair
	}
	s.p.Add(pic.Poly{Pts: p.band(f), Closed: true, Pen: edge, Fill: fill}, pic.Poly{Pts: p.line(f), Pen: pen})
}

// temperature draws the air as a thin line.
func (s *weeksSheet) temperature() {
	if s.warm.foot == 0 {
		return
	}
	s.p.Add(pic.Poly{Pts: s.air.thin(s.warm, columnWidth).line(s.warm), Pen: pic.Ink})
}
