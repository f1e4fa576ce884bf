// Package synth makes recordings of clocks whose truth is known: every beat
// to a millionth of a sample. It is what the ear and the estimators are held
// to, and what the demonstration plays.
//
// A [Recipe] says what the clock does, how it sounds, what else is heard, and
// what the recorder does wrong. [New] makes a [Recording] of it, which is read
// as a stream in constant memory for tens of hours; [Recording.Truth] tells
// what is in it. [Beats] gives the times alone. The same recipe gives the
// same samples, however they are read.
//
// Beat k comes at
//
//	start + k·beat/(1+rate) + [k odd]·(beat error)/2 + tooth[k mod 2·teeth]
//	+ Σ arbors A·sin(2πk/P+φ) + Σ steps of the interval + scatter of this beat
//
// by true time; the recorder's clock shows that times 1+(clock error). The
// sound of a beat is a weak unlocking 3 to 9 ms before, the main impact, and
// one to three bounces within 2 to 8 ms of each other. Each impact rings six
// damped modes of one case, its onset smoothed by a Gaussian of 20 µs so that
// nothing of weight lies above half the sampling rate. The sound is kept at
// 32 times the sampling rate and read by a cubic through four points, so a
// beat can stand anywhere between samples.
//
// Levels. Tick and tock have the same power: the mean square of the dry sound
// over the 10 ms after the main impact. White noise is set against it (the
// signal-to-noise ratio), and so are pink noise, hum and speech; clicks and
// bells are set against the peak.
//
// Range: 8 to 192 kHz, beats of 0.05 to 5 s, up to 200 hours. Below 48 kHz the
// modes above 0.42 of the sampling rate are left out and the onset is
// smoothed more.
//
// Gaps: the sound of a side never changes but for its strength and the jitter
// of its impacts; the speech is speech-like only; the room is a decaying
// random echo, not a measured one. The recorder's clock error moves beats, it
// does not stretch their sound (50 millionths of 10 ms is half a
// microsecond).
//
// Source of the bound in [Recording.CRLB]: S. M. Kay, Fundamentals of
// Statistical Signal Processing I, 1993, example 3.13 (the number from memory;
// the tests hold the bound to an estimator that reaches it).
package synth
