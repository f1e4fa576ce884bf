// Package notes reads a clock's time on trial from lines as a restorer writes
// them on the scrap of paper at the case door. For: whoever has such a paper,
// and a page or a command that asks for one.
//
//	2026-11-03 09:14   +12 s, 17.5 °C, 1013 hPa     fast by 12 s, and the air
//	2026-11-04 09:10   1 min 5 s ± 1 s slow by tap
//	           18:02   +0:14                          the day of the line above
//	2026-11-05 nut up 1/2                             some time that day
//	2026-11-05 18:00   21.5 °C
//	2026-11-06 08:00   +3.2 ± 0.1 s/d over 20 min     a rate, from listening
//	2026-11-07 12:00   set to +1 s
//	2026-11-08 07:20   stopped until 2026-11-08 18:30: the weight was down
//	2026-11-09 10:00   moved: to the other wall       # what follows is not read
//
// A line is a day, an hour, and what was read or done. The day is like
// 2026-11-03 or 3 Nov 2026; the hour is that of the zone that the caller names,
// or has its own offset behind it (09:14 +01:00), or both are one instant
// (2026-11-03T09:14:00Z). An hour that came twice or never is refused with what
// to write. A line without a day is of the day above it.
//
// A touch without an hour was made between the lines about it, or between the
// ends of its day: [regulate.Touch.At] and Until say so. A reading and a stop
// need an hour.
//
// What was read is written as on the clock's page ([trial.ParseSeen]), and so is
// what was done ([trial.ParseTouch]). Nothing is guessed: every line that cannot
// be read is told, all at once, by its number.
package notes
