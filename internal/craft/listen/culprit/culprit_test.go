package culprit_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/culprit"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/check"
	"seatboard/internal/kit/unit"
)

func TestParts(t *testing.T) {
	got, teeth := parts(t, "96/8 60/8 56/7 30")
	if teeth != 30 {
		t.Errorf("%d teeth", teeth)
	}
	want := []culprit.Part{
		{Name: "great wheel", Kind: culprit.Turn, Arbor: 0, Period: 43200, Beats: 43200},
		{Name: "centre wheel", Kind: culprit.Turn, Arbor: 1, Period: 3600, Beats: 3600},
		{Name: "third wheel", Kind: culprit.Turn, Arbor: 2, Period: 480, Beats: 480},
		{Name: "escape wheel", Kind: culprit.Turn, Arbor: 3, Period: 60, Beats: 60},
		{Name: "centre pinion with great wheel", Kind: culprit.Contact, Arbor: 0, Period: 450, Beats: 450},
		{Name: "third pinion with centre wheel", Kind: culprit.Contact, Arbor: 1, Period: 60, Beats: 60},
		{Name: "escape pinion with third wheel", Kind: culprit.Contact, Arbor: 2, Period: 60. / 7, Beats: 60. / 7},
	}
	if !slices.Equal(got, want) {
		t.Errorf("%+v", got)
	}
}

func TestPartsOfLittle(t *testing.T) {
	for name, going := range map[string]string{"a count is missing": "96/8 ?/8 56/7 30"} {
		p, teeth := parts(t, going)
		for _, x := range p {
			if !(x.Beats > 0) || !(x.Period > 0) {
				t.Errorf("%s: %+v", name, x)
			}
		}
		if len(p) > 0 && teeth == 0 {
			t.Errorf("%s: parts without teeth", name)
		}
	}
	if p, teeth := culprit.Parts(train.Answer{}); p != nil || teeth != 0 {
		t.Errorf("no train: %v, %d", p, teeth)
	}
}

// The arbor out of centre is named, with its size and where it is latest.
func TestEccentric(t *testing.T) {
	q := culprit.Query{Parts: arbors(), EscapeTeeth: 30, Scatter: 50 * us, Wander: 1 * us,
		Beats: clock{beats: 3600, beat: 1, teeth: 30, out: 9e-3, pm: 50 * us, fm: 1 * us, rate: 2e-4, sway: []sway{{20 * us, 97, 1}}}.make(5)}
	a := solve(t, q)
	s := a.Suspects[0]
	if s.Part.Name != "third wheel" || s.Standing != culprit.Found || s.Harmonic != 1 {
		t.Fatalf("%+v", s)
	}
	check.Near(t, "amplitude", float64(s.Amplitude.Value), 20*us, 4*us)
	check.Near(t, "latest at", float64(s.LatestAt), math.Pi/2-1, 0.2)
	if !s.Amplitude.Has(20*us) || s.Smallest > 10*us {
		t.Errorf("limits %v to %v, smallest %v", s.Amplitude.Low, s.Amplitude.High, s.Smallest)
	}
	for _, s := range a.Suspects[1:] {
		if s.Chance < 0.05 {
			t.Errorf("%s: chance %g", s.Part.Name, s.Chance)
		}
	}
	if len(a.Odd)+len(a.Peaks) > 0 {
		t.Errorf("odd %v, peaks %v", a.Odd, a.Peaks)
	}
	if w := find(a, "escape wheel"); w.Standing != culprit.Clear {
		t.Errorf("escape wheel %+v", w)
	}
	if w := find(a, "great wheel"); w.Standing != culprit.NotYet || w.Amplitude.Set || w.ListenFor < 2*w.Part.Period {
		t.Errorf("great wheel %+v", w)
	}
}

// One tooth is one tooth, a wheel out of centre is a wheel out of centre.
func TestToothAndWheel(t *testing.T) {
	k := clock{beats: 1800, beat: 1, teeth: 30, out: 9e-3, pm: 50 * us, fm: 1 * us, late: map[int]float64{22: 300 * us, 37: 300 * us}}
	a := solve(t, culprit.Query{Parts: arbors(), EscapeTeeth: 30, Beats: k.make(3)})
	if !slices.Equal(a.Odd, []int{11}) || a.Span != 15 {
		t.Fatalf("odd %v, span %d", a.Odd, a.Span)
	}
	if x := a.Teeth[11]; !x.Late.Has(300*us) || x.Chance > 1e-6 {
		t.Errorf("%+v", x)
	}
	if w := find(a, "escape wheel"); w.Standing != culprit.Clear {
		t.Errorf("escape wheel %+v", w)
	}
	k.late, k.sway = nil, []sway{{100 * us, 60, 2}}
	a = solve(t, culprit.Query{Parts: arbors(), EscapeTeeth: 30, Beats: k.make(4)})
	if w := find(a, "escape wheel"); w.Standing != culprit.Found || w.Harmonic != 1 || !w.Amplitude.Has(100*us) {
		t.Errorf("escape wheel %+v", w)
	}
	if len(a.Odd) > 0 {
		t.Errorf("odd %v", a.Odd)
	}
	// Both at once, the wheel's pattern seen by the pallets from two sides.
	k.sway, k.late = nil, map[int]float64{}
	for i := range 30 {
		v := 80 * us * math.Cos(2*math.Pi*float64(i)/30)
		if i == 4 {
			v -= 250 * us
		}
		k.late[2*i], k.late[(2*i+17)%60] = v, v
	}
	a = solve(t, culprit.Query{Parts: arbors(), EscapeTeeth: 30, Beats: k.make(5)})
	if w := find(a, "escape wheel"); w.Standing != culprit.Found || !w.Amplitude.Has(80*us) {
		t.Errorf("escape wheel %+v", w)
	}
	if !slices.Equal(a.Odd, []int{4}) || a.Span != 17 || !a.Teeth[4].Late.Has(-250*us) {
		t.Errorf("odd %v, span %d, %+v", a.Odd, a.Span, a.Teeth[4])
	}
}

// Two parts of one period are named together.
func TestUnlike(t *testing.T) {
	p, teeth := parts(t, "96/8 60/8 56/7 30")
	a := solve(t, culprit.Query{Parts: p, EscapeTeeth: teeth, Beats: clock{beats: 3600, beat: 1, pm: 50 * us, sway: []sway{{40 * us, 60, 1}}}.make(5)})
	s := find(a, "third pinion with centre wheel")
	if s.Standing != culprit.Unlike || !slices.Contains(s.With, "escape wheel") {
		t.Errorf("%+v", s)
	}
	if s := find(a, "escape wheel"); s.Standing != culprit.Unlike || !slices.Contains(s.With, "third pinion with centre wheel") || s.ListenFor != 0 {
		t.Errorf("%+v", s) // of one period: no record tells which
	}
}

// A period that no part has is shown, train known or not, and laid to none.
func TestFreePeriod(t *testing.T) {
	p, teeth := parts(t, "96/8 60/8 56/7 30")
	beats := clock{beats: 1800, beat: 1, out: 9e-3, pm: 50 * us, fm: 1 * us, sway: []sway{{40 * us, 107.3, 1}}}.make(5)
	for _, q := range []culprit.Query{{Parts: p, EscapeTeeth: teeth, Beats: beats}, {Beats: beats}} {
		a := solve(t, q)
		if len(a.Peaks) != 1 || accused(a) {
			t.Fatalf("%+v", a)
		}
		check.Near(t, "period", float64(a.Peaks[0].Period), 107.3, 0.5)
		if !a.Peaks[0].Amplitude.Has(40 * us) {
			t.Errorf("%+v", a.Peaks[0])
		}
	}
}

// What would not be found is refused with how long it would take, or without
// where no length helps.
func TestRefusal(t *testing.T) {
	q := culprit.Query{Parts: arbors(), EscapeTeeth: 30, Beats: clock{beats: 600, beat: 1, pm: 1000 * us, sway: []sway{{20 * us, 97, 1}}}.make(2)}
	s := find(solve(t, q), "third wheel")
	if s.Standing != culprit.NotYet || s.ListenFor < 3600 || s.ListenFor > 20*3600 {
		t.Errorf("%+v", s)
	}
	q.Beats = clock{beats: 1200, beat: 1, pm: 20 * us, fm: 2000 * us}.make(2)
	if s := find(solve(t, q), "third wheel"); s.Standing != culprit.NotYet || s.ListenFor != 0 {
		t.Errorf("%+v", s)
	}
}

// Odd beats, beats not heard, stops and poor beats do not hide the culprit.
func TestRough(t *testing.T) {
	k := clock{beats: 3600, beat: 0.5, teeth: 30, out: 9e-3, pm: 40 * us, fm: 1 * us, drift: 1e-6, silent: 0.03, wild: 0.02,
		sway: []sway{{30 * us, 97, 1}}, late: map[int]float64{22: 150 * us, 37: 150 * us}}
	for name, change := range map[string]func(*clock){
		"wild and silent": func(*clock) {},
		"a stop":          func(k *clock) { k.starts = []int{1401} },
		"poor beats": func(k *clock) {
			k.u = func(i int) float64 { return []float64{5 * us, 400 * us}[i/7%2] }
		},
	} {
		c := k
		change(&c)
		a := solve(t, culprit.Query{Parts: arbors(), EscapeTeeth: 30, Beats: c.make(8)})
		if s := find(a, "third wheel"); s.Standing != culprit.Found || !s.Amplitude.Has(30*us) {
			t.Errorf("%s: %+v", name, s)
		}
		if len(a.Odd) != 1 || len(a.Peaks) > 0 {
			t.Errorf("%s: odd %v, peaks %v", name, a.Odd, a.Peaks)
		}
	}
}

// Moving and stretching time moves nothing else.
func TestInvariance(t *testing.T) {
	b := clock{beats: 900, beat: 1, pm: 50 * us, sway: []sway{{60 * us, 97, 1}}}.make(1)
	a := solve(t, culprit.Query{Parts: arbors(), EscapeTeeth: 30, Beats: b})
	moved := slices.Clone(b)
	for i := range moved {
		moved[i].At += 1000 + unit.Duration(1e-4*float64(i))
		moved[i].N += 4000000
	}
	c := solve(t, culprit.Query{Parts: arbors(), EscapeTeeth: 30, Beats: moved})
	x, y := find(a, "third wheel"), find(c, "third wheel")
	check.Near(t, "amplitude", float64(y.Amplitude.Value), float64(x.Amplitude.Value), 1e-8)
	check.Near(t, "angle", float64(y.LatestAt), float64(x.LatestAt), 1e-3)
}

func TestBadQueries(t *testing.T) {
	good := clock{beats: 200, beat: 1, pm: 50 * us}.make(1)
	nan := slices.Clone(good)
	for i := range nan {
		nan[i].At = unit.Duration(math.NaN())
	}
	for name, c := range map[string]struct {
		q    culprit.Query
		want error
	}{
		"nothing":      {culprit.Query{}, culprit.ErrFew},
		"few":          {culprit.Query{Beats: good[:20]}, culprit.ErrFew},
		"no numbers":   {culprit.Query{Beats: nan}, culprit.ErrFew},
		"no period":    {culprit.Query{Beats: good, Parts: []culprit.Part{{Name: "x"}}}, culprit.ErrParts},
		"even span":    {culprit.Query{Beats: good, Span: 4}, culprit.ErrParts},
		"teeth":        {culprit.Query{Beats: good, EscapeTeeth: -1}, culprit.ErrParts},
		"many teeth":   {culprit.Query{Beats: good, EscapeTeeth: 5000}, culprit.ErrParts},
		"no train":     {culprit.Query{Beats: good}, nil},
		"perfect":      {culprit.Query{Beats: clock{beats: 400, beat: 1}.make(1), Parts: arbors(), EscapeTeeth: 30}, nil},
		"one side":     {culprit.Query{Beats: everySecond(clock{beats: 900, beat: 1, pm: 50 * us}.make(1)), Parts: arbors(), EscapeTeeth: 30}, nil},
		"quick part":   {culprit.Query{Beats: good, Parts: []culprit.Part{{Name: "x", Period: 1, Beats: 1.1}}}, nil},
		"all the same": {culprit.Query{Beats: make([]beat.Beat, 300)}, culprit.ErrFew},
	} {
		if _, err := culprit.Solve(c.q); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
	}
}

func everySecond(b []beat.Beat) []beat.Beat {
	var out []beat.Beat
	for i := 0; i < len(b); i += 2 {
		out = append(out, b[i])
	}
	return out
}

// 3,600 beats, 4 arbors and 30 teeth: 100 ms at most. 36,000: 1 s.
func BenchmarkSolve3600(b *testing.B)  { benchmark(b, 3600) }
func BenchmarkSolve36000(b *testing.B) { benchmark(b, 36000) }

func benchmark(b *testing.B, beats int) {
	p, teeth := parts(b, "96/8 60/8 56/7 30")
	q := culprit.Query{Parts: p, EscapeTeeth: teeth, Scatter: 50 * us, Wander: 1 * us,
		Beats: clock{beats: beats, beat: 1, teeth: 30, out: 9e-3, pm: 50 * us, fm: 1 * us, sway: []sway{{20 * us, 480, 1}}}.make(5)}
	for b.Loop() {
		solve(b, q)
	}
}
