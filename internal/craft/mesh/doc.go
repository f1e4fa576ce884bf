// Package mesh turns a wheel and its pinion against one another and says how
// they act: where a tooth takes its leaf and lets it go, how evenly the pinion
// turns, what friction leaves of the torque, how much play there is, and at
// what distance of the centres all that is best. It is for the person who has
// a wheel and a pinion in the depthing tool, or has to decide whether a worn or
// strange pinion may stay.
//
// # How it is done
//
// Tooth and leaf are the exact flanks of craft/tooth. For an angle of the wheel
// a leaf is turned back until it meets the tooth: every point of the tooth asks
// for an angle of the leaf, the direction of the point from the pinion's centre
// and the leaf's own angle at that distance; the greatest of them is where the
// two touch. It is found to the last digits of the arithmetic by closing in on
// the common tangent, or on a corner of either. The pinion stands where the
// farthest of its leaves stands, and never falls back, since the load holds it:
// where the wheel has to catch up, it drops. A tooth that would have to lift a
// leaf which is not far enough on butts. The same in a mirror gives the play.
//
// Where two pairs are within reach the one whose leaf is farther on carries, by
// geometry alone; where both are equally far on to the last digit, as those of
// exact form are, the one in front. A tooth may take its leaf, stand back while
// the one in front carries again, and take it once more: its lead is counted
// from where it takes it first. Where the other pair stands back by less than a
// hundredth of a module on the pinion's pitch circle it is said that either may
// carry; that bound is a choice of this program.
//
// # Thin and thick teeth
//
// A tooth or a leaf, or the space beside it, may be measured straight across
// where the pitch circle meets the flanks. Both flanks are turned about the
// centre by as much, as a cutter leaves them that goes through twice; the point
// of the tooth, and what is rounded off there, follow. How high a tooth stands
// depends on how thick it is, so that a diameter over the tips and a width are
// brought to one module together.
//
// # Roots
//
// The corners at the bottom of the spaces are sharp unless a rounding is
// stated; then it is part of the flank, and what runs on it pushes as the flank
// does. Whether it matters is told by turning the pair with the rounding and
// without, distance by distance: a rounding that the tips are clear of changes
// nothing, and at the depth of a pair as craft/tooth lays it out they are.
//
// # Torque
//
// The tooth presses along the common normal, friction acts across it against
// the sliding (Coulomb). What is passed on is the torque on the pinion over
// that of an even pair without friction: it holds friction and the uneven ratio
// in one figure. Before the line of centres tooth and leaf slide into one
// another, and friction takes more than after it. Pivots are not in it.
//
// # The best depth
//
// The distance at which torque is passed on most evenly: the weakest moment of
// a pitch over the strongest, among the distances at which nothing butts, binds
// or locks. Engaging friction, an uneven ratio and a tooth that comes late all
// count in it. The range beside it loses a tenth. Both are a rule of this
// program: the books say to depth by feel and by ear.
//
// # Worn and strange
//
// Wheel and pinion may be of two modules, each from its own diameter over the
// tips. Wear is a pit of the stated depth where the sound flanks run, deepest in
// the middle. One tooth may be bent or short; it is turned among sound ones.
//
// # Doubts
//
// The doubts of distance, diameters, module and friction are propagated. The
// form of old teeth is not known better than by eye, and that is not in them.
//
// # Sources
//
// The theory is plane geometry and statics. [Checks] holds the lead of the exact
// form to a table worked out on its own; the tests hold the touch to the
// describing circle, to envelopes worked out in another way, to thousands of
// points of both flanks, to itself turned the other way about, and what is
// passed on to the balance of energy. Coefficients of friction are those of a supplier's chart and a
// handbook table for brass on steel and on iron; none was found for the teeth
// of clocks.
//
// # Gaps
//
// Not here: teeth that are not alike at their two sides, wheels out of round,
// arbors out of upright, the bending of teeth and so how two that touch at once
// share the load, impact.
//
// # JSON
//
// The answer of seatboard mesh --json. A quantity is
// {"value":0.0425,"unit":"m","u":0.0001,"budget":[{"input":"distance of the centres","part":1}]}
// in SI; u and budget stand where a doubt is known; what could not be reckoned
// is null. Ratios and torques are over those of an even pair without friction.
//
//	query                   what was asked, as typed
//	wheel_module, pinion_module   m
//	touching                m, distance at which the pitch circles touch
//	distance                m, at which the pair is turned
//	friction                coefficient
//	state                   "works", "apart", "butts", "binds", "locks"
//	lead                    rad of the pinion from where a tooth takes its leaf to
//	                        the line of centres; negative: it takes it behind it
//	after                   rad of the pinion from there until the next tooth does
//	drop                    rad that the wheel runs free
//	slowest, fastest        of the pinion's turning
//	weakest, strongest      torque passed on, least and greatest in a pitch
//	mean                    work passed on
//	play                    m on the pitch circle of the pinion, the least
//	bottom                  m between tips and bottoms, the least
//	least_torque, even_torque   N m on the pinion, where that of the wheel is known
//	best, best_low, best_high   m
//	at_best                 as one of depths[]
//	depths[]                distance_mm, lead, after, slowest, fastest, weakest,
//	                        strongest, mean, drop, butts, play (rad), bottom_mm, state
//	moments[]               one pitch: wheel, pinion (rad past the line of centres,
//	                        from the middles of tooth and leaf), ratio, passed,
//	                        slides_mm (for a radian of the wheel), ahead (rad of
//	                        the pinion before even turning), play (rad); two at
//	                        one angle where the load goes over inside the pitch
//	carries[]               from, to: rad of a tooth of the wheel past the line of
//	                        centres, from middle to middle, over which it carries
//	two                     where the load may rest on either of two pairs: from, to
//	                        (rad of the tooth in front), over (where it gives over
//	                        for good), within (rad of the pinion by which the other
//	                        stands back at the most); null where there is one at a time
//	unworn                  as one of depths[]: the pair before it was worn
//	roots[]                 of ("wheel", "pinion"), radius_m, touches (the mate's tips
//	                        run on the rounding), from_mm (centres no nearer are free
//	                        of it; 0: reached nowhere before the pair binds)
//	odd                     lead, next_lead, ahead, behind, drop, butts (rad), binds
//	working[]               name, formula, numbers, result, source
//	findings[]              level, code, text, next, about[], source
//	complete                the pair works at the distance
package mesh
