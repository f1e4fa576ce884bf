package dxf_test

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/pic"
	"seatboard/internal/paper/dxf"
)

// toothed is a wheel with teeth of eight segments each: straight flanks,
// rounded tips and roots.
func toothed(teeth int, r float64) geom.Path {
	step := 2 * math.Pi / float64(teeth)
	p := geom.Path{Closed: true}
	tip, root := r*(1+1.2*step/4), r*(1-1.6*step/4)
	for i := range teeth {
		a := float64(i) * step
		on := func(r, k float64) geom.Pt { return geom.Polar(r, a+k*step) }
		if i == 0 {
			p.From = on(root, -0.25)
		}
		p.Segs = append(p.Segs,
			geom.Seg{To: on(r, -0.25)}, geom.Seg{To: on(r+(tip-r)*0.6, -0.18), Bulge: -0.05}, geom.Seg{To: on(tip, 0), Bulge: -0.1},
			geom.Seg{To: on(r+(tip-r)*0.6, 0.18), Bulge: -0.1}, geom.Seg{To: on(r, 0.25), Bulge: -0.05}, geom.Seg{To: on(root, 0.25)},
			geom.Seg{To: on(root, 0.5), Bulge: 0.02}, geom.Seg{To: on(root, 0.75), Bulge: 0.02})
	}
	p.Segs[len(p.Segs)-1].To = p.From
	return p
}

// wheel is a drawing of one, as a chapter would make it.
func wheel(teeth int) doc.Drawing {
	side := 200.0
	c := geom.Pt{X: side / 2, Y: side / 2}
	shift := func(p geom.Pt) geom.Pt { return c.Plus(geom.Pt{X: p.X, Y: -p.Y}) }
	p := pic.Picture{Title: "wheel", W: side, H: side, Scale: pic.TrueSize}
	p.Add(
		pic.Group{Layer: "outline", Items: []pic.Item{pic.Outline{Paths: []geom.Path{toothed(teeth, 90).Map(shift, true), geom.Round(c, 3)}}}},
		pic.Group{Layer: "centres", Items: []pic.Item{pic.Circle{C: pic.Pt(c), R: 90, Pen: pic.Chain}, pic.Line{A: pic.Pt{X: 2, Y: c.Y}, B: pic.Pt{X: 198, Y: c.Y}, Pen: pic.Chain}}},
		pic.Arc{C: pic.Pt(c), R: 50, From: -0.3, To: 1, Pen: pic.Dashed},
		pic.Dim{A: pic.Pt{X: 10, Y: 100}, B: pic.Pt{X: 190, Y: 100}, S: "Ø 180 ± 0.02 mm", Off: -20},
		pic.Text{P: pic.Pt{X: 100, Y: 60}, S: "½ × 3′ 時", Anchor: pic.Middle},
	)
	return doc.Drawing{Name: "wheel", Title: "Wheel", Views: []doc.View{{Name: "True size", Scale: 1, Picture: p}, {Name: "One tooth, 20 : 1", Scale: 20, Picture: p}}}
}

type read struct {
	Version        string
	Errors, Fixes  []string
	Layers, Texts  []string
	Linetypes      map[string]string
	Units, Metric  int
	Kinds          map[string]int
	Outlines       []outline
	again, written string
}

type outline struct {
	Layer    string
	Area     float64
	Box      [4]float64
	Vertices int
}

// ezdxf reads a file with an independent reader, or skips saying so.
func ezdxf(t *testing.T, file []byte) read {
	t.Helper()
	const python = "/usr/bin/python3"
	if err := exec.Command(python, "-c", "import importlib.util, sys; sys.exit(importlib.util.find_spec('ezdxf') is None)").Run(); err != nil {
		t.Skip("python3-ezdxf is not on this computer: what it would read is not checked")
	}
	r := read{written: filepath.Join(t.TempDir(), "x.dxf")}
	r.again = r.written + ".again.dxf"
	if err := os.WriteFile(r.written, file, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(python, "testdata/read.py", r.written, r.again).Output()
	if err != nil {
		var e *exec.ExitError
		errors.As(err, &e)
		t.Fatalf("%v %s", err, e.Stderr)
	}
	if err := json.Unmarshal(out, &r); err != nil {
		t.Fatal(err)
	}
	return r
}

// TestAnotherReader holds a wheel of 7 and one of 400 teeth to what ezdxf
// makes of their files.
func TestAnotherReader(t *testing.T) {
	for _, teeth := range []int{7, 400} {
		file, err := dxf.File(wheel(teeth))
		if err != nil {
			t.Fatal(err)
		}
		r := ezdxf(t, file)
		if r.Version != "AC1009" || len(r.Errors)+len(r.Fixes) > 0 || r.Units != 4 || r.Metric != 1 {
			t.Errorf("version %s, units %d, %d; the audit says %v %v", r.Version, r.Units, r.Metric, r.Errors, r.Fixes)
		}
		// The reader adds a layer of its own.
		if want := []string{"0", "CENTRES", "DIMENSIONS", "Defpoints", "HIDDEN", "OUTLINE", "TEXT"}; !slices.Equal(r.Layers, want) {
			t.Errorf("layers %v, want %v", r.Layers, want)
		}
		if r.Linetypes["CENTRES"] != "CENTRE" || r.Linetypes["HIDDEN"] != "HIDDEN" || r.Linetypes["OUTLINE"] != "CONTINUOUS" {
			t.Errorf("line types %v", r.Linetypes)
		}
		if !slices.Contains(r.Texts, "Ø 180 ± 0.02 mm") && !slices.Contains(r.Texts, "⌀ 180 ± 0.02 mm") {
			t.Errorf("texts %q", r.Texts)
		}
		if r.Kinds["POLYLINE"] != 3 || r.Kinds["CIRCLE"] != 2 || r.Kinds["ARC"] != 1 || r.Kinds["TEXT"] != 2 {
			t.Errorf("there are %v", r.Kinds)
		}
		same(t, r.Outlines, toothed(teeth, 90))
		if teeth > 7 {
			continue
		}
		b, err := os.ReadFile(r.again) // as the other writes it
		if err != nil {
			t.Fatal(err)
		}
		same(t, ezdxf(t, b).Outlines, toothed(teeth, 90))
	}
}

// same looks for a path among the outlines of a file.
func same(t *testing.T, all []outline, p geom.Path) {
	t.Helper()
	for _, o := range all {
		if o.Layer != "OUTLINE" || o.Vertices != len(p.Segs) {
			continue
		}
		b := p.Bounds()
		for i, want := range []float64{b.Min.X + 100, b.Min.Y + 100, b.Max.X + 100, b.Max.Y + 100} {
			if d := o.Box[i] - want; math.Abs(d) > 1e-6 {
				t.Errorf("edge %d is off by %g mm", i, d)
			}
		}
		// An edge that is off by 1e-6 mm all round.
		if d := o.Area - p.Area(); math.Abs(d) > 1e-6*p.Length() {
			t.Errorf("the area is off by %g mm² of %g", d, p.Area())
		}
		return
	}
	t.Errorf("the outline is not there: %v", all)
}

func TestSize(t *testing.T) {
	file, err := dxf.File(wheel(400))
	if err != nil || len(file) > 200_000 {
		t.Errorf("%v, a wheel of 400 teeth takes %d bytes", err, len(file))
	}
}

func TestNoView(t *testing.T) {
	d := wheel(7)
	d.Views = d.Views[1:]
	if _, err := dxf.File(d); !errors.Is(err, dxf.ErrNoView) {
		t.Error(err)
	}
}

func BenchmarkWheel400(b *testing.B) {
	d := wheel(400)
	for b.Loop() {
		if _, err := dxf.File(d); err != nil {
			b.Fatal(err)
		}
	}
}
