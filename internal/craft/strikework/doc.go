// Package strikework lays out what counts the blows of a striking clock: the
// rack with its snail, and the count wheel.
//
// # Rack and snail
//
// The tail of the rack falls on a snail that turns once in twelve hours. For
// each hour it falls one step deeper, and the rack one tooth farther. The rack
// turns on a pivot; its teeth stand at the radius Q, the pin of the tail at T,
// the snail's centre E away. At a radius ρ from the snail's centre to the middle
// of the pin the rack stands at
//
//	θ = acos((E² + T² − ρ²) / (2 E T)),
//
// and equal teeth want equal steps of θ, not of ρ: the radii of the snail
// follow exactly, and how far that is from equal falls is told. Where E is not
// known it is chosen so that the tail is square to the snail in the middle of
// its fall, as steps are then the most equal.
//
// The snail is drawn from the dial side, where it turns clockwise; the hours
// follow each other against the clock. The tail comes down in the middle of an
// hour's sector.
//
// The rack is drawn with its arms, its tail and the snail, the pin on the step of
// 1 o'clock: the faces of its teeth hold it against falling, and as it falls the
// tail goes towards the snail's centre, θ from the line between the centres. The
// angle from teeth to tail is the maker's, and has to be measured.
//
// # Count wheel
//
// One turn in twelve hours, 78 blows, or 90 with one blow at each half hour. A
// slot stands after each hour's blows, and after each half hour's. All angles
// are whole numbers of divisions.
//
// # Sources
//
// Derham 1696, pp. 34 and 113; Beckett, 8th ed. 1903, p. 165, for the blows.
// The rest is geometry. Proportions where nothing was measured are chosen here.
//
// # Gaps
//
// Not here: the gathering pallet, springs, hook and warning,
// quarters, count wheels with an inner rim, repeating snails with a surprise
// piece.
//
// # JSON
//
// The answer of seatboard strike-work --json.
//
//	query             what was asked, as typed; kind is "rack" or "count-wheel"
//	rack              null for a count wheel, or where it cannot be told yet
//	  steps, teeth    of the snail, of the rack
//	  tooth           rad, from tooth to tooth of the rack
//	  pitch           m along the tips
//	  fall            m, of a step of the snail, the mean
//	  centres         m, from the rack's pivot to the snail's centre
//	  radii[]         m, of the snail from 1 o'clock on
//	  uneven          m, most that a radius is off equal falls
//	  depth           m, of a tooth of the rack
//	  arms            between (rad, from the middle of the teeth to the tail the way
//	                  the rack falls), arm (width), hub, hole (diameters); null where
//	                  they cannot be drawn
//	count_wheel       null for a rack
//	  divisions       78 or 90
//	  division        rad
//	  slots[]         hour ("4" or "4 1/2"), after (blows), angle (rad)
//	  width, depth    m, of a slot
//	  report          turns of the pin wheel for one of the count wheel, "39/4"
//	chosen[]          what was not typed
//	working[], findings[]
//	complete          it can be drawn
package strikework
