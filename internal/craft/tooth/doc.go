// Package tooth reckons the teeth of clock wheels and pinions and lays them
// out exactly, for whoever has to cut them: from the counts and any size that
// survives, with its doubt, to the module, the blanks, the depth of cut, the
// cutter and where the leaves are met. It is for the person who has a blank on
// the arbor and half of a pair in the other hand.
//
// # Forms
//
// The flanks under the pitch circle are radial. Above it the wheel's tooth is
// the epicycloid that a circle of half the pinion's pitch radius describes on
// the wheel's pitch circle: it drives a radial leaf at a constant ratio, past
// the line of centres (Beckett, 8th ed. 1903, pp. 276–277). The forms are
//
//	exact    the epicycloid as far as it drives or to its point, then a land;
//	         the leaf topped by its own epicycloid (a circle of half the
//	         wheel's pitch radius), as far as action before the line needs it,
//	         and rounded off inside that curve
//	rounded  the epicycloid, rounded off at 0.95 of the height of its point;
//	         the leaf rounded by half its width
//	arcs     two arcs that leave the radial flanks without a corner and meet at
//	         0.95 of the point; the leaf as above
//	lantern  pins; the wheel's tooth runs beside the epicycloid of the whole
//	         pitch circle by half a pin
//
// A tooth of the wheel is half of the pitch wide, a leaf a third up to ten
// leaves and two fifths above (Goodrich 1905, ch. XIV), a pin a third. The
// bottoms are 0.4 modules clear of the tips that reach into them.
//
// # Rounded corners
//
// The corners at the bottom of the spaces may be rounded by a radius r, or by one
// round from flank to flank as a cutter with a round edge leaves it. The round is
// tangent to the straight flank and to the root circle, its centre at ρ + r; from
// flank to flank ρ sin β / (1 − sin β), β being half of the space at the centre. The
// bottom stays as deep. How near the tips of the mate come to the rounding is
// found by rolling the two on their pitch circles, the mate leaning to either
// side. The corners at the wheel's tips may be rounded where the form has them:
// between curve and land; a point gets lower by it, and the module that a
// diameter over the tips gives follows. The tooth drives as far as the rounding.
//
// # From a diameter to the module
//
// A diameter over the tips is module · (count + 2h). Rules for h differ: what
// the action needs, 0.95 of the point, the printed fractions, the point
// itself. The form that is cut decides the value; the span of the rules, as a
// rectangle, is a doubt of its own and stands in the budget; and the bracket
// of all rules is shown. Several sizes are weighed by their doubts (a size
// without one as a slide gauge gives it, 0.02 mm); where the brackets of two do
// not meet both are named. The module, diametral pitch and circular pitch, where stated,
// are taken and the other sizes compared with them. A size that is 25.4 times
// off the others, or off any module of a clock, is asked about.
//
// # The line of centres
//
// A tooth is in action until the epicycloid ends; where the next leaf has not
// come to the line by then, it is met before it, tooth and leaf pushing
// against each other. The angle is computed, and what higher or thicker teeth
// and more leaves do to it. The least numbers that have none of it are those
// of Willis (Beckett, p. 278): ten of his fifteen pairs come out both ways, the
// others are named beside the exact ones.
//
// # Sources
//
// Beckett and Goodrich as above. The figures that BS 978: Part 2 has for
// clearances and rounded heights are from memory and marked so; exact geometry
// is preferred. Goodrich's heights for 9 and 10 leaves are higher than the
// point of the tooth and not used.
//
// # Gaps
//
// A pinion that drives a wheel (motion work) is laid out as driven. Not here: what
// a depth that is not the designed one does, wear, wheels of escapements,
// ratchets and racks, bevels and contrates, heat treatment and the strength of
// the teeth.
//
// # JSON
//
// The answer of seatboard tooth --json. Lengths are m, angles rad, heights over
// the pitch circle in modules; a quantity is {"value":…,"unit":…,"u":…}.
//
//	query                what was asked, as typed
//	form                 "exact", "rounded", "arcs", "lantern"
//	module, circular_pitch, distance (of the centres)
//	diametral_pitch      teeth to the inch of pitch diameter
//	measured[]           field, what, size (as typed), module, low_m and high_m (by
//	                     all rules and two doubts), used
//	rules[]              name, modules (height of the wheel's teeth), source
//	wheel, pinion        count, pitch_diameter, diameter (over the tips),
//	                     root_diameter, addendum, dedendum, depth_of_cut, tooth,
//	                     space (both on the pitch circle), space_at_bottom,
//	                     run_out; root_radius_m, tip_radius_m (0: sharp, or as the
//	                     form has it), root_room (between rounding and the tips of
//	                     the mate, null without); cutter: widths[] (height_m over its edge,
//	                     wide_m), arc_radius_m and arc_deviation_m (one arc in
//	                     the place of the curve; 0 where there is none)
//	action               known; of the pinion: needed (leaf to leaf), begins, after
//	                     (past the line), before (the line; 0 or less: none);
//	                     least_leaves, least_wheel (0: none); ways[]: what, wheel,
//	                     leaves, height_modules, before
//	body                 hole_m, crossings, rim_m (radius inside the rim), arm_m,
//	                     hub_m (radius), supposed[]
//	working[]            name, formula, numbers, result, source
//	findings[]           level, code, text, next, about[], source
//	complete             the sizes that were stated agree
package tooth
