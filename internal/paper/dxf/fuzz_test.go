package dxf_test

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/pic"
	"seatboard/internal/paper/dxf"
)

type pair struct {
	code  int
	value string
}

// parse is a small reader of release 12: pairs of lines, numbers where the
// code asks for them (AutoCAD 2000 DXF Reference, "Group Code Value Types"),
// plain ASCII.
func parse(file []byte) ([]pair, error) {
	for _, c := range file {
		if c != '\n' && (c < 0x20 || c > 0x7e) {
			return nil, fmt.Errorf("byte %#x", c)
		}
	}
	lines := strings.Split(strings.TrimSuffix(string(file), "\n"), "\n")
	if len(lines)%2 != 0 {
		return nil, fmt.Errorf("%d lines", len(lines))
	}
	var out []pair
	for i := 0; i < len(lines); i += 2 {
		code, err := strconv.Atoi(lines[i])
		if err != nil {
			return nil, err
		}
		v := lines[i+1]
		switch {
		case code >= 10 && code <= 59:
			x, err := strconv.ParseFloat(v, 64)
			if err != nil || math.Abs(x) > 1.1e6 || len(v) > 20 {
				return nil, fmt.Errorf("group %d is %q", code, v)
			}
		case code >= 60 && code <= 79:
			if _, err := strconv.Atoi(v); err != nil {
				return nil, err
			}
		case len(v) > 300:
			return nil, fmt.Errorf("a text of %d bytes", len(v))
		}
		out = append(out, pair{code, v})
	}
	return out, nil
}

// sound looks at the order of things: sections and tables end, a polyline has
// two vertices at least and its end, and every layer is in the table.
func sound(all []pair) error {
	var layers []string
	open, vertices := "", -1
	for i, p := range all {
		switch {
		case p.code == 0 && (p.value == "SECTION" || p.value == "TABLE"):
			open += p.value[:1]
		case p.code == 0 && p.value == "ENDTAB":
			if !strings.HasSuffix(open, "T") {
				return fmt.Errorf("a table ends in %q", open)
			}
			open = strings.TrimSuffix(open, "T")
		case p.code == 0 && p.value == "ENDSEC":
			if open != "S" || vertices >= 0 {
				return fmt.Errorf("a section ends in %q", open)
			}
			open = ""
		case p.code == 0 && p.value == "POLYLINE":
			vertices = 0
		case p.code == 0 && p.value == "VERTEX":
			vertices++
		case p.code == 0 && p.value == "SEQEND":
			if vertices < 2 {
				return fmt.Errorf("a polyline of %d points", vertices)
			}
			vertices = -1
		case p.code == 2 && all[i-1].value == "LAYER" && all[i-1].code == 0:
			layers = append(layers, p.value)
		case p.code == 8 && !slices.Contains(layers, p.value):
			return fmt.Errorf("there is no layer %q", p.value)
		}
	}
	if n := len(all); open != "" || all[n-1] != (pair{0, "EOF"}) {
		return fmt.Errorf("the file ends in %q", open)
	}
	return nil
}

// TestAnyPictureCanBeRead: no picture makes a file that is refused.
func TestAnyPictureCanBeRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.OneOf(rapid.Float64Range(-300, 300), rapid.SampledFrom([]float64{0, math.Inf(1), math.NaN(), 1e300, -1e-300, 1e6}))
		n := func() float64 { return number.Draw(t, "n") }
		s := rapid.String().Draw(t, "s")
		pt := func() pic.Pt { return pic.Pt{X: n(), Y: n()} }
		p := pic.Picture{Title: s, W: 100, H: 100, Scale: pic.TrueSize}
		pen := pic.Pen(rapid.IntRange(0, 10).Draw(t, "pen"))
		for range rapid.IntRange(0, 5).Draw(t, "items") {
			path := geom.Path{From: geom.Pt(pt()), Closed: rapid.Bool().Draw(t, "closed")}
			for range rapid.IntRange(0, 4).Draw(t, "segments") {
				path.Segs = append(path.Segs, geom.Seg{To: geom.Pt(pt()), Bulge: n()})
			}
			items := []pic.Item{pic.Outline{Paths: []geom.Path{path}, Pen: pen}, pic.Line{A: pt(), B: pt(), Pen: pen}, pic.Circle{C: pt(), R: n(), Pen: pen},
				pic.Arc{C: pt(), R: n(), From: n(), To: n(), Pen: pen}, pic.Text{P: pt(), S: s, Size: n(), Anchor: pic.Middle}, pic.Dim{A: pt(), B: pt(), S: s, Off: n()},
				pic.Poly{Pts: []pic.Pt{pt(), pt(), pt()}, Closed: true, Pen: pen}, pic.Rect{Min: pt(), W: n(), H: n(), Pen: pen}, pic.Cells{Min: pt(), Side: n(), Dark: [][]bool{{true}}}}
			p.Add(pic.Group{Layer: rapid.SampledFrom([]string{"", "outline", s}).Draw(t, "layer"), Items: items}, pic.Window{Items: items})
		}
		file, err := dxf.File(doc.Drawing{Title: s, Views: []doc.View{{Scale: 1, Picture: p}, {Scale: 1, Picture: p}}})
		if err != nil {
			t.Fatal(err)
		}
		all, err := parse(file)
		if err == nil {
			err = sound(all)
		}
		if err != nil {
			t.Fatalf("%v in\n%s", err, bytes.TrimSpace(file))
		}
	})
}
