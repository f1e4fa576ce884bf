package listen

import (
	"fmt"
	"math"
	"slices"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

var practice = cite.Ref{Grade: cite.CommonPractice}

// Say is everything that the answer has to say in words, from its figures:
// the most urgent first. Pages, terminals and programs have it from here
// alone.
func (a Answer) Say() []meas.Finding {
	var t telling
	if v := verdictWords(a.Hearing); v != "" {
		t.add(meas.Doubt, "no-beat", v, "")
		t.recording(a.Query.Notes)
		return t
	}
	t.rate(a)
	t.broken(a.Hearing)
	t.beatError(a)
	if a.Culprit != nil {
		t.faults(*a.Culprit)
	}
	t.marks(a.Hearing)
	t.company(a.Hearing.Second)
	t.recording(a.Query.Notes)
	slices.SortStableFunc(t, func(x, y meas.Finding) int { return int(y.Level) - int(x.Level) })
	return t
}

// telling gathers what is to be said.
type telling []meas.Finding

func (t *telling) add(l meas.Level, code, text, next string) {
	*t = append(*t, meas.Finding{Level: l, Code: code, Text: text, Next: next})
}

// verdictWords is empty where a regular beat was heard.
func verdictWords(h beat.Hearing) string {
	words := map[beat.Verdict]string{
		beat.NotSure: "It is not sure that this is a clock.",
		beat.Edited:  "This recording has been cut or looped" + whereEdited(h.Marks) + ".",
		beat.NoBeat:  "No regular beat is heard.",
		"":           "Nothing was listened to.",

		beat.TwoClocks: "No beat can be given.",
	}[h.Verdict]
	if words == "" || h.Why == "" {
		return words
	}
	return words + " " + h.Why
}

// whereEdited tells the first place at which a recording is not one piece of
// time; "" where none is marked.
func whereEdited(marks []beat.Mark) string {
	for _, m := range marks {
		switch m.Kind {
		case beat.Zeros:
			return ": at " + phrase.At(m.At) + " it is exactly silent for " + phrase.Fine(m.Size)
		case beat.Repeat:
			return ": what is heard at " + phrase.At(m.At) + " was heard " + phrase.Lasting(m.Size) + " before"
		}
	}
	return ""
}

// outOfBeat is the share of a beat from which on being out of beat is worth
// setting right.
const outOfBeat = 0.02

// beatError says how far the clock is out of beat and which side is longer.
func (t *telling) beatError(a Answer) {
	if a.Going == nil || !a.Going.BeatError.Set {
		return
	}
	e := a.Going.BeatError
	size := phrase.Within(phrase.Size(e), "ms")
	if e.Has(0) {
		t.add(meas.Note, "in-beat", "It is in beat as far as can be told: tick and tock differ by "+size+".", "")
		return
	}
	long, short := "from tick to tock", "from tock to tick"
	if e.Value < 0 {
		long, short = short, long
	}
	text := fmt.Sprintf("It is out of beat by %s: %s is longer than %s, the tick being the first beat heard.", size, long, short)
	if c := a.Going.BeatErrorChange; c.Set && float64(c.Half()) < 0.2*float64(e.Half()) {
		text += " A change of " + phrase.Fine(c.Half()) + " would show."
	}
	if math.Abs(float64(e.Value)) < outOfBeat*float64(a.Going.Beat.Value) {
		t.add(meas.Note, "beat-error", text, "")
		return
	}
	t.add(meas.Clash, "out-of-beat", text, "Set the crutch, or level the case, until both are alike.")
	(*t)[len(*t)-1].Ref = practice
}

// broken tells of stops, of steps and of where the sound was cut off.
func (t *telling) broken(h beat.Hearing) {
	if at := endings(h, beat.Stopped); len(at) > 0 {
		t.add(meas.Clash, "stopped", "It stopped at "+phrase.SomeOf(at, 4)+".", "Note where the hands stand and how the weight hangs before it is touched.")
	}
	if at := endings(h, beat.Stepped); len(at) > 0 {
		t.add(meas.Doubt, "stepped", "From "+phrase.SomeOf(at, 4)+" on all beats are shifted: the recorder lost sound or put some in, or the clock was moved. That is kept out of the rate.", "")
	}
	if at := endings(h, beat.Silence); len(at) > 0 {
		t.add(meas.Doubt, "cut-off", "The sound was cut off at "+phrase.SomeOf(at, 4)+".", "")
	}
}

// endings are the times at which the stretches that were heard ended so.
func endings(h beat.Hearing, how beat.Ending) []string {
	var at []string
	for _, r := range h.Runs {
		if r.EndedBy == how && r.Heard > 0 {
			at = append(at, phrase.At(r.To))
		}
	}
	return at
}

// overdriven is the share of samples at full scale from which on it is said.
const overdriven = 1e-4

// marks tells of what was heard beside the beats.
func (t *telling) marks(h beat.Hearing) {
	silent, extra := 0, 0
	for _, r := range h.Runs {
		silent, extra = silent+r.Silent, extra+r.Extra
	}
	if silent > 0 {
		t.add(meas.Note, "silent", phrase.Times(silent, "beat was silent.", "beats were silent."), "")
	}
	if extra > 0 {
		t.add(meas.Note, "extra", phrase.Times(extra, "beat was heard where none belongs", "beats were heard where none belong")+": a drop on the wrong face, or another clock.", "")
	}
	if h.Clipped > overdriven {
		t.add(meas.Note, "clipped", "The recorder was overdriven.", "Turn its level down or move it away.")
	}
}

// recording tells what is odd of the recording itself.
func (t *telling) recording(notes []string) {
	for _, n := range notes {
		t.add(meas.Note, "recording", n, "")
	}
}

// company tells of another clock that is heard as well.
func (t *telling) company(s *beat.Second) {
	if s == nil {
		return
	}
	text := "Another clock is heard too"
	if s.Beat > 0 {
		text += ": it beats every " + unit.Text(s.Beat, "s", 3)
	}
	if s.Level > 0 {
		text += ", " + louder(20*math.Log10(s.Level))
	}
	if s.Mixed {
		text += ". For a time the two could not be kept apart, and no beat of that time is counted"
	}
	t.add(meas.Doubt, "two-clocks", text+".", "Stop the other one, or carry it away, and listen again.")
}

// louder sets a level in dB beside that of the clock that is followed.
func louder(db float64) string {
	switch db = math.Round(db); {
	case db < 0:
		return fmt.Sprintf("%.0f dB fainter than this one", -db)
	case db > 0:
		return fmt.Sprintf("%.0f dB louder than this one", db)
	}
	return "as loud as this one"
}

// stretch is how long the beats behind the rate were followed.
func stretch(a Answer) unit.Duration {
	if a.Going != nil && a.Going.Span > 0 {
		return a.Going.Span
	}
	return a.Hearing.Length
}
