// Package listen turns the beats heard of a clock into what can be done about
// it: the rate with limits that hold, how far it is out of beat, and the
// wheel at fault.
//
//	a, err := listen.Solve(listen.Query{Train: train, Hearing: ear.Heard()})
//
// Package beat hears, package rate says how the clock goes, package culprit
// looks for what repeats with a part of the train, package sampleclock knows
// how wrong a recorder's own clock is, and package synth makes recordings
// whose truth is known. Package phrase puts figures into words. This package
// puts all together and says, in the findings, what is so and what is to be
// done: every sentence that page and terminal show is one of them.
//
// # Assumptions
//
// What a beat should last comes from the beats an hour where they are stated,
// else from the train. A beat that is more than 5 % from it is taken for
// another clock's and gives no rate. A rate is that of the clock against true
// time: the error of the recorder's own clock is taken off and its limit is
// in the limits; a recorder of which nothing is known is taken to be within
// 50 ppm, 4.3 s a day. Beat error and evenness do not depend on it. Only a
// recording with a regular beat that is one piece of time has a rate.
//
// # Sources
//
// The state-space model, the bound and the tests for what repeats are named
// in the packages that use them. That being out of beat by 2 % of the beat is
// worth setting right is common practice.
//
// # JSON
//
// The answer of seatboard listen --json. An interval is {"value":…,"low":…,
// "high":…,"u":…,"unit":"s"}: the true value lies between low and high in 95
// of 100 such cases; what is not known is null.
//
//	query          what was asked: train, beats_per_hour, sample_clock (error, limit, how, when, device); notes, sentences on what is odd of the recording, where any
//	hearing        what was heard
//	  verdict      "regular beat", "not sure", "no regular beat", "cut or looped", "two clocks"
//	  why          a sentence, "" where all is well
//	  length, rate, peak, clipped    seconds, samples a second, shares of full scale
//	  second       another clock heard as well, or null: beat (0 where not told), level (ratio of amplitudes), looks, heard, mixed
//	  runs[]       stretches without a break: from, to, heard, silent, extra, beat, snr, offset_u, ended_by, tick, tock, one_shape, share_kept
//	  marks[]      at, kind ("silent beat", "extra beat", "step", "zeros", "repeat", or what a live page noticed), size
//	  complete     false when it was stopped before the end
//	train          the answer of seatboard train, or null
//	nominal_beat   what a beat should last
//	going          by the recorder's own clock, null where there are too few beats
//	  span, used, beat, per_hour, mean, expect, beat_error, beat_error_change, scatter, wander
//	  allan[]      tau, dev, low, high
//	mean, expect   true rate over this stretch, and to be expected of the next as long; s/s, positive when gaining
//	per_hour       beats in a true hour
//	culprit        what repeats, or null
//	  suspects[]   part (name, kind, arbor, period, beats), harmonic, amplitude, latest_at, chance, standing, smallest, listen_for, with
//	  teeth[]      number, late, chance
//	  odd_teeth, teeth_standing, teeth_listen_for, span, peaks[]
//	working[]      name, formula, numbers, result, source
//	findings[]     all that is said in words, the most urgent first: level, code, text, next, source
//	complete
package listen
