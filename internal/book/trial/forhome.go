package trial

// SetForHome tells whether a clock is to be set here so that it is right at its
// home, and since which entry: what someone said of it last, or the signing of
// the gate before the last. Where no home with a gravity or a warmth is written
// down it is not.
func (b Book) SetForHome() (since int, on bool) {
	var aim Aim
	signed := map[string]bool{}
	for i, e := range b.log {
		if !b.standing[i] {
			continue
		}
		switch e.Kind {
		case Aimed:
			aim = *e.Aim
		case Passed:
			signed[e.Gate] = true
		case Began, Failed:
			signed[e.Gate] = false
		default:
			continue
		}
		was := on
		if on = aim.forHome(signed); on && !was {
			since = e.N
		}
	}
	return since, on
}

// forHome tells whether the home counts, with these gates signed.
func (a Aim) forHome(signed map[string]bool) bool {
	if a.Home == nil || !a.Home.Says() {
		return false
	}
	if a.ForHome != AtLastGate {
		return a.ForHome == FromNow
	}
	for _, g := range a.Gates[:max(0, len(a.Gates)-1)] {
		if !signed[g.Key] {
			return false
		}
	}
	return len(a.Gates) > 0
}

// Says tells whether anything is written of a home that bears on the rate.
func (h Home) Says() bool {
	return h.Latitude != "" || h.Gravity != "" || h.Temperature != ""
}
