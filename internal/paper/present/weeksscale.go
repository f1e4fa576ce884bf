package present

import (
	"cmp"
	"math"
	"slices"
	"time"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// weeksSheet is the layout of the figure: rate above, error in the middle,
// temperature below, over one scale of days.
type weeksSheet struct {
	p                 pic.Picture
	a                 regulate.Answer
	zone              *time.Location
	begin             time.Time
	rate, error, warm frame // x in seconds from the first reading
	bent              bool  // the scale of the rate is drawn together
	want, band        float64
	words             places
	air               path       // temperatures
	went              []path     // the rate between the touches
	over              []pic.Item // words that stand over the lines
	highest           float64    // line of the words of touches, from the top
	now               float64
}

const (
	weeksLeft = 62.0 // where the figures need no more
	weeksTop  = 82.0 // with four lines for touches
	weeksRate = 200.0
	weeksErr  = 130.0
	weeksWarm = 44.0
	weeksGap  = 40.0
	bentFrom  = 12.0 // of the wanted band: a rate so far off bends the scale
	likeBand  = 2.0  // of the wanted band: within it the bent scale is nearly even
)

func newWeeks(a regulate.Answer, width float64) *weeksSheet {
	s := &weeksSheet{a: a, zone: zoneOf(a), begin: a.Past[0].At, highest: weeksTop - 7}
	s.want, s.band = wantedOf(a)
	end := a.Past[len(a.Past)-1].At
	if a.Now.At.After(end) {
		end = a.Now.At
	}
	s.now = s.since(end)
	if n := len(a.Ahead); n > 0 && a.Ahead[n-1].At.After(end) {
		// What is to come takes a third of the width at the most.
		end = end.Add(min(a.Ahead[n-1].At.Sub(end), end.Sub(s.begin)/2))
	}
	f := frame{left: weeksLeft, right: width - 16, x1: s.since(end)}
	s.rate, s.error, s.warm = f, f, f
	s.rate.top, s.rate.foot = weeksTop, weeksTop+weeksRate
	foot := s.rate.foot
	s.rateScale()
	if s.hasErrors() {
		s.error.top, s.error.foot = foot+weeksGap, foot+weeksGap+weeksErr
		foot = s.error.foot
		s.errorScale()
	}
	if s.warmScale() {
		s.warm.top = foot + weeksGap
		s.warm.foot = s.warm.top + weeksWarm
		foot = s.warm.foot
	}
	left := s.roomForFigures()
	s.rate.left, s.error.left, s.warm.left = left, left, left
	s.p = pic.Picture{Title: "The clock on trial: rate, error and touches", W: width, H: foot + 50}
	return s
}

// hasErrors tells whether the clock was read against true time; of rates alone
// nothing follows of that.
func (s *weeksSheet) hasErrors() bool {
	for i := range s.a.Query.Readings {
		if s.a.Query.Readings[i].From.IsZero() {
			return true
		}
	}
	return false
}

// fields are the fields that are drawn, from above.
func (s *weeksSheet) fields() []frame {
	out := []frame{s.rate}
	for _, f := range [...]frame{s.error, s.warm} {
		if f.foot > 0 {
			out = append(out, f)
		}
	}
	return out
}

func (s *weeksSheet) since(t time.Time) float64 { return t.Sub(s.begin).Seconds() }

// bend maps a rate in s/day to the scale it is drawn on.
func (s *weeksSheet) bend(perDay float64) float64 {
	if !s.bent {
		return perDay
	}
	return math.Asinh((perDay - s.want) / (likeBand * s.band))
}

// rateScale holds what was wanted, every estimate, and the bands as far as
// they are of a size with the rest.
func (s *weeksSheet) rateScale() {
	low, high := s.want-1.5*s.band, s.want+1.5*s.band
	var all path
	var halves []float64
	for _, points := range [...][]regulate.Point{s.a.Past, s.a.Ahead} {
		for i := range points {
			p := &points[i]
			if !inBand(p.Rate) || s.since(p.At) > s.rate.x1*(1+1e-9) {
				continue
			}
			v := p.Rate.Value.PerDay()
			low, high = math.Min(low, v), math.Max(high, v)
			halves = append(halves, p.Rate.Half().PerDay())
			all = append(all, pathPoint{value: v, low: p.Rate.Low.PerDay(), high: p.Rate.High.PerDay()})
		}
	}
	reach := 2 * median(halves)
	for _, c := range all {
		low, high = math.Min(low, math.Max(c.low, c.value-reach)), math.Max(high, math.Min(c.high, c.value+reach))
	}
	s.bent = math.Max(high-s.want, s.want-low) > bentFrom*s.band
	s.rate.y0, s.rate.y1 = s.bend(low), s.bend(high)
	pad := 0.04 * (s.rate.y1 - s.rate.y0)
	s.rate.y0, s.rate.y1 = s.rate.y0-pad, s.rate.y1+pad
}

// median sorts its numbers.
func median(x []float64) float64 {
	if len(x) == 0 {
		return 0
	}
	slices.Sort(x)
	return x[len(x)/2]
}

// errorScale holds every reading that has weight and the line between them.
func (s *weeksSheet) errorScale() {
	low, high := math.Inf(1), math.Inf(-1)
	for i := range s.a.Past {
		p := &s.a.Past[i]
		if inBand(p.Error) {
			low, high = math.Min(low, float64(p.Error.Value)), math.Max(high, float64(p.Error.Value))
		}
		if p.Reading != 0 && !p.Asked && !math.IsNaN(float64(p.Seen)) && !math.IsInf(float64(p.Seen), 0) {
			low, high = math.Min(low, float64(p.Seen)), math.Max(high, float64(p.Seen))
		}
	}
	for _, p := range s.a.Ahead {
		if inBand(p.Error) && s.since(p.At) <= s.rate.x1*(1+1e-9) {
			low, high = math.Min(low, float64(p.Error.Value)), math.Max(high, float64(p.Error.Value))
		}
	}
	if low > high {
		low, high = -1, 1
	}
	pad := math.Max(0.08*(high-low), 0.5)
	s.error.y0, s.error.y1 = low-pad, high+pad
}

// warmth are the temperatures of the trial in °C, in order.
func (s *weeksSheet) warmth() path {
	var out path
	for i := range s.a.Query.Air {
		x := &s.a.Query.Air[i]
		t := s.since(x.At)
		if v := float64(x.Temperature.Value) - 273.15; x.Temperature.Set && t >= 0 && t <= s.rate.x1 && math.Abs(v) < 200 {
			out = append(out, pathPoint{t, v, v, v})
		}
	}
	slices.SortStableFunc(out, func(a, b pathPoint) int { return cmp.Compare(a.at, b.at) })
	return out
}

// warmScale is false where there are not two temperatures.
func (s *weeksSheet) warmScale() bool {
	s.air = s.warmth()
	if len(s.air) < 2 {
		return false
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, c := range s.air {
		low, high = math.Min(low, c.value), math.Max(high, c.value)
	}
	s.warm.y0, s.warm.y1 = math.Floor(low), math.Ceil(high)
	if s.warm.y1 <= s.warm.y0 {
		s.warm.y1++
	}
	return true
}

// scales draws the grids and their figures.
func (s *weeksSheet) scales() {
	s.p.Add(pic.Text{P: pic.Pt{X: 4, Y: 16}, S: "gains, s a day"})
	s.words.take(rectangle{0, 2, 4 + pic.TextWidth("gains, s a day", pic.Label), 20}, 0)
	for _, g := range s.rateFigures() {
		s.figure(s.rate, g)
	}
	if s.error.foot > 0 {
		figures, symbol := s.errorFigures()
		s.p.Add(pic.Text{P: pic.Pt{X: 4, Y: s.error.top - 15}, S: "fast, " + symbol})
		for _, g := range figures {
			s.figure(s.error, g)
		}
	}
	if s.warm.foot > 0 {
		s.p.Add(pic.Text{P: pic.Pt{X: 4, Y: s.warm.top - 12}, S: "°C"})
		for _, v := range [...]float64{s.warm.y0, s.warm.y1} {
			s.figure(s.warm, gridLine{at: v, words: unit.Number(v, 0)})
		}
	}
	s.days()
}

// gridLine is one line of a grid with its figure.
type gridLine struct {
	at    float64 // on the scale of its field
	words string
	main  bool
}

func (s *weeksSheet) rateFigures() (out []gridLine) {
	for _, v := range s.rateMarks() {
		out = append(out, gridLine{s.bend(v), signedNumber(v, placesOf(math.Abs(v)+1)), v == 0})
	}
	return out
}

func (s *weeksSheet) errorFigures() (out []gridLine, symbol string) {
	span := s.error.y1 - s.error.y0
	size, symbol := errorUnit(span)
	step := roundStep(span/size, 4)
	for _, v := range graduations(s.error.y0/size, s.error.y1/size, step) {
		out = append(out, gridLine{v * size, signedNumber(v, placesOf(step)), v == 0})
	}
	return out, symbol
}

// roomForFigures is where the fields begin, so that the widest figure stands
// before them.
func (s *weeksSheet) roomForFigures() float64 {
	all := s.rateFigures()
	if s.error.foot > 0 {
		more, _ := s.errorFigures()
		all = append(all, more...)
	}
	left := weeksLeft
	for _, g := range all {
		left = math.Max(left, pic.TextWidth(g.words, pic.Label)+12)
	}
	return left
}

// errorUnit is the unit that suits a span of error, in seconds.
func errorUnit(span float64) (size float64, symbol string) {
	switch {
	case span <= 600:
		return 1, "s"
	case span <= 6*3600:
		return 60, "min"
	case span <= 10*86400:
		return 3600, "h"
	}
	return 86400, "d"
}

func (s *weeksSheet) figure(f frame, g gridLine) {
	pen := pic.Hair
	if g.main {
		pen = pic.Ink
	}
	w, y := pic.TextWidth(g.words, pic.Label), f.y(g.at)
	s.words.take(rectangle{f.left - 8 - w, y - 8, f.left - 8, y + 9}, 0)
	s.p.Add(f.across(g.at, pen), pic.Text{P: pic.Pt{X: f.left - 8, Y: y + 5}, S: g.words, Anchor: pic.End})
}

// rateMarks are the rates that get a line: even steps, or on a bent scale
// rounder and rounder ones, each clear of the last.
func (s *weeksSheet) rateMarks() []float64 {
	if !s.bent {
		return graduations(s.rate.y0, s.rate.y1, roundStep(s.rate.y1-s.rate.y0, 6))
	}
	out := []float64{s.want}
	for _, way := range [...]float64{1, -1} {
		edge := s.want + way*s.band
		last := s.rate.y(s.bend(edge))
		if b := s.bend(edge); b >= s.rate.y0 && b <= s.rate.y1 && math.Abs(last-s.rate.y(s.bend(s.want))) >= 18 {
			out = append(out, edge)
		} else {
			last = s.rate.y(s.bend(s.want))
		}
		for ten := math.Pow10(int(math.Floor(math.Log10(s.band)))); ten < 1e7; ten *= 10 {
			for _, k := range [...]float64{1, 2, 5} {
				v := s.want + way*k*ten
				if b := s.bend(v); k*ten <= s.band || b < s.rate.y0 || b > s.rate.y1 {
					continue
				}
				if y := s.rate.y(s.bend(v)); math.Abs(y-last) >= 22 {
					out, last = append(out, v), y
				}
			}
		}
	}
	return out
}
