// Package label holds what stands on a label and what it is printed on: the
// short id that a telephone's camera or a pair of eyes reads, and the sheets
// and tapes of the shop with what its printers get wrong.
//
// # Short ids
//
// A short id is six signs for the clock and the part's number behind them:
// Q7WX3K.2.1. It follows from the clock's UID and the part's number ([Short]),
// neither of which ever changes or is given out twice, so a label that was
// printed once stays true: it needs no table, outlives a restored backup, and
// goes with the clock into another shop. The clock's own number may be
// changed; the label is found all the same.
//
// No two of the signs are taken for one another: there is no 0 and no O, no 1,
// I or L, and B, S, Z and U are read as 8, 5, 2 and V ([Parse]). 27 signs in
// six places are 387,420,489 ids; in a book of 10,000 clocks the chance that
// any two share one is one in eight (10,000²/2 over the number of ids),
// and then the person is asked which is meant, never sent to the wrong one.
//
// # Profiles
//
// A [Profile] is a sheet of labels or a tape, measured on the sheet itself;
// what a printer shifts or stretches is taken out by what its test page
// measures. [Stock] has a few sizes to begin with, from memory: common in
// offices, no source; one sheet is to be measured before a box is used up.
//
// # The log
//
// Profiles, the address that codes carry and the first free position of each
// profile are kept in one log of the shop ([Fold]).
package label
