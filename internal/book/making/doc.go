// Package making keeps what was worked out for a clock: a wheel that is to be
// cut, a train that was found, a screw that was told. It is for the person
// who asks in ten years what a part was made by.
//
// # A log
//
// A [Book] is folded from a log of [Event] values, which only grows
// (book/ledger): a [Sheet] is kept, changed, struck out; a part is made by it.
// What stood before stays in the log, and a mistake is undone by an event that
// names it.
//
// # What is kept
//
// A sheet has the name of a calculation, the values as typed, the answer as
// JSON as it was told then, and the program that told it. The values are
// enough to work it out anew; [Differing] says what comes out otherwise, so
// that a newer program cannot change silently what a part was made by. The
// drawings of a part that was made are files of their own, named by their
// SHA-256, so that they stay as they were cut from.
//
// Nothing here knows what a calculation is or means.
package making
