// Package missing finds every set of counts that lost wheels, pinions or
// escape wheels may have had, from what survives of the clock. It is for the
// person who has a gap in a train and wants to cut what was there.
//
// # What is asked
//
// The trains are those of package train with ? for a lost count. What
// survives fixes the speed of places along them: the arbor of one turn an
// hour, the beats or the pendulum, the seconds hand, the turns of the barrel
// with the time it runs, the blows of the strike, the hour hand, the arbor a
// slow dial begins from, and lines like "2 to 4 makes 60". Between two places
// whose speeds are known lies a gap: its wheels over its pinions must make a
// product. Two speeds that do not agree are named, both of them.
//
// # The search
//
// It is complete: every set of whole counts in range is found. Products are
// compared in whole numbers, also at the edges of an interval. An exact
// product is met exactly; a measured one within three of its standard doubts
// each way. Up to three wheels of a kind stand in an index sorted by product,
// all others are tried, those first that can cost least, so that the best are
// known before the rest is seen. Sets that differ only in which place has
// which count are one, shown in its likeliest order.
//
// Who looks on sees the best so far ([Progress]): those that nothing better
// can come before, then the others. Stopped, a search answers with them. What
// it holds does not grow with what it finds.
//
// Ranges where none are stated: wheels 20 to 160, pinions 5 to 24 (5 to 60 in
// motion work, count wheels and slow dials), escape wheels 12 to 45.
//
// A distance between centres, a diameter over the tips or a module leave out
// the counts that allow no common module, by the brackets of package train.
//
// # The order
//
// A point against a candidate halves its odds. The odds are frequencies of
// Goodrich's 79 trains, and for motion work, count wheels and slow dials of
// the printed motion works: −log₂((n + √N q)/(N + √N)), where n of N had it
// and q is an even share. Judged are
//
//	teeth               counts that were cut, and their largest prime factor: what the
//	                    circles of an old plate divide
//	leaves              like the pinion before, or how often by itself
//	escape wheel        its teeth
//	order               fewer teeth than the wheel before
//	hunting             as the mesh before it, or not
//	what was measured   z²/2 · log₂ e for z doubts from the middle
//
// The reasons are shown one by one. They are not the truth: they say what was
// usual where the table was made. The plates that the shop owns are no reason,
// only shown.
//
// Of every train of the table each member was hidden, the train left out of
// what is learned, and the pendulum known to half a per cent: the test
// TestGoodrichHidden reports how often the truth was first and within the
// first five, there and for the trains of other books.
//
// # Gaps
//
// Where the motion work and the trains on both sides of its arbor lack counts
// at once, the motion work is found only when the speed of its arbor is.
// Warning and fly are not reckoned. More than four wheels of a gap, or wide
// ranges of many pinions, are refused as too many.
//
// # Sources
//
// The rule that the product of the wheels is the beats times the pinions over
// twice the escape teeth: Goodrich, The Modern Clock, 1905, ch. XIV. Practice:
// his table, pp. 255–257. [Checks] holds lost counts worked out in print.
//
// # JSON
//
// The answer of seatboard missing --json. Exact numbers and quantities are
// written as by seatboard train --json; arbors are counted from 0.
//
//	query                     what was asked, as typed: train (as of seatboard train), going_runs, seconds_hand, makes and so on
//	hour_arbor, supposed      of the going train; true where it was not stated
//	gaps[]                    missing counts that one product is known of
//	  train, what             where, and which members in words
//	  members[]               train, arbor, part: "wheel", "pinion", "escape wheel"
//	  from, to                what fixes the speeds at both ends
//	  wanted, low, high, u    product of the missing wheels over the missing pinions; bounds and doubt where it was measured
//	  found, found_all        sets of counts that fit; false where there are at least so many
//	  candidates[]            the likeliest first; nearest[] where none fits
//	    counts                for the members, in their order
//	    chain                 the whole train with them, as inferred
//	    product, points       what they make; points against them
//	    reasons[]             name, text, points
//	    circles               of the plates owned, for each wheel; 0 where none divides it
//	    beats_per_hour, rate, pendulum_length, running_hours, period_error
//	unfixed[]                 members of which nothing says what they must make
//	working[], findings[]     as of seatboard train
//	complete                  false where a gap could not be filled, was not searched to its end, or a member is unfixed
package missing
