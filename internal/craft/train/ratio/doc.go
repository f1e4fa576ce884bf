// Package ratio finds counts of teeth for a ratio: as the old books do it,
// one line of working after another, and by looking at every set of wheels
// and pinions that a shop can cut. It is for whoever has a moon, a calendar
// or a lost pair to make.
//
// # Ways of the books
//
// [Lost] is the rule for a missing wheel that Goodrich gives as Britten's;
// [Rule360] and [Variations] are Derham's of 1696, who has them from
// Oughtred; [Convergents] and [WithBetween] break off the continued fraction;
// [Walk] is A. Brocot's, from two whole numbers inwards; [Factors] says what
// wheels must hold. Each has its working as cite.Step lines. All of it is
// exact (math/big).
//
// # All that can be cut
//
// [Search] looks at every train of up to three pairs within [Limits]. It
// gives the nearest, and marks those that no train beats in both nearness and
// number of teeth. A ratio stands once, by the train with the fewest teeth.
// [Solve] looks within a thousandth of the ratio, and ten times as far where
// that gives too few.
//
// # Rates
//
// A ratio is the turns of the quicker arbor in one of the slower, one or
// more. A train whose ratio is too large makes the slower arbor lose; its
// rate is negative.
//
// # Sources
//
// Goodrich 1905, ch. XIV; Derham 1696, pp. 17–20 and 74; Brocot's example as
// Hayes tells it; Lagrange for the leap days. [Checks] has their figures
// beside ours.
//
// # Gaps
//
// No sun-and-planet or differential work, no two trains that share a wheel,
// no idle wheels. Whether a train fits between the plates is not looked at.
//
// # JSON
//
// The answer of seatboard ratio --json. An exact ratio is a text like
// "14027/475"; a miss is a ratio less the wanted one, with its sign. A quantity
// is {"value":2551442.9,"unit":"s"}, null where a turn was not stated.
//
//	query                what was asked, as typed
//	limits               pairs, wheel_from, wheel_to, leaf_from, leaf_to
//	ratio                one or more: turns of the quicker arbor in one of the slower
//	turned               the ratio was entered the other way up
//	turn, slow           s: a turn of the quicker arbor; what one of the slower should take
//	quotients[]          of the continued fraction
//	fractions[]          ratio, miss, between (an intermediate one), rate, off
//	walk[]               ratio, miss, rate, off
//	by_360[]             fourth, divisor, pair (wheel, pinion), miss, rate, off
//	trains[]             by nearness: pairs[] (wheel, pinion), ratio, miss, teeth, ways,
//	                     few (none is as near with fewer teeth), rate, off
//	  rate               of the slower arbor, s/s, gaining positive
//	  off                s that each of its turns takes too long
//	exact[]              pairs[], teeth: every way of making the ratio itself, 400 at the most
//	working[]            name, formula, numbers, result, source
//	findings[]           level, code, text, next, about[], source
//	complete             some train was found
package ratio
