package present

import (
	"fmt"
	"math"
	"strings"

	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/culprit"
	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// mostSuspects is how many parts are drawn; the table has all.
const mostSuspects = 12

// suspectsFigure draws the parts of the train in order of evidence, or the
// periods found where the train is not known.
func suspectsFigure(a culprit.Answer) (doc.Figure, bool) {
	if len(a.Suspects)+len(a.Peaks) == 0 {
		return doc.Figure{}, false
	}
	return doc.Figure{
		Name: "suspects",
		Caption: "The parts of the train in order of evidence: how far each makes the beats early and late by turns, with its 95 % limits. " +
			"Where it is hatched, a fault so small could hide in this record.",
		Wide: suspectsPicture(a, wideFigure), Narrow: suspectsPicture(a, narrowFigure),
		Numbers: suspectsTable(a),
	}, true
}

func suspectsTable(a culprit.Answer) *doc.Table {
	t := doc.Table{Caption: "The parts in order of evidence", Columns: []doc.Column{{Head: "Part"}, {Head: "Period"}, {Head: "Early and late", Unit: "µs", Number: true},
		{Head: "From", Unit: "µs", Number: true}, {Head: "To", Unit: "µs", Number: true}, {Head: "Would show", Unit: "µs", Number: true}, {Head: "Chance that it is nothing"}, {Head: "Standing"}},
		Note: "The chance is among all that was tried. “Would show” is the size that this record finds nine times in ten."}
	for _, s := range a.Suspects {
		row := append([]string{listen.SuspectName(s), phrase.Lasting(s.Part.Period)}, micro(s.Amplitude)...)
		shows := ""
		if s.Smallest > 0 {
			shows = unit.Significant(unit.In(s.Smallest, "µs"), 2)
		}
		t.Rows = append(t.Rows, append(row, shows, phrase.OneIn(s.Chance), standingWords(s)))
	}
	for _, p := range a.Peaks {
		row := append([]string{"Not known", phrase.Lasting(p.Period)}, micro(p.Amplitude)...)
		t.Rows = append(t.Rows, append(row, "", phrase.OneIn(p.Chance), "found"))
	}
	return &t
}

// micro is an interval of time as three numbers of microseconds.
func micro(i meas.Interval[unit.Duration]) []string {
	if !i.Set {
		return []string{"", "", ""}
	}
	v, low, high := phrase.Limits(i, "µs")
	return []string{v, low, high}
}

// standingWords says what came out, and how long to listen where nothing
// could.
func standingWords(s culprit.Suspect) string {
	switch {
	case s.Evident():
		return "found" + listen.Others(s)
	case s.Standing == culprit.Clear:
		return "nothing"
	case s.Standing == culprit.NotYet && s.ListenFor > 0:
		return "listen " + phrase.HearFor(s.ListenFor)
	case s.Standing == culprit.NotYet && s.Part.TooQuick():
		return "beats too slow to show it"
	case s.Standing == culprit.NotYet:
		return "hidden by the wander"
	}
	return string(s.Standing)
}

// suspectRow is one line of the figure.
type suspectRow struct {
	name, period, chance string // "Third wheel"; "once a turn, 7 min 30 s"; "1 in 4,000"
	other                string // "or centre wheel", where it cannot be told from that
	amplitude            meas.Interval[unit.Duration]
	hidden               float64 // seconds under which nothing would show
	found, clear         bool
}

func suspectRows(a culprit.Answer) []suspectRow {
	var rows []suspectRow
	for _, s := range a.Suspects {
		r := suspectRow{name: phrase.Capital(s.Part.Name), period: listen.Often(s.Part.Kind, s.Harmonic) + ", " + phrase.Lasting(s.Part.Period), chance: standingWords(s), amplitude: s.Amplitude,
			hidden: float64(s.Smallest), other: strings.TrimSpace(listen.Others(s)), found: s.Evident(), clear: s.Standing == culprit.Clear}
		if r.found {
			r.chance = phrase.OneIn(s.Chance)
		}
		rows = append(rows, r)
	}
	for _, p := range a.Peaks {
		rows = append(rows, suspectRow{name: "Every " + phrase.Lasting(p.Period), period: map[bool]string{true: "no part of this train", false: "part not known"}[len(a.Suspects) > 0], chance: phrase.OneIn(p.Chance), amplitude: p.Amplitude, found: true})
	}
	return rows[:min(len(rows), mostSuspects)]
}

// suspectsTop is the end of the scale, in seconds: what was found and what
// was cleared lies within it.
func suspectsTop(rows []suspectRow) float64 {
	top := 0.0
	for _, r := range rows {
		switch {
		case r.found:
			top = math.Max(top, float64(r.amplitude.High))
		case r.clear:
			top = math.Max(top, math.Max(float64(r.amplitude.High), r.hidden))
		}
	}
	if top > 0 {
		return roundUp(top * 1.05)
	}
	return float64(3 * culprit.Matters)
}

// suspectsSheet is the layout of the figure.
type suspectsSheet struct {
	p      pic.Picture
	f      frame // x in seconds
	narrow bool
	symbol string
}

const (
	suspectsHead  = 34.0
	suspectsRow   = 48.0
	suspectsStack = 92.0 // on a narrow page
	suspectsLead  = 19.0 // between lines of words
	leastScale    = 0.34 // of the width of the figure, for the bars and the room around them
)

func suspectsPicture(a culprit.Answer, width float64) pic.Picture {
	rows := suspectRows(a)
	s := &suspectsSheet{narrow: width < 600}
	s.f = frame{x1: suspectsTop(rows), top: suspectsHead}
	s.symbol = phrase.FineSymbol(unit.Duration(s.f.x1))
	names, chances := 0.0, 0.0
	for _, r := range rows {
		names = math.Max(names, math.Max(pic.TextWidth(r.name, pic.Name), math.Max(pic.TextWidth(r.period, pic.Label), pic.TextWidth(r.other, pic.Label))))
		chances = math.Max(chances, math.Max(pic.TextWidth(r.chance, pic.Label), pic.TextWidth(amplitudeWords(r), pic.Label)))
	}
	if s.narrow {
		s.f.left, s.f.right = 18, width-44
	} else {
		chances = math.Min(chances, 0.30*width)
		names = math.Min(names, (1-leastScale)*width-chances)
		s.f.left, s.f.right = 4+names+16, width-chances-22
	}
	s.f.foot = suspectsHead
	for _, r := range rows {
		s.f.foot += s.high(r)
	}
	s.p = pic.Picture{Title: "The parts of the train in order of evidence", Desc: suspectsDesc(rows), W: width, H: s.f.foot + 8}
	s.scale()
	y := suspectsHead
	for _, r := range rows {
		if s.narrow {
			s.stacked(r, y)
		} else {
			s.beside(r, y, names, chances)
		}
		y += s.high(r)
	}
	return s.p
}

// high is the height of a row.
func (s *suspectsSheet) high(r suspectRow) float64 {
	h := suspectsRow
	if s.narrow {
		h = suspectsStack
	}
	if r.other != "" {
		h += suspectsLead
	}
	return h
}

func suspectsDesc(rows []suspectRow) string {
	words := ""
	for _, r := range rows {
		words += fmt.Sprintf("%s (%s): %s. ", r.name, r.period, both(amplitudeWords(r), r.chance))
	}
	return words[:max(len(words)-1, 0)]
}

// both joins two sayings of which either may be empty.
func both(a, b string) string {
	if a != "" && b != "" {
		return a + ", " + b
	}
	return a + b
}

func amplitudeWords(r suspectRow) string {
	if !r.amplitude.Set || !r.found {
		return ""
	}
	return phrase.Swing(r.amplitude)
}

// scale draws the figures at the top and their lines.
func (s *suspectsSheet) scale() {
	step := roundStep(s.f.x1, int((s.f.right-s.f.left)/64))
	for _, v := range graduations(0, s.f.x1, step) {
		words := unit.Number(unit.In(unit.Duration(v), s.symbol), placesOf(unit.In(unit.Duration(step), s.symbol)))
		if v > s.f.x1-step*(1+1e-9) {
			words += "\u00a0" + s.symbol
		}
		pen := pic.Hair
		if v == 0 {
			pen, words = pic.Ink, "0"
		}
		s.p.Add(s.f.upright(v, pen), pic.Text{P: pic.Pt{X: s.f.x(v), Y: suspectsHead - 12}, S: words, Anchor: pic.Middle})
	}
}

// beside sets name, bar and chance on one line.
func (s *suspectsSheet) beside(r suspectRow, y, names, chances float64) {
	right := s.f.right + 18
	s.p.Add(pic.Text{P: pic.Pt{X: 4, Y: y + 18}, S: fit(r.name, pic.Name, names), Style: pic.Name},
		pic.Text{P: pic.Pt{X: 4, Y: y + 37}, S: fit(r.period, pic.Label, names)},
		pic.Text{P: pic.Pt{X: right, Y: y + 18}, S: fit(r.chance, pic.Label, chances), Style: chanceStyle(r)})
	if r.other != "" {
		s.p.Add(pic.Text{P: pic.Pt{X: 4, Y: y + 37 + suspectsLead}, S: fit(r.other, pic.Label, names)})
	}
	if words := amplitudeWords(r); words != "" {
		s.p.Add(pic.Text{P: pic.Pt{X: right, Y: y + 37}, S: fit(words, pic.Label, chances)})
	}
	s.bar(r, y+22)
}

// stacked sets the words over the bar.
func (s *suspectsSheet) stacked(r suspectRow, y float64) {
	room, down := s.p.W-8, s.high(r)-suspectsStack
	s.p.Add(pic.Rect{Min: pic.Pt{X: 0, Y: y + 2}, W: s.p.W, H: 58 + down, Pen: pic.NoLine, Fill: pic.Ground},
		pic.Text{P: pic.Pt{X: 4, Y: y + 18}, S: fit(r.name, pic.Name, room), Style: pic.Name},
		pic.Text{P: pic.Pt{X: 4, Y: y + 37}, S: fit(both(r.period, amplitudeWords(r)), pic.Label, room)},
		pic.Text{P: pic.Pt{X: 4, Y: y + 56 + down}, S: fit(r.chance, pic.Label, room), Style: chanceStyle(r)})
	if r.other != "" {
		s.p.Add(pic.Text{P: pic.Pt{X: 4, Y: y + 56}, S: fit(r.other, pic.Label, room)})
	}
	s.bar(r, y+74+down)
}

func chanceStyle(r suspectRow) pic.Lettering {
	switch {
	case r.found:
		return pic.Alarm
	case r.clear:
		return pic.Fine
	}
	return pic.Label
}

// bar draws what could hide and the interval; what goes over the end of the
// scale ends in an arrow.
func (s *suspectsSheet) bar(r suspectRow, y float64) {
	if r.hidden > 0 {
		s.p.Add(pic.Rect{Min: pic.Pt{X: s.f.left, Y: y - 6}, W: s.f.inX(r.hidden) - s.f.left, H: 12, Pen: pic.NoLine, Fill: pic.Hatch})
	}
	if !r.amplitude.Set {
		return
	}
	pen := pic.Ink
	if r.found {
		pen = pic.Bad
	}
	low, high := s.f.inX(float64(r.amplitude.Low)), s.f.inX(float64(r.amplitude.High))
	s.p.Add(pic.Line{A: pic.Pt{X: low, Y: y}, B: pic.Pt{X: high, Y: y}, Pen: pen})
	if low < s.f.right {
		s.p.Add(pic.Line{A: pic.Pt{X: low, Y: y - 5}, B: pic.Pt{X: low, Y: y + 5}, Pen: pen})
	}
	if float64(r.amplitude.High) > s.f.x1 {
		s.p.Add(pic.Poly{Pts: []pic.Pt{{X: high - 6, Y: y - 5}, {X: high, Y: y}, {X: high - 6, Y: y + 5}}, Pen: pen})
	} else {
		s.p.Add(pic.Line{A: pic.Pt{X: high, Y: y - 5}, B: pic.Pt{X: high, Y: y + 5}, Pen: pen})
	}
	if v := float64(r.amplitude.Value); v <= s.f.x1 {
		dot := pic.Circle{C: pic.Pt{X: s.f.inX(v), Y: y}, R: 3.5, Pen: pen, Fill: pic.Ground}
		if r.found {
			dot.Fill = pic.BadFill
		}
		s.p.Add(dot)
	}
}
