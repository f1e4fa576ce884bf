// Package condition keeps in what state a clock is, area by area: hood,
// trunk, dial, movement … For the person who takes a clock in, and for whoever
// asks in ten years what was there already.
//
// A [Record] is folded from an append-only log of [Event] values. Each is one
// dated observation of one area: what is seen, apart from what is thought of
// it, how bad it is, and what there can hurt. None is ever written over; a
// later one stands beside it, and one that was a mistake is taken back by an
// entry that names it.
//
// What can hurt is one of the cautions of craft/clean. It holds for its area
// until a later observation says that it is gone, and it goes with every part
// of the area ([AreaOf]).
package condition

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"seatboard/internal/book/ledger"
	"seatboard/internal/book/parts"
	"seatboard/internal/craft/clean"
	"seatboard/internal/kit/meas"
)

// Areas lists the areas of a clock from the outside in.
func Areas() []string {
	return []string{"hood", "trunk", "base", "back", "floor", "feet", "mouldings", "glass", "dial", "hands", Movement, "pendulum", "weights", "lines", "bell"}
}

// Movement is the area of what belongs to no other.
const Movement = "movement"

// FindArea is the area that a text names, alone or in the singular; false
// where it names none.
func FindArea(text string) (string, bool) {
	text = strings.ToLower(strings.TrimSpace(text))
	for _, a := range Areas() {
		if text == a || text+"s" == a || text == "foot" && a == "feet" {
			return a, true
		}
	}
	return "", false
}

// AreaOf is the area that a part of that name belongs to, by the last word of
// it that names one; feet count only where nothing else is named, because the
// dial has feet too. What names none is taken to be of the movement.
func AreaOf(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return r < 'a' || r > 'z' })
	found := ""
	for _, w := range words {
		a, ok := FindArea(w)
		if ok && (found == "" || a != "feet") {
			found = a
		}
	}
	if found == "" {
		return Movement
	}
	return found
}

// AreaOfPart is the area of a part: that of its own name, or of the first part
// above it whose name names one.
func AreaOfPart(l *parts.Ledger, n parts.Number) string {
	for n != "" {
		p, ok := l.Find(n)
		if !ok {
			break
		}
		if a := AreaOf(p.Name); a != Movement {
			return a
		}
		n = n.Parent()
	}
	return Movement
}

// Severity is how bad what is seen is.
type Severity string

// The grades.
const (
	NotSaid Severity = ""
	Sound   Severity = "sound"     // nothing to be done
	Slight  Severity = "slight"    // can wait
	Marked  Severity = "marked"    // wants work
	AtRisk  Severity = "at risk"   // gets worse or can be lost if nothing is done
	Urgent  Severity = "dangerous" // can hurt somebody, or is being lost now
)

// Severities lists the grades, the least first.
func Severities() []Severity { return []Severity{Sound, Slight, Marked, AtRisk, Urgent} }

// HazardKeys lists the cautions that an area can be marked with.
func HazardKeys() []string {
	return []string{clean.LeadHazard, clean.QuicksilverHazard, clean.RadiumHazard, clean.IvoryHazard, clean.GlassHazard, clean.WeightHazard, clean.SpringHazard}
}

// HazardWords names a caution on a tick or a list.
func HazardWords(key string) string {
	return map[string]string{clean.LeadHazard: "lead", clean.QuicksilverHazard: "mercury", clean.RadiumHazard: "radium paint, or not ruled out", clean.IvoryHazard: "ivory",
		clean.GlassHazard: "glass shards", clean.WeightHazard: "a weight that can fall", clean.SpringHazard: "a wound mainspring"}[key]
}

// Observation is what was seen of an area on a day. Texts are as typed.
type Observation struct {
	Area     string   `json:"area"`
	Day      string   `json:"day"`  // 2006-01-02
	Seen     string   `json:"seen"` // what anybody could see
	Thought  string   `json:"thought,omitempty"`
	Severity Severity `json:"severity,omitempty"`
	Hazards  []string `json:"hazards,omitempty"` // keys of cautions found here
	Gone     []string `json:"gone,omitempty"`    // keys of cautions that hold no more
}

// Check lists what cannot be kept.
func (o Observation) Check() meas.Faults {
	var f meas.Faults
	add := func(field, format string, a ...any) {
		f = append(f, meas.Fault{Field: field, Text: fmt.Sprintf(format, a...)})
	}
	if !slices.Contains(Areas(), o.Area) {
		add("area", "Choose the area: %s", strings.Join(Areas(), ", "))
	}
	if _, err := time.Parse(time.DateOnly, o.Day); err != nil {
		add("day", "Write the day like 2026-03-04")
	}
	if strings.TrimSpace(o.Seen) == "" {
		add("seen", "Write what is seen, or that nothing was found; what you think of it goes below")
	}
	if o.Severity != NotSaid && !slices.Contains(Severities(), o.Severity) {
		add("severity", "Choose how bad it is: sound, slight, marked, at risk, dangerous")
	}
	for _, list := range [][]string{o.Hazards, o.Gone} {
		for _, key := range list {
			if !slices.Contains(HazardKeys(), key) {
				add("hazard", "There is no caution “%s”", meas.Clip(key))
			}
		}
	}
	for _, key := range o.Hazards {
		if slices.Contains(o.Gone, key) {
			add("hazard", "%s cannot both be here and be gone", HazardWords(key))
		}
	}
	return append(f, append(ledger.CheckText("seen", o.Seen), ledger.CheckText("thought", o.Thought)...)...)
}
