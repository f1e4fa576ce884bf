package present

import (
	"fmt"
	"math"

	"seatboard/internal/craft/train/ratio"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// nearFigure draws the trains by their teeth and by what they are off; ok is
// false where there are fewer than two.
func nearFigure(a ratio.Answer) (doc.Figure, bool) {
	if len(a.Trains) < 2 {
		return doc.Figure{}, false
	}
	numbers := allTrains(a)
	return doc.Figure{Name: "near", Caption: "What each train is off by against the teeth that it takes, the further down the nearer. Along the line none is as near with fewer teeth.",
		Wide: nearPicture(a, wideFigure), Narrow: nearPicture(a, narrowFigure), Numbers: &numbers}, true
}

const (
	nearTop  = 34.0
	nearHigh = 250.0
)

// nearFrame has x teeth and y log10 of seconds a day.
func nearFrame(a ratio.Answer, width float64) frame {
	f := frame{left: 70, right: width - 16, top: nearTop, foot: nearTop + nearHigh, x0: math.Inf(1), x1: math.Inf(-1), y0: math.Inf(1), y1: math.Inf(-1)}
	for _, t := range a.Trains {
		f.x0, f.x1 = math.Min(f.x0, float64(t.Teeth)), math.Max(f.x1, float64(t.Teeth))
		if !t.Exact() {
			y := math.Log10(math.Abs(t.Rate.PerDay()))
			f.y0, f.y1 = math.Min(f.y0, y), math.Max(f.y1, y)
		}
	}
	if math.IsInf(f.y0, 1) {
		f.y0, f.y1 = 0, 1
	}
	pad := math.Max((f.x1-f.x0)*.08, 3)
	f.x0, f.x1 = f.x0-pad, f.x1+pad
	f.y0, f.y1 = math.Floor(f.y0-.2), math.Ceil(f.y1+.1)
	return f
}

func nearPicture(a ratio.Answer, width float64) pic.Picture {
	f := nearFrame(a, width)
	p := pic.Picture{Title: "Trains by their teeth and by what they are off", W: width, H: f.foot + 52}
	best := a.Trains[0]
	p.Desc = fmt.Sprintf("The nearest is %s with %d teeth, %s.", pairWords(best.Pairs), best.Teeth, offWords(best.Train, best.Off))
	nearGrid(&p, f)
	at := func(t ratio.Offer) pic.Pt {
		y := f.foot
		if !t.Exact() {
			y = f.inY(math.Log10(math.Abs(t.Rate.PerDay())))
		}
		return pic.Pt{X: f.x(float64(t.Teeth)), Y: y}
	}
	var line []pic.Pt
	for _, t := range a.Trains {
		if t.Few {
			q := at(t)
			if len(line) > 0 {
				line = append(line, pic.Pt{X: line[len(line)-1].X, Y: q.Y})
			}
			line = append(line, q)
		}
	}
	p.Add(pic.Poly{Pts: line, Pen: pic.Steel})
	var taken places
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		taken = append(taken, rectangle{math.Min(a.X, b.X), math.Min(a.Y, b.Y), math.Max(a.X, b.X), math.Max(a.Y, b.Y)})
	}
	for _, t := range a.Trains {
		q, pen, r := at(t), pic.Hair, 3.0
		if t.Few {
			pen, r = pic.Chosen, 4
		}
		p.Add(pic.Circle{C: q, R: r, Pen: pen, Fill: pic.Ground})
		taken = append(taken, rectangle{q.X - 4, q.Y - 4, q.X + 4, q.Y + 4})
	}
	for _, t := range a.Trains {
		if t.Few {
			nearName(&p, f, at(t), pairWords(t.Pairs), &taken)
		}
	}
	return p
}

// nearName sets the name of a train beside its point, where there is room.
func nearName(p *pic.Picture, f frame, at pic.Pt, words string, taken *places) {
	w := pic.TextWidth(words, pic.Mark)
	for _, left := range [...]float64{at.X + 9, at.X - 9 - w, at.X - w/2} {
		for _, up := range [...]float64{-6, 16, 5, -20} {
			y := at.Y + up
			if left < f.left+2 || left+w > f.right+12 || y < f.top+12 || y > f.foot-2 {
				continue
			}
			if taken.take(rectangle{left, y - 13, left + w, y + 3}, 1) {
				p.Add(pic.Text{P: pic.Pt{X: left, Y: y}, S: words, Style: pic.Mark})
				return
			}
		}
	}
}

func nearGrid(p *pic.Picture, f frame) {
	p.Add(pic.Text{P: pic.Pt{X: 4, Y: 15}, S: "off, s a day"}, pic.Text{P: pic.Pt{X: f.right, Y: f.foot + 44}, S: "teeth of all wheels and pinions", Anchor: pic.End}, f.across(f.y0, pic.Ink))
	step := math.Max(math.Ceil((f.y1-f.y0)/6), 1)
	for _, v := range graduations(f.y0, f.y1, step) {
		if v > f.y0 {
			p.Add(f.across(v, pic.Hair))
		}
		p.Add(pic.Text{P: pic.Pt{X: f.left - 8, Y: f.y(v) + 5}, S: unit.Significant(math.Pow(10, v), 1), Anchor: pic.End})
	}
	across := math.Max(roundStep(f.x1-f.x0, int((f.right-f.left)/70)), 1)
	for _, v := range graduations(f.x0, f.x1, across) {
		p.Add(pic.Line{A: pic.Pt{X: f.x(v), Y: f.foot}, B: pic.Pt{X: f.x(v), Y: f.foot + 5}, Pen: pic.Hair}, pic.Text{P: pic.Pt{X: f.x(v), Y: f.foot + 24}, S: unit.Number(v, 0), Anchor: pic.Middle})
	}
}
