package regulate

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

const (
	halfDay = 43200.0
	hour    = 3600.0
	minute  = 60.0
)

// plain asks about what can be seen without reckoning, and lists the readings
// that have no weight until it is answered.
func plain(q *Query) (asked []Question, skip map[int]bool) {
	skip = map[int]bool{}
	order := make([]Reading, 0, len(q.Readings))
	for _, r := range q.Readings {
		if !r.Out {
			order = append(order, r)
		}
	}
	slices.SortFunc(order, func(a, b Reading) int { return cmp.Compare(a.ID, b.ID) })
	asked = append(asked, outOfOrder(order, q.Now, skip)...)
	slices.SortStableFunc(order, func(a, b Reading) int { return a.At.Compare(b.At) })
	for i, r := range order {
		if r.At.After(q.Now) && !r.Taken {
			skip[r.ID] = true
			asked = append(asked, Question{About: Ahead, Reading: []int{r.ID}, From: r.At, Until: r.At,
				Text: fmt.Sprintf("The reading of %s lies in the future", day(r.At)), Ask: "Put its day or hour right"})
		}
		for k := i - 1; k >= 0 && r.At.Sub(order[k].At) < time.Minute; k-- {
			if o, ok := pair(order[k], r); ok {
				asked = append(asked, o)
				skip[r.ID] = true
				if o.About == Disagree {
					skip[order[k].ID] = true
				}
			}
		}
	}
	return asked, skip
}

// outOfOrder asks about those of readings written down one by one that were
// taken before one that was written earlier, or after one that was written
// later: a day or an hour may be wrong. As few are asked about as can be; of two
// it is the one written later. One that lies in the future says nothing of the
// others, nor does one that was said to be right.
func outOfOrder(order []Reading, now time.Time, skip map[int]bool) []Question {
	var all []Reading
	var kept []bool // it cannot be the one that is wrong
	for _, r := range order {
		if !r.Taken && !r.At.After(now) {
			all, kept = append(all, r), append(kept, r.How == Brought || r.How == ByEar)
		}
	}
	var out []Question
	for i, in := range inOrder(all, kept) {
		r := all[i]
		if in {
			continue
		}
		q := Question{About: Order, Reading: []int{r.ID}, From: r.At, Until: r.At, Ask: "Say that it is right, or put its day or hour right"}
		what := fmt.Sprintf("The reading of %s, %s, was written down", day(r.At), Text(r.Error))
		if !r.From.IsZero() {
			what = fmt.Sprintf("The reading from %s to %s was written down", day(r.From), day(r.At))
		}
		for _, before := range all[:i] {
			if before.At.After(q.Until) {
				q.Until = before.At
			}
		}
		q.Text = what + " after one of " + day(q.Until)
		if q.Until.Equal(r.At) {
			k := slices.IndexFunc(all[i:], func(later Reading) bool { return later.At.Before(r.At) })
			q.Text = what + " before one of " + day(all[i+k].At)
		}
		skip[r.ID] = true
		out = append(out, q)
	}
	return out
}

// inOrder tells of each reading whether it is one of the most that follow each
// other as they were taken; of as many, those written first. Those that are
// kept are, and one taken before one of them that was written earlier is not.
func inOrder(all []Reading, kept []bool) []bool {
	in := slices.Clone(kept)
	early := make([]bool, len(all))
	var latest time.Time
	for i, r := range all {
		early[i] = r.At.Before(latest)
		if kept[i] && r.At.After(latest) {
			latest = r.At
		}
	}
	var heads []int // of a row of one reading, two and so on: the one that begins it latest
	next := make([]int, len(all))
	for i := len(all) - 1; i >= 0; i-- {
		if kept[i] || early[i] {
			continue
		}
		k, _ := slices.BinarySearchFunc(heads, all[i].At, func(h int, at time.Time) int {
			if all[h].At.Before(at) {
				return 1
			}
			return -1
		})
		if next[i] = -1; k > 0 {
			next[i] = heads[k-1]
		}
		if k == len(heads) {
			heads = append(heads, i)
		} else {
			heads[k] = i
		}
	}
	if len(heads) > 0 {
		for i := heads[len(heads)-1]; i >= 0; i = next[i] {
			in[i] = true
		}
	}
	return in
}

// pair asks about two readings within a minute.
func pair(a, b Reading) (Question, bool) {
	if !a.From.IsZero() || !b.From.IsZero() || a.Taken && b.Taken {
		return Question{}, false
	}
	q := Question{Reading: []int{a.ID, b.ID}, From: a.At, Until: b.At}
	d := math.Abs(float64(a.Error - b.Error))
	switch {
	case a.At.Equal(b.At) && d == 0 && a.How == b.How:
		q.About, q.Text, q.Ask = Twice, fmt.Sprintf("The reading of %s stands there twice", day(b.At)), "Take one of them out"
	case d > 4*math.Sqrt(variance(a.U, unstated(a.How))+variance(b.U, unstated(b.How))):
		q.About = Disagree
		q.Text = fmt.Sprintf("Two readings within a minute of %s differ by %s", day(b.At), seconds(d))
		q.Ask = "Say which is right; take the other out"
	default:
		return q, false
	}
	return q, true
}

func day(t time.Time) string { return t.Format("2 Jan 15:04") }

// seconds prints a time without its sign.
func seconds(s float64) string {
	s = math.Abs(s)
	whole := math.Round(s)
	switch {
	case s >= 2*hour:
		return unit.Number(s/hour, 1) + " h"
	case whole < 2*minute:
		return unit.Number(s, 1) + " s"
	}
	var parts []string
	for _, x := range []struct {
		n    float64
		name string
	}{{math.Floor(whole / hour), "h"}, {math.Floor(math.Mod(whole, hour) / minute), "min"}, {math.Mod(whole, minute), "s"}} {
		if x.n > 0 {
			parts = append(parts, fmt.Sprintf("%.0f %s", x.n, x.name))
		}
	}
	return strings.Join(parts, " ")
}

// ask makes a question of an oddity.
func (s *search) ask(o oddity) Question {
	at := s.line.readingRow(s.q, o.reading)
	q := Question{About: o.about, Reading: []int{o.reading}, Chance: o.chance}
	q.From, q.Until = s.around(o, at)
	switch o.about {
	case RateUnnoted:
		q.Used = true
		q.Rate = meas.Around(unit.RatePerDay(o.size), unit.RatePerDay(o.u), 1.96)
		q.Text = fmt.Sprintf("Between %s and %s the rate changed by %s, and nothing is written down of it", day(q.From), day(q.Until), meas.WithU(q.Rate.Value, q.Rate.U, "s/d"))
		q.Ask = "Say what was done: the nut turned, moved, oiled, stopped?"
	case SetUnnoted:
		q.Used = true
		q.Error = meas.Around(unit.Duration(o.size), unit.Duration(o.u), 1.96)
		q.Text = fmt.Sprintf("From %s on the clock is %s %s than before, and nothing is written down of it", day(q.Until), seconds(o.size), faster(o.size))
		q.Ask = "Say whether the hands were set, or it stood for a while"
		if p, what := pattern(o); p == HalfDay || p == SummerTime {
			q.Text += "; it looks like " + what
		}
	default:
		q.Error = meas.Around(unit.Duration(o.size), unit.Duration(o.u), 1.96)
		p, what := pattern(o)
		q.About = p
		if p == WrongHalf {
			q.Later = unit.Duration(o.half())
		}
		q.Text = fmt.Sprintf("The reading of %s is %s %s than the others say", day(q.Until), seconds(o.size), faster(o.size))
		q.Ask = "Say that it is right, put it right, or take it out"
		if what != "" {
			q.Text += "; it looks like " + what
		}
	}
	return q
}

func faster(x float64) string {
	if x < 0 {
		return "slower"
	}
	return "faster"
}

// half is half a day, s, where a reading fits if it was taken so much later;
// else nought.
func (o oddity) half() float64 {
	for _, h := range []float64{halfDay, -halfDay} {
		if math.Abs(o.size-o.slope*h/86400) < 2*o.u {
			return h
		}
	}
	return 0
}

// pattern tells a mistake of reading by its size.
func pattern(o oddity) (Doubtful, string) {
	d := math.Abs(o.size)
	near := func(of, least float64) bool {
		return math.Abs(d-of) < math.Max(least, math.Min(3*o.u, of/4))
	}
	whole := math.Round(d/minute) * minute
	switch {
	case near(halfDay, 900):
		return HalfDay, "morning taken for evening"
	case near(hour, 120):
		return SummerTime, "an hour of summer time"
	case math.Abs(o.half()) > 0:
		return WrongHalf, "an hour written in the other half of the day"
	case whole > 0 && o.u < 10 && math.Abs(d-whole) < math.Max(2, math.Min(3*o.u, 10)):
		return WrongMinute, "a mistake of " + fmt.Sprintf("%.0f min", whole/minute)
	}
	return Stray, ""
}

// around is the time in which an oddity lies.
func (s *search) around(o oddity, at int) (from, until time.Time) {
	r := s.line.q.Readings[at]
	from, until = r.At, r.At
	if o.about != SetUnnoted && o.about != RateUnnoted {
		return from, until
	}
	before, after := time.Time{}, time.Time{}
	for i, x := range s.q.Readings {
		if s.skip[x.ID] || x.Out || i == at {
			continue
		}
		if x.At.Before(r.At) && (before.IsZero() || x.At.After(before)) {
			before = x.At
		}
		if x.At.After(r.At) && (after.IsZero() || x.At.Before(after)) {
			after = x.At
		}
	}
	if !before.IsZero() {
		from = before
	}
	if o.about == RateUnnoted && !after.IsZero() {
		until = after
	}
	return from, until
}

// readingRow is the place of a reading in the query.
func (l *timeline) readingRow(q *Query, id int) int {
	return slices.IndexFunc(q.Readings, func(r Reading) bool { return r.ID == id })
}
