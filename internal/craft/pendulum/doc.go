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
// passing through the bob without displacing any of it; a nut is a point.
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
// # Rates
//
// A rate is positive when the clock gains. Raising the bob makes it gain.
// Warmth, a wider arc and heavier air make it lose.
//
// # Sources
//
// Beckett, 8th ed. 1903, pp. 34–73, for circular error, lengths, regulating
// mass and expansion; Goodrich 1905, ch. II, IV, V; NIMA TR8350.2 and Moritz
// 2000 for gravity; CIPM-2007 for air. [Checks] sets their printed figures
// beside ours, with seven of Beckett's and Gourdin's known misprints.
//
// # Gaps
//
// Compensation is reckoned only as far as the uncompensated rate; the
// suspension spring's stiffness, the air carried along by the bob (measured
// pressure effects are about twice the static one) and the escapement's own
// error are not here. Expansion of wood is along the grain and says nothing
// of moisture.
//
// # JSON
//
// The answer of seatboard pendulum --json. A quantity is
// {"value":0.994,"unit":"m","u":0.0001,"budget":[…]}; what could not be
// reckoned is null.
//
//	query                what was asked, as typed
//	gravity              m/s²; gravity_from: "typed", "seconds-pendulum", "place", "standard"
//	length               m, to the centre of swing: typed, or from the beat
//	beat, period         s, of that length (or as typed)
//	beats_per_hour, beats_per_minute
//	seconds_pendulum     m, at this gravity
//	rate                 s/s, of the pendulum as typed against the beat as typed, gaining positive
//	one_second_a_day     m of length for 1 s a day
//	compound             rod_mass, bob_mass, mass, centre_of_gravity, radius_of_gyration,
//	                     length, bob_centre, to_bottom
//	nut                  pitch, per_turn, per_turn_simple, per_division, threads[]
//	move                 raise (m, negative: lower), turns, divisions, for the wanted change
//	place                gravity, rate, raise (m)
//	arc                  loss, loss_series, length, to_loss, change  (rates; loss is negative)
//	warmth               expansion, per_kelvin, effect
//	air                  density, buoyancy, per_hpa, per_inhg
//	tray                 per_gram, mass_for_one_second_a_day, at_middle
//	working[], findings[], complete
package pendulum
