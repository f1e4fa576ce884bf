package train

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"seatboard/internal/kit/meas"
)

func TestParseChain(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"96/8 60/8 56/7 30", ""},
		{"8)96 8)60 7)56 30", "96/8 60/8 56/7 30"}, // Derham p. 110
		{"8)96 60/8, 7)56; 30", "96/8 60/8 56/7 30"},
		{"96/8,60/8\n56/7\t30", "96/8 60/8 56/7 30"},
		{"96 / 8 60 / 8 56 / 7 30", "96/8 60/8 56/7 30"},
		{"8 ) 96 30", "96/8 30"},
		{"96⁄8 60÷8 30", "96/8 60/8 30"},
		{"78/8 64/8 48/6", ""},
		{"96?/8 ?/? 56/7? 30", ""},
		{"96/8l 60/10L? ?/?L 30", "96/8L 60/10L? ?/?L 30"},
		{"96/8?L 30", "96/8L? 30"},
		{"30", ""},
		{"1200/1 1", ""},
		{"", ""},
	} {
		got, err := ParseChain(c.in)
		want := c.want
		if want == "" {
			want = c.in
		}
		if err != nil || got.String() != want || got.Entered() != c.in {
			t.Errorf("%q: got %q, entered %q, %v; want %q", c.in, got, got.Entered(), err, want)
		}
	}
}

func TestParseChainNamesEveryMistake(t *testing.T) {
	for _, c := range []struct {
		in   string
		want []string // a piece of each sentence, in order
	}{
		{"96/8 60/ 56/7 30", []string{"“60/” has a wheel and no pinion; write 60/8"}},
		{"96/8 /8 30", []string{"“/8” has a pinion and no wheel; write 96/8"}},
		{"8) 96/8 30", []string{"“8)” has a pinion and no wheel; write 8)96"}},
		{"96/8 )60 30", []string{"“)60” has a wheel and no pinion; write 8)60"}},
		{"/", []string{"has neither wheel nor pinion", "has neither"}},
		{"0/8 60/0 30", []string{"at least 1 tooth", "at least 1 tooth"}},
		{"-96/8 30", []string{"has no sign; write 96"}},
		{"1.5/8 60,5", []string{"whole number", "“60” stands alone"}},
		{"10000/8 30", []string{"the most taken is 1200"}},
		{"99999999999999999999/8 30", []string{"the most taken is 1200"}},
		{"sixty/8 30", []string{"“sixty/8”: this is not a tooth count"}},
		{"96/8 60 56/7 30", []string{"“60” stands alone"}},
		{"96 8 60 8 56 7 30", []string{"stroke between each wheel and the pinion it drives: 96/8 60/8 56/7 30"}},
		{"96:8 60-8 56x7 30", []string{"write 96/8", "write 60/8", "write 56/7"}},
		{"96/8/7 30", []string{"more than one stroke"}},
		{"🕰️/8 30", []string{"this is not a tooth count"}},
		{"96/8 60/ sixty/7 0", []string{"“60/”", "“sixty/7”", "“0”"}},
		{"½/8 30", []string{"whole number"}},
	} {
		_, err := ParseChain(c.in)
		var errs ParseErrors
		if !errors.As(err, &errs) {
			t.Errorf("%q: got %v", c.in, err)
			continue
		}
		if len(errs) != len(c.want) {
			t.Errorf("%q: got %d mistakes (%v), want %d", c.in, len(errs), errs, len(c.want))
			continue
		}
		for i, w := range c.want {
			if !strings.Contains(errs[i].Text, w) {
				t.Errorf("%q: mistake %d is %q, want %q in it", c.in, i, errs[i].Text, w)
			}
			if r := []rune(c.in); errs[i].Word != "" && !strings.HasPrefix(string(r[errs[i].At:]), string([]rune(errs[i].Word)[:1])) {
				t.Errorf("%q: %q does not stand at %d", c.in, errs[i].Word, errs[i].At)
			}
		}
	}
	var f meas.Faults
	if _, err := ParseChain("96/8 60/ sixty/7 0"); !errors.As(err, &f) || len(f) != 3 {
		t.Errorf("the mistakes are not faults: %v", f)
	}
}

func TestHugePaste(t *testing.T) {
	for _, s := range []string{strings.Repeat("96/8 ", 2<<20), strings.Repeat("🕰", 3<<20), strings.Repeat("9", 10<<20)} {
		c, err := ParseChain(s)
		if err == nil || len(err.Error()) > 300 || len(c.Entered()) > mostText {
			t.Errorf("%.20q…: kept %d bytes, %.300v", s, len(c.Entered()), err)
		}
		if _, err := ParseSizes(s); err == nil || len(err.Error()) > 300 {
			t.Errorf("sizes %.20q…: %.300v", s, err)
		}
		var n Exact
		if err := n.UnmarshalText([]byte(s)); err == nil || len(err.Error()) > 300 {
			t.Errorf("number %.20q…: %.300v", s, err)
		}
	}
	if _, err := ParseChain(strings.Repeat("96/8 ", 300)); err == nil || len(err.Error()) > 300 {
		t.Errorf("300 wheels: %v", err)
	}
}

func TestChainJSON(t *testing.T) {
	type box struct {
		C Chain `json:"c"`
	}
	for _, s := range []string{"96/8 60/8 56/7 30", "96/8 60/ half a train", "  ", "8)96 30"} {
		var a, b box
		in, _ := json.Marshal(map[string]string{"c": s})
		if err := json.Unmarshal(in, &a); err != nil {
			t.Fatal(err)
		}
		out, err := json.Marshal(a)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(out, &b); err != nil || b.C.Entered() != strings.TrimSpace(s) || (a.C.Err() == nil) != (b.C.Err() == nil) {
			t.Errorf("%q came back as %q, %v", s, b.C.Entered(), err)
		}
	}
	if err := json.Unmarshal([]byte(`{"c":5}`), &box{}); err == nil {
		t.Error("a number was taken as a chain")
	}
}

func TestCountJSON(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{`96`, "96"}, {`"96?"`, "96?"}, {`"?"`, "?"}, {`null`, ""}, {`""`, ""}, {`{"teeth":8,"status":"seen","lantern":true}`, "8L"},
		{`{"teeth":8}`, "8"}, {`{"teeth":null,"status":"missing"}`, "?"}, {`{"status":"none"}`, ""}, {`{"teeth":12,"status":"inferred"}`, "12?"},
	} {
		var n, back Count
		if err := json.Unmarshal([]byte(c.in), &n); err != nil || n.String() != c.want {
			t.Errorf("%s: got %q, %v", c.in, n, err)
		}
		b, _ := json.Marshal(n)
		if err := json.Unmarshal(b, &back); err != nil || back != n {
			t.Errorf("%s was written %s and read %v, %v", c.in, b, back, err)
		}
	}
	for _, bad := range []string{`1.5`, `-3`, `0`, `true`, `[]`, `"sixty"`, `{"teeth":0}`, `{"teeth":5000}`, `{"status":"seen"}`, `{"teeth":8,"status":"lost"}`, `{"teeth":"x"}`} {
		var n Count
		if err := json.Unmarshal([]byte(bad), &n); err == nil {
			t.Errorf("%s was taken as %v", bad, n)
		}
	}
}

// TestExactReadsBack: what was written is read again to the last figure, also
// where it rests on a measurement or is longer than anyone types.
func TestExactReadsBack(t *testing.T) {
	long := NewExact(1<<62-1, 1<<61-1)
	long = exactly(long.Rat().Mul(long.Rat(), long.Rat()))
	about := decimalRat(0.1)
	for _, e := range []Exact{{}, NewExact(15, 2), long, {r: about, About: true}} {
		b, err := e.MarshalJSON()
		var back Exact
		if err == nil {
			err = back.UnmarshalJSON(b)
		}
		again, _ := back.MarshalJSON()
		if err != nil || string(again) != string(b) || back.About != e.About || !back.About && e.Known() && back.r.Cmp(e.r) != 0 {
			t.Errorf("%s comes back as %s: %v", b, again, err)
		}
	}
	for _, bad := range []string{`{}`, `{"exact":"1e99"}`, `{"exact":"0"}`, `{"value":-1}`, `{"exact":"1/0"}`, `{"exact":"` + strings.Repeat("9", 500) + `"}`, `{"value":0,"about":true}`} {
		var e Exact
		if err := e.UnmarshalJSON([]byte(bad)); err == nil {
			t.Errorf("%s is taken for %v", bad, e)
		}
	}
}

func TestExact(t *testing.T) {
	for _, c := range []struct{ in, want, mixed string }{
		{"3600", "3600", "3600"}, {"7.5", "15/2", "7 1/2"}, {"7 1/2", "15/2", "7 1/2"}, {"15/2", "15/2", "7 1/2"}, {"89,1", "891/10", "89 1/10"}, {"1/3", "1/3", "1/3"}, {"0.12345", "2469/20000", "0.12345"}, {"", "", ""},
	} {
		var e, back Exact
		if err := e.UnmarshalText([]byte(c.in)); err != nil || e.String() != c.want || e.Mixed() != c.mixed {
			t.Errorf("%q: got %q, %q, %v", c.in, e, e.Mixed(), err)
		}
		b, _ := json.Marshal(e)
		if err := json.Unmarshal(b, &back); err != nil || back.String() != c.want {
			t.Errorf("%s: %q, %v", b, back, err)
		}
	}
	for _, bad := range []string{"0", "-5", "1/0", "1e9", "x", "1 2", "1.5 1/2", "1,234", "1/2/3", "..", "1 2/3 4", strings.Repeat("9", 50)} {
		var e Exact
		if err := e.UnmarshalText([]byte(bad)); err == nil {
			t.Errorf("%q was taken as %v", bad, e)
		}
	}
}

func TestInterval(t *testing.T) {
	for _, c := range []struct {
		a, b int64
		want string
	}{{43200, 1, "12 h"}, {480, 1, "8 min"}, {450, 1, "7 min 30 s"}, {60, 1, "1 min"}, {60, 7, "8.571 s"}, {691200, 1, "8 d"}, {129600, 1, "36 h"}, {1, 2, "0.5000 s"}, {5400, 1, "1 h 30 min"}, {3661, 1, "1.0169 h"}, {100000, 3, "9.259 h"}, {3000, 7, "7.143 min"}} {
		if got := strings.ReplaceAll(Interval(NewExact(c.a, c.b)), "\u00a0", " "); got != c.want {
			t.Errorf("%d/%d s: got %q, want %q", c.a, c.b, got, c.want)
		}
	}
}

func TestSizes(t *testing.T) {
	z, err := ParseSizes("1 wheel 98.4 mm depth 53,1\ncentre: pinion 9.8 mm, wheel 61.0 ± 0.1 mm\n\n3 wheel 1 3/4 in name Intermediate note bent, at one wheel tooth")
	if err != nil {
		t.Fatal(err)
	}
	rows := Train{Chain: MustChain("96/8 60/8 56/7 30"), Sizes: z}.Rows()
	if got := rows[0].Depth.Value.MM(); got != 53.1 {
		t.Errorf("depth %v", got)
	}
	if r := rows[1]; r.PinionDiameter.Value.MM() != 9.8 || r.WheelDiameter.U.MM() != 0.1 {
		t.Errorf("centre: %+v", r)
	}
	if r := rows[2]; r.Name != "Intermediate" || r.Note != "bent, at one wheel tooth" || r.WheelDiameter.Value.MM() != 44.449999999999996 {
		t.Errorf("third: %+v", r)
	}
	z, err = ParseSizes("great wheel: wheel 98.4 mm name Great wheel pinion 5 mm note wheel 5 bent\n4 name wheel of names")
	if err != nil || z.lines[0].part.Name != "Great wheel" || z.lines[0].part.PinionDiameter.Value.MM() != 5 || z.lines[0].part.Note != "wheel 5 bent" || z.lines[1].part.Name != "wheel of names" {
		t.Errorf("names: %+v, %v", z.lines, err)
	}
	_, err = ParseSizes("wheel 5\n2 wheel 5 kg pinion\n3\n4 depth 5x")
	var f meas.Faults
	if !errors.As(err, &f) || len(f) != 5 {
		t.Fatalf("got %d: %v", len(f), err)
	}
	for i, w := range []string{"Line 1: say which arbor", "Line 2: wheel “5 kg”: “kg” measures a weight", "Line 2: the size of the pinion is missing", "Line 3", "Line 4: depth “5x”"} {
		if !strings.Contains(f[i].Text, w) {
			t.Errorf("mistake %d: %q, want %q", i, f[i].Text, w)
		}
	}
}

// genCount draws a count of any status.
func genCount(t *rapid.T, label string, pinion bool) Count {
	c := Count{Status: rapid.SampledFrom([]Status{Seen, Inferred, Missing}).Draw(t, label)}
	if c.Status != Missing {
		c.Teeth = Teeth(rapid.IntRange(1, int(MostTeeth)).Draw(t, label))
	}
	c.Lantern = pinion && rapid.Bool().Draw(t, label)
	return c
}

func genArbors(t *rapid.T) []Arbor {
	n := rapid.IntRange(2, mostArbors).Draw(t, "n")
	a := make([]Arbor, n)
	for i := range a {
		if i > 0 {
			a[i].Pinion = genCount(t, "p", true)
		}
		if i < n-1 || rapid.Bool().Draw(t, "ends in a wheel") {
			a[i].Wheel = genCount(t, "w", false)
		}
	}
	return a
}

func TestPrintedIsReadAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := genArbors(t)
		s := Chain{arbors: a}.String()
		c, err := ParseChain(s)
		if err != nil {
			t.Fatalf("%q: %v", s, err)
		}
		if diff := cmp.Diff(a, c.Arbors()); diff != "" {
			t.Fatalf("%q: %s", s, diff)
		}
	})
}

func FuzzParseChain(f *testing.F) {
	for _, s := range []string{"96/8 60/8 56/7 30", "8)96 8)60 30", "60/", "?/?L 8?", "🕰️", "96 8 60", ") / )", "1.5/½", "\xff\xfe/8"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		c, err := ParseChain(s)
		if err != nil {
			if err.Error() == "" || len(err.Error()) > 4000 {
				t.Fatalf("%q: %v", s, err)
			}
			return
		}
		again, err := ParseChain(c.String())
		if err != nil || again.String() != c.String() {
			t.Fatalf("%q was written %q and read %q, %v", s, c, again, err)
		}
		q, _ := Parse(s)
		if _, err := Solve(q); err != nil {
			var faults meas.Faults
			if !errors.As(err, &faults) {
				t.Fatal(err)
			}
		}
	})
}

func FuzzSizes(f *testing.F) {
	f.Add("2 wheel 61 mm pinion 9,8")
	f.Add("centre: depth 5 name x note y\n\n:")
	f.Fuzz(func(t *testing.T, s string) {
		z, err := ParseSizes(s)
		if err == nil {
			q := Query{Trains: []Train{{Name: Going, Chain: MustChain("96/8 60/8 56/7 30"), Sizes: z}}}
			_, _ = Solve(q)
		}
	})
}
