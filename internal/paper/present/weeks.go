package present

import (
	"fmt"
	"math"
	"strings"
	"time"

	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// weeksFigure draws a clock's time on trial; ok is false where there is no
// rate to draw.
func weeksFigure(a regulate.Answer) (doc.Figure, bool) {
	if len(a.Past) < 2 || !a.Past[len(a.Past)-1].At.After(a.Past[0].At) {
		return doc.Figure{}, false
	}
	wide := newWeeks(a, wideFigure)
	caption := "The rate over the trial, gaining upwards, in its 95 % band; the touches stand over it, and brass hatching is what is wanted. "
	if wide.error.foot > 0 {
		caption += "Below, what the clock was wrong by: rings are readings with twice their doubt."
	} else {
		caption += "Rings are rates as read, with the time they were taken over."
	}
	if len(a.Ahead) > 0 {
		caption += " Hatched to the right is what is to be expected if it is left alone."
	}
	if wide.bent {
		caption += " The scale of the rate is drawn together away from what is wanted."
	}
	return doc.Figure{Name: "weeks", Caption: caption, Wide: wide.draw(), Narrow: weeksPicture(a, narrowFigure), Numbers: weeksTable(a)}, true
}

// wantedOf is the rate to aim at here and the band about it, in s/day.
func wantedOf(a regulate.Answer) (rate, band float64) {
	rate, band = a.Query.Wanted.Rate.PerDay(), a.Query.Wanted.Band.PerDay()
	if !(band > 0) {
		band = 2
	}
	if m := a.Query.Wanted.Move; m.Set { // reckoned, so with no more digits than the band bears
		step := math.Pow(10, math.Floor(math.Log10(band/5)))
		rate = math.Round((rate-m.Value.PerDay())/step) * step
	}
	return rate, band
}

// zoneOf is where the clock stands, for hours of the day.
func zoneOf(a regulate.Answer) *time.Location {
	if !a.Query.Now.IsZero() {
		return a.Query.Now.Location()
	}
	return a.Now.At.Location()
}

// mostTold is how many rows the table under the figure has.
const mostTold = 24

// weeksTable has the rate and the error at the readings, thinned to what can
// be looked through.
func weeksTable(a regulate.Answer) *doc.Table {
	t := doc.Table{Caption: "Rate and error at the readings", Columns: []doc.Column{{Head: "When"}, {Head: "Read, fast", Unit: "s", Number: true}, {Head: "Less reckoned", Unit: "s", Number: true},
		{Head: "Rate", Unit: "s a day", Number: true}, {Head: "From", Unit: "s a day", Number: true}, {Head: "To", Unit: "s a day", Number: true}, {Head: "", Unit: ""}}}
	rates := map[int]unit.Rate{}
	for i := range a.Query.Readings {
		if r := &a.Query.Readings[i]; !r.From.IsZero() {
			rates[r.ID] = r.Rate
		}
	}
	every := (len(a.Past) + mostTold - 1) / mostTold
	zone := zoneOf(a)
	for i := range a.Past {
		p := &a.Past[i]
		if (len(a.Past)-1-i)%every != 0 {
			continue
		}
		rate := []string{"", "", ""}
		if inBand(p.Rate) {
			rate = rateLimits(p.Rate)
		}
		row := []string{minuteOf(p.At, zone), "", "", rate[0], rate[1], rate[2], ""}
		if r, ok := rates[p.Reading]; ok {
			row[6] = "read " + signedNumber(r.PerDay(), 2)
		} else if p.Reading != 0 {
			row[1], row[2] = unit.Number(float64(p.Seen), 1), unit.Number(float64(p.Residual), 2)
		}
		if p.Asked {
			row[6] = "asked"
		}
		t.Rows = append(t.Rows, row)
	}
	t.Columns[6].Head = "Note"
	if every > 1 {
		t.Note = fmt.Sprintf("Every %s of %s readings; the log has all.", ordinalWords(every), phrase.Counted(float64(len(a.Past))))
	}
	return &t
}

// rateLimits are a rate and its limits in s/day, signed.
func rateLimits(i meas.Interval[unit.Rate]) []string {
	v, low, high := phrase.Limits(i, "s/d")
	out := []string{v, low, high}
	for k, r := range [...]unit.Rate{i.Value, i.Low, i.High} {
		if r > 0 && strings.Trim(out[k], "0.") != "" {
			out[k] = "+" + out[k]
		}
	}
	return out
}

// ordinalWords is "second", "third", "24th" for a number from 2.
func ordinalWords(n int) string {
	switch {
	case n == 2:
		return "second"
	case n == 3:
		return "third"
	case n%100 >= 11 && n%100 <= 13:
		return fmt.Sprintf("%dth", n)
	}
	return fmt.Sprintf("%d%s", n, map[int]string{1: "st", 2: "nd", 3: "rd"}[n%10]+map[bool]string{true: "th"}[n%10 == 0 || n%10 > 3])
}

// weeksDesc says in words what the picture shows.
func weeksDesc(a regulate.Answer) string {
	first, last := a.Past[0], a.Past[len(a.Past)-1]
	zone := zoneOf(a)
	say := []string{fmt.Sprintf("%s readings from %s to %s.", phrase.Counted(float64(len(a.Past))), dayOf(first.At, zone), dayOf(last.At, zone))}
	if inBand(first.Rate) && inBand(last.Rate) {
		say = append(say, fmt.Sprintf("The rate was %s at first and is %s at the last.", phrase.PerDay(first.Rate), phrase.PerDay(last.Rate)))
	}
	want, band := wantedOf(a)
	say = append(say, fmt.Sprintf("Wanted is %s%s.", bandWords(want, band), forHome(a)))
	for _, s := range weekTouches(a) {
		if len(say) < 12 && s.words != "" {
			say = append(say, phrase.Capital(s.words)+" on "+dayOf(s.at, zone)+".")
		}
	}
	if n := len(a.Questions); n > 0 {
		say = append(say, phrase.Capital(phrase.Times(n, "question is open", "questions are open"))+".")
	}
	return strings.Join(say, " ")
}

// minuteOf is an instant to the minute, as the clocks of a zone show it.
func minuteOf(t time.Time, zone *time.Location) string {
	return t.Round(time.Second).In(zone).Format("2006-01-02 15:04")
}

func dayOf(t time.Time, zone *time.Location) string { return t.In(zone).Format("2 January 2006") }

// forHome says that what is wanted here is for another place.
func forHome(a regulate.Answer) string {
	if !a.Query.Wanted.Move.Set {
		return ""
	}
	return " here, so that it is right at home"
}

// bandWords is what counts as right: "−2 to +2 s a day".
func bandWords(want, band float64) string {
	places := max(placesOf(band), placesOf(math.Abs(want)+1))
	return signedNumber(want-band, places) + " to " + signedNumber(want+band, places) + "\u00a0s a day"
}

// weekTouch is one mark over the rate.
type weekTouch struct {
	at    time.Time
	words string // "nut up ½", "" for what needs no words
	up    int    // 1 nut up, −1 down
	asked bool   // nobody wrote it down
	minor bool   // it does not change the rate: wound
	set   bool   // the error begins anew
	until time.Time
}

// weekTouches lists the touches of the query, and those that were noticed.
func weekTouches(a regulate.Answer) []weekTouch {
	var out []weekTouch
	for _, t := range a.Query.Touches {
		w := weekTouch{at: t.At, words: touchWords(t, a.Query.Known.Divisions)}
		switch t.Kind {
		case regulate.NutTurned:
			w.up = sign(t.Turns)
		case regulate.HandsSet, regulate.Started:
			w.set = true
		case regulate.Stopped:
			w.set, w.until = true, t.Until
		case regulate.Wound:
			w.minor, w.words = true, ""
		}
		out = append(out, w)
	}
	for _, s := range a.Steps {
		if s.Touch == 0 {
			out = append(out, weekTouch{at: s.At, words: "not noted", asked: true, set: s.Error.Set && s.Error.Value != 0})
		}
	}
	return out
}

func sign(x float64) int {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}

// touchWords names a touch in two or three words; marks are the divisions of
// the nut, 0 for none.
func touchWords(t regulate.Touch, marks int) string {
	switch t.Kind {
	case regulate.NutTurned:
		far := turnsWords(t.Turns)
		if n := math.Abs(t.Turns) * float64(marks); n > 0 && math.Abs(n-math.Round(n)) < 1e-6 && strings.Contains(far, ".") {
			far = unit.Number(n, 0) + " div"
		}
		return "nut " + wayUp(t.Turns) + " " + far
	case regulate.OnTray:
		return unit.Text(abs(t.Mass), "g", gramPlaces(t.Mass)) + map[bool]string{true: " off", false: " on"}[t.Mass < 0]
	case regulate.HandsSet:
		return "hands set"
	case regulate.Worked:
		if t.Words != "" {
			return fit(strings.Join(strings.Fields(t.Words), " "), pic.Label, 150)
		}
		return "worked on"
	}
	return string(t.Kind)
}

func gramPlaces(m unit.Mass) int { return min(placesOf(unit.In(abs(m), "g")+1), 2) }

func wayUp(turns float64) string {
	if turns < 0 {
		return "down"
	}
	return "up"
}

// turnsWords writes a number of turns, without sign, as a person says it.
func turnsWords(turns float64) string {
	t := math.Abs(turns)
	whole, part := math.Floor(t+1e-6), t-math.Floor(t+1e-6)
	for _, f := range [...]struct {
		part  float64
		words string
	}{{0, ""}, {.25, "¼"}, {.5, "½"}, {.75, "¾"}} {
		if math.Abs(part-f.part) > 1e-6 {
			continue
		}
		if whole == 0 && f.words != "" {
			return f.words
		}
		return unit.Number(whole, 0) + f.words
	}
	return unit.Number(t, min(placesOf(t), 3))
}

// withReading finds how well each reading of an error is known, by its ID:
// twice its doubt, in seconds.
func withReading(a regulate.Answer) map[int]float64 {
	out := make(map[int]float64, len(a.Query.Readings))
	scale := 1.0
	if n := a.Noise.Reading; n.Set && n.Value > 0 {
		scale = float64(n.Value)
	}
	for _, r := range a.Query.Readings {
		if r.From.IsZero() {
			out[r.ID] = 2 * r.U * scale
		}
	}
	return out
}

// inBand tells whether an interval is one that can be drawn.
func inBand[Q unit.Quantity](i meas.Interval[Q]) bool {
	sum := float64(i.Value) + float64(i.Low) + float64(i.High) // not finite where one is not
	return i.Set && !math.IsNaN(sum) && !math.IsInf(sum, 0)
}
