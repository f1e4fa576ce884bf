package present

import (
	"math"
	"strconv"
	"strings"

	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/craft/listen/rate"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// allanFigure draws how steady the clock is over longer and longer times; ok
// is false where there are fewer than two.
func allanFigure(g *rate.Answer) (doc.Figure, bool) {
	if g == nil {
		return doc.Figure{}, false
	}
	all := steady(g.Allan)
	if len(all) < 2 {
		return doc.Figure{}, false
	}
	return doc.Figure{
		Name: "steadiness",
		Caption: "How much the rate changes from one stretch to the next as long (the overlapping Allan deviation), with its 95 % limits. Where the line falls, longer listening pays; " +
			"where it is level or rises, the clock itself wanders.",
		Wide: allanPicture(all, wideFigure), Narrow: allanPicture(all, narrowFigure),
		Numbers: allanTable(all),
	}, true
}

// steady keeps the points that a scale of logarithms can show.
func steady(all []rate.Allan) []rate.Allan {
	var out []rate.Allan
	for _, a := range all {
		if a.Tau > 0 && a.Dev > 0 && !math.IsInf(a.Dev, 0) {
			out = append(out, a)
		}
	}
	return out
}

func allanTable(all []rate.Allan) *doc.Table {
	t := doc.Table{Caption: "Change of rate from one stretch to the next", Columns: []doc.Column{{Head: "Stretch", Unit: "s", Number: true}, {Head: "Change", Unit: "s a day", Number: true}, {Head: "From", Unit: "s a day", Number: true}, {Head: "To", Unit: "s a day", Number: true}}}
	for _, a := range all {
		row := []string{unit.Significant(float64(a.Tau), 4)}
		for _, v := range [...]float64{a.Dev, a.Low, a.High} {
			row = append(row, unit.Significant(unit.Rate(v).PerDay(), 3))
		}
		t.Rows = append(t.Rows, row)
	}
	return &t
}

const (
	allanTop  = 34.0
	allanHigh = 230.0
)

// allanPicture draws on scales of logarithms: x log10 of seconds, y log10 of
// seconds a day.
func allanPicture(all []rate.Allan, width float64) pic.Picture {
	f := allanFrame(all, width)
	first, last := all[0], all[len(all)-1]
	p := pic.Picture{Title: "Steadiness over longer and longer stretches", W: width, H: f.foot + 52,
		Desc: "From one stretch of " + phrase.Lasting(first.Tau) + " to the next the rate changes by " + dayWords(first.Dev) + ", from one of " + phrase.Lasting(last.Tau) + " by " + dayWords(last.Dev) + "."}
	allanGrid(&p, f)
	var up, down, line []pic.Pt
	for _, a := range all {
		x := f.inX(math.Log10(float64(a.Tau)))
		low, high := limitsOf(a)
		up, down = append(up, pic.Pt{X: x, Y: f.inY(high)}), append(down, pic.Pt{X: x, Y: f.inY(low)})
		line = append(line, pic.Pt{X: x, Y: f.inY(perDayLog(a.Dev))})
	}
	for i := len(down) - 1; i >= 0; i-- {
		up = append(up, down[i])
	}
	p.Add(pic.Poly{Pts: up, Closed: true, Pen: pic.NoLine, Fill: pic.Band}, pic.Poly{Pts: line, Pen: pic.Steel})
	for i, at := range line { // whiskers
		p.Add(pic.Line{A: pic.Pt{X: at.X, Y: up[i].Y}, B: pic.Pt{X: at.X, Y: down[i].Y}, Pen: pic.Hair}, pic.Circle{C: at, R: 2.5, Pen: pic.Steel, Fill: pic.Ground})
	}
	return p
}

func dayWords(dev float64) string {
	return unit.Significant(unit.Rate(dev).PerDay(), 2) + "\u00a0s a day"
}

func perDayLog(dev float64) float64 { return math.Log10(unit.Rate(dev).PerDay()) }

// limitsOf are the limits as logarithms; a lower one of nought is drawn at
// the foot.
func limitsOf(a rate.Allan) (low, high float64) {
	low, high = perDayLog(a.Dev), perDayLog(a.Dev)
	if a.Low < a.Dev {
		low = math.Inf(-1)
		if a.Low > 0 {
			low = perDayLog(a.Low)
		}
	}
	if a.High > a.Dev && !math.IsInf(a.High, 0) {
		high = perDayLog(a.High)
	}
	return low, high
}

// allanFrame holds every point and limit, a decade at least each way.
func allanFrame(all []rate.Allan, width float64) frame {
	f := frame{left: 66, right: width - 24, top: allanTop, foot: allanTop + allanHigh, x0: math.Inf(1), x1: math.Inf(-1), y0: math.Inf(1), y1: math.Inf(-1)}
	for _, a := range all {
		x, y := math.Log10(float64(a.Tau)), perDayLog(a.Dev)
		low, high := limitsOf(a)
		f.x0, f.x1 = math.Min(f.x0, x), math.Max(f.x1, x)
		f.y0, f.y1 = math.Min(f.y0, math.Max(low, y-1)), math.Max(f.y1, math.Min(high, y+1))
	}
	f.y0, f.y1 = math.Floor(f.y0), math.Ceil(f.y1)
	if f.y1 <= f.y0 {
		f.y1 = f.y0 + 1
	}
	if pad := math.Max(0.05, (1-(f.x1-f.x0))/2); pad > 0 {
		f.x0, f.x1 = f.x0-pad, f.x1+pad
	}
	return f
}

// stretchNames are times that people think in.
var stretchNames = [...]struct {
	s    float64
	name string
}{{0.1, "0.1 s"}, {1, "1 s"}, {10, "10 s"}, {60, "1 min"}, {600, "10 min"}, {3600, "1 h"}, {6 * 3600, "6 h"}, {86400, "1 d"}, {604800, "7 d"}}

func allanGrid(p *pic.Picture, f frame) {
	p.Add(pic.Text{P: pic.Pt{X: 4, Y: 16}, S: "change of rate, s a day"}, pic.Text{P: pic.Pt{X: f.right, Y: f.foot + 44}, S: "length of a stretch", Anchor: pic.End})
	every := math.Ceil((f.y1 - f.y0) / 8)
	for v := f.y0; v <= f.y1+1e-9; v++ {
		p.Add(f.across(v, pic.Hair))
		if math.Mod(v-f.y0, every) == 0 {
			p.Add(pic.Text{P: pic.Pt{X: f.left - 8, Y: f.y(v) + 5}, S: decade(v), Anchor: pic.End})
		}
	}
	var taken places
	for _, n := range stretchNames {
		x, half := math.Log10(n.s), pic.TextWidth(n.name, pic.Label)/2
		if x < f.x0 || x > f.x1 {
			continue
		}
		p.Add(f.upright(x, pic.Hair))
		if at := f.x(x); at+half <= p.W && taken.take(rectangle{at - half, 0, at + half, 1}, 8) {
			p.Add(pic.Text{P: pic.Pt{X: at, Y: f.foot + 24}, S: n.name, Anchor: pic.Middle})
		}
	}
	p.Add(f.across(f.y0, pic.Ink), f.upright(f.x0, pic.Ink))
}

// decade writes a power of ten: "0.01", "100", beyond five noughts "10⁻⁷".
func decade(v float64) string {
	if v >= -5 && v <= 5 {
		return unit.Number(math.Pow10(int(v)), int(math.Max(0, -v)))
	}
	raised := strings.NewReplacer("-", "⁻", "0", "⁰", "1", "¹", "2", "²", "3", "³", "4", "⁴", "5", "⁵", "6", "⁶", "7", "⁷", "8", "⁸", "9", "⁹")
	return "10" + raised.Replace(strconv.Itoa(int(v)))
}
