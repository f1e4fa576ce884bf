package trial

import (
	"fmt"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// leastStep is how far the computer's clock must be set to be asked about: an
// eye tells no less.
const leastStep unit.Duration = 0.5

// Questions lists what is to be asked about the time of day that readings were
// held against and is not settled: the computer's clock was set between two of
// them (HostStepped). The readings that hang on it have no weight until then.
func (b Book) Questions() []regulate.Question {
	var out []regulate.Question
	for _, q := range b.stepped() {
		if !b.Settled(q) {
			out = append(out, q)
		}
	}
	return out
}

// Settled tells whether a question was answered: of each of its readings, or of
// its moment.
func (b Book) Settled(q regulate.Question) bool {
	for i, e := range b.log {
		if a := e.Answer; b.standing[i] && e.Kind == Answered && a.About == q.About && a.Reading == 0 && a.From.Equal(q.From) {
			return true
		}
	}
	for _, id := range q.Reading {
		if !b.said(q.About, id) {
			return false
		}
	}
	return len(q.Reading) > 0
}

// said tells whether a question about a reading was answered.
func (b Book) said(about regulate.Doubtful, id int) bool {
	for i, e := range b.log {
		if b.standing[i] && e.Kind == Answered && e.Answer.Reading == id && e.Answer.About == about {
			return true
		}
	}
	return false
}

// stepped asks about each setting of the computer's clock, as the entries that
// have its time of day tell of it.
func (b Book) stepped() []regulate.Question {
	var out []regulate.Question
	was := -1
	for i, e := range b.log {
		if e.Host == nil || e.Host.From == ByTyping {
			continue
		}
		before := was
		was = i
		if before < 0 {
			continue
		}
		step := e.Host.Stepped
		if step == 0 {
			step = unit.Duration(min(0, e.When.Sub(b.log[before].When).Seconds()))
		}
		if size(step) < leastStep {
			continue
		}
		if ids := append(b.hanging(before, -1), b.hangingAfter(i)...); len(ids) > 0 {
			out = append(out, asksOfStep(b.log[before], e, step, ids))
		}
	}
	return out
}

// asksOfStep asks about a setting of the computer's clock between two entries.
func asksOfStep(was, e Event, step unit.Duration, ids []int) regulate.Question {
	way := "forward"
	if step < 0 {
		way = "back"
	}
	return regulate.Question{
		About: regulate.HostStepped, Reading: ids, From: was.When, Until: e.When, Error: meas.Interval[unit.Duration]{Value: step, Low: step, High: step, Set: true},
		Text: fmt.Sprintf("The computer’s clock was put %s by %s between entry %d and entry %d", way, span(size(step)), was.N, e.N),
		Ask:  "Say whether the time of day was right when these readings were taken, or put them right by that much",
	}
}

// hangingAfter lists the readings behind a setting that hang on it, none where
// the clock was kept right from then on.
func (b Book) hangingAfter(i int) []int {
	if h := b.log[i].Host; h != nil && h.Kept == KeptRight {
		return nil
	}
	return b.hanging(i, 1)
}

// hanging lists the readings from event i on, forwards or back, whose time of
// day was the computer's, as far as one at which its clock was kept right.
func (b Book) hanging(i, way int) []int {
	var out []int
	for ; i >= 0 && i < len(b.log); i += way {
		e := b.log[i]
		if e.Host == nil {
			continue
		}
		if e.Host.Kept == KeptRight || way > 0 && e.Host.Stepped != 0 && len(out) > 0 {
			break
		}
		if e.Kind != Read || !b.standing[i] || e.Host.From == ByTyping {
			continue
		}
		for j := range e.Readings {
			out = append(out, b.first[i]+j+1)
		}
	}
	return out
}

// span is a length of time in words.
func span(d unit.Duration) string {
	switch s := float64(d); {
	case s < 120:
		return fmt.Sprintf("%.1f s", s)
	case s < 7200:
		return fmt.Sprintf("%.0f min", s/60)
	default:
		return fmt.Sprintf("%.1f h", s/3600)
	}
}
