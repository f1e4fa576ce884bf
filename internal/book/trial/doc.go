// Package trial keeps a clock's time on trial: every reading, every touch, the
// air, each stop, the questions that were asked about them with their answers,
// and the gates it must pass before it goes home. It is for the person who
// would otherwise have a scrap of paper on the case door.
//
// # The log
//
// A [Book] is folded from an append-only log of [Event] values (book/ledger)
// by [Fold]; [Book.Add] puts another at the end, or says everything that is
// wrong with it. Nothing is ever changed: a mistake is undone by an event that
// names it, and the undo may be undone. Events are made by [OfReadings],
// [OfTouch], [OfAir], [OfStop], [OfReply], [OfAim], [OfGate], [OfStrike] and
// [Undo].
//
// An event has two kinds of instants. When is when it was written down, by the
// computer's clock at that moment; a reading, a touch or the air has its own.
// The order of the log is that of its numbers: both kinds of instants may go
// backwards.
//
// # Numbers of readings
//
// A question is about readings, so each has a number that never changes
// ([Book.ID], [Book.ReadingOf]): the readings of a log are counted 1, 2, 3 … as
// they were written, those of events that were undone or cannot be among them.
// A log only grows, so the count of what is before a reading never changes. The
// number of a touch is that of its event; of touch i (from 0) of a table it is
// that and i · 2²⁰.
//
// # What is asked
//
// craft/regulate asks about what the readings themselves show: a half day, a
// stray, hands that were set, a time before one that was written earlier. This
// package asks about the time of day they were held against ([Book.Questions]):
// the computer's clock was set between two of them. A [Reply] settles either;
// [Book.Settled] tells whether one did. Readings that a setting of the
// computer's clock makes doubtful have no weight until that is settled.
//
// # What is reckoned
//
// [Book.Query] gives what stands as a regulate.Query: readings with the answers
// applied to them, touches (a clock found standing is one), and the air.
package trial
