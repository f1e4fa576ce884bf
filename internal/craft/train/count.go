package train

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Teeth is a number of teeth of a wheel, leaves of a pinion or trundles of a
// lantern pinion.
type Teeth int

// String is the number in figures.
func (n Teeth) String() string { return strconv.Itoa(int(n)) }

// The counts that are taken. Outside the usual ones a finding asks for a
// second count; beyond MostTeeth the text is refused.
const (
	MostTeeth   Teeth = 1200
	usualWheel  Teeth = 400 // most teeth of a usual wheel
	fewestWheel Teeth = 6
	usualPinion Teeth = 30
	fewLeaves   Teeth = 4 // as few as this are rare
)

// Status says how a count is known.
type Status uint8

// The statuses; the zero Status means that the arbor has no such part.
const (
	None     Status = iota
	Seen            // counted on the part
	Inferred        // the part is lost or hidden, the count is thought
	Missing         // there was such a part, its count is not known
)

// String is the status as written in JSON.
func (s Status) String() string { return [...]string{"none", "seen", "inferred", "missing"}[s] }

// Count is a tooth count with how it is known. The zero Count means that the
// arbor has no such part: a great wheel has no pinion, a fly no wheel.
type Count struct {
	Teeth   Teeth // 0 where Missing or None
	Status  Status
	Lantern bool // a pinion of round trundles between two discs
}

// Of is a count that was seen.
func Of(n Teeth) Count { return Count{Teeth: n, Status: Seen} }

// Known tells whether there is a number to reckon with.
func (c Count) Known() bool { return c.Status == Seen || c.Status == Inferred }

// String is the count in the notation of the package: "96", "96?", "?", "8L".
func (c Count) String() string {
	s := ""
	switch c.Status {
	case None:
		return ""
	case Missing:
		s = "?"
	default:
		s = strconv.Itoa(int(c.Teeth))
	}
	if c.Lantern {
		s += "L"
	}
	if c.Status == Inferred {
		s += "?"
	}
	return s
}

// MarshalText writes the notation.
func (c Count) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText reads the notation; an empty text is no part.
func (c *Count) UnmarshalText(b []byte) error {
	s := strings.TrimSpace(string(b))
	if s == "" {
		*c = Count{}
		return nil
	}
	v, why := parseCount(s)
	if why != "" {
		return fmt.Errorf("train: %s: %s", quote(s), why)
	}
	*c = v
	return nil
}

// jsonCount is the wire form {"teeth":96,"status":"seen","lantern":true}.
type jsonCount struct {
	Teeth   *Teeth `json:"teeth"`
	Status  string `json:"status"`
	Lantern bool   `json:"lantern,omitempty"`
}

// MarshalJSON writes the wire form, null where there is no such part.
func (c Count) MarshalJSON() ([]byte, error) {
	if c.Status == None {
		return []byte("null"), nil
	}
	w := jsonCount{Status: c.Status.String(), Lantern: c.Lantern}
	if c.Known() {
		w.Teeth = &c.Teeth
	}
	return json.Marshal(w)
}

// UnmarshalJSON reads the wire form, a number, a text in the notation or
// null.
func (c *Count) UnmarshalJSON(b []byte) error {
	switch {
	case string(b) == "null":
		*c = Count{}
		return nil
	case b[0] == '"':
		var s string
		if err := json.Unmarshal(b, &s); err != nil {
			return err
		}
		return c.UnmarshalText([]byte(s))
	case b[0] != '{':
		return c.UnmarshalText(b)
	}
	var w jsonCount
	if err := json.Unmarshal(b, &w); err != nil {
		return err
	}
	return c.fromWire(w)
}

func (c *Count) fromWire(w jsonCount) error {
	out := Count{Lantern: w.Lantern}
	switch w.Status {
	case "none":
		*c = Count{}
		return nil
	case "", "seen":
		out.Status = Seen
	case "inferred":
		out.Status = Inferred
	case "missing":
		out.Status = Missing
		*c = out
		return nil
	default:
		return fmt.Errorf("train: a count is seen, inferred or missing, not %s", quote(w.Status))
	}
	if w.Teeth == nil {
		return fmt.Errorf("train: the number of teeth is not given")
	}
	if *w.Teeth < 1 || *w.Teeth > MostTeeth {
		return fmt.Errorf("train: %d teeth cannot be; a wheel has 1 to %d", *w.Teeth, MostTeeth)
	}
	out.Teeth = *w.Teeth
	*c = out
	return nil
}

// parseCount reads one count; why is a clause that follows the quoted word,
// "" where there is nothing wrong.
func parseCount(s string) (c Count, why string) {
	body, c := countMarks(s)
	if body == "" && c.Status == Inferred {
		c.Status = Missing
		return c, ""
	}
	if !allDigits(body) {
		return Count{}, notWhole(body)
	}
	n, err := strconv.Atoi(body)
	switch {
	case err != nil || n > int(MostTeeth):
		return Count{}, fmt.Sprintf("no wheel has so many teeth; the most taken is %d", MostTeeth)
	case n == 0:
		return Count{}, "a wheel or pinion has at least 1 tooth; write ? where the count is not known"
	}
	c.Teeth = Teeth(n)
	return c, ""
}

// countMarks strips ? and L from the end, in either order.
func countMarks(s string) (string, Count) {
	c := Count{Status: Seen}
	for range 2 {
		if t, ok := strings.CutSuffix(s, "?"); ok && c.Status == Seen {
			s, c.Status = t, Inferred
		}
		if t, ok := strings.CutSuffix(strings.ToUpper(s), "L"); ok && !c.Lantern {
			s, c.Lantern = s[:len(t)], true
		}
	}
	return s, c
}

// notWhole says why a text is not a count.
func notWhole(s string) string {
	r, _ := utf8.DecodeRuneInString(s)
	rest := strings.TrimLeft(s, "-−–+")
	switch {
	case rest != s && allDigits(rest):
		return "a tooth count has no sign; write " + rest
	case rest != "" && strings.Trim(rest, "0123456789.,½¼¾⅓⅔") == "" && r != utf8.RuneError:
		return "a tooth count must be a whole number, like 64"
	}
	return "this is not a tooth count; write figures, like 64, or ? where the count is not known"
}

func allDigits(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return s != ""
}

// quote shortens typed text and puts it between quotation marks.
func quote(s string) string {
	const most = 24
	if len(s) > 8*most {
		s = s[:8*most]
	}
	s = strings.ToValidUTF8(s, "�")
	if utf8.RuneCountInString(s) > most {
		s = string([]rune(s)[:most]) + "…"
	}
	return "“" + s + "”"
}
