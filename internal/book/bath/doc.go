// Package bath keeps one cleaning batch from the moment its parts go into the
// liquid until it is closed: begun, taken out, rinsed, rinsed again, dried,
// inspected. It is for the person who is called away while a tray lies in the
// liquid.
//
// A [Batch] is folded from an append-only log of [Event] values. The end of
// the bath is an instant ([Batch.Until]), never a countdown, so that it
// survives a restart and a sleep: what is left, or overdue, is asked with the
// time of now ([Batch.Left]).
//
// [Begin] asks craft/clean first. A hard stop ends there. Any other refusal
// may be overruled with a written reason, which stays in the log; a question
// must be answered. The steps are ticked in their order, each with its
// instant, and the batch closes only when all are ticked and the inspection
// says what was seen. All of this is common practice of the trade.
package bath
