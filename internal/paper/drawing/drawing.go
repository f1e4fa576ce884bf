// Package drawing lays a [doc.Drawing] out on sheets of paper, at true size:
// pictures for paper/pdf, each with a frame, a title block and a bar of 100 mm
// both ways to be measured on the paper.
//
// The views come first, those at true size before the enlarged ones, side by
// side while there is room; then the data as a table, then the notes. A sheet
// is turned on its side where a view fits it better so. A view that is larger
// than a sheet is cut into tiles that overlap, with crosses that lie on both
// tiles of a joint and say where they are in the drawing, and a plan of the
// tiles on each. Nothing is ever scaled to fit.
//
// The title block has fields of ISO 7200:2004 (identification number, title,
// document type, date of issue, sheet, scale); frame, centring marks and the
// broad margin on the left follow ISO 5457:1999. Wide and narrow lines stand
// two to one as ISO 128 asks, 0.32 and 0.16 mm, the next to its 0.35 and 0.18;
// a centre line is long dash and dot, a hidden edge is dashed. All of this is
// from memory of those standards, not from their text.
package drawing

import (
	"errors"
	"math"
	"time"

	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
	"seatboard/internal/paper/pdf"
)

// Options say how a drawing is laid out.
type Options struct {
	Paper pdf.Paper // A4 if it has no size
	Day   time.Time // of issue
	// What the bar of 100 mm across and down measured on paper that this
	// printer made; 0 where it was not measured. The sheets are stretched or
	// shrunk by as much, and say so.
	BarAcross, BarDown float64
}

// ErrNothing is the error of a drawing without views, or with one that has no
// size or is larger than three metres on paper.
var ErrNothing = errors.New("drawing: a view is missing or cannot be drawn at its size")

// Edges of a sheet and sizes on it, in millimetres.
const (
	bound    = 20   // left margin, for binding; the bar down stands in it
	margin   = 10   // the others
	blockH   = 18   // of the title block
	bandH    = 14   // of the band above it, with the bar across
	apart    = 6    // between what stands on a sheet
	bleed    = 2.5  // by which words of a view may leave it
	overlap  = 10   // of two tiles
	caption  = 6    // room above a view for its name
	small    = 2.5  // size of type: labels, notes
	normal   = 3.5  // values
	large    = 5    // the title
	lineFeed = 1.35 // of the size of type
)

// sheet is one page as it grows.
type sheet struct {
	w, h  float64
	items []pic.Item
	plan  *tiling // of the view whose tile it has, nil for none
	tile  int
}

// room is where views may stand.
func (s sheet) room() box {
	return box{bound + 2, margin + 2, s.w - bound - margin - 4, s.h - 2*margin - blockH - bandH - 4}
}

type box struct{ x, y, w, h float64 }

// layer lays one drawing out.
type layer struct {
	doc.Drawing
	o      Options
	ruler  *pdf.Ruler
	sheets []sheet
	at     box // what is free on the last sheet: x, y of the next place, w unused, h of the row
}

// Lay is the drawing on its sheets.
func Lay(d doc.Drawing, o Options) ([]pdf.Sheet, error) {
	if o.Paper.W <= 0 || o.Paper.H <= 0 {
		o.Paper = pdf.A4()
	}
	views := sized(d.Views)
	if len(views) == 0 || len(views) < len(d.Views) {
		return nil, ErrNothing
	}
	r, err := pdf.NewRuler()
	if err != nil {
		return nil, err
	}
	l := &layer{Drawing: d, o: o, ruler: r}
	for _, v := range views {
		l.view(v)
	}
	l.table()
	l.notes()
	out := make([]pdf.Sheet, len(l.sheets))
	for i := range l.sheets {
		out[i] = l.finish(i)
	}
	return out, nil
}

// sized are the views that can be drawn, those at true size first.
func sized(all []doc.View) []doc.View {
	var trueSize, other []doc.View
	for _, v := range all {
		p := v.Picture
		if p.Scale != pic.TrueSize || !(v.Scale > 0 && p.W > 0 && p.H > 0) || !(v.Scale*max(p.W, p.H) < longest) {
			continue
		}
		if v.Scale == 1 {
			trueSize = append(trueSize, v)
			continue
		}
		other = append(other, v)
	}
	return append(trueSize, other...)
}

// longest is the greatest side of a view on paper, in millimetres.
const longest = 3000

// view places a view on the sheet begun, on a new one, or on tiles.
func (l *layer) view(v doc.View) {
	w, h := v.Scale*v.Picture.W, v.Scale*v.Picture.H
	draw := func(x, y float64) []pic.Item {
		words := pic.Text{P: pic.Pt{X: x, Y: y + normal}, S: v.Name, Style: pic.Plain, Size: normal}
		at := pic.Pt{X: x, Y: y + caption}
		edge := pic.Window{Min: pic.Pt{X: at.X - bleed, Y: at.Y - bleed}, W: w + 2*bleed, H: h + 2*bleed}
		edge.Items = pic.Place(v.Picture.Items, at, v.Scale)
		return []pic.Item{words, edge}
	}
	wide := max(w, l.ruler.Width(v.Name, normal, false))
	if l.place(wide, h+caption, draw) {
		return
	}
	l.tiles(v)
}

// place puts something of a size where there is room, and tells whether a
// sheet has any.
func (l *layer) place(w, h float64, draw func(x, y float64) []pic.Item) bool {
	if n := len(l.sheets); n > 0 && l.sheets[n-1].plan == nil {
		s := &l.sheets[n-1]
		room := s.room()
		if l.at.x+w > room.x+room.w && l.at.x > room.x {
			l.at = box{x: room.x, y: l.at.y + l.at.h + apart}
		}
		if l.at.x+w <= room.x+room.w && l.at.y+h <= room.y+room.h {
			s.items = append(s.items, draw(l.at.x, l.at.y)...)
			l.at.x, l.at.h = l.at.x+w+apart, max(l.at.h, h)
			return true
		}
	}
	for _, s := range []sheet{{w: l.o.Paper.W, h: l.o.Paper.H}, {w: l.o.Paper.H, h: l.o.Paper.W}} {
		room := s.room()
		if w > room.w || h > room.h {
			continue
		}
		s.items = draw(room.x, room.y)
		l.sheets = append(l.sheets, s)
		l.at = box{x: room.x + w + apart, y: room.y, h: h}
		return true
	}
	return false
}

// tiles cuts a view that fits no sheet.
func (l *layer) tiles(v doc.View) {
	upright, turned := newTiling(v, sheet{w: l.o.Paper.W, h: l.o.Paper.H}), newTiling(v, sheet{w: l.o.Paper.H, h: l.o.Paper.W})
	t := upright
	if turned.count() < upright.count() {
		t = turned
	}
	for i := range t.count() {
		s := sheet{w: t.sheet.w, h: t.sheet.h, plan: &t, tile: i}
		s.items = t.draw(i)
		l.sheets = append(l.sheets, s)
	}
}

// tableWidth is that of the data, in millimetres: two stand beside each other
// on an upright sheet.
const tableWidth = 84

// table sets the data beside or under the views, in parts where there is much.
func (l *layer) table() {
	const row, some = 5.0, 36
	rows := l.Data
	for len(rows) > 0 {
		part := rows[:min(len(rows), some)]
		rows = rows[len(part):]
		l.place(tableWidth, row*float64(len(part)), func(x, y float64) []pic.Item {
			var out []pic.Item
			for i, d := range part {
				foot := y + row*float64(i+1)
				out = append(out, l.words(d.Name, x+1, foot-1.4, small+0.3, tableWidth*0.6, false), l.wordsEnd(d.Value, x+tableWidth-1, foot-1.4, small+0.3, tableWidth*0.6),
					pic.Line{A: pic.Pt{X: x, Y: foot}, B: pic.Pt{X: x + tableWidth, Y: foot}, Pen: pic.Hair})
			}
			return out
		})
	}
}

// notes sets the notes, each in as many lines as it wants.
func (l *layer) notes() {
	const wide = 176
	for _, n := range l.Notes {
		lines := l.lines(n, wide, small+0.3)
		feed := (small + 0.3) * lineFeed
		for len(lines) > 0 {
			part := lines[:min(len(lines), 30)]
			lines = lines[len(part):]
			l.place(wide, feed*float64(len(part)), func(x, y float64) []pic.Item {
				var out []pic.Item
				for i, s := range part {
					out = append(out, pic.Text{P: pic.Pt{X: x, Y: y + feed*float64(i) + small}, S: s, Style: pic.Plain, Size: small + 0.3})
				}
				return out
			})
		}
	}
}

// correction is by how much a sheet is stretched for a bar that measured so
// much.
func correction(bar float64) float64 {
	if !(bar > 0) || math.IsInf(bar, 0) {
		return 1
	}
	return 100 / bar
}
