package drive

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// TorqueAt is a torque measured at a turn, counted from either end.
type TorqueAt struct {
	Turn   float64                   `json:"turn"`
	Torque meas.Reading[unit.Torque] `json:"torque"`
}

// Torques is a row of measured torques.
type Torques []TorqueAt

// mostTorques bounds a list.
const mostTorques = 64

// TorquesError says what is wrong with a list of torques, in a sentence.
type TorquesError struct{ Why string }

func (e *TorquesError) Error() string { return e.Why }

func refuse(format string, a ...any) error { return &TorquesError{Why: fmt.Sprintf(format, a...)} }

// ParseTorques reads turn and torque, "0:900 1:850 2:800 N mm" or a pair to
// the line, "0 900 N mm". A unit may stand after each torque or once at the
// end; without one it is N mm. A semicolon or a new line parts the pairs. The error
// is a *TorquesError or a *unit.ParseError.
func ParseTorques(s string) (Torques, error) {
	if len(s) > 4096 {
		return nil, refuse("this is too long; write at most %d pairs like 0:900 1:850 N mm", mostTorques)
	}
	var out Torques
	var words []string
	for _, line := range strings.FieldsFunc(s, func(r rune) bool { return r == '\n' || r == ';' || r == '\r' }) {
		line = strings.Join(strings.Fields(line), " ")
		if line == "" {
			continue
		}
		if !strings.Contains(line, ":") {
			line = strings.Replace(line, " ", ":", 1)
		}
		turns, values, err := pairs(line)
		if err != nil {
			return nil, err
		}
		out, words = append(out, turns...), append(words, values...)
	}
	if len(out) > mostTorques {
		return nil, refuse("write at most %d pairs", mostTorques)
	}
	if len(out) == 0 {
		return nil, nil
	}
	if err := readTorques(out, words); err != nil {
		return nil, err
	}
	return out, nil
}

// pairs parts a line at its colons: before each stands the turn, behind it
// the torque.
func pairs(line string) (Torques, []string, error) {
	chunks := strings.Split(line, ":")
	if len(chunks) < 2 {
		return nil, nil, refuse("write turn and torque with a colon between, like 0:900 1:850 N mm")
	}
	var out Torques
	var words []string
	turn := strings.TrimSpace(chunks[0])
	for i, c := range chunks[1:] {
		value, next := strings.TrimSpace(c), ""
		if i < len(chunks)-2 { // the turn of the next pair ends this piece
			cut := strings.LastIndex(value, " ")
			if cut < 0 {
				return nil, nil, refuse("after “%s” a turn is missing before the next colon", meas.Clip(value))
			}
			value, next = strings.TrimSpace(value[:cut]), value[cut+1:]
		}
		t, err := strconv.ParseFloat(strings.ReplaceAll(turn, ",", "."), 64)
		if err != nil || math.IsNaN(t) || math.IsInf(t, 0) {
			return nil, nil, refuse("“%s” is not a number of turns", meas.Clip(turn))
		}
		out, words = append(out, TorqueAt{Turn: t}), append(words, strings.TrimRight(value, " ,"))
		turn = next
	}
	return out, words, nil
}

// readTorques reads the torques with the unit that stands last as the usual
// one.
func readTorques(out Torques, words []string) error {
	usual := "N mm"
	if _, u, ok := strings.Cut(words[len(words)-1], " "); ok {
		if found, ok := unit.TorqueKind.Lookup(strings.TrimSpace(u)); ok {
			usual = found.Symbol
		}
	}
	for i, w := range words {
		r, err := meas.Parse[unit.Torque](w, usual)
		if err != nil {
			return err
		}
		if !r.Set {
			return refuse("a torque is missing after turn %g", out[i].Turn)
		}
		out[i].Torque = r
	}
	return nil
}

// UnmarshalText reads the written form.
func (t *Torques) UnmarshalText(b []byte) error {
	v, err := ParseTorques(string(b))
	if err == nil {
		*t = v
	}
	return err
}

// UnmarshalJSON reads the written form or an array of pairs.
func (t *Torques) UnmarshalJSON(b []byte) error {
	if len(bytes.TrimSpace(b)) > 0 && bytes.TrimSpace(b)[0] == '"' {
		var s string
		if err := json.Unmarshal(b, &s); err != nil {
			return err
		}
		return t.UnmarshalText([]byte(s))
	}
	var pairs []TorqueAt
	if err := json.Unmarshal(b, &pairs); err != nil {
		return err
	}
	*t = pairs
	return nil
}

// String writes the list as it is read.
func (t Torques) String() string {
	var out []string
	for _, p := range t {
		out = append(out, fmt.Sprintf("%g:%s", p.Turn, strings.TrimSpace(p.Torque.String())))
	}
	return strings.Join(out, " ")
}
