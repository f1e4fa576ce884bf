// Package culprit names the part of a train whose fault repeats in the beats:
// the arbor that is out of centre or bent, the mesh that is felt at every
// tooth, the one tooth of the escape wheel that lets go late. It is for the
// person who has a record of the beats and the counts of the train, and wants
// to know which wheel to take to the lathe.
//
// # What is asked of a record
//
// Parts lists what can repeat: every arbor once a turn, every mesh once a
// tooth, each with its beats a turn from the counts alone, so that the rate
// of the clock does not enter. Solve fits, in each unbroken run by weighted
// least squares, at once
//
//   - the line of the rate, its drift and the drift's change;
//   - the mean lateness of each of the 2Z places in a turn of the escape wheel
//     (its teeth at either pallet), where every one was heard four times, else
//     the two sides of the beat;
//   - waves of one to two cycles in the record, too few to be judged;
//   - the harmonics that were found: of arbors 1 to 4, of meshes 1 and 2, of
//     those with two cycles and more in a run.
//
// Harmonics are taken in one by one, the strongest first, and judged again
// beside the others at the end.
//
// # The noise
//
// Each beat has its own scatter, and each interval one that adds up (a random
// walk of the phase: the wander). Both are whitened away by the Kalman filter
// of that walk, in time proportional to the beats. The Scatter and Wander of
// the query are where the search begins: a fault of the train looks like
// either, so both are judged anew beside everything that is looked for, by
// restricted likelihood, and every chance and limit is a mean over what they
// may be. The sound's own doubt of a beat (U) adds to its scatter. Beats more
// than 5 standard deviations out are left out, unless they are more than one
// in ten.
//
// # What is reported
//
// Chances are family-wise: of a hundred clocks without fault, one has
// anything found: harmonics (six tenths of that, and of these most to
// fundamentals), teeth and free periods together. Limits hold the amplitude
// in 95 of 100 records; of what was not found the lower limit is nought.
// Smallest is what nine of ten such records would find. A part is Clear when
// the upper limits of all its harmonics are below Matters. ListenFor is the
// length of one record that finds or clears Matters, or of one that tells two
// parts of like period; it is nought where that is over seven days, or where
// two parts repeat alike. TeethFor is the same for one tooth of the escape
// wheel.
//
// # Wheel or tooth
//
// What repeats with the escape wheel is laid to a wave (the wheel out of
// centre, once a turn, or oval, twice; each pallet with its own phase, for
// they see the wheel from two sides; a mesh that comes a whole number of times
// in its turn) or to single teeth, whichever says more with what is already
// taken, one at a time. So a wheel out of centre is not thirty odd teeth and
// one odd tooth is not a wheel out of centre. Where all teeth differ from one
// another more than noise lets them, a wave must stand out of that too. A
// tooth is judged at both pallets, an odd number of beats (the span) apart;
// where the span is not known all are tried and counted, and where none
// stands out each tooth is judged at one pallet. Lateness is against the ring
// of the teeth that are not odd, less the wheel's waves that were found.
//
// # Periods of no part
//
// What is left, whitened, is searched for periods by package periodogram, its
// chance by Baluev. One that says more than any part does (by 12 of evidence)
// is taken as a Peak although a part may be near: so a wrong train shows.
//
// # Several runs
//
// A stop loses the phase: each run has amplitudes and phases of its own and
// the evidence is added up. Teeth and free periods are looked for in the
// longest.
//
// # Range
//
// 60 beats in a run at least; an escape wheel of 200 teeth at most. 3,600
// beats take some 50 ms, 36,000 some 0.5 s.
//
// # Sources
//
// Model and goals are the program's own; false alarms of a periodogram after
// Baluev 2008. Checks holds the printed figures.
//
// # Gaps
//
// Teeth are not followed over a stop. A wave of an arbor is the same at both
// pallets, the escape wheel's excepted. An amplitude that changes along the
// record (a loose wheel) is not modelled. Of a wander that is not a random
// walk only the slow drift is allowed for. An odd tooth is left to the other
// pallets' beats where fewer than four turns were heard.
package culprit
