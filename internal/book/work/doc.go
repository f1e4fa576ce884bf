// Package work has the rules of what is done to a clock and how long it took:
// hours by the running clock or by hand ([Stretch]), the originality ledger
// ([Intervention]) and the owner's consent ([Consent]).
//
// # Hours
//
// A stretch is from one instant to another, reckoned from the instants, and
// counts for the day on which it began. One person has one running clock. A
// stretch that ran longer than anybody works, or over midnight, was probably
// forgotten: it is asked about ([Rule.Asks]) with the ends that may be meant,
// and until it is answered it stands in no sum and on no bill ([Sum]).
// Nothing is cut short or kept without asking. A stretch that was billed is
// not changed any more.
//
// # Originality
//
// The object outlives the record-keeper. For every intervention the ledger
// says what was found, what was done and why, what material came and went,
// whether it can be undone and how, where the original piece is, and which
// photographs show it before and after. What is missing is said
// ([Intervention.Findings]) and not refused, but for one thing: new ivory goes
// nowhere before the question of law is answered.
//
// The rules follow the Commentaries to the Guidelines for Practice of the
// American Institute for Conservation, as the record needs them (who, when,
// before and after, materials, departures from the plan).
package work
