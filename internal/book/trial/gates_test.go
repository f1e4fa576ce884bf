package trial

import (
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

var began = time.Date(2026, 11, 2, 9, 14, 0, 0, time.UTC)

func after(d float64) time.Time { return began.Add(days(d)) }

// aim is one week on the stand, within 5 s a day.
func testAim() Aim {
	return Aim{Band: unit.RatePerDay(5), Gates: []Gate{{Key: "stand", Name: "A week right on the stand", Days: 7, Least: 4, Gap: 3}, {Key: "case", Name: "A week right in the case", Days: 7, Least: 4, Gap: 3}}}
}

// going is a clock that was read once a day from the beginning of the gate
// with a doubt of u s, and gains rate s/d.
func going(n int, rate, u float64) Facts {
	f := Facts{Now: after(float64(n)), Marks: []Mark{{N: 1, Kind: Began, Gate: "stand", At: began, Who: "A"}}, Answer: &regulate.Answer{}}
	for i := range n + 1 {
		f.addReading(i+1, float64(i), rate*float64(i), u)
	}
	return f
}

func (f *Facts) addReading(id int, day, fast, u float64) {
	f.Readings = append(f.Readings, regulate.Reading{ID: id, At: after(day), How: regulate.ByHand, Error: unit.Duration(fast)})
	f.Answer.Past = append(f.Answer.Past, regulate.Point{At: after(day), Reading: id, Error: meas.Around(unit.Duration(fast), unit.Duration(u), 1.96)})
}

func stand(a Aim, f Facts) GateStanding { return Judge(a, f).Gates[0] }

func testOf(t *testing.T, g GateStanding, key string) Test {
	t.Helper()
	for _, x := range g.Tests {
		if x.Key == key {
			return x
		}
	}
	t.Fatalf("no test %q in %+v", key, g.Tests)
	return Test{}
}

func TestAWeekRight(t *testing.T) {
	for name, c := range map[string]struct {
		days    int
		rate, u float64
		want    State
	}{
		"right":                        {7, 1, 0.5, Ready},
		"a day short":                  {6, 1, 0.5, UnderWay},
		"plainly wrong":                {7, 12, 0.5, Missed},
		"plainly wrong after two days": {2, 12, 0.5, Missed},
		"within the band, the doubt reaches over": {7, 4.9, 2, UnderWay},
		"outside the band, the doubt reaches in":  {7, 5.1, 2, UnderWay},
		"losing, right":                           {7, -3, 0.5, Ready},
	} {
		if g := stand(testAim(), going(c.days, c.rate, c.u)); g.State != c.want {
			t.Errorf("%s: %s, want %s: %+v", name, g.State, c.want, g.Tests)
		}
	}
}

func TestAimedFast(t *testing.T) {
	a := testAim()
	a.Rate = unit.RatePerDay(10)
	if g := stand(a, going(7, 10, 0.5)); g.State != Ready || !strings.Contains(testOf(t, g, "rate").Name, "of +10") {
		t.Error(g.State, g.Tests)
	}
	if g := stand(a, going(7, 0, 0.5)); g.State != Missed {
		t.Error(g.State)
	}
}

func TestATouchBeginsTheWeekAnew(t *testing.T) {
	for kind, words := range map[regulate.Kind]string{regulate.NutTurned: "nut was turned down 0.5 of a turn", regulate.HandsSet: "hands were set", regulate.Moved: "moved", regulate.Levelled: "in beat", regulate.Stopped: "it stood",
		regulate.Started: "set going", regulate.Oiled: "oiled", regulate.OnTray: "tray", regulate.Worked: "worked on"} {
		f := going(7, 1, 0.5)
		f.Touches = []regulate.Touch{{ID: 3, At: after(2.5), Kind: kind, Turns: -0.5}}
		g := stand(testAim(), f)
		if g.State != UnderWay || !g.From.Equal(after(2.5)) || len(g.Resets) != 1 || !strings.Contains(g.Resets[0].Words, words) || g.Resets[0].Written {
			t.Errorf("%s: %s from %v, %+v", kind, g.State, g.From, g.Resets)
		}
		f.Marks = append(f.Marks, Mark{N: 2, Kind: Failed, Gate: "stand", At: after(2.5), Who: "B", Why: words})
		if g = stand(testAim(), f); len(g.Resets) != 1 || !g.Resets[0].Written || !g.From.Equal(after(2.5)) {
			t.Errorf("%s, written down: %+v", kind, g.Resets)
		}
	}
	f := going(7, 1, 0.5)
	f.Touches = []regulate.Touch{{ID: 3, At: after(2.5), Kind: regulate.Wound}, {ID: 4, At: after(-1), Kind: regulate.NutTurned, Turns: 1}}
	if g := stand(testAim(), f); g.State != Ready {
		t.Errorf("winding, and what was before: %s %+v", g.State, g.Resets)
	}
}

func TestAStop(t *testing.T) {
	f := going(7, 1, 0.5)
	f.Stops = []Stop{{Found: after(7)}}
	f.Now = after(7.2)
	f.Readings = f.Readings[:7]
	f.Answer.Past = f.Answer.Past[:7]
	if g := stand(testAim(), f); g.State != Missed || testOf(t, g, "going").Verdict != NotRight {
		t.Errorf("it stands: %s %+v", g.State, g.Tests)
	}
	f.Touches = []regulate.Touch{{ID: 1, At: after(7.1), Kind: regulate.Started}}
	if g := stand(testAim(), f); g.State != UnderWay || !g.From.Equal(after(7.1)) || len(g.Resets) != 2 {
		t.Errorf("set going: %s from %v %+v", g.State, g.From, g.Resets)
	}
}

func TestATimeWithoutReadings(t *testing.T) {
	f := going(0, 0, 0.5)
	for i, d := range []float64{1, 5, 6, 7, 8} {
		f.addReading(i+2, d, d, 0.5)
	}
	f.Now = after(8)
	g := stand(testAim(), f)
	if g.State != UnderWay || !g.From.Equal(after(5)) || !strings.Contains(g.Resets[0].Words, "no reading for 4") {
		t.Errorf("%s from %v %+v", g.State, g.From, g.Resets)
	}
	if !g.Due.Equal(after(11)) {
		t.Errorf("the next reading is due %v", g.Due)
	}
	a := testAim()
	a.Gates[0].Gap = 0
	if g := stand(a, f); g.State != Ready || !g.Due.IsZero() {
		t.Errorf("where nothing is asked of it: %s %v", g.State, g.Due)
	}
}

func TestOneBadDay(t *testing.T) {
	f := going(7, 0, 0.2)
	f.Answer.Past[4].Error = meas.Around(unit.Duration(20), 0.2, 1.96) // the fourth day +20 s, the fifth −20 s
	g := stand(testAim(), f)
	if x := testOf(t, g, "days"); x.Verdict != NotRight || !strings.Contains(x.Found, "5 November") {
		t.Errorf("%+v", x)
	}
	if testOf(t, g, "rate").Verdict != Right || g.State != Missed {
		t.Errorf("%s %+v", g.State, g.Tests)
	}
}

func TestQuestionsComeFirst(t *testing.T) {
	f := going(7, 1, 0.5)
	f.Asked = []regulate.Question{{About: regulate.Stray, Reading: []int{4}, Text: "One is off."}, {About: regulate.SetUnnoted, From: after(-3), Until: after(-2)}}
	if g := stand(testAim(), f); g.State != UnderWay || testOf(t, g, "questions").Found != "One is off." {
		t.Errorf("%s %+v", g.State, g.Tests)
	}
	f.Asked = f.Asked[1:]
	if g := stand(testAim(), f); g.State != Ready {
		t.Errorf("about an earlier time: %s", g.State)
	}
}

func TestBeat(t *testing.T) {
	a := testAim()
	a.BeatError = 0.01
	for name, c := range map[string]struct {
		at, value, u float64
		want         Verdict
	}{
		"even": {3, 0.002, 0.001, Right}, "out": {3, -0.05, 0.001, NotRight}, "doubtful": {3, 0.009, 0.002, Untold}, "heard before": {-1, 0, 0.001, Untold},
	} {
		f := going(7, 1, 0.5)
		f.Beat = []Heard{{At: after(c.at), Error: meas.Around(unit.Duration(c.value), unit.Duration(c.u), 2)}}
		if x := testOf(t, stand(a, f), "beat"); x.Verdict != c.want {
			t.Errorf("%s: %+v", name, x)
		}
	}
}

func TestStrike(t *testing.T) {
	a := testAim()
	a.Strikes = true
	f := going(7, 1, 0.5)
	for h := 1; h <= 11; h++ {
		f.Strikes = append(f.Strikes, Strike{At: after(1 + float64(h)/24), Hour: h, Blows: h})
	}
	if x := testOf(t, stand(a, f), "strike"); x.Verdict != Untold || x.Wanted != "Hear 12" {
		t.Errorf("%+v", x)
	}
	f.Strikes = append(f.Strikes, Strike{At: after(2), Hour: 12, Blows: 12})
	if g := stand(a, f); g.State != Ready || len(g.Days[1].Hours) != 11 {
		t.Errorf("%s %+v", g.State, g.Days)
	}
	f.Strikes = append(f.Strikes, Strike{At: after(3), Hour: 4, Blows: 5})
	if x := testOf(t, stand(a, f), "strike"); x.Verdict != NotRight || !strings.Contains(x.Found, "struck 5 at 4") {
		t.Errorf("%+v", x)
	}
}

func TestSignedAndFoundWrongLater(t *testing.T) {
	f := going(7, 1, 0.5)
	f.Marks = append(f.Marks, Mark{N: 9, Kind: Passed, Gate: "stand", At: after(7), Who: "B"})
	s := Judge(testAim(), f)
	if g := s.Gates[0]; g.State != Signed || g.Sign.Who != "B" || !g.Sign.From.Equal(began) || s.Current != 1 || s.Passed {
		t.Errorf("%+v", s)
	}
	f.Touches = []regulate.Touch{{ID: 5, At: after(8), Kind: regulate.Moved}}
	f.Now = after(9)
	if g := stand(testAim(), f); g.State != Signed {
		t.Errorf("what comes after the signing: %s %s", g.State, g.Doubt)
	}
	f.Readings[7].Out = true // the last reading was wrong
	g := stand(testAim(), f)
	if g.State != InDoubt || !strings.Contains(g.Doubt, "6\u00a0days") {
		t.Errorf("%s %s", g.State, g.Doubt)
	}
	if s := Judge(testAim(), f); s.Current != 1 || s.Passed {
		t.Errorf("a gate in doubt is not passed: %+v", s)
	}
	f.Marks = append(f.Marks, Mark{N: 10, Kind: Failed, Gate: "stand", At: after(1), Who: "B", Why: "the last reading was another clock's"})
	f.Touches = nil
	if s := Judge(testAim(), f); s.Current != 0 || s.Gates[0].State != UnderWay || !s.Gates[0].From.Equal(after(1)) {
		t.Errorf("%+v", s)
	}
}

func TestSignedWithAReasonIsNotInDoubt(t *testing.T) {
	f := going(7, 12, 0.5)
	f.Marks = append(f.Marks, Mark{N: 9, Kind: Passed, Gate: "stand", At: after(7), Who: "B", Why: "the owner wants it so"})
	if g := stand(testAim(), f); g.State != Signed || g.Doubt != "" {
		t.Errorf("%s %s", g.State, g.Doubt)
	}
}

func TestSoonest(t *testing.T) {
	f := going(2, 1, 0.5)
	if got := Judge(testAim(), f).Earliest; !got.Equal(after(14)) {
		t.Errorf("two weeks: %v, want %v", got, after(14))
	}
	if got := Judge(testAim(), going(6, 12, 0.5)).Earliest; !got.Equal(after(20)) {
		t.Errorf("not right, to be begun anew: %v, want %v", got, after(20))
	}
	f.Marks = nil
	if got := Judge(testAim(), f).Earliest; !got.Equal(after(16)) {
		t.Errorf("not begun: %v, want %v", got, after(16))
	}
}

// TestEveryTouchNeverHelps: what was done to a clock within a week never makes
// the week longer, and a gate that is ready is right in all that is asked.
func TestEveryTouchNeverHelps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 12).Draw(t, "days")
		f := going(n, rapid.Float64Range(-8, 8).Draw(t, "rate"), rapid.Float64Range(0.1, 5).Draw(t, "u"))
		before := stand(testAim(), f)
		kinds := regulate.Kinds()
		for i := range rapid.IntRange(0, 3).Draw(t, "touches") {
			f.Touches = append(f.Touches, regulate.Touch{ID: i + 1, At: after(rapid.Float64Range(-1, 12).Draw(t, "at")), Kind: rapid.SampledFrom(kinds).Draw(t, "kind")})
		}
		g := stand(testAim(), f)
		if g.From.Before(before.From) || g.From.After(f.Now) {
			t.Fatalf("from %v, before %v, now %v", g.From, before.From, f.Now)
		}
		if g.State == Ready {
			for _, x := range g.Tests {
				if x.Verdict != Right {
					t.Fatalf("ready, and %+v", x)
				}
			}
		}
		if len(g.Days) < 7 {
			t.Fatalf("%d days", len(g.Days))
		}
	})
}
