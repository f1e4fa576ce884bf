package stops

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// span writes a time in s for words.
func span(s float64) string { return phrase.Lasting(unit.Duration(s)) }

// figure writes a small number in words.
func figure(n int) string {
	small := [...]string{"none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}
	if n < len(small) {
		return small[n]
	}
	return fmt.Sprint(n)
}

// counted is "three of four stops", "all four stops", "none of four stops", "the
// one stop".
func counted(k, n int) string {
	if k == 1 && n == 1 {
		return "the one stop"
	}
	if k == n && n > 1 {
		return "all " + figure(n) + " stops"
	}
	return figure(k) + " of " + figure(n) + " stops"
}

// part names a part of a turn that holds w turns.
func part(w float64) string {
	for _, p := range [...]struct {
		w    float64
		name string
	}{{1.0 / 60, "sixtieth of a turn"}, {1.0 / 24, "twenty-fourth of a turn"}, {1.0 / 16, "sixteenth of a turn"}, {1.0 / 12, "twelfth of a turn"}, {1.0 / 8, "eighth of a turn"},
		{1.0 / 6, "sixth of a turn"}, {1.0 / 4, "quarter-turn"}, {1.0 / 3, "third of a turn"}} {
		if w <= p.w*(1+1e-9) {
			return p.name
		}
	}
	return "half-turn"
}

// ringWords says what the stops have in common on a ring.
func (s *solver) ringWords(x Suspect, groups int, from reading) string {
	name := "the " + strings.Join(x.Names, " (or the ") + strings.Repeat(")", len(x.Names)-1)
	if x.Kind == Mesh {
		name = x.Names[0]
	}
	if x.Hold < 2 {
		return fmt.Sprintf("%s stops lie all round %s", figure(x.Stops), name)
	}
	verb := "with " + name + " in the same " + part(x.Width)
	if x.Kind == Mesh {
		verb = "with " + name + " at the same place of their meeting, to a " + part(x.Width)
	}
	words := counted(x.Hold, x.Stops) + " " + verb
	if groups > 1 {
		words += fmt.Sprintf(", counted in %s stretches between settings of the hands", figure(groups))
	}
	if from == bySecond {
		words += ", by the seconds hand"
	}
	return words
}

// wheelNext is what to look at where a wheel of the going train is suspected.
func (s *solver) wheelNext(going *train.Turned, i int) string {
	name := train.WheelName(going.Arbors[i].Name)
	with := ""
	if i+1 < len(going.Arbors) {
		with = " with the " + train.PinionName(going.Arbors[i+1].Name)
	} else {
		with = " on the pallets"
	}
	text := "Mark the tooth of the " + name + " that is in mesh" + with
	if i > 0 {
		text += ", and the leaf of the " + train.PinionName(going.Arbors[i].Name) + " in mesh with the wheel before it"
	}
	return text + ". Look there for a bent or worn tooth, a burr, dirt, and a bent pivot or a wheel out of true that jams once a turn."
}

// teeth says where the place lies from the tooth in mesh at the last stop.
func (x Suspect) teeth() string {
	if x.Teeth == 0 || x.Hold < 2 || x.Kind != Wheel {
		return ""
	}
	side := func(n int) string {
		switch {
		case n == 0:
			return "the one in mesh"
		case n < 0:
			return phrase.Times(-n, "tooth", "teeth") + " before it"
		}
		return phrase.Times(n, "tooth", "teeth") + " after it"
	}
	return fmt.Sprintf(" Counted from the tooth in mesh at the last stop the place reaches from %s to %s, of %d teeth.", side(x.Before), side(x.Beyond), x.Teeth)
}

// verdict is the answer in a sentence, and what to do first.
func (s *solver) verdict(a Answer) (words, next string) {
	n := len(a.Places)
	switch {
	case !a.Complete:
		few := "One stop is"
		if n > 1 {
			few = "Two stops are"
		}
		return few + " too few: one place is as good as another. From the third on they can be held against each other.", ""
	case len(a.Suspects) == 0:
		return "There is nothing that these stops could be held against.", ""
	}
	best := a.Suspects[0]
	if !best.Found {
		words = fmt.Sprintf("Nothing stands out of %s stops yet. The most there is: %s; among all that was looked at, %s.", figure(n), best.Words, odds(best.Chance))
		if best.Needed > n {
			words += fmt.Sprintf(" It would be sure with %s stops, should those to come fall there as well.", figure(best.Needed))
		}
		return words, ""
	}
	words = upper(best.Words) + ": " + odds(best.Chance) + "."
	switch {
	case best.Chance > Sure && best.Needed > n:
		words += fmt.Sprintf(" It would be sure with %s stops, should those to come fall there as well.", figure(best.Needed))
	case best.Chance <= Sure:
		words += " That is sure enough to take it down for."
	}
	return words, best.Next + best.teeth()
}

// odds is the chance that it is nothing, in words.
func odds(p float64) string {
	if p >= 0.5 {
		return "more likely than not it is nothing"
	}
	return "the chance that it is nothing is " + phrase.OneIn(p)
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// remark says what is seen without any chance.
func (s *solver) remark() {
	quick, struck, down := 0, 0, 0
	run := s.run()
	for _, p := range s.spots {
		if l := p.link; l.sure && l.run+float64(l.turns)*s.turn < 6*3600 {
			quick++
		}
		if p.Strike == Warned || p.Strike == Striking {
			struck++
		}
		if run > 0 && p.wound > run {
			down++
		}
	}
	if quick > 0 {
		s.say(meas.Note, "soon", upper(counted(quick, len(s.spots)))+" came within six hours of being set going.", "See first that it is in beat, and that the arc is more than it needs to escape.")
	}
	if struck > 0 {
		s.say(meas.Note, "warned", "In "+counted(struck, len(s.spots))+" the strike had warned or was striking.", "Look at the lifting and the warning, whatever the hands say.")
	}
	if down > 0 {
		s.say(meas.Doubt, "run-down", upper(counted(down, len(s.spots)))+" came later after winding than the clock runs ("+span(run)+"): it may only have run down.", "Wind it in time, or look at the turns of the barrel again.")
	}
	if s.assumed() {
		s.say(meas.Note, "hands-left", "Nothing is written of the hands being set between the stops: they are taken as left.", "Where they were set, write by how much, or that it is not known.")
	}
	s.findings = append(s.findings, meas.Finding{Level: meas.Danger, Code: "power-off", Text: "Take the weight off, or let the mainspring down with its letting-down tool, before a hand goes into the train: a train let loose under power breaks teeth and hurts.",
		Next: "Local law and licensed practice decide.", Ref: cite.Ref{Grade: cite.CommonPractice}})
}

// assumed tells that nobody said whether the hands were set.
func (s *solver) assumed() bool {
	if slices.ContainsFunc(s.touches, func(t regulate.Touch) bool { return t.Kind == regulate.HandsSet || t.Kind == regulate.Started }) {
		return false
	}
	for _, p := range s.spots {
		if p.link.before && p.Set.How == "" {
			return true
		}
	}
	return false
}

// wanted is what to write down at the next stop.
func (s *solver) wanted() []string {
	var out []string
	lacks := func(text string, has func(spot) bool) {
		if !slices.ContainsFunc(s.spots, has) || len(s.spots) < least {
			out = append(out, text)
		}
	}
	if len(s.spots) < least {
		out = append(out, "Before anything is touched: where hour and minute hand stand, to half a minute.")
	}
	if s.trained == nil || s.trained.SecondsHand != nil {
		lacks("Where the seconds hand stands, if there is one: it alone tells the escape wheel.", func(p spot) bool { return p.Hands.Second.Set })
	}
	lacks("When it was found, and when it was last seen going.", func(p spot) bool { return !p.Found.IsZero() && !p.Going.IsZero() })
	lacks("When it was wound last, and how high the weight hangs above the floor of the case.", func(p spot) bool { return !math.IsNaN(p.wound) || p.Weight.Set })
	lacks("Whether the strike had warned or was striking.", func(p spot) bool { return p.Strike != "" && p.Strike != NotKnown })
	lacks("How warm the room is.", func(p spot) bool { return p.Room.Set })
	lacks("When it is set going again: best as the time comes round to where the hands stand, so that they need not be set; else where they were set to.", func(p spot) bool { return p.Set.How != "" || p.link.set })
	if s.trained == nil {
		out = append(out, "The counts of the train: without them only the hands themselves can be looked at.")
	}
	return out
}
