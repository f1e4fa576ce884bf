package stops

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"seatboard/internal/craft/drive"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/circular"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func TestChecks(t *testing.T) { check.All(t, Checks()) }

// longcase is an eight-day train with a seconds pendulum.
func longcase(t testing.TB) *train.Query {
	t.Helper()
	return train96()
}

// at makes stops of dials in s, read to whole minutes.
func at(dials ...float64) []Stop {
	out := make([]Stop, len(dials))
	for i, d := range dials {
		m := math.Mod(math.Round(d/60), 720)
		out[i] = Stop{ID: i + 1, Hands: Hands{Hour: int(m) / 60, Minute: math.Mod(m, 60)}}
	}
	return out
}

func must(t testing.TB, q Query) Answer {
	t.Helper()
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func suspect(a Answer, name string) *Suspect {
	for i, x := range a.Suspects {
		if strings.Contains(strings.Join(x.Names, " "), name) {
			return &a.Suspects[i]
		}
	}
	return nil
}

// TestThirdWheel: five stops at one tooth of a wheel of eight minutes.
func TestThirdWheel(t *testing.T) {
	a := must(t, Query{Stops: at(3*480+60, 17*480+60, 40*480+75, 61*480+70, 88*480+50), Train: longcase(t)})
	x := a.Suspects[0]
	if x.Names[0] != "third wheel" || !x.Found || x.Hold != 5 || x.Stops != 5 || x.Chance > 0.02 {
		t.Fatalf("%+v\n%s", x, a.Verdict)
	}
	if !strings.HasPrefix(a.Verdict, "All five stops with the third wheel in the same ") || !strings.Contains(a.Next, "in mesh with the escape pinion") {
		t.Errorf("%s\n%s", a.Verdict, a.Next)
	}
	if x.Before > 0 || x.Beyond < 0 || x.Beyond-x.Before > 15 {
		t.Errorf("the tooth at the last stop is in the place, of some nine teeth: %d to %d", x.Before, x.Beyond)
	}
	// the escape wheel goes round in a minute
	if len(a.Untold) != 1 || a.Untold[0].Name != "escape wheel" || !strings.Contains(a.Untold[0].Why, "seconds hand") {
		t.Errorf("%+v", a.Untold)
	}
	// the hands were never moved: the centre wheel and the minute hand are one
	if c := suspect(a, "centre wheel"); c == nil || len(c.Names) != 2 {
		t.Errorf("centre %+v", c)
	}
}

// TestMotionWork: a minute wheel that does not go round with the minute hand.
func TestMotionWork(t *testing.T) {
	q := longcase(t)
	q.Motion = train.MustChain("36/12 40/10")
	a := must(t, Query{Stops: at(3*3600+600, 6*3600+660, 9*3600+600, 630), Train: q})
	if x := suspect(a, "minute wheel"); x == nil || x.Period != 3*3600 || x.Teeth != 36 || x.Hold != 4 {
		t.Errorf("%+v", x)
	}
	q.Motion = train.MustChain("36/36 72/6")
	if x := suspect(must(t, Query{Stops: at(600, 4200, 9000), Train: q}), "minute wheel"); x != nil {
		t.Errorf("it goes with the minute hand: %+v", x)
	}
}

// TestOneOfFourElsewhere: three of four.
func TestOneOfFourElsewhere(t *testing.T) {
	a := must(t, Query{Stops: at(3*480+60, 17*480+60, 40*480+300, 61*480+60, 70*480+60), Train: longcase(t)})
	x := suspect(a, "third wheel")
	if x.Hold != 4 || x.Marks[2].In || !x.Marks[3].In {
		t.Errorf("%+v", x)
	}
	if !strings.HasPrefix(x.Words, "four of five stops with the third wheel in the same eighth") {
		t.Error(x.Words)
	}
	if x.Needed < 5 {
		t.Errorf("needed %d", x.Needed)
	}
}

// TestSecondsHand: the escape wheel by the seconds hand.
func TestSecondsHand(t *testing.T) {
	stops := at(1000, 9000, 17500, 40000)
	for i := range stops {
		stops[i].Hands.Second = meas.Exactly(unit.Duration(41 + i%2))
	}
	a := must(t, Query{Stops: stops, Train: longcase(t)})
	if x := a.Suspects[0]; x.Names[0] != "escape wheel" || !x.Found || x.Hold != 4 || x.Chance > Sure {
		t.Errorf("%+v", x)
	}
}

// TestSettings: the train stands in one place, but the hands were set between.
func TestSettings(t *testing.T) {
	set := func(how string, by float64) Setting {
		s := Setting{How: how}
		if how == By {
			s.By = meas.Result[unit.Duration]{Value: unit.Duration(by), U: 5, HasU: true, Set: true}
		}
		return s
	}
	dials := []float64{3*480 + 60, 17*480 + 60 + 190, 40*480 + 60 + 190 + 100, 61*480 + 60 + 190 + 100 - 290}
	bys := []float64{0, 190, 100, -290}
	known, lost := at(dials...), at(dials...)
	for i := 1; i < len(dials); i++ {
		known[i].Set, lost[i].Set = set(By, bys[i]), set(Moved, 0)
	}
	a := must(t, Query{Stops: known, Train: longcase(t)})
	if x := suspect(a, "third wheel"); x == nil || x.Hold != 4 || x.Stops != 4 || a.Places[2].By != 100 {
		t.Errorf("bridged: %+v", x)
	}
	if c := suspect(a, "minute hand"); c == nil || len(c.Names) != 1 || c.Kind != Dial {
		t.Errorf("the minute hand is told from the centre wheel: %+v", c)
	}
	a = must(t, Query{Stops: lost, Train: longcase(t)})
	if x := suspect(a, "third wheel"); x != nil {
		t.Errorf("not to be compared: %+v", x)
	}
	if len(a.Untold) != 4 || !strings.Contains(a.Untold[1].Why, "unknown amount") {
		t.Errorf("%+v", a.Untold)
	}
	// two stretches
	for i := range lost {
		lost[i].Set = set(Left, 0)
	}
	lost = append(at(480, 960), at(480*5+240, 480*9+240, 480*33+240)...)
	for i := range lost {
		lost[i].ID, lost[i].Set = i+1, set(Left, 0)
	}
	lost[2].Set = set(Moved, 0)
	a = must(t, Query{Stops: lost, Train: longcase(t)})
	if x := suspect(a, "third wheel"); x == nil || x.Hold != 5 || x.Spread != nil || !strings.Contains(x.Words, "two stretches") {
		t.Errorf("stretches: %+v", x)
	}
}

// day is an instant of the trial.
func on(d, h, m int) time.Time { return time.Date(2026, 11, d, h, m, 0, 0, time.UTC) }

// TestTouchesBridge: the settings follow from what was written of the trial.
func TestTouchesBridge(t *testing.T) {
	stops := at(10*3600+47*60, 3*3600+15*60, 8*3600)
	stops[0].Found, stops[1].Found, stops[2].Found = on(2, 12, 0), on(3, 7, 30), on(4, 9, 0)
	stops[1].Going = on(3, 0, 0)
	q := Query{Stops: stops, Train: longcase(t), Touches: []regulate.Touch{
		{ID: 1, At: on(2, 12, 5), Kind: regulate.Started, Error: 60, U: 5, HasError: true}, // set from 10:47 to 12:06
		{ID: 2, At: on(3, 8, 0), Kind: regulate.Started},                                   // left as it stood
	}}
	a := must(t, q)
	want := 79 * 60.0
	if got := float64(a.Places[1].By); math.Abs(got-want) > 1 || !a.Places[1].Joined {
		t.Errorf("set by %v s, want %v", got, want)
	}
	// from 12:06 to 3:15 the next night: 15 h 9 min in 19 h 25 min
	if got := float64(a.Places[1].Ran); math.Abs(got-(3*3600+9*60+12*3600)) > 1 {
		t.Errorf("ran %v s", got)
	}
	if a.Places[2].By != 0 || !a.Places[2].Joined {
		t.Errorf("%+v", a.Places[2])
	}
	// set while going, after a reading
	q.Readings = []regulate.Reading{{ID: 9, At: on(2, 20, 0), Error: 70, U: 5}}
	q.Touches = append(q.Touches, regulate.Touch{ID: 3, At: on(2, 20, 5), Kind: regulate.HandsSet, Error: 0, U: 5, HasError: true})
	a = must(t, q)
	if got := float64(a.Places[1].By); math.Abs(got-(want-70)) > 1 {
		t.Errorf("set by %v s, want %v", got, want-70)
	}
	q.Touches[2].HasError = false
	if a = must(t, q); a.Places[1].Joined {
		t.Error("a setting of unknown amount joins nothing")
	}
}

func TestCannotRun(t *testing.T) {
	stops := at(10*3600, 4*3600, 5*3600)
	stops[0].Found, stops[1].Found, stops[2].Found = on(2, 10, 0), on(2, 13, 0), on(2, 23, 0)
	a := must(t, Query{Stops: stops, Train: longcase(t)})
	if a.Places[1].Joined || a.Findings[1].Code != "cannot-run" {
		t.Errorf("%+v\n%+v", a.Places[1], a.Findings)
	}
}

// TestWhatDoesNotTurn: each cause where it is plain, and its chance by hand: of
// the 60 minutes that can be read, 12 are at the strike.
func TestWhatDoesNotTurn(t *testing.T) {
	q := Query{Stops: at(3*3600+55*60, 7*3600+58*60, 11*3600+52*60, 2*3600+59*60), Strikes: StrikesHours}
	a := must(t, q)
	x := suspect(a, "strike")
	if want := math.Pow(12.0/60, 4); x.Hold != 4 || math.Abs(x.Own-want) > 1e-12 {
		t.Errorf("strike %+v, want %v", x, want)
	}
	d := drive.Query{Turns: meas.Of[unit.Ratio](16), TurnTime: meas.Of(unit.Duration(12 * 3600)), Falls: 2, BarrelDiameter: meas.Of(unit.Length(0.05)), LineDiameter: meas.Of(unit.Length(0.0014)),
		SeatToFloor: meas.Of(unit.Length(1.5)), TopGap: meas.Of(unit.Length(0.05)), WeightLength: meas.Of(unit.Length(0.2)), PendulumLength: meas.Of(unit.Length(0.994))}
	worked, err := drive.Solve(d)
	if err != nil || worked.Swing == nil {
		t.Fatal(err, worked.Swing)
	}
	mid := float64(worked.Swing.Level.Value)
	h, _ := worked.At(unit.Duration(mid))
	stops := at(1000, 8000, 20000, 30000)
	for i := range stops {
		stops[i].Weight = meas.Exactly(h.AboveFloor.Value)
	}
	a = must(t, Query{Stops: stops, Drive: &d})
	x = suspect(a, "swinging")
	share := float64(worked.Swing.To.Value-worked.Swing.From.Value) / float64(worked.Fall.RunningTime.Value)
	if x == nil || x.Hold != 4 || math.Abs(x.Own-math.Pow(share, 4)) > 1e-9 {
		t.Errorf("swing %+v, share %v", x, share)
	}
	if h := a.Suspects[0]; h.Kind != Height || !strings.HasPrefix(h.Next, "It hangs there as long as the pendulum") {
		t.Errorf("first is %+v", h)
	}
}

func TestLowAndCold(t *testing.T) {
	stops := at(8*3600, 9*3600, 7*3600, 6*3600)
	var air []regulate.Air
	for i := range stops {
		stops[i].Found, stops[i].Wound = on(8+i*7, 12, 0), on(1+i*7, 8, 0)
		stops[i].Room = meas.Exactly(unit.Temperature(273.15 + 8 + float64(i)/10))
	}
	for d := range 40 {
		air = append(air, regulate.Air{At: on(1, 0, 0).AddDate(0, 0, d), Temperature: meas.Exactly(unit.Temperature(273.15 + 15 + float64(d%7)))})
	}
	a := must(t, Query{Stops: stops, Run: meas.Of(unit.Duration(8 * 86400)), Air: air})
	low, cold := suspect(a, "low"), suspect(a, "cold")
	if low == nil || low.Hold != 4 || low.Own > 0.01 {
		t.Errorf("low %+v", low)
	}
	// the four coldest of 44: one choice in C(44,4)
	if want := math.Exp(-circular.LogBinomial(44, 4)); cold == nil || math.Abs(cold.Own/want-1) > 1e-9 || !cold.Found {
		t.Errorf("cold %+v, want %v", cold, want)
	}
}

func TestAfterTouch(t *testing.T) {
	stops := at(8*3600, 9*3600, 7*3600)
	var touches []regulate.Touch
	for i := range stops {
		stops[i].Found = on(3+i*8, 12, 0)
		touches = append(touches, regulate.Touch{ID: i + 1, At: on(3+i*8, 1, 0), Kind: regulate.NutTurned, Turns: 1})
	}
	a := must(t, Query{Stops: stops, Touches: touches, Since: on(1, 0, 0)})
	x := suspect(a, "nut was turned")
	if x == nil || x.Hold != 3 || x.Chance > 0.05 || a.Places[1].After != "the nut was turned" {
		t.Errorf("%+v", x)
	}
}

func TestTooFew(t *testing.T) {
	for n := 1; n <= 2; n++ {
		a := must(t, Query{Stops: at(1000, 5000)[:n]})
		if a.Complete || len(a.Suspects) != 0 || len(a.Wanted) < 5 || !strings.Contains(a.Verdict, "too few") {
			t.Errorf("%d: %+v", n, a)
		}
	}
}

func TestCheck(t *testing.T) {
	seconds := at(600, 1200, 9000)
	seconds[1].Hands.Second = meas.Exactly(unit.Duration(12))
	fast, _ := train.Parse("96/8 60/8 49/7 30")
	fast.HourArbor = "2"
	for _, c := range []struct {
		name, field, text string
		q                 Query
	}{
		{"none", "stops", "10:47", Query{}},
		{"hands", "stops.1.hands", "cannot stand", Query{Stops: []Stop{{Hands: Hands{Hour: 25, Minute: 70}}}}},
		{"NaN", "stops.1.hands", "cannot stand", Query{Stops: []Stop{{Hands: Hands{Minute: math.NaN()}}}}},
		{"wound", "stops.1.wound", "before it was wound", Query{Stops: []Stop{{Found: on(2, 8, 0), Wound: on(2, 9, 0)}}}},
		{"going", "stops.1.going", "last seen going", Query{Stops: []Stop{{Found: on(2, 8, 0), Going: on(2, 9, 0)}}}},
		{"no seconds hand", "stops.2.hands", "no arbor of this clock turns once a minute", Query{Stops: seconds, Train: &fast}},
		{"weight", "stops.1.weight", "100 m", Query{Stops: []Stop{{Weight: meas.Exactly(unit.Length(-1))}}}},
		{"strike", "stops.1.strike", "warned", Query{Stops: []Stop{{Strike: "maybe"}}}},
		{"room", "stops.1.room", "76 °C", Query{Stops: []Stop{{Room: meas.Exactly(unit.Temperature(0))}}}},
		{"by", "stops.1.set", "by how much", Query{Stops: []Stop{{Set: Setting{How: By}}}}},
		{"twice", "stops.2.found", "stopped once", Query{Stops: []Stop{{Found: on(2, 8, 0)}, {Found: on(2, 8, 0)}}}},
		{"many", "stops", "more than", Query{Stops: make([]Stop, MaxStops+1)}},
		{"run", "run", "more than nought", Query{Stops: at(0), Run: meas.Of(unit.Duration(-1))}},
	} {
		_, err := Solve(c.q)
		var faults meas.Faults
		if !errors.As(err, &faults) || faults[0].Field != c.field || !strings.Contains(faults[0].Text, c.text) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	_, err := Solve(Query{Stops: []Stop{{Hands: Hands{Hour: 99}, U: -1, Strike: "x", Weight: meas.Exactly(unit.Length(199))}}})
	var faults meas.Faults
	if errors.As(err, &faults); len(faults) != 4 {
		t.Errorf("all mistakes at once: %v", err)
	}
}

// TestSameAnswer: the seed is fixed.
func TestSameAnswer(t *testing.T) {
	q := Query{Stops: at(100, 5000, 9000, 20000), Train: longcase(t), Strikes: StrikesHalves}
	a, _ := json.Marshal(must(t, q))
	b, _ := json.Marshal(must(t, q))
	if string(a) != string(b) {
		t.Error("two answers to one question")
	}
	var back Answer
	if err := json.Unmarshal(a, &back); err != nil || back.Verdict == "" {
		t.Error(err)
	}
}

// studied tells how many clocks a simulation tries: as many as the study that
// is asked for says, 1,000 where it says none.
func studied(some int) int {
	switch n, err := strconv.Atoi(os.Getenv("SEATBOARD_STUDY")); {
	case os.Getenv("SEATBOARD_STUDY") == "":
		return some
	case err == nil && n > 1:
		return n
	}
	return 1000
}

// TestFalseAlarms: stops at any time accuse something in at most one of
// twenty clocks, by whole minutes and with all that can be stated.
func TestFalseAlarms(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	trials := studied(60)
	for _, n := range []int{3, 4, 5, 6, 8} {
		for _, full := range []bool{false, true} {
			alarms, trials := 0, trials
			if full {
				trials = studied(12)
			}
			for range trials {
				q := Query{Stops: randomStops(r, n), Train: longcase(t)}
				if full {
					stateAll(r, &q)
				}
				a, err := solve(q, 999)
				if err != nil {
					t.Fatal(err)
				}
				if a.Suspects[0].Found {
					alarms++
				}
			}
			t.Logf("%d stops, all stated %v: %d of %d", n, full, alarms, trials)
			// four standard deviations above one in twenty
			if limit := 0.05*float64(trials) + 4*math.Sqrt(0.05*0.95*float64(trials)); float64(alarms) > limit {
				t.Errorf("%d stops: %d of %d", n, alarms, trials)
			}
		}
	}
}

func randomStops(r *rand.Rand, n int) []Stop {
	dials := make([]float64, n)
	for i := range dials {
		dials[i] = r.Float64() * 43200.0
	}
	return at(dials...)
}

// stateAll states all that can be, at random: the strike by a count wheel,
// warned and striking as the hands have it, and the weight where it hangs so
// long after winding.
func stateAll(r *rand.Rand, q *Query) {
	d := fall()
	q.Train, q.Drive = countStriker(8, "78/8"), &d
	worked, err := drive.Solve(d)
	if err != nil {
		panic(err) // a test's own case
	}
	q.Strikes, q.Run = StrikesHours, meas.Of(unit.Duration(8*86400))
	for d := range 120 {
		q.Air = append(q.Air, regulate.Air{At: on(1, 0, 0).Add(time.Duration(d) * 12 * time.Hour), Temperature: meas.Exactly(unit.Temperature(280 + 10*r.Float64()))})
		if d%9 == 0 {
			q.Touches = append(q.Touches, regulate.Touch{ID: d + 1, At: on(1, 0, 0).Add(time.Duration(d) * 12 * time.Hour), Kind: regulate.NutTurned, Turns: 1})
		}
	}
	q.Since = on(1, 0, 0)
	for i := range q.Stops {
		s := &q.Stops[i]
		s.Set.How = Left
		since := r.Float64() * 7.9 * 86400
		s.Hands.Second = meas.Exactly(unit.Duration(r.IntN(60)))
		right := on(1+r.IntN(56), 0, 0).Add(time.Duration(s.Hands.Dial()) * time.Second)
		s.Found, s.Wound = right.Add(time.Duration(i+1)*61*time.Second), right.Add(-time.Duration(since)*time.Second)
		s.Room = meas.Exactly(unit.Temperature(280 + 10*r.Float64()))
		s.Strike = AtRest
		switch past := math.Mod(s.Hands.Dial(), 3600); {
		case past >= 3600-180:
			s.Strike = Warned
		case past <= 60:
			s.Strike = Striking
		}
		if h, ok := worked.At(unit.Duration(since)); ok {
			s.Weight = meas.Exactly(max(h.AboveFloor.Value, 0))
		}
	}
}

// TestPower: one tooth of the third wheel, so many stops by it; the hands are
// read with a scatter of 15 s and written in whole minutes.
func TestPower(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	trials := studied(25)
	for _, c := range []struct{ k, n, least int }{{3, 3, 0}, {4, 4, 477}, {5, 5, 426}, {6, 6, 980}, {4, 5, 52}, {5, 6, 571}, {6, 7, 675}, {6, 8, 586}, {7, 8, 803}, {8, 10, 822}} {
		found := 0
		for range trials {
			place := r.Float64() * 480
			dials := make([]float64, c.n)
			for i := range dials {
				dials[i] = r.Float64() * 43200.0
				if i < c.k {
					dials[i] = circular.Wrap((float64(r.IntN(90))*480+place+15*r.NormFloat64())/43200.0) * 43200.0
				}
			}
			a, err := solve(Query{Stops: at(dials...), Train: longcase(t)}, 999)
			if err != nil {
				t.Fatal(err)
			}
			if x := a.Suspects[0]; x.Found && x.Names[0] == "third wheel" {
				found++
			}
		}
		t.Logf("%d of %d stops by the third wheel: found in %d of %d", c.k, c.n, found, trials)
		p := float64(c.least) / 1000 // measured, of 1,000 clocks
		if float64(found) < p*float64(trials)-4*math.Sqrt(p*(1-p)*float64(trials)) {
			t.Errorf("%d of %d: found in %d of %d only", c.k, c.n, found, trials)
		}
	}
}

func TestToldAndHands(t *testing.T) {
	told, err := ParseTold("10:47; 3:31:12 found 2026-11-21 08:10 wound 2026-11-16 weight 310 mm strike warned\n8:15 room 11 °C hands unknown doubt 1 min note 4:30 the rain")
	if err != nil || len(told.Stops) != 3 {
		t.Fatal(err, told)
	}
	s := told.Stops[1]
	if s.Hands.Second.Value != 12 || !s.Found.Equal(on(21, 8, 10)) || !s.Wound.Equal(on(16, 12, 0)) || s.Weight.Value != 0.31 || s.Strike != Warned {
		t.Errorf("%+v", s)
	}
	if s := told.Stops[2]; s.U != 60 || s.Set.How != Moved || s.Words != "4:30 the rain" {
		t.Errorf("%+v", s)
	}
	told, err = ParseTold("10:47 8:15, 3:31 hands +12 min ± 30 s")
	if err != nil || len(told.Stops) != 3 || told.Stops[2].Set.By.U != 30 {
		t.Errorf("%v %+v", err, told)
	}
	for _, bad := range []string{"25:70", "10:47:99", "ten", "found 2026-11-20", "10:47 found yesterday", "10:47 weight", "10:47 hands much", "1:2:3:4"} {
		if _, err := ParseTold(bad); err == nil {
			t.Errorf("%q was taken", bad)
		}
	}
	_, err = ParseTold("25:70 room 900 kg; 10:61")
	var faults meas.Faults
	if errors.As(err, &faults); len(faults) != 3 {
		t.Errorf("all mistakes: %v", err)
	}
	for in, want := range map[string]string{"0:05": "12:05", "22:47": "22:47", "10.47": "10:47", "3:7:5": "3:07:05", "12:00,5": "12:00.5", "1047": "10:47", "905": "9:05"} {
		if h, err := ParseHands(in); err != nil || h.String() != want {
			t.Errorf("%q: %v, %v", in, h, err)
		}
	}
}

func FuzzTold(f *testing.F) {
	for _, s := range []string{"10:47 8:15 3:31", "10:47 found 2026-11-20 08:15 weight 310 mm; 8:15 hands unknown", "25:70", "::", "10:47 note ; 1:1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		told, err := ParseTold(s)
		if err != nil {
			return
		}
		if a, err := solve(Query{Stops: told.Stops}, 19); err == nil {
			for _, x := range a.Suspects {
				if !(x.Chance >= 0 && x.Chance <= 1) || math.IsNaN(x.Own) {
					t.Errorf("%+v", x)
				}
			}
		}
	})
}

func FuzzQuery(f *testing.F) {
	b, _ := json.Marshal(Query{Stops: at(100, 5000, 9000), Train: longcase(f), Touches: []regulate.Touch{{At: on(1, 1, 1), Kind: regulate.HandsSet}}})
	f.Add(string(b))
	f.Add(`{"stops":[{"hands":{"hour":1,"minute":2}},{"found":"2026-01-01T00:00:00Z"},{"set":{"how":"by"}}]}`)
	f.Fuzz(func(t *testing.T, s string) {
		var q Query
		if json.Unmarshal([]byte(s), &q) != nil {
			return
		}
		a, err := solve(q, 19)
		if err != nil {
			return
		}
		if _, err := json.Marshal(a); err != nil {
			t.Error(err)
		}
	})
}

func TestOdds(t *testing.T) {
	for _, c := range []struct{ got, want float64 }{
		{atLeast(4, 4, 0.5), 1.0 / 16}, {atLeast(3, 1, 0.1), 1 - 0.729}, {atLeast(3, 0, 0.1), 1}, {atLeast(2, 1, 0), 0}, {atLeast(2, 2, 1), 1},
		{sumAbove(1, 0.9), 0.1}, {sumAbove(2, 1.5), 0.125}, {sumAbove(3, 1.5), 0.5}, {sumAbove(2, 0.5), 0.875}, {sumAbove(3, 3.5), 0},
		{rankOdds([]int{2, 4, 6, 8}, 2)[6], 1.0 / 6}, {rankOdds([]int{2, 4, 6, 8}, 2)[14], 1},
	} {
		if math.Abs(c.got-c.want) > 1e-12 {
			t.Errorf("%v, want %v", c.got, c.want)
		}
	}
	if exact, normal := sumBelow(19, 6), sumAbove(19, 13); exact > normal || exact < 0.8*normal {
		t.Errorf("the sum of many: %v, %v", exact, normal)
	}
	if r := fmt.Sprint(middleRanks([]float64{3, 1, 3, 2})); r != "[7 2 7 4]" {
		t.Error(r)
	}
}

func BenchmarkSolve(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 1))
	q := Query{Stops: randomStops(r, 6), Train: longcase(b)}
	stateAll(r, &q)
	for b.Loop() {
		if _, err := Solve(q); err != nil {
			b.Fatal(err)
		}
	}
}
