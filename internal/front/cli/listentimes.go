package cli

import (
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"slices"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/io/audio"
	"seatboard/internal/kit/unit"
	"seatboard/internal/shop"
)

// readTimes reads beat times from a file or standard input.
func (l *listening) readTimes(name string) (beat.Hearing, error) {
	var in io.Reader = l.env.In
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			return beat.Hearing{}, soundProblem(name, err)
		}
		defer f.Close()
		in = f
	}
	beats, err := audio.ReadBeatTimes(in)
	if err != nil {
		return beat.Hearing{}, soundProblem(name, err)
	}
	return timesHeard(beats), nil
}

// How a list of times is judged, as the ear judges a recording.
const (
	fewestTimes = 8
	offTheBeat  = 0.2 // of a beat: an interval so far from whole beats is irregular
	leastEven   = 0.8 // of the intervals must not be
	stopBeats   = 8   // a gap of more beats, and more than
	stopTime    = 4.0 // so many seconds, is a stop
)

// timesHeard makes beat times from another sensor into what an ear would have
// heard: their numbers are their own, a long gap is a stop, and times that
// keep no beat are no clock's.
func timesHeard(beats []beat.Beat) beat.Hearing {
	first, last := beats[0], beats[len(beats)-1]
	h := beat.Hearing{Verdict: beat.Regular, Length: last.At - first.At, Complete: true}
	period := middleInterval(beats)
	even := 0
	for i, b := range beats {
		steps, gap := int64(0), unit.Duration(0)
		if i > 0 {
			gap = b.At - beats[i-1].At
			if r := float64(gap / period); math.Abs(r-math.Round(r)) < offTheBeat && r > 0.5 {
				even++
			}
			steps = b.N - beats[i-1].N
		}
		if i == 0 || steps > stopBeats && gap > stopTime {
			if i > 0 {
				h.Runs[len(h.Runs)-1].EndedBy = beat.Stopped
			}
			h.Runs = append(h.Runs, beat.Run{From: b.At, EndedBy: beat.EndOfSound})
			steps = 0
		}
		r := &h.Runs[len(h.Runs)-1]
		n := int64(0)
		if r.Heard > 0 {
			n = h.Beats[len(h.Beats)-1].N + steps
			r.Silent += int(steps) - 1
			r.Beat = (b.At - r.From) / unit.Duration(n)
		}
		r.To, r.Heard = b.At, r.Heard+1
		r.ShareKept = float64(r.Heard) / float64(n+1)
		h.Beats = append(h.Beats, beat.Beat{At: b.At, U: b.U, N: n, Run: len(h.Runs) - 1})
	}
	switch {
	case len(beats) < fewestTimes:
		h.Verdict, h.Why = beat.NotSure, fmt.Sprintf("There are only %d times: give those of a minute or more.", len(beats))
	case float64(even) < leastEven*float64(len(beats)-1):
		h.Verdict, h.Why = beat.NoBeat, "The times keep no beat: look whether the sensor sees every beat once, and nothing else."
	}
	return h
}

// middleInterval is the median time from beat to beat.
func middleInterval(beats []beat.Beat) unit.Duration {
	gaps := make([]unit.Duration, len(beats)-1)
	for i := range gaps {
		gaps[i] = beats[i+1].At - beats[i].At
	}
	slices.Sort(gaps)
	return gaps[len(gaps)/2]
}

// timesProblem is what is wrong in a list of times, line by line.
func timesProblem(err error) (*shop.Problem, bool) {
	var times *audio.TimesError
	if !errors.As(err, &times) {
		return nil, false
	}
	return &shop.Problem{Code: shop.BadInput, Message: times.Error()}, true
}
