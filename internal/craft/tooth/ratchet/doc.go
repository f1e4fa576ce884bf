// Package ratchet lays out a ratchet wheel and the place of its click: of a
// barrel, a fusee, a winding arbor, a maintaining work.
//
// # Teeth
//
// The face holds: it is radial, or undercut so that the click is drawn in. The
// back runs straight from the land of the tip down to the foot of the next face.
//
// # Click
//
// A click of length L, from its pivot to its nose, whose pivot is D from the
// centre of the wheel, meets a tip at the radius R under
//
//	α = acos((D² − R² − L²) / (2 R L)),
//
// 90° where it lies along the tangent. The face pushes square to itself, and
// draws the nose in by the angle 90° − α + undercut. Where that is below nought
// friction alone holds the nose, and dirt or oil can let it out. A pivot on the
// tangent has D = √(R² + L²).
//
// # Sources
//
// Geometry, exact. Proportions where nothing was measured are chosen here.
//
// # Gaps
//
// Strength of teeth and click, and the spring of the click, are not reckoned.
//
// # JSON
//
// The answer of seatboard ratchet --json.
//
//	query           what was asked, as typed
//	per_tooth       rad, 360°/N
//	undercut        rad
//	diameter, root  over the tips and at the root, m
//	depth, land     m
//	opening         rad, between the sides of a space: what a cutter has, and the most of the nose of a click
//	click, distance of the click's length and its pivot from the centre; null where neither is known
//	draw            rad, by which the face draws the nose in; null without a click
//	chosen[]        what was not typed
//	working[], findings[]
//	complete        the wheel can be drawn
package ratchet
