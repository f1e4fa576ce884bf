package missing

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Makes is what is known of the turns of arbors against each other, as
// text, a line each:
//
//	2 to 4 makes 60
//	strike 1 to 3 = 58.5
//	1 to 2 = 7.5 ± 0.2
//
// The second arbor makes so many turns for one of the first. The going train
// is meant where no other is named.
type Makes struct {
	lines   []making
	entered string
	errs    meas.Faults
}

// making is one line.
type making struct {
	train, from, to string
	turns           train.Exact              // exactly
	measured        meas.Reading[unit.Ratio] // or with a doubt
	text            string
}

const mostMakes = 4000

// UnmarshalText reads the lines; the error is meas.Faults.
func (m *Makes) UnmarshalText(b []byte) error {
	*m = Makes{entered: strings.TrimSpace(string(b))}
	if len(m.entered) > mostMakes {
		m.entered = strings.ToValidUTF8(m.entered[:mostMakes], "")
		m.errs = meas.Faults{{Text: "The text is too long; write a line like “2 to 4 makes 60” for each"}}
		return m.errs
	}
	m.entered = strings.ToValidUTF8(m.entered, "�")
	for i, line := range strings.Split(m.entered, "\n") {
		if strings.TrimSpace(line) == "" {
			continue
		}
		x, err := readMaking(line)
		if err != nil {
			m.errs = append(m.errs, meas.Fault{Text: fmt.Sprintf("Line %d: %v", i+1, err)})
			continue
		}
		m.lines = append(m.lines, x)
	}
	if len(m.errs) > 0 {
		m.lines = nil
		return m.errs
	}
	return nil
}

var errMaking = errors.New("write two arbors and a number, like “2 to 4 makes 60”")

func readMaking(line string) (making, error) {
	left, right, ok := strings.Cut(strings.ReplaceAll(line, "makes", "="), "=")
	if !ok {
		return making{}, errMaking
	}
	x := making{train: train.Going, text: strings.TrimSpace(line)}
	left = strings.TrimSpace(left)
	for _, name := range []string{train.Going, train.Strike, train.Quarter} {
		if rest, found := strings.CutPrefix(strings.ToLower(left), name+" "); found {
			x.train, left = name, left[len(left)-len(rest):]
			break
		}
	}
	from, to, ok := strings.Cut(left, " to ")
	if !ok {
		return making{}, errMaking
	}
	x.from, x.to = strings.TrimSpace(from), strings.TrimSpace(to)
	right = strings.TrimSpace(right)
	if strings.ContainsAny(right, "±+") {
		r, err := meas.Parse[unit.Ratio](right, "")
		if err != nil || !(r.Value > 0) {
			return making{}, errMaking
		}
		x.measured = r
		return x, nil
	}
	if err := x.turns.UnmarshalText([]byte(right)); err != nil || !x.turns.Known() {
		return making{}, errMaking
	}
	return x, nil
}

// MarshalText writes the text as typed.
func (m Makes) MarshalText() ([]byte, error) { return []byte(m.entered), nil }

// UnmarshalJSON reads a text; what cannot be read in it is kept as typed and
// is no error here.
func (m *Makes) UnmarshalJSON(b []byte) error {
	var s string
	if err := json.Unmarshal(b, &s); err != nil {
		return errors.New("missing: makes is a text like \"2 to 4 makes 60\"")
	}
	_ = m.UnmarshalText([]byte(s)) // the mistakes are kept
	return nil
}

// span is the turns that a line states.
func (m making) span() span {
	if m.measured.Set {
		return doubted(float64(m.measured.Value), float64(m.measured.U/m.measured.Value))
	}
	return exact(m.turns.Rat())
}
