package regulate

// blindFrom is the share of a turn's worth that its doubt must be for a turn
// to be a try: after it, the nut is known better than before.
const blindFrom = 1.0 / 3

// blind tells whether what a turn of this nut does is hardly known.
func (f *fitted) blind() bool {
	k, u := f.line.turn()
	if j := f.line.nut; j >= 0 {
		push := make([]float64, len(f.line.columns))
		push[j] = 1
		k, u = f.of(asked{push: push}).moments()
	}
	return !(u < blindFrom*k)
}

// worthATry tells whether a turn may not bring the clock right only because
// this nut is not known; best is the chance of being right if a turn did just
// what it shall.
func (f *fitted) worthATry(asIs, best float64) bool { return best > asIs+worth && f.blind() }

// tryWords says a turn that is a try.
func (f *fitted) tryWords(a *Advice, turns float64) {
	f.turnWords(a, turns)
	a.Words += " That is a try: what a turn of this nut does is not known, and this one tells it. The pitch of its thread, in the survey’s pendulum, tells it beforehand."
}

// tooCoarse says why a turn would not make the rate surer.
func (f *fitted) tooCoarse(best, asIs float64) string {
	if best > asIs+worth {
		return "its slip and lost motion come to more than what is wanted; grams on a tray are surer"
	}
	return f.unknowable()
}
