package audio

import (
	"bytes"
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"
	"testing/iotest"
)

func TestBeatTimes(t *testing.T) {
	for _, c := range []struct {
		name, text string
		at         []float64
		n          []int64
	}{
		{"plain", "0\n1\n2.5\n", []float64{0, 1, 2.5}, []int64{0, 1, 2}},
		{"decimal comma, windows lines", "0,25\r\n0,75\r\n1,25\r\n", []float64{0.25, 0.75, 1.25}, []int64{0, 1, 2}},
		{"heading, mark, comments, blank lines", "\ufefftime in s\n# from the bench\n\n1.0 // first\n  2.0\n", []float64{1, 2}, []int64{0, 1}},
		{"second column", "1.5,0.2\n2.5,0.3\n3.5 7\n4.5;8\n5.5\tx\n", []float64{1.5, 2.5, 3.5, 4.5, 5.5}, []int64{0, 1, 2, 3, 4}},
		{"second column, decimal comma", "1,5;0,2\n2,5;0,3\n3,5,9\n", []float64{1.5, 2.5, 3.5}, []int64{0, 1, 2}},
		{"quoted", "\"t\"\n\"1.5\",\"a\"\n\"2.5\",\"b\"\n", []float64{1.5, 2.5}, []int64{0, 1}},
		{"silent beats", "0\n1\n2\n5.02\n6\n8\n9\n", []float64{0, 1, 2, 5.02, 6, 8, 9}, []int64{0, 1, 2, 5, 6, 8, 9}},
		{"negative, exponent", "-1e0\n-0.5\n0\n", []float64{-1, -0.5, 0}, []int64{0, 1, 2}},
		{"seconds since 1970", "1764000000.25\n1764000001.25\n", []float64{0, 1}, []int64{0, 1}},
	} {
		b, err := ReadBeatTimes(iotest.OneByteReader(strings.NewReader(c.text)))
		if err != nil || len(b) != len(c.at) {
			t.Errorf("%s: %v %v", c.name, b, err)
			continue
		}
		for i := range b {
			if float64(b[i].At) != c.at[i] || b[i].N != c.n[i] || b[i].Run != 0 || b[i].U != 0 {
				t.Errorf("%s: beat %d is %+v, want %v number %d", c.name, i, b[i], c.at[i], c.n[i])
			}
		}
	}
}

func TestBeatTimesRefused(t *testing.T) {
	for _, c := range []struct{ text, words string }{
		{"", "it has 0 beat times"},
		{"t\n1\n", "it has 1 beat times"},
		{"1\n2\nx\n3\n3\n", "Line 3: \"x\" is not a number of seconds.\nLine 5: \"3\" is not later than the time before, 3."},
		{"12:34:56\n12:34:57\n", "Line 1: \"12:34:56\" is a time of day"},
		{"1\n2:30,5\n", "Line 2: \"2:30,5\" is a time of day"},
		{"1\nNaN\n", "not a number of seconds"},
		{"1\nInf\n", "is too large"},
		{"1\n0x10\n", "not a number of seconds"},
		{"1\n1e300\n", "is too large"},
		{"a\nb\n1\n2\n", "Line 2: \"b\""},
		{"1\n" + strings.Repeat("9", 2000), "too long"},
	} {
		_, err := ReadBeatTimes(strings.NewReader(c.text))
		if err == nil || !strings.Contains(err.Error(), c.words) {
			t.Errorf("%.40q: %v, want %q", c.text, err, c.words)
		}
	}
	_, err := ReadBeatTimes(strings.NewReader("1\n" + strings.Repeat("?\n", 30)))
	var e *TimesError
	if !errors.As(err, &e) || len(e.Lines) != 10 || !e.More || e.Lines[9].Line != 11 {
		t.Errorf("%+v", err)
	}
	broken := errors.New("broken")
	if _, err := ReadBeatTimes(iotest.ErrReader(broken)); !errors.Is(err, broken) {
		t.Errorf("%v", err)
	}
	var many []byte
	for i := range int64(mostBeats + 2) {
		many = append(strconv.AppendInt(many, i, 10), '\n')
	}
	if _, err := ReadBeatTimes(bytes.NewReader(many)); err == nil || !strings.Contains(err.Error(), "more than 4194304 beats") {
		t.Errorf("%v", err)
	}
}

func FuzzBeatTimes(f *testing.F) {
	f.Add("t;x\n1,5;2\n2,5;3\n# end")
	f.Add("0\n1\n12:00\n")
	f.Fuzz(func(t *testing.T, s string) {
		b, err := ReadBeatTimes(strings.NewReader(s))
		for i := 1; err == nil && i < len(b); i++ {
			if !(b[i].At > b[i-1].At) || b[i].N <= b[i-1].N || math.IsInf(float64(b[i].At), 0) {
				t.Fatalf("%+v after %+v", b[i], b[i-1])
			}
		}
	})
}
