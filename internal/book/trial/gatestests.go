package trial

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/num"
	"seatboard/internal/kit/unit"
)

// stretch is the time that a gate is judged by.
type stretch struct {
	aim       Aim
	move      unit.Rate // taken off aim.Rate, for its home
	gate      Gate
	facts     Facts
	from, end time.Time
	points    []regulate.Point // reckoned in it
	read      []regulate.Reading
}

// pointsIn lists what was reckoned at the readings from one instant to
// another.
func pointsIn(a *regulate.Answer, from, end time.Time) []regulate.Point {
	if a == nil {
		return nil
	}
	var out []regulate.Point
	for _, p := range a.Past {
		if !p.Asked && p.Error.Set && !p.At.Before(from) && !p.At.After(end) {
			out = append(out, p)
		}
	}
	slices.SortStableFunc(out, func(a, b regulate.Point) int { return a.At.Compare(b.At) })
	return out
}

// last is the last reading of the stretch, its beginning where there is none.
func (s stretch) last() time.Time {
	if n := len(s.read); n > 0 {
		return s.read[n-1].At
	}
	return s.from
}

// tests lists all that is asked, in the order in which it is told.
func (s stretch) tests(row []Day) []Test {
	out := []Test{s.length(), s.going(), s.readings(), s.rate(), s.everyDay(row), s.questions()}
	if s.aim.BeatError > 0 {
		out = append(out, s.beat())
	}
	if s.aim.Strikes {
		out = append(out, s.strike())
	}
	return out
}

func (s stretch) length() Test {
	t := Test{Key: "length", Name: daysText(days(s.gate.Days)) + " on end", Verdict: Right}
	done := s.last().Sub(s.from)
	t.Found = fmt.Sprintf("%s from the beginning %s to the last reading", daysText(done), onDay(s.from, s.facts.Now))
	if until := s.from.Add(days(s.gate.Days)); s.last().Add(early).Before(until) {
		t.Verdict, t.Wanted = Untold, "A reading "+onDay(until, s.facts.Now)+" or later"
	}
	return t
}

func (s stretch) going() Test {
	t := Test{Key: "going", Name: "No stop", Verdict: Right, Found: "Nobody wrote down that it stood"}
	for _, x := range s.facts.Stops {
		started := slices.ContainsFunc(s.facts.Touches, func(t regulate.Touch) bool { return t.Kind == regulate.Started && t.At.After(x.Found) })
		if !x.Found.After(s.end) && !started && len(readingsIn(s.facts, x.Found, s.facts.Now)) == 0 {
			t.Verdict, t.Found = NotRight, "It was found standing "+onDay(x.Found, s.facts.Now)+", and nothing is written of it since"
			t.Wanted = "Set it going, and write it down"
		}
	}
	return t
}

func (s stretch) readings() Test {
	n := len(s.read)
	t := Test{Key: "readings", Name: "Readings enough", Verdict: Right}
	t.Found = fmt.Sprintf("%d, and there must be %d", n, s.gate.Least)
	if s.gate.Gap > 0 && n > 0 {
		t.Found += ", none more than " + daysText(days(s.gate.Gap)) + " after another"
	}
	if n < s.gate.Least {
		t.Verdict, t.Wanted = Untold, fmt.Sprintf("%d more", s.gate.Least-n)
	}
	return t
}

// band tells of a rate whether it is within the band, by its limits.
func (s stretch) band(r meas.Interval[unit.Rate]) Verdict {
	low, high := s.aim.Rate-s.aim.Band, s.aim.Rate+s.aim.Band
	switch {
	case !r.Set:
		return Untold
	case r.High < low || r.Low > high:
		return NotRight
	case r.Low >= low && r.High <= high:
		return Right
	}
	return Untold
}

// between is the mean rate between two points, by the difference of their
// errors. That the doubts of two readings may have something in common, which
// then falls out, is left to be the safe side. wider is how much further the
// limits must reach where several are looked at together.
func between(a, b regulate.Point, wider float64) meas.Interval[unit.Rate] {
	span := b.At.Sub(a.At).Seconds()
	if span <= 0 {
		return meas.Interval[unit.Rate]{}
	}
	over := func(x, y unit.Duration) unit.Rate { return unit.Rate(math.Hypot(float64(x), float64(y)) / span) }
	r := unit.Rate(float64(b.Error.Value-a.Error.Value) / span)
	half := over(a.Error.Half(), b.Error.Half()) * unit.Rate(wider)
	return meas.Interval[unit.Rate]{Value: r, Low: r - half, High: r + half, U: over(a.Error.U, b.Error.U), Set: true}
}

func (s stretch) rate() Test {
	t := Test{Key: "rate", Name: "Rate within " + s.bandText(), Verdict: Untold}
	var mean meas.Interval[unit.Rate]
	if n := len(s.points); n > 1 {
		mean = between(s.points[0], s.points[n-1], 1)
	}
	if !mean.Set {
		t.Found, t.Wanted = "Two readings are needed before a rate can be told", "Readings"
		return t
	}
	t.Verdict, t.Found = s.band(mean), "It went at "+mean.Text("s/d")+" over these days"
	switch t.Verdict {
	case Untold:
		t.Wanted = "Readings over a longer time, or closer ones: the doubt is as wide as what is asked"
	case NotRight:
		t.Wanted = "Regulate it; the gate begins anew"
	}
	return t
}

func (s stretch) bandText() string {
	band := "±\u00a0" + plain(s.aim.Band.PerDay()) + "\u00a0s/d"
	if s.move != 0 {
		return band + " of " + signed(math.Round(s.aim.Rate.PerDay()*10)/10) + "\u00a0s/d, which is right at home"
	}
	if s.aim.Rate != 0 {
		return band + " of " + signed(s.aim.Rate.PerDay()) + "\u00a0s/d"
	}
	return band
}

func plain(x float64) string { return strconv.FormatFloat(math.Round(x*1000)/1000, 'f', -1, 64) }

func signed(x float64) string {
	if x > 0 {
		return "+" + plain(x)
	}
	return "\u2212" + plain(-x)
}

// everyDay looks at the days one by one; their limits hold together in 95 of
// 100 cases.
func (s stretch) everyDay(row []Day) Test {
	t := Test{Key: "days", Name: "No day outside it", Verdict: Untold, Found: "No day is over yet"}
	for _, d := range row {
		if d.Over && t.Verdict == Untold {
			t.Verdict, t.Found = Right, "No day was plainly outside"
		}
		if d.Over && d.Verdict == NotRight {
			t.Verdict, t.Wanted = NotRight, "Find out why, or regulate it; the gate begins anew"
			t.Found = "In the day that began " + onDay(d.From, s.facts.Now) + " it went at " + d.Rate.Text("s/d")
			break
		}
	}
	return t
}

// togetherOf is by how much limits of 95 % must be wider so that n of them
// hold together as often (Bonferroni).
func togetherOf(n int) float64 {
	return num.NormalQuantile(1-0.025/float64(max(1, n))) / num.NormalQuantile(0.975)
}

func (s stretch) questions() Test {
	t := Test{Key: "questions", Name: "No open question", Verdict: Right, Found: "Nothing about these days is asked"}
	if s.facts.Answer == nil {
		t.Verdict, t.Found = Untold, "Nothing could be reckoned yet"
	}
	when := map[int]time.Time{}
	for _, r := range s.facts.Readings {
		when[r.ID] = r.At
	}
	in := func(at time.Time) bool { return at.After(s.from) && !at.After(s.end) }
	n := 0
	for _, q := range s.facts.Asked {
		about := !q.Until.IsZero() && q.From.Before(s.end) && q.Until.After(s.from)
		about = about || slices.ContainsFunc(q.Reading, func(id int) bool { return in(when[id]) })
		if !about {
			continue
		}
		if n++; n == 1 {
			t.Verdict, t.Found, t.Wanted = Untold, q.Text, "Answer it"
		}
	}
	if n > 1 {
		t.Wanted = fmt.Sprintf("Answer it, and %d more", n-1)
	}
	return t
}

func (s stretch) beat() Test {
	most := unit.Text(s.aim.BeatError, "ms", 0)
	t := Test{Key: "beat", Name: "In beat within " + most, Verdict: Untold, Found: "It was not listened to in these days", Wanted: "Listen to it, and keep it in the clock’s file"}
	var last *Heard
	for i, h := range s.facts.Beat {
		if h.Error.Set && !h.At.Before(s.from) && !h.At.After(s.end) && (last == nil || h.At.After(last.At)) {
			last = &s.facts.Beat[i]
		}
	}
	if last == nil {
		return t
	}
	e := last.Error
	t.Found, t.Wanted = "Heard "+onDay(last.At, s.facts.Now)+": "+e.Text("ms"), ""
	switch {
	case e.Low >= -s.aim.BeatError && e.High <= s.aim.BeatError:
		t.Verdict = Right
	case e.High < -s.aim.BeatError || e.Low > s.aim.BeatError:
		t.Verdict, t.Wanted = NotRight, "Put it in beat; the gate begins anew"
	default:
		t.Wanted = "Listen to it for longer"
	}
	return t
}

// strike asks for every hour of the dial, heard once and counted right; one
// that was counted wrong is wrong whatever came after.
func (s stretch) strike() Test {
	t := Test{Key: "strike", Name: "Strike counted right at every hour", Verdict: Right, Found: "All twelve heard"}
	var heard [13]bool
	for _, x := range s.facts.Strikes {
		if x.At.Before(s.from) || x.At.After(s.end) || x.Hour < 1 || x.Hour > 12 {
			continue
		}
		if x.Blows != x.Hour {
			t.Verdict, t.Wanted = NotRight, "Put it right; the gate begins anew"
			t.Found = fmt.Sprintf("%s it struck %d at %d", strings.TrimPrefix(onDay(x.At, s.facts.Now), "on "), x.Blows, x.Hour)
			return t
		}
		heard[x.Hour] = true
	}
	var missing []string
	for h := 1; h <= 12; h++ {
		if !heard[h] {
			missing = append(missing, strconv.Itoa(h))
		}
	}
	if len(missing) > 0 {
		t.Verdict = Untold
		t.Found = fmt.Sprintf("%d of twelve heard", 12-len(missing))
		t.Wanted = "Hear " + strings.Join(missing, ", ")
	}
	return t
}
