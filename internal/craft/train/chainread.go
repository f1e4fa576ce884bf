package train

import (
	"fmt"
	"strings"
	"unicode"
)

// word is a piece of the text with the place it begins, in characters.
type word struct {
	s  string
	at int
}

// splitWords cuts at blanks, commas and semicolons and joins a stroke that
// stands between blanks to both its neighbours.
func splitWords(s string) []word {
	var out []word
	at, start, startAt := 0, -1, 0
	flush := func(end int) {
		if start >= 0 {
			out = append(out, word{s[start:end], startAt})
			start = -1
		}
	}
	for i, r := range s {
		switch {
		case unicode.IsSpace(r) || r == ',' || r == ';':
			flush(i)
		case start < 0:
			start, startAt = i, at
		}
		at++
	}
	flush(len(s))
	return joinStrokes(out)
}

func joinStrokes(in []word) []word {
	var out []word
	for i := 0; i < len(in); i++ {
		lone := isStroke(in[i].s) || in[i].s == ")"
		if lone && len(out) > 0 && i+1 < len(in) && !strings.ContainsAny(out[len(out)-1].s+in[i+1].s, "/)") {
			out[len(out)-1].s += in[i].s + in[i+1].s
			i++
			continue
		}
		out = append(out, in[i])
	}
	return out
}

func isStroke(s string) bool { return s == "/" || s == "⁄" || s == "∕" || s == "÷" }

// chainParser turns words into arbors and collects what is wrong.
type chainParser struct {
	words  []word
	arbors []Arbor
	errs   ParseErrors
}

func (p *chainParser) fail(w word, format string, a ...any) {
	p.errs = append(p.errs, ParseError{w.s, w.at, fmt.Sprintf(format, a...)})
}

func (p *chainParser) read() ([]Arbor, ParseErrors) {
	if hint, ok := p.withoutStrokes(); ok {
		p.fail(p.words[0], "Put a stroke between each wheel and the pinion it drives: %s", hint)
		return nil, p.errs
	}
	if len(p.words) > mostArbors {
		p.fail(p.words[mostArbors], "There are %d words; a train has at most %d wheels", len(p.words), mostArbors)
		return nil, p.errs
	}
	pinion := Count{}
	for i, w := range p.words {
		wheel, next, paired := p.pair(w, i == len(p.words)-1)
		p.arbors = append(p.arbors, Arbor{Pinion: pinion, Wheel: wheel})
		pinion = next
		if paired && i == len(p.words)-1 {
			p.arbors = append(p.arbors, Arbor{Pinion: pinion})
		}
	}
	if len(p.errs) > mostErrors {
		p.errs = append(p.errs[:mostErrors:mostErrors], ParseError{Text: fmt.Sprintf("And %d more mistakes of this kind", len(p.errs)-mostErrors)})
	}
	return p.arbors, p.errs
}

// withoutStrokes recognises 96 8 60 8 56 7 30 and says how to write it.
func (p *chainParser) withoutStrokes() (string, bool) {
	if len(p.words) < 3 || len(p.words) > 2*mostArbors {
		return "", false
	}
	var b strings.Builder
	for i, w := range p.words {
		if _, why := parseCount(w.s); why != "" {
			return "", false
		}
		if i > 0 {
			b.WriteByte(" /"[i%2])
		}
		b.WriteString(w.s)
	}
	return b.String(), true
}

// pair reads wheel/pinion, pinion)wheel or, at the end, a wheel alone.
func (p *chainParser) pair(w word, last bool) (wheel, pinion Count, paired bool) {
	s := strings.NewReplacer("⁄", "/", "∕", "/", "÷", "/").Replace(w.s)
	slash, bracket := strings.Count(s, "/"), strings.Count(s, ")")
	switch {
	case slash == 1 && bracket == 0:
		a, b, _ := strings.Cut(s, "/")
		return p.counted(w, a, "wheel"), p.counted(w, b, "pinion"), true
	case bracket == 1 && slash == 0:
		a, b, _ := strings.Cut(s, ")")
		pinion = p.counted(w, a, "pinion")
		return p.counted(w, b, "wheel"), pinion, true
	case slash+bracket > 1:
		p.fail(w, "%s has more than one stroke; write wheel and pinion, like 96/8", quote(w.s))
		return Count{}, Count{}, true
	}
	if a, b, ok := otherMark(s); ok {
		p.fail(w, "%s needs a stroke between wheel and pinion; write %s/%s", quote(w.s), a, b)
		return Count{}, Count{}, true
	}
	c, why := parseCount(s)
	switch {
	case why != "":
		p.fail(w, "%s: %s", quote(w.s), why)
	case !last:
		p.fail(w, "%s stands alone, as only the last wheel does; write the pinion that it drives, like %s/8", quote(w.s), s)
	}
	return c, Count{}, false
}

// counted reads one side of a pair.
func (p *chainParser) counted(w word, s, part string) Count {
	if s == "" {
		switch other := strings.Trim(w.s, "/)"); {
		case other == "":
			p.fail(w, "%s has neither wheel nor pinion; write both, like 96/8", quote(w.s))
		case part == "pinion" && strings.Contains(w.s, ")"):
			p.fail(w, "%s has a wheel and no pinion; write 8)%s", quote(w.s), other)
		case part == "pinion":
			p.fail(w, "%s has a wheel and no pinion; write %s/8", quote(w.s), other)
		case strings.Contains(w.s, ")"):
			p.fail(w, "%s has a pinion and no wheel; write %s)96", quote(w.s), other)
		default:
			p.fail(w, "%s has a pinion and no wheel; write 96/%s", quote(w.s), other)
		}
		return Count{}
	}
	c, why := parseCount(s)
	if why != "" {
		p.fail(w, "The %s of %s: %s", part, quote(w.s), why)
	}
	return c
}

// otherMark finds 96:8, 96-8, 96x8 and the like.
func otherMark(s string) (a, b string, ok bool) {
	for _, m := range []string{":", "-", "−", "–", "x", "×", "*", "\\", "|", "(", "\"", "_"} {
		if a, b, ok = strings.Cut(s, m); ok && allDigits(a) && allDigits(b) {
			return a, b, true
		}
	}
	return "", "", false
}
