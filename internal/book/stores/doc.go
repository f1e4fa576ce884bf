// Package stores keeps what is on the shelf: bushes, line, liquid, glue; what
// is left of each, what each job used, and when to buy more.
//
// A [Shelf] is folded from an append-only log of [Event] values: a material is
// named, comes in, is used for a job, is counted. Amounts are exact decimals
// of the material's own unit ([Amount]); pieces are whole. A count sets what
// is left, whatever was thought, and the difference is kept. Using more than
// is left is not refused (the shelf was wrong, not the hand), but said. A
// mistake is undone by an event that names it.
package stores
