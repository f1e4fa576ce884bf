// Package pendulum reckons the pendulum of a clock: its length from its beat
// and back, what it does in another place, at another arc, warmer or in
// heavier air, where the bob must sit, and what a turn of its nut is worth.
// It is for the person who has the rod in one hand and a rule in the other.
//
// # Lengths
//
// Length is that of the simple pendulum of the same beat: from the bending
// point of the suspension to the centre of swing, for small arcs,
//
//	L = g (t/π)²,   t seconds to a beat.
//
// The rod is longer than that, and the centre of the bob is not the centre of
// swing: where rod and bob are described, the pendulum is reckoned as a
// compound one, l = Σ m k² / Σ m x about the suspension, and the place of the
// bob follows. The rod is taken as uniform from the suspension down and as
// passing through the bob without displacing any of it; a nut is a point, and
// sits under the bob unless its place is stated.
// Arcs are half arcs, from the vertical to the end of the swing.
//
// # Gravity
//
// A gravity that was measured, or the length of the seconds pendulum that a
// book uses, wins. Else it is the normal gravity of latitude and height on
// the ellipsoid (Somigliana's closed form and the second-order height term of
// NIMA TR8350.2, eq. 4-1 and 4-3). The ground differs from the ellipsoid by
// about a part in 10 000 (here: of twelve observed places and five pendulum
// stations), so a gravity from a place is good to some 4 s a day, and that is
// its stated doubt. Without either the conventional 9.80665 m/s² stands, with
// the doubt of not knowing where on earth: 0.15 %.
//
// A stated gravity that is not one of the stated place, and one that is not
// that of the stated seconds pendulum, are said.
//
// # Rates
//
// A rate is positive when the clock gains. Raising the bob makes it gain.
// Warmth, a wider arc and heavier air make it lose.
//
// # Sources
//
// Beckett, 8th ed. 1903, pp. 34–73, for circular error, lengths, regulating
// mass and expansion; Goodrich 1905, ch. II, IV, V; NIMA TR8350.2 and Moritz
// 2000 for gravity; CIPM-2007 for air (constants from memory, checked).
// [Checks] sets some 250 printed figures beside ours; the known misprints of
// Beckett and of Gourdin's table stand among them and must not agree.
//
// # Doubts
//
// A reading without a stated doubt is taken as exact, except gravity from a
// place and the properties of a material on which sources differ: their span
// counts as a rectangle. Density of rod and of bob count as independent.
//
// A bob that was weighed and measured has the density of its weight and size
// for the air, whatever its material; where the two are apart, that is said.
//
// # Gaps
//
// A compensated pendulum is reckoned only as its bare rod. Not here: the
// stiffness of the suspension spring, a spring or hook between the bending
// point and the rod, the hole through the bob, the air carried along by the
// bob (measured effects of pressure are about twice the buoyancy), the
// escapement's own error, moisture in wood (expansion is along the grain).
//
// # JSON
//
// The answer of seatboard pendulum --json. A quantity is
// {"value":0.994,"unit":"m","u":0.0001,"budget":[{"input":"length","part":1}]}
// in SI; u and budget stand where a doubt is known; what could not be reckoned
// is null. Rates are seconds a second: times 86 400 for seconds a day.
//
//	query                what was asked, as typed
//	gravity              m/s²
//	gravity_from         "typed", "seconds-pendulum", "place", "standard"
//	length               m, to the centre of swing
//	length_from          "typed", "beat", "rod-and-bob", ""
//	beat, period         s, of that length (or as typed)
//	beats_per_hour, beats_per_minute
//	seconds_pendulum     m, at this gravity
//	rate                 of the length as typed on the beat as typed (at the arc,
//	                     if stated), gaining positive
//	one_second_a_day     m of length for 1 s a day
//	compound             rod_mass, bob_mass, mass (kg); centre_of_gravity,
//	                     radius_of_gyration (about the suspension), length,
//	                     bob_centre, to_bottom (m); bob_centre_found; where the
//	                     bob's place and a beat were both stated: rate,
//	                     bob_centre_wanted, raise (m, negative: lower)
//	nut                  pitch (m), per_turn, per_turn_simple, per_division (up
//	                     positive), threads[]: series, size, pitch_m,
//	                     threads_per_inch, metric, source
//	move                 raise (m, negative: lower), turns, divisions (up
//	                     positive), for the wanted change
//	place                gravity, rate, raise (m), turns: there
//	arc                  loss, loss_series, to_loss (negative), change, length
//	                     (m, that keeps the beat at this arc), ratio and period
//	                     (exact, of the length at this arc; period above is at a
//	                     very small one)
//	warmth               expansion (1/K), per_kelvin, effect
//	air                  density (kg/m³; where anything of the air or the bob's
//	                     density is known: 20 °C, 1013.25 hPa and 50 % stand for
//	                     what was not stated), buoyancy, per_hpa, per_inhg
//	tray                 per_gram, mass_for_one_second_a_day, at_middle (kg)
//	working[]            name, formula, numbers, result, source
//	findings[]           level, code, text, next, about[], source
//	complete             length and beat are both known
package pendulum
