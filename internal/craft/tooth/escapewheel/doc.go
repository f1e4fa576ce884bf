// Package escapewheel lays out the escape wheel of an anchor escapement, dead-
// beat or recoil, or of a pin wheel escapement, as it is to be made, and reckons where its pallets stand: from
// the wheel, or back from what is left of the escapement to the lost wheel.
//
// # Where the pallets stand
//
// A wheel of N teeth and radius R over its tips, of which the anchor embraces
// n spaces: the two tips that it spans are seen from the wheel's centre under
// twice the angle
//
//	A = 180° n / N.
//
// Where the pallets are to be met square, their arbor is where the tangents at
// these tips cross, at the distance d = R / cos A; the tips are p = R tan A from
// it, and c = 2 R sin A apart. n is a whole number and a half: while one pallet
// holds, the other stands in the middle of a space. Of R, d and c any two give
// n, and any one with n gives the others. Recoil escapements are often planted
// otherwise; then the difference is told, not taken for a fault.
//
// Half of a tooth's angle, 180°/N, is what each pallet has: its own width, the
// land of the tip and the drop share it.
//
// # The tooth
//
// The wheel turns clockwise as it is drawn. Leading is the face: straight, from
// the foremost point of the tip inwards, leaning back behind the radius by the
// undercut, so that nothing but the tip touches the pallet. The tip is a land,
// part of the circle over the tips. The back goes from the land to the root
// circle, straight, or as an arc that is hollow. Between the teeth is the root
// circle. All corners are drawn sharp; a cutter leaves its own radius.
//
// Undercut, land, depth and thickness at the root are those that are typed;
// where they are not, proportions stand that are chosen here (no source) and
// said to be so. A surviving tooth should be measured.
//
// # Pin wheels
//
// The pins stand on a circle of radius R and move, where they are held, along
// the tangent: the arbor of the pallets lies on it, p from the pins and
//
//	d = √(R² + p²)
//
// from the wheel's centre. Any two give the third. Both pallets act at the same
// place, one pin passing from the first to the second, so that half of the way
// from pin to pin holds the thickness of a pallet, the pin and the drop:
// π R / N = thickness + pin + R · drop. Of half pins, of which the half is left
// that leads, only half of the diameter counts. Where no pin was measured it is a
// quarter of the way from pin to pin.
//
// # Sources
//
// Beckett, 8th ed. 1903, pp. 96–97; Goodrich 1905, ch. VII and VIII; Playtner
// for lever wheels. Beckett's sums print the same distances and radii as here.
//
// # Gaps
//
// Not here: the impulse faces and their motion, wheels of chronometers,
// levers, cylinders and verges, the rounding of corners, crossings.
//
// # JSON
//
// The answer of seatboard escape-wheel --json. Quantities are {"value":…,
// "unit":"m","u":…,"budget":[…]}; what could not be reckoned is null.
//
//	query                what was asked, as typed
//	per_tooth            rad, 360°/N
//	spaces               that the anchor embraces: n; 0 where it is not known
//	spaces_from          "typed", "distance", "span", "distance-and-span", ""
//	spaces_measured      n as the measurements have it, before the half
//	half_angle           rad, A
//	diameter             over the tips
//	diameter_from        "typed", "distance", "span", ""
//	distance             of the centres, d
//	pallet_radius        p, where the tips meet it
//	span                 c, of the tips that are embraced
//	distance_ratio, pallet_ratio, span_ratio    d/R, p/R, c/R; 0 without n
//	pallet_width         on the circle of the tips, what land and drop leave
//	lift_travel          of a tip against the pallet for the lift, at p
//	tooth                of the wheel as drawn, null without a diameter
//	  undercut           rad
//	  land, depth, base, back_radius, bottom    m; base is the thickness at the root,
//	                     bottom what is left between two teeth there
//	  root               radius at the bottom of the spaces, m
//	  cutter             rad, between the face and the back of a space
//	  chosen[]           which of them were not typed
//	pins            of a pin wheel: pin (diameter), angle (rad, of a pin from the
//	                centre), shape ("round", "half"), thick (along its way), rim,
//	                inner (radii), gap (between two pins), chosen[]; diameter is then
//	                that of the circle through their middles; null else
//	pins            of a pin wheel: pin (diameter), angle (rad, of a pin from the
//	                centre), shape ("round", "half"), thick (along its way), rim,
//	                inner (radii), gap (between two pins), chosen[]; diameter is then
//	                that of the circle through their middles; null else
//	working[], findings[]
//	complete             the wheel can be drawn
package escapewheel
