// Package divide reckons how a circle is divided for cutting teeth with the
// plates that a shop owns: at once from a ring of holes, through the worm of an
// indexing head with a circle of holes, or with two circles one after the
// other. It is for the person at the wheel engine or the lathe who has to know
// how far to turn before each cut, and whether the wheel will close.
//
// # Plates
//
// What the shop owns is typed as text ([Plates]): a line or a part between
// semicolons for each,
//
//	plate A: 60 72 96 120
//	head 40:1 with 15 16 17 18 19 20 / 21 23 27 29 31 33
//
// A plate has rings of holes and sits on the arbor that is divided. A head has
// a worm: so many turns of its crank to one of the arbor. The circles of one
// index plate are written together, a stroke begins the next plate.
//
// # Ways
//
// For N divisions a ring of H holes will do where N divides H: H/N holes at
// each. A head of K : 1 wants K/N turns of the crank at each; a circle of C
// holes gives that where N divides K·C. Two circles C₁, C₂ on one plate give
// a/C₁ + b/C₂ turns, and all that can be made so are the multiples of
// 1/lcm(C₁, C₂): N has to divide K·lcm(C₁, C₂). These are whole numbers
// throughout; nothing is rounded.
//
// # Where no way is exact
//
// Then it is said, with what is off. Going to the nearest hole each time keeps
// every tooth within half a hole of its place and the spaces differ by a hole;
// the same move made each time with two circles is mostly closer, but all that
// is wrong adds up in the last space. Angles are in turns inside; errors are
// given as angles and, at a radius, as lengths on the rim.
//
// # Sources
//
// The arithmetic is exact and needs none. The figures of [Checks] are those of
// the index tables that go with a head of 40 : 1 and its three plates, from
// memory.
//
// # Gaps
//
// Not here: differential indexing with change wheels, a dividing head that is
// turned by steps of a motor, the errors of the plates and of the worm
// themselves, which add to what is stated.
//
// # JSON
//
// The answer of seatboard divide --json. Angles are rad, lengths m.
//
//	query             what was asked; plates as text
//	ways[]            all exact ways, the simplest first
//	  kind            "direct", "simple", "compound"
//	  by              the plate or head, as typed
//	  ratio           turns of the crank for one of the arbor; 0 of a plate
//	  circle          holes of the ring or circle
//	  turns, holes    whole turns of the crank and holes at each division
//	  second          holes of the second circle; 0 where there is none
//	  second_holes    holes in it, negative: turned back
//	close[]           where ways is empty: the nearest that can be had, best first
//	  way             as above; holes are those of the first move
//	  same_move       the same move each time; else the nearest hole each time
//	  tooth           most that a tooth is off its place
//	  space           most that a space is too wide or too narrow
//	  on_rim          tooth on the rim (quantity); null without a diameter
//	moves[]           of the first way: every division
//	  division        from 1; the first is cut before anything is moved
//	  turns, hole     of the crank from the beginning, hole in the circle
//	  second_hole     in the second circle
//	  off             what it is off its place, positive ahead
//	reached[]         counts from 2 to 400 that divide exactly: count, kind
//	below, above      the nearest of these on both sides of the count, 0 for none
//	wanted[]          circles that would do: by, circle
//	working[]         name, formula, numbers, result, source
//	findings[]        level, code, text, next, about[], source
//	complete          there is an exact way
package divide
