package present

import (
	"fmt"
	"math"

	"seatboard/internal/craft/drive"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// fallFigure draws the case in elevation with the weight on its way down; ok
// is false where the fall or its time is not known.
func fallFigure(a drive.Answer) (doc.Figure, bool) {
	if len(a.Hangs) < 2 || !a.Fall.Total.Set {
		return doc.Figure{}, false
	}
	return doc.Figure{
		Name:    "fall",
		Caption: "The case in elevation, to scale in height: the weight as wound and at the end, and where its lower end hangs in between." + swingCaption(a),
		Wide:    fallPicture(a, 640), Narrow: fallPicture(a, 340),
		Numbers: hangTable(a),
	}, true
}

func swingCaption(a drive.Answer) string {
	if a.Swing == nil {
		return ""
	}
	return " In the hatched zone it may swing with the pendulum."
}

// fallSheet is the layout of one drawing.
type fallSheet struct {
	a           drive.Answer
	p           pic.Picture
	narrow      bool
	seat        float64 // y of the under side of the seat board
	scale       float64 // pixels to the metre
	left, right float64 // walls of the trunk
	wound       float64 // depth of the weight's lower end when wound
	weight      float64 // length of the weight with hook and pulley
	body        float64 // of which the cylinder
	room        float64 // from there to the floor, or to where it ends
	floor       bool    // the floor is known
	end         drive.Hang
	notes       []sideNote
}

// sideNote is words at the right of the case with the place they belong to.
type sideNote struct {
	y     float64 // of the place
	from  float64 // x where its leader begins
	lines []string
	style pic.Lettering
}

// Sizes of the drawing in pixels.
const (
	fallTop  = 96.0 // the hood
	fallLead = 19.0 // between lines of words
	fallGap  = 7.0  // between notes
)

func fallPicture(a drive.Answer, width float64) pic.Picture {
	s := newFallSheet(a, width)
	s.drawCase()
	s.drawPendulum()
	s.drawWeight()
	s.drawDays()
	s.drawNotes()
	return s.p
}

func newFallSheet(a drive.Answer, width float64) *fallSheet {
	s := &fallSheet{a: a, narrow: width < 480, end: a.Hangs[len(a.Hangs)-1]}
	s.left, s.right = 170, 330
	height := 520.0
	if s.narrow {
		s.left, s.right, height = 90, 180, 470
	}
	s.room, s.floor = float64(a.Fall.Room.Value), a.Fall.Room.Set
	if !s.floor {
		s.room = float64(s.end.Fallen.Value)
	}
	s.weight = orElse(a.Query.WeightLength, orElse(a.Query.WeightHeight, s.room*0.14))
	s.body = orElse(a.Query.WeightHeight, s.weight*0.7)
	s.wound = s.weight + s.room*0.03
	if a.Fall.BottomWound.Set {
		s.wound = float64(a.Fall.BottomWound.Value)
		s.weight = math.Min(s.weight, s.wound)
		s.body = math.Min(s.body, s.weight)
	}
	deepest := math.Max(s.wound+s.room, s.bobDepth()+2*s.bobHalf())
	s.seat, s.scale = fallTop, height/deepest
	s.p = pic.Picture{
		Title: "The weight in its case", Desc: fallWords(a),
		W: width, H: fallTop + height + 52,
	}
	return s
}

func orElse(r meas.Reading[unit.Length], other float64) float64 {
	if r.Set {
		return float64(r.Value)
	}
	return other
}

// y is the place of a depth under the seat board.
func (s *fallSheet) y(depth float64) float64 { return s.seat + depth*s.scale }

// fallWords tells what is drawn.
func fallWords(a drive.Answer) string {
	w := fmt.Sprintf("The weight falls %s.", a.Fall.Total.Text("m", 3))
	switch {
	case a.Fall.LandsAfter.Set:
		w += " It stands on the floor after " + drive.Span(a.Fall.LandsAfter.Value) + "."
	case a.Fall.LeftAtEnd.Set:
		w += " At the end it hangs " + a.Fall.LeftAtEnd.Text("m", 3) + " above the floor."
	}
	if a.Swing != nil {
		w += " Its free length is near the pendulum's from " + a.Swing.Words + "."
	}
	if a.Bob != nil {
		w += " It hangs beside the bob from " + a.Bob.Words + "."
	}
	return w
}

// drawCase draws hood, trunk and base, the seat board and the floor cut.
func (s *fallSheet) drawCase() {
	l, r := s.left, s.right
	floor := s.y(s.wound + s.room)
	if bob := s.y(s.bobDepth() + s.bobHalf()); !s.floor && bob > floor {
		floor = bob
	}
	foot := floor + 30
	base := math.Max(floor-0.2*(floor-s.seat), s.seat+30)
	s.p.Add(
		// hood: cornice, sides, dial
		pic.Poly{Pts: []pic.Pt{{X: l - 14, Y: 20}, {X: r + 14, Y: 20}, {X: r + 6, Y: 30}, {X: l - 6, Y: 30}}, Closed: true, Pen: pic.Ink},
		pic.Line{A: pic.Pt{X: l - 6, Y: 30}, B: pic.Pt{X: l - 6, Y: s.seat + 2}, Pen: pic.Ink},
		pic.Line{A: pic.Pt{X: r + 6, Y: 30}, B: pic.Pt{X: r + 6, Y: s.seat + 2}, Pen: pic.Ink},
		pic.Circle{C: pic.Pt{X: (l + r) / 2, Y: 56}, R: 21, Pen: pic.Hair},
		// trunk
		pic.Line{A: pic.Pt{X: l, Y: s.seat}, B: pic.Pt{X: l, Y: base}, Pen: pic.Ink},
		pic.Line{A: pic.Pt{X: r, Y: s.seat}, B: pic.Pt{X: r, Y: base}, Pen: pic.Ink},
		// base
		pic.Poly{Pts: []pic.Pt{{X: l, Y: base}, {X: l - 8, Y: base + 6}, {X: l - 8, Y: foot}}, Pen: pic.Ink},
		pic.Poly{Pts: []pic.Pt{{X: r, Y: base}, {X: r + 8, Y: base + 6}, {X: r + 8, Y: foot}}, Pen: pic.Ink},
		// seat board, cut
		pic.Rect{Min: pic.Pt{X: l - 6, Y: s.seat - 8}, W: r - l + 12, H: 8, Pen: pic.Heavy, Fill: pic.Hatch},
	)
	if s.floor {
		s.p.Add(pic.Rect{Min: pic.Pt{X: l - 8, Y: floor}, W: r - l + 16, H: 9, Pen: pic.Heavy, Fill: pic.Hatch2})
		s.note(floor+4, r+8, pic.Label, "floor of the case")
	}
	s.p.Add(pic.Line{A: pic.Pt{X: l - 8, Y: foot}, B: pic.Pt{X: r + 8, Y: foot}, Pen: pic.Ink})
	s.note(s.seat-4, r+6, pic.Label, "seat board")
}

// bobDepth is the middle of the bob under the seat board, 0 where it is not
// known.
func (s *fallSheet) bobDepth() float64 {
	if !s.a.Pendulum.Set {
		return 0
	}
	return float64(s.a.Pendulum.Value) - orElse(s.a.Query.SuspensionAboveSeat, 0)
}

func (s *fallSheet) bobHalf() float64 {
	if !s.a.Pendulum.Set {
		return 0
	}
	return orElse(s.a.Query.BobHalfHeight, 0.05*float64(s.a.Pendulum.Value))
}

// drawPendulum hangs rod and bob at their true depth.
func (s *fallSheet) drawPendulum() {
	if s.bobDepth() <= 0 {
		return
	}
	axis := s.left + 0.68*(s.right-s.left)
	top := math.Max(s.y(-orElse(s.a.Query.SuspensionAboveSeat, 0)), 34)
	c := pic.Pt{X: axis, Y: s.y(s.bobDepth())}
	r := math.Min(math.Max(s.bobHalf()*s.scale, 5), 0.24*(s.right-s.left))
	h := math.Max(s.bobHalf()*s.scale, 5)
	s.p.Add(pic.Line{A: pic.Pt{X: axis - 5, Y: top}, B: pic.Pt{X: axis + 5, Y: top}, Pen: pic.Heavy},
		pic.Line{A: pic.Pt{X: axis, Y: top}, B: pic.Pt{X: axis, Y: c.Y - h}, Pen: pic.Ink})
	var lens []pic.Pt
	for i := range 40 {
		t := 2 * math.Pi * float64(i) / 40
		lens = append(lens, pic.Pt{X: c.X + r*math.Cos(t), Y: c.Y + h*math.Sin(t)})
	}
	s.p.Add(pic.Poly{Pts: lens, Closed: true, Pen: pic.Ink, Fill: pic.Ground},
		pic.Line{A: pic.Pt{X: c.X - r, Y: c.Y}, B: pic.Pt{X: c.X + r, Y: c.Y}, Pen: pic.Hair})
	s.note(c.Y, axis+r, pic.Label, "bob, "+unit.Text(s.a.Pendulum.Value, "mm", 0))
}

// track is the middle and half width of the weight's way.
func (s *fallSheet) track() (x, half float64) {
	w := s.right - s.left
	return s.left + 0.26*w, math.Min(0.13*w, 17)
}

// drawWeight draws the zone of swing, the weight as wound and at the end, its
// line, and what is left to the floor.
func (s *fallSheet) drawWeight() {
	x, half := s.track()
	if w := s.a.Swing; w != nil {
		from, to := s.y(s.wound+s.fallenAt(w.From)), s.y(s.wound+s.fallenAt(w.To))
		s.p.Add(pic.Rect{Min: pic.Pt{X: s.left, Y: from}, W: x + half + 6 - s.left, H: to - from, Pen: pic.Chosen, Fill: pic.Shaded})
		s.note((from+to)/2, x+half+6, pic.Mark, s.swingLines(w)...)
	}
	fallen := float64(s.end.Fallen.Value)
	s.oneWeight(s.wound+fallen, pic.Dashed, pic.Empty)
	s.oneWeight(s.wound, pic.Ink, pic.Hatch)
	if s.end.AboveFloor.Set {
		s.drawLeft(s.wound + fallen)
	}
}

// fallenAt is the fall at a time of the running.
func (s *fallSheet) fallenAt(t meas.Result[unit.Duration]) float64 {
	h, ok := s.a.At(t.Value)
	if !ok {
		return float64(s.end.Fallen.Value)
	}
	return float64(h.Fallen.Value)
}

func (s *fallSheet) swingLines(w *drive.Window) []string {
	from, to := s.hour(w.From.Value), s.hour(w.To.Value)
	if s.narrow {
		return []string{"may swing with", "the pendulum", from, "to " + to}
	}
	return []string{"may swing with the pendulum", from + " to " + to}
}

// hour is a time after winding: weekday and hour in the first week where the
// day of winding is known, else the days counted.
func (s *fallSheet) hour(t unit.Duration) string {
	h, ok := s.a.At(t)
	switch {
	case ok && h.When != "" && t <= 7*unit.Day:
		return h.When
	case !ok || h.Label == "wound" || t < 1800:
		return "winding"
	}
	return h.Label
}

// oneWeight draws line, pulley or hook, and weight with its lower end at a
// depth.
func (s *fallSheet) oneWeight(bottom float64, pen pic.Pen, fill pic.Fill) {
	x, half := s.track()
	low, top, hook := s.y(bottom), s.y(bottom-s.body), s.y(bottom-s.weight)
	line := pic.Hair
	if pen == pic.Dashed {
		line = pic.Dashed
	}
	r := math.Min(math.Max((top-hook)/2-1, 2), half-3)
	if s.a.Query.Falls == 2 || s.a.Query.Barrel == drive.Endless && s.a.Query.Falls == 0 {
		c := pic.Pt{X: x, Y: top - r - 1}
		s.p.Add(pic.Line{A: pic.Pt{X: x - r, Y: s.seat}, B: pic.Pt{X: x - r, Y: c.Y}, Pen: line},
			pic.Line{A: pic.Pt{X: x + r, Y: s.seat}, B: pic.Pt{X: x + r, Y: c.Y}, Pen: line},
			pic.Circle{C: c, R: r, Pen: pen, Fill: pic.Ground})
	} else {
		s.p.Add(pic.Line{A: pic.Pt{X: x, Y: s.seat}, B: pic.Pt{X: x, Y: top}, Pen: line})
	}
	if fill != pic.Empty {
		s.p.Add(pic.Rect{Min: pic.Pt{X: x - half, Y: top}, W: 2 * half, H: low - top, Pen: pic.NoLine, Fill: pic.Ground})
	}
	s.p.Add(pic.Rect{Min: pic.Pt{X: x - half, Y: top}, W: 2 * half, H: low - top, Pen: pen, Fill: fill})
}

// drawLeft shows what is left to the floor, or that nothing is.
func (s *fallSheet) drawLeft(bottom float64) {
	x, half := s.track()
	floor := s.y(s.wound + s.room)
	if s.a.Fall.LandsAfter.Set {
		s.note(floor-6, x+half, pic.Alarm, "on the floor in", drive.Span(s.a.Fall.LandsAfter.Value))
		return
	}
	low := s.y(bottom)
	s.p.Add(pic.Line{A: pic.Pt{X: x, Y: low}, B: pic.Pt{X: x, Y: floor}, Pen: pic.Good},
		pic.Line{A: pic.Pt{X: x - 4, Y: low}, B: pic.Pt{X: x + 4, Y: low}, Pen: pic.Good},
		pic.Line{A: pic.Pt{X: x - 4, Y: floor}, B: pic.Pt{X: x + 4, Y: floor}, Pen: pic.Good})
	s.note((low+floor)/2, x, pic.Fine, unit.Text(s.end.AboveFloor.Value, "mm", 0)+" left")
}
