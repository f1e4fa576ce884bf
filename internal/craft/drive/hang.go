package drive

import (
	"fmt"
	"math"
	"strings"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// At tells where the weight hangs a time after winding; ok is false where
// that cannot be told or the time is outside the running.
func (a Answer) At(t unit.Duration) (h Hang, ok bool) {
	if a.bench == nil {
		return Hang{}, false
	}
	end := a.bench.N.end()
	if !known(end) || float64(t) < 0 || float64(t) > end*(1+1e-9) {
		return Hang{}, false
	}
	return a.bench.hang(t), true
}

// hang computes one place of the weight.
func (b *bench) hang(t unit.Duration) Hang {
	at := func(f func(numbers, float64) float64) meas.Result[unit.Length] {
		return meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return f(n, float64(t)) })
	}
	return Hang{
		After:      t,
		Label:      label(t),
		When:       b.when(float64(t)),
		Fallen:     at(numbers.fallen),
		Below:      at(numbers.bottom),
		AboveFloor: at(func(n numbers, t float64) float64 { return n.room() - n.fallen(t) }),
		Free:       at(numbers.free),
	}
}

// label names a time since winding.
func label(t unit.Duration) string {
	if t == 0 {
		return "wound"
	}
	hours := math.Round(float64(t) / 3600)
	day, hour := int(hours)/24, int(hours)%24
	switch {
	case day == 0:
		return fmt.Sprintf("%d h", hour)
	case hour == 0:
		return fmt.Sprintf("day %d", day)
	}
	return fmt.Sprintf("day %d, %d h", day, hour)
}

// steps between rows of the table, in hours.
var rhythms = [...]float64{3, 6, 24, 48, 96, 168, 336, 672, 1344}

// rhythm is the step that keeps the table of a running time short.
func rhythm(end float64) float64 {
	const most = 34
	if end > 2.6*float64(unit.Day) && end <= most*float64(unit.Day) {
		return float64(unit.Day)
	}
	for _, h := range rhythms {
		if end/(h*3600) <= most/1.5 {
			return h * 3600
		}
	}
	return end / most
}

// solveHangs lists the places day by day, and the last one.
func (b *bench) solveHangs(a *Answer) {
	end := b.N.end()
	if !known(end) || !known(b.N.fallen(end)) || end <= 0 {
		return
	}
	step := rhythm(end)
	for i := 0; float64(i)*step < end*(1-1e-9); i++ {
		a.Hangs = append(a.Hangs, b.hang(unit.Duration(float64(i)*step)))
	}
	a.Hangs = append(a.Hangs, b.hang(unit.Duration(end)))
}

// weekdays in order.
var weekdays = [...]string{"Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"}

// weekday finds a day by its name or its first letters, -1 where there is
// none.
func weekday(s string) int {
	s = strings.ToLower(strings.TrimSpace(s))
	if len(s) < 2 {
		return -1
	}
	for i, d := range weekdays {
		if strings.HasPrefix(strings.ToLower(d), s) {
			return i
		}
	}
	return -1
}

// usualWinding is the hour of winding where none was stated: noon.
const usualWinding = 12 * 3600

// when is the weekday and hour of a time since winding, "" where the winding
// day is not known.
func (b *bench) when(t float64) string {
	first := weekday(b.q.WoundOn)
	if first < 0 || !(t >= 0) {
		return ""
	}
	start := float64(usualWinding)
	if b.q.WoundAt.Set {
		start = float64(b.q.WoundAt.Value)
	}
	hours := int(math.Round((start + t) / 3600))
	return fmt.Sprintf("%s %d h", weekdays[(first+hours/24)%7], hours%24)
}

// solveSwing finds the hours of sympathetic swing and those beside the bob.
func (b *bench) solveSwing(a *Answer) {
	l := numbers.length
	a.Pendulum = meas.Find[unit.Length](&b.Bench, l)
	a.Swing = b.window(
		func(n numbers) float64 { return n.reach(l(n)*(1-n.band) - n.free(0)) },
		func(n numbers) float64 { return n.reach(l(n) - n.free(0)) },
		func(n numbers) float64 { return n.reach(l(n)*(1+n.band) - n.free(0)) })
	depth := func(n numbers) float64 { return l(n) - n.suspension }
	a.Bob = b.window(
		func(n numbers) float64 { return n.reach(depth(n) - or(n.bobHalf, 0) - n.bottomWound()) },
		func(n numbers) float64 { return n.reach(depth(n) + n.middle() - n.bottomWound()) },
		func(n numbers) float64 { return n.reach(depth(n) + or(n.bobHalf, 0) + 2*n.middle() - n.bottomWound()) })
	b.swingFindings(a)
}

// length is the pendulum's: measured, else from its beats.
func (n numbers) length() float64 {
	return or(n.pendulum, n.gravity*math.Pow(3600/(math.Pi*n.beats), 2))
}

// window keeps what of a stretch falls within the running.
func (b *bench) window(from, level, to func(numbers) float64) *Window {
	end := b.N.end()
	t0, t1, t2 := from(b.N), level(b.N), to(b.N)
	if !known(end) || !known(t0) || !known(t2) || t2 <= 0 || t0 >= end {
		return nil
	}
	w := &Window{
		From: meas.Find[unit.Duration](&b.Bench, func(n numbers) float64 { return math.Max(0, from(n)) }),
		To:   meas.Find[unit.Duration](&b.Bench, func(n numbers) float64 { return math.Min(n.end(), to(n)) }),
	}
	if t1 >= 0 && t1 <= end {
		w.Level = meas.Find[unit.Duration](&b.Bench, level)
	}
	w.Words = fmt.Sprintf("%s to %s", Clock(w.From.Value), Clock(w.To.Value))
	if a, z := b.when(float64(w.From.Value)), b.when(float64(w.To.Value)); a != "" {
		w.Words += fmt.Sprintf(" (%s to %s)", a, z)
	}
	return w
}

// Clock names a time since winding to the hour: "day 5, 7 h".
func Clock(t unit.Duration) string {
	hours := int(math.Round(float64(t) / 3600))
	if hours == 0 {
		return "winding"
	}
	if hours < 24 {
		return fmt.Sprintf("%d h", hours)
	}
	return fmt.Sprintf("day %d, %d h", hours/24, hours%24)
}

// swingRef is where the swing is described.
var swingRef = cite.Ref{Source: "goodrich", Place: "ch. XV", Grade: cite.Printed, Note: "and Beckett 1903 p. 126: described, without figures; the band is common practice"}

func (b *bench) swingFindings(a *Answer) {
	n := b.N
	if a.Swing != nil {
		b.Step("Free length of the weight, wound", "seat board to its end − half its height + barrel above", mm(n.bottomWound())+" − "+mm(n.middle())+" + "+mm(n.above), unit.Text(unit.Length(n.free(0)), "m", 3), cite.Ref{Grade: cite.Exact})
		b.Step("Zone of sympathetic swing", "free length = pendulum ± band", fmt.Sprintf("%s ± %s", unit.Text(unit.Length(n.length()), "m", 3), unit.Text(unit.Ratio(n.band), "%", 0)), a.Swing.Words, swingRef)
		b.Say(meas.Note, "sympathetic-swing", "From "+a.Swing.Words+" the weight's free length is near the pendulum's: it may swing with it, change the rate or stop the clock.",
			"Watch the weight in those hours; steady the case, tie the line aside or let the weight graze a board.", swingRef, "pendulum-length", "seat-to-floor")
	}
	if a.Bob != nil {
		b.Say(meas.Note, "beside-bob", "From "+a.Bob.Words+" the weight hangs beside the bob.", "See that they do not touch; the clock may change its rate or stop there.", swingRef, "bob-half-height")
	}
	if a.Swing == nil && known(n.length()) && known(n.total()) && (!known(n.bottomWound()) || !known(n.middle())) {
		b.Say(meas.Doubt, "swing-unknown", "Where the weight hangs against the pendulum cannot be told.", "Measure the seat board to the floor and the weight's length.", swingRef, "seat-to-floor", "weight-length")
	}
}
