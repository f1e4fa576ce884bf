// Package drive answers what drives a clock: the weight, its line, its barrel
// and its way down the case, or the mainspring and the fusee. It is for the
// person who has the movement on the bench and the case against the wall, and
// asks: does it run its eight days, does the weight reach the floor first,
// will the line bear it, where does the weight hang on Saturday?
//
// # What is asked and answered
//
// A [Query] holds whatever was measured; [Solve] computes every result whose
// inputs are there and leaves the rest unset. [Query.Check] lists all
// mistakes in the inputs at once. [Answer.At] tells where the weight hangs at
// any hour.
//
// # How it is computed
//
//   - The line is laid on the barrel at the diameter of its own middle, D + d
//     (barrel measured bare, or at the bottom of the groove). One turn pays out
//     π(D + d); a movable pulley halves the fall of the weight ("falls" is the
//     number of lines that carry it). A second layer lies one line further out
//     and comes off first.
//   - The weight hangs, from the seat board down: the line, the weight with its
//     hook and pulley, what is left to the floor.
//   - The weight swings in sympathy with the pendulum where its free length,
//     from the place where the line leaves the barrel to the middle of the
//     weight, is near the pendulum's. The printed sources describe this
//     (Goodrich 1905 ch. XV, Beckett 1903 p. 126) without figures; the band of
//     ±10 % is common practice and can be set.
//   - Work of the weight: m g times its fall, over the beats it lasts.
//   - Strength of a wire rope: d² R K (Vornbäumen's factors, proved on API 9A
//     table C.1). The tables begin at 6 mm: below that the extension is ours.
//     Brass wire by EN 12166, gut by its breaking index, synthetic cord from
//     memory; a stated breaking load wins over all of them.
//   - A mainspring has most turns when its band fills half the free space;
//     torque and stress are those of a strip bent evenly, without friction
//     between the coils: M = E b t³ θ/(12 L), θ in radians.
//   - A fusee keeps torque times radius constant; its turns follow from the
//     work taken off the barrel.
//
// # Range and gaps
//
// Not computed: friction of a pulley by its pivots (a stated loss is taken
// off), the set of a spring, friction between its coils, the helix of a fusee
// (its pitch is small), the rope length of an endless loop, the amplitude of
// the sympathetic swing, the fall of the centre of a cord in a V groove (state
// the diameter at its middle). Gravity is 9.80665 m/s² unless stated. The
// strength of used line is not that of new line.
//
// # JSON
//
// The query is an object of optional members, snake_case. A quantity is a text
// with its unit ("1.4 mm", "12 lb ± 1 oz") or {"value":0.0014,"unit":"m"}.
//
//	name                     text
//	weight_mass              everything that hangs: weight, hook, pulley
//	weight_material          lead, zinc, iron, cast iron, steel, brass,
//	                         cast brass, rolled brass, mercury
//	weight_density           stated density; wins over the material
//	weight_diameter, weight_height, weight_bore   cylinder and its hole
//	weight_wanted            mass to find the height for
//	weight_length            overall, hook and pulley to the bottom
//	barrel                   plain, grooved, endless (rope and sprocket)
//	barrel_diameter          bare; endless: at the middle of the rope
//	barrel_length, barrel_material (brass, steel, iron, wood)
//	turns, layers, wraps     turns used; layers allowed; turns left on when down
//	groove_pitch, line_diameter, falls (1 direct, 2 one movable pulley)
//	line_material            steel, brass, gut, synthetic
//	line_construction        7x7, 7x19, or as the table: 6x7 FC, 6x19 IWRC …
//	rope_grade               "1770 MPa"; 1570 MPa where not stated
//	brass_temper             1/8 hard, 1/4 hard, 1/2 hard, hard spring
//	rope_factor              K of the maker's table; wins over the construction
//	line_strength            tensile, of a solid wire or cord ("400 MPa")
//	breaking_load            stated; wins over all of them
//	factor                   asked of the line; 5 for rope and wire, 7 for gut
//	                         and cord where not stated
//	turn_time or turns_per_hour   of great wheel and barrel
//	running_time             wanted; where not stated 8 d for a week's clock,
//	                         30 h for an endless rope, else what the turns last
//	beats_per_hour           or from the pendulum's length
//	fall                     measured fall of the weight in the running time
//	room                     what the case leaves for the fall, wound to the floor
//	seat_to_floor, top_gap, barrel_above_seat
//	pendulum_length, suspension_above_seat, bob_half_height
//	bob_mass, amplitude      amplitude: half arc
//	swing_band               half width of the zone, part of the length
//	wound_on, wound_at       weekday; time since midnight ("9 h")
//	gravity, friction        friction: part of the pull that is lost
//	spring_barrel, spring_arbor, spring_thickness, spring_height,
//	spring_length, spring_modulus, spring_turns, coils_wound, coils_down,
//	spring_new_thickness
//	fusee_torque             "0:900 1:850 2:800 N mm" or
//	                         [{"turn":0,"torque":"900 N mm"}, …]
//	fusee_barrel             diameter the chain lies at; turns are the barrel's
//	fusee_largest, fusee_smallest   radius to scale by
//
// The command line and the page name the same inputs with hyphens
// (barrel-diameter); the weight's mass is "weight" there.
//
// The answer is an object. A quantity is {"value":…,"unit":"m","u":…,
// "budget":[…]} in SI, null where it could not be computed; u is one standard
// uncertainty. Times are seconds, "for_room" is what would use the room
// exactly, a length or time "left" is negative where there is too little.
//
//	query        as given
//	weight       mass, by_dimensions, density, mass_per_inch (of height),
//	             height_for_wanted, impact_energy
//	line         tension, breaking_load, strength, working_load, factor_asked,
//	             factor, bend_ratio, wire_bend_ratio, on_barrel, length,
//	             turns_that_fit
//	fall         centre_diameter, line_per_turn, fall_per_turn, turn_time,
//	             running_time, winding_due, turns_needed, fall, fall_per_day,
//	             fall_when_due, room, bottom_wound, left_when_due, left_at_end,
//	             lands_after, lands_when (text), barrel_for_room,
//	             centre_for_room, line_per_turn_for_room
//	power        power (W), energy_per_day, beats_per_hour, energy_per_beat,
//	             fall_per_beat, q_with_train
//	hangs        list: after_s (a number), label, when, fallen,
//	             bottom_below_seat, above_floor, free_length
//	swing, bob   from, level, to, words; absent where they do not occur
//	pendulum_length
//	spring       fill, max_turns, best_length, coils_wound, coils_down, turns,
//	             band, best_band, wound_radius, torque_per_turn, torque,
//	             stress, stress_per_turn, energy, torque_ratio_new, turns_new,
//	             max_turns_new, best_length_new
//	fusee        points (list: turn, fusee_turn, torque, pull, radius), chain,
//	             turns, torque, unevenness, running_time
//	working      list: name, formula, numbers, result, source
//	findings     list: level, code, text, next, about (fields), source
//	complete     true where the fall against the case, the turns of the spring
//	             or the radii of the fusee could be told
package drive
