package regulate

import (
	"fmt"
	"time"
)

// StandsSince is since when the clock stands, as far as is written: it stopped,
// and was neither set going nor read since; false where it goes.
func (q *Query) StandsSince() (since time.Time, stands bool) {
	var going time.Time
	for _, t := range q.Touches {
		switch {
		case t.Kind == Stopped && t.Until.IsZero() && t.At.After(since):
			since = t.At
		case (t.Kind == Started || t.Kind == HandsSet) && t.At.After(going):
			going = t.At
		case t.Until.After(going):
			going = t.Until
		}
	}
	for _, r := range q.Readings {
		if !r.Out && r.At.After(going) {
			going = r.At
		}
	}
	return since, !since.IsZero() && !going.After(since)
}

// heard is when the clock was last read or touched until now; the zero Time
// where it never was.
func (q *Query) heard() (last time.Time) {
	for _, r := range q.Readings {
		if !r.Out && !r.At.After(q.Now) && r.At.After(last) {
			last = r.At
		}
	}
	for _, t := range q.Touches {
		if t.Kind != Wound && !t.At.After(q.Now) && t.At.After(last) {
			last = t.At
		}
	}
	return last
}

// wait says why a clock has first to be set going or read, though its readings
// tell a rate; "" where it has not. asked is the moment of the question: the
// query's Now is earlier where nothing was heard of the clock for longer than
// can be looked ahead.
func (q *Query) wait(asked time.Time) string {
	const day = "2 January 2006"
	if since, stands := q.StandsSince(); stands && !since.After(asked) {
		return fmt.Sprintf("Wait. It stopped on %s, and nothing is written of it going since. Find out why, set it going, and write that down with what it is wrong by.", since.Format(day+" at 15:04"))
	}
	if q.Now.Before(asked) {
		return fmt.Sprintf("Wait. Nothing was read of it since %s: what stands here is how it went then. Read it first.", q.Now.Format(day))
	}
	return ""
}
