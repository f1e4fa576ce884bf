package present

import (
	"fmt"
	"math"
	"strconv"
	"time"

	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/craft/regulate/tap"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// Taps is what a row of taps says of a clock: the reading, how the taps lie
// about the mark, and how it is known. zone is that of the clock's dial.
func Taps(a tap.Answer, zone *time.Location) doc.Doc {
	s := doc.Section{}
	if a.Error.Set {
		s.Body = append(s.Body, doc.Say{Text: tapWords(a)}, tapFacts(a, zone))
	}
	s.Body = append(s.Body, notices(a.Findings)...)
	if f, ok := tapFigure(a); ok {
		s.Body = append(s.Body, f)
	}
	s.Margin = append(remarks(a.Findings), doc.Working{Title: "Working", Steps: a.Working})
	if len(a.Budget) > 0 {
		b := doc.Budget{Of: "the reading"}
		for _, x := range a.Budget {
			b.Lines = append(b.Lines, doc.BudgetLine{Input: x.Input, Percent: 100 * x.Part})
		}
		s.Margin = append(s.Margin, b)
	}
	s.Margin = append(s.Margin, sources(a.Working, a.Findings))
	return doc.Doc{Title: "By taps", Sections: []doc.Section{s}}
}

// tapWords is the reading in a sentence: "12.31 s fast, ± 0.15 s".
func tapWords(a tap.Answer) string {
	value, half, decimals := roundedError(a)
	words := " s fast"
	if value < 0 {
		words = " s slow"
	}
	return unit.Number(math.Abs(value), decimals) + words + ", ± " + unit.Number(half, decimals) + " s"
}

func roundedError(a tap.Answer) (value, half float64, decimals int) {
	half = float64(a.Error.Half())
	decimals = 2
	if half >= 1 {
		decimals = 1
	}
	return float64(a.Error.Value), half, decimals
}

func tapFacts(a tap.Answer, zone *time.Location) doc.Facts {
	f := doc.Facts{{Label: "Taps that count", Value: fmt.Sprintf("%d of %d", a.Used(), len(a.Taps))}, {Label: "At", Value: a.At.In(zone).Format("15:04:05"), Note: "the middle of them"}}
	if a.Scatter.Set {
		f = append(f, doc.Fact{Label: "Scatter of one tap", Value: unit.Number(float64(a.Scatter.Value), 3), Unit: "s"})
	}
	return append(f, doc.Fact{Label: "Late by habit", Value: unit.Number(float64(a.Lag.Value), 2), Unit: "s", Doubt: "± " + unit.Number(float64(a.Lag.U), 2), Note: "taken off"})
}

// tapFigure draws the taps as spokes about the mark, as the hand sweeps it.
func tapFigure(a tap.Answer) (doc.Figure, bool) {
	if a.Used() < 2 {
		return doc.Figure{}, false
	}
	return doc.Figure{
		Name:    "taps",
		Caption: "How each tap lies about their middle, left early and right late, the first short and the last long. The band is the 95 % limits of the reading; what is out is dashed.",
		Wide:    tapPicture(a, wideFigure), Narrow: tapPicture(a, narrowFigure), Numbers: tapTable(a),
	}, true
}

func tapTable(a tap.Answer) *doc.Table {
	t := doc.Table{Caption: "Taps", Columns: []doc.Column{{Head: "Tap", Number: true}, {Head: "Mark", Number: true}, {Head: "Late", Unit: "s", Number: true}, {Head: "Counts"}}}
	words := map[string]string{"": "yes", tap.Twice: "no, a second at this mark", tap.Apart: "no, apart from the others"}
	for i, x := range a.Taps {
		t.Rows = append(t.Rows, []string{strconv.Itoa(i + 1), strconv.Itoa(x.Mark), unit.Number(float64(x.Residual), 3), words[x.Odd]})
	}
	return &t
}

// tapFan is a sector of a dial about the mark.
type tapFan struct {
	p      pic.Picture
	c      pic.Pt
	inner  float64
	outer  float64
	spread float64 // radians from the middle to the end of the scale
	scale  float64 // s at that end
}

func tapPicture(a tap.Answer, width float64) pic.Picture {
	f := tapFan{scale: tapScale(a), spread: 0.95}
	f.outer = math.Min(width/2/math.Sin(f.spread)-34, 300)
	f.inner = 0.42 * f.outer
	f.c = pic.Pt{X: width / 2, Y: f.outer + 34}
	f.p = pic.Picture{Title: "The taps about the mark", Desc: tapDesc(a), W: width, H: f.c.Y - f.inner*math.Cos(f.spread) + 30}
	f.band(a)
	f.dial()
	for i, t := range a.Taps {
		long := f.inner + (f.outer-f.inner)*(0.35+0.6*float64(i+1)/float64(len(a.Taps)))
		pen := pic.Steel
		if t.Odd != "" {
			pen = pic.Dashed
		}
		at := f.turn(float64(t.Residual))
		f.p.Add(pic.Line{A: f.at(at, f.inner), B: f.at(at, long), Pen: pen})
	}
	return f.p
}

// tapScale is a round number of seconds that holds the taps that count and the
// limits.
func tapScale(a tap.Answer) float64 {
	most := 0.05
	if a.Error.Set {
		most = max(most, float64(a.Error.Half()))
	}
	for _, t := range a.Taps {
		if t.Odd == "" {
			most = max(most, math.Abs(float64(t.Residual)))
		}
	}
	return roundUp(most)
}

// turn is the angle of a lateness, held to the end of the scale.
func (f *tapFan) turn(late float64) float64 {
	return f.spread * max(-1.04, min(1.04, late/f.scale))
}

func (f *tapFan) at(turn, r float64) pic.Pt {
	return pic.Pt{X: f.c.X + r*math.Sin(turn), Y: f.c.Y - r*math.Cos(turn)}
}

// band is the sector of the limits.
func (f *tapFan) band(a tap.Answer) {
	if !a.Error.Set {
		return
	}
	half := f.turn(float64(a.Error.Half()))
	var pts []pic.Pt
	for i := -12; i <= 12; i++ {
		pts = append(pts, f.at(half*float64(i)/12, f.outer))
	}
	for i := 12; i >= -12; i-- {
		pts = append(pts, f.at(half*float64(i)/12, f.inner))
	}
	f.p.Add(pic.Poly{Pts: pts, Closed: true, Pen: pic.NoLine, Fill: pic.Band})
}

// dial draws the rails, the divisions and the mark.
func (f *tapFan) dial() {
	up := -math.Pi / 2
	f.p.Add(pic.Arc{C: f.c, R: f.outer, From: up - f.spread, To: up + f.spread, Pen: pic.Ink},
		pic.Arc{C: f.c, R: f.inner, From: up - f.spread, To: up + f.spread, Pen: pic.Hair})
	for i := -5; i <= 5; i++ {
		at := f.spread * float64(i) / 5
		long := 5.0
		if i%5 == 0 {
			long = 9
		}
		f.p.Add(pic.Line{A: f.at(at, f.outer), B: f.at(at, f.outer+long), Pen: pic.Ink})
	}
	label := phrase.Fine(unit.Duration(f.scale))
	left, right := f.at(-f.spread, f.inner), f.at(f.spread, f.inner)
	f.p.Add(pic.Line{A: f.at(0, f.inner), B: f.at(0, f.outer), Pen: pic.Heavy},
		pic.Text{P: pic.Pt{X: f.c.X, Y: 16}, S: "middle", Anchor: pic.Middle},
		pic.Text{P: pic.Pt{X: max(left.X-40, 4), Y: left.Y + 22}, S: label + " early"},
		pic.Text{P: pic.Pt{X: min(right.X+40, f.p.W-4), Y: right.Y + 22}, S: label + " late", Anchor: pic.End})
}

func tapDesc(a tap.Answer) string {
	s := fmt.Sprintf("%d taps, of which %d count.", len(a.Taps), a.Used())
	if a.Scatter.Set {
		s += " They scatter by " + unit.Number(float64(a.Scatter.Value), 3) + " s."
	}
	return s
}
