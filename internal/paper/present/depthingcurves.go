package present

import (
	"math"

	"seatboard/internal/craft/mesh"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// turningFigure draws speed and torque of the pinion through a pitch.
func turningFigure(a mesh.Answer) doc.Figure {
	t := doc.Table{Caption: "Speed and torque of the pinion through a pitch", Columns: []doc.Column{{Head: "Wheel past the line", Unit: "°", Number: true}, {Head: "Speed", Unit: "%", Number: true},
		{Head: "Torque", Unit: "%", Number: true}, {Head: "Sliding", Unit: "mm a radian of the wheel", Number: true}, {Head: "Before even turning", Unit: "′ of the pinion", Number: true}}}
	step := max(1, len(a.Moments)/20)
	for i := 0; i < len(a.Moments); i += step {
		if i+step >= len(a.Moments) {
			i = len(a.Moments) - 1
		}
		m := a.Moments[i]
		t.Rows = append(t.Rows, []string{unit.Number(pastLine(a, m), 2), unit.Number(100*m.Ratio, 2), unit.Number(100*m.Passed, 1), unit.Number(m.Slides, 2), unit.Number(unit.Angle(m.Ahead).Degrees()*60, 1)})
	}
	return doc.Figure{Name: "turning", Caption: "The even pair without friction is 100. Where the torque falls off before the line of centres it is engaging friction; where speed rises, torque falls by as much.",
		Wide: turningCurves(a, wideFigure), Narrow: turningCurves(a, narrowFigure), Numbers: &t}
}

// pastLine is the wheel's angle after the touch on the line of centres, in
// degrees.
func pastLine(a mesh.Answer, m mesh.Moment) float64 {
	return unit.Angle(m.Wheel - a.Turn.Line).Degrees()
}

// Places of the curves, in pixels.
const (
	meshLeft, meshRight = 52.0, 18.0
	meshHead, meshHigh  = 40.0, 220.0
	meshLow             = 90.0 // height of the lower field of the depths
)

func turningCurves(a mesh.Answer, width float64) pic.Picture {
	low, high := 100.0, 100.0
	for _, m := range a.Moments {
		if m.Ratio > 0 {
			low, high = min(low, 100*m.Ratio, 100*m.Passed), max(high, 100*m.Ratio, 100*m.Passed)
		}
	}
	low = max(low, 0)
	step := roundStep(max(high-low, 2), 5)
	f := frame{left: meshLeft, right: width - meshRight, top: meshHead, foot: meshHead + meshHigh, x0: pastLine(a, a.Moments[0]), x1: pastLine(a, a.Turn.Out),
		y0: math.Floor(low/step) * step, y1: math.Ceil(high/step+0.2) * step}
	p := pic.Picture{W: width, H: f.foot + 54, Title: "Speed and torque of the pinion through a pitch",
		Desc: "The pinion turns at " + unit.Number(100*float64(a.Slowest.Value), 1) + " to " + unit.Number(100*float64(a.Fastest.Value), 1) + " % of its even speed; at the weakest moment " + unit.Number(100*float64(a.Weakest.Value), 1) + " % of the torque is passed on."}
	f.percents(&p, step)
	f.degreesBelow(&p, "° of the wheel past the line of centres")
	if f.x0 < 0 && f.x1 > 0 {
		p.Add(f.upright(0, pic.Chain))
	}
	curve := func(of func(mesh.Moment) float64, pen pic.Pen) (pts []pic.Pt) {
		var run []pic.Pt
		end := func() {
			if len(run) > 1 {
				p.Add(pic.Poly{Pts: run, Pen: pen})
			}
			run = nil
		}
		for i, m := range a.Moments {
			if m.Ratio == 0 {
				end()
				continue
			}
			if i%2 == 0 || i == len(a.Moments)-1 || changes(a.Moments, i) {
				run = append(run, pic.Pt{X: f.inX(pastLine(a, m)), Y: f.inY(100 * of(m))})
				pts = append(pts, run[len(run)-1])
			}
		}
		end()
		return pts
	}
	speed := curve(func(m mesh.Moment) float64 { return m.Ratio }, pic.Dashed)
	torque := curve(func(m mesh.Moment) float64 { return m.Passed }, pic.Steel)
	f.name(&p, "speed", speed, torque)
	f.name(&p, "torque passed on", torque, speed)
	return p
}

// changes tells a moment at which the load goes over from one tooth to another:
// there are two at one angle.
func changes(all []mesh.Moment, i int) bool {
	return i > 0 && all[i-1].Wheel == all[i].Wheel || i+1 < len(all) && all[i+1].Wheel == all[i].Wheel
}

// name writes the name of a curve where it is farthest from the other, on the
// side away from it.
func (f frame) name(p *pic.Picture, words string, of, other []pic.Pt) {
	w := pic.TextWidth(words, pic.Plain)
	best, room := pic.Pt{}, -1.0
	for _, up := range [...]bool{true, false} {
		for x := f.left + 6; x+w < f.right-4; x += 8 {
			y := edgeOver(of, x, x+w, up)
			if up {
				y -= 8
			} else {
				y += 18
			}
			if y-14 < f.top || y+4 > f.foot-26 { // the foot is for words about the field
				continue
			}
			// How far the other curve is from the words.
			high, low := edgeOver(other, x, x+w, true), edgeOver(other, x, x+w, false)
			free := max(high-(y+4), y-14-low)
			if free > room {
				best, room = pic.Pt{X: x, Y: y}, free
			}
		}
	}
	if room >= 0 {
		p.Add(pic.Text{P: best, S: words, Style: pic.Plain})
	}
}

// edgeOver is the highest or lowest place of a curve between two places.
func edgeOver(pts []pic.Pt, from, to float64, up bool) float64 {
	y, seen := 0.0, false
	for i, p := range pts {
		near := p.X >= from && p.X <= to
		if !near && i > 0 && (pts[i-1].X < from) != (p.X < from) { // it spans the words
			near = true
		}
		if near && (!seen || up == (p.Y < y)) {
			y, seen = p.Y, true
		}
	}
	if !seen {
		return math.Inf(1)
	}
	return y
}

// percents draws lines of a step with their figures.
func (f frame) percents(p *pic.Picture, step float64) {
	for _, v := range graduations(f.y0, f.y1, step) {
		p.Add(f.across(v, pic.Hair), pic.Text{P: pic.Pt{X: f.left - 8, Y: f.y(v) + 5}, S: unit.Number(v, placesOf(step)), Anchor: pic.End})
	}
	p.Add(pic.Text{P: pic.Pt{X: 2, Y: f.top - 14}, S: "% of an even pair without friction"})
}

// degreesBelow draws figures under a field.
func (f frame) degreesBelow(p *pic.Picture, words string) {
	step := roundStep(f.x1-f.x0, int((f.right-f.left)/70))
	for _, v := range graduations(f.x0, f.x1, step) {
		x := f.x(v)
		p.Add(pic.Line{A: pic.Pt{X: x, Y: f.foot}, B: pic.Pt{X: x, Y: f.foot + 5}, Pen: pic.Hair},
			pic.Text{P: pic.Pt{X: x, Y: f.foot + 24}, S: unit.Number(v, placesOf(step)), Anchor: pic.Middle})
	}
	p.Add(pic.Text{P: pic.Pt{X: f.right, Y: f.foot + 44}, S: words, Anchor: pic.End})
}

// depthFigure draws the weakest moment and the lead against the distance.
func depthFigure(a mesh.Answer) doc.Figure {
	t := doc.Table{Caption: "What the pair does at each distance", Columns: []doc.Column{{Head: "Centres", Unit: "mm", Number: true}, {Head: "It"}, {Head: "Lead", Unit: "°", Number: true},
		{Head: "Slowest", Unit: "%", Number: true}, {Head: "Fastest", Unit: "%", Number: true}, {Head: "Weakest", Unit: "%", Number: true}, {Head: "Strongest", Unit: "%", Number: true}, {Head: "Play", Unit: "°", Number: true}}}
	for i, d := range a.Depths {
		if i%2 == 1 && len(a.Depths) > 24 {
			continue
		}
		row := []string{unit.Number(d.Distance, 3), stateWords(d.State), "", "", "", "", "", ""}
		if d.State == mesh.Works || d.State == mesh.Locks {
			copy(row[2:], []string{unit.Number(unit.Angle(d.Lead).Degrees(), 1), unit.Number(100*d.Slowest, 1), unit.Number(100*d.Fastest, 1), unit.Number(100*d.Weakest, 1), unit.Number(100*d.Strongest, 1), unit.Number(unit.Angle(d.Play).Degrees(), 2)})
		}
		t.Rows = append(t.Rows, row)
	}
	return doc.Figure{Name: "depths", Caption: "Least and greatest torque in a pitch, and the lead, from deep at the left to shallow at the right. The best depth is where the two come nearest.",
		Wide: depthCurves(a, wideFigure), Narrow: depthCurves(a, narrowFigure), Numbers: &t}
}

func depthCurves(a mesh.Answer, width float64) pic.Picture {
	first, last := a.Depths[0], a.Depths[len(a.Depths)-1]
	f := frame{left: meshLeft, right: width - meshRight, top: meshHead + 20, foot: meshHead + 20 + meshHigh, x0: first.Distance, x1: last.Distance, y0: 0, y1: 100}
	for _, d := range a.Depths {
		if d.State == mesh.Works {
			f.y1 = max(f.y1, 20*math.Ceil(min(100*d.Strongest, 190)/20))
		}
	}
	lead := f
	lead.top, lead.foot = f.foot+48, f.foot+48+meshLow
	low, high := 0.0, 5.0
	for _, d := range a.Depths {
		if d.State == mesh.Works {
			x := unit.Angle(d.Lead).Degrees()
			low, high = min(low, x), max(high, x)
		}
	}
	step := roundStep(high-low, 3)
	lead.y0, lead.y1 = math.Floor(low/step)*step, math.Ceil(high/step)*step
	p := pic.Picture{W: width, H: lead.foot + 54, Title: "Torque and lead against the distance of the centres"}
	p.Add(pic.Text{P: pic.Pt{X: 2, Y: 16}, S: "Torque in a pitch, % of an even one"}, pic.Text{P: pic.Pt{X: 2, Y: lead.top - 14}, S: "Lead, ° of the pinion"})
	for _, v := range graduations(0, f.y1, 20) {
		p.Add(f.across(v, pic.Hair), pic.Text{P: pic.Pt{X: f.left - 8, Y: f.y(v) + 5}, S: unit.Number(v, 0), Anchor: pic.End})
	}
	for _, v := range graduations(lead.y0, lead.y1, step) {
		p.Add(lead.across(v, pic.Hair), pic.Text{P: pic.Pt{X: f.left - 8, Y: lead.y(v) + 5}, S: unit.Number(v, placesOf(step)), Anchor: pic.End})
	}
	f.refused(&p, a.Depths, lead)
	least := f.worksLine(&p, a.Depths, func(d mesh.Depth) float64 { return 100 * d.Weakest })
	most := f.worksLine(&p, a.Depths, func(d mesh.Depth) float64 { return 100 * d.Strongest })
	lead.worksLine(&p, a.Depths, func(d mesh.Depth) float64 { return unit.Angle(d.Lead).Degrees() })
	f.name(&p, "least", least, most)
	f.name(&p, "greatest", most, least)
	f.marks(&p, a, lead.foot)
	lead.degreesBelow(&p, "mm between the centres")
	p.Desc = depthsInWords(a)
	return p
}

// worksLine draws a figure over the distances at which the pair runs.
func (f frame) worksLine(p *pic.Picture, all []mesh.Depth, of func(mesh.Depth) float64) (pts []pic.Pt) {
	var run []pic.Pt
	for i := 0; i <= len(all); i++ {
		if i < len(all) && all[i].State == mesh.Works {
			run = append(run, pic.Pt{X: f.x(all[i].Distance), Y: f.inY(of(all[i]))})
			continue
		}
		if len(run) > 1 {
			p.Add(pic.Poly{Pts: run, Pen: pic.Steel})
		}
		pts, run = append(pts, run...), nil
	}
	return pts
}

func depthsInWords(a mesh.Answer) string {
	s := "It stands at " + unit.Text(a.Distance.Value, "mm", 3) + "."
	if a.AtBest != nil {
		s += " The best distance is " + unit.Text(a.Best.Value, "mm", 3) + ", where the weakest moment passes on " + unit.Number(100*a.AtBest.Weakest, 0) + " % of the torque."
	}
	return s
}

// refused hatches the distances at which the pair does not run, in both
// fields.
func (f frame) refused(p *pic.Picture, all []mesh.Depth, lower frame) {
	half := (f.x1 - f.x0) / float64(len(all)-1) / 2
	for i := 0; i < len(all); {
		j := i
		for j < len(all) && all[j].State == all[i].State {
			j++
		}
		if s := all[i].State; s != mesh.Works {
			from, to := f.inX(all[i].Distance-half), f.inX(all[j-1].Distance+half)
			for _, g := range [...]frame{f, lower} {
				p.Add(pic.Rect{Min: pic.Pt{X: from, Y: g.top}, W: to - from, H: g.foot - g.top, Pen: pic.NoLine, Fill: pic.Shaded})
			}
			word := map[mesh.State]string{mesh.Apart: "apart", mesh.Butts: "butts", mesh.Binds: "binds", mesh.Locks: "locks"}[s]
			if w := pic.TextWidth(word, pic.Alarm); w+8 < to-from {
				p.Add(pic.Text{P: pic.Pt{X: (from + to) / 2, Y: f.foot - 12}, S: word, Anchor: pic.Middle, Style: pic.Alarm})
			}
		}
		i = j
	}
}

// marks draws where the pair stands and where it is best.
func (f frame) marks(p *pic.Picture, a mesh.Answer, foot float64) {
	line := func(x float64, pen pic.Pen) {
		p.Add(pic.Line{A: pic.Pt{X: x, Y: f.top - 10}, B: pic.Pt{X: x, Y: foot}, Pen: pen})
	}
	here := f.inX(a.Distance.Value.MM())
	if a.AtBest == nil {
		line(here, pic.Chosen)
		f.flagBetween(p, here, "stands here", pic.Mark)
		return
	}
	best := f.inX(a.Best.Value.MM())
	low, high := f.inX(a.BestLow.Value.MM()), f.inX(a.BestHigh.Value.MM())
	p.Add(pic.Rect{Min: pic.Pt{X: low, Y: f.top}, W: high - low, H: f.foot - f.top, Pen: pic.NoLine, Fill: pic.Band})
	if math.Abs(best-here) < 4 {
		line(here, pic.Good)
		f.flagBetween(p, here, "stands here, as good as can be", pic.Fine)
		return
	}
	line(best, pic.Good)
	line(here, pic.Chosen)
	one, two := "best", "stands here"
	left, right := min(best, here), max(best, here)
	style := [2]pic.Lettering{pic.Fine, pic.Mark}
	if here < best {
		one, two = two, one
		style = [2]pic.Lettering{pic.Mark, pic.Fine}
	}
	y := f.top - 14
	w1, w2 := pic.TextWidth(one, style[0]), pic.TextWidth(two, style[1])
	x1 := max(left-w1-3, 2)
	x2 := min(max(right+3, x1+w1+8), p.W-w2-2)
	if x1+w1+4 > x2 {
		x1 = x2 - w1 - 6
	}
	p.Add(pic.Text{P: pic.Pt{X: x1, Y: y}, S: one, Style: style[0]}, pic.Text{P: pic.Pt{X: x2, Y: y}, S: two, Style: style[1]})
}

// flagBetween writes words over a line, within the picture.
func (f frame) flagBetween(p *pic.Picture, x float64, words string, style pic.Lettering) {
	w := pic.TextWidth(words, style)
	p.Add(pic.Text{P: pic.Pt{X: min(max(x-w/2, 2), p.W-w-2), Y: f.top - 14}, S: words, Style: style})
}
