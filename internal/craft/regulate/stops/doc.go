// Package stops says what the stops of a clock have in common: the wheel that
// stood at the same tooth each time, the minute at which the strike is lifted,
// the weight low or swinging with the pendulum, cold, or what was done to the
// clock the day before. It is for the person who finds a clock standing, again,
// and wants to know what to take down.
//
// # What turns
//
// Where the hands stand tells where every arbor of the going train stood,
// turn for turn, for the hands are driven by it. Each arbor is a ring on which
// the stops are marked; stops that come by chance lie all round, those of one
// bad tooth in one place. On each ring the shortest arc that holds k of the n
// stops is found, for every k from more than half of few (a third of many) to
// all; package circular gives the chance of it. A crowd may be broad: the
// length of the mean vector (Rayleigh) is looked at beside it. The width is made wider by
// twice the doubt of a reading, so that hands read to whole minutes do not
// seem to agree better than they do.
//
// The meshes are rings too: one tooth meets one leaf again only after several
// turns. So is what goes with the hands whatever they are set to (motion work,
// lifting, snail, the hands themselves); where the hands were never set it
// cannot be told from the arbor that turns with it, and both are named.
//
// What goes round in less than six doubts of a reading cannot be told by the
// hands and is not judged. An arbor of one turn a minute is judged by the
// seconds hand where three stops have it.
//
// # Settings of the hands
//
// Setting the hands turns them against the train. An amount that is stated, or
// that follows from the place where they stood and the time they were set to,
// is taken off; its doubt adds up. Where it is not known, or its doubt is more
// than a sixth of a turn of the arbor, the stops before and after cannot be
// compared on that arbor: they are kept as stretches of their own and their
// chances taken together (Fisher's sum of logarithms). An arbor that does not
// come out even with the dial wants the number of times that the hands went
// round as well; it follows from the times of finding where only one number
// fits. Nothing said of settings is taken as none, and that is said.
//
// # The strike's own wheels
//
// The strike train turns at the blows alone. Where it counts by a wheel, how
// many blows are past since twelve (78 in twelve hours, 90 with one at each
// half) tells where each of its arbors stands, whatever the hands were set by,
// as long as it strikes what they show; an arbor that 78 blows do not bring
// round wants the number of turns of the dial as well. Only those stops are
// compared that came as it had warned or was striking, or, where nobody looked,
// in the time of the lifting: else the train stood locked. What comes round
// with every blow, or in less than four, is not looked at. Places are few, so
// that their chance is drawn by itself, in hours that come alike.
//
// # The rack
//
// A rack is let fall at the warning, by as many teeth as the hour has blows, and
// gathered up by a turn of the pallet for each. Where a clock counts by one, four
// things more are looked at: stops from the warning, five minutes before the
// blow, to a minute after it; of the stops at the strike, those of one hour, with
// the tail on one step of the snail and the hook at one tooth, against twelve
// hours alike; the sum of the blows of all of them, for what drags the farther
// it falls; and stops after twelve and before one, where a tail that was left on
// the snail meets its high step. A stop at which the strike was at rest is none
// of the last. At a half hour the rack does not fall.
//
// # What does not turn
//
//   - the strike: stops from ten minutes before the hour (and the half) to one
//     minute after;
//   - the weight low: the sum of the parts of the run that had gone by, by the
//     height of the weight or the time since winding, against any time alike;
//   - the weight at one height: the shortest stretch of the run that holds k of
//     the n, for a line that crosses itself on the barrel, a kink or a splice
//     in it, or what the weight touches there; its chance is drawn by itself,
//     with the weight anywhere in its run, and bounded by that of an arc;
//   - sympathetic swing: stops while the weight hangs in the zone that package
//     drive gives;
//   - cold: the ranks of the rooms among the air of the trial;
//   - touches: stops within a day after each kind, against the share of the
//     trial that such days take.
//
// # Chances
//
// Own is the chance of as much in that part looked at alone. Chance is that of
// as much anywhere among all that was looked at: the least of all the chances,
// drawn anew in sets of stops that come at any time alike, with a fixed seed;
// where the simulation is too coarse, the sum of all the chances bounds it. At
// 1 in 20 a suspect is Found, at 1 in 100 it is Sure. It is not the chance
// that the wheel is innocent: that hangs on how good the wheel looks.
//
// Measured by simulation, 1,000 clocks each, hands read to whole minutes, train
// 96/8 60/8 56/7 30 (TestFalseAlarms, TestPower and those of rack_test.go with
// SEATBOARD_STUDY=1):
//
//	stops at any time, found of 1,000:           3 stops 35, 4 50, 5 40, 6 46, 8 44
//	the same with all stated that can be:        3 stops 43, 4 38, 5 42, 6 51, 8 40
//	the same where it strikes by a rack:         3 stops 42, 4 55, 6 59, 8 54
//	one tooth of the third wheel, read with a scatter of 15 s, k of n stops by
//	it, found and named of 1,000:
//	  all of 3, 4, 5, 6                          0, 477, 426, 980
//	  4 of 5, 5 of 6, 6 of 7, 7 of 8             52, 571, 675, 803
//	  6 of 8, 8 of 10                            586, 822
//	the weight at one height, read with a scatter of 8 mm, found of 200:
//	  3 of 3, 4 of 4, 4 of 5, 5 of 6             196, 185, 175, 193
//	a rack, stops in the five minutes before an hour, found of 200 and named so,
//	k of n stops by it:                          4 of 4, 5 of 6, 6 of 8, 8 of 10
//	  any hour; one hour; after twelve           200, 200; 200, 200; 199 or more
//	  hours of eight blows to twelve             200 found, 56, 63, 105, 135 named so
//
// Three stops can never be enough for a wheel of eight minutes read to a
// minute; five are no better than four because a wider crowd counts as much as
// a smaller one.
//
// # Assumptions and gaps
//
// A clock that is right to some ten minutes, a dial of 12 hours or 24, stops
// that come at any time alike where nothing is amiss. A strike by rack and snail
// does not tell where its train stands, and its wheels are not judged; nor is a
// strike that was out of step with the hands seen to be. Whether hour wheel,
// snail or rack is at fault at one hour cannot be told by the hands. Twist and slip of the
// cannon pinion are not seen: a hand that slips by itself spoils the places.
// Whether the wheel or the pinion on one arbor is at fault cannot be told, for
// they turn together.
//
// # JSON
//
// The answer of seatboard stops --json.
//
//	query           what was asked: stops[] with id, hands {hour, minute,
//	                second}, u, found, going, wound, weight, strike, room,
//	                set {how, by}; train, drive, run, strikes, counts, touches,
//	                readings, air, since, dial (12 or 24 hours)
//	places[]        each stop in the order in which they came: stop (its id),
//	                dial (s from twelve), stopped, joined, by and u (s the
//	                hands were set by), ran (s), wound (s), after
//	suspects[]      the most telling first
//	  kind          wheel, mesh, dial, strike wheel, strike, warning, rack hour,
//	                rack fall, rack step, low, height, swing, cold, touch
//	  names[]       several where they cannot be told apart
//	  period        s for one turn, 0 for what does not turn
//	  teeth
//	  stops, hold   tested, and in the place
//	  width         of the place in turns, with the reading's doubt; for what
//	                does not turn its share of the time
//	  doubt         half the reading's doubt, in turns
//	  marks[]       stop, turn (0 to under 1), stretch, in
//	  spread        direction, length, chance (Rayleigh); null where there are several stretches
//	  before, after from which tooth to which the place reaches, counted from
//	                the one in mesh at the last stop
//	  own, chance   alone, and among all that was looked at
//	  needed        stops in all to be sure; absent where that cannot be told
//	  found, words, next
//	untold[]        name, period, why
//	verdict, next, wanted[], draws
//	working[], findings[], complete
package stops
