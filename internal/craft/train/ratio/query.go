package ratio

import (
	"errors"
	"fmt"
	"math/big"
	"strings"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Query is a ratio that is wanted of wheels and pinions. What is left out of
// the limits is as in [Usual].
type Query struct {
	Wanted    Wanted                      `json:"wanted"`
	Turn      meas.Reading[unit.Duration] `json:"turn"` // of one turn of the quicker arbor
	Pairs     int                         `json:"pairs,omitempty"`
	WheelFrom train.Teeth                 `json:"wheel_from,omitempty"`
	WheelTo   train.Teeth                 `json:"wheel_to,omitempty"`
	LeafFrom  train.Teeth                 `json:"leaf_from,omitempty"`
	LeafTo    train.Teeth                 `json:"leaf_to,omitempty"`
}

// Usual are the limits where none are stated.
func Usual() Limits { return Limits{Pairs: 2, WheelFrom: 20, WheelTo: 144, LeafFrom: 6, LeafTo: 20} }

// limits are those stated, with the usual ones in the gaps.
func (q Query) limits() Limits {
	l := Usual()
	if q.Pairs > 0 {
		l.Pairs = q.Pairs
	}
	for _, x := range []struct {
		stated train.Teeth
		to     *train.Teeth
	}{{q.WheelFrom, &l.WheelFrom}, {q.WheelTo, &l.WheelTo}, {q.LeafFrom, &l.LeafFrom}, {q.LeafTo, &l.LeafTo}} {
		if x.stated > 0 {
			*x.to = x.stated
		}
	}
	return l
}

// mostSets bounds how many sets of wheels, or of pinions, are looked at: a
// second's work.
const mostSets = 8e5

// Check returns every mistake in the query; fields are the form's names.
func (q Query) Check() meas.Faults {
	var f meas.Faults
	say := func(field, text string, args ...any) {
		f = append(f, meas.Fault{Field: field, Text: fmt.Sprintf(text, args...)})
	}
	if q.Wanted.R == nil {
		say("wanted", "Enter the ratio that is wanted, like 29.530589, 191/23 or 29 d 12 h 44 min / 24 h")
	}
	if q.Turn.Set && !(q.Turn.Value > 0) {
		say("turn", "The time of a turn must be more than nought; “%s” was entered", q.Turn.String())
	}
	if t := q.Wanted.Turn; q.Turn.Set && t > 0 && float64(q.Turn.Value) != t {
		say("turn", "The ratio was entered as two times, so a turn of the quicker arbor is the shorter of them; leave this empty")
	}
	l := q.limits()
	if l.Pairs < 1 || l.Pairs > 3 {
		say("pairs", "From 1 to 3 pairs can be searched; %d was entered", l.Pairs)
		return f
	}
	for _, x := range []struct {
		what, from, to string
		low, high      train.Teeth
	}{{"wheels", "wheel-from", "wheel-to", l.WheelFrom, l.WheelTo}, {"pinions", "leaf-from", "leaf-to", l.LeafFrom, l.LeafTo}} {
		switch {
		case x.low < 2 || x.high > train.MostTeeth:
			say(x.from, "The %s must have from 2 to %d teeth", x.what, train.MostTeeth)
		case x.low > x.high:
			say(x.to, "The most teeth of the %s, %d, are under the fewest, %d", x.what, x.high, x.low)
		case howMany(l.Pairs, float64(x.high-x.low+1)) > mostSets:
			say(x.to, "With %d pairs of %s from %d to %d there are %.1f million ways; take fewer pairs or closer limits", l.Pairs, x.what, x.low, x.high, howMany(l.Pairs, float64(x.high-x.low+1))/1e6)
		}
	}
	return f
}

// Wanted is a ratio as a person writes it: a number, a fraction, or two
// times. R is nil where nothing was entered. Turn is the shorter of two
// times, in seconds, 0 where numbers were entered.
type Wanted struct {
	R       *big.Rat
	Turn    float64
	Entered string
}

// errWanted tells how a ratio is written.
var errWanted = errors.New("write a ratio like 29.530589, 191/23, 147:170 or 29 d 12 h 44 min 2.8 s / 24 h")

// UnmarshalText reads a ratio; numbers are kept to the last digit.
func (w *Wanted) UnmarshalText(b []byte) error {
	s := strings.TrimSpace(string(b))
	if s == "" {
		*w = Wanted{}
		return nil
	}
	if len(s) > 120 {
		return fmt.Errorf("this is too long; %w", errWanted)
	}
	top, under, two := cut(s)
	a, timed, err := part(top)
	if err != nil {
		return err
	}
	out := Wanted{R: a, Entered: s}
	if two {
		b, alike, err := part(under)
		if err != nil {
			return err
		}
		if timed != alike {
			return fmt.Errorf("one side is a time and the other is not; write the unit on both: 29 d 12 h 44 min / 24 h")
		}
		out.R = new(big.Rat).Quo(a, b)
		if timed {
			out.Turn, _ = least(a, b).Float64()
		}
	} else if timed {
		return fmt.Errorf("this is one time; write two: 29 d 12 h 44 min / 24 h")
	}
	if num, den := out.R.Num().BitLen(), out.R.Denom().BitLen(); num > 200 || den > 200 {
		return fmt.Errorf("the numbers are too long; %w", errWanted)
	}
	if f, _ := out.R.Float64(); f < 1e-4 || f > 1e6 {
		return fmt.Errorf("the ratio must be from 1 in 10 000 to 1 000 000")
	}
	*w = out
	return nil
}

// MarshalText writes what was entered.
func (w Wanted) MarshalText() ([]byte, error) {
	if w.Entered == "" && w.R != nil {
		return []byte(w.R.RatString()), nil
	}
	return []byte(w.Entered), nil
}

func least(a, b *big.Rat) *big.Rat {
	if a.Cmp(b) < 0 {
		return a
	}
	return b
}

// cut parts the two sides of a ratio.
func cut(s string) (a, b string, two bool) {
	for _, mark := range []string{":", "/", "÷", " in "} {
		if x, y, ok := strings.Cut(s, mark); ok {
			return strings.TrimSpace(x), strings.TrimSpace(y), true
		}
	}
	return s, "", false
}

// part reads one side: an exact number or a time made of such.
func part(s string) (r *big.Rat, timed bool, err error) {
	seconds := map[string]int64{"d": 86400, "day": 86400, "days": 86400, "h": 3600, "hours": 3600, "hour": 3600, "m": 60, "min": 60, "minutes": 60, "s": 1, "sec": 1, "seconds": 1}
	sum, rest := new(big.Rat), strings.ToLower(strings.ReplaceAll(s, "\u00a0", " "))
	for last := int64(1 << 40); ; {
		rest = strings.TrimSpace(rest)
		end := strings.IndexFunc(rest, func(c rune) bool { return !strings.ContainsRune("0123456789.,", c) })
		if end < 0 {
			end = len(rest)
		}
		n, ok := number(rest[:end])
		if !ok {
			return nil, false, fmt.Errorf("“%s”: %w", meas.Clip(s), errWanted)
		}
		rest = strings.TrimSpace(rest[end:])
		word := strings.TrimSpace(rest[:len(rest)-len(strings.TrimLeft(rest, "abcdefghijklmnopqrstuvwxyz"))])
		rest = rest[len(word):]
		if word == "" && rest == "" && !timed {
			sum = n
			break
		}
		unit, known := seconds[word]
		if !known || unit >= last {
			return nil, false, fmt.Errorf("“%s”: write a time in d, h, min and s, from large to small", meas.Clip(s))
		}
		sum.Add(sum, new(big.Rat).Mul(n, big.NewRat(unit, 1)))
		timed, last = true, unit
		if rest == "" {
			break
		}
	}
	if sum.Sign() <= 0 {
		return nil, false, fmt.Errorf("“%s” is nought; a ratio is of two numbers above it", meas.Clip(s))
	}
	return sum, timed, nil
}

// number reads digits with one point or comma; a comma before three digits is
// refused, for it may mean thousands.
func number(s string) (*big.Rat, bool) {
	if s == "" || strings.Count(s, ".")+strings.Count(s, ",") > 1 || strings.Trim(s, ".,") == "" {
		return nil, false
	}
	if whole, after, comma := strings.Cut(s, ","); comma {
		if len(after) == 3 && whole != "0" {
			return nil, false
		}
		s = whole + "." + after
	}
	return new(big.Rat).SetString(s)
}
