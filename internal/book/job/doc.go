// Package job holds the shop's record of one clock and the rules it is kept
// by: what the clock is and whose, the fields of the Object ID standard, who
// had it before, what came with it, the survey as it was typed, and the
// history of every change.
//
// It is for a shop that takes clocks in, surveys them, works on them and
// gives them back. The record is what outlives the work, so:
//
//   - Every field is kept as typed. A number or a year that a rule needs is
//     read from the text ([Made.Years], [Clock.PromiseDay]) and stands beside
//     it; where it cannot be read the text stays and [Clock.Findings] says so.
//   - A record that is partial or contradicts itself is kept. [Clock.Check]
//     refuses only what cannot be stored.
//   - Nothing is deleted. A clock, a holder, a piece or a part of the survey
//     is marked removed, and [Settle] sees that rows left out of a form stay.
//   - Every change keeps who, when, before and after ([Diff], [DiffPart]).
//
// # Numbers
//
// A clock goes by the shop's number ("2026-014"); numbers that differ only
// in case, accents or spaces are the same number ([NumberKey]).
// Rows of a list are numbered 1, 2, 3 … within their clock and a number is
// not given out again.
//
// # Object ID
//
// The fields of [Object] are those of the Object ID checklist of the J. Paul
// Getty Trust and ICOM (1997), with its five additional ones; [Checklist]
// sets them out in the standard's order. Photographs, its first item, are
// kept by book/picture.
//
// # Inscriptions as read
//
// What stands on the clock is written line for line, spelling and capitals
// as they are. One mark that cannot be read is □; a run of marks of unknown
// number is [...]; letters supplied by the reader stand in [brackets]; the
// end of a line is a new line or |. [Illegible] counts what could not be
// read. This is common practice for inscriptions, without a source.
//
// # Times
//
// Instants are UTC, to the millisecond; days are local days of the shop,
// written 2026-12-24.
//
// # One clock as JSON
//
// [Encode] writes one clock with its survey, what was listened to, its logs,
// the records of its photographs, and its history; [Decode] reads it and names every fault by its path. The shape,
// version 2:
//
//	{
//	  "seatboard": "clock",
//	  "version": 3,
//	  "clock":   { …the fields of Clock… },
//	  "survey":  { "train": {"values": {"going": ["96/8 60/8 56/7 30"]}, "saved": "…"} },
//	  "listenings": [ {"uid": "…", "path": "file", …, "answer": {…}, "beats": {"count": 599, "base64": "…"}} ],
//	  "logs": [ {"book": "parts", "name": "…", "entries": [ {"n": 1, "when": "…", "who": "…", …} ]} ],
//	  "photographs": [ {"uid": "…", "sha256": "…", …} ], "main_photograph": "…",
//	  "not_in_this_file": "…",
//	  "history": [ {"when": "…", "who": "…", "record": "clock", "field": "title", "before": "…", "after": "…"} ]
//	}
//
// docs/data-format.md has a full example. The answer of a listening and what
// a recorder said of itself, and the entries of logs, are handed on word for
// word: what they say is for those who keep those logs. Beats are packed as
// book/readings says.
//
// Gaps: the files of photographs and recordings are not in it.
package job
