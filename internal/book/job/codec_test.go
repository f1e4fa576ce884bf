package job

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"seatboard/internal/book/parts"
	"seatboard/internal/book/picture"
	"seatboard/internal/book/readings"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func sampleFile() File {
	at := time.Date(2026, 2, 2, 3, 4, 5, 0, time.UTC)
	return File{
		Clock: sample(), Survey: Survey{"train": {Values: map[string][]string{"going": {"96/8 60/8 56/7 30"}}, Saved: at}},
		Listenings: []readings.Listening{sampleListening(at)},
		Logs:       []Log{{"condition", "0123456789abcdef", []json.RawMessage{json.RawMessage(`{"n":1,"seen":"a <crack>, \u003c 2 mm","of another program":1.50}`)}}},
		Photos:     []picture.Photo{samplePhoto(at)}, Main: "00000000000000b1",
		History: []Change{{When: at, Who: "restorer", Record: "clock", Field: CreatedField, After: "2026-014"}},
	}
}

// samplePhoto is the record of a photograph with all that leaves with it.
func samplePhoto(at time.Time) picture.Photo {
	return picture.Photo{UID: "00000000000000b1", Version: 3, SHA256: strings.Repeat("0b", 32), Size: 4_000_000, Kind: picture.JPEG, Name: "dial <1>.jpg", Width: 4000, Height: 3000,
		Orientation: 6, Taken: "2026-02-02 04:04:05", Small: picture.None, Why: picture.StayedElsewhere, Received: at, By: "restorer", Parts: []parts.Number{"2", "2.1"}, Area: "dial",
		Stage: picture.Before, Caption: "crack at VI", SameView: "00000000000000b2", Marks: []picture.Mark{{Kind: picture.Ring, X: 10.5, Y: 20, X2: 30, Y2: 40}}, Removed: at.Add(time.Hour)}
}

func TestEncodeGolden(t *testing.T) {
	var b strings.Builder
	if err := Encode(&b, sampleFile()); err != nil {
		t.Fatal(err)
	}
	check.Golden(t, "clock.json", b.String())
}

// sampleListening is one with all that can be kept.
func sampleListening(at time.Time) readings.Listening {
	return readings.Listening{
		UID: "fedcba9876543210", Started: at.Add(-time.Hour), How: readings.ByHost, Length: 1.25, Source: "boathouse <1>.wav", Path: readings.Processor,
		Settings: `{"label":"Rode □","twice":1,"twice":2}`, Rate: 48000,
		Clock:   sampleclock.Clock{Error: -12.5e-6, Limit: 1e-7, How: sampleclock.Calibrated, When: time.Date(2026, 1, 30, 8, 0, 0, 123456789, time.FixedZone("", 3600)), Device: "Rode □"},
		Verdict: beat.Regular, Answer: `{"query":{"of another program":[1e400,"<&>\u003c"]},"mean":null}`, Program: "seatboard v1.2.3", Note: "on the bench\nin the case", By: "restorer",
		Gist:  readings.Gist{Mean: meas.Around(unit.RatePerDay(1.7), unit.RatePerDay(0.1), 2), First: "It gains."},
		Audio: strings.Repeat("0a", 32), Beats: []beat.Beat{{At: 0.1, U: 1e-6}, {At: 0.6, U: 2e-6, N: 1}, {At: 1.100000001, N: 5, Run: 1}}, Count: 3, Finished: true,
		Saved: at, Removed: at.Add(time.Minute),
	}
}

// TestEncodeDecodeIsIdentity: what was written is read as it was, and written
// again it is the same to the byte.
func TestEncodeDecodeIsIdentity(t *testing.T) {
	text := rapid.StringN(0, 40, -1).Filter(func(s string) bool { return !strings.Contains(s, "\x00") })
	number := rapid.Float64Range(0, 1e6)
	rapid.Check(t, func(t *rapid.T) {
		in := sampleFile()
		c, s, h := &in.Clock, in.Survey, in.History
		c.Title, c.Object.Inscriptions, c.Owner.Contact = text.Draw(t, "title"), text.Draw(t, "inscription"), text.Draw(t, "contact")
		c.Holders = append(c.Holders, Holder{N: 7, Name: text.Draw(t, "holder"), Removed: c.Touched})
		s["drive/strike"] = Part{Values: map[string][]string{text.Draw(t, "name"): {text.Draw(t, "v"), ""}}}
		h[0].Before = text.Draw(t, "before")
		other := readings.Listening{UID: "00000000000000aa", Beats: []beat.Beat{}, Finished: true, Note: text.Draw(t, "note"), Source: text.Draw(t, "source"), Length: unit.Duration(number.Draw(t, "length"))}
		other.Gist.First, other.Gist.BeatError = text.Draw(t, "first"), meas.Around(unit.Duration(number.Draw(t, "error")), unit.Duration(number.Draw(t, "u")), 2)
		quoted, _ := json.Marshal(text.Draw(t, "word"))
		other.Answer = `{"findings":[` + string(quoted) + `]}`
		for i := range rapid.IntRange(0, 30).Draw(t, "beats") {
			ns := rapid.Int64Range(-1e15, 1e15).Draw(t, "at")
			other.Beats = append(other.Beats, beat.Beat{At: unit.Duration(float64(ns) / 1e9), N: int64(i)})
		}
		other.Count = len(other.Beats)
		in.Listenings = append(in.Listenings, other)
		var b, again bytes.Buffer
		if err := Encode(&b, in); err != nil {
			t.Fatal(err)
		}
		first := b.String()
		out, err := Decode(&b)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(in, out, cmpopts.EquateEmpty()); diff != "" {
			t.Error(diff)
		}
		if err := Encode(&again, out); err != nil || again.String() != first {
			t.Errorf("written again it is another: %v\n%s", err, cmp.Diff(first, again.String()))
		}
	})
}

// TestOlderFilesAreRead: version 1 had no listenings, version 2 no logs and no
// photographs.
func TestOlderFilesAreRead(t *testing.T) {
	for _, version := range []string{"1", "2"} {
		b, err := os.ReadFile("testdata/clock-version-" + version + ".json")
		if err != nil {
			t.Fatal(err)
		}
		out, err := Decode(bytes.NewReader(b))
		want := sampleFile()
		want.Logs, want.Photos, want.Main = nil, nil, ""
		if version == "1" {
			want.Listenings = nil
		}
		if diff := cmp.Diff(want, out, cmpopts.EquateEmpty()); err != nil || diff != "" {
			t.Error(version, err, diff)
		}
	}
}

// TestLogsAndPhotographsThatCannotBe are named by their path.
func TestLogsAndPhotographsThatCannotBe(t *testing.T) {
	var b bytes.Buffer
	if err := Encode(&b, sampleFile()); err != nil {
		t.Fatal(err)
	}
	for _, x := range [][3]string{
		{`"entries": [`, `"entries": 3, "others": [`, "logs[0].entries"},
		{`"sha256": "0b`, `"sha256": "xb`, "photographs[0].sha256"},
		{`"main_photograph": "00000000000000b1"`, `"main_photograph": "00000000000000b9"`, "main_photograph"},
		{`"kind": "ring"`, `"kind": "star"`, "photographs[0].marks[0]"},
		{`"size_bytes": 4000000`, `"size_bytes": "large"`, "photographs[0].size_bytes"},
	} {
		text := strings.Replace(b.String(), x[0], x[1], 1)
		var f meas.Faults
		if _, err := Decode(strings.NewReader(text)); !errors.As(err, &f) || !strings.HasPrefix(f[0].Field, x[2]) {
			t.Errorf("%s: %v", x[1], err)
		}
	}
}

// TestUnknownNamesAreKept: nothing that stands in a file is lost without a
// word, nor does it keep the rest from being read.
func TestUnknownNamesAreKept(t *testing.T) {
	out, err := Decode(strings.NewReader(`{"seatboard":"clock","version":2,"clock":{"uid":"0123456789abcdef","number":"1","stage":"work","titel":"x"},
"listenings":[{"uid":"0123456789abcdef","mood":{"a":[1.50]},"answer":{"of":"another"}}],"more":null,"most":[true]}`))
	want := []Unread{{"clock.titel", `"x"`}, {"listenings[0].mood", `{"a":[1.50]}`}, {"more", "null"}, {"most", "[true]"}}
	if diff := cmp.Diff(want, out.Unread); err != nil || diff != "" {
		t.Error(err, diff)
	}
	if len(out.Listenings) != 1 || out.Listenings[0].Answer != `{"of":"another"}` {
		t.Errorf("%+v", out.Listenings)
	}
}

func TestDecodeNamesFaultsOfListenings(t *testing.T) {
	in := `{"seatboard":"clock","version":2,"clock":{"uid":"0123456789abcdef","number":"1","stage":"work"},"listenings":[
{"uid":"x","length":"long","gist":{"mean":{"value":1,"low":"0","high":2,"u":1,"unit":"s/d"}},"audio":"no","beats":{"count":2,"base64":"AQA="}},
{"uid":"0123456789abcdef","beats":{"count":0,"base64":"!"},"sample_clock":{"error":2},"settings":{},"saved":"yesterday"},
{"uid":"0123456789abcdef","beats":{"count":1,"base64":"AgA="},"note":"a\u0000b"},7]}`
	want := []string{
		"listenings[0].gist.mean.low", "listenings[0].length", "listenings[1].saved", "listenings[3]",
		"listenings[0].gist.mean.unit", "listenings[0].beats.count", "listenings[0].uid", "listenings[0].audio",
		"listenings[1].beats.base64", "listenings[1].sample_clock.error",
		"listenings[2].beats.base64", "listenings[2].note", "listenings[2].uid",
	}
	_, err := Decode(strings.NewReader(in))
	var f meas.Faults
	if !errors.As(err, &f) {
		t.Fatal(err)
	}
	var got []string
	for _, x := range f {
		got = append(got, x.Field)
		if x.Text == "" {
			t.Errorf("%s: nothing is said", x.Field)
		}
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("%s\n%v", diff, f)
	}
}

func TestDecodeNamesFaults(t *testing.T) {
	whole := func(clock, rest string) string {
		return `{"seatboard":"clock","version":1,"clock":{"uid":"0123456789abcdef","number":"1","stage":"work"` + clock + `}` + rest + `}`
	}
	if _, err := Decode(strings.NewReader("\ufeff" + whole("", ""))); err != nil {
		t.Errorf("the least clock is refused: %v", err)
	}
	for _, c := range []struct{ in, want string }{
		{"", ""}, {"[]", "seatboard"}, {"{", ""}, {"{}", "seatboard"}, {`{"seatboard":"clock","clock":{}}`, "version"},
		{`{"seatboard":"clock","version":4,"clock":{}}`, "version"}, {`{"seatboard":"clock","version":1}`, "clock"},
		{"\xff\xfe", ""}, {whole("", "") + "x", ""}, {strings.Repeat("[", 1000), "[0][0]"},
		{whole(`,"title":3`, ""), "clock.title"},
		{whole(`,"number":"2"`, ""), "clock.number"}, {whole(`,"holders":{}`, ""), "clock.holders"},
		{whole(`,"holders":[{"n":1},{"n":1}]`, ""), "clock.holders[1].n"}, {whole(`,"holders":[{"n":1.5}]`, ""), "clock.holders[0].n"},
		{whole(`,"pieces":[{"n":1,"received":"yes"}]`, ""), "clock.pieces[0].received"},
		{whole(`,"created":"yesterday"`, ""), "clock.created"}, {whole(`,"title":"a\u0000b"`, ""), "clock.title"},
		{whole("", `,"survey":{"Train":{}}`), "survey.Train"}, {whole("", `,"survey":{"train":{"values":{"a":"b"}}}`), "survey.train.values.a"},
		{whole("", `,"history":[{"who":"\u0000"}]`), "history[0].who"},
	} {
		_, err := Decode(strings.NewReader(c.in))
		var f meas.Faults
		if !errors.As(err, &f) || !strings.HasPrefix(f[0].Field, c.want) || f[0].Text == "" {
			t.Errorf("%.80q: %v", c.in, err)
		}
	}
	if _, err := decode(spaces{}, 100); err == nil || !strings.Contains(err.Error(), "256 MB") {
		t.Error(err)
	}
	two := whole(`,"title":1,"holders":3`, `,"history":[{"who":"\u0000"}]`)
	var f meas.Faults
	if _, err := Decode(strings.NewReader(two)); !errors.As(err, &f) || len(f) != 3 {
		t.Errorf("not all faults at once: %v", f)
	}
}

// spaces is a file of spaces without end.
type spaces struct{}

func (spaces) Read(b []byte) (int, error) {
	for i := range b {
		b[i] = ' '
	}
	return len(b), nil
}

func FuzzDecode(f *testing.F) {
	var b strings.Builder
	if err := Encode(&b, sampleFile()); err != nil {
		f.Fatal(err)
	}
	f.Add(b.String())
	f.Add(`{"seatboard":"clock","version":1,"clock":{"uid":null}}`)
	f.Fuzz(func(t *testing.T, in string) {
		out, err := Decode(strings.NewReader(in))
		if err != nil {
			return
		}
		var b, again bytes.Buffer
		if err := Encode(&b, out); err != nil {
			t.Fatal(err)
		}
		first := b.String()
		if out, err = Decode(&b); err != nil {
			t.Fatalf("what was read cannot be read again: %v", err)
		}
		if err := Encode(&again, out); err != nil || again.String() != first {
			t.Fatalf("written again it is another: %v", err)
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
