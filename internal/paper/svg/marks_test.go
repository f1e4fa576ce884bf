package svg_test

import (
	"strings"
	"testing"

	"seatboard/internal/book/picture"
	"seatboard/internal/paper/svg"
)

func TestMarks(t *testing.T) {
	got := svg.Marks([]picture.Mark{
		{Kind: picture.Arrow, X: 100, Y: 100, X2: 300, Y2: 100}, {Kind: picture.Ring, X: 50, Y: 60, X2: 53, Y2: 64},
		{Kind: picture.Number, X: 10, Y: 20, N: 3}, {Kind: picture.Text, X: 5, Y: 6, Text: `<b>"worn"&`},
	}, 2800, 2000, "4 marks")
	wellFormed(t, got)
	for _, want := range []string{`viewBox="0 0 2800 2000"`, `M100 100L300 100`, `r="5"`, `>3</text>`, `&lt;b&gt;&#34;worn&#34;&amp;`, `aria-label="4 marks"`} {
		if !strings.Contains(got, want) {
			t.Errorf("no %s in %s", want, got)
		}
	}
	if strings.Contains(got, "style") {
		t.Error("a style attribute, which the page's policy forbids")
	}
}

// TestMarksKeepTheirPlace: a round coordinate keeps its noughts, another its
// decimals.
func TestMarksKeepTheirPlace(t *testing.T) {
	got := svg.Marks([]picture.Mark{{Kind: picture.Ring, X: 1200, Y: 700.25, X2: 1300, Y2: 700.25}}, 4000, 3000, "ring")
	if !strings.Contains(got, `cx="1200" cy="700.25" r="100"`) {
		t.Error(got)
	}
}
