package present

import (
	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// GoingInShort is what a clock does and where that goes, in a line: "+3.2 ± 0.4
// s/d, steady".
func GoingInShort(a regulate.Answer) string {
	if !a.Complete || !a.Rate.Now.Set {
		return "no rate yet"
	}
	return phrase.PerDay(a.Rate.Now) + trendWords(a.Rate.Drift)
}

// trendWords says where a rate goes, where its limits tell it from standing
// still. drift is a change of the rate in a day.
func trendWords(drift meas.Interval[unit.Rate]) string {
	switch {
	case !drift.Set:
		return ""
	case drift.Low > 0:
		return ", going faster by " + unit.Text(drift.Value, "s/d", 2) + " each day"
	case drift.High < 0:
		return ", going slower by " + unit.Text(-drift.Value, "s/d", 2) + " each day"
	}
	return ", steady"
}
