// Package dxf writes the outline of a part as a DXF file for a cutter maker,
// a router or a laser: release 12 (AC1009), which every program reads, after
// the AutoCAD Release 12 DXF reference (Autodesk 1992, from memory) and the
// group codes of the AutoCAD 2000 DXF Reference.
//
// A file has the views at true size of one [doc.Drawing], one millimetre to
// the unit, y upwards, the first with its lower left corner at the origin. An
// outline stays what it is: lines and arcs, a polyline with bulges or a
// circle, never a polygon. Numbers have six decimals, a nanometre; a bulge has
// ten.
//
// Each thing lies on a layer that says what it is. The layers of the drawing
// keep their names, in capitals; what has none lies on OUTLINE, HEAVY,
// HIDDEN, CENTRE, THIN, DIMENSIONS or TEXT by its pen or kind. Hatchings and
// fills are not cut and are not written.
//
// Release 12 has no header variable for the unit of the drawing. $MEASUREMENT
// and $INSUNITS, which later releases read (1 metric, 4 millimetres), are
// written all the same: readers of release 12 files skip what they do not
// know, and those that look for a unit find the true one.
package dxf

import (
	"errors"
	"math"
	"slices"
	"strings"

	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/pic"
)

// ErrNoView is the error of a drawing that has no view at true size.
var ErrNoView = errors.New("dxf: the drawing has no view at true size")

// apart is the room between views, in millimetres.
const apart = 10

// File is the drawing's views at true size as a DXF file.
func File(d doc.Drawing) ([]byte, error) {
	w := &writer{layers: map[string]pic.Pen{}, box: geom.Nowhere()}
	at, found := 0.0, false
	for _, v := range d.Views {
		p := v.Picture
		if v.Scale != 1 || p.Scale != pic.TrueSize || !(p.W > 0 && p.H > 0) || math.IsInf(p.W+p.H, 0) {
			continue
		}
		w.right, w.foot, found = at, p.H, true
		w.items(p.Items, "")
		at += p.W + apart
	}
	if !found {
		return nil, ErrNoView
	}
	var file groups
	file.str(999, "Seatboard. Units: millimetres, 1 : 1. "+plain(d.Title))
	file.header(w.box)
	file.tables(w.layers)
	file.str(0, "SECTION")
	file.str(2, "ENTITIES")
	file.b = append(file.b, w.out.b...)
	file.str(0, "ENDSEC")
	file.str(0, "EOF")
	return file.b, nil
}

// writer writes the entities of a drawing. right and foot place the view.
type writer struct {
	out         groups
	layers      map[string]pic.Pen
	box         geom.Box // round what is cut
	right, foot float64
}

func (w *writer) items(items []pic.Item, layer string) {
	for _, it := range items {
		w.item(it, layer)
	}
}

func (w *writer) item(it pic.Item, layer string) {
	switch it := it.(type) {
	case pic.Group:
		w.items(it.Items, first(name(it.Layer), layer))
	case pic.Window:
		w.items(it.Items, layer)
	case pic.Text:
		w.text(it, 0, it.P, first(layer, "TEXT"))
	case pic.Dim:
		w.dim(it, first(layer, "DIMENSIONS"))
	case pic.Circle:
		w.circle(it.C, it.R, w.on(layer, it.Pen))
	case pic.Arc:
		w.arc(it, w.on(layer, it.Pen))
	default:
		for _, p := range paths(it) {
			w.path(p, w.on(layer, penOf(it)))
		}
	}
}

// paths are the outlines of what is made of lines.
func paths(it pic.Item) []geom.Path {
	switch it := it.(type) {
	case pic.Line:
		return []geom.Path{polygon(false, it.A, it.B)}
	case pic.Poly:
		return []geom.Path{polygon(it.Closed, it.Pts...)}
	case pic.Rect:
		a, b := it.Min, pic.Pt{X: it.Min.X + it.W, Y: it.Min.Y + it.H}
		return []geom.Path{polygon(true, a, pic.Pt{X: b.X, Y: a.Y}, b, pic.Pt{X: a.X, Y: b.Y})}
	case pic.Outline:
		return it.Paths
	case pic.Cells:
		var out []geom.Path
		for r := range it.Runs() {
			out = append(out, paths(r)...)
		}
		return out
	}
	return nil
}

func penOf(it pic.Item) pic.Pen {
	switch it := it.(type) {
	case pic.Line:
		return it.Pen
	case pic.Poly:
		return it.Pen
	case pic.Rect:
		return it.Pen
	case pic.Outline:
		return it.Pen
	}
	return pic.Ink
}

func polygon(closed bool, pts ...pic.Pt) geom.Path {
	if len(pts) == 0 {
		return geom.Path{}
	}
	p := geom.Path{From: geom.Pt(pts[0]), Closed: closed}
	for _, q := range pts[1:] {
		p.Segs = append(p.Segs, geom.Seg{To: geom.Pt(q)})
	}
	return p
}

// on is the layer of a thing, which is then in the table of layers with the
// pen that was drawn on it first.
func (w *writer) on(layer string, pen pic.Pen) string {
	if pen == pic.NoLine {
		return ""
	}
	if layer == "" {
		switch pen {
		case pic.Hair:
			layer = "THIN"
		case pic.Dashed:
			layer = "HIDDEN"
		case pic.Chain:
			layer = "CENTRE"
		case pic.Heavy:
			layer = "HEAVY"
		default:
			layer = "OUTLINE"
		}
	}
	if _, known := w.layers[layer]; !known {
		w.layers[layer] = pen
	}
	return layer
}

func first(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

// longestName is that of a layer in release 12.
const longestName = 31

// name is a layer's name as release 12 can write it: capitals, digits and
// hyphens.
func name(s string) string {
	out := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z':
			return r - 'a' + 'A'
		case r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-', r == '_':
			return r
		}
		return '-'
	}, strings.TrimSpace(s))
	return out[:min(len(out), longestName)]
}

// inOrder are the keys of the layers.
func inOrder(layers map[string]pic.Pen) []string {
	var out []string
	for l := range layers {
		out = append(out, l)
	}
	slices.Sort(out)
	return out
}
