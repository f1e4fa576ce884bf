package present

import (
	"math"
	"strconv"
	"strings"
	"time"

	"seatboard/internal/book/trial"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// weekRow is how many days stand side by side.
const weekRow = 7

// weekFigure draws the days of a gate as a row of cells: over the band that is
// asked the rate of each day with its limits, under it what was read and heard.
func weekFigure(i int, g trial.GateStanding, now time.Time) doc.Figure {
	t := doc.Table{Caption: "Day by day", Columns: []doc.Column{{Head: "From"}, {Head: "Readings", Number: true}, {Head: "Rate", Unit: "s/d", Number: true}, {Head: "±", Unit: "s/d", Number: true}, {Head: "Verdict"}, {Head: "Hours struck right"}}}
	for _, d := range g.Days {
		row := []string{gateMinute(d.From, now), "", "", "", "", ""}
		if d.Begun {
			row[1] = strconv.Itoa(d.Readings)
		}
		if d.Rate.Set {
			value, half, places := ratePlaces(d)
			row[2], row[3], row[4] = unit.Number(value, places), unit.Number(half, places), string(d.Verdict)
		}
		if len(d.Hours) > 0 {
			row[5] = inWords(d.Hours)
		}
		t.Rows = append(t.Rows, row)
	}
	return doc.Figure{Name: "week-" + strconv.Itoa(i+1), Caption: "The days of this gate: between the two lines is right; a stroke is the rate of a day from one 95 % limit to the other, the nick its value",
		Wide: weekPicture(g, now, 700), Narrow: weekPicture(g, now, 350), Numbers: &t}
}

func inWords(x []int) string {
	var out []string
	for _, n := range x {
		out = append(out, strconv.Itoa(n))
	}
	return strings.Join(out, ", ")
}

func ratePlaces(d trial.Day) (value, half float64, places int) {
	value, half = d.Rate.Value.PerDay(), d.Rate.Half().PerDay()
	if half < 3 {
		places = 1
	}
	return value, half, places
}

const (
	weekHead = 22.0 // over a cell: the day
	weekCell = 84.0 // the field of the rate
	weekFoot = 62.0 // under it: rate, readings, strike
	weekGap  = 14.0
)

// weekSheet draws one picture of a gate.
type weekSheet struct {
	p        *pic.Picture
	g        trial.GateStanding
	now      time.Time
	side     float64 // width of a cell
	aim, top float64 // s/d: what is aimed at, and how far from it the field reaches
	band     float64
}

func weekPicture(g trial.GateStanding, now time.Time, w float64) pic.Picture {
	rows := (len(g.Days) + weekRow - 1) / weekRow
	p := pic.Picture{Title: g.Gate.Name, W: w, H: float64(rows)*(weekHead+weekCell+weekFoot+weekGap) - weekGap}
	var words []string
	for i, d := range g.Days {
		words = append(words, gateDayWords(i, d, now))
	}
	p.Desc = strings.Join(words, " ")
	s := weekSheet{p: &p, g: g, now: now, side: math.Floor((w - 2) / weekRow), aim: g.Aim.PerDay(), band: g.Band.PerDay(), top: 2 * g.Band.PerDay()}
	for i := range g.Days {
		s.cell(i)
	}
	return p
}

func (s weekSheet) cell(i int) {
	d := s.g.Days[i]
	x := float64(i%weekRow) * s.side
	y := float64(i/weekRow)*(weekHead+weekCell+weekFoot+weekGap) + weekHead
	mid := x + s.side/2
	local := d.From.In(s.now.Location())
	form := "Mon 2"
	if s.side < 70 {
		form = "2"
	}
	style := pic.Label
	if d.Begun && !d.Over {
		style = pic.Mark
	}
	s.text(mid, y-7, local.Format(form), style)
	pen := pic.Ink
	if !d.Begun {
		pen = pic.Dashed
	}
	s.p.Add(pic.Rect{Min: pic.Pt{X: x + 1, Y: y}, W: s.side, H: weekCell, Pen: pen})
	for _, at := range []float64{s.aim - s.band, s.aim + s.band} {
		s.p.Add(pic.Line{A: pic.Pt{X: x + 1, Y: s.y(y, at)}, B: pic.Pt{X: x + s.side + 1, Y: s.y(y, at)}, Pen: pic.Good})
	}
	if d.Rate.Set {
		s.stroke(d, mid, y)
	}
	s.foot(d, mid, y+weekCell)
}

// y is the place of a rate in a cell whose upper edge is at top; what is
// beyond the cell stands at its edge.
func (s weekSheet) y(top, rate float64) float64 {
	share := 0.5
	if s.top > 0 {
		share = 0.5 - (rate-s.aim)/(2*s.top)
	}
	return top + math.Min(math.Max(share, 0), 1)*weekCell
}

// stroke draws the rate of a day.
func (s weekSheet) stroke(d trial.Day, x, top float64) {
	pen := pic.Steel
	if d.Verdict == trial.NotRight {
		pen = pic.Bad
	}
	high, low, at := s.y(top, d.Rate.High.PerDay()), s.y(top, d.Rate.Low.PerDay()), s.y(top, d.Rate.Value.PerDay())
	s.p.Add(pic.Line{A: pic.Pt{X: x, Y: high}, B: pic.Pt{X: x, Y: low}, Pen: pen}, pic.Line{A: pic.Pt{X: x - 8, Y: at}, B: pic.Pt{X: x + 8, Y: at}, Pen: pen})
}

// foot writes under a cell the rate, a stroke for each reading and how many
// hours were heard.
func (s weekSheet) foot(d trial.Day, x, y float64) {
	if !d.Begun {
		return
	}
	if d.Rate.Set {
		value, _, places := ratePlaces(d)
		words, style := unit.Text(d.Rate.Value, "s/d", places), pic.Plain
		if s.side < 70 {
			words = strings.TrimSuffix(words, "\u00a0s/d")
			if math.Abs(value) >= 10 {
				words = strings.TrimSuffix(unit.Text(d.Rate.Value, "s/d", 0), "\u00a0s/d")
			}
		}
		if d.Verdict == trial.NotRight {
			style = pic.Alarm
		}
		s.text(x, y+17, words, style)
	}
	s.tally(d.Readings, x, y+26)
	if len(d.Hours) > 0 {
		words := strconv.Itoa(len(d.Hours)) + " h struck"
		if s.side < 70 {
			words = strconv.Itoa(len(d.Hours)) + " h"
		}
		s.text(x, y+weekFoot-4, words, pic.Label)
	}
}

// tally draws a stroke for each reading; more than five are a number.
func (s weekSheet) tally(n int, x, y float64) {
	if n > 5 {
		s.text(x, y+13, strconv.Itoa(n)+"×", pic.Label)
		return
	}
	left := x - float64(n-1)*3
	for i := range n {
		at := left + float64(i)*6
		s.p.Add(pic.Line{A: pic.Pt{X: at, Y: y + 2}, B: pic.Pt{X: at, Y: y + 14}, Pen: pic.Ink})
	}
	if n == 0 {
		s.text(x, y+13, "none", pic.Label)
	}
}

func (s weekSheet) text(x, y float64, words string, style pic.Lettering) {
	s.p.Add(pic.Text{P: pic.Pt{X: x, Y: y}, S: words, Anchor: pic.Middle, Style: style})
}
