package present

import (
	"math"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// soundsFigure draws the two sounds that were learned; ok is false where
// there are none.
func soundsFigure(h beat.Hearing) (doc.Figure, bool) {
	r := longestRun(h)
	if r == nil || len(r.Tick.Y) < 2 || !(r.Tick.Step > 0) {
		return doc.Figure{}, false
	}
	caption := "The sounds of tick and tock as learned from the record, each to its own height, in milliseconds from the impact."
	if len(soundsOf(*r)) == 1 {
		caption = "The sound of a beat as learned from the record, in milliseconds from the impact; it is too short for one of each side."
	}
	return doc.Figure{Name: "tick-and-tock", Caption: caption, Wide: soundsPicture(*r, wideFigure), Narrow: soundsPicture(*r, narrowFigure), Numbers: soundsTable(*r)}, true
}

// sound is a learned shape with its name.
type sound struct {
	name  string
	shape beat.Shape
}

func soundsOf(r beat.Run) []sound {
	if r.OneShape || len(r.Tock.Y) < 2 || !(r.Tock.Step > 0) {
		return []sound{{"tick or tock", r.Tick}}
	}
	return []sound{{"tick", r.Tick}, {"tock", r.Tock}}
}

// peak is the greatest magnitude of a shape from one time to another, in
// seconds from the impact.
func peak(s beat.Shape, from, to float64) float64 {
	most := 0.0
	for i, y := range s.Y {
		if t := timeOf(s, i); t >= from && t < to {
			most = math.Max(most, math.Abs(float64(y)))
		}
	}
	return most
}

func timeOf(s beat.Shape, i int) float64 { return float64(s.Start) + float64(i)*float64(s.Step) }

// soundsSpan is the time that both shapes cover, in whole milliseconds.
func soundsSpan(all []sound) (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	for _, s := range all {
		from, to = math.Min(from, float64(s.shape.Start)), math.Max(to, timeOf(s.shape, len(s.shape.Y)-1))
	}
	return math.Floor(from*1e3) * 1e-3, math.Ceil(to*1e3) * 1e-3
}

func soundsTable(r beat.Run) *doc.Table {
	all := soundsOf(r)
	t := doc.Table{Caption: "Loudness from the impact on", Columns: []doc.Column{{Head: "From", Unit: "ms", Number: true}, {Head: "To", Unit: "ms", Number: true}},
		Note: "Greatest magnitude of each part; that of the whole sound is 1."}
	for _, s := range all {
		t.Columns = append(t.Columns, doc.Column{Head: phrase.Capital(s.name), Number: true})
	}
	from, to := soundsSpan(all)
	step := math.Max(1, roundStep((to-from)*1e3, 24))
	for ms := math.Floor(from*1e3/step) * step; ms < to*1e3; ms += step {
		row := []string{unit.Number(ms, 0), unit.Number(ms+step, 0)}
		for _, s := range all {
			row = append(row, unit.Number(peak(s.shape, ms*1e-3, (ms+step)*1e-3), 2))
		}
		t.Rows = append(t.Rows, row)
	}
	return &t
}

const (
	soundsTop  = 26.0
	soundsHigh = 150.0
)

// soundsPicture sets the two beside each other on a wide page, one over the
// other on a narrow one, on one scale of time.
func soundsPicture(r beat.Run, width float64) pic.Picture {
	all := soundsOf(r)
	from, to := soundsSpan(all)
	p := pic.Picture{Title: "Tick and tock", W: width, Desc: soundsDesc(all)}
	gap, narrow := 26.0, width < 480
	room := width - 2*14
	if len(all) == 2 && !narrow {
		room = (room - gap) / 2
	}
	for i, s := range all {
		f := frame{left: 14, right: 14 + room, top: soundsTop, foot: soundsTop + soundsHigh, x0: from, x1: to, y0: -1.05, y1: 1.05}
		switch {
		case i == 1 && narrow:
			f.top, f.foot = f.top+soundsHigh+66, f.foot+soundsHigh+66
		case i == 1:
			f.left, f.right = f.left+room+gap, f.right+room+gap
		}
		drawSound(&p, f, s)
		p.H = f.foot + 52
	}
	return p
}

func soundsDesc(all []sound) string {
	words := ""
	for _, s := range all {
		words += phrase.Capital(s.name) + ": loudest at " + signedNumber(loudest(s.shape)*1e3, 1) + "\u00a0ms, dead to a tenth after " + unit.Number(deadAfter(s.shape)*1e3, 1) + "\u00a0ms. "
	}
	return words[:len(words)-1]
}

// loudest is the time of the greatest magnitude.
func loudest(s beat.Shape) float64 {
	best := 0
	for i, y := range s.Y {
		if math.Abs(float64(y)) > math.Abs(float64(s.Y[best])) {
			best = i
		}
	}
	return timeOf(s, best)
}

// deadAfter is the time of the last sample over a tenth of the greatest.
func deadAfter(s beat.Shape) float64 {
	most, last := peak(s, math.Inf(-1), math.Inf(1)), 0
	for i, y := range s.Y {
		if math.Abs(float64(y)) > 0.1*most {
			last = i
		}
	}
	return timeOf(s, last)
}

// drawSound draws one shape with its axis.
func drawSound(p *pic.Picture, f frame, s sound) {
	p.Add(pic.Text{P: pic.Pt{X: f.left, Y: f.top - 10}, S: phrase.Capital(s.name), Style: pic.Name}, f.across(0, pic.Hair),
		pic.Line{A: pic.Pt{X: f.left, Y: f.foot}, B: pic.Pt{X: f.right, Y: f.foot}, Pen: pic.Ink})
	if f.x0 <= 0 && f.x1 >= 0 {
		p.Add(f.upright(0, pic.Chosen))
		if w := pic.TextWidth("impact", pic.Mark); f.x(0)+5+w <= f.right && f.x(0)+5 > f.left+pic.TextWidth(s.name, pic.Name)+6 {
			p.Add(pic.Text{P: pic.Pt{X: f.x(0) + 5, Y: f.top - 10}, S: "impact", Style: pic.Mark})
		}
	}
	step := roundStep((f.x1-f.x0)*1e3, int((f.right-f.left)/44))
	for _, ms := range graduations(f.x0*1e3, f.x1*1e3, step) {
		x := f.x(ms * 1e-3)
		p.Add(pic.Line{A: pic.Pt{X: x, Y: f.foot}, B: pic.Pt{X: x, Y: f.foot + 5}, Pen: pic.Hair},
			pic.Text{P: pic.Pt{X: x, Y: f.foot + 24}, S: signedNumber(ms, placesOf(step)), Anchor: pic.Middle})
	}
	p.Add(pic.Text{P: pic.Pt{X: f.right, Y: f.foot + 44}, S: "ms from the impact", Anchor: pic.End},
		pic.Poly{Pts: trace(f, s.shape), Pen: pic.Steel})
}

// trace is the line of a shape: lowest and highest sample of each pixel, or
// every sample where they are fewer.
func trace(f frame, s beat.Shape) []pic.Pt {
	most := peak(s, math.Inf(-1), math.Inf(1))
	if most == 0 {
		most = 1
	}
	var out []pic.Pt
	low, high, at := math.Inf(1), math.Inf(-1), math.Inf(-1)
	flush := func() {
		if high > low {
			out = append(out, pic.Pt{X: at, Y: f.inY(low)}, pic.Pt{X: at, Y: f.inY(high)})
		} else if high == low {
			out = append(out, pic.Pt{X: at, Y: f.inY(low)})
		}
	}
	for i := range s.Y {
		x, y := f.inX(timeOf(s, i)), float64(s.Y[i])/most
		if x-at >= 1 {
			flush()
			low, high, at = math.Inf(1), math.Inf(-1), x
		}
		low, high = math.Min(low, y), math.Max(high, y)
	}
	flush()
	return out
}
