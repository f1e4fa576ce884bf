package present

import (
	"fmt"
	"math"
	"strconv"

	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/culprit"
	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// ringFigure draws each tooth of the escape wheel as a spoke; ok is false
// where the teeth are not known.
func ringFigure(a culprit.Answer) (doc.Figure, bool) {
	if len(a.Teeth) < 2 {
		return doc.Figure{}, false
	}
	return doc.Figure{
		Name: "tooth-ring",
		Caption: "When each tooth of the escape wheel lets go: the circle is the mean of all, a spoke outwards is late, inwards early, " +
			"and its thin line is the 95 % limits. Tooth 1 is the first in the record; they follow clockwise.",
		Wide: ringPicture(a, wideFigure), Narrow: ringPicture(a, narrowFigure),
		Numbers: teethTable(a),
	}, true
}

func teethTable(a culprit.Answer) *doc.Table {
	t := doc.Table{Caption: "Teeth of the escape wheel", Columns: []doc.Column{{Head: "Tooth", Number: true}, {Head: "Late", Unit: "µs", Number: true},
		{Head: "From", Unit: "µs", Number: true}, {Head: "To", Unit: "µs", Number: true}, {Head: "Chance that it is nothing"}},
		Note: "Entry and exit pallet taken together, against the mean of all teeth. The chance is among all the teeth: of so many, one may well stand out a little."}
	for _, x := range a.Teeth {
		v, low, high := phrase.Limits(x.Late, "µs")
		chance := phrase.OneIn(x.Chance)
		if !a.IsOdd(x) {
			chance = "as the others"
		}
		t.Rows = append(t.Rows, []string{strconv.Itoa(x.Number + 1), v, low, high, chance})
	}
	return &t
}

// ringSheet is the layout of one ring.
type ringSheet struct {
	a      culprit.Answer
	p      pic.Picture
	c      pic.Pt
	mean   float64 // radius of the reference circle, pixels
	reach  float64 // pixels of the scale's end
	scale  float64 // seconds at that end
	narrow bool
	placed places
}

const (
	ringNumbers = 30.0  // room for the numbers outside the ring
	ringLead    = 19.0  // between lines of words
	ringBeside  = 600.0 // width from which the words stand beside the ring
)

func ringPicture(a culprit.Answer, width float64) pic.Picture {
	s := newRingSheet(a, width)
	s.drawWheel()
	for i := range a.Teeth {
		s.drawTooth(i)
	}
	s.numberOdd()
	s.numberOthers()
	if s.narrow {
		s.rulerFlat(width/2, s.p.H+16)
		s.listOdd(8, s.p.H+10, width-16)
	} else {
		left := s.c.X + s.outer() + ringNumbers + 30
		s.rulerDown(left, ringNumbers+s.reach)
		s.listOdd(left, ringNumbers+2*s.reach+36, width-left-4)
	}
	return s.p
}

func newRingSheet(a culprit.Answer, width float64) *ringSheet {
	s := &ringSheet{a: a, narrow: width < ringBeside, scale: ringScale(a)}
	outer := math.Min(width/2-ringNumbers-4, 168)
	s.mean, s.reach = outer*0.70, outer*0.30
	s.c = pic.Pt{X: outer + ringNumbers + 4, Y: outer + ringNumbers}
	if s.narrow {
		s.c.X = width / 2
	}
	s.p = pic.Picture{Title: "The teeth of the escape wheel", Desc: ringDesc(a), W: width, H: 2 * (outer + ringNumbers)}
	return s
}

func (s *ringSheet) outer() float64 { return s.mean + s.reach }

// ringScale is a round number of seconds that holds every limit.
func ringScale(a culprit.Answer) float64 {
	most := 1e-6
	for _, t := range a.Teeth {
		most = math.Max(most, math.Max(math.Abs(float64(t.Late.Low)), math.Abs(float64(t.Late.High))))
	}
	return roundUp(most)
}

// roundUp is the next of 1, 1.5, 2, 3, 4, 5, 6, 8 times a power of ten.
func roundUp(x float64) float64 {
	ten := math.Pow10(int(math.Floor(math.Log10(x))))
	for _, n := range [...]float64{1, 1.5, 2, 3, 4, 5, 6, 8} {
		if x <= n*ten*(1+1e-9) {
			return n * ten
		}
	}
	return 10 * ten
}

func ringDesc(a culprit.Answer) string {
	words := fmt.Sprintf("Each of the %d teeth against their mean.", len(a.Teeth))
	odd := 0
	for _, t := range a.Teeth {
		if a.IsOdd(t) && odd < 6 {
			words += fmt.Sprintf(" Tooth %d lets go %s.", t.Number+1, listen.ToothWords(t))
			odd++
		}
	}
	if odd == 0 {
		words += " None stands out."
	}
	return words
}

// at is the point of a lateness in the direction of a tooth, the first
// upwards.
func (s *ringSheet) at(i int, late float64) pic.Pt {
	return s.polar(s.angle(i), s.mean+late/s.scale*s.reach)
}

func (s *ringSheet) angle(i int) float64 {
	return 2*math.Pi*float64(i)/float64(len(s.a.Teeth)) - math.Pi/2
}

func (s *ringSheet) polar(angle, r float64) pic.Pt {
	return pic.Pt{X: s.c.X + r*math.Cos(angle), Y: s.c.Y + r*math.Sin(angle)}
}

// drawWheel draws the circles of the scale and the arbor in the middle.
func (s *ringSheet) drawWheel() {
	s.p.Add(pic.Circle{C: s.c, R: s.outer(), Pen: pic.Hair}, pic.Circle{C: s.c, R: s.mean - s.reach, Pen: pic.Hair},
		pic.Circle{C: s.c, R: s.mean, Pen: pic.Ink},
		pic.Circle{C: s.c, R: 13, Pen: pic.Ink, Fill: pic.Hatch}, pic.Circle{C: s.c, R: 4, Pen: pic.Heavy, Fill: pic.Ground})
	for i := range 4 { // the arms
		turn := math.Pi/4 + float64(i)*math.Pi/2
		s.p.Add(pic.Line{A: s.polar(turn, 13), B: s.polar(turn, s.mean-s.reach), Pen: pic.Hair})
	}
}

// drawTooth draws a spoke and its whisker.
func (s *ringSheet) drawTooth(i int) {
	t := s.a.Teeth[i]
	pen, thin := pic.Heavy, pic.Ink
	if s.a.IsOdd(t) {
		pen, thin = pic.Bad, pic.Bad
	}
	low, high := float64(t.Late.Low), float64(t.Late.High)
	s.p.Add(pic.Line{A: s.at(i, low), B: s.at(i, high), Pen: thin}, pic.Line{A: s.at(i, 0), B: s.at(i, float64(t.Late.Value)), Pen: pen})
	half := math.Min(3, 0.3*2*math.Pi*(s.mean-s.reach)/float64(len(s.a.Teeth)))
	across := pic.Pt{X: -math.Sin(s.angle(i)) * half, Y: math.Cos(s.angle(i)) * half}
	for _, end := range [...]float64{low, high} {
		p := s.at(i, end)
		s.p.Add(pic.Line{A: pic.Pt{X: p.X - across.X, Y: p.Y - across.Y}, B: pic.Pt{X: p.X + across.X, Y: p.Y + across.Y}, Pen: thin})
	}
	if s.a.IsOdd(t) {
		s.p.Add(pic.Circle{C: s.at(i, float64(t.Late.Value)), R: 3, Pen: pic.Bad, Fill: pic.BadFill})
	}
}

// numberOdd sets the numbers of the odd teeth outside the ring.
func (s *ringSheet) numberOdd() {
	for i, t := range s.a.Teeth {
		if s.a.IsOdd(t) {
			s.number(i, pic.Alarm)
		}
	}
}

// numberOthers numbers the first tooth and every fifth where there is room.
func (s *ringSheet) numberOthers() {
	for i, t := range s.a.Teeth {
		if (t.Number == 0 || (t.Number+1)%5 == 0) && !s.a.IsOdd(t) {
			s.number(i, pic.Label)
		}
	}
}

func (s *ringSheet) number(i int, style pic.Lettering) {
	words := strconv.Itoa(s.a.Teeth[i].Number + 1)
	w := pic.TextWidth(words, style)
	p := s.polar(s.angle(i), s.outer()+15)
	box := rectangle{p.X - w/2, p.Y - 8, p.X + w/2, p.Y + 9}
	if !s.placed.take(box, 3) {
		return
	}
	s.p.Add(pic.Text{P: pic.Pt{X: p.X, Y: p.Y + 5}, S: words, Anchor: pic.Middle, Style: style})
}

// ends are the words at the two ends of the scale.
func (s *ringSheet) ends() (early, late string) {
	label := phrase.Fine(unit.Duration(s.scale))
	return label + " early", label + " late"
}

// rulerDown draws the scale as a rule that stands like the first spoke.
func (s *ringSheet) rulerDown(x, y float64) {
	early, late := s.ends()
	s.p.Add(pic.Line{A: pic.Pt{X: x, Y: y - s.reach}, B: pic.Pt{X: x, Y: y + s.reach}, Pen: pic.Ink})
	for i := -5; i <= 5; i++ {
		at := y + s.reach*float64(i)/5
		s.p.Add(pic.Line{A: pic.Pt{X: x, Y: at}, B: pic.Pt{X: x + graduation(i), Y: at}, Pen: pic.Hair})
	}
	for i, words := range [...]string{late, "mean", early} {
		s.p.Add(pic.Text{P: pic.Pt{X: x + 16, Y: y + s.reach*float64(i-1) + 5}, S: words})
	}
}

// rulerFlat draws the scale as a rule lying down.
func (s *ringSheet) rulerFlat(x, y float64) {
	early, late := s.ends()
	s.p.Add(pic.Line{A: pic.Pt{X: x - s.reach, Y: y}, B: pic.Pt{X: x + s.reach, Y: y}, Pen: pic.Ink})
	for i := -5; i <= 5; i++ {
		at := x + s.reach*float64(i)/5
		s.p.Add(pic.Line{A: pic.Pt{X: at, Y: y}, B: pic.Pt{X: at, Y: y - graduation(i)}, Pen: pic.Hair})
	}
	s.p.Add(pic.Text{P: pic.Pt{X: x - s.reach - 6, Y: y + 4}, S: early, Anchor: pic.End},
		pic.Text{P: pic.Pt{X: x + s.reach + 6, Y: y + 4}, S: late},
		pic.Text{P: pic.Pt{X: x, Y: y + 18}, S: "mean", Anchor: pic.Middle})
	s.p.H = math.Max(s.p.H, y+26)
}

// graduation is the length of a stroke of a rule, longer at every fifth.
func graduation(i int) float64 {
	if i%5 == 0 {
		return 10
	}
	return 5
}

// listOdd names the odd teeth with their values from y downwards.
func (s *ringSheet) listOdd(x, y, room float64) {
	y += 6
	line := func(words string, style pic.Lettering) {
		s.p.Add(pic.Text{P: pic.Pt{X: x, Y: y}, S: fit(words, style, room), Style: style})
		s.p.H = math.Max(s.p.H, y+8)
		y += ringLead
	}
	odd := 0
	for _, t := range s.a.Teeth {
		if !s.a.IsOdd(t) {
			continue
		}
		if odd++; odd <= 8 {
			line(fmt.Sprintf("tooth %d: %s", t.Number+1, listen.ToothWords(t)), pic.Alarm)
		}
	}
	switch {
	case odd == 0:
		line("no tooth stands out", pic.Fine)
	case odd > 8:
		line(fmt.Sprintf("and %d more", odd-8), pic.Label)
	}
}
