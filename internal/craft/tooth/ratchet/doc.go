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
// 90° where it lies along the tangent. The face pushes square to itself with N,
// along the line of thrust; that line leaves the one from the contact to the
// pivot under the draw
//
//	δ = 90° − α + undercut,
//
// and passes the pivot at L sin δ. Its moment N L sin δ turns the nose in where δ
// is above nought. Friction µN along the face has the arm L cos δ about the
// pivot and acts against whichever way the nose slides. So there are three cases:
//
//	tan δ > µ         the click engages itself: wherever it catches, it is pulled in
//	−µ ≤ tan δ ≤ µ    friction keeps it where it is; its spring has to carry it in
//	tan δ < −µ        the face throws it out; only its spring holds it
//
// Deeper in the space δ is greater, so the tip of the tooth, where it is least,
// is what counts. A pivot on the tangent has D = √(R² + L²). A wheel held with
// the torque T pushes with N = T / (R cos undercut), and the pivot bears as much.
//
// The click is drawn in its place: the nose along the face, short of the bottom,
// thinner than the space; its arm beside the tips it passes, then straight to
// the boss round its pivot.
//
// # Sources
//
// Geometry, exact. Proportions where nothing was measured are chosen here.
//
// # Gaps
//
// Strength of teeth and click, and the spring of the click, are not reckoned; nor
// are its tail and spring drawn, and a click that pulls is not.
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
//	holds           coefficient of friction under which it pulls itself in, tan δ; null without a click
//	force           N, thrust on the click and its pivot; null without a torque
//	drawn           arm, hole, boss, free (m), nose (rad) of the click as drawn; null where it cannot be
//	chosen[]        what was not typed
//	working[], findings[]
//	complete        the wheel can be drawn
package ratchet
