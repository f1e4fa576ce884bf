package stops

import (
	"encoding/json"
	"errors"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Whatever is written of stops, there is an answer of numbers or a list of
// mistakes: all in one place, at one moment, years apart, with settings of the
// hands, touches out of order and weights that cannot be.
func TestAnyStopsAreAnswered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		one := func(name string, from ...float64) float64 { return rapid.SampledFrom(from).Draw(t, name) }
		n := rapid.SampledFrom([]int{1, 2, 3, 4, 5, 8, 8, 20, MaxStops}).Draw(t, "stops")
		same, gap := rapid.Bool().Draw(t, "same"), time.Duration(one("gap", 0, 1, 60, 86400, 86400, 3e7)*1e9)
		q := Query{Strikes: rapid.SampledFrom([]Strikes{"", StrikesNothing, StrikesHours, StrikesHalves}).Draw(t, "strikes"), Since: on(1, 0, 0)}
		if rapid.Bool().Draw(t, "train") {
			q.Train = train96()
			if rapid.Bool().Draw(t, "striking") {
				q.Train = countStriker(rapid.SampledFrom([]int{1, 4, 8, 13, 78}).Draw(t, "pins"), rapid.SampledFrom([]string{"", "78/8", "78/13", "90/8", "8/8"}).Draw(t, "report"))
			}
		}
		q.Counts = rapid.SampledFrom([]train.Counting{"", "", train.ByRack, train.ByCountWheel}).Draw(t, "counts")
		q.Dial = rapid.SampledFrom([]int{0, 12, 24}).Draw(t, "dial")
		if rapid.Bool().Draw(t, "weight and case") {
			d := fall()
			q.Drive = &d
		}
		if rapid.Bool().Draw(t, "run") {
			q.Run = meas.Of(unit.Duration(one("run of", 8*86400, 1e-300, 1e300, 108000)))
		}
		by := []float64{0, 30, 1e5, 1e300}
		if rapid.IntRange(0, 9).Draw(t, "odd") == 0 {
			by = []float64{math.NaN()}
		}
		at := on(1, 9, 0)
		for i := range n {
			s := Stop{ID: i + 1, Hands: Hands{Hour: 10, Minute: 47}, Strike: rapid.SampledFrom([]string{"", AtRest, Warned, Striking, NotKnown}).Draw(t, "strike")}
			if !same {
				s.Hands = Hands{Hour: rapid.IntRange(0, 23).Draw(t, "hour"), Minute: rapid.Float64Range(0, 59.99).Draw(t, "minute")}
			}
			at = at.Add(gap + time.Duration(i))
			if rapid.IntRange(0, 3).Draw(t, "dated") > 0 {
				s.Found = at
			}
			if rapid.Bool().Draw(t, "wound") {
				s.Wound = at.Add(-time.Duration(one("since", 0, 60, 3e5, 8e5) * 1e9))
			}
			if rapid.Bool().Draw(t, "weighed") {
				s.Weight = meas.Exactly(unit.Length(one("weight", 0.31, 0.31, 0.32, 0, 1.2, 100)))
			}
			if rapid.Bool().Draw(t, "cold") {
				s.Room = meas.Exactly(unit.Temperature(one("room", 280, 280, 290, 349)))
			}
			switch rapid.IntRange(0, 5).Draw(t, "set") {
			case 0:
				s.Set.How = Moved
			case 1:
				s.Set = Setting{How: By, By: meas.Result[unit.Duration]{Value: unit.Duration(one("by", 0, 720, -43200)), U: unit.Duration(one("by u", by...)), HasU: true, Set: true}}
			}
			s.U = unit.Duration(one("u", 0, 0, 0, 1e-9, 5, 1800))
			q.Stops = append(q.Stops, s)
		}
		for i := range rapid.SampledFrom([]int{0, 0, 3, 9}).Draw(t, "touches") {
			q.Touches = append(q.Touches, regulate.Touch{ID: i + 1, At: on(1, 0, 0).Add(time.Duration(rapid.Float64Range(-1, 30).Draw(t, "day")*24) * time.Hour), Kind: rapid.SampledFrom(regulate.Kinds()).Draw(t, "kind"), HasError: rapid.Bool().Draw(t, "has"), Error: unit.Duration(one("error", 0, 5, 40000)), U: unit.Duration(one("error u", 0, 1, 86400))})
		}
		a, err := solve(q, 49)
		var faults meas.Faults
		if errors.As(err, &faults) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		if _, err := json.Marshal(a); err != nil {
			t.Fatalf("%v of %+v", err, a)
		}
		for _, x := range a.Suspects {
			if !(x.Own >= 0 && x.Own <= 1 && x.Chance >= 0 && x.Chance <= 1) {
				t.Fatalf("%+v", x)
			}
		}
	})
}

func train96() *train.Query {
	q, err := train.Parse("96/8 60/8 56/7 30")
	if err != nil {
		panic(err) // a test's own counts
	}
	q.HourArbor = "centre"
	return &q
}
