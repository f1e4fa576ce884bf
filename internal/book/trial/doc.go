// Package trial keeps a clock's time on trial: every reading, every touch, the
// air, each stop, the questions that were asked about them with their answers,
// and the gates it must pass before it goes home. It is for the person who
// would otherwise have a scrap of paper on the case door.
//
// A [Book] is folded from an append-only log of [Event] values (book/ledger).
package trial
