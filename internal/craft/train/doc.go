// Package train reckons the wheel trains of a clock from their tooth counts:
// turns of every arbor, beats an hour, running time, motion work, strike, and
// what does not agree. It is for the person who has counted the teeth of the
// clock on the bench and wants to know what the clock is.
//
// # Counts as handbooks print them
//
// A train is a line of text from the barrel or great wheel to the last wheel:
//
//	96/8 60/8 56/7 30       wheel/pinion …, last the escape wheel
//	8)96 8)60 7)56 30       the old books: pinion)wheel; the same train
//	78/8 64/8 48/6          ends in a pinion, that of the fly
//
// A wheel stands with the pinion that it drives. Blanks, commas, semicolons
// and new lines divide; both manners may be mixed. A count says how it is
// known:
//
//	96    seen        96?   inferred        ?   missing        8L   lantern pinion
//
// [ParseChain] names every mistake at once, with the word typed and where it
// stands. A grid ([Arbor] by arbor) and lines of measured sizes ([Sizes]) say
// the same and more.
//
// # What fixes the speed
//
// Counts give ratios only. The speed comes, in this order, from
//
//   - the arbor stated to turn once an hour (or in [Query.ArborTurn]);
//   - the beats an hour stated;
//   - the motion work on a stated arbor that cannot be the hour arbor, as in
//     thirty-hour clocks whose great wheel carries the hour hand;
//   - a rule: the arbor that, turning once an hour, gives 1,500 to 12,500
//     beats an hour or the count of a balance. Where several would do, the
//     one within 3,600 to 11,280 is supposed (77 of Goodrich's 79 trains),
//     then a balance, then the one nearer to the barrel, and a finding names
//     the others. A stated pendulum decides, where an arbor agrees with it;
//   - the stated pendulum alone, about.
//
// Where none applies the answer has ratios and says what to state.
//
// # Assumptions
//
// An escape tooth makes two beats unless stated otherwise. Wheels have whole
// teeth; counts of 1 to 1200 are taken and unusual ones doubted. The pendulum
// is the simple one for small arcs, L = g s²/π², to the centre of swing;
// without a stated gravity the standard 9.80665 m/s² is used, which is up to
// 0.27 % from that of a place on earth. All ratios are exact; [Exact.About]
// marks those that rest on a measurement.
//
// # Sources
//
// Products of trains: Goodrich, The Modern Clock, 1905, ch. XIV, with its
// table of 79 trains; Derham, The Artificial Clock-maker, 1696, for running
// times and strikes; Beckett, 8th ed. 1903. [Checks] holds 79 + 79 figures of
// the table and some 80 of the others against the sums here, known misprints
// among them.
//
// # Gaps
//
// The strike is reckoned as blows and mean turns only: warning, locking and
// the order of the hours are not. Sun-and-planet work, differential trains
// and wheels with fractional motion are not. Modules come from diameters over
// the tips, for which printed practice varies so much that only gross misfits
// are named; lantern pinions are left out there. Of the counts that fit a
// gap one example is given; package missing finds them all.
//
// # JSON
//
// The answer of seatboard train --json. An exact number is
// {"exact":"15/2","value":7.5}, or {"value":7.51,"about":true} where it rests
// on a measurement; a quantity is {"value":0.9936,"unit":"m","u":…}; what could
// not be reckoned is null. Arbors are counted from 0, the barrel's.
//
//	query                     what was asked, as typed
//	anchor                    kind: hour-arbor, beats, motion-work, pendulum, none; arbor; supposed; others
//	trains[]                  one for each train entered
//	  name                    "going", "strike", "quarter", …
//	  arbors[]
//	    name
//	    pinion, wheel         {"teeth":8,"status":"seen","lantern":true}; null where there is none
//	    pinion_diameter, wheel_diameter, depth, note    as entered
//	    turns_per_hour        exact; of a strike the mean
//	    period_s              exact, seconds for one turn
//	    turns_per_first       exact, in one turn of the first arbor
//	  meshes[]                wheel of arbor "driver" with the pinion of the next
//	    driver, ratio, contacts_per_hour, contact_period_s
//	    repeat_wheel_turns, repeat_pinion_turns, repeat_period_s    until the same tooth meets the same leaf
//	    hunting               every tooth meets every leaf
//	    module_wheel_mm, module_pinion_mm, module_depth_mm          {"low":…,"high":…} from what was measured
//	  barrel_turns, running_hours, running_days     exact
//	  running_time            quantity in s, with the doubt of the turns
//	  great_wheel_turns_per_12h, beats_per_great_wheel_turn
//	  pin_arbor, blows_per_great_wheel_turn, blows_in_all, blows_per_12h, blows_per_count_wheel_turn
//	beats_per_hour, beats_per_minute, seconds_per_beat    exact
//	pendulum_length           quantity in m, to the centre of swing
//	gravity, standard_gravity m/s²; true where it was not stated
//	rate                      of the train on the stated pendulum or beats, s/s, positive when gaining
//	seconds_hand              arbor of one turn a minute, or null
//	motion_work               carrier, pairs[], product, hours_per_turn, dial_hours, right
//	wanted[]                  what missing counts must make: train, from, to, product, u, example, what
//	working[]                 name, formula, numbers, result, source
//	findings[]                level (danger, clash, doubt, note), code, text, next, about[], source
//	complete                  false where a count is missing or nothing fixes the speed
package train
