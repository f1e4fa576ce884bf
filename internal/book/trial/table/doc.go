// Package table reads a clock's weeks from a table made elsewhere, comma- or
// semicolon-separated as any spreadsheet or logger writes it, and writes them
// as one. It is for the person who has kept a book of rates for years and will
// not type it again.
//
// # In two steps
//
// [Look] guesses from the beginning of a file what it is: the sign between
// cells, whether it has a heading, what each column means and in which unit,
// how its dates are written. The guess is shown; the person sets it right; then
// [Read] takes the whole file by that [Plan]. Nothing is taken by guess alone,
// and where there is a single mistake nothing is taken at all: [Read] lists the
// mistakes of all lines.
//
// # What a column may mean
//
// One of [Meanings]: an instant, a date and a time of day apart, the two ends of
// a stretch, the error of the clock, its rate, the doubt of either, the air, how
// it was read, what was done to it, what its hands showed; or nothing. A number may carry its unit or
// fast, slow, gaining, losing in the cell, which then count; otherwise it is in
// the column's unit. A time of an error may be written 0:12 or 1:02:03.
//
// A row with a rate needs both ends of its stretch; where it has one instant
// only, the stretch begins at the row before, and the rate of the first row is
// left out. Its air is put at the middle of the stretch. A date that is left
// empty beside a time is that of the row above. A day without a time of day is
// taken at noon.
//
// # Times
//
// Dates are read as year-month-day, day.month.year or month/day/year; which of
// the last two is asked where the file does not tell ([Plan.Dates]). Years of two
// figures are those from 2000 to 2099, and that is asked too. What the hands
// showed ([Shows]) is held against the time of the row in the table's zone, on a
// dial of twelve hours: at most six either way. A time
// without its own zone is in the plan's: UTC, a fixed distance from it, or the
// shop's own. In the shop's own zone an hour that comes twice is taken so that
// the rows go forward, and an hour that never was is a mistake.
//
// # Limits
//
// [MaxBytes] and [MaxRows]; UTF-8 or UTF-16 with or without a mark, Latin-1, or
// Windows 1252. The words of columns are looked for in English, German and
// French, the names of months in Italian and Spanish too.
//
// # What is asked
//
// What can be read in two ways is asked ([Guess.Asks] of level Doubt), for a
// figure in the wrong unit is worse than none: days that may be months; a sign
// that was written either way (an observatory's Gang or marche was positive
// for a clock that loses, a watchmaker's for one that gains); units that no
// column can have, and warmth or pressure without one where the figures are not
// those of °C or hPa; a rate over another time than a day; two columns of one
// thing; a column whose cells are not what its name says; more cells than names.
// What stands above the names, and units below them, is left out and said.
// A rate with one instant whose row before is missing is taken to be over as
// long as the others ([Table.Gaps]).
//
// The CSV grammar is that of RFC 4180, with any of four separators.
package table
