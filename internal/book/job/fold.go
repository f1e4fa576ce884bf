package job

import (
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// Fold is a text as it is searched: small letters, no accents, ß as ss, ø as
// o, æ as ae and their like, curly quotes and dashes as the plain ones, runs
// of white space as one space.
func Fold(s string) string {
	var b strings.Builder
	b.Grow(len(s))
	space := false
	for _, r := range norm.NFKD.String(s) {
		if unicode.IsSpace(r) {
			space = b.Len() > 0
			continue
		}
		if unicode.Is(unicode.Mn, r) || r == '\u00ad' || r == '\u200b' || r == '\ufeff' {
			continue
		}
		if space {
			b.WriteByte(' ')
			space = false
		}
		if plain, ok := folded(r); ok {
			b.WriteString(plain)
			continue
		}
		b.WriteRune(unicode.ToLower(r))
	}
	return b.String()
}

// folded is what a letter or mark without a decomposition is searched as.
func folded(r rune) (string, bool) {
	switch r {
	case 'ß', 'ẞ':
		return "ss", true
	case 'ø', 'Ø':
		return "o", true
	case 'æ', 'Æ':
		return "ae", true
	case 'œ', 'Œ':
		return "oe", true
	case 'ł', 'Ł':
		return "l", true
	case 'đ', 'Đ', 'ð', 'Ð':
		return "d", true
	case 'þ', 'Þ':
		return "th", true
	case 'ħ', 'Ħ':
		return "h", true
	case 'ı', 'İ':
		return "i", true
	case 'ſ':
		return "s", true
	case 'ς':
		return "σ", true
	case '‘', '’', '‚', '′', 'ʼ', '`':
		return "'", true
	case '“', '”', '„', '″', '«', '»':
		return `"`, true
	case '‐', '‑', '‒', '–', '—', '−':
		return "-", true
	case '⁄', '∕':
		return "/", true
	case '×':
		return "x", true
	}
	return "", false
}

// mostWords bounds a search: what a person types has fewer.
const mostWords = 12

// Words is a search as folded words, each once, at most twelve. A clock is
// found where all of them stand anywhere in its text.
func Words(query string) []string {
	const most = 400
	if len(query) > most {
		query = strings.ToValidUTF8(query[:most], "")
	}
	var out []string
	for _, w := range strings.Fields(Fold(query)) {
		if !slices.Contains(out, w) && len(out) < mostWords {
			out = append(out, w)
		}
	}
	return out
}

// SearchText is everything in a clock's file that can be found, folded: all
// texts of the clock and of its survey, one to a line, rows marked removed
// left out.
func SearchText(c Clock, s Survey) string {
	var b strings.Builder
	add := func(text string) {
		if f := Fold(text); f != "" {
			b.WriteString(f)
			b.WriteByte('\n')
		}
	}
	c.Holders, c.Pieces = c.StandingHolders(), c.StandingPieces()
	for _, f := range fields(c) {
		if f.text {
			add(f.value)
		}
	}
	for _, key := range s.Keys() {
		for _, name := range s[key].Names() {
			for _, v := range s[key].Values[name] {
				add(v)
			}
		}
	}
	return b.String()
}
