// Package clean decides whether parts may go into a liquid: which of them,
// in which, how long, how warm, and what can hurt. It is for the person who
// stands with a tray of parts in front of a bath.
//
// # What is judged
//
// A [Query] names the liquid, the bath and the pieces with all that each is
// made of and carries: "brass, bare", "lacquered", "set in shellac". A piece
// is as delicate as the most delicate thing on it. [Solve] looks each of them
// up in the table of [Cells] and adds the rules that no table has:
//
//   - a flash point and heat or ultrasound never meet;
//   - luminous paint where radium is not ruled out is not cleaned at all;
//   - a movement that is still together does not go in: liquid stays between
//     the parts;
//   - metals of unlike nobility do not share a water bath;
//   - time, warmth and age of the bath.
//
// What is refused is a [Refusal] with its reason and its authority. A hard
// one is for the safety of people and nothing written lifts it; any other may
// be overruled by the person at the bench with a reason that stays in the
// record, and whoever keeps the record sees to that. What is not known is
// asked ([Answer.Questions]), never supposed.
//
// # Flash points
//
// The one on the safety data sheet wins. Without it the lowest of the named
// substances stands, and for each substance the lower of IEC 60079-20-1:2010
// and NFPA 497-2008, which differ by up to 3 K; a mixture can have a lower
// one than any of its substances, so it is asked for all the same. Mist over
// an ultrasonic tank burns below the flash point (CTG 2012), so there is no
// margin to reckon with: either there is none, or no heat and no ultrasound.
//
// # Time
//
// No safe time in ammonia has been published. Twenty minutes is common
// practice of the trade, and so are five for what the table calls short.
//
// # Sources
//
// The Notes of the Canadian Conservation Institute, ISO 6957, a letter of
// D. Harvey (1998) on ammonia and brass; flash points and exposure limits of
// IEC, NFPA, OSHA and NIOSH; the rules on radium of Great Britain and of
// American states. Much of the table is common practice without a source, and
// each such cell says so. A sheet of the actual product is always better.
//
// # Gaps
//
// Bronze, nickel silver, tin, platings and plastics have no row: choose "not
// known" and try a piece. Polishes and pastes are not baths. The strength of a
// bath is not reckoned. Exposure in the room is not: limits are shown only.
//
// # JSON
//
// The answer to whether a batch may go into a bath.
//
//	query              what was asked, as typed
//	verdict            "go", "care", "ask" or "no"
//	liquid             key, name, water (true: water-based), ammonia
//	cells[]            piece, name, material, verdict ("ok", "care", "test", "no"), short, reason, source
//	refusals[]         hard (nothing lifts it), finding: level, code, text, next, about[], source
//	questions[]        level, code, text, next, about[], source
//	flash_point        K, null where there is none or it is not known
//	flash_from         "sheet", "sheet says none", "table", "water", "not known"
//	limit              s, the longest time in the bath
//	steps[]            key, name, what, source: bath, rinse, second rinse, dry, inspect
//	hazards[]          key, text, authority, source
//	working[]          name, formula, numbers, result, source
//	findings[]         level, code, text, next, about[], source
//	complete           every question is answered
package clean
