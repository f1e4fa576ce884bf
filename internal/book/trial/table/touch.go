package table

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/unit"
)

// touchWords are the words that a touch is known by, the first of its words.
var touchWords = map[string]regulate.Kind{
	"nut": regulate.NutTurned, "turned": regulate.NutTurned, "tray": regulate.OnTray,
	"set": regulate.HandsSet, "reset": regulate.HandsSet, "stopped": regulate.Stopped, "stop": regulate.Stopped, "stood": regulate.Stopped,
	"started": regulate.Started, "start": regulate.Started, "moved": regulate.Moved, "levelled": regulate.Levelled, "leveled": regulate.Levelled,
	"oiled": regulate.Oiled, "oil": regulate.Oiled, "wound": regulate.Wound, "wind": regulate.Wound, "worked": regulate.Worked,
}

// parseTouch reads what was done, as [touchText] writes it or a person: "nut up
// 1/2", "nut -3/60 turns", "tray +0.2 g", "set", "set, +3.2 s", "stopped", "wound",
// "worked: new gut". What is none of these is work, in words.
func parseTouch(s string) (regulate.Touch, error) {
	s = strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(s), "'"))
	head, words, _ := strings.Cut(s, ":")
	word := strings.ToLower(strings.TrimRight(firstWord(head), ",;."))
	kind, ok := touchWords[word]
	if !ok {
		return regulate.Touch{Kind: regulate.Worked, Words: s}, nil
	}
	t := regulate.Touch{Kind: kind, Words: strings.TrimSpace(words)}
	rest := strings.TrimLeft(strings.TrimSpace(head)[len(firstWord(head)):], " ,;")
	var err error
	switch kind {
	case regulate.NutTurned:
		t.Turns, err = turns(rest)
	case regulate.OnTray:
		var kg float64
		if kg, err = unit.ParseKind(unit.MassKind, rest, "g"); err != nil || kg == 0 {
			err = errors.New("says no mass; write it like tray +0.2 g")
		}
		t.Mass = unit.Mass(kg)
	case regulate.HandsSet, regulate.Started:
		err = afterwards(&t, rest)
	case regulate.Worked:
		if t.Words == "" {
			t.Words = rest
		}
	default:
		t.Words = strings.TrimSpace(strings.TrimSpace(rest + " " + t.Words))
	}
	return t, err
}

func firstWord(s string) string {
	f := strings.Fields(s)
	if len(f) == 0 {
		return ""
	}
	return f[0]
}

// turns reads "up 1/2", "down 0.25 turns", "-3/60".
func turns(s string) (float64, error) {
	wrong := errors.New("says no turns; write it like nut up 1/2")
	sign := 1.0
	for _, w := range strings.Fields(strings.ToLower(s)) {
		switch w {
		case "down":
			sign = -1
			fallthrough
		case "up", "turn", "turns", "by":
			s = strings.TrimSpace(cutWord(s, w))
		}
	}
	x, err := unit.ParseKind(unit.RatioKind, s, "")
	if err != nil || x == 0 || sign < 0 && x < 0 {
		return 0, wrong
	}
	return sign * x, nil
}

// afterwards reads what the clock was wrong by after its hands were set.
func afterwards(t *regulate.Touch, s string) error {
	if s == "" {
		return nil
	}
	value, doubt, has := strings.Cut(s, "±")
	var err error
	t.Error, err = unit.Parse[unit.Duration](strings.TrimSpace(value), "s")
	if has && err == nil {
		t.U, err = unit.Parse[unit.Duration](strings.TrimSpace(doubt), "s")
	}
	if err != nil || t.U < 0 {
		return errors.New("does not say what the clock was wrong by afterwards; write it like set, +3.2 s")
	}
	t.HasError = true
	return nil
}

// touchText writes a touch so that parseTouch reads the same.
func touchText(t regulate.Touch) string {
	s := string(t.Kind)
	switch t.Kind {
	case regulate.NutTurned:
		s += " " + signed(t.Turns) + " turns"
	case regulate.OnTray:
		s += " " + signed(float64(t.Mass)) + " kg"
	case regulate.HandsSet, regulate.Started:
		if t.HasError {
			s += ", " + signed(float64(t.Error)) + " s ± " + plain(float64(t.U)) + " s"
		}
	}
	if words := strings.Join(strings.Fields(t.Words), " "); words != "" {
		s += ": " + words
	}
	return s
}

func signed(x float64) string {
	if x < 0 {
		return plain(x)
	}
	return "+" + plain(math.Abs(x))
}

func plain(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// howOf reads how a reading was taken; what is not known was brought.
func howOf(s string) (regulate.How, error) {
	h := regulate.How(strings.ToLower(strings.TrimSpace(s)))
	if !slices.Contains(regulate.Hows(), h) {
		return "", fmt.Errorf("is no way to read a clock; write hand, tap, ear, strike or brought")
	}
	return h, nil
}

// stamp writes an instant as every table can read it.
func stamp(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.UTC().Format("2006-01-02T15:04:05.999999999Z")
}
