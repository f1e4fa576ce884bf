package table

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"reflect"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"pgregory.net/rapid"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func look(t testing.TB, s string) Guess {
	t.Helper()
	g, err := Look(strings.NewReader(s))
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// taken looks at a table, takes it as it was guessed, and returns it.
func taken(t testing.TB, s string) (Table, Guess) {
	t.Helper()
	g := look(t, s)
	got, err := Read(context.Background(), strings.NewReader(s), g.Plan, time.UTC, nil)
	if err != nil {
		t.Fatalf("%v\n%+v", err, g.Plan)
	}
	return got, g
}

func TestGuesses(t *testing.T) {
	for name, c := range map[string]struct {
		file    string
		columns string
		plan    Plan
		asks    string
	}{
		"dates apart": {"Date;Time;Error (s);Temp °F\n4.3.2026;9:14;12,5;65\n13.3.2026;9:20;13,1;66,5\n",
			"date, time, error s, temperature °F", Plan{Separator: ';', Dates: DMY, Comma: true}, ""},
		"day or month": {"when,fast\n4/3/2026 9:14,12\n5/3/2026 9:15,13\n", "at, error s", Plan{Separator: ',', Dates: DMY}, "dates"},
		"month first":  {"when,fast\n4/3/2026 9:14,12\n5/30/2026 9:15,13\n", "at, error s", Plan{Separator: ',', Dates: MDY}, ""},
		"no heading":   {"2026-03-04 09:14\t12\n2026-03-05 09:15\t13\n", "at, error s", Plan{Separator: '\t', Dates: YMD}, "column-2"},
		"two ends, no heading": {"2026-03-04,2026-03-05,1.2,x\n2026-03-05,2026-03-06,1.3,y\n",
			"from, at, rate s/d, skip", Plan{Separator: ',', Dates: YMD}, "column-3"},
		"slow positive":        {"day,slow (min)\n2026-03-04,1\n", "date, slow min", Plan{Separator: ',', Dates: YMD}, ""},
		"both ways":            {"day,fast/slow\n2026-03-04,1\n", "date, error s", Plan{Separator: ',', Dates: YMD}, ""},
		"rate beside error":    {"at,error,rate\n2026-03-04 10:00,1,0\n2026-03-05 10:00,2,1\n", "at, error s, skip", Plan{Separator: ',', Dates: YMD}, "column-3"},
		"the same twice":       {"from,to,losing_rate,tempC,tempF,barometer hPa,bar_inHg,RH\n2026-03-04,2026-03-05,1,20,68,1010,29.8,45\n", "from, at, losing s/d, temperature °C, skip, pressure hPa, skip, humidity %", Plan{Separator: ',', Dates: YMD}, "column-5 column-7"},
		"seconds since 1970":   {"unix at,error\n1772615640,1.5\n", "at unix, error s", Plan{Separator: ',', Dates: YMD}, ""},
		"a logger's own words": {"timestamp,Offset (s),humidity %,Amplitude (°),action\n2026-03-04T09:14:00Z,1.5,40,2.5,wound\n", "at, error s, humidity %, arc °, touch", Plan{Separator: ',', Dates: YMD}, ""},
	} {
		g := look(t, c.file)
		var cols, asks []string
		for _, m := range g.Plan.Columns {
			cols = append(cols, string(m))
		}
		for _, a := range g.Asks {
			asks = append(asks, a.About...)
		}
		if got := strings.Join(cols, ", "); got != c.columns {
			t.Errorf("%s: %s, want %s", name, got, c.columns)
		}
		if g.Plan.Separator != c.plan.Separator || g.Plan.Dates != c.plan.Dates || g.Plan.Comma != c.plan.Comma || g.Plan.Heading == strings.Contains(name, "no heading") {
			t.Errorf("%s: %+v", name, g.Plan)
		}
		if got := strings.Join(asks, " "); got != c.asks {
			t.Errorf("%s: asks %q, want %q", name, got, c.asks)
		}
	}
}

func TestReads(t *testing.T) {
	file := "\ufeffDate;Time;Error;\"Temp; °F\";hum;bar mmHg;done\r\n" +
		"# a remark\r\n" +
		"4.3.2026;9:14;12,5;68;45;760;wound\r\n" +
		";17:02:30,5;0:13 slow;;;;\r\n" +
		"\r\n" +
		"5. Mar 2026;9.14 am;−1.024,5;n/a;;;nut down 1/2\r\n"
	got, _ := taken(t, file)
	at := func(d, h, m int, s float64) time.Time {
		return time.Date(2026, 3, d, h, m, 0, int(s*1e9), time.UTC)
	}
	want := []regulate.Reading{
		{At: at(4, 9, 14, 0), How: regulate.Brought, Error: 12.5},
		{At: at(4, 17, 2, 30.5), How: regulate.Brought, Error: -13},
		{At: at(5, 9, 14, 0), How: regulate.Brought, Error: -1024.5},
	}
	if !reflect.DeepEqual(got.Readings, want) {
		t.Errorf("%+v\nwant %+v", got.Readings, want)
	}
	if len(got.Air) != 1 || len(got.Touches) != 2 || got.Touches[0].Kind != regulate.Wound || got.Touches[1].Turns != -0.5 {
		t.Fatalf("%+v, %+v", got.Air, got.Touches)
	}
	check.Near(t, "temperature", float64(got.Air[0].Temperature.Value), 293.15, 1e-9)
	check.Near(t, "pressure", float64(got.Air[0].Pressure.Value), 101325, 0.1)
	check.Near(t, "humidity", float64(got.Air[0].Humidity.Value), 0.45, 1e-12)
	if !got.First.Equal(want[0].At) || !got.Last.Equal(want[2].At) || got.Rows != 3 {
		t.Errorf("%v to %v, %d rows", got.First, got.Last, got.Rows)
	}
}

// The same table in each way of writing text is the same.
func TestEncodings(t *testing.T) {
	plain := "date,error,temp °C\n2026-03-04,1.5,20\n2026-03-05,2,21\n"
	want, _ := taken(t, plain)
	wide := []byte{0xff, 0xfe}
	for _, u := range utf16.Encode([]rune(plain)) {
		wide = append(wide, byte(u), byte(u>>8))
	}
	for name, file := range map[string]string{
		"mark": "\ufeff" + plain, "utf-16": string(wide), "latin-1": strings.ReplaceAll(plain, "°", "\xb0"), "crlf": strings.ReplaceAll(plain, "\n", "\r\n"),
	} {
		if got, _ := taken(t, file); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %+v, want %+v", name, got, want)
		}
	}
	for _, file := range []string{"PK\x03\x04rest", "a\x00b,c\n1,2"} {
		if _, err := Look(strings.NewReader(file)); !errors.Is(err, ErrNotText) {
			t.Errorf("%q: %v", file, err)
		}
	}
}

// All mistakes are told at once, by line, and nothing is taken.
func TestEveryMistake(t *testing.T) {
	file := "at,error,temp °C,hum,touch\n2026-02-30 10:00,1,20,40,\n2026-03-04 25:00,1,20,40,\n2026-03-05 10:00,abc,200,400,\n,5,,,\n2026-03-06 10:00,99999,,,nut\n\"2026-03-07 10:00\"x,1,,,\n26-03-08 10:00,2,,,tray\n"
	g := look(t, file)
	got, err := Read(context.Background(), strings.NewReader(file), g.Plan, time.UTC, nil)
	var f meas.Faults
	if !errors.As(err, &f) || got.Readings != nil {
		t.Fatalf("%v, %+v", err, got)
	}
	for _, want := range []string{
		"Line 2, “at”: “2026-02-30 10:00” is a day that is not in the calendar",
		"Line 3, “at”: “2026-03-04 25:00” is no time of day",
		"Line 4, “error”: “abc” is not a number",
		"Line 4, “temp °C”: “200” is no temperature of a room",
		"Line 4, “hum”: “400” is no humidity",
		"Line 5, “at”: has no date",
		"Line 6, “error”: “99999” is more than a day",
		"Line 6, “touch”: “nut” is nothing that is done",
		"Line 7 has a quotation mark out of place",
		"Line 8, “touch”: “tray” is nothing that is done",
		"Line 8, “at”: “26-03-08 10:00”",
	} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q is not said:\n%s", want, strings.ReplaceAll(err.Error(), "; L", "\nL"))
		}
	}
}

func TestPlanIsChecked(t *testing.T) {
	file := "a,b,c\n2026-03-04,1,2\n"
	g := look(t, file)
	for _, c := range []struct {
		with []string
		want string
	}{
		{[]string{"a=skip", "b=error s"}, "which column is the date"},
		{[]string{"a=date", "b=skip", "c=skip"}, "what the clock was wrong by"},
		{[]string{"a=date", "b=error s", "c=slow min"}, "both mean"},
		{[]string{"a=time", "b=error s", "3=skip"}, "A time of day needs"},
	} {
		p := g.Plan
		p.Columns = append([]Meaning(nil), g.Plan.Columns...)
		if f := p.Override(g.Names, c.with); len(f) > 0 {
			t.Fatal(f)
		}
		if f := p.Check(g.Names); !strings.Contains(f.Error(), c.want) {
			t.Errorf("%v: %v, want %q", c.with, f, c.want)
		}
	}
	p := g.Plan
	if f := p.Override(g.Names, []string{"d=skip", "a=weather", "b"}); len(f) != 3 {
		t.Errorf("%v", f)
	}
}

// An hour that comes twice goes forward with the rows, and one that never was
// is a mistake.
func TestSummerTime(t *testing.T) {
	berlin, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Skip(err)
	}
	file := "at,error\n2026-10-25 01:30,1\n2026-10-25 02:30,1\n2026-10-25 02:30,1\n2026-10-25 03:30,1\n"
	got, err := Read(context.Background(), strings.NewReader(file), look(t, file).Plan, berlin, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range got.Readings {
		want := time.Date(2026, 10, 24, 23, 30, 0, 0, time.UTC).Add(time.Duration(i) * time.Hour)
		if i == 2 { // a row that says the same time as the one before it may be the same moment
			want = want.Add(-time.Hour)
		}
		if i == 3 {
			want = time.Date(2026, 10, 25, 2, 30, 0, 0, time.UTC)
		}
		if !r.At.Equal(want) {
			t.Errorf("row %d: %v, want %v", i, r.At, want)
		}
	}
	file = "at,error\n2026-10-25 02:50,1\n2026-10-25 02:10,1\n2026-03-29 02:30,1\n"
	_, err = Read(context.Background(), strings.NewReader(file), look(t, file).Plan, berlin, nil)
	if err == nil || !strings.Contains(err.Error(), "never was") {
		t.Errorf("an hour that never was: %v", err)
	}
	file = file[:strings.Index(file, "2026-03")]
	got, err = Read(context.Background(), strings.NewReader(file), look(t, file).Plan, berlin, nil)
	if err != nil || got.Readings[1].At.Sub(got.Readings[0].At) != 20*time.Minute {
		t.Errorf("%+v, %v", got.Readings, err)
	}
}

// A clock of the Hongkong Observatory in 1887, in shared data: rates over ten
// days with temperature and pressure each in two units.
func TestHongkong(t *testing.T) {
	b, err := os.ReadFile(check.Shared(t, "rates/hko_sidereal_1887.csv"))
	if err != nil {
		t.Fatal(err)
	}
	got, g := taken(t, string(b))
	lines := strings.Split(strings.TrimSpace(string(b)), "\n")[1:]
	if len(got.Readings) != len(lines) || len(got.Air) != len(lines) || len(g.Asks) == 0 {
		t.Fatalf("%d readings, %d of air of %d lines", len(got.Readings), len(got.Air), len(lines))
	}
	for i, l := range lines {
		c := strings.Split(l, ",")
		var rate, f, in float64
		fmt.Sscan(c[2], &rate)
		fmt.Sscan(c[3], &f)
		fmt.Sscan(c[4], &in)
		r, a := got.Readings[i], got.Air[i]
		if r.From.Format("2006-01-02 15") != c[0]+" 12" || r.At.Format("2006-01-02 15") != c[1]+" 12" || math.Abs(r.Rate.PerDay()-rate) > 1e-9 {
			t.Errorf("line %d: %+v, want %s", i+2, r, l)
		}
		if math.Abs(float64(a.Temperature.Value)-273.15-(f-32)*5/9) > 1e-9 || math.Abs(unit.In(a.Pressure.Value, "inHg")-in) > 1e-9 {
			t.Errorf("line %d: %+v, want %s", i+2, a, l)
		}
	}
}

func TestLimits(t *testing.T) {
	big := "at,error\n" + strings.Repeat("2026-03-04 10:00,1\n", MaxRows+1)
	_, err := Read(context.Background(), strings.NewReader(big), look(t, big).Plan, time.UTC, nil)
	if err == nil || !strings.Contains(err.Error(), "more than 131072 rows") {
		t.Errorf("too many rows: %v", err)
	}
	_, err = Read(context.Background(), strings.NewReader("at,error\n"+strings.Repeat(",,,,,,,,,,,,,,,\n", MaxBytes/16)), look(t, big).Plan, time.UTC, nil)
	if !errors.Is(err, ErrTooLarge) {
		t.Errorf("too many bytes: %v", err)
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := Read(ctx, strings.NewReader(big), look(t, big).Plan, time.UTC, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}

// What is written is read again as it was, by its own plan and by the guess.
func TestRoundTrip(t *testing.T) {
	start := time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)
	rapid.Check(t, func(t *rapid.T) {
		num := func(label string, low, high float64) float64 {
			return math.Round(rapid.Float64Range(low, high).Draw(t, label)*1e6) / 1e6
		}
		var q regulate.Query
		for i := range rapid.IntRange(1, 12).Draw(t, "readings") {
			at := start.Add(time.Duration(i)*7*time.Hour + time.Duration(rapid.IntRange(0, 1e9).Draw(t, "ns")))
			r := regulate.Reading{At: at, How: rapid.SampledFrom(regulate.Hows()).Draw(t, "how"), U: num("u", 0, 9)}
			if rapid.Bool().Draw(t, "rate") {
				r.From, r.Rate, r.Clock = at.Add(-time.Hour), unit.RatePerDay(num("s/d", -500, 500)), unit.RatePerDay(num("clock", 0, 9))
				r.U /= 86400
			} else {
				r.Error = unit.Duration(num("error", -40000, 40000))
			}
			q.Readings = append(q.Readings, r)
			if rapid.Bool().Draw(t, "air") {
				q.Air = append(q.Air, regulate.Air{At: at, Temperature: meas.Exactly(unit.From[unit.Temperature](num("°C", -10, 40), "°C")), Humidity: meas.Exactly(unit.Ratio(num("hum", 0, 1)))})
			}
			if k := rapid.SampledFrom(append(regulate.Kinds(), "")).Draw(t, "touch"); k != "" {
				q.Touches = append(q.Touches, anyTouch(t, k, at.Add(time.Minute), num))
			}
		}
		var b bytes.Buffer
		if err := Write(&b, q); err != nil {
			t.Fatal(err)
		}
		for _, cell := range strings.FieldsFunc(b.String(), func(r rune) bool { return r == ',' || r == '\n' || r == '\r' || r == '"' }) {
			if strings.ContainsAny(cell[:1], "=@\t") {
				t.Fatalf("%q begins a formula", cell)
			}
		}
		g, err := Look(bytes.NewReader(b.Bytes()))
		if err != nil {
			t.Fatal(err)
		}
		plans := []Plan{Written()}
		if g.Plan.Heading && !reflect.DeepEqual(g.Plan.Columns, Written().Columns) {
			t.Fatalf("guessed %v", g.Plan.Columns)
		}
		plans = append(plans, g.Plan)
		for _, p := range plans {
			got, err := Read(context.Background(), bytes.NewReader(b.Bytes()), p, time.UTC, nil)
			if err != nil {
				t.Fatalf("%v\n%s", err, b.String())
			}
			same(t, got, q)
		}
	})
}

func anyTouch(t *rapid.T, k regulate.Kind, at time.Time, num func(string, float64, float64) float64) regulate.Touch {
	x := regulate.Touch{At: at, Kind: k, Words: rapid.SampledFrom([]string{"", "new gut", "=1+1", "“so”, he said: fine"}).Draw(t, "words")}
	switch k {
	case regulate.NutTurned:
		x.Turns = num("turns", 0.001, 3) * float64(1-2*rapid.IntRange(0, 1).Draw(t, "down"))
	case regulate.OnTray:
		x.Mass = unit.Mass(num("mass", 0.0001, 0.01))
	case regulate.HandsSet, regulate.Started:
		if x.HasError = rapid.Bool().Draw(t, "error after"); x.HasError {
			x.Error, x.U = unit.Duration(num("after", -99, 99)), unit.Duration(num("its doubt", 0, 2))
		}
	case regulate.Stopped:
		x.Until = at.Add(2 * time.Hour)
	case regulate.Worked:
		x.Words = "new gut"
	}
	return x
}

// same holds two to within the twelve figures that are written.
func same(t *rapid.T, got Table, q regulate.Query) {
	near := func(a, b float64) bool { return math.Abs(a-b) <= 1e-11*math.Max(1e-6, math.Abs(b)) }
	if len(got.Readings) != len(q.Readings) || len(got.Air) != len(q.Air) || len(got.Touches) != len(q.Touches) {
		t.Fatalf("%d, %d, %d of %d, %d, %d", len(got.Readings), len(got.Air), len(got.Touches), len(q.Readings), len(q.Air), len(q.Touches))
	}
	for i, a := range got.Readings {
		b := q.Readings[i]
		if !a.At.Equal(b.At) || !a.From.Equal(b.From) || a.How != b.How || !near(float64(a.Error), float64(b.Error)) || !near(float64(a.Rate), float64(b.Rate)) || !near(a.U, b.U) || !near(float64(a.Clock), float64(b.Clock)) {
			t.Fatalf("%+v, was %+v", a, b)
		}
	}
	for i, a := range got.Air {
		b := q.Air[i]
		if !a.At.Equal(b.At) || math.Abs(float64(a.Temperature.Value-b.Temperature.Value)) > 1e-9 || !near(float64(a.Humidity.Value), float64(b.Humidity.Value)) || a.Pressure.Set {
			t.Fatalf("%+v, was %+v", a, b)
		}
	}
	for i, a := range got.Touches {
		b := q.Touches[i]
		if !a.At.Equal(b.At) || !a.Until.Equal(b.Until) || a.Kind != b.Kind || !near(a.Turns, b.Turns) || !near(float64(a.Mass), float64(b.Mass)) || !near(float64(a.Error), float64(b.Error)) || !near(float64(a.U), float64(b.U)) || a.HasError != b.HasError || a.Words != b.Words {
			t.Fatalf("%+v, was %+v", a, b)
		}
	}
}

func FuzzTable(f *testing.F) {
	for _, s := range []string{
		"Date;Time;Error;\"Temp; °F\"\r\n4.3.2026;9:14;12,5;68\r\n;17:02:30,5;0:13 slow;\r\n",
		"from,to,rate_s_per_day,temp_F\n1886-12-31,1887-01-10,-2.12,62.3\n",
		"at,error,touch\n2026-03-04 10:00,1,nut up 1/2\n2026-03-05 10:00,−1,\"set 3 ± 1 s fast; gut\"\n",
		"\xff\xfea\x00,\x00", "\"", "a,b\n\"", "1,2,3\n4,5,6", "unix at,error\n1e9,2",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		g, err := Look(strings.NewReader(s))
		if err != nil {
			return
		}
		if len(g.Plan.Columns) != len(g.Names) {
			t.Fatalf("%d columns, %d names", len(g.Plan.Columns), len(g.Names))
		}
		got, err := Read(context.Background(), strings.NewReader(s), g.Plan, time.UTC, nil)
		if err != nil {
			if len(got.Readings)+len(got.Air)+len(got.Touches) > 0 {
				t.Fatal("half a table was taken")
			}
			return
		}
		for _, r := range got.Readings {
			if r.At.Year() < 1000 || !r.From.IsZero() && !r.From.Before(r.At) || !(math.Abs(float64(r.Error)) <= 86400) {
				t.Fatalf("%+v", r)
			}
		}
		var b bytes.Buffer
		if err := Write(&b, regulate.Query{Readings: got.Readings, Air: got.Air, Touches: got.Touches}); err != nil {
			t.Fatal(err)
		}
		again, err := Read(context.Background(), &b, Written(), time.UTC, nil)
		if err != nil || len(again.Readings) != len(got.Readings) || len(again.Touches) != len(got.Touches) {
			t.Fatalf("what was taken is not read again: %v\n%s", err, b.String())
		}
	})
}

func BenchmarkReadAYearOfHours(b *testing.B) {
	var file strings.Builder
	file.WriteString("at,error,temp_C,hPa pressure\n")
	start := time.Date(2025, 1, 1, 0, 0, 0, 0, time.UTC)
	for i := range 8760 {
		fmt.Fprintf(&file, "%s,%.1f,%.1f,%.1f\n", start.Add(time.Duration(i)*time.Hour).Format("2006-01-02 15:04"), float64(i)/100, 18+float64(i%24)/10, 1013.2)
	}
	g := look(b, file.String())
	for b.Loop() {
		if _, err := Read(context.Background(), strings.NewReader(file.String()), g.Plan, time.UTC, nil); err != nil {
			b.Fatal(err)
		}
	}
}
