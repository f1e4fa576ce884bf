// Package series has the measures of how evenly a clock goes: the deviations
// of its rate over one averaging time and another.
//
// All of them start from readings x of the clock's error (phase), in
// seconds, evenly spaced by τ₀ seconds, and an averaging factor m ≥ 1, so
// that τ = m τ₀. A reading that is missing is NaN: the terms that need it are
// left out, nothing is filled in. The result is a [Deviation]: of the
// fractional frequency (s/s), except for [Time], which is in seconds. Where
// there is no term at all it is NaN.
//
//   - [Allan] and [AllanOverlapping]: second differences of x, side by side
//     or all of them. Rest on the mean rate alone; a constant rate is nought.
//   - [Modified] and [Time]: the same of means of m readings. They tell
//     scatter of each reading from flicker of phase, which Allan cannot.
//   - [Hadamard] and [HadamardOverlapping]: third differences; a steady drift
//     of the rate is nought too.
//
// The overlapping form has the smallest doubt and is the usual one. How far
// it may be off follows from its equivalent degrees of freedom, [Limits]:
// those by noise type are [Freedom], the closed forms of the handbook; those
// of a mixture of white phase and white frequency noise, which is what a
// pendulum's beats mostly are, are [FreedomMixed], exact for Gaussian noise.
//
// Source: W. J. Riley, Handbook of Frequency Stability Analysis, NIST Special
// Publication 1065, 2008: the definitions, Table 5 for the degrees of freedom
// (after Howe, Allan and Barnes, 1981), chi-squared limits as there in 5.3;
// both test suites of section 12.3 come out to the last printed digit. The
// total and Thêo measures are not here, nor any correction for a gap.
package series
