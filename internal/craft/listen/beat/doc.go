// Package beat hears the beats of a clock in a recording: every tick and
// tock to a fraction of a sample, what was silent, what was extra, where the
// clock stopped, and whether there is a clock at all.
package beat
