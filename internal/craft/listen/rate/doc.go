// Package rate says how a clock goes from the times of its beats, with
// limits that hold.
//
// For: a restorer who has listened to a clock for half a minute or a day and
// wants to know what it does, what to expect of it, and how far to trust
// either. Everything is by the recorder's own clock.
//
// # The model
//
// Beat N of a run falls at
//
//	phase + N·period ± half the side offset + walk(N) + scatter
//
// Scatter is by itself at each beat (white phase noise: the sound, the drop,
// the place of the impact). Wander makes each interval a little longer or
// shorter and adds up (a random walk of phase, white frequency noise: the
// impulse). Their sizes are not known beforehand, nor is their ratio; a
// straight line through the beats takes the wander for nought and claims
// limits up to a hundred times too narrow.
//
// For each ratio of wander to scatter a filter gives period, offsets, the
// walk from end to end and the likelihood exactly, on any numbers with any
// gaps, in time proportional to the beats. The scatter is integrated out, so
// that each ratio gives Student's t; these are averaged over the ratios with
// their chances, and the limits are quantiles of the average. What is held of
// the ratio beforehand is Jeffreys' measure of how much so many beats can
// tell of it, bent for each of the two rates, and some chance that there is
// no wander at all. For Expect there is a third noise: the rate itself may
// walk (random walk of frequency). Its size is averaged over likewise, from
// what nobody could find to what drowns all else, beside a steady rate. The
// few numbers in this were set by simulation (TestBeliefStudy shows what
// others would do). Nothing is tuned to a clock.
//
// # Two rates
//
// Mean is the rate the clock did have from the first beat to the last, its
// own wander included: wander is no error of it. Expect is the rate of the
// next stretch as long: the wander of this stretch has hidden part of the
// period, and that of the next comes on top. Expect is the wider, by a
// little or by a hundred times. Rates are positive when gaining.
//
// Several runs (the clock stopped, the recorder lost samples) share period
// and noise; how many beats went by between them is taken as not known. A run
// may begin with the other side: the sign of its offset is that which agrees
// with the run that knows it best.
//
// # What to watch for
//
// Limits hold where the model does. Odd beats (a noise taken for a beat) are
// found by setting each beat against all others and have no weight; fewer
// than one record in a hundred loses a good beat so. Periodic faults of the
// wheels count as scatter and wander here. With five beats the answer is
// right and very wide.
//
// A rate that changes is found by setting pieces of the record against each
// other and said in Findings. Mean keeps its 95 in a hundred then. A rate that
// walks at random is in Expect's limits; one that goes one way is not, so
// where it is found they are made to reach as far as it would come.
//
// Between two runs the rate may have walked as far as the time between allows;
// what the first tells of it is not used for the second, so Expect is a little
// wider than it need be.
//
// # How often the limits hold
//
// Of 100 records, by simulation (TestCoverageStudy, TestSlowStudy): scatter
// 1 µs to 1 ms, wander 0 to 50 µs; 1,000 records a cell at 30 s, at 60 s of
// 0.5 s and at 10 min, 200 otherwise, 60 at an hour.
//
//	steady rate            Mean                  Expect
//	                       worst most median in  worst most median in
//	30 s, beats of 1 s     93.9  100  97.0   75  95.7  100  100.0  25
//	60 s, of 0.5 s         95.0  100  98.1   31  94.9  100   98.2  31
//	60 s, of 0.25 s        93.5  100  97.5   50  94.0  100   98.5  31
//	10 min, of 1 s         93.2  100  96.8   56  94.1  100   97.3  38
//	1 h, of 1 s            93.3  100  98.3   44  90.0  100   96.7  56
//	rate walking by 0.01 to 3 µs a beat, scatter 100 µs, wander 0 or 20 µs
//	1 and 10 min, of 1 s   93.0   98  96.5   83  71.0  100   93.0  38
//
// "in" is how many of 100 cells are from 93 to 97; a cell of 1,000 records
// is out by 0.7 by chance, one of 200 by 1.5, one of 60 by 3. Not measured: 8 hours and more, beats
// of 0.5 and 0.25 s from 10 min on.
//
// No limits can hold in 95 everywhere. What is outside:
//
//   - Mean, nearly all wander: too often. Mean's error goes to nought with the
//     scatter, but below a certain size the beats look alike whatever the
//     scatter is, so any limits with a width come to hold always; to hold in
//     95 they would have to be of no width in 5 records of 100. Tried: a chance
//     of no scatter that brings 100 down to 71 at a ratio of 2,500 (1,201
//     beats) leaves 41 at a ratio of 100 and 59 at 30.
//   - Expect, no wander or too little to be told: too often, up to 100, and
//     two to three times too wide. Tried: a chance of no wander that brings 100
//     down to 98.7 (201 beats) leaves 67 where the ratio of the variances
//     times the square of the beats is 100, which looks much the same.
//   - Expect, a rate that walks too slowly to be told from a steady one, or
//     whose walk looks like wander: too seldom, 71 in the worst cell. Tried:
//     weights of the walk that bring this to 88 and above make the limits of
//     a steady clock about twice as wide as they need be. As it is they are
//     wider by a fifth to a half where wander is plain.
//
// U of an interval is its half width over 1.96.
//
// Sources: the filter with columns for the unknown slopes, P. de Jong, 1991,
// and the smoother, both from memory, checked against least squares with the
// full matrix; the Allan deviation, NIST SP 1065.
package rate
