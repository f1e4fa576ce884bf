package svg_test

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatboard/internal/kit/check"
	"seatboard/internal/kit/pic"
	"seatboard/internal/paper/svg"
)

func everything() pic.Picture {
	p := pic.Picture{Title: `A "plate" & its <arbors>`, Desc: "The third arbor is chosen.", W: 340, H: 200}
	p.Add(
		pic.Rect{Min: pic.Pt{X: 10, Y: 10}, W: 8, H: 150, Fill: pic.Hatch},
		pic.Rect{Min: pic.Pt{X: 200, Y: 10}, W: 8, H: 150, Fill: pic.Hatch2},
		pic.Poly{Pts: []pic.Pt{{X: 30, Y: 40}, {X: 60, Y: 40}, {X: 45.1234, Y: 70}}, Closed: true, Pen: pic.NoLine, Fill: pic.Shaded},
		pic.Poly{Pts: []pic.Pt{{X: 30, Y: 100}, {X: 60, Y: 90}}, Pen: pic.Steel},
		pic.Line{A: pic.Pt{X: -0.001, Y: 80}, B: pic.Pt{X: 215, Y: 80}, Pen: pic.Chosen},
		pic.Circle{C: pic.Pt{X: 100, Y: 80}, R: 20, Fill: pic.Ground},
		pic.Arc{C: pic.Pt{X: 100, Y: 80}, R: 30, From: 0, To: 4, Pen: pic.Dashed},
		pic.Arc{C: pic.Pt{X: 100, Y: 80}, R: 30, From: 0, To: 7, Pen: pic.Bad},
		pic.Group{Link: "/clocks/7?a=1&b=2", Words: "Third arbor", Items: []pic.Item{
			pic.Text{P: pic.Pt{X: 220, Y: 84}, S: "Third 56 · 8", Style: pic.Name},
		}},
		pic.Group{Items: []pic.Item{pic.Text{P: pic.Pt{X: 220, Y: 104}, S: "½″ < 13 mm", Anchor: pic.End, Style: pic.Mark}}},
		pic.Dim{A: pic.Pt{X: 10, Y: 160}, B: pic.Pt{X: 208, Y: 160}, S: "50 mm", Off: -16},
		pic.Dim{A: pic.Pt{X: 210, Y: 60}, B: pic.Pt{X: 210, Y: 20}, S: "7 mm"},
		pic.Dim{A: pic.Pt{X: 100, Y: 20}, B: pic.Pt{X: 106, Y: 20}, S: "0.4", Off: 6},
	)
	return p
}

func TestInline(t *testing.T) {
	got := svg.Inline(everything(), svg.Placed{ID: "plates-n", Class: "narrow"})
	wellFormed(t, got)
	check.Golden(t, "inline.svg", got+"\n")
	for _, bad := range []string{"style=", "<style", "-0\"", "NaN", `role="img"`} {
		if strings.Contains(got, bad) {
			t.Errorf("there is %q in it", bad)
		}
	}
}

func TestRoleImgWithoutLinks(t *testing.T) {
	got := svg.Inline(pic.Picture{Title: "t", W: 1, H: 1}, svg.Placed{ID: "x"})
	if !strings.Contains(got, `role="img" aria-labelledby="x-t"`) || strings.Contains(got, "desc") {
		t.Error(got)
	}
}

func TestFile(t *testing.T) {
	got := string(svg.File(everything()))
	wellFormed(t, got)
	check.Golden(t, "file.svg", got)
}

func TestTrueSize(t *testing.T) {
	p := pic.Picture{Title: "bar", W: 120, H: 40, Scale: pic.TrueSize}
	p.Add(pic.Line{A: pic.Pt{X: 10, Y: 20}, B: pic.Pt{X: 110, Y: 20}},
		pic.Text{P: pic.Pt{X: 10, Y: 30}, S: "100 mm"})
	file := string(svg.File(p))
	for _, want := range []string{`width="120mm" height="40mm" viewBox="0 0 120 40"`, `x1="10" y1="20" x2="110"`, `stroke-width="0.32"`, `font-size="3.7"`} {
		if !strings.Contains(file, want) {
			t.Errorf("file lacks %s:\n%s", want, file)
		}
	}
	page := svg.Inline(p, svg.Placed{ID: "b"})
	for _, want := range []string{`width="453.54" height="151.18"`, `x2="415.75"`} {
		if !strings.Contains(page, want) {
			t.Errorf("page lacks %s:\n%s", want, page)
		}
	}
}

func TestEveryPenAndFillIsWritten(t *testing.T) {
	for pen := pic.Ink; pen <= pic.NoLine; pen++ {
		for fill := pic.Empty; fill <= pic.BadFill; fill++ {
			p := pic.Picture{Title: "t", W: 9, H: 9}
			p.Add(pic.Rect{W: 9, H: 9, Pen: pen, Fill: fill})
			for _, s := range []string{svg.Inline(p, svg.Placed{ID: "q"}), string(svg.File(p))} {
				wellFormed(t, s)
				if i := strings.Index(s, "url(#"); i >= 0 {
					id := s[i+5 : i+strings.IndexByte(s[i:], ')')]
					if !strings.Contains(s, `<pattern id="`+id+`"`) {
						t.Errorf("pen %d fill %d: no pattern %s", pen, fill, id)
					}
				}
			}
		}
	}
}

func TestAnyWordsStayWellFormed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "s")
		x := rapid.Float64().Draw(t, "x")
		p := pic.Picture{Title: s, Desc: s, W: x, H: math.NaN()}
		p.Add(pic.Group{Link: s, Words: s, Items: []pic.Item{pic.Text{S: s, P: pic.Pt{X: x}}, pic.Dim{S: s, A: pic.Pt{X: x}, B: pic.Pt{Y: x}, Off: x}}})
		wellFormed(t, svg.Inline(p, svg.Placed{ID: "z"}))
		wellFormed(t, string(svg.File(p)))
	})
}

type fataler interface{ Fatalf(string, ...any) }

func wellFormed(t fataler, s string) {
	d := xml.NewDecoder(strings.NewReader(s))
	for {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			return
		} else if err != nil {
			t.Fatalf("%v in\n%s", err, s)
		}
	}
}

func BenchmarkInline(b *testing.B) {
	p := pic.Picture{Title: "train", W: 760, H: 460}
	for i := range 400 {
		p.Add(pic.Line{A: pic.Pt{X: 100, Y: float64(i)}, B: pic.Pt{X: 106, Y: float64(i) + 0.37}, Pen: pic.Hair})
	}
	for b.Loop() {
		svg.Inline(p, svg.Placed{ID: "b"})
	}
}
