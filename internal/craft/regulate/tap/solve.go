package tap

import (
	"math"
	"time"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/num"
	"seatboard/internal/kit/unit"
)

// least is how many taps must count before their scatter is believed.
const least = 3

// Solve reads the taps. The error is a meas.Faults with every mistake in the
// inputs; the answer then holds the query alone.
func Solve(q Query) (Answer, error) {
	a := Answer{Query: q}
	if faults := q.Check(); len(faults) > 0 {
		return a, faults
	}
	w := &work{q: q, a: &a}
	w.mark()
	w.settle()
	w.twice()
	w.odd()
	w.spacing()
	w.read()
	a.Complete = a.Error.Set
	return a, nil
}

// work is a row of taps while it is read.
type work struct {
	q Query
	a *Answer
	f fit // of the taps that count
}

// mark counts each tap's mark from the first. The place of the marks is the
// middle of the last few taps, so that one that is half a mark off does not
// shift those after it.
func (w *work) mark() {
	every := float64(w.q.Every)
	var last []float64 // tap less mark
	for i, t := range w.q.Taps {
		k := 0
		if i > 0 {
			k = int(math.Round((float64(t) - median(last)) / every))
		}
		w.a.Taps = append(w.a.Taps, Tap{At: t, Mark: k})
		if last = append(last, float64(t)-float64(k)*every); len(last) > 5 {
			last = last[1:]
		}
	}
}

// settle counts the marks again, each tap's by those on both sides of it.
func (w *work) settle() {
	every := float64(w.q.Every)
	off := make([]float64, len(w.a.Taps))
	for range 2 {
		for i, t := range w.a.Taps {
			off[i] = float64(t.At) - float64(t.Mark)*every
		}
		for i := range w.a.Taps {
			about := median(off[max(0, i-7):min(len(off), i+8)])
			w.a.Taps[i].Mark += int(math.Round((off[i] - about) / every))
		}
	}
	first := w.a.Taps[0].Mark
	for i := range w.a.Taps {
		w.a.Taps[i].Mark -= first
	}
}

// twice keeps one tap of each mark, that nearest to the others.
func (w *work) twice() {
	off := make([]float64, len(w.a.Taps))
	for i, t := range w.a.Taps {
		off[i] = float64(t.At) - float64(t.Mark)*float64(w.q.Every)
	}
	mid := median(off)
	best := map[int]int{}
	for i, t := range w.a.Taps {
		j, there := best[t.Mark]
		switch {
		case !there:
			best[t.Mark] = i
		case math.Abs(off[i]-mid) < math.Abs(off[j]-mid):
			w.a.Taps[j].Odd = Twice
			best[t.Mark] = i
		default:
			w.a.Taps[i].Odd = Twice
		}
	}
}

// odd finds the taps that do not belong to the others.
func (w *work) odd() {
	var at []int // of the taps under test
	for i, t := range w.a.Taps {
		if t.Odd == "" {
			at = append(at, i)
		}
	}
	if len(at) >= 5 {
		for _, i := range apart(at, len(at)/4, w.fit) {
			w.a.Taps[i].Odd = Apart
		}
	}
	var kept []int
	for _, i := range at {
		if w.a.Taps[i].Odd == "" {
			kept = append(kept, i)
		}
	}
	w.f = w.fit(kept)
	for i := range w.a.Taps {
		w.a.Taps[i].Residual = unit.Duration(-w.f.residual(w.row(i)))
	}
}

// apart is Rosner's procedure: the one farthest out is put aside, again and
// again; those put aside before the last time when it stood out more than
// chance allows are apart. It returns them by their index.
func apart(at []int, most int, fitted func([]int) fit) []int {
	left := append([]int(nil), at...)
	var aside []int
	n := 0
	for step := 1; step <= min(most, 10); step++ {
		f := fitted(left)
		j, far := f.farthest()
		if !(f.s > 0) || j < 0 {
			break
		}
		limit := critical(len(left), f.freedom, oddChance.V)
		aside = append(aside, left[j])
		left = append(left[:j:j], left[j+1:]...)
		if far > limit {
			n = step
		}
	}
	return aside[:n]
}

// critical is how many of its own standard deviations the farthest of n is out
// by chance, once in 1/chance times, where so many degrees of freedom are
// left. Of a mean alone it is Rosner's lambda and, at the first step, Grubbs's
// figure for two sides, times √(n/(n−1)): those divide by the scatter of a
// figure, this by that of its residual.
func critical(n, freedom int, chance float64) float64 {
	if freedom < 2 {
		return math.Inf(1)
	}
	v := float64(freedom)
	t := num.StudentQuantile(1-chance/(2*float64(n)), v-1)
	return t * math.Sqrt(v/(v-1+t*t))
}

// spacing asks whether the marks are where they were said to be.
func (w *work) spacing() {
	if w.a.Used() < least {
		return
	}
	var c, s float64
	for i, t := range w.a.Taps {
		if t.Odd == "" {
			r := 2 * math.Pi * w.f.residual(w.row(i)) / float64(w.q.Every)
			c, s = c+math.Cos(r), s+math.Sin(r)
		}
	}
	if math.Hypot(c, s)/float64(w.a.Used()) < 0.6 {
		w.say(meas.Clash, "spacing", "The taps do not fall on marks "+unit.Text(w.q.Every, "s", 1)+" apart.", "See what was tapped at, and tap again.", "every")
	}
}

// read takes the error of the clock from the fit.
func (w *work) read() {
	w.a.Lag = lagOf(w.q)
	w.oddWords()
	alone := w.q.Way == Blow && w.a.Used() < least
	if w.a.Used() < least && !alone {
		w.say(meas.Doubt, "few", few(w.a.Used()), "Tap on: three are the least.", "taps")
		return
	}
	ua, freedom := w.f.u(0), float64(w.f.freedom)
	if alone {
		ua, freedom = float64(oneTap.V)/math.Sqrt(float64(w.a.Used())), math.Inf(1)
	}
	at := w.f.at
	w.a.At = w.q.Start.Add(time.Duration(math.Round(at * 1e9)))
	value := w.resolve(w.f.b[0]-w.dialAt(0)) + float64(w.a.Lag.Value)
	lag, host := float64(w.a.Lag.U), float64(w.q.Host)
	u := math.Sqrt(ua*ua + lag*lag + host*host)
	k := num.StudentQuantile(0.975, effective(u, ua, freedom))
	w.a.Error = meas.Around(unit.Duration(value), unit.Duration(u), k)
	w.a.U = w.a.Error.Half() / normal95
	w.budget(ua, lag, host, u)
	if !alone {
		w.scatter()
		w.rate()
		w.halves()
	}
	w.show(ua, freedom, k)
	w.remarks()
}

// normal95 is the coverage factor of 95 % of the normal.
const normal95 = 1.959963984540054

// effective is the number of degrees of freedom of a doubt u of which the
// part ua has so many and the rest no end of them (Welch and Satterthwaite).
func effective(u, ua, freedom float64) float64 {
	if !(ua > 0) || math.IsInf(freedom, 1) {
		return 1e9
	}
	return math.Min(freedom*math.Pow(u/ua, 4), 1e9)
}

// dialAt is what a right dial shows, after twelve, so long after the start.
func (w *work) dialAt(at float64) float64 {
	h, m, s := w.q.Start.Clock()
	return float64(h%12*3600+m*60+s) + float64(w.q.Start.Nanosecond())/1e9 + at
}

// resolve finds the whole marks that the taps cannot tell: off is the mark's
// place counted from the first tap's less the right dial.
func (w *work) resolve(off float64) float64 {
	lag := float64(w.a.Lag.Value)
	if w.q.Shown.Set {
		return wrap(off+float64(w.q.Shown.Value), dial)
	}
	near, every := float64(w.q.Near.Value), float64(w.q.Every)
	off = near + wrap(off+lag-near, every) - lag
	room := every/2 - math.Abs(off+lag-near)
	switch {
	case !w.q.Near.Set:
		w.say(meas.Note, "nearest", "Taken that the clock is wrong by less than "+unit.Text(w.q.Every/2, "s", 1)+": the dial was not read at the first tap.", "Say what the dial showed where it is more.", "shown")
	case room < 2*float64(w.q.Near.U):
		w.say(meas.Doubt, "which-mark", "It may be one mark more or less: what the clock was lately wrong by does not tell which.", "Say what the dial showed at the first tap.", "shown")
	}
	return off
}

// wrap brings x to between −period/2 and period/2.
func wrap(x, period float64) float64 { return x - period*math.Round(x/period) }

func (w *work) budget(ua, lag, host, u float64) {
	for _, b := range []struct {
		name string
		u    float64
	}{{"scatter of the taps", ua}, {"habit of the person", lag}, {"time of day", host}} {
		if b.u > 0 && u > 0 {
			w.a.Budget = append(w.a.Budget, meas.Share{Input: b.name, Part: b.u * b.u / (u * u)})
		}
	}
}

// scatter is that of one tap, with the limits of the chi-squared.
func (w *work) scatter() {
	s, n := w.f.s, float64(w.f.freedom)
	if !(s > 0) {
		return
	}
	w.a.Scatter = meas.Interval[unit.Duration]{Value: unit.Duration(s), Set: true,
		Low:  unit.Duration(s * math.Sqrt(n/num.ChiSquared(0.975, n))),
		High: unit.Duration(s * math.Sqrt(n/num.ChiSquared(0.025, n))),
		U:    unit.Duration(s / math.Sqrt(2*n))}
}

func (w *work) rate() {
	if j := w.f.rate; j > 0 {
		w.a.Rate = meas.Around(unit.Rate(w.f.b[j]), unit.Rate(w.f.u(j)), num.StudentQuantile(0.975, float64(w.f.freedom)))
	}
}

// halves is the beat error: a beat that is long by 2h after the first mark is
// short by as much after the next.
func (w *work) halves() {
	if j := w.f.half; j > 0 {
		k := num.StudentQuantile(0.975, float64(w.f.freedom))
		w.a.BeatError = meas.Around(unit.Duration(4*w.f.b[j]), unit.Duration(4*w.f.u(j)), k)
	}
}

// lagOf is how late a tap is by habit.
func lagOf(q Query) meas.Result[unit.Duration] {
	if q.Lag.Set {
		return q.Lag
	}
	h := habit(q.Way)
	return meas.Result[unit.Duration]{Value: h.late.V, U: h.u.V, HasU: true, Set: true}
}

func (w *work) say(level meas.Level, code, text, next string, about ...string) {
	w.a.Findings = append(w.a.Findings, meas.Finding{Level: level, Code: code, Text: text, Next: next, About: about})
}
