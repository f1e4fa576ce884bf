package present

import (
	"time"

	"seatboard/internal/kit/pic"
)

// calendarStep is a step of the calendar: so many hours, days or months.
type calendarStep struct {
	hours, days, months int
	layout              string
}

var calendarSteps = [...]calendarStep{
	{hours: 1, layout: "15:04"}, {hours: 3, layout: "15:04"}, {hours: 6, layout: "15:04"}, {hours: 12, layout: "2 Jan 15:04"},
	{days: 1, layout: "2 Jan"}, {days: 2, layout: "2 Jan"}, {days: 7, layout: "2 Jan"}, {days: 14, layout: "2 Jan"},
	{months: 1, layout: "Jan"}, {months: 2, layout: "Jan"}, {months: 3, layout: "Jan 2006"}, {months: 6, layout: "Jan 2006"}, {months: 12, layout: "2006"},
	{months: 24, layout: "2006"}, {months: 60, layout: "2006"},
}

// long is about how long a step is.
func (d calendarStep) long() time.Duration {
	return time.Duration(d.hours)*time.Hour + time.Duration(d.days)*24*time.Hour + time.Duration(d.months)*730*time.Hour
}

// from is the last mark of the step at or before an instant; weeks begin on
// Monday.
func (d calendarStep) from(t time.Time) time.Time {
	y, m, day := t.Date()
	switch {
	case d.hours > 0:
		return time.Date(y, m, day, t.Hour()/d.hours*d.hours, 0, 0, 0, t.Location())
	case d.days >= 7:
		return time.Date(y, m, day-(int(t.Weekday())+6)%7, 0, 0, 0, 0, t.Location())
	case d.days > 0:
		return time.Date(y, m, day, 0, 0, 0, 0, t.Location())
	case d.months >= 12:
		return time.Date(y, 1, 1, 0, 0, 0, 0, t.Location())
	}
	return time.Date(y, time.Month((int(m)-1)/d.months*d.months+1), 1, 0, 0, 0, 0, t.Location())
}

func (d calendarStep) next(t time.Time) time.Time {
	if d.hours > 0 { // on the hours of the day, also where the clocks are changed
		on := t.Add(time.Duration(d.hours) * time.Hour)
		if at := d.from(on); at.After(t) {
			return at
		}
		return on
	}
	y, m, day := t.Date()
	return time.Date(y, m+time.Month(d.months), day+d.days, 0, 0, 0, 0, t.Location())
}

// days draws the calendar under the lowest field, its lines through all.
func (s *weeksSheet) days() {
	fields := s.fields()
	low := fields[len(fields)-1]
	wide := low.right - low.left
	step := calendarSteps[len(calendarSteps)-1]
	for _, d := range calendarSteps {
		room := wide * d.long().Seconds() / low.x1
		if room >= pic.TextWidth(d.layout, pic.Label)+14 {
			step = d
			break
		}
	}
	marks := 0
	for t := step.from(s.begin.In(s.zone)); s.since(t) <= low.x1 && marks < 400; t = step.next(t) {
		marks++
		if s.since(t) < 0 {
			continue
		}
		x := low.x(s.since(t))
		for _, f := range fields {
			s.p.Add(pic.Line{A: pic.Pt{X: x, Y: f.top}, B: pic.Pt{X: x, Y: f.foot}, Pen: pic.Hair})
		}
		words := t.Format(step.layout)
		half := pic.TextWidth(words, pic.Label) / 2
		if x+half <= s.p.W && s.words.take(rectangle{x - half, low.foot + 10, x + half, low.foot + 28}, 4) {
			s.p.Add(pic.Line{A: pic.Pt{X: x, Y: low.foot}, B: pic.Pt{X: x, Y: low.foot + 5}, Pen: pic.Hair},
				pic.Text{P: pic.Pt{X: x, Y: low.foot + 24}, S: words, Anchor: pic.Middle})
		}
	}
	s.p.Add(pic.Text{P: pic.Pt{X: low.right, Y: low.foot + 44}, S: spanWords(s.begin.In(s.zone), s.begin.Add(time.Duration(low.x1*float64(time.Second))).In(s.zone)), Anchor: pic.End})
}

// spanWords names the days from one instant to another.
func spanWords(from, to time.Time) string {
	switch {
	case from.Format(time.DateOnly) == to.Format(time.DateOnly):
		return from.Format("2 January 2006")
	case from.Year() == to.Year():
		return from.Format("2 January") + " to " + to.Format("2 January 2006")
	}
	return from.Format("2 January 2006") + " to " + to.Format("2 January 2006")
}
