package drawing

import (
	"fmt"
	"math"
	"strconv"

	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
)

// tiling is a view that is larger than a sheet, cut into columns and rows of
// tiles that overlap.
type tiling struct {
	view       doc.View
	sheet      sheet
	w, h       float64 // of the view on paper
	cols, rows int
}

func newTiling(v doc.View, s sheet) tiling {
	t := tiling{view: v, sheet: s, w: v.Scale * v.Picture.W, h: v.Scale * v.Picture.H}
	room := s.room()
	t.cols, t.rows = cuts(t.w, room.w), cuts(t.h, room.h-caption)
	return t
}

// cuts is how many tiles of a length cover another.
func cuts(length, tile float64) int {
	return 1 + int(math.Ceil(max(length-tile, 0)/(tile-overlap)-1e-9))
}

func (t tiling) count() int { return t.cols * t.rows }

// name is that of a tile: rows are letters from the top, columns numbers from
// the left.
func (t tiling) name(i int) string {
	row, letters := i/t.cols, ""
	for ; row >= 0; row = row/26 - 1 {
		letters = string(rune('A'+row%26)) + letters
	}
	return letters + strconv.Itoa(i%t.cols+1)
}

// step is from a tile to the next, across and down.
func (t tiling) step() (across, down float64) {
	room := t.sheet.room()
	return room.w - overlap, room.h - caption - overlap
}

// window is what a tile shows of the view, in millimetres on paper from the
// view's upper left corner.
func (t tiling) window(i int) box {
	room := t.sheet.room()
	across, down := t.step()
	b := box{x: float64(i%t.cols) * across, y: float64(i/t.cols) * down, w: room.w, h: room.h - caption}
	b.w, b.h = min(b.w, t.w-b.x), min(b.h, t.h-b.y)
	return b
}

// draw is one tile with its crosses.
func (t tiling) draw(i int) []pic.Item {
	b, room := t.window(i), t.sheet.room()
	at := pic.Pt{X: room.x - b.x, Y: room.y + caption - b.y}
	words := fmt.Sprintf("%s: tile %s of %d; lay the crosses on those of the next tile", t.view.Name, t.name(i), t.count())
	out := []pic.Item{
		pic.Text{P: pic.Pt{X: room.x, Y: room.y + normal}, S: words, Style: pic.Plain, Size: normal},
		pic.Window{Min: pic.Pt{X: room.x, Y: room.y + caption}, W: b.w, H: b.h, Items: pic.Place(t.view.Picture.Items, at, t.view.Scale)},
		pic.Rect{Min: pic.Pt{X: room.x, Y: room.y + caption}, W: b.w, H: b.h, Pen: pic.Hair},
	}
	for _, c := range t.crosses() {
		if c.X < b.x || c.X > b.x+b.w || c.Y < b.y || c.Y > b.y+b.h {
			continue
		}
		out = append(out, t.cross(c, pic.Pt{X: at.X + c.X, Y: at.Y + c.Y})...)
	}
	return out
}

// crosses are the register marks, in millimetres on paper from the upper left
// corner of the view: on each joint at the corners and halfway.
func (t tiling) crosses() []pic.Pt {
	across, down := t.step()
	xs, ys := marks(t.cols, across, t.w), marks(t.rows, down, t.h)
	var out []pic.Pt
	for _, x := range xs {
		for _, y := range ys {
			if x.joint || y.joint {
				out = append(out, pic.Pt{X: x.at, Y: y.at})
			}
		}
	}
	return out
}

type mark struct {
	at    float64
	joint bool
}

// marks are the places of crosses along one side: in the middle of every
// joint, and two in every tile, clear of the joints.
func marks(n int, step, whole float64) []mark {
	var out []mark
	for k := range n {
		from, to := float64(k)*step+overlap, min(float64(k+1)*step, whole)
		if k == 0 {
			from = 0
		}
		if width := to - from; width > 0 {
			out = append(out, mark{from + 0.2*width, false}, mark{from + 0.8*width, false})
		}
		if k+1 < n {
			out = append(out, mark{float64(k+1)*step + overlap/2, true})
		}
	}
	return out
}

// cross is a register mark with its place in the part, from the lower left
// corner of the view.
func (t tiling) cross(c, at pic.Pt) []pic.Item {
	const arm = 3
	words := pic.Text{P: pic.Pt{X: at.X + 0.6, Y: at.Y - 0.6}, S: fmt.Sprintf("%.1f, %.1f", c.X/t.view.Scale, (t.h-c.Y)/t.view.Scale), Style: pic.Plain, Size: 1.8}
	if room := t.sheet.room(); at.X > room.x+room.w-15 {
		words.P.X, words.Anchor = at.X-0.6, pic.End
	}
	return []pic.Item{
		pic.Line{A: pic.Pt{X: at.X - arm, Y: at.Y}, B: pic.Pt{X: at.X + arm, Y: at.Y}, Pen: pic.Hair},
		pic.Line{A: pic.Pt{X: at.X, Y: at.Y - arm}, B: pic.Pt{X: at.X, Y: at.Y + arm}, Pen: pic.Hair},
		words,
	}
}

// key is the plan of the tiles with one of them marked, in a box.
func (t tiling) key(i int, b box) []pic.Item {
	k := min(b.w/t.w, b.h/t.h)
	out := []pic.Item{}
	for j := range t.count() {
		x := t.window(j)
		r := pic.Rect{Min: pic.Pt{X: b.x + k*x.x, Y: b.y + k*x.y}, W: k * x.w, H: k * x.h, Pen: pic.Hair}
		if j == i {
			r.Fill, r.Pen = pic.Hatch, pic.Ink
		}
		out = append(out, r)
	}
	return append(out, pic.Text{P: pic.Pt{X: b.x + k*t.w + 2, Y: b.y + b.h}, S: t.name(i), Style: pic.Name, Size: large})
}
