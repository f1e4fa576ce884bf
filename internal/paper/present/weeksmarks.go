package present

import (
	"math"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// weeksPicture draws the whole.
func weeksPicture(a regulate.Answer, width float64) pic.Picture { return newWeeks(a, width).draw() }

func (s *weeksSheet) draw() pic.Picture {
	s.p.Desc = weeksDesc(s.a)
	s.wanted()
	s.scales()
	s.drawPaths()
	s.temperature()
	s.readings()
	s.nowLine()
	s.touches()
	s.nameWanted()
	s.p.Add(s.over...)
	s.crop()
	return s.p
}

// crop takes the lines over the rate away that no words stand on.
func (s *weeksSheet) crop() {
	const second = 39.0 // the line under the words of the scale
	free := s.highest - second
	if free <= 0 {
		return
	}
	up := func(p *pic.Pt) {
		if p.Y > 20 { // all but the words of the scale
			p.Y -= free
		}
	}
	for i, it := range s.p.Items {
		switch it := it.(type) {
		case pic.Line:
			up(&it.A)
			up(&it.B)
			s.p.Items[i] = it
		case pic.Poly:
			for k := range it.Pts {
				up(&it.Pts[k])
			}
		case pic.Rect:
			up(&it.Min)
			s.p.Items[i] = it
		case pic.Circle:
			up(&it.C)
			s.p.Items[i] = it
		case pic.Text:
			up(&it.P)
			s.p.Items[i] = it
		}
	}
	s.p.H -= free
}

// wanted hatches the band in which the rate is right, and draws the rate that
// is aimed at.
func (s *weeksSheet) wanted() {
	top, foot := s.rate.inY(s.bend(s.want+s.band)), s.rate.inY(s.bend(s.want-s.band))
	s.p.Add(pic.Rect{Min: pic.Pt{X: s.rate.left, Y: top}, W: s.rate.right - s.rate.left, H: math.Max(foot-top, 0), Pen: pic.NoLine, Fill: pic.Shaded})
	s.p.Add(s.rate.across(s.bend(s.want), pic.Good))
}

// nameWanted writes what the hatched band is where no path runs.
func (s *weeksSheet) nameWanted() {
	var all []pic.Pt
	for _, p := range s.went {
		all = append(all, p.line(s.rate)...)
	}
	w := pic.TextWidth("wanted", pic.Fine)
	for _, v := range [...]float64{s.want + s.band, s.want - s.band} {
		y := s.rate.y(s.bend(v)) + 15
		if v < s.want {
			y = s.rate.y(s.bend(v)) - 5
		}
		if y-13 < s.rate.top || y+4 > s.rate.foot {
			continue
		}
		for x := s.rate.left + 8; x+w < s.rate.inX(s.now)-4; x += 24 {
			box := rectangle{x, y - 13, x + w, y + 4}
			if !crossed(all, box) && s.words.take(box, 2) {
				s.over = append(s.over, pic.Text{P: pic.Pt{X: x, Y: y}, S: "wanted", Style: pic.Fine})
				return
			}
		}
	}
}

// crossed tells whether a line runs through a box or close by it.
func crossed(line []pic.Pt, b rectangle) bool {
	for i, p := range line {
		if i == 0 {
			continue
		}
		q := line[i-1]
		if math.Max(p.X, q.X) > b.x0-4 && math.Min(p.X, q.X) < b.x1+4 && math.Max(p.Y, q.Y) > b.y0-4 && math.Min(p.Y, q.Y) < b.y1+4 {
			return true
		}
	}
	return false
}

// nowLine parts what was from what is to come.
func (s *weeksSheet) nowLine() {
	fields := s.fields()
	x, last := s.rate.inX(s.now), fields[len(fields)-1]
	if s.rate.right-x < 2 {
		return
	}
	s.p.Add(pic.Line{A: pic.Pt{X: x, Y: s.rate.top}, B: pic.Pt{X: x, Y: last.foot}, Pen: pic.Chosen})
	word := nowOrThen(s.a)
	w := pic.TextWidth(word, pic.Mark)
	left := math.Min(math.Max(x-w/2, s.rate.left), s.p.W-w-2)
	if s.words.take(rectangle{left - 3, s.rate.top - 20, left + w + 3, s.rate.top - 3}, 0) {
		s.p.Add(pic.Text{P: pic.Pt{X: left, Y: s.rate.top - 7}, S: word, Style: pic.Mark})
	}
	if w := pic.TextWidth("if left alone", pic.Label); w+6 < s.rate.right-x && s.words.take(rectangle{x + 6, s.rate.top, x + 6 + w, s.rate.top + 18}, 0) {
		s.p.Add(pic.Text{P: pic.Pt{X: x + 6, Y: s.rate.top + 14}, S: "if left alone"})
	}
	s.afterTouch()
}

// afterTouch shows what the rate is to be after the touch that is advised.
func (s *weeksSheet) afterTouch() {
	if s.a.Advice.Do != regulate.Turn || !inBand(s.a.Advice.After) {
		return
	}
	c := s.onRate(s.a.Advice.After)
	x := s.rate.right - 7
	low, high := s.rate.inY(c.low), s.rate.inY(c.high)
	s.p.Add(pic.Line{A: pic.Pt{X: x, Y: high}, B: pic.Pt{X: x, Y: low}, Pen: pic.Chosen}, pic.Circle{C: pic.Pt{X: x, Y: s.rate.inY(c.value)}, R: 4, Pen: pic.Chosen, Fill: pic.Ground})
	words := "after the touch"
	w := pic.TextWidth(words, pic.Mark)
	// Under the whisker or over it, clear of the words at the top.
	for _, y := range [...]float64{low + 16, high - 8} {
		left := s.rate.right - w
		if y-13 > s.rate.top+20 && y+4 < s.rate.foot && left > s.rate.left && s.words.take(rectangle{left, y - 13, left + w, y + 4}, 2) {
			s.p.Add(pic.Text{P: pic.Pt{X: left, Y: y}, S: words, Style: pic.Mark})
			return
		}
	}
}

// readings draws what was read, as rings with twice their doubt; where there
// are too many for that, a stroke from the least to the most of each column.
// What is asked about stands as a cross.
func (s *weeksSheet) readings() {
	s.rateReadings()
	doubts := withReading(s.a)
	many := float64(len(s.a.Past))*5 > s.error.right-s.error.left
	var c path
	for i := range s.a.Past {
		p := &s.a.Past[i]
		seen := float64(p.Seen)
		how, known := doubts[p.Reading]
		if !known || math.IsNaN(seen) || math.IsInf(seen, 0) {
			continue
		}
		at := s.since(p.At)
		switch {
		case p.Asked:
			s.cross(pic.Pt{X: s.error.inX(at), Y: s.error.inY(seen)})
		case many:
			c = append(c, pathPoint{at, seen, seen, seen})
		default:
			s.ring(at, seen, how)
		}
	}
	for _, c := range c.thin(s.error, columnWidth) {
		x, low, high := s.error.inX(c.at), s.error.inY(c.low), s.error.inY(c.high)
		s.p.Add(pic.Line{A: pic.Pt{X: x, Y: math.Min(low+1, s.error.foot)}, B: pic.Pt{X: x, Y: math.Max(high-1, s.error.top)}, Pen: pic.Ink})
	}
}

// rateReadings draws rates that were read as lines over the time they were
// taken over, with a ring in the middle.
func (s *weeksSheet) rateReadings() {
	last := math.Inf(-1)
	for i := range s.a.Query.Readings {
		r := &s.a.Query.Readings[i]
		if r.From.IsZero() || r.Out {
			continue
		}
		from, to, v := s.since(r.From), s.since(r.At), s.bend(r.Rate.PerDay())
		if to < 0 || from > s.rate.x1 || !(v >= s.rate.y0 && v <= s.rate.y1) {
			continue
		}
		a, b := pic.Pt{X: s.rate.inX(from), Y: s.rate.y(v)}, pic.Pt{X: s.rate.inX(to), Y: s.rate.y(v)}
		if mid := (a.X + b.X) / 2; mid-last >= 4 {
			s.p.Add(pic.Line{A: a, B: b, Pen: pic.Hair}, pic.Circle{C: pic.Pt{X: mid, Y: a.Y}, R: 2.4, Pen: pic.Ink, Fill: pic.Ground})
			last = mid
		}
	}
}

func (s *weeksSheet) ring(at, seen, how float64) {
	x := s.error.inX(at)
	low, high := s.error.inY(seen-how), s.error.inY(seen+how)
	if low-high > 7 {
		s.p.Add(pic.Line{A: pic.Pt{X: x, Y: low}, B: pic.Pt{X: x, Y: high}, Pen: pic.Hair})
	}
	s.p.Add(pic.Circle{C: pic.Pt{X: x, Y: s.error.inY(seen)}, R: 2.8, Pen: pic.Ink, Fill: pic.Ground})
}

func (s *weeksSheet) cross(at pic.Pt) {
	const r = 4.5
	at.X = math.Min(math.Max(at.X, s.error.left+r), s.error.right-r)
	at.Y = math.Min(math.Max(at.Y, s.error.top+r), s.error.foot-r)
	s.p.Add(pic.Line{A: pic.Pt{X: at.X - r, Y: at.Y - r}, B: pic.Pt{X: at.X + r, Y: at.Y + r}, Pen: pic.Bad},
		pic.Line{A: pic.Pt{X: at.X - r, Y: at.Y + r}, B: pic.Pt{X: at.X + r, Y: at.Y - r}, Pen: pic.Bad})
	half := pic.TextWidth("asked", pic.Alarm) / 2
	for _, y := range [...]float64{at.Y + 19, at.Y - 10} {
		if at.X-half < s.error.left || at.X+half > s.error.right || y-13 < s.error.top || y+4 > s.error.foot {
			continue
		}
		if s.words.take(rectangle{at.X - half, y - 13, at.X + half, y + 4}, 2) {
			s.p.Add(pic.Text{P: pic.Pt{X: at.X, Y: y}, S: "asked", Anchor: pic.Middle, Style: pic.Alarm})
			return
		}
	}
}

// touches marks every touch over the rate, with its words where there is
// room; winding is a short stroke at the foot.
func (s *weeksSheet) touches() {
	last := math.Inf(-1)
	for _, t := range weekTouches(s.a) {
		at := s.since(t.at)
		if at < -86400 || at > s.rate.x1 {
			continue
		}
		x := s.rate.inX(at)
		if t.minor {
			if x-last >= 3 {
				s.p.Add(pic.Line{A: pic.Pt{X: x, Y: s.rate.foot}, B: pic.Pt{X: x, Y: s.rate.foot - 7}, Pen: pic.Ink})
				last = x
			}
			continue
		}
		pen, style := pic.Ink, pic.Plain
		if t.asked {
			pen, style = pic.Bad, pic.Alarm
		}
		s.p.Add(pic.Line{A: pic.Pt{X: x, Y: s.rate.top}, B: pic.Pt{X: x, Y: s.rate.foot}, Pen: pen})
		if !t.until.IsZero() && t.until.After(t.at) {
			s.standing(x, s.rate.inX(s.since(t.until)))
		}
		s.wayMark(x, t.up)
		s.name(x, t.words, style)
	}
}

// standing fills the time that the clock stood.
func (s *weeksSheet) standing(from, to float64) {
	for _, f := range s.fields() {
		s.p.Add(pic.Rect{Min: pic.Pt{X: from, Y: f.top}, W: math.Max(to-from, 0), H: f.foot - f.top, Pen: pic.Hair, Fill: pic.Hatch2})
	}
}

// wayMark is an arrow head at the top of a touch: which way the nut went.
func (s *weeksSheet) wayMark(x float64, up int) {
	if up == 0 {
		return
	}
	tip, back := s.rate.top+1, s.rate.top+10
	if up < 0 {
		tip, back = back, tip
	}
	s.p.Add(pic.Poly{Pts: []pic.Pt{{X: x, Y: tip}, {X: x - 4, Y: back}, {X: x + 4, Y: back}}, Closed: true, Pen: pic.NoLine, Fill: pic.Solid})
}

// name sets the words of a touch over it, on the lowest line that is free.
func (s *weeksSheet) name(x float64, words string, style pic.Lettering) {
	w := pic.TextWidth(words, style)
	left := math.Min(math.Max(x-w/2, 0), s.p.W-w)
	if left < 0 {
		return
	}
	for y := s.rate.top - 7; y > 12; y -= 18 {
		if !s.words.take(rectangle{left - 3, y - 13, left + w + 3, y + 4}, 0) {
			continue
		}
		if y < s.rate.top-8 {
			s.p.Add(pic.Line{A: pic.Pt{X: x, Y: y + 5}, B: pic.Pt{X: x, Y: s.rate.top}, Pen: pic.Hair})
		}
		s.over = append(s.over, pic.Text{P: pic.Pt{X: left, Y: y}, S: words, Style: style})
		s.highest = math.Min(s.highest, y)
		return
	}
}

// secondsFast writes an error with its sign and unit.
func secondsFast(d unit.Duration) string {
	switch {
	case math.Abs(float64(d)) >= 600:
		return signedNumber(float64(d)/60, 1) + "\u00a0min"
	case math.Abs(float64(d)) < 10:
		return signedNumber(float64(d), 2) + "\u00a0s"
	}
	return signedNumber(float64(d), 1) + "\u00a0s"
}
