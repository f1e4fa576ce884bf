// Package audio opens recordings so that a clock can be heard in them: one
// channel of samples in the order they were recorded, read as a stream, with
// the memory of a few blocks however long the recording.
//
// # What it reads
//
//   - WAV: whole numbers of 8, 16, 24 and 32 bits, floating point of 32 and 64
//     bits, extensible, RF64 and BW64 of any size; read in this process by our
//     own code, also from a pipe.
//   - FLAC, Ogg Vorbis, Opus in Ogg, MP3: decoded by libraries in a child
//     process ([Serve]) that has little memory, no files and a limited time.
//   - Bare samples whose format the caller states ([RawFormat]).
//   - Times of beats, one a line ([ReadBeatTimes]).
//
// The kind is told by the content, never by a file's name. Rates of 8 kHz to
// 192 kHz, up to 64 channels; one is chosen, or the mean of all is taken.
//
// # What it promises
//
// A header is only believed where the content bears it out: a recording that
// is cut short, or whose length was never written, is read to its end and
// Notes of [Sound] says so. Where a compressed recording is damaged it ends
// at the damage, with a note: what lies beyond may have lost time, and a
// clock would seem to have stepped. What cannot be read at all is a
// [*FormatError], whose text is for the user. A cancelled context ends
// reading and the child.
//
// Samples of 16 bits stay whole numbers ([beat.Source16]); the mean of
// several is rounded to the nearest. All others become float32, full scale 1.
//
// # Gaps
//
// No AAC, ALAC, AIFF, WebM, A-law, µ-law or other compressed WAV; no FLAC of
// more than 24 bits; no Opus of more than two channels; no MP3 of 8,000
// samples a second or of free frame size. In joint stereo the library for MP3
// drops some of the highest tones where short blocks are used, as at clicks.
// MP3, Vorbis and Opus do not keep the samples that were recorded: the time
// of a click is kept to some samples only. MP3 begins late by what its
// encoder put before, where that is not stated; its end is not cut back.
//
// The child's memory is limited by the system on Linux alone; elsewhere by
// Go's own limit, the checks made before decoding, and time. A child that
// lacks memory may end in other ways than saying so: it is refused all the
// same.
package audio
