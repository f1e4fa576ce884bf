package listen

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"seatboard/internal/craft/listen/culprit"
	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// faults names the part at fault, the odd teeth, what is cleared and what
// cannot be told yet.
func (t *telling) faults(a culprit.Answer) {
	t.found(a)
	t.odd(a)
	t.cleared(a)
	t.waiting(a)
}

// mostNamed is how many parts and periods are named; the others are counted.
const mostNamed = 2

// found names the strongest suspects, or periods where the train is not known.
func (t *telling) found(a culprit.Answer) {
	n := 0
	for _, s := range a.Suspects {
		if !s.Evident() {
			continue
		}
		if n++; n <= mostNamed {
			todo := ""
			if n == 1 {
				todo = "Look at its depthing and whether it runs true."
			}
			t.add(meas.Clash, "culprit", suspectWords(s), todo)
		}
	}
	for _, p := range a.Peaks {
		if n++; n <= mostNamed {
			what, todo := "Something repeats every ", "State the train to have its name."
			if len(a.Suspects) > 0 {
				what, todo = "Something that is no part of this train repeats every ", ""
			}
			t.add(meas.Clash, "period", what+phrase.Lasting(p.Period)+": "+phrase.Swing(p.Amplitude)+", chance that it is nothing "+phrase.OneIn(p.Chance)+".", todo)
		}
	}
	if n > mostNamed {
		(*t)[len(*t)-1].Text += fmt.Sprintf(" %d more stand out.", n-mostNamed)
	}
}

// suspectWords is "Third wheel, once a turn (7 min 30 s): ±38 µs (31 to
// 45), chance that it is nothing 1 in 4,000."
func suspectWords(s culprit.Suspect) string {
	name := SuspectName(s)
	if len(s.With) > 0 {
		name = "Either " + phrase.Lower(name)
	}
	line := fmt.Sprintf("%s (%s)%s: %s, chance that it is nothing %s.", name, phrase.Lasting(s.Part.Period), Others(s), phrase.Swing(s.Amplitude), phrase.OneIn(s.Chance))
	switch {
	case len(s.With) > 0 && s.ListenFor > 0:
		line += " A record of " + phrase.HearFor(s.ListenFor) + " tells which."
	case len(s.With) > 0:
		line += " No record tells which: they repeat alike."
	}
	return line
}

// SuspectName is the part with how often it shows: "Third wheel, once a turn".
func SuspectName(s culprit.Suspect) string {
	return phrase.Capital(s.Part.Name) + ", " + Often(s.Part.Kind, s.Harmonic)
}

// Often says how often a harmonic shows: "once a turn", "at each tooth".
func Often(k culprit.Kind, harmonic int) string {
	if k == culprit.Contact {
		if harmonic > 1 {
			return strconv.Itoa(harmonic) + " times a tooth"
		}
		return "at each tooth"
	}
	switch {
	case harmonic <= 1:
		return "once a turn"
	case harmonic == 2:
		return "twice a turn"
	}
	return strconv.Itoa(harmonic) + " times a turn"
}

// Others are the parts that a suspect cannot be told from: " or centre
// wheel"; "" where there are none.
func Others(s culprit.Suspect) string {
	if len(s.With) == 0 {
		return ""
	}
	return " or " + strings.Join(s.With, " or ")
}

// odd names the teeth that are out.
func (t *telling) odd(a culprit.Answer) {
	var words []string
	best := 1.0
	for _, x := range a.Teeth {
		if a.IsOdd(x) {
			words = append(words, fmt.Sprintf("tooth %d by %s", x.Number+1, ToothWords(x)))
			best = min(best, x.Chance)
		}
	}
	text := ""
	switch n := len(words); {
	case n == 0:
		return
	case n == 1:
		text = fmt.Sprintf("One tooth of the escape wheel is out: %s (chance that it is nothing %s). It is counted from the first in the record.", words[0], phrase.OneIn(best))
	case n <= 3:
		text = fmt.Sprintf("Teeth of the escape wheel are out: %s, counted from the first in the record.", phrase.Listed(words))
	default:
		text = fmt.Sprintf("%d teeth of the escape wheel are out, among them %s, counted from the first in the record.", n, phrase.Listed(words[:2]))
	}
	t.add(meas.Clash, "tooth", text, "Look at it under a glass.")
}

// ToothWords is "104 ± 10 µs late".
func ToothWords(t culprit.Tooth) string {
	way := " late"
	if t.Late.Value < 0 {
		way = " early"
	}
	i := phrase.Size(t.Late)
	return phrase.Within(i, phrase.FineSymbol(i.Value)) + way
}

// those are the parts that a condition holds for.
func those(a culprit.Answer, want func(culprit.Suspect) bool) []string {
	var out []string
	for _, s := range a.Suspects {
		if want(s) {
			out = append(out, "the "+s.Part.Name)
		}
	}
	return out
}

// cleared says in what parts nothing is as large as would matter.
func (t *telling) cleared(a culprit.Answer) {
	var most unit.Duration
	clear := those(a, func(s culprit.Suspect) bool {
		if s.Standing != culprit.Clear {
			return false
		}
		most = max(most, s.Smallest)
		return true
	})
	if len(clear) > 0 {
		than := ""
		if most > 0 {
			than = " as large as " + phrase.Fine(most)
		}
		t.add(meas.Note, "clear", "Nothing"+than+" repeats in "+phrase.Listed(clear)+".", "")
	}
	if a.TeethStanding == culprit.Clear {
		most = 0
		for _, x := range a.Teeth {
			most = max(most, x.Late.High, -x.Late.Low)
		}
		t.add(meas.Note, "teeth-clear", "No tooth of the escape wheel is out by more than "+phrase.Fine(most)+".", "")
	}
}

// waiting says what cannot be told yet and how long a record would tell it.
func (t *telling) waiting(a culprit.Answer) {
	never := func(s culprit.Suspect) bool { return s.Standing == culprit.NotYet && !(s.ListenFor > 0) }
	fast := those(a, func(s culprit.Suspect) bool { return never(s) && s.Part.TooQuick() })
	hidden := those(a, func(s culprit.Suspect) bool { return never(s) && !s.Part.TooQuick() })
	var later []toTell
	if a.TeethStanding == culprit.NotYet {
		if a.TeethFor > 0 {
			later = append(later, toTell{"the teeth", a.TeethFor})
		} else {
			hidden = append(hidden, "the teeth of the escape wheel")
		}
	}
	for _, s := range a.Suspects {
		if s.Standing == culprit.NotYet && s.ListenFor > 0 {
			later = append(later, toTell{"the " + s.Part.Name, s.ListenFor})
		}
	}
	text, next := patience(later)
	if len(hidden) > 0 {
		text = strings.TrimSpace(text + " The clock's own wander hides " + phrase.Listed(hidden) + ".")
	}
	if text != "" {
		t.add(meas.Doubt, "not-yet", text, next)
	}
	if len(fast) > 0 {
		t.add(meas.Note, "too-quick", "The beats are too slow to show "+phrase.Listed(fast)+".", "")
	}
}

// toTell is a part that a record of such a length would tell of.
type toTell struct {
	name string
	long unit.Duration
}

// patience says which parts cannot be told yet and how long to listen for
// each, the soonest first. Many are counted: their names are in the times.
func patience(later []toTell) (text, next string) {
	slices.SortStableFunc(later, func(a, b toTell) int { return cmp.Compare(a.long, b.long) })
	var names, times []string
	for _, l := range later {
		names, times = append(names, l.name), append(times, phrase.HearFor(l.long)+" for "+l.name)
	}
	switch n := len(later); {
	case n == 0:
		return "", ""
	case n <= 2:
		text = phrase.Capital(phrase.Listed(names))
	default:
		text = strconv.Itoa(n) + " parts of the train"
	}
	return text + " cannot be told yet.", "Listen " + phrase.SomeOf(times, 4) + ", in one record."
}
