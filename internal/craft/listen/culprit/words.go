package culprit

import "slices"

// Evident tells whether there is something, be it that its part cannot be
// told from another.
func (x Suspect) Evident() bool { return x.Standing == Found || x.Standing == Unlike }

// TooQuick tells whether a part repeats faster than the beats can show.
func (p Part) TooQuick() bool { return p.Beats*highest < 1 }

// IsOdd tells whether a tooth was found to be out.
func (a Answer) IsOdd(t Tooth) bool { return slices.Contains(a.Odd, t.Number) }
