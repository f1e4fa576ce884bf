package present

import (
	"math"
	"strconv"
	"strings"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/pic"
)

// The widths that figures are drawn for.
const (
	wideFigure   = 700.0
	narrowFigure = 340.0
	wideLeast    = 600.0 // below this labels go under the drawing
)

// TrainPlates draws a train between its plates in side elevation: arbors one
// above the other so that pitch circles touch, wheels edge-on, each label at
// its arbor. Heights are to scale where diameters or depths were measured;
// [platesCaption] says where they are supposed. selected is the mesh drawn in
// brass, -1 for none.
func TrainPlates(t train.Turned, selected int, width float64) pic.Picture {
	d := newPlates(t, selected, width)
	d.plates()
	for i := range d.t.Arbors {
		d.arbor(i)
	}
	d.barrel()
	for i := range d.t.Arbors {
		d.wheel(i)
		d.pinion(i)
	}
	d.scaleBar()
	if d.wide() {
		d.labelsBeside()
	} else {
		d.labelsBelow()
	}
	return d.p
}

// platesDrawing is a picture of plates under way. Lengths in mm until scale.
type platesDrawing struct {
	p        pic.Picture
	t        train.Turned
	selected int
	size     trainSizes
	scale    float64   // px per mm, upright
	y        []float64 // of the arbors, px
	x        []float64 // of the planes of the wheels, px
	front    float64   // inner face of the front plate, px
	back     float64   // inner face of the back plate, px
	top      float64   // of the plates, px
	bottom   float64
}

// What is drawn of one size whatever the scale, in px.
const (
	plateThick  = 9.0
	plateMargin = 30.0 // of the plates above and below the train, for the pillars
	pillarThick = 8.0
	arborThick  = 4.0
	pivotThick  = 2.0
	wheelThick  = 6.0
	pinionThick = 18.0
	squareRoom  = 70.0 // before the front plate, for squares and hands
)

func (d *platesDrawing) wide() bool { return d.p.W >= wideLeast }

func newPlates(t train.Turned, selected int, width float64) *platesDrawing {
	d := &platesDrawing{t: t, selected: selected, size: sizeTrain(t)}
	d.p = pic.Picture{Title: platesTitle(t), Desc: platesDesc(t), W: width}
	room, step := 400.0, 42.0 // height of the drawing, of a label
	d.front, d.back = squareRoom, width-labelGap-d.labelRoom()-4
	if !d.wide() {
		room, step = 330, 20
		d.front, d.back = 44, width-60
	}
	low, high := d.size.extent()
	d.scale = room / (high - low)
	const above = 38 + plateMargin
	d.top = above - plateMargin
	for i := range t.Arbors {
		d.y = append(d.y, above+(high-d.size.height[i])*d.scale)
	}
	d.spread(step * 0.55)
	d.bottom = above + room + plateMargin
	d.planes()
	return d
}

// spread lets the picture grow where arbors would stand closer than labels
// can be told apart, keeping heights to one scale.
func (d *platesDrawing) spread(least float64) {
	closest := math.Inf(1)
	for i := 1; i < len(d.y); i++ {
		closest = math.Min(closest, d.y[i-1]-d.y[i])
	}
	if closest >= least || closest <= 0 {
		return
	}
	d.stretch(math.Min(least/closest, 1.6))
}

// stretch multiplies the scale.
func (d *platesDrawing) stretch(by float64) {
	low, high := d.size.extent()
	d.scale *= by
	for i := range d.y {
		d.y[i] = d.top + plateMargin + (high-d.size.height[i])*d.scale
	}
	d.bottom = d.top + 2*plateMargin + (high-low)*d.scale
}

// planes sets each wheel in a plane of its own, the second wheel towards the
// front, so that none strikes another.
func (d *platesDrawing) planes() {
	n := len(d.t.Arbors)
	if low, high := d.size.extent(); d.bottom < d.top+2*plateMargin+(high-low)*d.scale {
		d.bottom = d.top + 2*plateMargin + (high-low)*d.scale
	}
	d.x = make([]float64, n)
	gap := d.back - d.front
	for i := range d.x {
		slot := i
		if n > 2 && i < 2 {
			slot = 1 - i
		}
		d.x[i] = d.front + gap*(0.16+0.72*float64(slot)/math.Max(float64(n-1), 1))
	}
}

// plates draws both plates cut, with the pillars that hold them apart, and
// names them.
func (d *platesDrawing) plates() {
	h := d.bottom - d.top
	d.p.Add(
		pic.Rect{Min: pic.Pt{X: d.front - plateThick, Y: d.top}, W: plateThick, H: h, Pen: pic.Ink, Fill: pic.Hatch},
		pic.Rect{Min: pic.Pt{X: d.back, Y: d.top}, W: plateThick, H: h, Pen: pic.Ink, Fill: pic.Hatch},
		pic.Text{P: pic.Pt{X: d.front - plateThick/2, Y: d.top - 10}, S: "front", Anchor: pic.Middle, Style: pic.Label},
		pic.Text{P: pic.Pt{X: d.back + plateThick/2, Y: d.top - 10}, S: "back", Anchor: pic.Middle, Style: pic.Label},
	)
	for _, y := range []float64{d.top + plateMargin/2 - 3, d.bottom - plateMargin/2 + 3} {
		d.pillar(y)
	}
	d.p.H = d.bottom + 12
}

// pillar draws a turned pillar, riveted at the back and pinned in front.
func (d *platesDrawing) pillar(y float64) {
	const collar, knop = 5.0, 12.0
	mid := (d.front + d.back) / 2
	rod := func(x, w, thick float64) {
		d.p.Add(pic.Rect{Min: pic.Pt{X: x, Y: y - thick/2}, W: w, H: thick, Pen: pic.Ink, Fill: pic.Ground})
	}
	rod(d.front, d.back-d.front, pillarThick)
	for _, x := range []float64{d.front, d.back - collar, mid - collar/2} {
		rod(x, collar, pillarThick+6)
	}
	for _, x := range []float64{mid - collar/2 - 4, mid + collar/2} {
		rod(x, 4, knop-2)
	}
	rod(d.front-plateThick-6, 6, pillarThick-2)
	rod(d.back+plateThick, 3, pillarThick)
}

// arbor draws an arbor with its pivots in the plates. The first has its
// winding square where it is wound; the one of one turn an hour goes on to
// the hands.
func (d *platesDrawing) arbor(i int) {
	y := d.y[i]
	rod := func(from, to, thick float64) {
		d.p.Add(pic.Rect{Min: pic.Pt{X: from, Y: y - thick/2}, W: to - from, H: thick, Pen: pic.Ink, Fill: pic.Ground})
	}
	rod(d.back, d.back+plateThick+3, pivotThick)
	switch {
	case i == 0 && d.t.BarrelTurns.Known():
		rod(d.front-plateThick-16, d.front, arborThick)
		rod(d.front-plateThick-26, d.front-plateThick-16, 8)
		d.word("key", i)
	case d.hour(i):
		rod(d.front-plateThick-26, d.front, arborThick-1)
		d.word("hands", i)
	default:
		rod(d.front-plateThick-3, d.front, pivotThick)
	}
	rod(d.front+2, d.back-2, arborThick)
}

// word says beside the front plate what an arbor goes out to; a narrow
// picture has no room for it.
func (d *platesDrawing) word(s string, i int) {
	if !d.wide() || (i > 0 && d.y[i-1]-d.y[i] < 24) {
		return
	}
	d.p.Add(pic.Text{P: pic.Pt{X: d.front - plateThick - 10, Y: d.y[i] - 9}, S: s, Anchor: pic.End, Style: pic.Label})
}

// hour tells whether an arbor is that of the hands.
func (d *platesDrawing) hour(i int) bool {
	a := d.t.Arbors[i]
	return d.t.Name == train.Going && (strings.EqualFold(a.Name, "Centre") || a.TurnsPerHour.Known() && a.TurnsPerHour.Float() == 1)
}

// pen for a part by how its count is known.
func (d *platesDrawing) pen(c train.Count, mesh int) pic.Pen {
	switch {
	case c.Status == train.Missing:
		return pic.Dashed
	case c.Status == train.Inferred:
		return pic.Hair
	case mesh == d.selected && mesh >= 0 && mesh < len(d.t.Meshes):
		return pic.Chosen
	}
	return pic.Ink
}

// wheel draws a wheel edge-on on its collet.
func (d *platesDrawing) wheel(i int) {
	c := d.t.Arbors[i].Wheel
	if c.Status == train.None {
		if i > 0 && i == len(d.t.Arbors)-1 {
			d.fly(i)
		}
		return
	}
	mesh := i
	if i == len(d.t.Meshes) {
		mesh = -1
	}
	if c.Known() && !(i == 0 && d.t.BarrelTurns.Known()) {
		d.p.Add(pic.Rect{Min: pic.Pt{X: d.x[i] + wheelThick/2, Y: d.y[i] - 5}, W: 6, H: 10, Pen: pic.Ink, Fill: pic.Ground})
	}
	d.disc(d.x[i], d.y[i], d.size.wheel[i]/2*d.scale, wheelThick, c, d.pen(c, mesh))
}

func (d *platesDrawing) pinion(i int) {
	c := d.t.Arbors[i].Pinion
	if i == 0 || c.Status == train.None {
		return
	}
	x, r, pen := d.x[i-1], d.size.pinion[i]/2*d.scale, d.pen(c, i-1)
	d.disc(x, d.y[i], r, pinionThick, c, pen)
	if c.Lantern {
		for _, side := range []float64{x - pinionThick/2, x + pinionThick/2 - 4} {
			d.p.Add(pic.Rect{Min: pic.Pt{X: side, Y: d.y[i] - r - 2}, W: 4, H: 2*r + 4, Pen: pen, Fill: pic.Ground})
		}
	}
}

// disc draws a wheel or pinion edge-on with the lines of its teeth, denser to
// the rim; those of a lost one are not known and not drawn.
func (d *platesDrawing) disc(x, y, r, thick float64, c train.Count, pen pic.Pen) {
	fill := pic.Ground
	if !c.Known() {
		fill = pic.Empty
	}
	d.p.Add(pic.Rect{Min: pic.Pt{X: x - thick/2, Y: y - r}, W: thick, H: 2 * r, Pen: pen, Fill: fill})
	if !c.Known() {
		return
	}
	const closest = 1.5
	last := -r
	half := float64(c.Teeth) / 2
	for k := 0.5; k < half; k++ {
		at := -r * math.Cos(math.Pi*k/half)
		if at-last < closest || at > r-closest {
			continue
		}
		last = at
		d.p.Add(pic.Line{A: pic.Pt{X: x - thick/2, Y: y + at}, B: pic.Pt{X: x + thick/2, Y: y + at}, Pen: pic.Hair})
	}
}

// fly draws the vanes of a fly on the last arbor of a strike.
func (d *platesDrawing) fly(i int) {
	r := math.Max(d.size.fly*d.scale, 8)
	x := d.x[i]
	d.p.Add(pic.Rect{Min: pic.Pt{X: x - 16, Y: d.y[i] - r}, W: 32, H: 2 * r, Pen: pic.Ink, Fill: pic.Ground},
		pic.Line{A: pic.Pt{X: x - 16, Y: d.y[i]}, B: pic.Pt{X: x + 16, Y: d.y[i]}, Pen: pic.Heavy})
}

// scaleBar is drawn where all heights are to scale.
func (d *platesDrawing) scaleBar() {
	if !d.size.measured {
		return
	}
	mm := 20.0
	for mm*d.scale > 110 {
		mm /= 2
	}
	for mm*d.scale < 30 {
		mm *= 2
	}
	x, y := d.front, d.bottom+20
	end := x + mm*d.scale
	for _, at := range []float64{x, end} {
		d.p.Add(pic.Line{A: pic.Pt{X: at, Y: y - 4}, B: pic.Pt{X: at, Y: y + 4}, Pen: pic.Ink})
	}
	d.p.Add(pic.Line{A: pic.Pt{X: x, Y: y}, B: pic.Pt{X: end, Y: y}, Pen: pic.Ink},
		pic.Text{P: pic.Pt{X: end + 8, Y: y + 5}, S: strconv.FormatFloat(mm, 'g', 3, 64) + "\u00a0mm", Anchor: pic.Start, Style: pic.Label})
	d.p.H = y + 18
}
