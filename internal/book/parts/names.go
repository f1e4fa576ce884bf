package parts

import (
	"slices"
	"strings"

	"seatboard/internal/craft/train"
)

// NamesFrom lists the names of parts that a surveyed movement has, in the
// order of taking down: "third wheel", "strike barrel click". They are
// offered; any other may be typed.
func NamesFrom(a train.Answer) []string {
	out := []string{"minute hand", "hour hand", "hand collet", "hand pin", "dial", "dial feet pins", "pendulum", "crutch", "pallets", "back cock"}
	if a.Motion != nil {
		out = append(out, "cannon pinion", "minute wheel", "hour wheel")
	}
	for _, t := range a.Trains {
		out = append(out, trainNames(t)...)
	}
	return append(out, "front plate", "back plate", "pillar pins", "pillar screws", "bell", "bell stand", "hammer")
}

// trainNames lists the parts of one train. Those of the going train go by
// their plain names, others have the train's before them.
func trainNames(t train.Turned) []string {
	before := strings.ToLower(strings.TrimSpace(t.Name)) + " "
	if strings.TrimSpace(before) == train.Going || strings.TrimSpace(before) == "" {
		before = ""
	}
	var out []string
	for i, a := range t.Arbors {
		name := strings.ToLower(a.Name)
		for _, last := range []string{" wheel", " arbor"} {
			name = strings.TrimSuffix(name, last)
		}
		switch {
		case name == "":
		case i == len(t.Arbors)-1 && name == "fly":
			out = append(out, before+"fly")
		default:
			out = append(out, before+name+" wheel")
		}
		if i == 0 {
			for _, p := range []string{"barrel", "barrel ratchet", "barrel click", "barrel click spring", "barrel click screw", "line"} {
				out = append(out, before+p)
			}
		}
	}
	return out
}

// Offer lists the names that begin with or hold what was typed, those not yet
// in the ledger first; all of them where nothing was typed.
func (l *Ledger) Offer(names []string, typed string) []string {
	typed = strings.ToLower(strings.TrimSpace(typed))
	taken := map[string]bool{}
	for _, p := range l.parts {
		taken[strings.ToLower(strings.TrimSpace(p.Name))] = true
	}
	var out []string
	for _, n := range names {
		if strings.Contains(n, typed) && !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	rank := func(n string) int {
		r := 0
		if !strings.HasPrefix(n, typed) {
			r = 1
		}
		if taken[n] {
			r += 2
		}
		return r
	}
	slices.SortStableFunc(out, func(a, b string) int { return rank(a) - rank(b) })
	return out
}
