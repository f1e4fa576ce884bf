package tap

import (
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/unit"
)

// late is how late people tap by habit in one way of tapping, and the spread
// of it from person to person.
type late struct {
	late, u cite.Value[unit.Duration]
}

// habit is what is known of a way.
func habit(w Way) late {
	stopwatch := cite.Ref{Source: "ajp87", Place: "abstract"}
	switch w {
	case InBeat:
		r := cite.Ref{Source: "repp", Grade: cite.Memory, Note: "people tap ahead of what they tap along with"}
		return late{cite.Value[unit.Duration]{V: -0.04, Ref: r}, cite.Value[unit.Duration]{V: 0.03, Ref: r}}
	case Minutes:
		r := cite.Ref{Grade: cite.Computed, Note: "half a millimetre at the end of a minute hand of 100 mm is 2.9 s"}
		return late{cite.Value[unit.Duration]{V: 0.11, Ref: stopwatch}, cite.Value[unit.Duration]{V: 3, Ref: r}}
	case Blow:
		r := cite.Ref{Source: "kosinski", Place: "mean simple reaction times, sound", Grade: cite.Memory}
		return late{cite.Value[unit.Duration]{V: 0.16, Ref: r}, cite.Value[unit.Duration]{V: 0.05, Ref: r}}
	}
	return late{cite.Value[unit.Duration]{V: 0.11, Ref: stopwatch}, cite.Value[unit.Duration]{V: 0.07, Ref: stopwatch}}
}

var (
	// oneTap is the scatter of a tap that stands alone: that of a stopwatch
	// started and stopped has two of them in it.
	oneTap = cite.Value[unit.Duration]{V: 0.0707, Ref: cite.Ref{Source: "ajp87", Place: "abstract", Note: "0.10 s of a start and a stop, over √2"}}
	// even is the scatter of practised tapping, for comparison.
	even = cite.Value[unit.Duration]{V: 0.030, Ref: cite.Ref{Source: "mazurka", Place: "3,000 clicks 600 ms apart"}}
	// oddChance is how often a tap is called apart that is not.
	oddChance = cite.Value[float64]{V: 0.01, Ref: cite.Ref{Grade: cite.CommonPractice}}
)

// Sources lists every figure that the chapter leans on.
func Sources() []cite.Entry {
	var out []cite.Entry
	for _, w := range Ways() {
		h := habit(w)
		out = append(out,
			cite.Entry{Name: "late by habit, " + w.Words(), Value: unit.Text(h.late.V, "s", 2), Ref: h.late.Ref},
			cite.Entry{Name: "its spread from person to person, " + w.Words(), Value: unit.Text(h.u.V, "s", 2), Ref: h.u.Ref})
	}
	return append(out,
		cite.Entry{Name: "scatter of a tap that stands alone", Value: unit.Text(oneTap.V, "s", 2), Ref: oneTap.Ref},
		cite.Entry{Name: "scatter of practised tapping, for comparison", Value: unit.Text(even.V, "s", 3), Ref: even.Ref},
		cite.Entry{Name: "odd taps", Value: "generalised extreme deviate, 1 in 100", Ref: cite.Ref{Source: "rosner"}})
}
