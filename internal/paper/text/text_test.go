package text

import (
	"strings"
	"testing"

	"seatboard/internal/kit/check"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/doc"
)

func sample() doc.Doc {
	return doc.Doc{Title: "A seconds pendulum", Lead: "What it is and what it does.", Sections: []doc.Section{{
		Body: []doc.Block{
			doc.Facts{
				{Label: "Length", Value: "993.6", Unit: "mm", Doubt: "± 0.4", Note: "to the centre of swing, at the shop, which is a note that is long enough to be broken"},
				{Label: "Beats an hour", Value: "3600"},
			},
			doc.Notice{Kind: doc.ClashNotice, Text: "The train and the pendulum are 53 min a day apart.", Next: "Count the third wheel again."},
		},
		Margin: []doc.Block{
			doc.Notice{Kind: doc.CautionNotice, Text: "A weight that falls breaks a foot.", Ref: cite.Ref{Grade: cite.CommonPractice}},
			doc.Working{Steps: []cite.Step{{Name: "Length", Formula: "L = g (t/π)²", Numbers: "9.8118 (1/π)²", Result: "994.1 mm", Ref: cite.Ref{Source: "beckett", Place: "p. 36"}}}},
			doc.Budget{Of: "the length", Lines: []doc.BudgetLine{{Input: "gravity", Percent: 71}, {Input: "beat", Percent: 29}}},
			doc.Sources{Refs: []cite.Ref{{Source: "beckett", Place: "p. 36"}, {Source: "beckett", Place: "p. 36"}}},
		}}, {
		Heading: "Day by day",
		Body: []doc.Block{
			doc.Table{Caption: "Where the weight hangs", Columns: []doc.Column{{Head: "Day"}, {Head: "Height", Unit: "mm", Number: true}}, Rows: [][]string{{"wound", "1200"}, {"day 1", "1050"}}, Note: "From the floor."},
			doc.List{Items: []string{"One.", "Two."}},
			doc.Say{Text: "Leave it."},
		}},
	}}
}

func TestRender(t *testing.T) {
	check.Golden(t, "plain.txt", Render(sample(), Options{}))
	check.Golden(t, "working.txt", Render(sample(), Options{Working: true, Width: 60}))
}

func TestColourIsNeverAlone(t *testing.T) {
	coloured := Render(sample(), Options{Colour: true})
	if !strings.Contains(coloured, "\x1b[31m") {
		t.Error("no colour where it was asked for")
	}
	plain := coloured
	for _, e := range []string{bold, red, off} {
		plain = strings.ReplaceAll(plain, e, "")
	}
	if plain != Render(sample(), Options{}) {
		t.Error("without its escapes the coloured text differs from the plain one")
	}
}

func TestLinesKeepTheWidth(t *testing.T) {
	for _, l := range strings.Split(Render(sample(), Options{Width: 50, Working: true}), "\n") {
		if width(l) > 50 {
			t.Errorf("%d columns: %q", width(l), l)
		}
	}
}

func TestWordsCannotCommandTheTerminal(t *testing.T) {
	d := doc.Doc{Title: "a\x1b]0;owned\x07b\x1b[2J\u009b31mc", Sections: []doc.Section{{Body: []doc.Block{doc.Para{Text: "\x1b[31mred\r\x00"}}}}}
	if got := Render(d, Options{}); strings.ContainsAny(got, "\x1b\x07\x00\r\u009b") {
		t.Errorf("%q", got)
	}
	if got := Render(d, Options{Colour: true}); strings.Contains(got, "\x1b]") || strings.Contains(got, "\x1b[2J") {
		t.Errorf("%q", got)
	}
}

func TestAnEmptyDocument(t *testing.T) {
	if got := Render(doc.Doc{}, Options{}); got != "\n" {
		t.Errorf("%q", got)
	}
}

// TestTableIsFolded: columns of words are folded where the row is too wide,
// and none of their words is lost.
func TestTableIsFolded(t *testing.T) {
	long := "no long soak: a rust pit begins a break; dry at once"
	d := doc.Doc{Sections: []doc.Section{{Body: []doc.Block{doc.Table{
		Columns: []doc.Column{{Head: "Part"}, {Head: "Pieces", Number: true}, {Head: "Because"}},
		Rows:    [][]string{{"click spring", "12", long}, {"plate", "1", "none"}}}}}}}
	out := Render(d, Options{Width: 40})
	for _, l := range strings.Split(out, "\n") {
		if width(l) > 40 {
			t.Errorf("%d wide: %s", width(l), l)
		}
	}
	for _, word := range strings.Fields(long) {
		if !strings.Contains(out, word) {
			t.Errorf("%q is lost:\n%s", word, out)
		}
	}
}
