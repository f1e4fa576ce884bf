package trial

import (
	"seatboard/internal/craft/regulate"
	"seatboard/internal/craft/regulate/tap"
)

// OfReadings is readings written down together: one by hand, or those of a
// listening, which source names.
func OfReadings(host *Host, source string, r ...regulate.Reading) Event {
	return Event{Kind: Read, Host: host, Source: source, Readings: r}
}

// OfTaps is one reading by taps, with the taps.
func OfTaps(host *Host, q tap.Query, r regulate.Reading) Event {
	return Event{Kind: Read, Host: host, Readings: []regulate.Reading{r}, Taps: &q}
}

// OfTable is all that a table made elsewhere says; source names it.
func OfTable(source string, r []regulate.Reading, a []regulate.Air, t []regulate.Touch) Event {
	return Event{Kind: Tabled, Source: source, Readings: r, Air: a, Touches: t}
}

// OfTouch is one thing done to the clock.
func OfTouch(host *Host, t regulate.Touch) Event { return Event{Kind: Touched, Host: host, Touch: &t} }

// OfAir is what surrounded the clock, once or, from a table, many times.
func OfAir(host *Host, source string, a ...regulate.Air) Event {
	return Event{Kind: Aired, Host: host, Source: source, Air: a}
}

// OfStop is a clock found standing.
func OfStop(host *Host, s Stop) Event { return Event{Kind: Stood, Host: host, Stop: &s} }

// OfReply answers a question.
func OfReply(r Reply) Event { return Event{Kind: Answered, Answer: &r} }

// OfAim says what counts as right.
func OfAim(a Aim) Event { return Event{Kind: Aimed, Aim: &a} }

// OfGate begins, passes or fails a gate, by its key: k is [Began], [Passed] or
// [Failed]. why is the reason of a failure.
func OfGate(k Kind, key, why string) Event {
	e := Event{Kind: k, Gate: key}
	e.Why = why
	return e
}

// OfStrike is an hour heard with its blows.
func OfStrike(host *Host, s Strike) Event { return Event{Kind: Struck, Host: host, Strike: &s} }

// Undo takes an event back.
func Undo(n int) Event {
	e := Event{Kind: Undone}
	e.Undoes = n
	return e
}
