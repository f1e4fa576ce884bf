package present

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/paper/svg"
)

// trialDay is an instant of the invented trial, so many days from its start.
func trialDay(d float64) time.Time {
	return time.Date(2026, 11, 2, 9, 0, 0, 0, time.UTC).Add(time.Duration(d * 24 * float64(time.Hour))).Round(time.Minute)
}

func perDay(v, u float64) meas.Interval[unit.Rate] {
	return meas.Around(unit.RatePerDay(v), unit.RatePerDay(u), 2)
}

func offBy(v, u float64) meas.Interval[unit.Duration] {
	return meas.Around(unit.Duration(v), unit.Duration(u), 2)
}

// trialTouch is one touch of the invented trial and what the rate is after it.
type trialTouch struct {
	day, rate float64
	touch     regulate.Touch
}

// onTrial invents a trial of so many days with so many readings a day: it
// comes from begin s/day by three touches to near nought.
func onTrial(days, perADay int, begin float64) regulate.Answer {
	end := float64(days)
	plan := []trialTouch{
		{.12 * end, begin * .2, regulate.Touch{Kind: regulate.NutTurned, Turns: -2.5}},
		{.3 * end, begin * .2, regulate.Touch{Kind: regulate.HandsSet, HasError: true}},
		{.31 * end, -6, regulate.Touch{Kind: regulate.NutTurned, Turns: -.75}},
		{.5 * end, .8, regulate.Touch{Kind: regulate.NutTurned, Turns: .25}},
		{.55 * end, .8, regulate.Touch{Kind: regulate.Wound}},
		{.7 * end, 1.4, regulate.Touch{Kind: regulate.Moved}},
	}
	r := rand.New(rand.NewPCG(7, 1))
	a := regulate.Answer{Complete: true}
	err, rate, next := 3.0, begin, 0
	last := 0.0
	for i := range days*perADay + 1 {
		d := float64(i) / float64(perADay)
		for next < len(plan) && plan[next].day <= d {
			t := plan[next]
			err += rate * (t.day - last)
			if t.touch.Kind == regulate.HandsSet {
				err = 0
			}
			last, rate = t.day, t.rate
			t.touch.ID, t.touch.At = next+1, trialDay(t.day)
			a.Query.Touches = append(a.Query.Touches, t.touch)
			next++
		}
		err += rate * (d - last)
		last = d
		warm := 17 + 3*math.Sin(2*math.Pi*d/9)
		now, seen := rate-.3*(warm-17), err+.5*r.NormFloat64()
		a.Past = append(a.Past, regulate.Point{At: trialDay(d), Error: offBy(err, .3), Rate: perDay(now, .4+math.Abs(begin)/20*math.Exp(-d)), Reading: i + 1, Seen: unit.Duration(seen), Residual: unit.Duration(seen - err)})
		a.Query.Readings = append(a.Query.Readings, regulate.Reading{ID: i + 1, At: trialDay(d), How: regulate.ByHand, Error: unit.Duration(seen), U: .5})
		a.Query.Air = append(a.Query.Air, regulate.Air{At: trialDay(d), Temperature: meas.Exactly(unit.Temperature(273.15 + warm))})
	}
	for i := range 8 {
		d := end + float64(i)
		a.Ahead = append(a.Ahead, regulate.Point{At: trialDay(d), Error: offBy(err+rate*float64(i), .3+.5*float64(i)), Rate: perDay(rate, .4+.1*float64(i))})
	}
	a.Now = regulate.Point{At: trialDay(end), Error: offBy(err, .3), Rate: perDay(rate, .4)}
	a.Query.Now = trialDay(end)
	return a
}

// asked is the invented trial with a half day taken wrong, a set that nobody
// wrote down, a time that it stood, and an advice.
func asked() regulate.Answer {
	a := onTrial(28, 2, 180)
	p := &a.Past[30]
	p.Asked, p.Seen = true, p.Seen+43200
	a.Query.Readings[30].Error += 43200
	a.Past[44].Asked, a.Past[44].Seen = true, a.Past[44].Seen+6
	a.Query.Touches = append(a.Query.Touches, regulate.Touch{ID: 90, Kind: regulate.Stopped, At: trialDay(23), Until: trialDay(23.9), Words: "the weight was down"})
	a.Steps = append(a.Steps, regulate.Step{At: trialDay(25.2), Rate: perDay(.6, .3), Error: offBy(4, .5)})
	a.Advice = regulate.Advice{Do: regulate.Turn, After: perDay(-.2, .6)}
	return a
}

// SEATBOARD_LOOK names a folder where the figures are written for looking at.
func TestWeeksKeepTheirWordsApart(t *testing.T) {
	long := onTrial(365, 24, -40)
	short := onTrial(1, 6, 30)
	for name, a := range map[string]regulate.Answer{"weeks": asked(), "steady": onTrial(60, 1, 5), "year": long, "day": short} {
		for kind, width := range map[string]float64{"wide": wideFigure, "narrow": narrowFigure, "least": 320, "middle": 520} {
			p := weeksPicture(a, width)
			inside(t, fmt.Sprintf("%s at %.0f", name, p.W), p)
			if p.Desc == "" || p.Title == "" {
				t.Errorf("%s says too little", name)
			}
			if dir := os.Getenv("SEATBOARD_LOOK"); dir != "" {
				if err := os.WriteFile(filepath.Join(dir, name+"-"+kind+".svg"), svg.File(p), 0o644); err != nil {
					t.Fatal(err)
				}
			}
		}
		f, ok := weeksFigure(a)
		if !ok || len(f.Numbers.Rows) == 0 || len(f.Numbers.Rows) > mostTold {
			t.Errorf("%s: the table has %d rows", name, len(f.Numbers.Rows))
		}
		rowsFit(t, name, *f.Numbers)
	}
	var wire bytes.Buffer
	z := gzip.NewWriter(&wire)
	z.Write(svg.File(weeksPicture(long, wideFigure)))
	z.Write(svg.File(weeksPicture(long, narrowFigure)))
	z.Close()
	if wire.Len() > 30000 { // half of what a page may have
		t.Errorf("a year of hours goes over the wire in %d bytes, more than 30 000", wire.Len())
	}
}

// anyTrial makes an answer that may never have been.
func anyTrial(t *rapid.T) regulate.Answer {
	a := onTrial(rapid.IntRange(1, 40).Draw(t, "days"), rapid.IntRange(1, 5).Draw(t, "readings a day"), rapid.SampledFrom([]float64{0, 3, -180, 4000, -1e5, .01}).Draw(t, "rate"))
	wild := rapid.SampledFrom([]float64{1, 1, 1e3, 1e-6, math.Inf(1), math.NaN()})
	for i := range a.Past {
		if rapid.IntRange(0, 9).Draw(t, "odd") == 0 {
			a.Past[i].Rate.High = unit.Rate(wild.Draw(t, "high")) * a.Past[i].Rate.High
			a.Past[i].Error.Low = unit.Duration(wild.Draw(t, "low")) * a.Past[i].Error.Low
			a.Past[i].Seen *= unit.Duration(wild.Draw(t, "seen"))
			a.Past[i].Asked = rapid.Bool().Draw(t, "asked")
		}
	}
	for i := range a.Query.Touches {
		a.Query.Touches[i].Words = rapid.StringN(0, 40, 80).Draw(t, "words")
		a.Query.Touches[i].Kind = rapid.SampledFrom(regulate.Kinds()).Draw(t, "kind")
		if rapid.Bool().Draw(t, "until") {
			a.Query.Touches[i].Until = trialDay(rapid.Float64Range(-3, 60).Draw(t, "until day"))
		}
	}
	a.Query.Wanted.Rate = unit.RatePerDay(rapid.SampledFrom([]float64{0, 0, 5, -900}).Draw(t, "wanted"))
	a.Query.Wanted.Band = unit.RatePerDay(rapid.SampledFrom([]float64{0, 1, .1, 30}).Draw(t, "band"))
	if rapid.Bool().Draw(t, "no air") {
		a.Query.Air = nil
	}
	if rapid.Bool().Draw(t, "nothing ahead") {
		a.Ahead = nil
	}
	a.Advice = regulate.Advice{Do: regulate.Turn, After: perDay(rapid.Float64Range(-20, 20).Draw(t, "after"), 1)}
	return a
}

func TestAnyTrialKeepsItsWordsApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := anyTrial(t)
		for _, w := range []float64{wideFigure, narrowFigure} {
			p := weeksPicture(a, w)
			wordsApart(t, fmt.Sprintf("weeks at %.0f", p.W), p)
			if s := fmt.Sprint(p.Items, p.Desc); strings.Contains(s, "NaN") || strings.Contains(s, "Inf") {
				t.Fatalf("not a number in %s", s)
			}
		}
	})
}

// A path loses nothing of what its band reaches to, and stays in order.
func TestThinnedPathKeepsItsEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var p path
		at := 0.0
		for range rapid.IntRange(1, 500).Draw(t, "points") {
			at += rapid.Float64Range(0, 2).Draw(t, "step")
			v := rapid.Float64Range(-5, 5).Draw(t, "value")
			p = append(p, pathPoint{at, v, v - 1, v + 1})
		}
		f := frame{left: 10, right: 110, top: 0, foot: 50, x1: at + 1, y0: -6, y1: 6}
		thin := p.thin(f, 3)
		if len(thin) > 38 {
			t.Fatalf("%d places of 34 columns", len(thin))
		}
		low, high := math.Inf(1), math.Inf(-1)
		for i, c := range thin {
			low, high = math.Min(low, c.low), math.Max(high, c.high)
			if i > 0 && c.at < thin[i-1].at {
				t.Fatalf("place %d stands before the last", i)
			}
		}
		for _, c := range p {
			if c.low < low || c.high > high {
				t.Fatalf("%+v is beyond %v to %v", c, low, high)
			}
		}
		if thin[0].at != p[0].at || thin[len(thin)-1].at != p[len(p)-1].at {
			t.Fatal("the ends moved")
		}
	})
}

func TestTurnsInWords(t *testing.T) {
	for turns, want := range map[float64]string{.5: "½", -.25: "¼", 1.75: "1¾", 2: "2", -.3: "0.3", 0: "0", 1.125: "1.125", 10.5: "10½"} {
		if got := turnsWords(turns); got != want {
			t.Errorf("%v: got %q, want %q", turns, got, want)
		}
	}
}

func BenchmarkWeeks(b *testing.B) {
	a := onTrial(365, 24, -40)
	b.ReportAllocs()
	for b.Loop() {
		weeksFigure(a)
	}
}
