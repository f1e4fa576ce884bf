package present

import (
	"fmt"
	"math"
	"testing"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// trainCases are movements of every kind.
func trainCases(t testing.TB) map[string]train.Answer {
	t.Helper()
	out := map[string]train.Answer{}
	add := func(name, counts string, change func(*train.Query)) {
		q, err := train.Parse(counts)
		if err != nil {
			t.Fatal(err)
		}
		if change != nil {
			change(&q)
		}
		a, err := train.Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		out[name] = a
	}
	turns := func(n float64) func(*train.Query) {
		return func(q *train.Query) { q.Trains[0].BarrelTurns = meas.Of(unit.Ratio(n)) }
	}
	add("longcase", "96/8 60/8 56/7 30", turns(16))
	add("measured", "96/8 60/8 56/7 30", func(q *train.Query) {
		turns(15.5)(q)
		_ = q.Trains[0].Sizes.UnmarshalText([]byte("1 wheel 98.4 mm depth 52 mm\n2 wheel 61 mm pinion 9.5 mm\n3 wheel 45 mm\n4 wheel 38.1 mm"))
		q.Motion = train.MustChain("36/12 40/10")
	})
	add("missing", "96/8 60?/8 ?/7 30", func(q *train.Query) { q.HourArbor = "2"; q.Pendulum = meas.OfU(unit.Length(0.994), 0.002) })
	add("french", "84/7 78/7 40", nil)
	add("year", "12)108 9)72 8)64 8)60 7)56 30", turns(16))
	add("lantern", "72/6L 60/6L 30", nil)
	add("long names", "96/8 60/8 56/7 30", func(q *train.Query) {
		_ = q.Trains[0].Sizes.UnmarshalText([]byte("1 name The wheel that the old repairer wrote his name and a date upon\n2 name WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW"))
	})
	add("reversed", "8/60 10/96 12/12 30", func(q *train.Query) { q.HourArbor = "1" })
	add("large", "1200/1 1200/30 30", func(q *train.Query) { q.HourArbor = "1" })
	add("small", "3/30 1/1 1", func(q *train.Query) { q.HourArbor = "1" })
	add("sixteen", "60/8 60/8 60/8 60/8 60/8 60/8 60/8 60/8 60/8 60/8 60/8 60/8 60/8 60/8 60/8 30", func(q *train.Query) { q.HourArbor = "1" })
	add("strike", "78/8 64/8 56/7 48/6", func(q *train.Query) { q.Trains[0].Name, q.Trains[0].Pins = train.Strike, 8; turns(16)(q) })
	add("low third", "60/8 40/8 110/8 30", func(q *train.Query) { q.HourArbor = "1"; turns(10)(q) })
	add("pair", "144/8", func(q *train.Query) { q.HourArbor = "2"; turns(10)(q) })
	return out
}

type box struct{ x0, y0, x1, y1 float64 }

// boxes are where the words of a picture stand.
func boxes(items []pic.Item) (b []box, words []string) {
	for _, it := range items {
		switch x := it.(type) {
		case pic.Text:
			w, left := pic.TextWidth(x.S, x.Style), x.P.X
			switch x.Anchor {
			case pic.Middle:
				left -= w / 2
			case pic.End:
				left -= w
			}
			b = append(b, box{left, x.P.Y - 13, left + w, x.P.Y + 4})
			words = append(words, x.S)
		case pic.Group:
			gb, gw := boxes(x.Items)
			b, words = append(b, gb...), append(words, gw...)
		}
	}
	return b, words
}

// inside checks that every word of a picture is in it and clear of others,
// and that every stroke is in it.
func inside(t *testing.T, name string, p pic.Picture) {
	t.Helper()
	b, words := boxes(p.Items)
	for i, x := range b {
		if x.x0 < -0.5 || x.y0 < -0.5 || x.x1 > p.W+0.5 || x.y1 > p.H+0.5 {
			t.Errorf("%s: %q leaves the picture of %.0f × %.0f: %+v", name, words[i], p.W, p.H, x)
		}
		for k, y := range b[:i] {
			if x.x0 < y.x1-0.5 && y.x0 < x.x1-0.5 && x.y0 < y.y1-0.5 && y.y0 < x.y1-0.5 {
				t.Errorf("%s: %q and %q overlap", name, words[i], words[k])
			}
		}
	}
	at := func(q pic.Pt) {
		if !(q.X >= -1 && q.X <= p.W+1 && q.Y >= -1 && q.Y <= p.H+1) {
			t.Errorf("%s: a line leaves the picture of %.0f × %.0f at %.1f, %.1f", name, p.W, p.H, q.X, q.Y)
		}
	}
	for _, it := range p.Items {
		switch x := it.(type) {
		case pic.Line:
			at(x.A)
			at(x.B)
		case pic.Rect:
			at(x.Min)
			at(pic.Pt{X: x.Min.X + x.W, Y: x.Min.Y + x.H})
			if x.W < 0 || x.H < 0 {
				t.Errorf("%s: a rectangle is inside out: %+v", name, x)
			}
		case pic.Poly:
			for _, q := range x.Pts {
				at(q)
			}
		case pic.Circle:
			at(pic.Pt{X: x.C.X - x.R, Y: x.C.Y - x.R})
			at(pic.Pt{X: x.C.X + x.R, Y: x.C.Y + x.R})
		case pic.Arc:
			if x.To-x.From < 2*math.Pi-0.01 {
				for _, a := range []float64{x.From, 0, x.To} {
					at(pic.Pt{X: x.C.X + x.R*math.Cos(a), Y: x.C.Y + x.R*math.Sin(a)})
				}
			}
		}
	}
}

func TestTrainFiguresKeepTheirWordsApart(t *testing.T) {
	for name, a := range trainCases(t) {
		for _, tr := range a.Trains {
			for _, width := range []float64{320, 340, 360, 500, 640, 700, 760} {
				for mesh := -1; mesh < len(tr.Meshes); mesh++ {
					inside(t, fmt.Sprintf("plates of %s at %.0f, mesh %d", name, width, mesh), TrainPlates(tr, mesh, width))
					inside(t, fmt.Sprintf("mesh %d of %s at %.0f", mesh, name, width), TrainMesh(tr, mesh, width))
				}
			}
		}
	}
}

// Pitch circles touch, and no two wheels share a plane.
func TestPlatesMesh(t *testing.T) {
	for name, a := range trainCases(t) {
		tr := a.Trains[0]
		for _, width := range []float64{340, 700} {
			d := newPlates(tr, -1, width)
			for i := range tr.Meshes {
				if got, want := d.y[i]-d.y[i+1], (d.size.wheel[i]+d.size.pinion[i+1])/2*d.scale; math.Abs(got-want) > 1e-6 {
					t.Errorf("%s at %.0f: arbors %d and %d are %.2f apart, the pitch circles %.2f", name, width, i+1, i+2, got, want)
				}
				for k := range i {
					if math.Abs(d.x[i]-d.x[k]) < 1 {
						t.Errorf("%s: wheels %d and %d share a plane", name, i+1, k+1)
					}
				}
			}
		}
	}
}

// A tooth touches a leaf on the line of centres, and nowhere does a tooth of
// the wheel stand in the metal of the pinion.
func TestTeethClear(t *testing.T) {
	for _, counts := range []string{"96/8 60/8 56/7 30", "144/12 100/10 96/8 80/8 30", "84/7 78/7 30", "78/8 64/8 48/6 30", "72/16 60/10 30", "64/8L 60/6L 30", "120/12L 40/10L 30"} {
		q, err := train.Parse(counts)
		if err != nil {
			t.Fatal(err)
		}
		q.HourArbor = "1"
		a, err := train.Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		for i := range a.Trains[0].Meshes {
			v := newMeshView(a.Trains[0], i, &pic.Picture{W: wideFigure})
			wc, pc := v.centres()
			teeth, _, _ := v.wheelOutline(wc, v.visible(wc, v.big+tallestTip*v.m))
			near := math.Inf(1)
			for _, q := range teeth {
				if d := v.depthInPinion(pc, q); d > 0.03*v.m {
					t.Errorf("%s, mesh %d: a tooth stands %.3f modules in the pinion", counts, i, d/v.m)
				} else {
					near = math.Min(near, -d)
				}
			}
			if near > 0.03*v.m {
				t.Errorf("%s, mesh %d: no tooth touches the pinion, the nearest is %.3f modules off", counts, i, near/v.m)
			}
			if len(teeth) < 3*20 {
				t.Errorf("%s, mesh %d: too few teeth", counts, i)
			}
		}
	}
}

// depthInPinion is how deep a point stands in the pinion, negative outside.
func (v *meshView) depthInPinion(c, q pic.Pt) float64 {
	if v.pinion.Lantern {
		deepest := math.Inf(-1)
		for k := range v.leaves {
			a := math.Pi + 2*math.Pi*float64(k)/float64(v.leaves)
			deepest = math.Max(deepest, v.trundleRadius()-math.Hypot(q.X-c.X-v.r*math.Cos(a), q.Y-c.Y-v.r*math.Sin(a)))
		}
		return deepest
	}
	leaves := v.leafOutline(c)
	in, near := false, math.Inf(1)
	for i, a := range leaves {
		b := leaves[(i+1)%len(leaves)]
		if (a.Y > q.Y) != (b.Y > q.Y) && q.X < a.X+(b.X-a.X)*(q.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
		dx, dy := b.X-a.X, b.Y-a.Y
		s := 0.0
		if l := dx*dx + dy*dy; l > 0 {
			s = math.Max(0, math.Min(1, ((q.X-a.X)*dx+(q.Y-a.Y)*dy)/l))
		}
		near = math.Min(near, math.Hypot(q.X-a.X-s*dx, q.Y-a.Y-s*dy))
	}
	if in {
		return near
	}
	return -near
}

// The barrel strikes neither arbor, pinion nor wheel above it.
func TestBarrelClears(t *testing.T) {
	for name, a := range trainCases(t) {
		tr := a.Trains[0]
		for _, width := range []float64{340, 640, 700, 760} {
			d := newPlates(tr, -1, width)
			left, right := d.x[0], d.back
			top := d.y[0] - d.barrelRadius(left, right)
			for i := 1; i < len(d.y); i++ {
				low := d.y[i]
				if d.x[i] > left {
					low += d.size.wheel[i] / 2 * d.scale
				}
				if low > top && top < d.y[0]-8 {
					t.Errorf("%s at %.0f: arbor %d reaches %.1f px into the barrel", name, width, i+1, low-top)
				}
			}
		}
	}
}

func TestTrainDocument(t *testing.T) {
	for name, a := range trainCases(t) {
		d := Train(a)
		for _, s := range d.Sections {
			for _, b := range s.Body {
				tables := []doc.Table{}
				switch x := b.(type) {
				case doc.Table:
					tables = append(tables, x)
				case doc.Figure:
					if x.Numbers == nil || x.Wide.Title == "" || x.Wide.Desc == "" || x.Caption == "" {
						t.Errorf("%s: the figure %s says too little", name, x.Name)
					}
					tables = append(tables, *x.Numbers)
				}
				for _, tab := range tables {
					for _, r := range tab.Rows {
						if len(r) != len(tab.Columns) {
							t.Errorf("%s: %s: a row of %d cells under %d heads", name, tab.Caption, len(r), len(tab.Columns))
						}
					}
				}
			}
		}
		if n := len(d.Figures()); n != 2*len(a.Trains) {
			t.Errorf("%s: %d figures", name, n)
		}
	}
	a := trainCases(t)["longcase"]
	f, ok := Train(a).Sections[0].Body[0].(doc.Facts)
	if !ok || f[0].Value != "3600" || f[2].Value != "993.6" || f[3].Value != "1\u00a0min" || f[4].Value != "8" {
		t.Errorf("%+v", f)
	}
	if got := TrainChosen(a, 0, 2).Figures()[1].Wide.Title; got != "Third wheel and escape pinion in mesh" {
		t.Errorf("the chosen mesh is %q", got)
	}
}

func BenchmarkTrainPlates(b *testing.B) {
	a := trainCases(b)["longcase"]
	b.ReportAllocs()
	for b.Loop() {
		TrainPlates(a.Trains[0], 1, wideFigure)
	}
}

func BenchmarkTrainDocument(b *testing.B) {
	a := trainCases(b)["longcase"]
	b.ReportAllocs()
	for b.Loop() {
		Train(a)
	}
}
