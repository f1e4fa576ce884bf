package stops

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// errHands tells how the place of the hands is written.
var errHands = errors.New("write hour and minute, like 10:47, and the seconds hand behind them where there is one, like 10:47:12")

// ParseHands reads "10:47", "10:47:12", "10.47" or, as a telephone's keys of
// figures write it, "1047"; the hour is 0 to 24, of which a dial of twelve
// hours shows the half.
func ParseHands(s string) (Hands, error) {
	s = strings.TrimSpace(s)
	if n := len(s); (n == 3 || n == 4) && strings.Trim(s, "0123456789") == "" {
		s = s[:n-2] + ":" + s[n-2:]
	}
	sep := ":"
	if !strings.Contains(s, ":") {
		sep = "."
	}
	parts := strings.Split(s, sep)
	if len(parts) < 2 || len(parts) > 3 || len(s) > 16 {
		return Hands{}, fmt.Errorf("“%s” is not a place of the hands; %w", meas.Clip(s), errHands)
	}
	var n [3]float64
	for i, p := range parts {
		v, err := strconv.ParseFloat(strings.Replace(p, ",", ".", 1), 64)
		if err != nil || strings.Trim(p, "0123456789.,") != "" {
			return Hands{}, fmt.Errorf("“%s” is not a place of the hands; %w", meas.Clip(s), errHands)
		}
		n[i] = v
	}
	hour := int(n[0])
	if float64(hour) != n[0] || hour > 24 || n[1] >= 60 || n[2] >= 60 {
		return Hands{}, fmt.Errorf("the hands cannot stand at %s: the hour is 1 to 12, minute and second 0 to 59; %w", meas.Clip(s), errHands)
	}
	h := Hands{Hour: hour, Minute: n[1]}
	if len(parts) == 3 {
		h.Second = meas.Exactly(unit.Duration(n[2]))
	}
	return h, nil
}

// String is the place as written: "10:47", "12:05:30".
func (h Hands) String() string {
	hour := h.Hour
	if hour == 0 {
		hour = 12
	}
	whole := int(h.Minute)
	s := fmt.Sprintf("%d:%02d", hour, whole)
	if rest := h.Minute - float64(whole); rest > 1e-9 {
		s += strings.TrimPrefix(strconv.FormatFloat(rest, 'g', 3, 64), "0")
	}
	if h.Second.Set {
		s += fmt.Sprintf(":%02.0f", float64(h.Second.Value))
	}
	return s
}

// Told is stops as text, one behind another:
//
//	10:47
//	3:31:12 found 2026-11-21 08:10 wound 2026-11-16 weight 310 mm strike warned
//	8:15 room 11 °C hands unknown note the rain came in
//
// A place of the hands begins a stop; the words found, going, wound, weight,
// strike, room, doubt, hands (left, unknown, or the amount they were set by)
// and note begin what is known of it, and note takes the rest of the line. A
// day without an hour is taken at noon.
type Told struct {
	Stops   []Stop
	entered string
	errs    meas.Faults
}

// mostTold bounds the text, in bytes.
const mostTold = 20000

// ParseTold reads the text; the error is meas.Faults without fields.
func ParseTold(s string) (Told, error) {
	t := Told{entered: strings.ToValidUTF8(strings.TrimSpace(s), "�")}
	if len(t.entered) > mostTold {
		t.entered = strings.ToValidUTF8(t.entered[:mostTold], "")
		t.errs = meas.Faults{{Text: "The text is too long; write one line for each stop, like 10:47 found 2026-11-20 08:15"}}
		return t, t.errs
	}
	for _, line := range strings.FieldsFunc(t.entered, func(r rune) bool { return r == '\n' || r == '\r' || r == ';' }) {
		t.line(line)
	}
	if len(t.errs) > 0 {
		t.Stops = nil
		return t, t.errs
	}
	return t, nil
}

// toldKeys are the words that begin a value.
const toldKeys = " found going wound weight strike room doubt hands note "

func (t *Told) line(s string) {
	key, value := "", []string(nil)
	store := func() {
		if key != "" {
			t.put(key, strings.Join(value, " "))
		}
		key, value = "", nil
	}
	for _, w := range strings.Fields(s) {
		bare := strings.ToLower(strings.Trim(w, ":=,"))
		switch {
		case key == "note":
			value = append(value, w)
		case strings.Contains(toldKeys, " "+bare+" ") && bare != "":
			store()
			key = bare
		case begins(w) && !awaitsTime(key, value):
			store()
			t.begin(w)
		case key == "":
			t.fail("“%s” is not a place of the hands; %s", meas.Clip(w), errHands)
		default:
			value = append(value, w)
		}
	}
	store()
}

// begins tells whether a word looks like a place of the hands.
func begins(w string) bool {
	w = strings.Trim(w, ",")
	return strings.Contains(w, ":") && strings.Trim(w, "0123456789:.,") == ""
}

// awaitsTime tells that a time of day belongs to the value being read.
func awaitsTime(key string, value []string) bool {
	return (key == "found" || key == "going" || key == "wound") && len(value) < 2
}

func (t *Told) fail(format string, a ...any) {
	if len(t.errs) < 12 {
		t.errs = append(t.errs, meas.Fault{Text: fmt.Sprintf(format, a...)})
	}
}

func (t *Told) begin(w string) {
	h, err := ParseHands(strings.Trim(w, ","))
	if err != nil {
		t.fail("Stop %d: %s", len(t.Stops)+1, err)
	}
	t.Stops = append(t.Stops, Stop{ID: len(t.Stops) + 1, Hands: h})
}

// put stores one value in the last stop.
func (t *Told) put(key, value string) {
	if len(t.Stops) == 0 {
		t.fail("Say first where the hands stood, like 10:47, and then “%s”", key)
		return
	}
	s := &t.Stops[len(t.Stops)-1]
	var err error
	switch key {
	case "found":
		s.Found, err = ParseWhen(value)
	case "going":
		s.Going, err = ParseWhen(value)
	case "wound":
		s.Wound, err = ParseWhen(value)
	case "weight":
		s.Weight, err = result[unit.Length](value, "mm")
	case "room":
		s.Room, err = result[unit.Temperature](value, "°C")
	case "doubt":
		var r meas.Reading[unit.Duration]
		r, err = meas.Parse[unit.Duration](value, "min")
		s.U = r.Value
	case "strike":
		s.Strike = strings.ToLower(value)
	case "hands":
		s.Set, err = ParseSetting(value)
	case "note":
		s.Words = value
	}
	if err != nil {
		t.fail("Stop %d: %s: %s", s.ID, key, err)
	}
}

// result reads a quantity that must not be empty.
func result[Q unit.Quantity](s, symbol string) (meas.Result[Q], error) {
	r, err := meas.Parse[Q](s, symbol)
	if err == nil && !r.Set {
		err = errors.New("nothing stands behind the word")
	}
	return meas.Result[Q]{Value: r.Value, U: r.U, HasU: r.HasU, Set: r.Set}, err
}

// ParseSetting reads "left", "unknown" or an amount like "+12 min ± 1 min".
func ParseSetting(s string) (Setting, error) {
	switch strings.ToLower(strings.TrimSpace(s)) {
	case "", Left:
		return Setting{How: Left}, nil
	case Moved, "moved":
		return Setting{How: Moved}, nil
	}
	by, err := result[unit.Duration](s, "min")
	return Setting{How: By, By: by}, err
}

// ParseWhen reads a day with or without a time of day, which is civil time
// and carries no zone; a day alone is taken at noon.
func ParseWhen(s string) (time.Time, error) {
	s = strings.TrimSpace(s)
	for _, layout := range []string{"2006-01-02 15:04", "2006-01-02T15:04", "2006-01-02 15:04:05", "2006-01-02T15:04:05"} {
		if t, err := time.Parse(layout, s); err == nil {
			return t, nil
		}
	}
	if t, err := time.Parse("2006-01-02", s); err == nil {
		return t.Add(12 * time.Hour), nil
	}
	return time.Time{}, fmt.Errorf("“%s” is not a day with a time; write 2026-11-20 08:15", meas.Clip(s))
}

// UnmarshalText reads what a person typed; the mistakes are the error.
func (t *Told) UnmarshalText(b []byte) error {
	v, err := ParseTold(string(b))
	*t = v
	return err
}

// MarshalText writes the text as typed.
func (t Told) MarshalText() ([]byte, error) { return []byte(t.entered), nil }
