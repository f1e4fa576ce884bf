// Package simulate makes clocks on trial whose truth is known: how they go,
// who looks at them and how badly, what is done to them. It is what the
// estimate and the advice of craft/regulate are held to: their limits must
// hold as often as they say, and following the advice must bring a clock
// right.
//
// For: whoever changes the estimate, and wants to see what that does to a
// thousand clocks.
//
// A [Recipe] says everything; [Draw] draws one at random. [New] makes a
// [Clock] of it, which is led on step by step ([Clock.Advance], [Clock.Go],
// [Clock.Read], [Clock.Listen], [Clock.Turn]); [Clock.Query] is what its
// keeper knows, [Clock.Truth] and [Clock.Ahead] what is so. The same recipe
// and the same steps give the same clock.
//
// # Truth
//
// With x the error in s, r the rate, by steps of half an hour at the most:
//
//	dx = r·dt + wander·dW₁          white noise of the rate
//	r  = base + turn·screw + kelvin·(T − mean) + pascal·(p − mean)
//	d base = drift·dt + walk·dW₂    the rate walks, and may drift
//
// The air is a daily and a weather wave and a noise with a memory of five days
// (T), a noise with a memory of three (p). The nut turns by what is asked for
// but for a slip that grows with it and one that does not; the bob follows it
// only beyond the lost motion, and nobody knows where within that it hangs to
// begin with. Each touch jolts the error a little. What is held beforehand is wrong by a draw
// from its stated doubt.
//
// Gaps: the rod takes on the temperature of the air at once; noises are
// normal but for the mistakes; nobody's habit changes; the flicker noise that
// real clocks have between white and walk is left out.
//
// No figure here has a source but the expansions, which are those of
// craft/pendulum: the clocks are invented, and their spread is wide on
// purpose.
package simulate
