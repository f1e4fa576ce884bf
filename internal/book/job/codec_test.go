package job

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"seatboard/internal/kit/check"
	"seatboard/internal/kit/meas"
)

func sampleFile() (Clock, Survey, []Change) {
	at := time.Date(2026, 2, 2, 3, 4, 5, 0, time.UTC)
	return sample(), Survey{"train": {Values: map[string][]string{"going": {"96/8 60/8 56/7 30"}}, Saved: at}},
		[]Change{{When: at, Who: "restorer", Record: "clock", Field: CreatedField, After: "2026-014"}}
}

func TestEncodeGolden(t *testing.T) {
	var b strings.Builder
	c, s, h := sampleFile()
	if err := Encode(&b, c, s, h); err != nil {
		t.Fatal(err)
	}
	check.Golden(t, "clock.json", b.String())
}

func TestEncodeDecodeIsIdentity(t *testing.T) {
	text := rapid.StringN(0, 40, -1).Filter(func(s string) bool { return !strings.Contains(s, "\x00") })
	rapid.Check(t, func(t *rapid.T) {
		c, s, h := sampleFile()
		c.Title, c.Object.Inscriptions, c.Owner.Contact = text.Draw(t, "title"), text.Draw(t, "inscription"), text.Draw(t, "contact")
		c.Holders = append(c.Holders, Holder{N: 7, Name: text.Draw(t, "holder"), Removed: c.Touched})
		s["drive/strike"] = Part{Values: map[string][]string{text.Draw(t, "name"): {text.Draw(t, "v"), ""}}}
		h[0].Before = text.Draw(t, "before")
		var b bytes.Buffer
		if err := Encode(&b, c, s, h); err != nil {
			t.Fatal(err)
		}
		c2, s2, h2, err := Decode(&b)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff([]any{c, s, h}, []any{c2, s2, h2}, cmpopts.EquateEmpty()); diff != "" {
			t.Error(diff)
		}
	})
}

func TestDecodeNamesFaults(t *testing.T) {
	whole := func(clock, rest string) string {
		return `{"seatboard":"clock","version":1,"clock":{"uid":"0123456789abcdef","number":"1","stage":"work"` + clock + `}` + rest + `}`
	}
	if _, _, _, err := Decode(strings.NewReader("\ufeff" + whole("", ""))); err != nil {
		t.Errorf("the least clock is refused: %v", err)
	}
	for _, c := range []struct{ in, want string }{
		{"", ""}, {"[]", "seatboard"}, {"{", ""}, {"{}", "seatboard"}, {`{"seatboard":"clock","clock":{}}`, "version"},
		{`{"seatboard":"clock","version":2,"clock":{}}`, "version"}, {`{"seatboard":"clock","version":1}`, "clock"},
		{"\xff\xfe", ""}, {whole("", "") + "x", ""}, {strings.Repeat("[", 1000), "[0][0]"},
		{whole(`,"titel":"x"`, ""), "clock.titel"}, {whole(`,"title":3`, ""), "clock.title"},
		{whole(`,"number":"2"`, ""), "clock.number"}, {whole(`,"holders":{}`, ""), "clock.holders"},
		{whole(`,"holders":[{"n":1},{"n":1}]`, ""), "clock.holders[1].n"}, {whole(`,"holders":[{"n":1.5}]`, ""), "clock.holders[0].n"},
		{whole(`,"pieces":[{"n":1,"received":"yes"}]`, ""), "clock.pieces[0].received"},
		{whole(`,"created":"yesterday"`, ""), "clock.created"}, {whole(`,"title":"a\u0000b"`, ""), "clock.title"},
		{whole("", `,"survey":{"Train":{}}`), "survey.Train"}, {whole("", `,"survey":{"train":{"values":{"a":"b"}}}`), "survey.train.values.a"},
		{whole("", `,"history":[{"who":"\u0000"}]`), "history[0].who"}, {whole("", `,"more":1`), "more"},
	} {
		_, _, _, err := Decode(strings.NewReader(c.in))
		var f meas.Faults
		if !errors.As(err, &f) || !strings.HasPrefix(f[0].Field, c.want) || f[0].Text == "" {
			t.Errorf("%.80q: %v", c.in, err)
		}
	}
	if _, _, _, err := Decode(strings.NewReader(strings.Repeat(" ", MaxFile+1))); err == nil || !strings.Contains(err.Error(), "20 MB") {
		t.Error(err)
	}
	two := whole(`,"titel":"x","stage2":1`, `,"more":1`)
	var f meas.Faults
	if _, _, _, err := Decode(strings.NewReader(two)); !errors.As(err, &f) || len(f) != 3 {
		t.Errorf("not all faults at once: %v", f)
	}
}

func FuzzDecode(f *testing.F) {
	var b strings.Builder
	c, s, h := sampleFile()
	if err := Encode(&b, c, s, h); err != nil {
		f.Fatal(err)
	}
	f.Add(b.String())
	f.Add(`{"seatboard":"clock","version":1,"clock":{"uid":null}}`)
	f.Fuzz(func(t *testing.T, in string) {
		c, s, h, err := Decode(strings.NewReader(in))
		if err != nil {
			return
		}
		var b bytes.Buffer
		if err := Encode(&b, c, s, h); err != nil {
			t.Fatal(err)
		}
		if _, _, _, err := Decode(&b); err != nil {
			t.Fatalf("what was read cannot be read again: %v", err)
		}
	})
}

func BenchmarkFold(b *testing.B) {
	s := strings.Repeat("Großuhr, Møller & Søn 1780–90, the plinth cut down. ", 20)
	b.SetBytes(int64(len(s)))
	for b.Loop() {
		Fold(s)
	}
}
