// Package home reckons what a clock will do where it is to stand, and how to
// set it before it leaves so that it is right there. For: the restorer who
// takes a clock that was regulated in the shop to another house.
//
// # What changes
//
// Gravity: r = √(g₂/g₁) − 1, with the gravity of both places as measured or
// from latitude and height (craft/pendulum). A place alone tells its gravity
// to a part in 10 000, 4.3 s a day; of two such places the doubt of the change
// is 6 s a day, and a touch there will be wanted whatever is done here. Two
// places near each other have much of what is odd about their ground in common:
// within some 30 km the doubt is too large rather than too small.
//
// Warmth: the rate for a degree, as the trial found it or as the rod has it,
// times the difference of the rooms. Not here: a draught, the sun on the case,
// the damp in a wooden rod, another arc because another wall gives way
// differently. That last is the commonest; nothing beforehand tells it.
//
// # What to do
//
// What it shall do here is what is wanted there less the change. A touch is
// advised where it surely betters what is to come: the rate to expect is off
// by more than its own limits of 95 in 100, and the chance of being right grows
// by a tenth or more. Else it goes as it is. A nut is turned in its divisions,
// or in sixteenths of a turn where it has none.
//
// # Setting up
//
// What to look at on the day, and after 1, 2 and 7 days ([Answer.Setting]), is
// common practice, but for the beat, which is by ear and not by the level of
// the case: C. Jerome, 1860, ch. XIV. The error to expect after so many days
// grows with the doubt of the rate.
//
// # JSON
//
// The answer of seatboard home --json. Quantities are in SI, null where they
// cannot be told; rates are seconds a second.
//
//	query           what was asked, as typed
//	here, there     gravity, m/s²
//	by_gravity, by_warmth, gain
//	                change of the rate by going there, gaining positive, and
//	                their sum
//	expect          rate there if nothing is touched
//	aim             rate that it shall have here
//	turns           of the nut for that, up positive, as they can be made
//	divisions       the same in marks of the nut, 0 where it has none
//	mass            kg on the tray instead, negative off
//	after           rate to expect there after that touch
//	as_is, right    chance that it is right there without it, and with it
//	do              "turn", "weigh", "leave", "unknown"
//	words           the same in a sentence
//	days[]          day, error (s, to expect there then with its limits)
//	setting[]       when, what, source
//	working[]       name, formula, numbers, result, source
//	findings[]      level, code, text, next, about[], source
//	complete        the change is known
package home
