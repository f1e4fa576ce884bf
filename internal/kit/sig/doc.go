// Package sig has the tools for sampled sound: a band-pass and a high-pass
// filter, correlation with a known shape, and values between samples.
//
// Sound is []float32; what a filter of it must sum is float64 where the sum
// is long and float32 where speed is the point ([Correlate]). Frequencies are
// in Hz, times in samples. Nothing allocates that is called for every beat,
// and nothing panics on short input: it does what fits.
//
// [Between] gives a band-limited signal at any fraction of a sample by a sinc
// of 16 taps under a Kaiser window; for signals below 0.2 of the sampling
// rate its error is below 5e-5 of full scale, up to 0.3 below 2e-4.
//
// Sources: Oppenheim & Schafer, Discrete-Time Signal Processing, 3rd ed.
// 2010, ch. 7 (windowed filters, Kaiser's window); the second-order section
// is the bilinear Butterworth (both from memory; the tests hold the filters
// to their own definition).
package sig
