// Package tap turns several taps, each made as a hand of a clock came to a
// mark, into what the clock is wrong by, with a limit that holds. It is for
// the person who stands before a clock with a telephone and no other way to
// read it closer than by eye.
//
// # What taps can tell
//
// A tap is late or early by chance, and by a habit that is the same in every
// one. The chance part is taken from the taps themselves: their scatter, with
// Student's t, so that few taps have wide limits. The habit cannot be seen in
// the taps; it is taken off with a figure read in print for the way of tapping
// ([Way]) and its spread from person to person stays in the limits. It is
// much the same for one person from day to day, so the rate, which is a
// difference of readings, does not feel it.
//
// Taps that do not belong to the others are found by Rosner's procedure for
// several outliers (1983; for one it is Grubbs's) at 1 in 100, a quarter of
// them at the most and never of fewer than five; they are shown and have no
// weight. A second tap at the same mark is one of them. A mark that was missed
// is no matter.
//
// Where five taps or more span a minute, a steady rate is fitted beside the
// error, so that a clock far from right does not spoil the scatter.
//
// # Which mark, which beat
//
// Taps alone give the error to a whole number of marks. Where the dial was
// read at the first tap ([Query.Shown]) that number is known. Where not, the
// one nearest to what the clock was lately wrong by ([Query.Near]) is taken,
// or nearest to right, and it is said.
//
// A seconds hand that steps with the beat shows each beat's end. Where taps
// fall on every beat, or every odd number of them, the two halves are told
// apart by the taps and a beat error found; where they fall on every second
// beat, all are of one half and off by a quarter of the beat error: it is said.
//
// # A single blow
//
// The first blow of the hour ([Blow]) is one tap. Its scatter cannot be seen
// and is taken from print.
//
// # Range
//
// 1 to 1,000 taps within six hours, marks from half a second to an hour apart.
// Scatter is taken to be the same for all taps and near to normal. By 1,000
// simulated readings each, 95 of 100 limits hold (tap_test.go).
//
// # Sources
//
// Am. J. Phys. 87 (2019) 110 on the stopwatch, an experiment on even tapping,
// Rosner (1983) and Grubbs (1969); the lead in tapping along and the time of
// an answer to a sound are from memory of Repp (2005) and Kosinski.
//
// # JSON
//
//	query       the question: taps[] in s after start, start, way, every in s,
//	            shown, near and lag in s where stated, beat and host in s
//	at          the mean instant of the taps that count
//	error       s, with limits; fast is positive; null where it is not known
//	u           s, to be taken as one standard uncertainty of error
//	scatter     s, standard deviation of one tap, with limits
//	lag         s, how late a tap is by habit, with its doubt
//	budget[]    input, part: what the doubt of the error comes from
//	rate        s/s with limits, by these taps alone; null where not fitted
//	beat_error  s with limits, positive where the beat after the first mark is the longer; null where not told
//	taps[]      at in s after start, mark (counted from the first), residual in s, odd: why it has no weight
//	working[]   name, formula, numbers, result, source
//	findings[]  level, code, text, next, about[], source
//	complete    there is an error with limits
package tap
