// Package periodogram looks for a period in readings taken at uneven times,
// and says how often so strong a one comes of noise alone.
//
// At each frequency a mean and a sinusoid are fitted by weighted least
// squares (the floating-mean or generalised form). The power is the share of
// the weighted sum of squares about the mean that the sinusoid takes away:
// 0 is nothing, 1 is all (standard normalisation).
//
// # What it takes for granted
//
// The noise is independent from reading to reading and its variance goes as
// one over the weight; who has correlated noise whitens first. Times and
// frequencies may be in any unit as long as their product is cycles.
//
// # False alarms
//
// Chances gives the chance that noise alone makes a power as great anywhere
// up to a highest frequency: by counting independent frequencies (Naive,
// usually too small), and by Davies' bound and Baluev's approximation to it,
// which are upper limits in practice where there are few gaps.
//
// # Speed
//
// Over turns one vector for each reading from frequency to frequency, so that
// no sine is computed in its loop; it starts afresh every 256 frequencies and
// is then good to about 1e-12. Whole is for times that are whole numbers and
// goes by Fourier transforms: it is exact as well.
//
// # Sources
//
// Zechmeister and Kürster 2009 for the floating mean (from memory); Baluev
// 2008 and Davies 1987 for false alarms as given in the reference notes; all
// are held to the figures printed in the Astropy documentation.
//
// # Gaps
//
// One sinusoid at a time, no harmonics, no trend.
package periodogram
