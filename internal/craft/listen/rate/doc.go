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
// tell of it; for Expect it is made flatter, by two exponents that were set
// so that the limits hold alike at every ratio. Nothing is tuned to a clock.
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
// right and very wide. Where wander is there but too small to be seen, or not
// there at all, the limits of Expect are wider than needed: nobody can tell
// the two apart. The same goes for those of Mean where nearly all is wander.
//
// A rate that itself changes (warmth, a mainspring running down) is found by
// setting pieces of the record against each other, said in Findings, and the
// limits of Expect are stretched. Mean keeps its 95 in a hundred then. Expect
// does not: where the rate walks at random too slowly to be found, its limits
// have held in as few as 4 of 10.
//
// U of an interval is its half width over 1.96.
//
// Sources: the filter with columns for the unknown slopes, P. de Jong, 1991,
// and the smoother, both from memory, checked against least squares with the
// full matrix; the Allan deviation, NIST SP 1065.
package rate
