package shop

import (
	"context"
	"math"
	"slices"
	"strings"
	"time"

	"seatboard/internal/book/trial"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// TrialSay is what can be answered to a question about a clock on trial.
type TrialSay string

// The answers.
const (
	SayRight   TrialSay = "right"   // the readings are right as they stand; of the computer's clock: the time was right before it was set and since
	SayWrong   TrialSay = "wrong"   // they are wrong, or the one that is named
	SayShift   TrialSay = "shift"   // they are to be put right by what the question says
	SaySet     TrialSay = "set"     // the hands were set then
	SayStood   TrialSay = "stood"   // it stood for a while and went on
	SayNut     TrialSay = "nut"     // the nut was turned: Words say how far
	SayWorked  TrialSay = "worked"  // something else was done: Words
	SayNothing TrialSay = "nothing" // nothing was done: it changed by itself
	SayBefore  TrialSay = "before"  // the time of day was right before the computer's clock was set, and wrong since
	SaySince   TrialSay = "since"   // it is right since, and was wrong before
)

// TrialAnswer answers a question about a clock on trial.
type TrialAnswer struct {
	About    regulate.Doubtful
	Readings []int     // that the question is about
	From     time.Time // and from when
	Say      TrialSay
	Which    int    // the one reading that is wrong; 0 for all
	Words    string // what was done
}

// Answers lists what can be answered to a question.
func Answers(q regulate.Question) []TrialSay {
	switch q.About {
	case regulate.HalfDay, regulate.WrongHalf, regulate.SummerTime, regulate.WrongMinute:
		return []TrialSay{SayShift, SayRight, SayWrong}
	case regulate.SetUnnoted:
		return []TrialSay{SaySet, SayStood, SayNothing}
	case regulate.RateUnnoted:
		return []TrialSay{SayNut, SayWorked, SayNothing}
	case regulate.HostStepped:
		return []TrialSay{SaySince, SayBefore, SayRight, SayWrong}
	}
	return []TrialSay{SayRight, SayWrong} // Disagree and Twice name the one that is wrong
}

// AnswerTrial writes the answer to a question down. Where the question is not
// asked any more the problem is a Conflict.
func (s *Shop) AnswerTrial(ctx context.Context, by string, clock int64, seen int, a TrialAnswer) ([]trial.Event, error) {
	t, err := s.Trial(ctx, clock)
	if err != nil {
		return nil, err
	}
	i := slices.IndexFunc(t.Questions, func(q regulate.Question) bool {
		return q.About == a.About && q.From.Equal(a.From) && slices.Equal(q.Reading, a.Readings)
	})
	if i < 0 {
		return nil, &Problem{Code: Conflict, Message: "This is not asked any more.", Hint: "It was answered meanwhile, or what was written since has settled it."}
	}
	events, faults := t.answer(t.Questions[i], a)
	if len(faults) > 0 {
		return nil, badInput(faults)
	}
	return s.AddTrial(ctx, by, clock, seen, events...)
}

// answer makes the events of an answer.
func (t Trial) answer(q regulate.Question, a TrialAnswer) ([]trial.Event, meas.Faults) {
	if !slices.Contains(Answers(q), a.Say) {
		return nil, meas.Faults{{Field: "say", Text: "Choose one of the answers"}}
	}
	if a.Which != 0 && !slices.Contains(q.Reading, a.Which) {
		return nil, meas.Faults{{Field: "which", Text: "The question is not about that reading"}}
	}
	var out []trial.Event
	each := func(reply func(id int) trial.Reply) {
		for _, id := range q.Reading {
			if a.Which == 0 || a.Which == id {
				r := reply(id)
				r.About, r.Reading = q.About, id
				out = append(out, trial.OfReply(r))
			}
		}
	}
	switch a.Say {
	case SayRight:
		each(func(int) trial.Reply { return trial.Reply{Right: true} })
	case SayWrong:
		each(func(int) trial.Reply { return trial.Reply{} })
	case SayShift:
		shift := ShiftOf(q)
		each(func(int) trial.Reply { return trial.Reply{Shift: shift, Later: q.Later} })
	case SayBefore, SaySince:
		each(func(id int) trial.Reply { return t.sinceSet(q, id, a.Say == SaySince) })
	default:
		touch, wrong := t.touchAnswered(q, a)
		if wrong != "" {
			return nil, meas.Faults{{Field: "answer-words", Text: wrong}}
		}
		out = append(out, trial.OfReply(trial.Reply{About: q.About, From: q.From, Touch: &touch}))
	}
	return out, nil
}

// ShiftOf is what a reading is put right by: as many half days, hours or
// minutes as it is off.
func ShiftOf(q regulate.Question) unit.Duration {
	step := map[regulate.Doubtful]float64{regulate.HalfDay: 43200, regulate.SummerTime: 3600, regulate.WrongMinute: 60}[q.About]
	if step == 0 {
		return 0
	}
	return unit.Duration(-step * math.Round(float64(q.Error.Value)/step))
}

// sinceSet is what the setting of the computer's clock says of a reading:
// where the time is right since, those before are put right by it, and where
// it was right before, those since.
func (t Trial) sinceSet(q regulate.Question, id int, right bool) trial.Reply {
	n, _, _ := t.Book.ReadingOf(id)
	before := n < t.entryAt(q.Until)
	if before != right {
		return trial.Reply{Right: true}
	}
	shift := q.Error.Value // the clock was held against a time that was slow by so much
	if before {
		shift = -shift
	}
	return trial.Reply{Shift: shift}
}

// entryAt is the number of the first entry that was written at an instant.
func (t Trial) entryAt(when time.Time) int {
	for _, e := range t.Book.Log() {
		if e.When.Equal(when) {
			return e.N
		}
	}
	return t.Book.Len() + 1
}

// touchAnswered is what was done and not written down, in the middle of the
// time in which it must have been.
func (t Trial) touchAnswered(q regulate.Question, a TrialAnswer) (regulate.Touch, string) {
	words := strings.TrimSpace(a.Words)
	touch := regulate.Touch{Kind: regulate.Worked, Words: words}
	switch a.Say {
	case SaySet:
		touch.Kind = regulate.HandsSet
	case SayStood:
		touch = regulate.Touch{Kind: regulate.HandsSet, Words: strings.TrimSpace("it stood and went on " + words)}
	case SayNothing:
		touch.Words = strings.TrimSpace("nothing was done that is known " + words)
		if q.About == regulate.SetUnnoted {
			touch.Kind = regulate.HandsSet
		}
	case SayNut:
		var wrong string
		if touch, wrong = trial.ParseTouch("nut "+words, t.Query.Known.Divisions); wrong != "" {
			return touch, wrong
		}
	case SayWorked:
		if words == "" {
			return touch, "Write in words what was done"
		}
	}
	touch.At = q.From.Add(q.Until.Sub(q.From) / 2).UTC().Truncate(time.Millisecond)
	return touch, ""
}
