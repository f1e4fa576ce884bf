package listen

import (
	"fmt"
	"math"
	"strings"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/culprit"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

var practice = cite.Ref{Grade: cite.CommonPractice}

func (a *Answer) add(l meas.Level, code, text, next string, ref cite.Ref) {
	a.Findings = append(a.Findings, meas.Finding{Level: l, Code: code, Text: text, Next: next, Ref: ref})
}

// say finds what is to be said beside the figures.
func (a *Answer) say() {
	h := a.Hearing
	if h.Verdict != beat.Regular {
		a.add(meas.Doubt, "no-beat", h.Why, "", cite.Ref{})
		return
	}
	a.sayBeat()
	a.sayParts()
	a.sayMarks()
	if a.Going == nil {
		a.add(meas.Doubt, "too-few", "There are too few beats for a rate.", "Record a minute or more.", cite.Ref{})
		return
	}
	if a.Nominal.Set && !a.alike(h) {
		a.add(meas.Clash, "other-clock", fmt.Sprintf("The beat heard lasts %s, that of this clock should last %s.",
			unit.Text(h.Runs[0].Beat, "s", 4), unit.Text(a.Nominal.Value, "s", 4)),
			"Look whether it is this clock that was heard, or correct the counts of its train.", cite.Ref{})
	}
	if !a.Nominal.Set {
		a.add(meas.Note, "no-nominal", "What a beat of this clock should last is not known, so that there is no rate, only beats an hour.", "Give the train or the beats an hour.", cite.Ref{})
	}
	a.sayRecorder()
}

// outOfBeat is the share of a beat from which on being out of beat is worth
// setting right.
const outOfBeat = 0.02

func (a *Answer) sayBeat() {
	if a.Going == nil || !a.Going.BeatError.Set {
		return
	}
	e, p := a.Going.BeatError, a.Going.Beat.Value
	if e.Low <= 0 && e.High >= 0 || math.Abs(float64(e.Value)) < outOfBeat*float64(p) {
		return
	}
	longer := "from the first sound to the second"
	if e.Value < 0 {
		longer = "from the second sound to the first"
	}
	size := e
	size.Value = unit.Duration(math.Abs(float64(e.Value)))
	a.add(meas.Clash, "out-of-beat", fmt.Sprintf("The clock is out of beat by %s: the interval %s is the longer.", sizeOf(size), longer),
		"Set the crutch, or level the case, until both are alike; the first sound of the record is the first heard.", practice)
}

func sizeOf(i meas.Interval[unit.Duration]) string {
	return meas.WithU(i.Value, i.Half(), "ms")
}

func (a *Answer) sayMarks() {
	var silent, extra int
	for _, r := range a.Hearing.Runs {
		silent, extra = silent+r.Silent, extra+r.Extra
		if r.EndedBy == beat.Stopped {
			a.add(meas.Clash, "stopped", fmt.Sprintf("The clock stopped at %s.", clockTime(r.To)), "Note where the hands stand and how the weight hangs before it is touched.", cite.Ref{})
		}
	}
	for _, m := range a.Hearing.Marks {
		if m.Kind == beat.Step {
			a.add(meas.Doubt, "stepped", fmt.Sprintf("From %s on every beat is shifted by %s: the recorder lost sound or put some in, or the clock was moved. The two parts are worked separately.",
				clockTime(m.At), unit.Text(m.Size, "ms", 1)), "", cite.Ref{})
		}
	}
	if silent > 0 {
		a.add(meas.Note, "silent", fmt.Sprintf("%s not heard among %d.", beats(silent), silent+len(a.Hearing.Beats)), "", cite.Ref{})
	}
	if extra > 0 {
		a.add(meas.Note, "extra", fmt.Sprintf("%s heard where none belongs: a drop on the wrong face, or another clock.", beats(extra)), "", cite.Ref{})
	}
	if a.Hearing.Clipped > 1e-4 {
		a.add(meas.Note, "clipped", "The recorder was overdriven.", "Turn its level down or move it away.", cite.Ref{})
	}
}

func beats(n int) string {
	if n == 1 {
		return "1 beat was"
	}
	return fmt.Sprintf("%d beats were", n)
}

// clockTime is a place in a record.
func clockTime(t unit.Duration) string {
	s := int(t)
	if s >= 3600 {
		return fmt.Sprintf("%d h %d min %d s", s/3600, s/60%60, s%60)
	}
	if s >= 60 {
		return fmt.Sprintf("%d min %d s", s/60, s%60)
	}
	return unit.Text(t, "s", 1)
}

func (a *Answer) sayRecorder() {
	if a.Query.Clock.How == sampleclock.Supposed && a.Mean.Set {
		a.add(meas.Note, "recorder", fmt.Sprintf("The recorder's own clock has not been compared with true time: it alone makes the rate uncertain by %s.",
			unit.Text(a.Query.Clock.Limit, "s/d", 1)), "Calibrate the recorder; beat error and the evenness of the beats do not depend on it.", cite.Ref{})
	}
}

// sayParts names what was found in the train.
func (a *Answer) sayParts() {
	if a.Culprit == nil {
		return
	}
	for _, s := range a.Culprit.Suspects {
		either := s.Standing == culprit.Unlike && s.Chance < surely
		if s.Standing != culprit.Found && !either {
			continue
		}
		name := upper(s.Part.Name)
		if either {
			name += " or " + strings.Join(s.With, " or ") + ", which cannot be told apart in this record"
		}
		a.add(meas.Clash, "culprit", fmt.Sprintf("%s, %s (%s): %s early and late; the chance that this comes of nothing is %s.",
			name, often(s), clockTime(s.Part.Period), meas.WithU(s.Amplitude.Value, s.Amplitude.Half(), "µs"), chance(s.Chance)),
			"Look at its depthing and whether it runs true.", cite.Ref{})
	}
	for _, n := range a.Culprit.Odd {
		for _, t := range a.Culprit.Teeth {
			if t.Number == n {
				a.add(meas.Clash, "tooth", fmt.Sprintf("Tooth %d of the escape wheel, counted from the first that was heard, lets go %s %s.", n+1,
					meas.WithU(unit.Duration(math.Abs(float64(t.Late.Value))), t.Late.Half(), "µs"), lateWord(t.Late.Value)), "Look at it under a glass.", cite.Ref{})
			}
		}
	}
}

// surely is the chance of nothing below which a part is named.
const surely = 0.01

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func often(s culprit.Suspect) string {
	switch {
	case s.Part.Kind == culprit.Contact:
		return "at each tooth"
	case s.Harmonic == 2:
		return "twice per turn"
	case s.Harmonic > 2:
		return fmt.Sprintf("%d times per turn", s.Harmonic)
	}
	return "once per turn"
}

func lateWord(d unit.Duration) string {
	if d < 0 {
		return "early"
	}
	return "late"
}

// chance is a probability as people say it.
func chance(p float64) string {
	switch {
	case p < 1e-6:
		return "less than 1 in a million"
	case p < 0.5:
		digits := math.Pow(10, math.Floor(math.Log10(1/p)))
		return fmt.Sprintf("1 in %.0f", math.Round(1/p/digits)*digits)
	}
	return "large"
}
