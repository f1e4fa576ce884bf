package audio

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/kit/unit"
)

// Limits of a list of beat times.
const (
	mostBeats    = 1 << 22 // twelve days at four a second
	mostLine     = 1000    // bytes
	mostMistakes = 10      // told at once
	farOff       = 1e6     // seconds: counted from another moment than the first beat
	mostSeconds  = 1e10    // three centuries; seconds since 1970 are well below
)

// TimesError lists what is wrong in a list of beat times, up to ten lines.
type TimesError struct {
	Lines []LineError
	More  bool // there are others
}

// LineError is what is wrong in a line; the first line is 1.
type LineError struct {
	Line int
	Why  string // a sentence without its stop
}

func (e *TimesError) Error() string {
	var b strings.Builder
	b.WriteString("The beat times cannot be used.")
	for _, l := range e.Lines {
		fmt.Fprintf(&b, "\nLine %d: %s.", l.Line, l.Why)
	}
	if e.More {
		b.WriteString("\nThere are more such lines.")
	}
	b.WriteString("\nWrite one time in a line, in seconds, rising, like 12.345.")
	return b.String()
}

// ReadBeatTimes reads the times of beats, in seconds, one a line, from any
// sensor. The decimal sign is a point or a comma; a second column, behind a
// semicolon, tab, space or (where the decimal sign is a point) a comma, is
// ignored, as are blank lines, a heading in the first line, and comments
// from # or // on. Times must rise.
//
// Beats are numbered by counting: the median interval tells how many were
// silent where the gap is longer. They are all of run 0, U and Strength
// unknown. Times of more than a million seconds, such as those since 1970,
// are counted from the first beat; they are good to a microsecond only where
// that much was written. The error is a [*TimesError] or [*FormatError], or one of reading.
func ReadBeatTimes(r io.Reader) ([]beat.Beat, error) {
	t := &times{}
	sc := bufio.NewScanner(r)
	sc.Buffer(make([]byte, 0, mostLine), mostLine)
	for line := 1; sc.Scan(); line++ {
		t.line(line, strings.TrimPrefix(sc.Text(), "\ufeff"))
		if t.wrong.More {
			break
		}
		if len(t.at) > mostBeats {
			return nil, &FormatError{"", fmt.Sprintf("it has more than %d beats", mostBeats), "Cut it into pieces of a few days"}
		}
	}
	switch err := sc.Err(); {
	case errors.Is(err, bufio.ErrTooLong):
		return nil, &FormatError{"", "it has a line that is too long for a list of beat times", "Write one time in a line, in seconds"}
	case err != nil:
		return nil, fmt.Errorf("audio: read beat times: %w", err)
	case len(t.wrong.Lines) > 0:
		return nil, &t.wrong
	case len(t.at) < 2:
		return nil, &FormatError{"", fmt.Sprintf("it has %d beat times", len(t.at)), "Write one time in a line, in seconds, for as many beats as possible"}
	}
	return number(t.at), nil
}

// times gathers the times and the mistakes.
type times struct {
	at    []float64
	began bool // a line with something in it has come
	wrong TimesError
}

func (t *times) fault(line int, format string, a ...any) {
	if len(t.wrong.Lines) == mostMistakes {
		t.wrong.More = true
		return
	}
	t.wrong.Lines = append(t.wrong.Lines, LineError{line, fmt.Sprintf(format, a...)})
}

func (t *times) line(n int, s string) {
	for _, mark := range []string{"#", "//"} {
		s, _, _ = strings.Cut(s, mark)
	}
	if s = strings.TrimSpace(s); s == "" {
		return
	}
	first := !t.began
	t.began = true
	s = firstColumn(s)
	v, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
	switch {
	case clockTime(s):
		t.fault(n, "%s is a time of day; write seconds from the first beat, or from any moment", quoted(s))
	case err != nil && first && s != "" && !strings.ContainsAny(s[:1], "0123456789+-.,"):
	case err != nil || math.IsNaN(v) || strings.ContainsAny(s, "xXpP_"):
		t.fault(n, "%s is not a number of seconds", quoted(s))
	case math.Abs(v) > mostSeconds:
		t.fault(n, "%s is too large; write seconds, not a part of them", quoted(s))
	case len(t.at) > 0 && v <= t.at[len(t.at)-1]:
		t.fault(n, "%s is not later than the time before, %s", quoted(s), strconv.FormatFloat(t.at[len(t.at)-1], 'f', -1, 64))
	default:
		t.at = append(t.at, v)
	}
}

// firstColumn cuts at the first separator. A comma is the decimal sign where
// digits follow and there is no point before it or behind.
func firstColumn(s string) string {
	s = strings.Trim(s, `"`)
	if i := strings.IndexAny(s, ";\t \""); i >= 0 {
		s = s[:i]
	}
	before, behind, ok := strings.Cut(s, ",")
	if !ok {
		return s
	}
	whole, _, more := strings.Cut(behind, ",")
	decimal := whole != "" && strings.Trim(whole, "0123456789") == ""
	switch {
	case strings.Contains(before, ".") || !decimal:
		return before
	case more:
		return before + "," + whole
	}
	return s
}

// clockTime tells whether it is like 12:34 or 12:34:56.7.
func clockTime(s string) bool {
	h, rest, ok := strings.Cut(s, ":")
	return ok && len(h) > 0 && len(rest) > 0 && strings.Trim(h, "0123456789") == "" && strings.Trim(rest, "0123456789:.,") == ""
}

func quoted(s string) string {
	if len(s) > 40 {
		s = s[:40] + "…"
	}
	return strconv.Quote(s)
}

// number numbers the beats by the median interval.
func number(at []float64) []beat.Beat {
	gaps := make([]float64, len(at)-1)
	for i := range gaps {
		gaps[i] = at[i+1] - at[i]
	}
	sorted := slices.SortedFunc(slices.Values(gaps), cmp.Compare[float64])
	median := sorted[len(sorted)/2]
	from := 0.0
	if at[0] > farOff {
		from = at[0]
	}
	beats := make([]beat.Beat, len(at))
	var n int64
	for i, t := range at {
		if i > 0 {
			n += max(1, int64(math.Round(min(gaps[i-1]/median, 1e12))))
		}
		beats[i] = beat.Beat{At: unit.Duration(t - from), N: n}
	}
	return beats
}
