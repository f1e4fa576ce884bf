package trial

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

var (
	nutWords  = regexp.MustCompile(`^(?:nut\s+)?(?:turned\s+)?(?:(up|down)\s+(?:by\s+)?(.+)|(.+?)\s+(up|down))$`)
	trayWords = regexp.MustCompile(`^(?:tray\s+)?(?:(on|off|\+|-)\s*(.+)|(.+?)\s+(on|off))(?:\s+(?:the\s+)?tray)?$`)
	divisions = regexp.MustCompile(`^(.+?)\s*(?:divisions?|div|marks?)$`)
	turnsWord = regexp.MustCompile(`^(.+?)\s*(?:of a turn|turns?)$`)
	byAGram   = regexp.MustCompile(`(?i)[a-z]*g$|lb$|oz$|gr(ain)?s?$`)
)

// spoken are touches that are a word, with what may follow.
var spoken = map[string]regulate.Kind{
	"set": regulate.HandsSet, "started": regulate.Started, "going": regulate.Started, "stopped": regulate.Stopped, "moved": regulate.Moved,
	"levelled": regulate.Levelled, "leveled": regulate.Levelled, "oiled": regulate.Oiled, "wound": regulate.Wound, "worked": regulate.Worked,
}

// howToTouch is how to write one, for the sentences.
const howToTouch = "write it like nut up 1/2, nut down 12 divisions, tray 2 g on, set 3 s slow, started right, stopped, moved to the case, levelled, oiled, wound, or worked and what was done"

// ParseTouch reads what was done to a clock: "nut up 1/2", "nut down 12
// divisions" (marks is how many the nut has, 0 where that is not known),
// "tray 2 g on", "set 3 s slow", "started right", "stopped", "moved to the
// case", "worked: new suspension". Its instant is left out.
func ParseTouch(s string, marks int) (regulate.Touch, string) {
	text := strings.Join(strings.Fields(s), " ")
	low := strings.ToLower(text)
	word, _, _ := strings.Cut(low, " ")
	if kind, ok := spoken[strings.TrimRight(word, ":")]; ok {
		return spokenTouch(kind, afterWord(text))
	}
	if word == "tray" || byAGram.MatchString(amountIn(low)) {
		if m := trayWords.FindStringSubmatch(low); m != nil {
			mass, wrong := ParseMass(m[2] + m[3])
			if way := m[1] + m[4]; way == "off" || way == "-" {
				mass = -mass
			}
			return regulate.Touch{Kind: regulate.OnTray, Mass: mass}, wrong
		}
	}
	if m := nutWords.FindStringSubmatch(low); m != nil {
		turns, wrong := ParseTurns(m[2]+m[3], marks)
		if m[1]+m[4] == "down" {
			turns = -turns
		}
		return regulate.Touch{Kind: regulate.NutTurned, Turns: turns}, wrong
	}
	return regulate.Touch{}, fmt.Sprintf("“%s” is nothing that is done to a clock on trial; %s", meas.Clip(text), howToTouch)
}

// afterWord is what stands behind the first word, as it was typed.
func afterWord(s string) string {
	_, rest, _ := strings.Cut(s, " ")
	return strings.TrimSpace(rest)
}

// amountIn is what stands beside on or off.
func amountIn(low string) string {
	if m := trayWords.FindStringSubmatch(low); m != nil {
		return strings.TrimSpace(m[2] + m[3])
	}
	return ""
}

// spokenTouch is a touch that is a word; what follows it is what the clock was
// wrong by afterwards, for those that set it, and else a remark.
func spokenTouch(kind regulate.Kind, rest string) (regulate.Touch, string) {
	t := regulate.Touch{Kind: kind}
	if rest == "" || kind != regulate.HandsSet && kind != regulate.Started {
		t.Words = rest
		if kind == regulate.Worked && rest == "" {
			return t, "Write behind worked what was done"
		}
		return t, ""
	}
	rest = strings.TrimSpace(strings.TrimPrefix(rest, "to "))
	seen, wrong := ParseSeen(rest)
	if wrong == "" && seen.Shown != nil {
		wrong = "Write behind it what the clock was wrong by afterwards, like right or 3 s slow"
	}
	t.Error, t.U, t.HasError = seen.Error, seen.U, true
	return t, wrong
}

// ParseTurns reads how far a nut was turned: "1/2", "1 1/4 turns", "half",
// "three quarters", "12 divisions" of marks on it (0 where their number is not
// known).
func ParseTurns(s string, marks int) (float64, string) {
	text := strings.ToLower(strings.TrimSpace(s))
	if text == "" || text == "nut" {
		return 0, "Say how far the nut was turned, like 1/2, 1 1/4 or 12 divisions"
	}
	if m := divisions.FindStringSubmatch(text); m != nil {
		n, err := unit.Parse[unit.Ratio](m[1], "")
		switch {
		case marks <= 0:
			return 0, "It is not known how many divisions the nut has: fill them in under Survey, Pendulum, or write it in turns"
		case err != nil || n <= 0:
			return 0, fmt.Sprintf("“%s” is not a number of divisions", meas.Clip(m[1]))
		}
		return float64(n) / float64(marks), ""
	}
	if m := turnsWord.FindStringSubmatch(text); m != nil {
		text = m[1]
	}
	words := []string{"a", "one", "half", "a half", "half a", "quarter", "a quarter", "three quarters"}
	if i := slices.Index(words, text); i >= 0 {
		return []float64{1, 1, 0.5, 0.5, 0.5, 0.25, 0.25, 0.75}[i], ""
	}
	n, err := unit.Parse[unit.Ratio](text, "")
	if err != nil || n <= 0 || n > mostTurns {
		return 0, fmt.Sprintf("“%s” is not a part of a turn; write it like 1/2, 1 1/4 or 12 divisions, and up or down", meas.Clip(s))
	}
	return float64(n), ""
}

// ParseMass reads what was put on the tray or taken off; a bare number is
// grams.
func ParseMass(s string) (unit.Mass, string) {
	m, err := unit.Parse[unit.Mass](s, "g")
	if err != nil || m <= 0 || m > mostMass {
		return 0, fmt.Sprintf("“%s” is not what lies on a tray; write it like 2 g or 500 mg, and on or off", meas.Clip(s))
	}
	return m, ""
}
