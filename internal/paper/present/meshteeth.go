package present

import (
	"math"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/pic"
)

// meshView is the geometry of a mesh, in px; angles clockwise from the
// positive x axis, the wheel at the left turning down at the pitch point.
type meshView struct {
	p              *pic.Picture
	wide           bool
	height         float64
	pitch          pic.Pt  // where the pitch circles touch
	big, r, m      float64 // pitch radii of wheel and pinion, module
	wheelN, leaves int
	wheel, pinion  train.Count
}

// Proportions of teeth that are drawn, in modules and in parts of a pitch.
const (
	wheelSpace  = 0.50 // tooth of a wheel on the pitch circle
	leafSpace   = 0.38 // leaf
	trundle     = 0.44 // diameter of a trundle
	lanternGap  = 0.06 // between tooth and trundle
	tallestTip  = 1.7
	leafTip     = 0.7
	wheelRoot   = 1.2
	bluntness   = 0.12 // half width left at the tip of a tooth, in half widths
	rimDepth    = 2.2  // of the rim below the roots
	rootFreedom = 0.35
)

func newMeshView(t train.Turned, i int, p *pic.Picture) meshView {
	v := meshView{p: p, wide: p.W >= wideLeast, wheel: t.Arbors[i].Wheel, pinion: t.Arbors[i+1].Pinion}
	v.wheelN = int(drawnTeeth(v.wheel, supposedWheel))
	v.leaves = int(drawnTeeth(v.pinion, supposedPinion))
	v.height, v.pitch.X, v.r = 300, 0.25*p.W, 80
	if !v.wide {
		v.height, v.pitch.X, v.r = 230, 0.42*p.W, 60
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
	v.m = math.Min(v.m, 0.34*v.r)
	return v
}

func (v *meshView) centres() (wheel, pinion pic.Pt) {
	return pic.Pt{X: v.pitch.X - v.big, Y: v.pitch.Y}, pic.Pt{X: v.pitch.X + v.r, Y: v.pitch.Y}
}

func (v *meshView) draw() {
	wc, pc := v.centres()
	if v.pinion.Lantern {
		v.p.Add(pic.Circle{C: pc, R: v.r + 0.5*math.Pi*v.m, Pen: penFor(v.pinion, pic.Ink)})
	}
	v.drawWheel(wc)
	if v.pinion.Lantern {
		v.trundles(pc)
	} else {
		v.p.Add(pic.Poly{Pts: v.leafOutline(pc), Closed: true, Pen: penFor(v.pinion, pic.Ink), Fill: pic.Ground})
	}
	v.p.Add(pic.Circle{C: pc, R: v.r, Pen: pic.Dashed})
	v.lineOfCentres(wc, pc)
}

// penFor is the pen of a part by how its count is known.
func penFor(c train.Count, seen pic.Pen) pic.Pen {
	switch c.Status {
	case train.Seen:
		return seen
	case train.Inferred:
		return pic.Hair
	}
	return pic.Dashed
}

// drawWheel draws the wheel, or the sector of it that the picture holds.
func (v *meshView) drawWheel(c pic.Pt) {
	rim := v.rim()
	span := v.visible(c, v.big+tallestTip*v.m)
	if span < math.Pi && rim > 0 {
		span = math.Min(span, v.visible(c, rim))
	}
	pts, from, to := v.wheelOutline(c, span)
	if len(pts) > 0 {
		v.p.Add(pic.Poly{Pts: pts, Closed: true, Pen: penFor(v.wheel, pic.Chosen), Fill: pic.Ground})
	}
	if span < math.Pi {
		v.p.Add(pic.Arc{C: c, R: v.big, From: from, To: to, Pen: pic.Dashed})
		return
	}
	v.p.Add(pic.Circle{C: c, R: v.big, Pen: pic.Dashed})
	if rim > 0.3*v.big {
		v.p.Add(pic.Circle{C: c, R: rim, Pen: pic.Hair})
	}
}

// rim is the inner radius of the rim of the wheel.
func (v *meshView) rim() float64 { return v.big - (wheelRoot+rimDepth)*v.m }

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

// wheelOutline is the wheel all round, or a sector of whole teeth within span
// of the line of centres, closed by breaks and the inside of the rim.
func (v *meshView) wheelOutline(c pic.Pt, span float64) (pts []pic.Pt, from, to float64) {
	step := 2 * math.Pi / float64(v.wheelN)
	w, flank := v.wheelTooth()
	turn := -w // the driving flank stands on the line of centres
	if v.pinion.Lantern {
		turn -= v.trundleRadius() / v.big
	}
	at := func(r, a float64) {
		pts = append(pts, pic.Pt{X: c.X + r*math.Cos(a), Y: c.Y + r*math.Sin(a)})
	}
	first, count := 0, v.wheelN
	if span < math.Pi {
		first = int(math.Ceil((-span-turn)/step + 0.5))
		count = int(math.Floor((span-turn)/step-0.5)) - first + 1
	}
	for k := first; k < first+count; k++ {
		v.tooth(at, v.big, wheelRoot, turn+float64(k)*step, step, flank)
	}
	if count < 1 || span >= math.Pi {
		return pts, 0, 0
	}
	from, to = turn+(float64(first)-0.5)*step, turn+(float64(first+count)-0.5)*step
	root, rim := v.big-wheelRoot*v.m, math.Max(v.rim(), 4)
	wave := [...]float64{0, 0.12, 0, -0.12, 0}
	for i, x := range wave { // the break
		at(root+(rim-root)*float64(i)/4, to-x*step)
	}
	for i := range 13 {
		at(rim, to+(from-to)*float64(i)/12)
	}
	for i, x := range wave {
		at(rim+(root-rim)*float64(i)/4, from-x*step)
	}
	return pts, from, to
}

// bit is a point of a flank: its radius and angle from the middle of the tooth.
type bit struct{ r, a float64 }

// tooth adds a tooth about the angle mid with half of the space at each side;
// flank runs from the pitch circle r to the tip at negative angles.
func (v *meshView) tooth(at func(r, a float64), r, root, mid, step float64, flank []bit) {
	bottom, w := r-root*v.m, -flank[0].a
	gap := step/2 - w
	fillet := math.Min(0.4*root*v.m, 0.6*gap*r)
	round := func(t, side float64) { // a quarter circle from the bottom to the flank
		at(bottom+fillet*(1-math.Cos(t)), mid+side*(w+fillet/r*(1-math.Sin(t))))
	}
	at(bottom, mid-step/2)
	for i := range 5 {
		round(math.Pi/8*float64(i), -1)
	}
	for _, b := range flank {
		at(b.r, mid+b.a)
	}
	for i := len(flank) - 1; i >= 0; i-- {
		at(flank[i].r, mid-flank[i].a)
	}
	for i := range 5 {
		round(math.Pi/8*float64(4-i), 1)
	}
	at(bottom, mid+step/2)
}

// wheelTooth is the half angle of a tooth on the pitch circle and its flank:
// the epicycloid that drives a radial leaf, of a circle half the size of the
// pinion, or the curve at the radius of a trundle within that of a circle of
// its size; rounded where it comes near to a point.
func (v *meshView) wheelTooth() (w float64, flank []bit) {
	step := 2 * math.Pi / float64(v.wheelN)
	w = wheelSpace * step / 2
	roll, pin := v.r/2, 0.0
	if v.pinion.Lantern {
		roll, pin = v.r, v.trundleRadius()
		w = step/2 - pin/v.big - lanternGap*step/2
	}
	flank = []bit{{v.big, -w}}
	base := math.Inf(1) // angle where the flank leaves the pitch circle
	for i := 1; i <= 400; i++ {
		phi := step * float64(i) / 60
		x := (v.big+roll)*math.Cos(phi) - roll*math.Cos((v.big+roll)/roll*phi)
		y := (v.big+roll)*math.Sin(phi) - roll*math.Sin((v.big+roll)/roll*phi)
		dx, dy := v.big*math.Cos(phi)-x, v.big*math.Sin(phi)-y
		d := math.Hypot(dx, dy)
		if d < pin {
			continue
		}
		x, y = x+dx*pin/d, y+dy*pin/d
		r, a := math.Hypot(x, y), math.Atan2(y, x)
		if pin == 0 {
			base = 0
		}
		base = math.Min(base, a)
		if r > v.big+tallestTip*v.m || a-base > w*(1-bluntness) {
			break
		}
		if b := (bit{r, a - base - w}); r > flank[len(flank)-1].r && b.a >= flank[len(flank)-1].a {
			flank = append(flank, b)
		}
	}
	return w, append(flank, bit{flank[len(flank)-1].r + 0.05*v.m, 0})
}

// tip is the height of the teeth of the wheel above the pitch circle.
func (v *meshView) tip() float64 {
	_, flank := v.wheelTooth()
	return flank[len(flank)-1].r - v.big
}

// leafOutline is the pinion: radial flanks, round tips, a leaf against the
// tooth on the line of centres.
func (v *meshView) leafOutline(c pic.Pt) []pic.Pt {
	step := 2 * math.Pi / float64(v.leaves)
	w := leafSpace * step / 2
	root := math.Min(v.tip()/v.m+rootFreedom, 0.72*v.r/v.m)
	flank := []bit{}
	for i := range 8 {
		t := math.Pi / 2 * float64(i) / 7
		flank = append(flank, bit{v.r + leafTip*v.m*math.Sin(t), -w * math.Cos(t)})
	}
	var pts []pic.Pt
	at := func(r, a float64) {
		pts = append(pts, pic.Pt{X: c.X + r*math.Cos(a), Y: c.Y + r*math.Sin(a)})
	}
	for k := range v.leaves {
		v.tooth(at, v.r, root, math.Pi-w+float64(k)*step, step, flank)
	}
	return pts
}

func (v *meshView) trundleRadius() float64 {
	return trundle / 2 * 2 * math.Pi / float64(v.leaves) * v.r
}

// trundles draws the pins of a lantern pinion cut, one on the line of centres.
func (v *meshView) trundles(c pic.Pt) {
	for k := range v.leaves {
		a := math.Pi + 2*math.Pi/float64(v.leaves)*float64(k)
		v.p.Add(pic.Circle{C: pic.Pt{X: c.X + v.r*math.Cos(a), Y: c.Y + v.r*math.Sin(a)}, R: v.trundleRadius(), Pen: penFor(v.pinion, pic.Ink), Fill: pic.Hatch})
	}
}

// lineOfCentres draws it dash-dotted with both arbors cut; a wheel's centre
// that lies out of the picture is set in at the left behind a break.
func (v *meshView) lineOfCentres(wc, pc pic.Pt) {
	const dash, gap, dot = 12.0, 3.0, 2.0
	y, from := v.pitch.Y, wc.X-14
	if wc.X < 18 {
		wc.X, from = 16, 6
	}
	to := math.Min(pc.X+v.r+1.5*v.m+8, v.p.W-6)
	for x := math.Max(from, 6); x < to; x += dash + 2*gap + dot {
		v.p.Add(pic.Line{A: pic.Pt{X: x, Y: y}, B: pic.Pt{X: math.Min(x+dash, to), Y: y}, Pen: pic.Hair})
		if at := x + dash + gap; at+dot < to {
			v.p.Add(pic.Line{A: pic.Pt{X: at, Y: y}, B: pic.Pt{X: at + dot, Y: y}, Pen: pic.Hair})
		}
	}
	if wc.X == 16 {
		for _, x := range []float64{36, 41} {
			v.p.Add(pic.Poly{Pts: []pic.Pt{{X: x + 3, Y: y - 11}, {X: x - 2, Y: y - 2}, {X: x + 2, Y: y + 2}, {X: x - 3, Y: y + 11}}, Pen: pic.Hair})
		}
	}
	for _, c := range []struct {
		at pic.Pt
		r  float64
	}{{wc, 6}, {pc, math.Max(4, 0.1*v.r)}} {
		v.p.Add(pic.Circle{C: c.at, R: c.r, Pen: pic.Ink, Fill: pic.Hatch},
			pic.Line{A: pic.Pt{X: c.at.X, Y: y - c.r - 5}, B: pic.Pt{X: c.at.X, Y: y + c.r + 5}, Pen: pic.Hair})
	}
}
