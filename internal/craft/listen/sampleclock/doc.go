// Package sampleclock reckons the error of the clock that numbers a
// recorder's samples, for whoever wants a clock's rate to better than four
// seconds a day: a recorder of which nothing is known may be wrong by that.
//
// A crystal in the recorder counts the samples; they come to the host
// computer in blocks, some time after the last of them was made. [Fitter]
// takes the count and the host's time of each block and gives a [Clock]: the
// recorder's error with a 95 % limit. The delay of a block is never negative,
// so the least delay in ten seconds is nearly the same every time however
// much the others scatter; a straight line through those least delays, by
// least squares weighted for the host's wander, gives the error. The line below all points that touches two
// of them (their lower hull) is a second opinion: better where delays have a
// sharp edge, worse where they have none, so it is shown and not used.
//
// The limit has three parts: the scatter of the minima, taken from them; the
// wander of the host's own clock about true time, which must be stated as a
// [Host]; and the host's steady error, 50 ppm where nothing disciplines it.
// Where the residuals show clearly more wander than stated, the limit grows.
//
// Samples lost or put in shift all later delays: a [Step]. The record is
// split there and each piece has its own constant, so that a step never
// becomes rate. A change of the nominal rate (a headset that went over to
// speech) is a [Change]; the longest stretch without one is used.
//
// [Seams] does the same from what a page in the browser reports of its blocks.
//
// Signs. An error is positive when the recorder's clock is fast: it makes
// more samples in a true second than it says. A step is positive when
// samples were put in: later beats come late by the recorder's count.
//
// Range: a minute to a day; blocks of 1 to 200 ms; delays scattering by up to
// some 50 ms. A step smaller than [Fit].Unseen (a millisecond, or seven times
// the scatter of the minima) is not found and the limit does not allow for it.
// Not covered: the recorder's error at another temperature (see
// [Clock.Later]), and a host clock that is itself stepped more often than once
// in ten minutes.
package sampleclock
