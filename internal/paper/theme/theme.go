// Package theme is the look of Seatboard: one style sheet and the faces it
// is set in. Paper and metal, not software: warm ground, near-black ink,
// blued steel for what can be touched, brass for what is chosen, verdigris
// for good, red oxide for danger; a dark theme like a lamp-lit bench.
//
// The style sheet names its faces by relative addresses (fonts/…); a server
// that gives files other names replaces them. The faces are subsets of IBM
// Plex Sans and Source Serif 4 under the SIL Open Font License; the licence
// stands beside them. A page without them looks right in the system's faces.
//
// On paper there is one look, black on white with the few colours of the trade
// ([PenOnPaper], [LetteringOnPaper], [HatchingOnPaper]); files and printed
// sheets share it.
//
// Every pair of colours that meets is at WCAG 2.2 AA contrast in both themes;
// a test reads the tokens from the style sheet and measures.
package theme

import (
	"embed"
	"io/fs"
)

//go:embed seatboard.css fonts print
var files embed.FS

// Files holds seatboard.css, the folder fonts with the faces of the page and
// the folder print with those of printed sheets.
func Files() fs.FS { return files }
