package present

import (
	"fmt"
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
	d.barrel()
	for i := range d.t.Arbors {
		d.arbor(i)
	}
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

const (
	plateThick  = 9.0
	wheelThick  = 7.0
	pinionThick = 13.0
)

func (d *platesDrawing) wide() bool { return d.p.W >= wideLeast }

func newPlates(t train.Turned, selected int, width float64) *platesDrawing {
	d := &platesDrawing{t: t, selected: selected, size: sizeTrain(t)}
	d.p = pic.Picture{Title: platesTitle(t), Desc: platesDesc(t), W: width}
	room, step := 400.0, 42.0 // height of the drawing, of a label
	d.front, d.back = 62, 62+0.44*width
	if !d.wide() {
		room, step = 330, 20
		d.front, d.back = 40, width-64
	}
	low, high := d.size.extent()
	d.scale = room / (high - low)
	const above = 56
	d.top = above - 18
	for i := range t.Arbors {
		d.y = append(d.y, above+(high-d.size.height[i])*d.scale)
	}
	d.spread(step * 0.55)
	d.bottom = above + room + 18
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
		d.y[i] = d.top + 18 + (high-d.size.height[i])*d.scale
	}
	d.bottom = d.top + 36 + (high-low)*d.scale
}

// planes sets each wheel in a plane of its own, the second wheel towards the
// front, so that none strikes another.
func (d *platesDrawing) planes() {
	n := len(d.t.Arbors)
	if low, high := d.size.extent(); d.bottom < d.top+36+(high-low)*d.scale {
		d.bottom = d.top + 36 + (high-low)*d.scale
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

// plates draws both plates cut, and names them.
func (d *platesDrawing) plates() {
	h := d.bottom - d.top
	d.p.Add(
		pic.Rect{Min: pic.Pt{X: d.front - plateThick, Y: d.top}, W: plateThick, H: h, Pen: pic.Ink, Fill: pic.Hatch},
		pic.Rect{Min: pic.Pt{X: d.back, Y: d.top}, W: plateThick, H: h, Pen: pic.Ink, Fill: pic.Hatch},
		pic.Text{P: pic.Pt{X: d.front - plateThick/2, Y: d.top - 10}, S: "front", Anchor: pic.Middle, Style: pic.Label},
		pic.Text{P: pic.Pt{X: d.back + plateThick/2, Y: d.top - 10}, S: "back", Anchor: pic.Middle, Style: pic.Label},
	)
	d.p.H = d.bottom + 12
}

// arbor draws an arbor with its pivots; the first has its winding square, the
// one of one turn an hour goes on to the hands.
func (d *platesDrawing) arbor(i int) {
	y := d.y[i]
	from := d.front - plateThick - 3
	if i == 0 && d.t.BarrelTurns.Known() {
		from -= 10
		d.p.Add(pic.Rect{Min: pic.Pt{X: from - 8, Y: y - 4}, W: 8, H: 8, Pen: pic.Ink, Fill: pic.Ground})
	}
	if strings.EqualFold(d.t.Arbors[i].Name, "Centre") {
		from -= 24
	}
	d.p.Add(pic.Line{A: pic.Pt{X: from, Y: y}, B: pic.Pt{X: d.back + plateThick + 3, Y: y}, Pen: pic.Heavy})
	for _, x := range []float64{d.front - plateThick/2, d.back + plateThick/2} {
		d.p.Add(pic.Circle{C: pic.Pt{X: x, Y: y}, R: 2.2, Pen: pic.Ink, Fill: pic.Ground})
	}
}

// barrel draws the barrel behind the great wheel, with its turns.
func (d *platesDrawing) barrel() {
	r := 0.5 * d.size.wheel[0] / 2
	if len(d.y) > 1 && d.size.wheel[1] > 0 { // clear of the second wheel
		r = math.Min(r, d.size.height[1]-d.size.height[0]-d.size.wheel[1]/2-2)
	}
	if !d.t.BarrelTurns.Known() || r*d.scale < 8 {
		return
	}
	left, right := d.x[0]+wheelThick/2+4, d.back-18
	if len(d.x) == 2 {
		right = d.x[1] - 14
	}
	px := r * d.scale
	d.p.Add(pic.Rect{Min: pic.Pt{X: left, Y: d.y[0] - px}, W: right - left, H: 2 * px, Pen: pic.Ink, Fill: pic.Ground})
	turns := math.Min(d.t.BarrelTurns.Float(), 24)
	for k := 1.0; k < turns; k++ { // the line as it lies
		x := left + (right-left)*k/turns
		d.p.Add(pic.Line{A: pic.Pt{X: x - 1.5, Y: d.y[0] - px}, B: pic.Pt{X: x + 1.5, Y: d.y[0] + px}, Pen: pic.Hair})
	}
	words := d.t.BarrelTurns.Mixed() + " turns"
	d.p.Add(pic.Text{P: pic.Pt{X: left + 4, Y: d.y[0] + px + 18}, S: words, Anchor: pic.Start, Style: pic.Label})
}

// pens for a part by how its count is known.
func (d *platesDrawing) pen(c train.Count, mesh int) pic.Pen {
	switch {
	case c.Status == train.Missing || c.Status == train.Inferred:
		return pic.Dashed
	case mesh == d.selected && mesh >= 0 && mesh < len(d.t.Meshes):
		return pic.Chosen
	}
	return pic.Ink
}

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
	d.disc(d.x[i], d.y[i], d.size.wheel[i]/2*d.scale, wheelThick, c, d.pen(c, mesh))
}

func (d *platesDrawing) pinion(i int) {
	c := d.t.Arbors[i].Pinion
	if i == 0 || c.Status == train.None {
		return
	}
	d.disc(d.x[i-1], d.y[i], d.size.pinion[i]/2*d.scale, pinionThick, c, d.pen(c, i-1))
}

// disc draws a wheel or pinion edge-on with the lines of its teeth; those of
// a lost one are not known and not drawn.
func (d *platesDrawing) disc(x, y, r, thick float64, c train.Count, pen pic.Pen) {
	d.p.Add(pic.Rect{Min: pic.Pt{X: x - thick/2, Y: y - r}, W: thick, H: 2 * r, Pen: pen, Fill: pic.Ground})
	if !c.Known() {
		return
	}
	last := math.Inf(-1)
	half := int(c.Teeth) / 2
	for k := 1; k < half; k++ {
		at := -r * math.Cos(math.Pi*float64(k)/float64(half))
		if at-last < 1.8 || at < -r+1.2 || at > r-1.2 {
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
	x, y := d.front, d.bottom+18
	end := x + mm*d.scale
	for _, at := range []float64{x, end} {
		d.p.Add(pic.Line{A: pic.Pt{X: at, Y: y - 4}, B: pic.Pt{X: at, Y: y + 4}, Pen: pic.Ink})
	}
	d.p.Add(pic.Line{A: pic.Pt{X: x, Y: y}, B: pic.Pt{X: end, Y: y}, Pen: pic.Ink},
		pic.Text{P: pic.Pt{X: end + 8, Y: y + 5}, S: strconv.FormatFloat(mm, 'g', 3, 64) + "\u00a0mm", Anchor: pic.Start, Style: pic.Label})
	d.p.H = y + 18
}

// labelsBeside sets name, counts and period to the right of each arbor.
func (d *platesDrawing) labelsBeside() {
	const line, block = 18.0, 44.0
	ys := spreadLabels(d.y, block, d.top+8)
	x := d.back + plateThick + 34
	room := d.p.W - x - 4
	for i, y := range ys {
		d.p.Add(pic.Line{A: pic.Pt{X: d.back + plateThick + 4, Y: d.y[i]}, B: pic.Pt{X: x - 6, Y: y - 4}, Pen: pic.Hair},
			pic.Text{P: pic.Pt{X: x, Y: y}, S: fit(arborWords(d.t.Arbors[i]), pic.Name, room), Anchor: pic.Start, Style: pic.Name},
			pic.Text{P: pic.Pt{X: x, Y: y + line}, S: fit(periodWords(d.t.Arbors[i], i), pic.Label, room), Anchor: pic.Start, Style: d.lettering(i)})
		d.p.H = math.Max(d.p.H, y+line+10)
	}
}

// lettering is brass for the arbors of the selected mesh.
func (d *platesDrawing) lettering(i int) pic.Lettering {
	if d.selected >= 0 && d.selected < len(d.t.Meshes) && (i == d.selected || i == d.selected+1) {
		return pic.Mark
	}
	return pic.Label
}

// labelsBelow numbers the arbors at their ends and lists them below.
func (d *platesDrawing) labelsBelow() {
	x := d.back + plateThick + 24
	for i, y := range spreadLabels(d.y, 19, d.top+12) {
		d.p.Add(pic.Line{A: pic.Pt{X: d.back + plateThick + 4, Y: d.y[i]}, B: pic.Pt{X: x - 4, Y: y - 5}, Pen: pic.Hair},
			pic.Text{P: pic.Pt{X: x, Y: y}, S: strconv.Itoa(i + 1), Anchor: pic.Start, Style: pic.Name})
		d.p.H = math.Max(d.p.H, y+10)
	}
	y := d.p.H + 16
	for i := range d.t.Arbors {
		d.p.Add(pic.Text{P: pic.Pt{X: 8, Y: y}, S: strconv.Itoa(i + 1), Anchor: pic.Start, Style: pic.Name},
			pic.Text{P: pic.Pt{X: 34, Y: y}, S: fit(arborWords(d.t.Arbors[i]), pic.Name, d.p.W-38), Anchor: pic.Start, Style: pic.Name},
			pic.Text{P: pic.Pt{X: 34, Y: y + 18}, S: fit(periodWords(d.t.Arbors[i], i), pic.Label, d.p.W-38), Anchor: pic.Start, Style: d.lettering(i)})
		y += 44
	}
	d.p.H = y - 14
}

// spreadLabels moves labels from the height of their arbors (the first is
// lowest) so that they stand at least so far apart and not above top.
func spreadLabels(at []float64, apart, top float64) []float64 {
	n := len(at)
	y := make([]float64, n)
	for i := range y {
		y[i] = at[i] + 5
	}
	for range 60 { // push neighbours apart evenly
		moved := false
		for i := 1; i < n; i++ {
			if short := apart - (y[i-1] - y[i]); short > 1e-9 {
				y[i-1] += short/2 + 1e-9
				y[i] -= short/2 + 1e-9
				moved = true
			}
		}
		if !moved {
			break
		}
	}
	if n > 0 && y[n-1] < top {
		y[n-1] = top
	}
	for i := n - 2; i >= 0; i-- { // what is still too close goes down
		y[i] = math.Max(y[i], y[i+1]+apart)
	}
	return y
}

// fit shortens words to a width.
func fit(s string, style pic.Lettering, room float64) string {
	if pic.TextWidth(s, style) <= room {
		return s
	}
	r := []rune(s)
	for len(r) > 1 && pic.TextWidth(string(r)+"…", style) > room {
		r = r[:len(r)-1]
	}
	return strings.TrimSpace(string(r)) + "…"
}

// arborWords is "Third 56 · 8", wheel before pinion.
func arborWords(a train.ArborAnswer) string {
	var counts []string
	for _, c := range []train.Count{a.Wheel, a.Pinion} {
		if c.Status != train.None {
			counts = append(counts, c.String())
		}
	}
	return a.Name + " " + strings.Join(counts, " · ")
}

// periodWords is "1 turn in 8 min", or the turns for one of the first arbor.
func periodWords(a train.ArborAnswer, i int) string {
	switch {
	case a.Period.Known() && a.Period.About:
		return "1 turn in about " + train.Interval(a.Period)
	case a.Period.Known():
		return "1 turn in " + train.Interval(a.Period)
	case i == 0:
		return "speed not known"
	case a.TurnsPerFirst.Known():
		return a.TurnsPerFirst.Mixed() + " turns for 1 of the first"
	}
	return "turns not known"
}

func platesTitle(t train.Turned) string {
	return "The " + t.Name + " train between its plates"
}

// platesDesc says in words what the drawing shows.
func platesDesc(t train.Turned) string {
	parts := make([]string, len(t.Arbors))
	for i, a := range t.Arbors {
		parts[i] = arborWords(a) + ", " + periodWords(a, i)
	}
	return fmt.Sprintf("From below: %s.", strings.Join(parts, "; "))
}
