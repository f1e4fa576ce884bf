package job

import (
	"regexp"
	"strconv"
	"strings"
)

// Made is the date or period: in words, as a range of years and how sure it
// is. From and To are as typed and may be empty.
type Made struct {
	Text      string `json:"text"` // "about 1790", "last quarter of the 18th century"
	From      string `json:"from"` // earliest year
	To        string `json:"to"`   // latest year
	Certainty string `json:"certainty"`
}

// Certainties lists the words offered for how sure a date is.
func Certainties() []string {
	return []string{"dated on the clock", "documented", "likely", "a guess"}
}

// words sets the date out in one line: "about 1795 (1785 to 1805)".
func (m Made) words() string {
	text, from, to := strings.TrimSpace(m.Text), strings.TrimSpace(m.From), strings.TrimSpace(m.To)
	years := from + " to " + to
	switch {
	case from == "" && to == "":
		return text
	case to == "":
		years = "from " + from
	case from == "":
		years = "to " + to
	}
	if text == "" {
		return years
	}
	return text + " (" + years + ")"
}

// Years is the range of years: as typed in From and To where either can be
// read, or else as the words say ("1780–90", "1780s", "18th century", which
// is taken as 1700–1799). ok is false where no year can be told. The range
// may be the wrong way round if it was typed so.
func (m Made) Years() (from, to int, ok bool) {
	f, okF := year(m.From)
	t, okT := year(m.To)
	switch {
	case okF && okT:
		return f, t, true
	case okF:
		return f, f, true
	case okT:
		return t, t, true
	}
	return yearsIn(m.Text)
}

// year reads a year of the Common Era typed as digits.
func year(s string) (int, bool) {
	s = strings.TrimSpace(s)
	if len(s) < 3 || len(s) > 4 {
		return 0, false
	}
	y, err := strconv.ParseUint(s, 10, 16)
	return int(y), err == nil
}

// The ways a date stands in words.
var (
	rangeWords   = regexp.MustCompile(`\b(1\d{3}|20\d\d)\s*(?:[-–—/]|to|and|bis)\s*(\d{2,4})\b`)
	decadeWords  = regexp.MustCompile(`\b(1\d{2}|20\d)0['’]?s\b`)
	yearWords    = regexp.MustCompile(`\b(1\d{3}|20\d\d)\b`)
	centuryWords = regexp.MustCompile(`(?i)\b(1\d|20|21)(?:st|th)?\.?\s*(?:century|cent\.?|c\b|jh\.?|jahrhundert)`)
)

// yearsIn finds a range of years in words.
func yearsIn(s string) (from, to int, ok bool) {
	const most = 400 // no date is longer
	if len(s) > most {
		s = s[:most]
	}
	if m := rangeWords.FindStringSubmatch(s); m != nil && len(m[2]) != 3 {
		last := m[2]
		if len(last) == 2 { // 1780–90
			last = m[1][:2] + last
		}
		return number(m[1]), number(last), true
	}
	if m := decadeWords.FindStringSubmatch(s); m != nil {
		d := number(m[1]) * 10
		return d, d + 9, true
	}
	if m := yearWords.FindStringSubmatch(s); m != nil {
		return number(m[1]), number(m[1]), true
	}
	if m := centuryWords.FindStringSubmatch(s); m != nil {
		c := (number(m[1]) - 1) * 100
		return c, c + 99, true
	}
	return 0, 0, false
}

// number reads digits that a pattern has found.
func number(digits string) int {
	n, _ := strconv.Atoi(digits)
	return n
}
