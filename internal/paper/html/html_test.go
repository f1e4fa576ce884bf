package html

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"seatboard/internal/kit/check"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/geom"
	"seatboard/internal/kit/pic"
)

func sample(words string) doc.Doc {
	p := pic.Picture{Title: words, Desc: words, W: 640, H: 100, Items: []pic.Item{
		pic.Line{A: pic.Pt{X: 1, Y: 2}, B: pic.Pt{X: 3, Y: 4}}, pic.Text{P: pic.Pt{X: 5, Y: 6}, S: words},
		pic.Rect{W: 10, H: 10, Fill: pic.Hatch},
	}}
	n := p
	n.W = 340
	return doc.Doc{Title: words, Lead: words, Sections: []doc.Section{{
		Heading: words,
		Body: []doc.Block{
			doc.Facts{{Label: words, Value: "993.6", Unit: "mm", Doubt: "± 0.4", Note: words}},
			doc.Notice{Kind: doc.ClashNotice, Title: words, Text: words, Next: words, Ref: cite.Ref{Source: "beckett", Place: words}},
			doc.Figure{Name: "plates", Caption: words, Wide: p, Narrow: n, Numbers: &doc.Table{Caption: words, Columns: []doc.Column{{Head: words}, {Head: "x", Unit: "mm", Number: true}}, Rows: [][]string{{words, "1"}}}},
			doc.Para{Text: words}, doc.Say{Text: words}, doc.List{Items: []string{words}},
			doc.Drawing{Name: "wheel", Title: words, Of: words, Views: []doc.View{{Name: words, Scale: 1, Picture: pic.Picture{Title: words, W: 40, H: 40, Scale: pic.TrueSize, Items: []pic.Item{
				pic.Group{Layer: words, Items: []pic.Item{pic.Outline{Paths: []geom.Path{geom.Round(geom.Pt{X: 20, Y: 20}, 15)}}}}}}}}, Data: []doc.Datum{{Name: words, Value: words}}, Notes: []string{words}},
		},
		Margin: []doc.Block{
			doc.Notice{Kind: doc.CautionNotice, Text: words},
			doc.Working{Steps: []cite.Step{{Name: words, Formula: words, Numbers: words, Result: words}}},
			doc.Budget{Of: words, Lines: []doc.BudgetLine{{Input: words, Percent: 71}}},
			doc.Sources{Refs: []cite.Ref{{Source: "beckett", Place: words}}},
		},
	}}}
}

func TestRender(t *testing.T) {
	links := func(f string) []Link { return []Link{{"SVG", "/x/" + f + ".svg?a=1&b=2"}} }
	check.Golden(t, "sample.html", string(Render(sample("The weight falls"), Options{ID: "s", Links: links, Drawings: func(d string) []Link { return append(links(d), Link{"PDF", "/x/" + d + ".pdf?b=2&a=1"}) }})))
}

// TestAnyWordsStayWords sends hostile words through every block.
func TestAnyWordsStayWords(t *testing.T) {
	for _, words := range []string{`<script>alert(1)</script>`, `" onload="x`, `'><b>`, "&amp;", "a\x00b\x07", "½ ± µ ′ ″ 🕰", `</svg><a href="javascript:x">`} {
		got := string(Render(sample(words), Options{}))
		d := xml.NewDecoder(strings.NewReader("<r>" + got + "</r>"))
		ids := map[string]bool{}
		for {
			tok, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatalf("%q: not well formed: %v", words, err)
			}
			if e, ok := tok.(xml.StartElement); ok {
				checkElement(t, words, e, ids)
			}
		}
	}
}

func checkElement(t *testing.T, words string, e xml.StartElement, ids map[string]bool) {
	t.Helper()
	if e.Name.Local == "script" || e.Name.Local == "style" || e.Name.Local == "b" {
		t.Errorf("%q made an element %s", words, e.Name.Local)
	}
	for _, a := range e.Attr {
		if a.Name.Local == "style" || strings.HasPrefix(a.Name.Local, "on") {
			t.Errorf("%q made an attribute %s", words, a.Name.Local)
		}
		if a.Name.Local == "id" {
			if ids[a.Value] {
				t.Errorf("the id %s stands twice", a.Value)
			}
			ids[a.Value] = true
		}
	}
}

func BenchmarkRender(b *testing.B) {
	d := sample("The weight falls")
	for b.Loop() {
		Render(d, Options{})
	}
}
