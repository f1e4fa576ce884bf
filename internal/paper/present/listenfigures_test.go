package present

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/rate"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
	"seatboard/internal/paper/svg"
)

// residuals makes n beats with scatter, a wave and some far out.
func residuals(n int, period, scatter, wild float64, seed uint64) []rate.Residual {
	r := rand.New(rand.NewPCG(seed, 1))
	out := make([]rate.Residual, n)
	for i := range out {
		at := .4 + float64(i)*period
		smooth := 38e-6 * math.Sin(2*math.Pi*at/450)
		off := smooth + scatter*r.NormFloat64()
		odd := r.Float64() < wild
		if odd {
			off += 80 * scatter * r.NormFloat64()
		}
		out[i] = rate.Residual{At: unit.Duration(at), N: int64(i), Off: unit.Duration(off), Smooth: unit.Duration(smooth), Band: unit.Duration(scatter / 2), Odd: odd}
	}
	return out
}

// allan is white scatter that turns to wander at 100 s.
func allan(n int) []rate.Allan {
	var out []rate.Allan
	for i := range n {
		tau := math.Pow(2, float64(i))
		dev := math.Hypot(35e-6/tau, 5e-6/math.Sqrt(tau))
		out = append(out, rate.Allan{Tau: unit.Duration(tau), Dev: dev, Low: dev * .9, High: dev * (1.1 + float64(i)*.1)})
	}
	return out
}

// shape is a tick with an unlocking before and echoes after.
func shape(seed uint64) beat.Shape {
	r := rand.New(rand.NewPCG(seed, 2))
	s := beat.Shape{Start: -12e-3, Step: 1 / 48000.0}
	for i := range 2016 {
		t := -12 + float64(i)/48
		y := .01 * r.NormFloat64()
		for _, hit := range [...][2]float64{{-5, .3}, {0, 1}, {4, .4}} {
			if d := t - hit[0]; d > 0 {
				y += hit[1] * math.Exp(-d/2) * math.Sin(d*9+float64(seed))
			}
		}
		s.Y = append(s.Y, float32(y))
	}
	return s
}

// broken is a record with a stop, a step, silent and extra beats.
func broken() listen.Answer {
	a := heard()
	a.Going.Residuals, a.Going.Allan = residuals(1798, 1, 20e-6, .01, 4), allan(9)
	r := a.Hearing.Runs[0]
	r.Tick, r.Tock = shape(1), shape(3)
	r.To, r.EndedBy, r.Heard = 601.4, beat.Stopped, 601
	second := r
	second.From, second.To, second.EndedBy, second.Silent, second.Extra, second.Heard = 640.4, 1250.4, beat.Stepped, 0, 0, 611
	third := second
	third.From, third.To, third.EndedBy, third.Heard = 1251.4, 1799, beat.EndOfSound, 547
	a.Hearing.Runs = []beat.Run{r, second, third}
	a.Going.Residuals = append(a.Going.Residuals[:601:601], a.Going.Residuals[640:]...)
	for _, at := range []unit.Duration{100, 101, 300, 1700} {
		a.Hearing.Marks = append(a.Hearing.Marks, beat.Mark{At: at, Kind: beat.SilentBeat})
	}
	a.Hearing.Marks = append(a.Hearing.Marks, beat.Mark{At: 400.3, Kind: beat.ExtraBeat}, beat.Mark{At: 1251, Kind: beat.Step, Size: 10e-3})
	a.Findings = a.Say()
	return a
}

// SEATBOARD_LOOK names a folder where the figures are written for looking at.
func TestListenFiguresKeepTheirWordsApart(t *testing.T) {
	a := broken()
	figures := Listen(a).Figures()
	var names []string
	for _, f := range figures {
		names = append(names, f.Name)
		for _, p := range []pic.Picture{f.Wide, f.Narrow} {
			inside(t, fmt.Sprintf("%s at %.0f", f.Name, p.W), p)
		}
		if f.Numbers == nil || len(f.Numbers.Rows) == 0 || f.Wide.Desc == "" || f.Wide.Title == "" || f.Caption == "" {
			t.Errorf("the figure %s says too little", f.Name)
		}
		rowsFit(t, f.Name, *f.Numbers)
		if dir := os.Getenv("SEATBOARD_LOOK"); dir != "" {
			for kind, p := range map[string]pic.Picture{"wide": f.Wide, "narrow": f.Narrow} {
				if err := os.WriteFile(filepath.Join(dir, f.Name+"-"+kind+".svg"), svg.File(p), 0o644); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	if got := strings.Join(names, " "); got != "suspects tooth-ring every-beat steadiness tick-and-tock" {
		t.Errorf("figures %s", got)
	}
	for _, w := range []float64{320, 340, 500, 640, 760} {
		for name, p := range map[string]pic.Picture{"every-beat": residualsPicture(a, w), "suspects": suspectsPicture(*a.Culprit, w), "tick-and-tock": soundsPicture(a.Hearing.Runs[0], w), "steadiness": allanPicture(a.Going.Allan, w)} {
			inside(t, fmt.Sprintf("%s at %.0f", name, w), p)
		}
	}
}

// anyListening makes an answer that may never have been heard.
func anyListening(t *rapid.T) listen.Answer {
	a := broken()
	n := rapid.IntRange(12, 900).Draw(t, "beats")
	period := rapid.SampledFrom([]float64{.1, .2, .5, 1, 2.2, 60}).Draw(t, "period")
	scatter := math.Pow(10, rapid.Float64Range(-7, -1).Draw(t, "scatter"))
	a.Going.Residuals = residuals(n, period, scatter, rapid.SampledFrom([]float64{0, .01, .5, 1}).Draw(t, "wild"), 7)
	length := float64(n) * period
	for i := range a.Hearing.Runs {
		a.Hearing.Runs[i].To = unit.Duration(length * rapid.Float64Range(0, 1).Draw(t, "to"))
		a.Hearing.Runs[i].EndedBy = rapid.SampledFrom([]beat.Ending{beat.EndOfSound, beat.Stopped, beat.Stepped, beat.Silence}).Draw(t, "end")
	}
	for i := range a.Hearing.Marks {
		a.Hearing.Marks[i].At = unit.Duration(length * rapid.Float64Range(-.1, 1.1).Draw(t, "at"))
	}
	a.Going.Allan = allan(rapid.IntRange(2, 20).Draw(t, "taus"))
	tall := math.Pow(10, rapid.Float64Range(-4, 4).Draw(t, "height"))
	for i := range a.Going.Allan {
		x := &a.Going.Allan[i]
		x.Dev, x.Low, x.High = x.Dev*tall, x.Low*tall, x.High*tall
	}
	c := teeth(rapid.IntRange(2, 120).Draw(t, "teeth"), rapid.SliceOfN(rapid.IntRange(0, 119), 0, 12).Draw(t, "odd")...)
	c.Suspects = suspects()
	for i := range c.Suspects {
		s := &c.Suspects[i]
		v := unit.Duration(math.Pow(10, rapid.Float64Range(-7, -2).Draw(t, "amplitude")))
		s.Amplitude = about(v, v/2)
		s.Smallest = unit.Duration(math.Pow(10, rapid.Float64Range(-7, -1).Draw(t, "smallest")))
		s.Chance = rapid.Float64Range(0, 1).Draw(t, "chance")
	}
	a.Culprit = &c
	return a
}

func TestAnyListeningKeepsItsWordsApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Listen(anyListening(t))
		for _, f := range d.Figures() {
			for _, p := range []pic.Picture{f.Wide, f.Narrow} {
				wordsApart(t, fmt.Sprintf("%s at %.0f", f.Name, p.W), p)
				if s := fmt.Sprint(p.Items, p.Desc); strings.Contains(s, "NaN") || strings.Contains(s, "Inf") {
					t.Fatalf("not a number in %s: %s", f.Name, s)
				}
			}
		}
		for _, s := range d.Sections {
			for _, b := range s.Body {
				if s := fmt.Sprint(b); strings.Contains(s, "NaN") || strings.Contains(s, "Inf") {
					if _, figure := b.(doc.Figure); !figure {
						t.Fatalf("not a number in %s", s)
					}
				}
			}
		}
	})
}

func BenchmarkListenDocument(b *testing.B) {
	a := broken()
	a.Going.Residuals = residuals(36000, 1, 20e-6, .01, 4)
	b.ReportAllocs()
	for b.Loop() {
		Listen(a)
	}
}

// Condensing loses no beat: each is in its column's limits or far out, and
// the farthest of all is kept.
func TestCondenseHidesNoBeat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 700).Draw(t, "beats")
		all := residuals(n, 1, 20e-6, rapid.SampledFrom([]float64{0, .02, 1}).Draw(t, "wild"), rapid.Uint64().Draw(t, "seed"))
		cut := unit.Duration(rapid.Float64Range(0, float64(n)).Draw(t, "cut"))
		cs := condense(all, []beat.Run{{To: cut}, {From: cut, To: 1e9}}, rapid.IntRange(1, 200).Draw(t, "columns"))
		beats, worst, kept := 0, 0.0, 0.0
		for i, c := range cs {
			beats += c.beats
			kept = max(kept, math.Abs(c.low), math.Abs(c.high))
			if !math.IsNaN(c.earliest) {
				kept = max(kept, math.Abs(c.earliest))
			}
			if !math.IsNaN(c.latest) {
				kept = max(kept, math.Abs(c.latest))
			}
			if c.low > c.median || c.median > c.high || c.from > c.to || i > 0 && c.from <= cs[i-1].to {
				t.Fatalf("column %d: %+v", i, c)
			}
			if c.stretch == 0 && c.to > float64(cut) && c.from < float64(cut) {
				t.Fatalf("column %d goes over the break at %v: %+v", i, cut, c)
			}
		}
		for _, r := range all {
			worst = max(worst, math.Abs(float64(r.Off)))
		}
		if beats != n || kept > worst {
			t.Fatalf("%d of %d beats, farthest %v of %v", beats, n, kept, worst)
		}
		if n < 40 && kept < worst { // no column is so full that its outermost are cut
			t.Fatalf("farthest %v of %v", kept, worst)
		}
	})
}
