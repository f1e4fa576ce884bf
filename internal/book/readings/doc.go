// Package readings holds what was listened to: one record for each stretch
// of listening, kept in a clock's file, with the times of its beats; and the
// calibrations of recorders.
//
// A record says what was heard (verdict, answer, beats), and all that is
// needed to judge it later: which way the sound came, what the recorder said
// of itself, which error of its clock was reckoned with, which program
// reckoned. The answer is kept as it was given, so that a newer program may
// come to another one beside it. Nothing is worked out here.
//
// # Beats
//
// [Encode] keeps beats in about 4 to 5 bytes each: for every beat its time,
// its number, its run and its standard uncertainty, the two times to the
// nanosecond, nearest. A beat's strength is not kept. [Decode] gives back
// what was kept; encoding that again gives the same bytes. The shape:
//
//	1 byte    1, the format
//	varint    how many beats
//	for each  varint 2·zigzag(r) + f
//	          if f = 1: varint zigzag(ΔN − 1), varint zigzag(Δrun)
//	          varint zigzag(Δu)
//
// varint is seven bits a byte, the lowest first, the eighth set where more
// follow; zigzag(x) is 2x for x ≥ 0 and −2x − 1 below. r is the time in
// nanoseconds less the time before it and the interval two before that: tick
// and tock alternate, so that an interval is most like the last of its own
// side. What lies before the first beat is 0, its number −1. f = 1 where the
// beat is not the next of its run. Δu is the change of the uncertainty in
// nanoseconds.
//
// Range: times within ±48 days of the first sample (2²² s), [MaxBeats]
// beats. A beat whose time is no number or lies outside is left out; an
// uncertainty that is no number, negative or outside is kept as 0, not known.
package readings
