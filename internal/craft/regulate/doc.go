// Package regulate says from weeks of readings how a clock goes, what makes it
// go so, and what to do at the nut, with limits that hold.
//
// For: a restorer who has a clock on trial, looks at it now and then, and wants
// to know whether to touch it.
//
// # What is asked
//
// A [Query] is readings (what the clock was wrong by at an instant, or the rate
// it had over a stretch of listening), touches (all that was done to it), the
// air, what is known beforehand from the pendulum's sums, and what counts as
// right. Times may be as uneven as they like. Every reading has its own doubt;
// one that states none is given that of its kind, and how far all stated
// doubts are too small or too large is itself found from the readings.
//
// # The model
//
// In days and seconds,
//
//	error(t + dt) = error + rate·dt + wander
//	rate(t + dt)  = rate + walk
//
// with the noises of package kit/trend. On top of both comes what pushes the
// clock by a share that is not known for certain, each one column of the
// filter: where error and rate began; a steady drift of the rate; one turn of
// the nut; its lost motion, where it is turned the other way than before (half of
// it where that is not known); a gram on the tray; the error of the recorder
// that listened; and temperature, pressure, humidity and arc, straight between
// their readings, where there are at least four. How the air is between them is
// not known: the rate of now has the doubt of it by how far readings that lie
// as far apart have differed, and a clock that is only looked at by day may go
// otherwise by night. What is held of these
// beforehand is in Query.Known, and where that is silent the spread of clocks
// in general (common practice, no source).
//
// A turn of the nut is never quite what it was meant to be: it slips by 5 % of
// itself, by half or twice as much in some clocks, and a fiftieth of a turn. The
// pendulum is often held meanwhile and nobody writes it down: where that is
// likelier than not, the error may jump by half a minute at the touch, and
// that is said, not asked. Being moved, levelled, oiled or worked on
// shakes the rate by an amount that the readings after it must tell. Where the
// hands were set or the clock stood, the error begins anew; a stated error
// counts as a reading.
//
// The three sizes of noise (what the stated doubts must be multiplied by, the
// wander in a day, the walk of the rate in a day) are not known either. Their
// likeliest values are found, and every number of the answer is averaged over
// what they may be, by their chances. All 95 % limits are of that average.
//
// # What is noticed
//
// Before anything is reckoned: readings in the future, written down in another
// order than they were taken (as few of them as can be), twice, or two within a minute that do not agree.
// Then, with sizes of noise that a few odd readings cannot spoil, and again
// with those found: each reading against what all others say of it, and at
// each reading whether error or rate jumped there though nothing is written
// down of it. What would come about by chance less than once in a thousand
// trials becomes a [Question]. An odd reading has no weight until someone says
// that it is right; its size tells morning from evening, an hour written in the wrong half of
// the day, summer time, and a
// mistaken minute. A jump lets the error or the rate begin anew there, so that
// nothing is drawn across it, and no advice is given until it is explained.
// What comes last in a trial cannot be told from a jump: it is asked about as a
// stray reading. A jump that was found by sizes of noise which were only rough
// is looked at once more: where a restless clock would go so by itself,
// nearly as likely, it is none.
//
// # What is told
//
// A cause has a number only where the readings tell it: its doubt is less than
// half of what it was beforehand, and it went together with no other by more
// than 0.8, either in the readings themselves or in what they say once the
// noise is allowed for. Two that went together have none, and that is said.
//
// # What is advised
//
// The mean rate of the days to come is held against what is wanted. A clock
// that is right with a chance of nine in ten is left alone. One that is surely
// to one side (95 %) is turned, if that betters the chance of being right by a
// tenth, or brings what it is off by to six tenths; and as soon as waiting would
// not make the turn surer: the doubt of the rate is within the band, or less than
// that of what the turn does, or another reading within a week would not lessen
// it. Where a turn would better nothing, what is left is the clock's own
// unsteadiness, and it is left alone; so it is where readings like those so far
// will not tell more, as with a recorder whose own clock is in doubt. Otherwise it is waited, until the moment
// at which one more reading could tell. A clock that stopped and was not set going
// or read since is to be set going first; one that nobody read or touched for
// four weeks is to be read first, and all that is told is as of then. The turn is made in divisions of the nut, or sixteenths; lost
// motion is in it where the nut goes back. Nothing is advised within its own
// doubt.
//
// # What to watch for
//
// The rod takes hours to follow the air, and the air is taken as it was read: a
// thermometer in another corner makes wander. A seasonal change that was not
// written down goes to whatever went with it. With two readings the rate
// before them counts for much of the answer. A rate that walks otherwise than
// at random (oil that thickens, a spring that settles) is followed, but its
// forecast is too narrow.
//
// One question that was noticed and not answered keeps all advice back; who
// does not know what happened answers that something was done.
//
// A clock that is to go home may be set here so that it is right there: what
// it gains by going (Wanted.Move, from package home) is taken off what is
// wanted, and its doubt is added to every chance of being right; the answer
// says so. A move that is not surely other than what the clock does is left to
// be put right there, for no reading here tells it.
//
// How often the limits hold, what the advice takes in touches and days, and
// what is noticed of mistakes, is tried on made clocks: package simulate, with
// SEATBOARD_STUDY=1000.
//
// Sources: the filter, see kit/trend. Durbin and Koopman 2012 for the worked
// example and for the diagnostics of what is left.
//
// # JSON
//
// The answer of seatboard regulate --json. An interval is
// {"value":…,"low":…,"high":…,"u":…,"unit":"s"}: the true value lies from low
// to high in 95 of 100 such cases, u is one standard uncertainty; null where
// nothing is known. Rates are seconds a second, gaining positive; errors
// seconds, fast positive; instants RFC 3339.
//
//	query          what was asked: readings[], touches[], air[], known, wanted, now
//	now            at, error, rate: the clock at query.now; as it was last heard of
//	               where that is more than four weeks before
//	rate           now (in the air of now), week (mean of the days to come),
//	               drift (change of the rate in a day), since (the last touch that
//	               changed it), steady (at the mean of the air)
//	causes[]       name, unit (of one of what), value, before (what was held), told,
//	               with[] (what it cannot be told apart from), apart (correlation)
//	noise          reading (what stated doubts are multiplied by), wander (s in a
//	               day), drift (rate in a day), log_likelihood
//	past[]         at every reading, by all readings: at, error, rate, reading (its
//	               id), seen, residual, asked (it has no weight yet)
//	ahead[]        the same for what is to come, if nothing is touched
//	steps[]        touch (its id; 0 where nobody wrote one down), at, rate (by which it
//	               changed), error (by which the hands jumped), expected (by what was
//	               held before), back
//	questions[]    about, readings[], from, until, error, rate, later (s, when it was taken),
//	               chance, used, text, ask
//	advice         do ("leave", "wait", "turn", "settle"), words, turns (up
//	               positive), divisions, mass (kg, on the tray instead), after (rate to
//	               expect here), right, as_is (chances), next, learn[]: after (s), u,
//	               half; home, where it is set for that: move (what it gains by going
//	               there), aim (to have here), as_is and after (rates there), words
//	working[]      name, formula, numbers, result, source
//	findings[]     level, code, text, next, about[], source
//	complete       there is a rate
package regulate
