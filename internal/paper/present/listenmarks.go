package present

import (
	"math"

	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/phrase"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// breaks draws where the clock stopped or the record is broken, with words
// where there is room over the field.
func (s *residualsSheet) breaks(h beat.Hearing) {
	for _, r := range h.Runs {
		switch r.EndedBy {
		case beat.Stopped:
			s.broken(float64(r.To), pic.Bad, "stopped", pic.Alarm)
		case beat.Silence:
			s.broken(float64(r.To), pic.Dashed, "sound cut off", pic.Label)
		}
	}
	for _, m := range h.Marks {
		switch m.Kind {
		case beat.Step:
			s.broken(float64(m.At), pic.Dashed, stepWords(m.Size), pic.Label)
		case beat.Repeat:
			s.broken(float64(m.At), pic.Dashed, "heard before", pic.Label)
		}
	}
}

func stepWords(size unit.Duration) string {
	if size == 0 {
		return "step"
	}
	sign := "+"
	if size < 0 {
		sign = "−"
	}
	return "step " + sign + phrase.Fine(unit.Duration(math.Abs(float64(size))))
}

func (s *residualsSheet) broken(at float64, pen pic.Pen, words string, style pic.Lettering) {
	if at < s.f.x0 || at > s.f.x1 {
		at = math.Min(math.Max(at, s.f.x0), s.f.x1)
	}
	x, w := s.f.x(at), pic.TextWidth(words, style)
	left := math.Min(math.Max(x-w/2, 0), s.p.W-w)
	for _, y := range [...]float64{50, 30} {
		if s.words.take(rectangle{left, y - 13, left + w, y + 4}, 6) {
			s.p.Add(pic.Text{P: pic.Pt{X: left, Y: y}, S: words, Style: style})
			break
		}
	}
	s.p.Add(pic.Line{A: pic.Pt{X: x, Y: s.f.top}, B: pic.Pt{X: x, Y: s.f.foot}, Pen: pen})
}

// marks draws silent beats as strokes that hang from the lower edge of the
// field, extra beats as strokes that stand on it, and says which is which.
func (s *residualsSheet) marks(all []beat.Mark) {
	silent := s.strokes(all, beat.SilentBeat, 8)
	extra := s.strokes(all, beat.ExtraBeat, -8)
	y := s.f.foot + 66
	key := func(n int, one, many string, down float64, pen pic.Pen) {
		if n == 0 {
			return
		}
		s.p.Add(pic.Line{A: pic.Pt{X: s.f.left - 6, Y: y - 5}, B: pic.Pt{X: s.f.left + 10, Y: y - 5}, Pen: pic.Hair},
			pic.Line{A: pic.Pt{X: s.f.left + 2, Y: y - 5}, B: pic.Pt{X: s.f.left + 2, Y: y - 5 + down}, Pen: pen},
			pic.Text{P: pic.Pt{X: s.f.left + 18, Y: y}, S: phrase.Times(n, one, many)})
		s.p.H = y + 8
		y += 20
	}
	key(silent, "silent beat", "silent beats", 8, pic.Heavy)
	key(extra, "extra beat", "extra beats", -8, pic.Bad)
}

// strokes draws the marks of one kind, one to a pixel, and counts them.
func (s *residualsSheet) strokes(all []beat.Mark, kind beat.MarkKind, down float64) int {
	pen := pic.Heavy
	if kind == beat.ExtraBeat {
		pen = pic.Bad
	}
	n, last := 0, math.Inf(-1)
	for _, m := range all {
		if m.Kind != kind {
			continue
		}
		n++
		if x := s.f.inX(float64(m.At)); math.Abs(x-last) >= 1 {
			s.p.Add(pic.Line{A: pic.Pt{X: x, Y: s.f.foot}, B: pic.Pt{X: x, Y: s.f.foot + down}, Pen: pen})
			last = x
		}
	}
	return n
}
