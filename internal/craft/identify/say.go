package identify

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func (a *Answer) say(level meas.Level, code, text, next string, ref cite.Ref, about ...string) {
	a.Findings = append(a.Findings, meas.Finding{Level: level, Code: code, Text: text, Next: next, About: about, Ref: ref})
}

func (a *Answer) find() {
	q := a.Query
	a.Next, _ = a.next()
	if d := q.Diameter; !q.threaded() && d.Bare() && d.Value.MM() < .5 {
		a.say(meas.Doubt, "inches", fmt.Sprintf("“%s” was taken in mm. If it is inches, it is %s.", d.Entered, unit.Text(unit.Inches(d.Value.MM()), "mm", 3)), "Write the unit with it: "+d.Entered+" in.", cite.Ref{Grade: cite.Exact}, "diameter")
	}
	switch {
	case a.none() && q.threaded():
		a.say(meas.Doubt, "no-standard", fmt.Sprintf("Most likely of no standard (%.0f %%): older than standards, or cut with the maker’s own plate.", 100*a.None),
			"Make the new one to fit: cut it with a screw plate or in the lathe to the pitch as measured, and try it in its hole; do not re-tap the old part. Keep the old screw, and write it down as original with these figures.", noneChance, "diameter", "pitch")
	case a.none():
		a.say(meas.Doubt, "no-standard", fmt.Sprintf("Most likely of none of these gauges (%.0f %%).", 100*a.None), "Draw, turn or lap it to the size as measured, and write that down.", noneChance, "diameter")
	case a.Tied > 1 && !a.differ():
		a.say(meas.Note, "same", a.names()+" are the same within what they vary.", a.Next, cite.Ref{Grade: cite.Computed, Note: "sizes of the tables"}, "diameter")
	case a.Tied > 1:
		a.say(meas.Doubt, "tie", a.names()+" cannot be told apart by what was measured.", a.Next, cite.Ref{Grade: cite.Computed, Note: "odds under 5 to 1"}, "diameter", "pitch")
	}
	if c, ok := a.first(); ok && !a.none() {
		if f := a.family(c); c.Later {
			a.say(meas.Note, "later", fmt.Sprintf("%s: %s. In a clock of %d it is a later replacement, or it is not this thread.", c.Name, f.words, q.Year), "", f.ref, "year")
		}
	}
	if !q.Diameter.HasU {
		a.say(meas.Note, "usual-doubt", "No doubt of the diameter was stated; 0.02 mm is taken, as of a caliper.", "A micrometer tells it better: enter its doubt too, like ± 0.005 mm.", cite.Ref{Grade: cite.CommonPractice}, "diameter")
	}
	if q.threaded() && a.Pitch.Set && !a.Pitch.HasU {
		p, _ := q.pitch()
		a.say(meas.Note, "usual-pitch-doubt", "No doubt of the pitch was stated; "+unit.Text(p.U, "mm", 3)+" is taken.", "Ten threads or more, measured over their crests, tell it better.", cite.Ref{Grade: cite.CommonPractice}, "pitch")
	}
	if q.What == Screw && !q.Worn && len(a.Candidates) > 0 && a.Candidates[0].Chance < .5 {
		a.say(meas.Note, "worn", "Worn or filed crests make a screw thinner than its standard; say so where they are.", "", wornAllowance, "worn")
	}
	slices.SortStableFunc(a.Findings, func(x, y meas.Finding) int { return int(y.Level) - int(x.Level) })
}

func (a Answer) first() (Candidate, bool) {
	if len(a.Candidates) == 0 || a.Candidates[0].Thread == nil {
		return Candidate{}, false
	}
	return a.Candidates[0], true
}

func (a Answer) family(c Candidate) series { return familyOf(c.Thread.Series) }

// names lists those that are tied.
func (a Answer) names() string {
	var out []string
	for _, c := range a.Candidates[:a.Tied] {
		out = append(out, c.Name)
	}
	if n := len(out); n > 4 {
		return strings.Join(out[:4], ", ") + fmt.Sprintf(" and %d more", n-4)
	}
	return strings.Join(out[:len(out)-1], ", ") + " and " + out[len(out)-1]
}

// next says what to measure, and how well; differ is false where nothing
// tells those that are tied apart.
func (a Answer) next() (words string, differ bool) {
	q := a.Query
	if a.Tied < 2 || a.none() {
		return "", false
	}
	if q.threaded() && !a.Pitch.Set {
		return "Measure the pitch: count ten threads over their crests, and enter threads and length.", true
	}
	for _, y := range a.Candidates[1:a.Tied] {
		tell := apart
		if y.Thread == nil {
			tell = between
		}
		if words, differ = tell(a.Candidates[0], y); differ {
			return words, true
		}
	}
	return words, false
}

// differ tells whether anything tells those that are tied apart.
func (a Answer) differ() bool {
	_, differ := a.next()
	return differ
}

// between tells two plain gauges apart; differ is false where nothing does.
func between(x, y Candidate) (words string, differ bool) {
	a, b := x.Gauge.D, y.Gauge.D
	gap := math.Abs(float64(a - b))
	if gap < 6e-6 {
		return "They differ by less than they vary; it does not matter which.", false
	}
	return fmt.Sprintf("%s is %s mm and %s is %s mm: measure it to ± %s mm with a micrometer, at several places.", x.Name, mm(a, 3), y.Name, mm(b, 3), mm(unit.Length(gap/4), 3)), true
}

// apart tells two threads apart: by pitch, by the angle, by the diameter;
// differ is false where nothing does.
func apart(x, y Candidate) (words string, differ bool) {
	gap := math.Abs(float64(x.Thread.Pitch - y.Thread.Pitch))
	if gap > 1e-7 {
		n := int(math.Ceil(4 * usualOver / gap))
		if n < 5 {
			n = 5
		}
		if n <= mostCounted {
			over := func(c Candidate) string { return unit.Number(1000*float64(n)*float64(c.Thread.Pitch), 2) }
			return fmt.Sprintf("Measure over %d threads: %s mm for %s, %s mm for %s; to 0.1 mm is enough.", n, over(x), x.Name, over(y), y.Name), true
		}
	}
	fx, fy := familyOf(x.Thread.Series).form, familyOf(y.Thread.Series).form
	if math.Abs(fx.angle-fy.angle) >= 3 {
		return fmt.Sprintf("Diameter and pitch are the same: only the flanks tell, %s° between them for %s and %s° for %s. Hold a gauge into the thread against the light.", strconv.FormatFloat(fx.angle, 'f', -1, 64), x.Name, strconv.FormatFloat(fy.angle, 'f', -1, 64), y.Name), true
	}
	if d := math.Abs(float64(x.Thread.Major - y.Thread.Major)); d > 5e-6 {
		return fmt.Sprintf("Measure the diameter where it is not worn, to ± %s mm.", mm(unit.Length(d/4), 3)), true
	}
	return "They are the same thread under two names.", false
}

// mostCounted is the most threads that a clock screw lets one count.
const mostCounted = 40
