package shop

import (
	"math"
	"slices"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/kit/unit"
)

// What may be noticed of live sound beside what is heard in it. Each splits
// the run where it was noticed and stands with the record as a mark.
const (
	Muted       beat.MarkKind = "microphone muted"                  // by the system
	Hidden      beat.MarkKind = "page in the background"            //
	Unlit       beat.MarkKind = "screen not kept awake"             //
	Interrupted beat.MarkKind = "sound interrupted by the system"   // as a call does
	Asleep      beat.MarkKind = "sound put to sleep by the browser" //
	Plugged     beat.MarkKind = "sound device plugged in or out"    //
	Taken       beat.MarkKind = "microphone taken away"             //
	RateChanged beat.MarkKind = "the microphone's rate changed"     // samples a second; ends the run where the page says so
	Thrown      beat.MarkKind = "sound thrown away by the browser"  // by its own count
	Lost        beat.MarkKind = "sound lost"                        // by the count of the samples, or by when they came
	Shifted     beat.MarkKind = "the device's own time jumped"      // against the count
)

// noticed is how a run ended that is split where something was: a mark says
// what.
const noticed beat.Ending = "noticed"

const mostNotices = 1000 // of one run

// Notice is something that was noticed beside the sound.
type Notice struct {
	What   beat.MarkKind `json:"what"`
	At     unit.Duration `json:"at"`     // after the first sample
	Length unit.Duration `json:"length"` // 0 for a moment
	Open   bool          `json:"open"`   // it lasts still
}

// Noticed is what a sender notices, with the sample at which it did.
type Noticed struct {
	What    beat.MarkKind
	Lasts   bool  // until it is over; else it is a moment
	Over    bool  // it is over
	Capture int   // as of a Stamp
	First   int64 // number of the first sample after it
}

// Notice takes in what a sender noticed. The same again is passed over, so
// that a sender that was cut off may say all of it once more.
func (l *Live) Notice(n Noticed) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.closed {
		return
	}
	at := l.place(n.Capture, n.First)
	last := -1
	for i := range l.notices {
		if l.notices[i].What == n.What {
			last = i
		}
	}
	switch {
	case n.Over && last >= 0 && l.notices[last].Open:
		l.notices[last].Length, l.notices[last].Open = max(at-l.notices[last].At, 0), false
	case n.Over, last >= 0 && (l.notices[last].Open || at <= l.notices[last].At+l.notices[last].Length):
	default:
		l.note(Notice{What: n.What, At: at, Open: n.Lasts})
	}
	if n.What == RateChanged {
		l.finish()
	}
}

func (l *Live) note(n Notice) {
	if len(l.notices) < mostNotices {
		l.notices = append(l.notices, n)
	}
}

// place is where a sample of a capture lies in the run. What is of a capture
// of which nothing came lies at the end.
func (l *Live) place(capture int, first int64) unit.Duration {
	for _, s := range slices.Backward(l.stretch) {
		if s.capture == capture && (first >= s.first || s == l.stretch[0]) {
			return max(s.from+unit.Duration(float64(first-s.first)/s.feed.rate), 0)
		}
	}
	if s := l.current(); s != nil {
		return s.end()
	}
	return 0
}

// noticed is a copy for whoever asks; what lasts still has the length it has
// so far.
func (l *Live) noticed() []Notice {
	out := slices.Clone(l.notices)
	end := unit.Duration(0)
	if s := l.current(); s != nil {
		end = s.end()
	}
	for i := range out {
		if out[i].Open {
			out[i].Length = max(end-out[i].At, 0)
		}
	}
	return out
}

// shift is a jump of a sender's own stamps against its count.
type shift struct {
	at, size unit.Duration
}

// compare holds a block against the computer's clock and the sender's stamps.
func (l *Live) compare(at Stamp, n int) {
	if !at.Late {
		l.fitter.take(at, n)
	}
	if l.watcher == nil || l.current() == nil || at.Capture != l.current().capture {
		l.watcher = sampleclock.NewWatch(l.rate)
	}
	for _, s := range l.watcher.Add(sampleclock.Block{First: at.First, Frames: n, Stamp: at.Device, Discarded: at.Discarded}) {
		place := l.place(at.Capture, s.Frame)
		switch {
		case s.Why == sampleclock.Thrown:
			l.note(Notice{What: Thrown, At: place, Length: unit.Duration(math.Abs(float64(s.Size)))})
		case s.Why == sampleclock.Stamped && len(l.shifts) < mostNotices:
			l.shifts = append(l.shifts, shift{place, s.Size})
		}
	}
}

const (
	stepDoubt   = 1.0  // s: how exactly a step is placed by when blocks came
	changeDoubt = 20.0 // s: and a change of the rate
	rateApart   = 1e-3 // share by which a changed rate is another one
)

// seams lists where the run is to be split, with the marks that say why. The
// caller has mu.
func (l *Live) seams() []seam {
	out := l.noticeSeams()
	if len(l.stretch) > 0 && l.still.long(l.rate) { // it is silent still
		length := unit.Duration(float64(l.still.run) / l.rate)
		at := l.place(l.next.Capture, l.next.First) - length
		out = append(out, seam{at, at, beat.Silence, beat.Mark{At: at, Kind: beat.Zeros, Size: length}})
	}
	for _, s := range l.shifts {
		out = append(out, seam{s.at, s.at, noticed, beat.Mark{At: s.at, Kind: Shifted, Size: s.size}})
	}
	steps, changes := l.fitter.breaks()
	for _, s := range steps {
		if at := l.place(s.capture, s.Frame); !l.known(at) {
			out = append(out, seam{at - stepDoubt, at + stepDoubt, beat.Stepped, beat.Mark{At: at, Kind: beat.Step, Size: s.Size}})
		}
	}
	for i, c := range changes {
		at := l.place(c.capture, c.Frame)
		s := seam{at - changeDoubt, at + changeDoubt, noticed, beat.Mark{At: at, Kind: RateChanged}}
		if math.Abs(c.Rate/l.rate-1) > rateApart { // until it changes again nothing can be reckoned
			s.to = unit.Duration(math.Inf(1))
			if i+1 < len(changes) {
				s.to = l.place(changes[i+1].capture, changes[i+1].Frame) + changeDoubt
			}
		}
		out = append(out, s)
	}
	return out
}

func (l *Live) noticeSeams() (out []seam) {
	for _, n := range l.noticed() {
		if n.What == beat.Zeros && l.still.gate() {
			continue
		}
		how := noticed
		if n.What == Muted || n.What == beat.Zeros || n.What == Thrown {
			how = beat.Silence
		}
		out = append(out, seam{n.At, n.At, how, beat.Mark{At: n.At, Kind: n.What, Size: n.Length}})
		if n.Length > 0 && n.What != Thrown { // what was thrown away is not in the count
			end := n.At + n.Length
			out = append(out, seam{from: end, to: end, how: how})
		}
	}
	return out
}

// known tells whether the run is split at a place, to the doubt of a step,
// already: sound that was lost there is a step as well.
func (l *Live) known(at unit.Duration) bool {
	near := func(t unit.Duration) bool { return math.Abs(float64(t-at)) <= 2*stepDoubt }
	return slices.ContainsFunc(l.shifts, func(s shift) bool { return near(s.at) }) ||
		slices.ContainsFunc(l.notices, func(n Notice) bool { return n.What == Thrown && near(n.At) })
}
