package present

import (
	"fmt"
	"math"
	"slices"

	"seatboard/internal/craft/identify"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// sizesFigure draws what was measured among the standards: threads in the
// plane of diameter and pitch, plain sizes on a rule for each gauge.
func sizesFigure(a identify.Answer) (doc.Figure, bool) {
	if len(a.Candidates) == 0 {
		return doc.Figure{}, false
	}
	t := nearTable(a)
	if a.Candidates[0].Thread == nil {
		return doc.Figure{Name: "sizes", Caption: "The sizes of each gauge near what was measured; the band is two doubts each way.", Numbers: &t,
			Wide: rulePicture(a, wideFigure), Narrow: rulePicture(a, narrowFigure)}, true
	}
	return doc.Figure{Name: "threads", Caption: "Standard threads by diameter and pitch, with what was measured and two doubts each way. A worn or filed screw lies to the left of its standard.", Numbers: &t,
		Wide: threadPicture(a, wideFigure), Narrow: threadPicture(a, narrowFigure)}, true
}

// nearTable lists the standard sizes that are drawn.
func nearTable(a identify.Answer) doc.Table {
	t := doc.Table{Caption: "The standard sizes of the picture", Columns: []doc.Column{{Head: "Size"}, {Head: "Diameter", Unit: "mm", Number: true}}}
	if a.Candidates[0].Thread == nil {
		names, rows := gaugesNear(a)
		for _, n := range names {
			for _, g := range rows[n] {
				t.Rows = append(t.Rows, []string{g.Name(), unit.Number(g.D.MM(), 3)})
			}
		}
		return t
	}
	t.Columns = append(t.Columns, doc.Column{Head: "Pitch", Unit: "mm", Number: true}, doc.Column{Head: "Threads an inch", Number: true})
	for _, x := range threadsNear(a, threadFrame(a, wideFigure)) {
		t.Rows = append(t.Rows, []string{x.Name(), unit.Number(x.Major.MM(), 3), unit.Number(unit.In(x.Pitch, "mm"), 3), unit.Number(unit.In(x.Pitch, "tpi"), 1)})
	}
	return t
}

// ruleHalf is how far a rule goes each way, in mm.
func ruleHalf(a identify.Answer) float64 {
	return math.Max(.09*a.Query.Diameter.Value.MM(), 4*measuredDoubt(a.Query.Diameter))
}

// gaugesNear are the sizes near what was measured by their gauges, in the
// order of likelihood.
func gaugesNear(a identify.Answer) (names []string, rows map[string][]identify.Gauge) {
	rows = map[string][]identify.Gauge{}
	for _, c := range a.Candidates {
		if !slices.Contains(names, c.Gauge.Gauge) {
			names = append(names, c.Gauge.Gauge)
		}
	}
	for _, g := range identify.Gauges() {
		if slices.Contains(names, g.Gauge) && math.Abs((g.D-a.Query.Diameter.Value).MM()) <= ruleHalf(a) {
			rows[g.Gauge] = append(rows[g.Gauge], g)
		}
	}
	return names, rows
}

const threadHigh = 300.0

// threadFrame has x the diameter and y the pitch, both in mm.
func threadFrame(a identify.Answer, width float64) frame {
	d := a.Query.Diameter.Value.MM()
	f := frame{left: 62, right: width - 16, top: 34, foot: 34 + threadHigh, x0: d * .78, x1: d * 1.25}
	if a.Query.What == identify.Hole {
		f.x0, f.x1 = d*.85, d*1.55
	}
	if a.Pitch.Set {
		p := float64(a.Pitch.Value) * 1000
		f.y0, f.y1 = p*.7, p*1.35
		return f
	}
	f.y0, f.y1 = math.Inf(1), 0
	for _, c := range a.Candidates {
		p := unit.In(c.Thread.Pitch, "mm")
		f.y0, f.y1 = math.Min(f.y0, p*.8), math.Max(f.y1, p*1.2)
	}
	return f
}

// threadsNear are the threads within a frame that could be meant.
func threadsNear(a identify.Answer, f frame) []identify.Thread {
	var out []identify.Thread
	for _, t := range identify.Threads() {
		d, p := t.Major.MM(), unit.In(t.Pitch, "mm")
		if (t.Series == "Wood screw") == (a.Query.What == identify.WoodScrew) && d >= f.x0 && d <= f.x1 && p >= f.y0 && p <= f.y1 {
			out = append(out, t)
		}
	}
	return out
}

func threadPicture(a identify.Answer, width float64) pic.Picture {
	f := threadFrame(a, width)
	p := pic.Picture{Title: "What was measured among the standard threads", W: width, H: f.foot + 52}
	p.Desc = fmt.Sprintf("Measured: %s.", a.Query.Diameter.Written("mm"))
	if a.Pitch.Set {
		p.Desc += " Pitch " + a.Pitch.Text("mm", 3) + "."
	}
	p.Desc += " Nearest: " + a.Candidates[0].Name + "."
	threadGrid(&p, f)
	var taken places
	measuredBox(&p, a, f, &taken)
	tied := map[string]bool{}
	for _, c := range a.Candidates[:min(max(a.Tied, 1), len(a.Candidates))] {
		tied[c.Name] = true
	}
	near := threadsNear(a, f)
	slices.SortStableFunc(near, func(x, y identify.Thread) int { // the likeliest are named first
		return int(boolRank(tied[y.Name()]) - boolRank(tied[x.Name()]))
	})
	for _, t := range near {
		at := pic.Pt{X: f.x(t.Major.MM()), Y: f.y(unit.In(t.Pitch, "mm"))}
		pen, r := pic.Ink, 3.0
		if tied[t.Name()] {
			pen, r = pic.Chosen, 5
		}
		p.Add(pic.Circle{C: at, R: r, Pen: pen, Fill: pic.Ground})
		taken = append(taken, rectangle{at.X - 4, at.Y - 4, at.X + 4, at.Y + 4})
	}
	for _, t := range near {
		style := pic.Label
		if tied[t.Name()] {
			style = pic.Mark
		}
		nameBeside(&p, f, pic.Pt{X: f.x(t.Major.MM()), Y: f.y(unit.In(t.Pitch, "mm"))}, t.Name(), style, &taken)
	}
	return p
}

func boolRank(b bool) int {
	if b {
		return 1
	}
	return 0
}

// measuredBox draws what was measured with two doubts each way; without a
// pitch it is a band over the whole field.
func measuredBox(p *pic.Picture, a identify.Answer, f frame, taken *places) {
	d, u := a.Query.Diameter.Value.MM(), measuredDoubt(a.Query.Diameter)
	half := math.Max(f.x(d+2*u)-f.x(d), 3)
	x := f.x(d)
	box := pic.Rect{Min: pic.Pt{X: x - half, Y: f.top}, W: 2 * half, H: f.foot - f.top, Pen: pic.Steel, Fill: pic.Band}
	words := pic.Pt{X: x + half + 6, Y: f.top + 14}
	if a.Pitch.Set {
		y := f.y(float64(a.Pitch.Value) * 1000)
		up := math.Max(y-f.y(float64(a.Pitch.Value+2*a.Pitch.U)*1000), 3)
		if a.Pitch.U == 0 {
			up = 3
		}
		box.Min.Y, box.H = y-up, 2*up
		words.Y = y - up - 6
	}
	w := pic.TextWidth("measured", pic.Label)
	if words.X -= w + 2*half + 12; words.X < f.left {
		words.X = x + half + 6
	}
	p.Add(box, pic.Text{P: words, S: "measured", Style: pic.Plain})
	*taken = append(*taken, rectangle{box.Min.X, box.Min.Y, box.Min.X + box.W, box.Min.Y + box.H}, rectangle{words.X, words.Y - 13, words.X + w, words.Y + 3})
}

// nameBeside sets a name beside its point, where there is room.
func nameBeside(p *pic.Picture, f frame, at pic.Pt, words string, style pic.Lettering, taken *places) {
	w := pic.TextWidth(words, style)
	for _, q := range [...]pic.Pt{{X: at.X + 8, Y: at.Y + 5}, {X: at.X - 8 - w, Y: at.Y + 5}, {X: at.X - w/2, Y: at.Y - 9}, {X: at.X - w/2, Y: at.Y + 20}} {
		if q.X < f.left+2 || q.X+w > f.right+14 || q.Y < f.top+12 || q.Y > f.foot-2 {
			continue
		}
		if taken.take(rectangle{q.X, q.Y - 12, q.X + w, q.Y + 3}, 1) {
			p.Add(pic.Text{P: q, S: words, Style: style})
			return
		}
	}
	if style != pic.Mark {
		return
	}
	for _, dy := range [...]float64{30, 46, 62, -46, -62} { // one that is likely is named in any case, with a leader
		q := pic.Pt{X: math.Min(math.Max(at.X-w/2, f.left+2), f.right-w), Y: at.Y + dy}
		if q.Y > f.top+12 && q.Y < f.foot-2 && taken.take(rectangle{q.X, q.Y - 12, q.X + w, q.Y + 3}, 1) {
			p.Add(pic.Line{A: pic.Pt{X: at.X, Y: at.Y + math.Copysign(5, dy)}, B: pic.Pt{X: at.X, Y: q.Y - 5 - math.Copysign(8, dy)}, Pen: pic.Hair}, pic.Text{P: q, S: words, Style: style})
			return
		}
	}
}

func threadGrid(p *pic.Picture, f frame) {
	p.Add(pic.Text{P: pic.Pt{X: 4, Y: 15}, S: "pitch, mm"}, pic.Text{P: pic.Pt{X: f.right, Y: f.foot + 44}, S: "diameter over the crests, mm", Anchor: pic.End}, f.across(f.y0, pic.Ink))
	step := roundStep(f.y1-f.y0, 6)
	for _, v := range graduations(f.y0, f.y1, step) {
		p.Add(f.across(v, pic.Hair), pic.Text{P: pic.Pt{X: f.left - 8, Y: f.y(v) + 5}, S: unit.Number(v, placesOf(step)), Anchor: pic.End})
	}
	diameterScale(p, f)
}

// diameterScale draws the figures of x.
func diameterScale(p *pic.Picture, f frame) {
	step := roundStep(f.x1-f.x0, int((f.right-f.left)/70))
	for _, v := range graduations(f.x0, f.x1, step) {
		p.Add(pic.Line{A: pic.Pt{X: f.x(v), Y: f.foot}, B: pic.Pt{X: f.x(v), Y: f.foot + 5}, Pen: pic.Hair}, pic.Text{P: pic.Pt{X: f.x(v), Y: f.foot + 24}, S: unit.Number(v, placesOf(step)), Anchor: pic.Middle})
	}
}

// rulePicture draws a rule for each gauge with its sizes near what was
// measured.
func rulePicture(a identify.Answer, width float64) pic.Picture {
	d, u := a.Query.Diameter.Value.MM(), measuredDoubt(a.Query.Diameter)
	half := ruleHalf(a)
	names, rows := gaugesNear(a)
	const high = 58.0
	f := frame{left: 16, right: width - 16, top: 30, foot: 30 + high*float64(len(names)), x0: d - half, x1: d + half}
	p := pic.Picture{Title: "What was measured among the gauges", W: width, H: f.foot + 52, Desc: fmt.Sprintf("Measured: %s. Nearest: %s.", a.Query.Diameter.Written("mm"), a.Candidates[0].Name)}
	w := math.Max(f.x(d+2*u)-f.x(d), 1.5)
	p.Add(pic.Rect{Min: pic.Pt{X: f.x(d) - w, Y: f.top}, W: 2 * w, H: f.foot - f.top, Pen: pic.NoLine, Fill: pic.Band}, f.upright(d, pic.Steel),
		pic.Text{P: pic.Pt{X: f.x(d), Y: 18}, S: "measured " + unit.Number(d, 3) + " mm", Anchor: pic.Middle, Style: pic.Plain})
	for i, n := range names {
		y := f.top + high*float64(i) + 40
		p.Add(pic.Line{A: pic.Pt{X: f.left, Y: y}, B: pic.Pt{X: f.right, Y: y}, Pen: pic.Ink}, pic.Text{P: pic.Pt{X: f.left, Y: y - 24}, S: n})
		var taken places
		for _, g := range rows[n] {
			x := f.x(g.D.MM())
			p.Add(pic.Line{A: pic.Pt{X: x, Y: y - 8}, B: pic.Pt{X: x, Y: y + 4}, Pen: pic.Ink})
			half := pic.TextWidth(g.Size, pic.Label) / 2
			if x-half > f.left-14 && x+half < f.right+14 && taken.take(rectangle{x - half, y - 22, x + half, y - 10}, 3) {
				p.Add(pic.Text{P: pic.Pt{X: x, Y: y - 11}, S: g.Size, Anchor: pic.Middle, Style: pic.Plain})
			}
		}
	}
	p.Add(pic.Text{P: pic.Pt{X: f.right, Y: f.foot + 44}, S: "mm", Anchor: pic.End})
	diameterScale(&p, f)
	return p
}
