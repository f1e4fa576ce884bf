package train

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"seatboard/internal/kit/check"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func TestChecks(t *testing.T) {
	check.All(t, Checks())
	var vibrations, lengths, misprints int
	for _, c := range Checks() {
		switch {
		case strings.HasPrefix(c.What, "vibrations") && !c.Misprint:
			vibrations++
		case strings.HasPrefix(c.What, "length") && !c.Misprint:
			lengths++
		case strings.HasPrefix(c.What, "length"):
			misprints++
		}
	}
	if vibrations != 79 || lengths != 66 || misprints != 13 {
		t.Errorf("%d vibrations, %d lengths and %d misprints; the table has 79, 66 and 13", vibrations, lengths, misprints)
	}
}

// The table of the package is the table of the reference.
func TestGoodrichIsWhole(t *testing.T) {
	b, err := os.ReadFile(check.Shared(t, "reference", "tables", "trains_goodrich_p255.csv"))
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range records(string(b)) {
		g := goodrichTable()[i]
		if r["vib_per_min_printed"] != g["vibrations_per_minute"] || r["pendulum_in_printed"] != g["length_in"] {
			t.Errorf("row %d: %v, reference %v", i+1, g, r)
		}
	}
}

func TestSources(t *testing.T) {
	for _, e := range Sources() {
		if _, ok := cite.Find(e.Ref.Source); e.Ref.Source != "" && !ok {
			t.Errorf("%s: the source %q is not in the bibliography", e.Name, e.Ref.Source)
		}
		if e.Ref.String() == "" {
			t.Errorf("%s has no source", e.Name)
		}
	}
}

// The rule finds the arbor that Goodrich's table starts from.
func TestRuleOnGoodrich(t *testing.T) {
	for _, r := range goodrichTable() {
		if r["beats_per_turn"] != "" {
			continue // the first arbor of these turns once in 3 hours
		}
		a := solve(t, r["train"])
		if a.Anchor.Kind != ByHourArbor || *a.Anchor.Arbor != 0 || !a.Anchor.Supposed {
			t.Errorf("%s: %+v", r["train"], a.Anchor)
		}
	}
}

func solve(t testing.TB, going string, change ...func(*Query)) Answer {
	t.Helper()
	q, err := Parse(going)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range change {
		c(&q)
	}
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func finding(a Answer, code string) (meas.Finding, bool) {
	for _, f := range a.Findings {
		if f.Code == code {
			return f, true
		}
	}
	return meas.Finding{}, false
}

func length(s string) meas.Reading[unit.Length] {
	r, err := meas.Parse[unit.Length](s, "mm")
	if err != nil {
		panic(err)
	}
	return r
}

func TestLongcase(t *testing.T) {
	a := solve(t, "96/8 60/8 56/7 30", func(q *Query) {
		q.Trains[0].BarrelTurns = meas.OfU(unit.Ratio(16), 0.25)
		q.Motion = MustChain("36/12 40/10")
	})
	want := map[string][4]string{
		"turns": {"1/12", "1", "15/2", "60"}, "period": {"43200", "3600", "480", "60"}, "names": {"Great wheel", "Centre", "Third", "Escape"},
	}
	for i, x := range a.Trains[0].Arbors {
		if x.TurnsPerHour.String() != want["turns"][i] || x.Period.String() != want["period"][i] || x.Name != want["names"][i] {
			t.Errorf("arbor %d: %s %s %s", i+1, x.Name, x.TurnsPerHour, x.Period)
		}
	}
	m := a.Trains[0].Meshes[1]
	if m.Ratio.String() != "15/2" || m.RepeatPeriod.String() != "7200" || m.Hunting || m.ContactsPerHour.String() != "60" {
		t.Errorf("mesh: %+v", m)
	}
	tr := a.Trains[0]
	if tr.RunningDays.String() != "8" || math.Abs(float64(tr.Running.U)-0.25*43200) > 1e-6 || tr.GreatTurnsPer12h.String() != "1" {
		t.Errorf("running: %v %v", tr.RunningDays, tr.Running)
	}
	if !a.Motion.Right || a.Motion.HoursPerTurn.String() != "12" || a.SecondsHand == nil || *a.SecondsHand != 3 || !a.Complete {
		t.Errorf("motion %+v, seconds %v, complete %v", a.Motion, a.SecondsHand, a.Complete)
	}
	if f := a.Findings[0]; f.Level != meas.Danger {
		t.Errorf("the first finding is %+v", f)
	}
	for _, f := range a.Findings {
		if f.Level == meas.Clash {
			t.Errorf("a right clock clashes: %s", f.Text)
		}
	}
}

func TestClashes(t *testing.T) {
	for _, c := range []struct {
		name, code, has string
		level           meas.Level
		change          func(*Query)
	}{
		{"motion", "motion-work", "12 3/5", meas.Clash, func(q *Query) { q.Motion = MustChain("36/12 42/10") }},
		{"motion way", "motion-work", "behind after 12 h", meas.Clash, func(q *Query) { q.Motion = MustChain("36/12 42/10") }},
		{"motion, 24 h", "motion-work", "where 24 is wanted", meas.Clash, func(q *Query) { q.Motion, q.DialHours = MustChain("72/6"), 24 }},
		{"motion on a stated carrier", "motion-work", "12 3/5 where 12 is wanted", meas.Clash, func(q *Query) { q.Motion, q.MotionArbor = MustChain("36/12 42/10"), "centre" }},
		{"pendulum", "pendulum", "gain", meas.Clash, func(q *Query) { q.Pendulum = length("900 ± 2 mm") }},
		{"pendulum agrees", "pendulum", "lose", meas.Note, func(q *Query) { q.Pendulum = length("995 mm") }},
		{"beats", "beats", "gain 40\u00a0min a day", meas.Clash, func(q *Query) { q.HourArbor, q.Beats = "2", NewExact(3700, 1) }},
		{"running time", "running-time", "6 days", meas.Clash, func(q *Query) { q.Trains[0].BarrelTurns = meas.Of(unit.Ratio(12)) }},
		{"running time, turns needed", "running-time", "8 days, for which 16 turns", meas.Clash, func(q *Query) { q.Trains[0].BarrelTurns = meas.Of(unit.Ratio(12)) }},
		{"module", "module", "were not made for each other", meas.Clash, func(q *Query) { q.Trains[0].Sizes = sizes("1 wheel 98.4 mm\n2 pinion 7.0 mm") }},
		{"depth", "module", "depth of arbors 1 and 2", meas.Clash, func(q *Query) { q.Trains[0].Sizes = sizes("1 wheel 98.4 mm depth 60 mm") }},
		{"leaves", "count", "3 leaves", meas.Doubt, func(q *Query) { q.Trains[0].Chain = MustChain("96/3 60/8 30") }},
		{"reversed", "reversed", "write 60/8", meas.Doubt, func(q *Query) { q.Trains[0].Chain = MustChain("96/8 8/60 56/7 30") }},
		{"inferred", "inferred", "wheel of arbor 2 (60)", meas.Note, func(q *Query) { q.Trains[0].Chain = MustChain("96/8 60?/8 56/7 30") }},
	} {
		a := solve(t, "96/8 60/8 56/7 30", c.change)
		f, ok := finding(a, c.code)
		if !ok || f.Level != c.level || !strings.Contains(f.Text+f.Next, c.has) {
			t.Errorf("%s: got %v %q %q; want %q", c.name, f.Level, f.Text, f.Next, c.has)
		}
	}
	a := solve(t, "96/8 60/8 56/7 30", func(q *Query) {
		q.Trains[0].Sizes = sizes("1 wheel 98.4 mm depth 52 mm\n2 pinion 9.5 mm wheel 61 mm\n3 pinion 9.4 mm")
	})
	if f, ok := finding(a, "module"); ok {
		t.Errorf("a fitting pair clashes: %s", f.Text)
	}
}

func sizes(s string) Sizes {
	z, err := ParseSizes(s)
	if err != nil {
		panic(err)
	}
	return z
}

func TestRateAgainstPendulum(t *testing.T) {
	a := solve(t, "96/8 60/8 56/7 30", func(q *Query) {
		q.Pendulum, q.Gravity = length("990 ± 1 mm"), meas.Of(unit.Acceleration(9.81))
	})
	want := (3600/math.Pi*math.Sqrt(9.81/0.990)/3600 - 1) * 86400
	check.Near(t, "rate", a.Rate.Value.PerDay(), want, 1e-6)
	check.Near(t, "its doubt", a.Rate.U.PerDay(), 43200*0.001/0.990, 0.3)
}

func TestAnchors(t *testing.T) {
	for _, c := range []struct {
		name, train, kind string
		arbor             int // -1 where there is none
		beats             string
		change            func(*Query)
	}{
		{"supposed", "96/8 60/8 56/7 30", ByHourArbor, 1, "3600", nil},
		{"stated", "96/8 60/8 56/7 30", ByHourArbor, 2, "480", func(q *Query) { q.HourArbor = "3" }},
		{"named", "96/8 60/8 56/7 30", ByHourArbor, 1, "3600", func(q *Query) { q.HourArbor = "Centre" }},
		{"beats", "55/5 45/5 40/5 17", ByBeats, -1, "17952", func(q *Query) { q.Beats = NewExact(17952, 1) }},
		{"motion", "55/5 45/5 40/5 17", ByMotion, 0, "17952", func(q *Query) { q.Motion, q.MotionArbor = MustChain("32/4"), "1" }},
		{"lever", "48/6 48/6 45/6 15", ByHourArbor, 0, "14400", nil},
		{"two fit, the pendulum decides", "36/6 36/6 35/6 25", ByHourArbor, 1, "1750", func(q *Query) { q.Pendulum = length("4.2 m") }},
		{"nothing", "10/10 5", ByNothing, -1, "", nil},
		{"pendulum", "50/10 14", ByPendulum, -1, "3606", func(q *Query) { q.Pendulum, q.Gravity = length("0.9903 m"), meas.Of(unit.Acceleration(9.80665)) }},
		{"15 minutes", "100/10 90/9", ByHourArbor, 0, "2400", func(q *Query) {
			q.HourArbor, q.ArborTurn, q.PerTurn = "1", meas.Of(unit.Duration(900)), NewExact(6, 1)
		}},
	} {
		change := c.change
		if change == nil {
			change = func(*Query) {}
		}
		a := solve(t, c.train, change)
		at := -1
		if a.Anchor.Arbor != nil {
			at = *a.Anchor.Arbor
		}
		if a.Anchor.Kind != c.kind || at != c.arbor || a.BeatsPerHour.String() != c.beats {
			t.Errorf("%s: %s arbor %d, %s beats; want %s %d %s", c.name, a.Anchor.Kind, at, a.BeatsPerHour, c.kind, c.arbor, c.beats)
		}
	}
	a := solve(t, "36/6 36/6 35/6 25")
	if f, _ := finding(a, "hour-arbor"); f.Level != meas.Doubt || !strings.Contains(f.Text, "arbor 2") || len(a.Anchor.Others) != 1 {
		t.Errorf("%+v, %v", f, a.Anchor)
	}
}

func TestMissing(t *testing.T) {
	// the third wheel and the escape pinion are lost; both sides are known
	a := solve(t, "96/8 60/8 ?/? 30", func(q *Query) { q.HourArbor, q.Beats = "2", NewExact(3600, 1) })
	if len(a.Wanted) != 1 || a.Wanted[0].Product.String() != "8" || a.Wanted[0].Example != "64/8" || a.Complete {
		t.Errorf("%+v", a.Wanted)
	}
	if got := a.Trains[0].Arbors[2].TurnsPerHour.String(); got != "15/2" {
		t.Errorf("the third arbor makes %s", got)
	}
	// the same with a pendulum
	a = solve(t, "96/8 60/8 ?/7 30", func(q *Query) { q.HourArbor, q.Pendulum = "2", length("994 ± 2 mm") })
	if w := a.Wanted[0]; !w.Product.About || w.Example != "56/7" || math.Abs(w.Product.Float()-8) > 0.02 || w.U < 0.005 {
		t.Errorf("%+v", w)
	}
	if f, _ := finding(a, "missing"); !strings.Contains(f.Next, "56/7 would do") || !strings.Contains(f.Text, "wheel of arbor 3") {
		t.Errorf("%+v", f)
	}
	// the escape wheel
	a = solve(t, "96/8 60/8 56/7 ?", func(q *Query) { q.HourArbor, q.Pendulum = "2", length("994 mm") })
	if w := a.Wanted[0]; w.Example != "30" || w.From != 3 {
		t.Errorf("%+v", w)
	}
	// a count of the motion work
	a = solve(t, "96/8 60/8 56/7 30", func(q *Query) { q.Motion = MustChain("36/12 ?/10") })
	if f, _ := finding(a, "motion-work"); f.Level != meas.Doubt || a.Complete {
		t.Errorf("%+v", f)
	}
	// nothing fixes the speed
	a = solve(t, "96/8 60/8 ?/7 30")
	if f, ok := finding(a, "hour-arbor"); !ok || a.Anchor.Kind != ByNothing || a.BeatsPerHour.Known() || !strings.Contains(f.Next, "by number") {
		t.Errorf("%+v %v", f, a.Anchor)
	}
	if a.Trains[0].Arbors[1].TurnsPerFirst.String() != "12" {
		t.Error("the ratio of the first mesh is lost")
	}
}

func TestUsualNames(t *testing.T) {
	for _, c := range []struct{ train, want string }{
		{"60/8 56/7 30", "Centre, Third, Escape"},
		{"96/8 64/8 60/8 40/8 15", "Great wheel, Centre, Third, Fourth, Escape"},
		{"96/16 72/9 60/8 56/7 30", "Great wheel, Intermediate, Centre, Third, Escape"},
		{"12)108 9)72 8)64 8)60 7)56 30", "Great wheel, Intermediate 1, Intermediate 2, Centre, Third, Escape"},
		{"10/10 5", "Great wheel, Escape"},
	} {
		var names []string
		for _, x := range solve(t, c.train).Trains[0].Arbors {
			names = append(names, x.Name)
		}
		if got := strings.Join(names, ", "); got != c.want {
			t.Errorf("%s: %s, want %s", c.train, got, c.want)
		}
	}
}

func TestStrike(t *testing.T) {
	a, err := Solve(Query{Trains: []Train{{Name: Strike, Chain: MustChain("78/8 64/8 48/6"), Pins: 8, BarrelTurns: meas.Of(unit.Ratio(16))}}})
	if err != nil {
		t.Fatal(err)
	}
	s := a.Trains[0]
	if s.BlowsPerTurn.String() != "78" || s.BlowsInAll.String() != "1248" || s.RunningDays.String() != "8" || s.Arbors[0].TurnsPerHour.String() != "1/12" || s.Arbors[3].Name != "Fly" || s.Arbors[1].Name != "Pin wheel" {
		t.Errorf("%+v", s)
	}
	if a.Trains[0].Arbors[3].TurnsPerFirst.String() != "624" {
		t.Errorf("the fly makes %s", a.Trains[0].Arbors[3].TurnsPerFirst)
	}
	a, _ = Solve(Query{Trains: []Train{{Name: Strike, Chain: MustChain("78/6"), Pins: 13, Report: MustChain("50/8")}}})
	if f, ok := finding(a, "count-wheel"); !ok || f.Level != meas.Clash {
		t.Error("a count wheel of 81 1/4 blows passes")
	}
}

func TestCheckNamesEveryMistake(t *testing.T) {
	ratio := func(x float64) meas.Reading[unit.Ratio] { return meas.Of(unit.Ratio(x)) }
	bad, _ := ParseChain("96/8 60/ sixty/7 30")
	badSizes, _ := ParseSizes("2 wheel 39.14 kg")
	q := Query{
		Trains: []Train{
			{Name: Going, Chain: bad, BarrelTurns: ratio(-16), Sizes: badSizes},
			{Name: Strike, Arbors: []Arbor{{Wheel: Count{Teeth: 5000, Status: Seen}}, {Wheel: Of(60)}}, Pins: -1, PinArbor: "9"},
			{Name: Quarter, BarrelTurns: ratio(12)},
		},
		ArborTurn: meas.Of(unit.Duration(-1)), Pendulum: meas.Of(unit.Length(-1)), Gravity: meas.Of(unit.Acceleration(0)),
		PerTooth: -2, Motion: MustChain("36/12 40"), MotionArbor: "9", DialHours: 13000,
	}
	got := map[string]int{}
	for _, f := range q.Check() {
		got[f.Field]++
		if f.Text == "" || strings.Contains(f.Text, "%!") {
			t.Errorf("%s: %q", f.Field, f.Text)
		}
	}
	want := map[string]int{"going": 2, "going-sizes": 1, "going-barrel-turns": 1, "strike-arbors.1.wheel": 1, "strike-arbors.2.pinion": 1, "strike-pins": 1, "strike-pin-arbor": 1, "quarter": 1,
		"hour-arbor": 1, "arbor-turn": 1, "pendulum": 1, "gravity": 1, "beats-per-tooth": 1, "motion": 1, "dial-hours": 1}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	for _, c := range []struct {
		field string
		q     Query
	}{
		{"going", Query{}},
		{"going", Query{Trains: []Train{{Chain: MustChain("30")}}}},
		{"going", Query{Trains: []Train{{Chain: MustChain("96/8 30")}, {Chain: MustChain("96/8 30")}}}},
		{"going", Query{Trains: []Train{{Chain: MustChain("96/8 30"), Arbors: []Arbor{{Wheel: Of(90)}}}}}},
		{"hour-arbor", Query{Trains: []Train{{Chain: MustChain("96/8 30")}}, HourArbor: "7"}},
		{"going-sizes", Query{Trains: []Train{{Chain: MustChain("96/8 30"), Sizes: sizes("7 wheel 5 mm")}}}},
	} {
		if _, err := Solve(c.q); err == nil || !strings.Contains(errorFields(err), c.field) {
			t.Errorf("%s: %v", c.field, err)
		}
	}
}

func errorFields(err error) string {
	var f meas.Faults
	errors.As(err, &f)
	var s []string
	for _, x := range f {
		s = append(s, x.Field)
	}
	return strings.Join(s, " ")
}

func TestQueryJSON(t *testing.T) {
	q, _ := Parse("8)96 8)60 7)56? 30")
	q.Trains[0].BarrelTurns, q.Trains[0].Sizes = meas.Of(unit.Ratio(16)), sizes("2 wheel 61 mm ± 0.1 mm")
	q.HourArbor, q.Beats, q.Pendulum, q.Motion = "2", NewExact(7201, 2), length("994 mm ± 1 mm"), MustChain("36/12 40/10")
	b, err := json.Marshal(q)
	if err != nil {
		t.Fatal(err)
	}
	var back Query
	if err := json.Unmarshal(b, &back); err != nil {
		t.Fatal(err)
	}
	again, _ := json.Marshal(back)
	if diff := cmp.Diff(string(b), string(again)); diff != "" {
		t.Error(diff)
	}
	x, _ := Solve(q)
	y, _ := Solve(back)
	bx, _ := json.Marshal(x)
	by, _ := json.Marshal(y)
	if diff := cmp.Diff(string(bx), string(by)); diff != "" {
		t.Error(diff)
	}
}

// Ratios are exact: the turns of each pair stand as the counts do, whatever
// the counts, and the beats are those of the whole product.
func TestTurnsStandAsCounts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 7).Draw(t, "n")
		rows := make([]Arbor, n)
		for i := range rows {
			rows[i].Wheel = Of(Teeth(rapid.IntRange(1, 1200).Draw(t, "w")))
			if i > 0 {
				rows[i].Pinion = Of(Teeth(rapid.IntRange(1, 1200).Draw(t, "p")))
			}
		}
		q := Query{Trains: []Train{{Chain: Chain{arbors: rows}}}, HourArbor: "1"}
		a, err := Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		tr := a.Trains[0]
		for i, m := range tr.Meshes {
			left := tr.Arbors[i].TurnsPerHour.Rat()
			left.Mul(left, NewExact(int64(rows[i].Wheel.Teeth), 1).r)
			right := tr.Arbors[i+1].TurnsPerHour.Rat()
			right.Mul(right, NewExact(int64(rows[i+1].Pinion.Teeth), 1).r)
			if left.Cmp(right) != 0 || m.ContactsPerHour.r.Cmp(left) != 0 {
				t.Fatalf("mesh %d: %v teeth of the wheel meet %v of the pinion", i, left, right)
			}
			if m.RepeatWheel*int(rows[i].Wheel.Teeth) != m.RepeatPinion*int(rows[i+1].Pinion.Teeth) {
				t.Fatalf("mesh %d: %+v", i, m)
			}
		}
		if _, err := json.Marshal(a); err != nil {
			t.Fatal(err)
		}
	})
}

// Any train that can be typed is answered or refused in words.
func TestAnyTrainIsAnswered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := Query{Trains: []Train{{Chain: Chain{arbors: genArbors(t)}, BarrelTurns: meas.Of(unit.Ratio(rapid.Float64Range(0.1, 100).Draw(t, "turns")))}}}
		if rapid.Bool().Draw(t, "pendulum") {
			q.Pendulum = meas.Of(unit.Length(rapid.Float64Range(0.01, 20).Draw(t, "length")))
		}
		if rapid.Bool().Draw(t, "hour") {
			q.HourArbor = rapid.SampledFrom([]string{"1", "2", "centre", "last"}).Draw(t, "arbor")
		}
		if rapid.Bool().Draw(t, "motion") {
			q.Motion = MustChain("48/12")
			q.MotionArbor = rapid.SampledFrom([]string{"", "1", "2"}).Draw(t, "carrier")
		}
		a, err := Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := json.Marshal(a); err != nil {
			t.Fatal(err)
		}
		for _, f := range a.Findings {
			if f.Text == "" || strings.Contains(f.Text+f.Next, "%!") || strings.Contains(f.Text+f.Next, "NaN") {
				t.Fatalf("%q %q", f.Text, f.Next)
			}
		}
	})
}

func BenchmarkSolve(b *testing.B) {
	q, err := Parse("96/8 60/8 56/7 30")
	if err != nil {
		b.Fatal(err)
	}
	q.Trains[0].BarrelTurns = meas.Of(unit.Ratio(16))
	q.Motion = MustChain("36/12 40/10")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Solve(q); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkParseChain(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ParseChain("96/8 60/8 56/7 30"); err != nil {
			b.Fatal(err)
		}
	}
}
