package divide

import (
	"fmt"
	"strconv"
	"strings"

	"seatboard/internal/kit/meas"
)

// Plates is what a shop divides with.
type Plates struct {
	Direct []Plate
	Heads  []Head
}

// Plate has rings of holes and sits on the arbor that is divided.
type Plate struct {
	Name  string // "A"; may be empty
	Rings []int  // holes of each
}

// Head divides through a worm.
type Head struct {
	Name   string  // may be empty
	Ratio  int     // turns of the crank for one turn of the arbor
	Plates [][]int // holes of the circles, plate by plate
}

// Limits of what is taken as a plate.
const (
	mostHoles  = 3600
	mostRatio  = 720
	mostPlates = 40
	mostRings  = 60
	longest    = 8000 // letters
)

// Empty tells whether nothing was typed.
func (p Plates) Empty() bool { return len(p.Direct)+len(p.Heads) == 0 }

// String is the plates as they are typed, one on a line.
func (p Plates) String() string {
	var lines []string
	for _, x := range p.Direct {
		lines = append(lines, x.String()+": "+numbers(x.Rings))
	}
	for _, h := range p.Heads {
		var plates []string
		for _, c := range h.Plates {
			plates = append(plates, numbers(c))
		}
		lines = append(lines, h.String()+" with "+strings.Join(plates, " / "))
	}
	return strings.Join(lines, "\n")
}

// String names the plate.
func (p Plate) String() string { return strings.TrimSpace("plate " + p.Name) }

// String names the head.
func (h Head) String() string {
	return strings.Join(strings.Fields(fmt.Sprintf("head %s %d:1", h.Name, h.Ratio)), " ")
}

func numbers(list []int) string {
	words := make([]string, len(list))
	for i, n := range list {
		words[i] = strconv.Itoa(n)
	}
	return strings.Join(words, " ")
}

// MarshalText writes the plates as they are typed.
func (p Plates) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

// UnmarshalText reads plates and heads, all mistakes at once.
func (p *Plates) UnmarshalText(b []byte) error {
	if len(b) > longest {
		return fmt.Errorf("more than %d letters were typed; write the plates that are used for wheels", longest)
	}
	r := reader{}
	for _, line := range strings.FieldsFunc(string(b), func(c rune) bool { return c == '\n' || c == '\r' || c == ';' }) {
		if line = strings.TrimSpace(line); line != "" {
			r.line(line)
		}
	}
	if len(r.Direct)+len(r.Heads) > mostPlates {
		r.wrong("there are more than %d plates and heads; leave out those that are not used", mostPlates)
	}
	if len(r.faults) > 0 {
		return r.faults
	}
	*p = r.Plates
	return nil
}

// reader gathers plates and mistakes.
type reader struct {
	Plates
	faults meas.Faults
}

func (r *reader) wrong(format string, a ...any) {
	r.faults = append(r.faults, meas.Fault{Text: fmt.Sprintf(format, a...)})
}

// line reads one plate or head.
func (r *reader) line(s string) {
	words := strings.Fields(s)
	first, _, _ := strings.Cut(words[0], ":")
	switch strings.ToLower(first) {
	case "head":
		r.head(s, words[1:])
	case "plate":
		r.plate(s, strings.TrimSpace(s[len("plate"):]))
	default:
		r.plate(s, s)
	}
}

func (r *reader) plate(whole, s string) {
	name, list, ok := strings.Cut(s, ":")
	if !ok {
		name, list = firstName(s)
	}
	if isNumber(name) && strings.TrimSpace(list) == "" {
		name, list = "", s
	}
	p := Plate{Name: meas.Clip(strings.Join(strings.Fields(name), " "))}
	p.Rings = r.rings(whole, list)
	if len(p.Rings) == 0 {
		r.wrong("“%s” names no ring of holes; write it like plate A: 60 72 96", meas.Clip(whole))
	}
	r.Direct = append(r.Direct, p)
}

// firstName takes a name without figures off the front.
func firstName(s string) (name, list string) {
	first, rest, _ := strings.Cut(s, " ")
	if strings.ContainsAny(first, "0123456789") {
		return "", s
	}
	return first, rest
}

func isNumber(s string) bool {
	_, err := strconv.Atoi(strings.TrimSpace(s))
	return err == nil
}

// head reads the words behind "head": a name, the ratio, "with" and circles.
func (r *reader) head(whole string, words []string) {
	h := Head{}
	with := len(words)
	for i, w := range words {
		if strings.EqualFold(w, "with") {
			with = i
			break
		}
	}
	var name []string
	for _, w := range words[:with] {
		n, err := strconv.Atoi(strings.TrimSuffix(strings.TrimSuffix(w, ":"), ":1"))
		if err != nil {
			name = append(name, w)
			continue
		}
		if h.Ratio != 0 {
			r.wrong("“%s” has two ratios; a head has one, and circles stand behind the word with", meas.Clip(whole))
		}
		h.Ratio = n
		if n < 1 || n > mostRatio {
			r.wrong("a worm of %d : 1 is none that is made; the ratio is from 1 to %d", n, mostRatio)
		}
	}
	h.Name = meas.Clip(strings.Join(name, " "))
	if h.Ratio == 0 {
		r.wrong("“%s” has no ratio; write it like head 40:1 with 15 16 17", meas.Clip(whole))
	}
	if with < len(words) {
		for _, part := range strings.Split(strings.Join(words[with+1:], " "), "/") {
			if c := r.rings(whole, part); len(c) > 0 {
				h.Plates = append(h.Plates, c)
			}
		}
	}
	if len(h.Plates) == 0 {
		r.wrong("“%s” has no circle of holes; write it like head 40:1 with 15 16 17", meas.Clip(whole))
	}
	r.Heads = append(r.Heads, h)
}

// rings reads counts of holes.
func (r *reader) rings(whole, s string) []int {
	var out []int
	for _, w := range strings.FieldsFunc(s, func(c rune) bool { return c == ' ' || c == ',' || c == '\t' || c == '\u00a0' }) {
		n, err := strconv.Atoi(w)
		switch {
		case strings.EqualFold(w, "and"):
		case err != nil:
			r.wrong("in “%s”, “%s” is not a number of holes", meas.Clip(whole), meas.Clip(w))
		case n < 2 || n > mostHoles:
			r.wrong("in “%s”, a ring of %d holes: rings have from 2 to %d", meas.Clip(whole), n, mostHoles)
		case has(out, n):
			r.wrong("in “%s”, the ring of %d holes stands twice", meas.Clip(whole), n)
		case len(out) == mostRings:
			r.wrong("“%s” has more than %d rings; was a line end left out?", meas.Clip(whole), mostRings)
			return out
		default:
			out = append(out, n)
		}
	}
	return out
}

func has(list []int, n int) bool {
	for _, x := range list {
		if x == n {
			return true
		}
	}
	return false
}
