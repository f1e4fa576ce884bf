package present

import (
	"fmt"
	"math"
	"strings"

	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/craft/listen/rate"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// residualsFigure draws how far every beat is off the mean rate.
func residualsFigure(a listen.Answer) (doc.Figure, bool) {
	if a.Going == nil || len(a.Going.Residuals) < 12 {
		return doc.Figure{}, false
	}
	all := a.Going.Residuals
	caption := "How far the beats are off the mean rate, tick and tock each from its own mean, late upwards: the line is where the clock itself goes, in its 95 % band; " +
		"hatched is where the beats lie, 95 of 100; strokes beyond it are single beats far out."
	if far := farWords(condense(all, a.Hearing.Runs, 24)); far != "" {
		caption += " " + far
	}
	return doc.Figure{Name: "every-beat", Caption: caption, Wide: residualsPicture(a, wideFigure), Narrow: residualsPicture(a, narrowFigure), Numbers: residualsTable(all, a.Hearing.Runs)}, true
}

// farWords counts the beats far out and places the farthest.
func farWords(cs []column) string {
	n, worst, at := 0, 0.0, 0.0
	for _, c := range cs {
		n += c.farOut
		if math.Abs(c.earliest) > math.Abs(worst) {
			worst, at = c.earliest, c.earlyAt
		}
		if math.Abs(c.latest) > math.Abs(worst) {
			worst, at = c.latest, c.lAt
		}
	}
	if n == 0 {
		return ""
	}
	way := "late"
	if worst < 0 {
		way = "early"
	}
	return fmt.Sprintf("%s, the farthest %s %s at %s.", phrase.Capital(phrase.Times(n, "beat is far out", "beats are far out")), phrase.Fine(unit.Duration(math.Abs(worst))), way, phrase.At(unit.Duration(at)))
}

func residualsTable(all []rate.Residual, runs []beat.Run) *doc.Table {
	t := doc.Table{Caption: "The beats against the mean rate", Columns: []doc.Column{{Head: "From", Unit: "s", Number: true}, {Head: "To", Unit: "s", Number: true}, {Head: "Beats", Number: true},
		{Head: "Earliest", Unit: "µs", Number: true}, {Head: "Median", Unit: "µs", Number: true}, {Head: "Latest", Unit: "µs", Number: true}, {Head: "Path", Unit: "µs", Number: true}, {Head: "±", Number: true}, {Head: "Far out", Number: true}},
		Note: "Late is positive. The path is where the clock itself is thought to be, mean of each part, with half its 95 % band."}
	micro := func(s float64) string { return unit.Number(s*1e6, 1) }
	for _, c := range condense(all, runs, 24) {
		low, high := c.low, c.high
		if c.earliest < low {
			low = c.earliest
		}
		if c.latest > high {
			high = c.latest
		}
		t.Rows = append(t.Rows, []string{unit.Number(c.from, 1), unit.Number(c.to, 1), phrase.Counted(float64(c.beats)), micro(low), micro(c.median), micro(high), micro(c.path), micro(c.band), phrase.Counted(float64(c.farOut))})
	}
	return &t
}

// residualsSheet is the layout of the figure.
type residualsSheet struct {
	p       pic.Picture
	f       frame
	columns []column
	symbol  string
	words   places
}

const (
	residualsTop  = 62.0 // with two lines for breaks
	residualsHigh = 230.0
)

func residualsPicture(a listen.Answer, width float64) pic.Picture {
	all := a.Going.Residuals
	s := &residualsSheet{columns: condense(all, a.Hearing.Runs, int(width/4))}
	reach := residualsReach(s.columns)
	s.symbol = phrase.FineSymbol(unit.Duration(reach))
	s.f = frame{left: 66, right: width - 18, top: residualsTop, foot: residualsTop + residualsHigh,
		x0: float64(all[0].At), x1: float64(all[len(all)-1].At), y0: -reach, y1: reach}
	s.p = pic.Picture{Title: "Every beat against the mean rate", W: width, H: s.f.foot + 52}
	s.p.Desc = residualsDesc(s.columns)
	s.scales()
	s.envelope()
	s.ribbon()
	s.farOut()
	s.breaks(a.Hearing)
	s.marks(a.Hearing.Marks)
	return s.p
}

func residualsDesc(cs []column) string {
	low, high := math.Inf(1), math.Inf(-1)
	for _, c := range cs {
		low, high = math.Min(low, c.path), math.Max(high, c.path)
	}
	words := fmt.Sprintf("The clock's own path lies between %s early and %s late.", phrase.Fine(unit.Duration(math.Max(-low, 0))), phrase.Fine(unit.Duration(math.Max(high, 0))))
	return strings.TrimSpace(words + " " + farWords(cs))
}

// residualsReach is the end of the scale either way: all but the beats far
// out lie within it.
func residualsReach(cs []column) float64 {
	most := 1e-7
	for _, c := range cs {
		for _, v := range [...]float64{c.low, c.high, c.under, c.over} {
			most = math.Max(most, math.Abs(v))
		}
	}
	return roundUp(1.25 * most)
}

// scales draws grid and figures.
func (s *residualsSheet) scales() {
	step := s.f.y1 / 2
	places := placesOf(unit.In(unit.Duration(step), s.symbol))
	for i := -2; i <= 2; i++ {
		v := step * float64(i)
		pen := pic.Hair
		if i == 0 {
			pen = pic.Ink
		}
		s.p.Add(s.f.across(v, pen), pic.Text{P: pic.Pt{X: s.f.left - 8, Y: s.f.y(v) + 5}, S: signedNumber(unit.In(unit.Duration(v), s.symbol), places), Anchor: pic.End})
	}
	words := "late, " + s.symbol
	s.p.Add(pic.Text{P: pic.Pt{X: 4, Y: 16}, S: words})
	s.words.take(rectangle{0, 0, 4 + pic.TextWidth(words, pic.Label), 20}, 0)
	s.f.timeAxis(&s.p, "from the start")
}

// signedNumber writes a number with its sign.
func signedNumber(x float64, places int) string {
	n := unit.Number(x, places)
	if x > 0 {
		return "+" + n
	}
	return n
}

// stretches calls f with the columns of each unbroken stretch.
func (s *residualsSheet) stretches(f func([]column)) {
	for i := 0; i < len(s.columns); {
		k := i + 1
		for k < len(s.columns) && s.columns[k].stretch == s.columns[i].stretch {
			k++
		}
		f(s.columns[i:k])
		i = k
	}
}

// zone is the closed outline between two lines over the columns, from the
// first beat to the last.
func (s *residualsSheet) zone(cs []column, low, high func(column) float64) []pic.Pt {
	x := func(i int) float64 {
		switch i {
		case 0:
			return s.f.inX(cs[0].from)
		case len(cs) - 1:
			return s.f.inX(cs[len(cs)-1].to)
		}
		return s.f.inX(cs[i].middle())
	}
	var up, down []pic.Pt
	for i, c := range cs {
		up = append(up, pic.Pt{X: x(i), Y: s.f.inY(high(c))})
		down = append(down, pic.Pt{X: x(i), Y: s.f.inY(low(c))})
	}
	if len(cs) == 1 { // a short stretch is as long as its beats
		end := s.f.inX(cs[0].to)
		up, down = append(up, pic.Pt{X: end, Y: up[0].Y}), append(down, pic.Pt{X: end, Y: down[0].Y})
	}
	for i := len(down) - 1; i >= 0; i-- {
		up = append(up, down[i])
	}
	return up
}

// envelope hatches where the beats lie.
func (s *residualsSheet) envelope() {
	s.stretches(func(cs []column) {
		s.p.Add(pic.Poly{Pts: s.zone(cs, func(c column) float64 { return c.low }, func(c column) float64 { return c.high }), Closed: true, Pen: pic.Hair, Fill: pic.Hatch})
	})
}

// ribbon draws the clock's own path in its band.
func (s *residualsSheet) ribbon() {
	s.stretches(func(cs []column) {
		s.p.Add(pic.Poly{Pts: s.zone(cs, func(c column) float64 { return c.under }, func(c column) float64 { return c.over }), Closed: true, Pen: pic.NoLine, Fill: pic.Band})
		path := s.zone(cs, func(c column) float64 { return c.path }, func(c column) float64 { return c.path })
		s.p.Add(pic.Poly{Pts: path[:len(path)/2], Pen: pic.Steel})
	})
}

// farOut strokes the farthest beats of each column; beyond the scale an
// arrow stands at its end.
func (s *residualsSheet) farOut() {
	stroke := func(at, off float64) {
		if math.IsNaN(off) {
			return
		}
		x, y := s.f.inX(at), s.f.inY(off)
		if s.f.y(off) == y {
			s.p.Add(pic.Line{A: pic.Pt{X: x, Y: math.Max(y-4, s.f.top)}, B: pic.Pt{X: x, Y: math.Min(y+4, s.f.foot)}, Pen: pic.Bad})
			return
		}
		in := 7.0
		if off < 0 {
			in = -7
		}
		s.p.Add(pic.Poly{Pts: []pic.Pt{{X: x - 3, Y: y + in}, {X: x, Y: y}, {X: x + 3, Y: y + in}}, Pen: pic.Bad})
	}
	for _, c := range s.columns {
		stroke(c.earlyAt, c.earliest)
		stroke(c.lAt, c.latest)
	}
}
