// Package geom is plane geometry for things that are cut: points, smooth
// curves, and paths of straight lines and arcs that hold to a curve within a
// stated deviation.
//
// It is the one place where a bare float64 is a length: the millimetre.
// Angles are radians, counter-clockwise when y points upwards. A drawing whose
// y points downwards may use the same paths; its turns are then clockwise.
//
// # Paths
//
// A [Path] is a point and the segments that follow it. A segment has a bulge,
// the tangent of a quarter of the angle that it turns through, as in the
// polylines of DXF (AutoCAD 2000 DXF Reference, group code 42): 0 is straight,
// 1 a half circle to the left of the way, −1 to the right.
//
// # Fitting
//
// [Fit] lays pairs of arcs that share their tangents along a smooth curve and
// halves a pair until a bound on its distance from the curve, not only that of
// points, is less than it may be ([Deviation]). The number of segments grows
// as the cube root of one over the deviation, so that a flank needs a few arcs,
// not hundreds of points.
//
// # Measuring
//
// [Path.Area], [Path.Length] and [Path.Bounds] are those of the arcs, not of
// points on them. [Path.Clashes] finds where a path crosses itself, and
// [Path.Inside] which points it goes round.
package geom
