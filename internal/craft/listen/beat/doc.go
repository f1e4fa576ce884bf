// Package beat hears the beats of a clock in a recording: every tick and
// tock to a fraction of a sample, what was silent, where the clock stopped,
// where the recording is not one piece of time, and whether there is a clock
// at all.
//
//	e := beat.NewEar(source, beat.Options{})
//	err := e.Run(ctx)
//	h := e.Heard()
//
// # How it listens
//
// The ear looks for a period in the onsets of 8, 20 and then 60 s, and where
// none shows, in the level of the lower band in that minute, weighed over the
// time a sound rings: how far the autocorrelation at all its multiples stands
// above chance. It folds the onsets over the period, finds tick and tock, cuts
// both out, lays them on one another and averages them. From the averaged
// sounds and the noise between them it makes a filter for each side that
// whitens and matches in one: in white noise no method can place a beat better
// than such a filter does (the Cramér–Rao bound), and this one is within a few
// per cent of it down to 0 dB, because what is only noise in the averaged
// sounds is taken out of them first: the modes of an impact fill little of the
// plane of time and frequency. A sound below the noise is begun with the mean
// of its beats where a steady clock would have them. Nothing is believed before
// six of eight beats that took no part in the learning have come where they
// should.
//
// Then it follows the clock from beat to beat and looks only where the next
// one is expected, so that most of the sound is never touched. A beat must
// stand six standard deviations above the noise and be about as strong as the
// others. What a click covers is mended, and doubted the more; under a word it
// is listened for once more with a filter that whitens the word. The
// sounds are learned further as beats come in, laid on the first ones so that
// the place of a beat does not wander.
//
// Less than 15 s holds too few beats for that, and twice as much may: there one
// short sound serves for both sides, or one of each side, learned of every
// other turn and held to the turns between; the beats are aligned by how the
// level rises. With fewer than five beats it is not sure. They must be likelier of a clock than of sounds that come
// when they will, a million times: as often as such sounds come between the
// beats, and anywhere about the places where beats are expected.
//
// How loud the recording is, which way up, at what rate it was sampled, the
// level it rests at and silence at either end change none of this.
//
// # What it says
//
// [Hearing.Verdict] is one of four. A run is a stretch without a break; it
// ends where the clock stops, where all later beats are shifted by more than
// the clock can (samples were lost or put in, or it was moved by hand), or
// with the sound. Exact zeros and sound that comes twice mean that somebody
// edited the recording: no rate can be had of it.
//
// [Beat.U] is the doubt of the sound alone: the slope of the noise in the
// filter over how sharply the fit is bent, which is measured at beats that had
// no part in the filter. Of the swings of a faint fit the likeliest is taken,
// by its height and by where the clock's beats usually come. The scatter of
// the clock itself is much more and is found by package rate. The place of
// tick against tock is as good as the beginning of the main impact can be told,
// about 60 µs a side (Run.OffsetU); changes of it are known far better.
//
// # Two clocks
//
// Of two clocks the louder is followed as a rule. What is between its beats is
// looked at for 24 s at a time, at first every half minute and later seldom:
// another beat that has nothing to do with the first's is learned from one
// half of a look and must come where it is foretold in the other half, in two
// looks half a minute apart, which no strike can do. A clock of nearly the
// same beat is told by its drifting past, which takes three looks and 8 ms.
// [Hearing.Second] says what was found. Two clocks of nearly the same beat can
// be taken for one that beats twice as fast: such a run is taken back, and
// where nothing else is left the verdict is [TwoClocks].
//
// # Range
//
// Beats of 0.18 to 2.2 s, 8 to 192 kHz. Memory is that of 22 s of sound, or
// 60 s where a clock is hard to find, and 40 bytes for every beat.
//
// # Sources
//
// The bound: Kay, Fundamentals of Statistical Signal Processing, vol. I,
// 1993, example 3.13 (numbering from memory). The method was worked out for
// this program and is held to made recordings with known truth (package
// synth), and to real ones.
//
// # Gaps
//
// Extra beats are looked for between the others by the clock's own sound; one
// that falls within 45 ms of a beat is not found, nor most of those under
// speech and some under a strike. Under speech of twice the clock's level one
// beat in twenty is not heard. A second clock is looked for in a minute and
// more, beside beats of 0.15 s and more; one whose beat is the first's or a
// simple share of it, to 10 s a day, is not told from a sound of the first's
// own within minutes, and one in step with it never.
// Below −6 dB a lock is had in a minute only of a clock steady to 0.1 ms, and
// at −12 dB of none; at −9 dB a beat is placed a quarter worse than the bound,
// and the doubt stated is too small by a tenth. A
// loop in a recording is found where it comes round at least twice.
package beat
