package present

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/pic"
)

// labelGap is from the back plate to its labels, with the leaders.
const labelGap = plateThick + 34

// labelRoom is the width that the labels beside the plates take.
func (d *platesDrawing) labelRoom() float64 {
	const least, most = 150, 262
	room := 0.0
	for i, a := range d.t.Arbors {
		room = math.Max(room, math.Max(pic.TextWidth(arborWords(a), pic.Name), pic.TextWidth(periodWords(a, i), pic.Label)))
	}
	return math.Max(least, math.Min(most, room+8)) // a little more than the words, so that none is cut
}

// labelsBeside sets name, counts and period to the right of each arbor.
func (d *platesDrawing) labelsBeside() {
	const line, block = 18.0, 44.0
	ys := spreadLabels(d.y, block, d.top+8)
	x := d.back + labelGap
	room := d.p.W - x - 4
	for i, y := range ys {
		d.p.Add(pic.Line{A: pic.Pt{X: d.back + plateThick + 4, Y: d.y[i]}, B: pic.Pt{X: x - 6, Y: y - 5}, Pen: pic.Hair},
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

// arborWords is "Third, 56 on 8": the wheel on its pinion.
func arborWords(a train.ArborAnswer) string {
	w, p := a.Wheel.String(), a.Pinion.String()
	switch {
	case w == "" && p == "":
		return a.Name
	case p == "":
		return a.Name + ", " + w
	case w == "":
		return a.Name + ", pinion of " + p
	}
	return a.Name + ", " + w + " on " + p
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
