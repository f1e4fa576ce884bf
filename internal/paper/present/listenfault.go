package present

import (
	"fmt"
	"strings"

	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/culprit"
	"seatboard/internal/kit/unit"
)

// faultSentences name the part at fault, the odd teeth, what is cleared and
// what cannot be told yet.
func faultSentences(a listen.Answer) []string {
	if a.Culprit == nil {
		return nil
	}
	out := foundSentences(*a.Culprit)
	if len(out) > 0 {
		out[0] = next(a, out[0], "culprit")
	}
	for _, s := range [...]string{next(a, oddSentence(*a.Culprit), "tooth"), clearSentence(*a.Culprit), waitSentence(*a.Culprit)} {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}

// foundSentences name the strongest two suspects, or periods where the train
// is not known.
func foundSentences(a culprit.Answer) []string {
	const most = 2
	var out []string
	n := 0
	for _, s := range a.Suspects {
		if !evident(s) {
			continue
		}
		if n++; n <= most {
			out = append(out, suspectSentence(s))
		}
	}
	for _, p := range a.Peaks {
		if n++; n <= most {
			out = append(out, peakSentence(p, len(a.Suspects) > 0))
		}
	}
	if n > most {
		out[len(out)-1] += fmt.Sprintf(" %d more below.", n-most)
	}
	return out
}

// peakSentence tells of a period of no known part.
func peakSentence(p culprit.Peak, train bool) string {
	what, todo := "Something repeats in ", " State the train to have its name."
	if train {
		what, todo = "Something that is no part of this train repeats in ", ""
	}
	return what + lasting(p.Period) + ": " + swing(p.Amplitude) + ", chance that it is nothing " + oneIn(p.Chance) + "." + todo
}

// evident tells whether there is something, be it that its part cannot be
// told from another.
func evident(s culprit.Suspect) bool {
	return s.Standing == culprit.Found || s.Standing == culprit.Unlike
}

// suspectSentence is "Third wheel, once a turn (7 min 30 s): ±38 µs (31 to
// 45), chance that it is nothing 1 in 4,000."
func suspectSentence(s culprit.Suspect) string {
	name := suspectName(s)
	if len(s.With) > 0 {
		name = "Either " + lower(name)
	}
	line := fmt.Sprintf("%s (%s)%s: %s, chance that it is nothing %s.", name, lasting(s.Part.Period), others(s), swing(s.Amplitude), oneIn(s.Chance))
	if len(s.With) > 0 && s.ListenFor > 0 {
		line += " A record of " + hearFor(s.ListenFor) + " tells which."
	}
	return line
}

// others are the parts that a suspect cannot be told from: " or the centre
// wheel".
func others(s culprit.Suspect) string {
	if len(s.With) == 0 {
		return ""
	}
	return " or " + strings.Join(s.With, " or ")
}

func oddSentence(a culprit.Answer) string {
	var words []string
	best := 1.0
	for _, t := range a.Teeth {
		if isOdd(a, t) {
			words = append(words, fmt.Sprintf("tooth %d by %s", t.Number+1, toothWords(t)))
			best = min(best, t.Chance)
		}
	}
	switch n := len(words); {
	case n == 0:
		return ""
	case n == 1:
		return fmt.Sprintf("One tooth of the escape wheel is out: %s (chance that it is nothing %s). It is counted from the first in the record.", words[0], oneIn(best))
	case n <= 3:
		return fmt.Sprintf("Teeth of the escape wheel are out: %s, counted from the first in the record.", listed(words))
	default:
		return fmt.Sprintf("%d teeth of the escape wheel are out, among them %s, counted from the first in the record.", n, listed(words[:2]))
	}
}

// names lists the parts of one standing.
func names(a culprit.Answer, want func(culprit.Suspect) bool) []string {
	var out []string
	for _, s := range a.Suspects {
		if want(s) {
			out = append(out, "the "+s.Part.Name)
		}
	}
	return out
}

func clearSentence(a culprit.Answer) string {
	var most unit.Duration
	clear := names(a, func(s culprit.Suspect) bool {
		if s.Standing != culprit.Clear {
			return false
		}
		most = max(most, s.Smallest)
		return true
	})
	if len(clear) == 0 {
		return ""
	}
	than := ""
	if most > 0 {
		than = " as large as " + fine(most)
	}
	return "Nothing" + than + " in " + listed(clear) + "."
}

// fewestBeats is how many beats a period must have for them to show it.
const fewestBeats = 2.13

// waitSentence says what cannot be told yet and how long a record would tell
// it.
func waitSentence(a culprit.Answer) string {
	never := func(s culprit.Suspect) bool { return s.Standing == culprit.NotYet && !(s.ListenFor > 0) }
	fast := names(a, func(s culprit.Suspect) bool { return never(s) && s.Part.Beats < fewestBeats })
	hidden := names(a, func(s culprit.Suspect) bool { return never(s) && s.Part.Beats >= fewestBeats })
	var parts, out []string
	for _, s := range a.Suspects {
		if s.Standing == culprit.NotYet && s.ListenFor > 0 {
			parts = append(parts, hearFor(s.ListenFor)+" for the "+s.Part.Name)
		}
	}
	if len(parts) > 0 {
		out = append(out, "Not to be told yet: listen "+someOf(parts, 4)+", in one record.")
	}
	if len(hidden) > 0 {
		out = append(out, "The clock's own wander hides "+listed(hidden)+".")
	}
	if len(fast) > 0 {
		out = append(out, "The beats are too slow to show "+listed(fast)+".")
	}
	return strings.Join(out, " ")
}
