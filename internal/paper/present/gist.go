package present

import (
	"strings"

	"seatboard/internal/kit/doc"
)

// Gist is a document in a line, for a list: its first large sentence, or else
// its first figures, or its lead.
func Gist(d doc.Doc) string {
	const figures = 3
	for _, s := range d.Sections {
		for _, b := range s.Body {
			switch b := b.(type) {
			case doc.Say:
				return b.Text
			case doc.Facts:
				var words []string
				for _, f := range b[:min(figures, len(b))] {
					words = append(words, factLine(f))
				}
				if len(words) > 0 {
					return strings.Join(words, "; ")
				}
			}
		}
	}
	return d.Lead
}

// factLine is a figure as words.
func factLine(f doc.Fact) string {
	out := f.Label + " " + f.Value
	for _, more := range []string{f.Doubt, f.Unit} {
		if more != "" {
			out += " " + more
		}
	}
	return out
}
