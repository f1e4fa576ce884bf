package tap

import (
	"fmt"
	"math"
	"strconv"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// few says why nothing can be told yet.
func few(n int) string {
	switch n {
	case 0:
		return "No tap counts."
	case 1:
		return "One tap does not show its own doubt."
	}
	return "Two taps hardly show their own doubt."
}

// oddWords says which taps have no weight.
func (w *work) oddWords() {
	var twice, apart []int
	for i, t := range w.a.Taps {
		switch t.Odd {
		case Twice:
			twice = append(twice, i+1)
		case Apart:
			apart = append(apart, i+1)
		}
	}
	if len(twice) > 0 {
		w.say(meas.Note, "twice", which(twice)+" at a mark that another stands at, and out.", "", "taps")
	}
	if len(apart) > 0 {
		w.say(meas.Note, "apart", which(apart)+" farther from the others than chance allows (1 in 100), and out.", "", "taps")
	}
	if len(w.a.Taps) > 0 && w.a.Taps[0].Odd != "" && w.q.Shown.Set {
		w.say(meas.Doubt, "first-odd", "The first tap is out, and the dial was read at it: the reading may be a mark off.", "See whether it agrees with the dial.", "shown")
	}
}

// which names taps by their numbers: "Taps 3 and 7 are".
func which(n []int) string {
	if len(n) == 1 {
		return "Tap " + strconv.Itoa(n[0]) + " is"
	}
	s := "Taps "
	for i, x := range n {
		switch {
		case i == len(n)-1:
			s += " and "
		case i > 0:
			s += ", "
		}
		s += strconv.Itoa(x)
	}
	return s + " are"
}

// remarks says what is to be known of a reading.
func (w *work) remarks() {
	if w.a.Used() < 5 && w.a.Scatter.Value > 0.5 && w.q.Way != Minutes {
		w.say(meas.Doubt, "wide", "The taps are far apart, and they are too few to say which is odd.", "Tap on: from five on an odd one is found.", "taps")
	}
	if w.a.Rate.Set && !w.a.Rate.Has(0) {
		w.say(meas.Note, "rate", "Within these taps alone the clock goes at "+w.a.Rate.Text("s/d")+".", "")
	}
	if n := w.beats(); w.q.Way == InBeat && n > 0 && n%2 == 0 {
		w.say(meas.Note, "half", "All taps are of the same half of the beat: where the clock is out of beat, the reading is off by a quarter of the beat error.", "Take readings of one clock at the same half.", "every")
	}
	if w.a.BeatError.Set && !w.a.BeatError.Has(0) {
		w.say(meas.Note, "beat-error", "By the taps the two halves of the beat differ by "+w.a.BeatError.Text("ms")+".", "Hear it: taps are a coarse way to find it.")
	}
	text := "How late the taps are by habit is not seen in them; it is much the same in each reading by one person, and the rate does not feel it."
	if w.q.Way == Blow {
		text = "The strike lets go where its pin stands, not where the minute hand shows the hour: what it is early or late by is the same in each reading by the strike."
	}
	w.a.Findings = append(w.a.Findings, meas.Finding{Level: meas.Note, Code: "habit", Text: text, Ref: habit(w.q.Way).late.Ref})
}

// show writes the sums.
func (w *work) show(ua, freedom, k float64) {
	h := habit(w.q.Way)
	ref := h.late.Ref
	if w.q.Lag.Set {
		ref = cite.Ref{Grade: cite.Measured, Note: "stated for this person"}
	}
	n, s := w.a.Used(), w.f.s
	if math.IsInf(freedom, 1) {
		s = float64(oneTap.V)
	}
	step := func(name, formula, numbers, result string, ref cite.Ref) {
		w.a.Working = append(w.a.Working, cite.Step{Name: name, Formula: formula, Numbers: numbers, Result: result, Ref: ref})
	}
	step("Scatter of one tap", "s = √(Σ r² / ν)", fmt.Sprintf("%d taps, ν = %s", n, degrees(freedom)), seconds(s), cite.Ref{Grade: cite.Computed})
	step("Doubt of their mean", "u₁ = s / √n", fmt.Sprintf("%s / √%d", seconds(s), n), seconds(ua), cite.Ref{Grade: cite.Computed})
	step("Late by habit", "d ± u₂", "", seconds(float64(w.a.Lag.Value))+" ± "+seconds(float64(w.a.Lag.U)), ref)
	if w.q.Host > 0 {
		step("Time of day", "u₃", "", seconds(float64(w.q.Host)), cite.Ref{Grade: cite.Measured})
	}
	step("Error of the clock", "mean(mark − tap) + d ± t √(u₁² + u₂² + u₃²)", fmt.Sprintf("t = %.2f", k), w.a.Error.Text("s"), cite.Ref{Source: "rosner", Place: "odd taps; Student's t for the rest", Grade: cite.Computed})
}

func degrees(freedom float64) string {
	if math.IsInf(freedom, 1) {
		return "as in print"
	}
	return strconv.Itoa(int(freedom))
}

func seconds(x float64) string { return unit.Text(unit.Duration(x), "s", 3) }
