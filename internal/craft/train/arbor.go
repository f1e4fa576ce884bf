package train

import (
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Arbor is one arbor with what it carries. Diameters are over the tips, as a
// calliper takes them.
type Arbor struct {
	Name           string                    `json:"name,omitempty"` // "" for the usual name of its place
	Pinion         Count                     `json:"pinion"`         // driven by the wheel before
	Wheel          Count                     `json:"wheel"`          // drives the next pinion, or is the escape wheel
	PinionDiameter meas.Reading[unit.Length] `json:"pinion_diameter"`
	WheelDiameter  meas.Reading[unit.Length] `json:"wheel_diameter"`
	Depth          meas.Reading[unit.Length] `json:"depth"` // centre to centre with the next arbor
	Note           string                    `json:"note,omitempty"`
}

// Sizes is measured sizes as text, one arbor on a line:
//
//	1 wheel 98.4 mm depth 53,1 mm
//	centre: pinion 9.8 mm, wheel 61.0 ± 0.1 mm
//	3 wheel 1 3/4 in name intermediate note bent at one tooth
//
// The arbor is named by its number from the barrel or by its name; a bare
// number is in mm; depth is the distance to the centre of the next arbor;
// note takes the rest of the line.
type Sizes struct {
	entered string
	lines   []sizeLine
	errs    meas.Faults
}

// sizeLine is what one line says.
type sizeLine struct {
	arbor string
	part  Arbor // without counts
}

// mostSizes bounds the text of sizes, in bytes.
const mostSizes = 6000

// ParseSizes reads the text of sizes; the error is meas.Faults without
// fields. An empty text gives the empty Sizes.
func ParseSizes(s string) (Sizes, error) {
	z := Sizes{entered: strings.TrimSpace(s)}
	if len(z.entered) > mostSizes {
		z.entered = strings.ToValidUTF8(z.entered[:mostSizes], "")
		z.errs = meas.Faults{{Text: fmt.Sprintf("The text is %d characters long; write one line for each arbor, like “2 pinion 9.8 mm wheel 61 mm”", len(s))}}
		return z, z.errs
	}
	z.entered = strings.ToValidUTF8(z.entered, "�")
	for i, text := range strings.Split(z.entered, "\n") {
		if strings.TrimSpace(text) == "" {
			continue
		}
		l, faults := parseSizeLine(text, i+1)
		z.errs = append(z.errs, faults...)
		z.lines = append(z.lines, l)
	}
	if len(z.errs) > 0 {
		z.lines = nil
		return z, z.errs
	}
	return z, nil
}

// sizeKeys are the words that begin a value.
const sizeKeys = " wheel pinion depth centres distance name note "

func parseSizeLine(s string, n int) (sizeLine, meas.Faults) {
	var l sizeLine
	var faults meas.Faults
	fail := func(format string, a ...any) {
		faults = append(faults, meas.Fault{Text: fmt.Sprintf("Line %d: ", n) + fmt.Sprintf(format, a...)})
	}
	key, value := "", []string(nil)
	store := func() {
		if err := l.put(key, strings.Trim(strings.Join(value, " "), " ,;")); err != "" {
			fail("%s", err)
		}
		value = nil
	}
	words := strings.Fields(s)
	for k, w := range words {
		bare := strings.ToLower(strings.Trim(w, ":=,;"))
		sized := k+1 < len(words) && strings.IndexAny(words[k+1], "0123456789½¼¾⅓⅔⅛⅜⅝⅞") == 0
		inName := (key == "name" || key == "") && !sized && bare != "name" && bare != "note" // "great wheel"
		if key == "note" || bare == "" || inName || !strings.Contains(sizeKeys, " "+bare+" ") {
			value = append(value, w)
			continue
		}
		store()
		key = bare
	}
	store()
	switch {
	case l.arbor == "":
		fail("say which arbor it is first, by number or name, like “2 wheel 61 mm”")
	case key == "":
		fail("%s: say what was measured: wheel, pinion or depth, like “2 wheel 61 mm”", quote(strings.TrimSpace(s)))
	}
	return l, faults
}

// put stores a value under its key; the answer is what is wrong.
func (l *sizeLine) put(key, s string) string {
	switch key {
	case "":
		l.arbor = strings.Trim(s, " :=,;")
		return ""
	case "name":
		l.part.Name = s
		return ""
	case "note":
		l.part.Note = s
		return ""
	}
	r, err := meas.Parse[unit.Length](s, "mm")
	if err != nil {
		return key + " " + err.Error()
	}
	if !r.Set {
		return "the size of the " + key + " is missing; write it like “" + key + " 61 mm”"
	}
	switch key {
	case "wheel":
		l.part.WheelDiameter = r
	case "pinion":
		l.part.PinionDiameter = r
	default:
		l.part.Depth = r
	}
	return ""
}

// MarshalText writes the text as typed.
func (z Sizes) MarshalText() ([]byte, error) { return []byte(z.entered), nil }

// UnmarshalText reads what a person typed; the mistakes are the error.
func (z *Sizes) UnmarshalText(b []byte) error {
	v, err := ParseSizes(string(b))
	*z = v
	return err
}

// Rows is the arbors of a train as they count: those of the chain, with what
// the grid and the sizes say about them, or those of the grid where no chain
// was typed. Names are those given, "" elsewhere.
func (t Train) Rows() []Arbor {
	if len(t.Chain.arbors) == 0 {
		return t.sized(append([]Arbor(nil), t.Arbors...))
	}
	rows := t.Chain.Arbors()
	for i := range rows {
		if i < len(t.Arbors) {
			rows[i].merge(t.Arbors[i])
		}
	}
	return t.sized(rows)
}

// merge takes over what b says, counts apart.
func (a *Arbor) merge(b Arbor) {
	if b.Name != "" {
		a.Name = b.Name
	}
	if b.Note != "" {
		a.Note = b.Note
	}
	for _, p := range []struct{ to, from *meas.Reading[unit.Length] }{
		{&a.PinionDiameter, &b.PinionDiameter}, {&a.WheelDiameter, &b.WheelDiameter}, {&a.Depth, &b.Depth},
	} {
		if p.from.Set {
			*p.to = *p.from
		}
	}
}

func (t Train) sized(rows []Arbor) []Arbor {
	for _, l := range t.Sizes.lines {
		if i := findArbor(rows, l.arbor); i >= 0 {
			rows[i].merge(l.part)
		}
	}
	return rows
}

// findArbor is the place of an arbor named by number from 1, by a given name
// or by the usual name of its place; -1 where there is none. Without a given
// name "centre" is the second arbor of four or more, else the first.
func findArbor(rows []Arbor, name string) int {
	name = strings.ToLower(strings.TrimSpace(name))
	for _, w := range []string{" arbor", " wheel", " pinion"} {
		name = strings.TrimSuffix(name, w)
	}
	name = strings.TrimPrefix(name, "arbor ")
	for i, a := range rows {
		if a.Name != "" && (strings.EqualFold(a.Name, name) || strings.EqualFold(strings.TrimSuffix(strings.ToLower(a.Name), " wheel"), name)) {
			return i
		}
	}
	if n, err := strconv.Atoi(name); err == nil {
		return placed(n-1, len(rows))
	}
	switch name {
	case "great", "barrel", "first", "fusee":
		return placed(0, len(rows))
	case "centre", "center", "hour":
		return placed(usualCentre(len(rows)), len(rows))
	case "second":
		return placed(1, len(rows))
	case "third":
		return placed(usualCentre(len(rows))+1, len(rows))
	case "fourth":
		return placed(usualCentre(len(rows))+2, len(rows))
	case "escape", "scape", "crown", "last", "fly":
		return len(rows) - 1
	}
	return -1
}

func placed(i, n int) int {
	if i < 0 || i >= n {
		return -1
	}
	return i
}

// usualCentre is where the centre arbor stands in a train of n arbors.
func usualCentre(n int) int {
	if n >= 4 {
		return 1
	}
	return 0
}

// usualNames gives each arbor that has no name the usual one of its place;
// hour is the arbor of one turn an hour, -1 where there is none.
func usualNames(rows []Arbor, hour, pins int, going bool) {
	ordinals := [...]string{"First", "Second", "Third", "Fourth", "Fifth", "Sixth", "Seventh", "Eighth", "Ninth", "Tenth",
		"Eleventh", "Twelfth", "Thirteenth", "Fourteenth", "Fifteenth", "Sixteenth", "Seventeenth"}
	last := len(rows) - 1
	for i := range rows {
		if rows[i].Name != "" {
			continue
		}
		name := ordinals[min(i, len(ordinals)-1)]
		if hour >= 0 && i > hour { // the wheel after the centre is the third
			name = ordinals[min(i-hour+1, len(ordinals)-1)]
		}
		switch {
		case going && i == hour:
			name = "Centre"
		case i == 0:
			name = "Great wheel"
		case going && i < hour && hour == 2:
			name = "Intermediate"
		case going && i < hour: // "third" is the wheel after the centre
			name = "Intermediate " + strconv.Itoa(i)
		case going && i == last && last > 0 && rows[i].Wheel.Status != None:
			name = "Escape"
		case !going && i == pins:
			name = "Pin wheel"
		case !going && i == last && rows[i].Wheel.Status == None:
			name = "Fly"
		}
		rows[i].Name = name
	}
}

// UnmarshalJSON reads a text. Mistakes are kept for [Query.Check] and are
// not an error here.
func (z *Sizes) UnmarshalJSON(b []byte) error {
	var s string
	if err := json.Unmarshal(b, &s); err != nil {
		return errors.New("train: sizes are a text like \"2 wheel 61 mm\"")
	}
	*z, _ = ParseSizes(s)
	return nil
}
