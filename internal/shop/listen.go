package shop

import (
	"encoding/json"
	"runtime/debug"
	"time"

	"seatboard/internal/book/readings"
	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// ListenQuery is what is to be listened to, and what is known of the clock
// and the recorder.
type ListenQuery struct {
	Clock        int64                    // in whose file it may be kept; 0 where not known
	Survey       Survey                   // of that clock, as the forms read it; what the train wants is lent
	Train        string                   // typed instead: "96/8 60/8 56/7 30"
	BeatsPerHour meas.Reading[unit.Ratio] // typed; wins over the train
	SampleClock  sampleclock.Clock        // typed; or else that of the device, or else not known

	Source   string // file name or the recorder's label
	Device   string // by which its calibration is found
	Path     readings.Path
	Settings string // JSON as the recorder reported it
	Started  time.Time
	How      readings.Known
	By       string

	Channel int           // of the sound, 1 is the first; 0 takes the mean of all
	Times   *beat.Hearing // beats from another sensor, instead of sound
}

// asked is a query that was looked through.
type asked struct {
	ListenQuery
	listen listen.Query
	hint   unit.Duration // that a beat should last; 0 where not known
}

// ask looks a query through. Its error may be shown.
func (s *Shop) ask(q ListenQuery) (asked, error) {
	a := asked{ListenQuery: q}
	var err error
	if a.listen.Train, err = q.train(); err != nil {
		return a, fieldProblem("train", err)
	}
	a.listen.BeatsPerHour = q.BeatsPerHour
	a.listen.Clock = q.SampleClock
	if a.listen.Clock.How == "" {
		a.listen.Clock = s.sampleClock(q.Device)
	}
	a.hint, err = nominal(a.listen)
	if err != nil {
		return a, fieldProblem("train", err)
	}
	f := a.listen.Check()
	if f = append(f, a.record(beat.Hearing{}, nil).Check()...); len(f) > 0 {
		return a, AsProblem(f)
	}
	return a, nil
}

// train is the clock's train: typed, or of its survey with what the other
// parts lend it.
func (q ListenQuery) train() (train.Query, error) {
	if q.Train != "" {
		return train.Parse(q.Train)
	}
	if q.Survey.Train == nil {
		return train.Query{}, nil
	}
	t := *q.Survey.Train
	if p := q.Survey.Pendulum; p != nil && len(p.Check()) == 0 {
		var said []string
		lend(&t.Pendulum, p.Length, &said, "the length of the pendulum", "the pendulum")
		lend(&t.Gravity, gravityOf(*p), &said, "gravity", "the pendulum")
	}
	return t, nil
}

// nominal is what a beat should last, 0 where that is not known. The error
// is that of the train's counts.
func nominal(q listen.Query) (unit.Duration, error) {
	perHour := 0.0
	if len(q.Train.Trains) > 0 {
		a, err := train.Solve(q.Train)
		if err != nil {
			return 0, err
		}
		if a.BeatsPerHour.Known() {
			perHour = a.BeatsPerHour.Float()
		}
	}
	if q.BeatsPerHour.Set {
		perHour = float64(q.BeatsPerHour.Value)
	}
	if !(perHour >= 360 && perHour <= 90_000) { // a beat of 10 s to 40 ms
		return 0, nil
	}
	return unit.Duration(3600 / perHour), nil
}

// record is the record of what was heard; a may be nil.
func (q asked) record(h beat.Hearing, a *listen.Answer) readings.Listening {
	l := readings.Listening{
		UID: "0000000000000000", ClockID: q.Clock, Started: q.Started, How: q.How, Length: h.Length, Source: q.Source, Path: q.Path,
		Settings: q.Settings, Rate: h.Rate, Clock: q.listen.Clock, Verdict: h.Verdict, Program: program(), By: q.By, Beats: h.Beats,
	}
	if a == nil {
		return l
	}
	kept := *a
	if m := kept.Hearing.Marks; len(m) > mostMarks {
		kept.Hearing.Marks = m[:mostMarks:mostMarks]
	}
	// An answer that cannot be written does not cost the beats.
	if b, err := json.Marshal(kept); err == nil && len(b) <= readings.MaxAnswer {
		l.Answer = string(b)
	}
	l.Gist = readings.Gist{Mean: a.Mean, PerHour: a.PerHour}
	if a.Going != nil {
		l.Gist.BeatError = a.Going.BeatError
	}
	if len(a.Findings) > 0 {
		l.Gist.First = a.Findings[0].Text
	}
	return l
}

// mostMarks is how many marks are kept with an answer: a noisy day has more
// than anyone reads.
const mostMarks = 5000

// program is what the build knows of itself.
func program() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" || info.Main.Version == "(devel)" {
		return "seatboard"
	}
	return "seatboard " + info.Main.Version
}

// fieldProblem is a mistake of a field; an error that names its fields
// itself keeps them.
func fieldProblem(field string, err error) error {
	p := AsProblem(err)
	if p.Code != Internal {
		return p
	}
	return &Problem{Code: BadInput, Message: "There is a problem with what was entered.", Fields: meas.Faults{{Field: field, Text: err.Error()}}, cause: err}
}
