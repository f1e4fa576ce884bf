package table

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"seatboard/internal/book/trial"
	"seatboard/internal/craft/regulate"
)

// sentence is a mistake that is told in a whole sentence.
type sentence string

func (s sentence) Error() string { return string(s) }

// known are the first words of touches that [trial.ParseTouch] reads.
var known = []string{"nut", "tray", "up", "down", "set", "started", "going", "stopped", "moved", "levelled", "leveled", "oiled", "wound", "worked"}

// parseTouch reads what was done, as [trial.ParseTouch] does, with words behind
// a semicolon; marks are the divisions of the nut. What begins with none of its
// words is work, in words.
func parseTouch(s string, marks int) (regulate.Touch, error) {
	s = strings.Join(strings.Fields(strings.TrimPrefix(strings.TrimSpace(s), "'")), " ")
	head, words, _ := strings.Cut(s, ";")
	word := strings.ToLower(strings.TrimRight(firstWord(s), ":,.;"))
	if word == string(regulate.Worked) {
		head, words = s, ""
	}
	t, wrong := trial.ParseTouch(strings.TrimSpace(strings.ReplaceAll(head, ",", " ")), marks)
	switch {
	case wrong == "":
		if word == string(regulate.Worked) {
			t, _ = trial.ParseTouch(head, marks) // commas and all
		}
		t.Words = strings.TrimSpace(t.Words + " " + strings.TrimSpace(words))
		return t, nil
	case slices.Contains(known, word):
		return t, sentence(wrong)
	}
	return regulate.Touch{Kind: regulate.Worked, Words: s}, nil
}

func firstWord(s string) string {
	f := strings.Fields(s)
	if len(f) == 0 {
		return ""
	}
	return f[0]
}

// touchText writes a touch so that parseTouch reads the same.
func touchText(t regulate.Touch) string {
	s := string(t.Kind)
	words := strings.Join(strings.Fields(t.Words), " ")
	switch t.Kind {
	case regulate.NutTurned:
		s += map[bool]string{true: " up ", false: " down "}[t.Turns > 0] + plain(math.Abs(t.Turns))
	case regulate.OnTray:
		s += map[bool]string{true: " on ", false: " off "}[t.Mass > 0] + exact(math.Abs(float64(t.Mass))*1000) + " g"
	case regulate.HandsSet, regulate.Started:
		s += afterwards(t)
	case regulate.Worked:
		return s + ": " + words
	}
	if words != "" {
		s += "; " + words
	}
	return s
}

// afterwards is what the clock was wrong by when its hands had been set.
func afterwards(t regulate.Touch) string {
	if !t.HasError {
		return ""
	}
	s := " " + plain(math.Abs(float64(t.Error)))
	if t.U > 0 {
		s += " ± " + plain(float64(t.U))
	}
	if t.Error < 0 {
		return s + " s slow"
	}
	return s + " s fast"
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
