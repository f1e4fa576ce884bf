package present

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/craft/regulate/stops"
	"seatboard/internal/kit/circular"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// mostRings is how many suspects are drawn; the table has all.
const mostRings = 3

// stopRings draws the stops round the arbors that are most suspected; ok is
// false where none goes round.
func stopRings(a stops.Answer) (doc.Figure, bool) {
	var drawn []stops.Suspect
	for _, x := range a.Suspects {
		if x.Hold > 1 && len(x.Marks) > 1 && len(drawn) < mostRings {
			drawn = append(drawn, x)
		}
	}
	if len(drawn) == 0 {
		return doc.Figure{}, false
	}
	return doc.Figure{
		Name: "stops",
		Caption: "Where each stop lies on one turn. A wheel is drawn with the tooth that was in mesh at the last stop on top; teeth that come into mesh later follow clockwise. " +
			"The heavy arc holds the stops that lie together, with the reading’s doubt at its ends.",
		Wide: stopsPicture(a, drawn, wideFigure), Narrow: stopsPicture(a, drawn, narrowFigure),
		Numbers: turnsTable(drawn),
	}, true
}

func turnsTable(drawn []stops.Suspect) *doc.Table {
	t := doc.Table{Caption: "The stops on one turn", Columns: []doc.Column{{Head: "Part"}, {Head: "Stop", Number: true}, {Head: "Turn", Number: true}, {Head: "In the place"}}, Note: "In parts of a turn from the last stop; a dial from twelve."}
	for _, x := range drawn {
		top := ringTop(x)
		for _, m := range x.Marks {
			in := "no"
			if m.In {
				in = "yes"
			}
			t.Rows = append(t.Rows, []string{ringName(x), strconv.Itoa(m.Stop), unit.Number(circular.Wrap(m.Turn-top+1e-9), 3), in})
		}
	}
	return &t
}

// ringTop is the turn that is drawn on top.
func ringTop(x stops.Suspect) float64 {
	if x.Kind == stops.Dial {
		return 0
	}
	return x.Marks[len(x.Marks)-1].Turn
}

func ringName(x stops.Suspect) string { return strings.Join(x.Names, ", or ") }

// stopsSheet is the layout of the rings.
type stopsSheet struct {
	p      pic.Picture
	c      pic.Pt
	r      float64 // radius of the ring
	x      stops.Suspect
	top    float64
	placed places
}

const (
	stopRoom   = 40.0 // outside a ring, for the numbers
	stopWords  = 66.0 // under it
	mostTicks  = 120  // teeth that are drawn
	stretchGap = 17.0 // between the circles of two stretches
)

func stopsPicture(a stops.Answer, drawn []stops.Suspect, width float64) pic.Picture {
	across := len(drawn)
	if width < ringBeside {
		across = 1
	}
	cell := width / float64(max(across, 2))
	if across == 1 && width < ringBeside {
		cell = width
	}
	r := math.Min(cell/2-stopRoom, 112)
	high := 2*(r+stopRoom) + stopWords
	s := &stopsSheet{r: r, p: pic.Picture{Title: "The stops laid round the parts most suspected", Desc: stopsDesc(a, drawn), W: width, H: high * math.Ceil(float64(len(drawn))/float64(across))}}
	for i, x := range drawn {
		s.x, s.top, s.placed = x, ringTop(x), nil
		s.c = pic.Pt{X: cell * (float64(i%across) + 0.5), Y: high*float64(i/across) + r + stopRoom}
		s.draw(cell - 12)
	}
	return s.p
}

func stopsDesc(a stops.Answer, drawn []stops.Suspect) string {
	words := a.Verdict
	for _, x := range drawn {
		words += " " + upperFirst(x.Words) + "."
	}
	return words
}

// angle is the direction of a turn, the top one upwards, clockwise.
func (s *stopsSheet) angle(turn float64) float64 { return 2*math.Pi*(turn-s.top) - math.Pi/2 }

func (s *stopsSheet) at(turn, r float64) pic.Pt {
	sin, cos := math.Sincos(s.angle(turn))
	return pic.Pt{X: s.c.X + r*cos, Y: s.c.Y + r*sin}
}

func (s *stopsSheet) draw(room float64) {
	s.p.Add(pic.Circle{C: s.c, R: s.r, Pen: pic.Ink}, pic.Circle{C: s.c, R: 4, Pen: pic.Heavy})
	s.ticks()
	stretches := map[int][]stops.Mark{}
	most := 0
	for _, m := range s.x.Marks {
		stretches[m.Stretch] = append(stretches[m.Stretch], m)
		most = max(most, m.Stretch)
	}
	gap := math.Min(stretchGap, (s.r-30)/float64(most+1))
	for k := range most + 1 {
		s.arc(stretches[k], s.r-14-gap*float64(k))
	}
	for k := range most + 1 {
		s.marks(stretches[k], s.r-14-gap*float64(k))
	}
	s.words(room)
}

// ticks are the teeth of a wheel, or the hours or minutes of a dial.
func (s *stopsSheet) ticks() {
	if s.x.Kind == stops.Dial {
		n := 12
		if s.x.Period > unit.Day/2 {
			n = 24
		}
		for i := range n {
			turn := float64(i) / float64(n)
			s.p.Add(pic.Line{A: s.at(turn, s.r), B: s.at(turn, s.r+7), Pen: pic.Ink})
		}
		return
	}
	n := s.x.Teeth
	if n < 2 || n > mostTicks {
		s.p.Add(pic.Line{A: s.at(s.top, s.r), B: s.at(s.top, s.r+9), Pen: pic.Ink})
		return
	}
	for i := range n {
		turn := s.top + float64(i)/float64(n)
		pen, long := pic.Hair, 6.0
		if i == 0 {
			pen, long = pic.Heavy, 10
		}
		s.p.Add(pic.Line{A: s.at(turn, s.r), B: s.at(turn, s.r+long), Pen: pen})
	}
}

// arc draws the place that holds those marks of one stretch that lie together.
func (s *stopsSheet) arc(marks []stops.Mark, r float64) {
	var in []float64
	for _, m := range marks {
		if m.In {
			in = append(in, m.Turn)
		}
	}
	if len(in) < 2 {
		return
	}
	a := circular.Shortest(circular.Sorted(in), len(in))
	pen := pic.Chosen
	if s.x.Found {
		pen = pic.Bad
	}
	from, to := a.From-s.x.Doubt, a.From+a.Width+s.x.Doubt
	for _, off := range [...]float64{-1, 0, 1} {
		s.p.Add(pic.Arc{C: s.c, R: r + 9 + off, From: s.angle(from), To: s.angle(to), Pen: pen})
	}
	for _, end := range [...]float64{from, to} {
		s.p.Add(pic.Line{A: s.at(end, r+4), B: s.at(end, r+13), Pen: pen})
	}
}

// marks draws the stops of one stretch, those that stand alike in a row
// inwards under one label.
func (s *stopsSheet) marks(marks []stops.Mark, r float64) {
	var labels []stopLabel
	for _, m := range marks {
		pen, fill := pic.Steel, pic.Ground
		if m.In {
			pen, fill = pic.Chosen, pic.Solid
			if s.x.Found {
				pen, fill = pic.Bad, pic.BadFill
			}
		}
		in := r
		for in > 16 && !s.placed.take(around(s.at(m.Turn, in), 5), 0) {
			in -= 4
		}
		s.p.Add(pic.Circle{C: s.at(m.Turn, in), R: 5, Pen: pen, Fill: fill})
		near := func(l stopLabel) bool { return math.Abs(circular.Wrap(l.turn-m.Turn+0.5)-0.5) < 0.03 }
		if i := slices.IndexFunc(labels, near); i >= 0 {
			labels[i].add(m.Stop)
		} else {
			labels = append(labels, stopLabel{m.Turn, strconv.Itoa(m.Stop), 1})
		}
	}
	for _, l := range labels {
		w := pic.TextWidth(l.text, pic.Plain)
		most := s.r + stopRoom - math.Max(9, w/2)
		for out := math.Min(s.r+18+w*0.3, most); out <= most; out += 6 {
			p := s.at(l.turn, out)
			if s.placed.take(rectangle{p.X - w/2, p.Y - 7, p.X + w/2, p.Y + 7}, 2) {
				s.p.Add(pic.Text{P: pic.Pt{X: p.X, Y: p.Y + 5}, S: l.text, Anchor: pic.Middle, Style: pic.Plain})
				break
			}
		}
	}
}

// stopLabel numbers the stops that stand at one place, the first few of them.
type stopLabel struct {
	turn float64
	text string
	n    int
}

func (l *stopLabel) add(stop int) {
	switch l.n++; l.n {
	case 2, 3:
		l.text += "," + strconv.Itoa(stop)
	case 4:
		l.text += "…"
	}
}

func around(p pic.Pt, r float64) rectangle { return rectangle{p.X - r, p.Y - r, p.X + r, p.Y + r} }

// words stand under the ring.
func (s *stopsSheet) words(room float64) {
	y := s.c.Y + s.r + stopRoom + 14
	style := pic.Label
	if s.x.Found {
		style = pic.Alarm
	}
	lines := []struct {
		text  string
		style pic.Lettering
	}{
		{upperFirst(s.x.Names[0]), pic.Name},
		{fmt.Sprintf("%d of %d, once in %s", s.x.Hold, s.x.Stops, phrase.Lasting(s.x.Period)), pic.Label},
		{"chance: " + oneIn(s.x.Chance), style},
	}
	if s.x.Hold < 2 {
		lines[1].text = "all round, once in " + phrase.Lasting(s.x.Period)
	}
	for _, l := range lines {
		s.p.Add(pic.Text{P: pic.Pt{X: s.c.X, Y: y}, S: fit(l.text, l.style, room), Anchor: pic.Middle, Style: l.style})
		y += ringLead
	}
}
