// Package qr draws a QR code (ISO/IEC 18004) for a page: dark on white in the
// light and in the dark, with its quiet zone, and nothing but attributes, so
// that a strict content security policy holds.
package qr

import (
	"fmt"
	"html"
	"strings"

	goqr "github.com/piglig/go-qr"
)

const quiet = 4 // cells around the code, by ISO/IEC 18004

// SVG draws a text as a code that may be soiled a little (level M), as many
// CSS pixels wide as side says. label tells what it is to who cannot see it.
// The error is of a text that is too long for a code.
func SVG(text, label string, side int) (string, error) {
	q, err := goqr.EncodeText(text, goqr.Medium)
	if err != nil {
		return "", fmt.Errorf("qr: %w", err)
	}
	var b strings.Builder
	n := q.Size() + 2*quiet
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" class="code" role="img" aria-label="%s" width="%d" height="%d" viewBox="0 0 %d %d" shape-rendering="crispEdges"><path fill="#fff" d="M0 0h%dv%dH0z"/><path fill="#000" d="`,
		html.EscapeString(label), side, side, n, n, n, n)
	for y := range q.Size() {
		for x := 0; x < q.Size(); x++ {
			from := x
			for x < q.Size() && q.Module(x, y) {
				x++
			}
			if x > from {
				fmt.Fprintf(&b, "M%d %dh%dv1h-%dz", from+quiet, y+quiet, x-from, x-from)
			}
		}
	}
	b.WriteString(`"/></svg>`)
	return b.String(), nil
}
