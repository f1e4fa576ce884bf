// Package parts is the take-down ledger: what came off a clock, in which
// order, how many, where each piece is, and whether all of it went back. It is
// for the person who lays a part aside in week one and looks for it in week
// five.
//
// # A log
//
// A [Ledger] is folded from a log of [Event] values, which only grows: a part
// is recorded, described anew, moved, split, recounted, explained; a mistake is
// undone by an event that names it, and undoing brings every field back. An
// undo that later events lean on is refused, naming them. Order is that of the
// log, so the order of taking down is kept.
//
// # Numbers
//
// A part goes by the clock's number and digits behind dots: 2026-014.2.1 is
// the first part of the second ([Number]). A number is not given out again,
// not even after its part was undone: it may stand on a bag.
//
// # Counts
//
// Pieces are counted in whole numbers and all pieces of a part are in one
// state; "4 screws" of which one is mended is split into 3 and 1. Pieces come
// into the ledger only by being recorded, and change in number only by a
// recount that says why ([Ledger.Tally]).
//
// # The life of a part
//
// [Moves] lists the moves that a part may make; what is not in it is refused,
// with what may be done instead. A part that is recorded as on the clock was
// left in place, on the clock or on the part that carries it.
//
// # Close-out
//
// [Ledger.CloseOut] sets what came off and what was made new against what went
// back, is kept for the owner, or is used up. What is none of these is
// unexplained, and holds the trial up until a reason is written
// ([Ledger.ReadyForTrial]). All of this is common practice of the trade.
//
// Gaps: photographs are kept elsewhere, under the number of the part. Two
// parts are not joined into one again except by undoing the split.
package parts
