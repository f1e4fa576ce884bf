// Package identify says what a screw, a wire, a drill or a pin may be from
// what was measured of it: which standard sizes, how likely each, or that it
// is of none. It is for the person with a caliper and a screw that came out of
// an old movement.
//
// # How it is weighed
//
// A genuine screw lies somewhere between its major diameter and an allowance
// under it, a tapped hole between its bore and a part of the depth over it;
// the doubt of the measurement is put over that. The pitch is held against
// that of the standard with its own doubt, and so is the angle of the flanks
// where it was seen. All rows count alike before they are measured; a thread
// that is later than the clock counts less, since it would have to be a
// replacement. What is of no standard may have any diameter from 0.3 to 30 mm
// and any pitch from 0.08 to 0.45 of it, evenly by ratio. The chances are
// Bayes' rule over these.
//
// Candidates of odds under 5 to 1 are tied: they cannot be told apart, and
// the answer says what to measure, and how well.
//
// # Doubts
//
// Where none is stated a caliper's 0.02 mm, 0.1 mm over counted threads, 2 %
// of a pitch and 2° of an angle are taken, and a finding says so.
//
// # Sources
//
// BA (BS 93:1951), Whitworth (BS 84:2007), ISO 262, Unified (ASME B18.6.3),
// wood screws (ASME B18.6.1), gauges as GNU units and older handbooks print
// them. Allowances and the years of the standards are from memory or common
// practice, and say so. [Checks] reckons the tables from their own rules.
//
// # Gaps
//
// Not here: watch screws (Thury and Progress threads), French and Swiss
// screw plates, pipe and taper threads, left-hand and several starts, Acme
// and buttress forms; pivot and mainspring gauges. Most screws of clocks
// before 1850 are of no standard.
//
// # JSON
//
// The answer of seatboard identify --json. Plain lengths are numbers in m,
// pitches in m a turn, chances from 0 to 1.
//
//	query                what was measured, as typed; what: screw, hole,
//	                     wood-screw, wire, sheet, drill, pin
//	pitch                {"value":0.00073,"unit":"m","u":…}, as measured or
//	                     counted; null where it was not
//	candidates[]         the likeliest first
//	  name               "2 BA"
//	  thread             series, size, major, pitch, inch, source
//	  gauge              gauge, size, diameter, inch, source
//	  low, high          a genuine one measures from low to high
//	  chance             among all these and none
//	  off                what was measured less what is allowed
//	  later, since       it is later than the clock; the year from which it was common
//	  make               form, angle (rad), depth, core, effective, bore, round,
//	                     engagement, tapping, tapping_drills[], clearance_drill
//	  fits[]             of a parallel pin, m6: hole (class of ISO 286), least and
//	                     most of the hole over its nominal size, tightest and
//	                     loosest play of the pin, negative where it is driven in
//	none                 chance that it is of no standard here
//	tied                 how many of the first cannot be told apart
//	next                 what to measure, and how well
//	working[]            name, formula, numbers, result, source
//	findings[]           level, code, text, next, about[], source
//	complete             one is found, or that it is none
package identify
