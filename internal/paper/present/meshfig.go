package present

import (
	"fmt"
	"math"
	"strings"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/pic"
)

// TrainMesh draws one mesh of a train from the face: wheel and pinion about
// their line of centres with their true counts and pitch circles, the teeth in
// simple outline, and its ratio and periods in words.
func TrainMesh(t train.Turned, mesh int, width float64) pic.Picture {
	p := pic.Picture{W: width, Title: meshTitle(t, mesh)}
	if mesh < 0 || mesh >= len(t.Meshes) {
		p.H = 40
		return p
	}
	words := meshWords(t, mesh)
	p.Desc = strings.Join(words, ". ")
	v := newMeshView(t, mesh, &p)
	v.draw()
	if v.wide {
		v.wordsAt(words, v.pitch.X+2*v.r+1.5*v.m+30, math.Max(40, v.height/2-float64(len(words))*11), &p)
		p.H = math.Max(v.height, p.H)
		return p
	}
	v.wordsAt(words, 8, v.height+20, &p)
	return p
}

func meshTitle(t train.Turned, mesh int) string {
	if mesh < 0 || mesh >= len(t.Meshes) {
		return "No mesh is chosen"
	}
	return fmt.Sprintf("%s wheel and %s pinion in mesh", t.Arbors[mesh].Name, lowerFirst(t.Arbors[mesh+1].Name))
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

// meshWords says ratio and periods, in lines short enough for a phone.
func meshWords(t train.Turned, i int) []string {
	m, a, b := t.Meshes[i], t.Arbors[i], t.Arbors[i+1]
	lines := []string{
		fit(fmt.Sprintf("%s: wheel of %s", a.Name, a.Wheel), pic.Name, 240),
		fit(fmt.Sprintf("%s: pinion of %s", b.Name, b.Pinion), pic.Name, 240),
	}
	if m.Ratio.Known() {
		lines = append(lines, fmt.Sprintf("ratio %s to 1", m.Ratio.Mixed()))
	} else {
		lines = append(lines, "ratio not known")
	}
	if m.ContactPeriod.Known() {
		lines = append(lines, "tooth to tooth "+train.Interval(m.ContactPeriod))
	}
	if m.Ratio.Known() {
		if m.RepeatPeriod.Known() {
			lines = append(lines, "same two teeth again every "+train.Interval(m.RepeatPeriod))
		} else {
			lines = append(lines, "same two teeth meet again after")
		}
		lines = append(lines, fmt.Sprintf("wheel %s, pinion %d", turnsWord(m.RepeatWheel), m.RepeatPinion))
		if m.Hunting {
			lines = append(lines, "a hunting pair: all meet all")
		} else {
			lines = append(lines, "not a hunting pair")
		}
	}
	return lines
}

func turnsWord(n int) string {
	if n == 1 {
		return "1 turn"
	}
	return fmt.Sprintf("%d turns", n)
}

// meshView is the geometry of the drawing, in px.
type meshView struct {
	p              *pic.Picture
	wide           bool
	height         float64
	pitch          pic.Pt  // where the pitch circles touch
	big, r, m      float64 // pitch radii of wheel and pinion, module
	wheelN, leaves int
	wheel, pinion  train.Count
}

func newMeshView(t train.Turned, i int, p *pic.Picture) meshView {
	v := meshView{p: p, wide: p.W >= wideLeast, wheel: t.Arbors[i].Wheel, pinion: t.Arbors[i+1].Pinion}
	v.wheelN = int(drawnTeeth(v.wheel, supposedWheel))
	v.leaves = int(drawnTeeth(v.pinion, supposedPinion))
	v.height, v.pitch.X, v.r = 340, 0.3*p.W, 72
	if !v.wide {
		v.height, v.pitch.X, v.r = 270, 0.42*p.W, 56
	}
	v.pitch.Y = v.height / 2
	v.m = 2 * v.r / float64(v.leaves)
	if v.big = v.m * float64(v.wheelN) / 2; v.big < 40 { // a small wheel that drives a large pinion
		v.m *= 40 / v.big
		v.big = 40
		if v.r = v.m * float64(v.leaves) / 2; v.r > v.height/2-20 {
			v.m *= (v.height/2 - 20) / v.r
			v.r = v.height/2 - 20
			v.big = v.m * float64(v.wheelN) / 2
		}
		v.pitch.X = math.Min(v.pitch.X, 2*v.big+30)
	}
	v.m = math.Min(v.m, 0.28*v.r)
	return v
}

func (v *meshView) draw() {
	wc, pc := pic.Pt{X: v.pitch.X - v.big, Y: v.pitch.Y}, pic.Pt{X: v.pitch.X + v.r, Y: v.pitch.Y}
	span := v.visible(wc, v.big+1.4*v.m)
	v.p.Add(pic.Line{A: pic.Pt{X: math.Max(8, wc.X), Y: v.pitch.Y}, B: pic.Pt{X: pc.X + v.r + 2*v.m, Y: v.pitch.Y}, Pen: pic.Hair})
	v.teeth(toothing{c: wc, r: v.big, n: v.wheelN, tip: 1.4, root: 1.5, width: 0.48, from: -span, to: span}, penFor(v.wheel))
	v.p.Add(pic.Arc{C: wc, R: v.big, From: -span, To: span, Pen: pic.Dashed})
	if rim := v.big - 4.5*v.m; rim > 12 {
		inner := v.visible(wc, rim)
		v.p.Add(pic.Arc{C: wc, R: rim, From: -inner, To: inner, Pen: pic.Hair})
	}
	if v.pinion.Lantern {
		v.trundles(pc)
	} else {
		v.teeth(toothing{c: pc, r: v.r, n: v.leaves, tip: 0.75, root: math.Min(1.6, 0.7*v.r/v.m), width: 0.4, turn: math.Pi + math.Pi/float64(v.leaves), from: -math.Pi, to: math.Pi}, penFor(v.pinion))
	}
	v.p.Add(pic.Circle{C: pc, R: v.r, Pen: pic.Dashed}, pic.Circle{C: pc, R: math.Max(3, 0.12*v.r), Pen: pic.Ink, Fill: pic.Hatch})
}

func penFor(c train.Count) pic.Pen {
	if c.Status == train.Seen {
		return pic.Chosen
	}
	return pic.Dashed
}

// visible is the half angle of a circle about c that lies in the drawing.
func (v *meshView) visible(c pic.Pt, r float64) float64 {
	half := v.height/2 - 8
	span := math.Pi
	if r > half {
		span = math.Asin(half / r)
	}
	if edge := 8 - c.X; edge > -r { // the left edge of the picture
		span = math.Min(span, math.Acos(math.Max(-1, math.Min(1, edge/r))))
	}
	return span
}

// toothing is a run of teeth on a circle; heights in modules, width of a
// tooth in pitches, angles from the line of centres.
type toothing struct {
	c                pic.Pt
	r                float64
	n                int
	tip, root, width float64
	turn             float64
	from, to         float64
}

// teeth draws the outline: root, flank, rounded tip, flank, for each tooth
// wholly between the angles.
func (v *meshView) teeth(t toothing, pen pic.Pen) {
	step := 2 * math.Pi / float64(t.n)
	var pts []pic.Pt
	at := func(r, a float64) {
		pts = append(pts, pic.Pt{X: t.c.X + r*math.Cos(a), Y: t.c.Y + r*math.Sin(a)})
	}
	w := t.width * step / 2
	first := int(math.Ceil((t.from - t.turn) / step))
	for k := first; float64(k)*step+t.turn <= t.to && k < first+t.n; k++ {
		a := float64(k)*step + t.turn
		if a-step/2 < t.from-1e-9 && t.to-t.from < 2*math.Pi-1e-9 || a+step/2 > t.to+1e-9 && t.to-t.from < 2*math.Pi-1e-9 {
			continue
		}
		root := t.r - t.root*v.m
		at(root, a-step/2)
		at(root, a-w)
		at(t.r, a-w)
		at(t.r+0.6*t.tip*v.m, a-0.75*w)
		at(t.r+0.92*t.tip*v.m, a-0.35*w)
		at(t.r+t.tip*v.m, a)
		at(t.r+0.92*t.tip*v.m, a+0.35*w)
		at(t.r+0.6*t.tip*v.m, a+0.75*w)
		at(t.r, a+w)
		at(root, a+w)
		at(root, a+step/2)
	}
	if len(pts) > 1 {
		closed := t.to-t.from >= 2*math.Pi-1e-9
		fill := pic.Empty
		if closed {
			fill = pic.Ground
		}
		v.p.Add(pic.Poly{Pts: pts, Closed: closed, Pen: pen, Fill: fill})
	}
}

// trundles draws a lantern pinion: its disc and its pins.
func (v *meshView) trundles(c pic.Pt) {
	step := 2 * math.Pi / float64(v.leaves)
	size := 0.26 * step * v.r
	v.p.Add(pic.Circle{C: c, R: v.r + 1.8*size, Pen: penFor(v.pinion), Fill: pic.Empty})
	for k := range v.leaves {
		a := math.Pi + step*(float64(k)+0.5)
		v.p.Add(pic.Circle{C: pic.Pt{X: c.X + v.r*math.Cos(a), Y: c.Y + v.r*math.Sin(a)}, R: size, Pen: penFor(v.pinion), Fill: pic.Hatch})
	}
}

// wordsAt sets the lines of words below each other; the first two are names.
func (v *meshView) wordsAt(words []string, x, y float64, p *pic.Picture) {
	for i, s := range words {
		style := pic.Label
		if i < 2 {
			style = pic.Name
		}
		p.Add(pic.Text{P: pic.Pt{X: x, Y: y}, S: fit(s, style, p.W-x-4), Anchor: pic.Start, Style: style})
		y += 22
	}
	p.H = y
}
