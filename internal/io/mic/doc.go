// Package mic records from this computer's own microphone for hours, with
// what is needed to know how good the record is: the time every block came
// ([Capture.Arrivals], for package sampleclock) and every break that is known
// of ([Capture.Gaps]).
//
// It speaks to PulseAudio, or to PipeWire in its place, over their socket, in
// Go alone. Elsewhere, and where nothing answers, [List] and [Open] fail with
// [*Unavailable], which has the exact commands to pipe a general recorder in
// ([Advice]).
//
// The microphone's own rate is asked for, so that the sound server does not
// resample; one channel; 32-bit floating point; volume and mute are left as
// they are. The first second is thrown away: sound servers start unevenly.
// The recording stays with the device it began with. Bluetooth microphones
// are refused: they hand over speech at 8 or 16 kHz and change their rate at
// will.
//
// Over the same socket [Ring] sounds the alarm of a bath.
//
// What the sound server itself loses is not told by it. It shows as a step in
// the arrivals.
package mic

import (
	"errors"
	"fmt"
	"strings"
)

// Errors of a recording.
var (
	ErrBluetooth = errors.New("mic: this is a Bluetooth microphone, which carries speech only; use a wired one or the computer's own")
	ErrMuted     = errors.New("mic: the microphone is muted; unmute it in the system's sound settings")
	ErrGone      = errors.New("mic: the microphone or the sound server went away")
	ErrStalled   = errors.New("mic: no sound has come for ten seconds; look whether another program holds the microphone")
)

// Unavailable is returned where no sound server can be reached. Its text
// names what to do instead.
type Unavailable struct {
	OS    string // as Go names it
	Cause error
}

func (u *Unavailable) Error() string {
	var lines []string
	for _, c := range Advice(u.OS) {
		lines = append(lines, c.What+": "+c.Line)
	}
	return fmt.Sprintf("mic: the microphone cannot be reached from here (%v); pipe a recorder in: %s", u.Cause, strings.Join(lines, "; "))
}

func (u *Unavailable) Unwrap() error { return u.Cause }
