package present

import (
	"fmt"
	"math"
	"sort"

	"seatboard/internal/craft/drive"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// drawDays marks the days at the left wall. Every mark is drawn; words stand
// where they have room, at even steps.
func (s *fallSheet) drawDays() {
	every := dayStep(s.a.Hangs, s.scale)
	last := math.Inf(-1)
	endY := s.y(s.wound + float64(s.end.Fallen.Value))
	for i, h := range s.a.Hangs {
		y := s.y(s.wound + float64(h.Fallen.Value))
		isEnd := i == len(s.a.Hangs)-1
		words := i%every == 0 && y-last >= fallLead && (endY-y >= fallLead)
		long := 5.0
		if words || isEnd {
			long = 11
			s.p.Add(pic.Text{P: pic.Pt{X: s.left - 15, Y: y + 5}, S: s.day(h), Anchor: pic.End, Style: dayStyle(i, isEnd)})
			last = y
		}
		s.p.Add(pic.Line{A: pic.Pt{X: s.left - long, Y: y}, B: pic.Pt{X: s.left, Y: y}, Pen: pic.Ink})
	}
}

func dayStyle(i int, end bool) pic.Lettering {
	if i == 0 || end {
		return pic.Name
	}
	return pic.Label
}

// dayStep is how many marks one label stands for: as few as leave room.
func dayStep(hangs []drive.Hang, scale float64) int {
	n := len(hangs) - 1
	each := float64(hangs[n].Fallen.Value) * scale / float64(n)
	for _, k := range []int{1, 2, 3, 4, 8, 16} {
		if float64(k)*each >= fallLead+1 && (n <= 16 || k >= 8) {
			return k
		}
	}
	return n
}

// day is the label of a mark, short enough for a phone.
func (s *fallSheet) day(h drive.Hang) string {
	hours := int(math.Round(float64(h.After) / 3600))
	switch {
	case h.After == 0:
		return "wound"
	case hours < 24 || hours%24 == 0:
		return h.Label
	case hours >= 240:
		return unit.Number(unit.In(h.After, "d"), 1) + " d"
	}
	return fmt.Sprintf("%d d %d h", hours/24, hours%24)
}

// note remembers words for the right side.
func (s *fallSheet) note(y, from float64, style pic.Lettering, lines ...string) {
	s.notes = append(s.notes, sideNote{y, from, lines, style})
}

// drawNotes sets the words at the right, each near its place, none over
// another, all within the picture.
func (s *fallSheet) drawNotes() {
	sort.SliceStable(s.notes, func(i, j int) bool { return s.notes[i].y < s.notes[j].y })
	tops := make([]float64, len(s.notes))
	next := 6.0
	for i, n := range s.notes {
		tops[i] = math.Max(next, n.y-n.height()/2)
		next = tops[i] + n.height() + fallGap
	}
	limit := s.p.H - 6
	for i := len(s.notes) - 1; i >= 0; i-- {
		tops[i] = math.Min(tops[i], limit-s.notes[i].height())
		limit = tops[i] - fallGap
	}
	elbow := s.right + 16
	for i, n := range s.notes {
		mid := tops[i] + n.height()/2
		x := elbow + 12
		s.p.Add(pic.Poly{Pts: []pic.Pt{{X: n.from + 2, Y: n.y}, {X: elbow, Y: n.y}, {X: x - 4, Y: mid}}, Pen: pic.Hair})
		for k, line := range n.lines {
			s.p.Add(pic.Text{P: pic.Pt{X: x, Y: tops[i] + float64(k+1)*fallLead - 5}, S: line, Style: n.style})
		}
	}
}

func (n sideNote) height() float64 { return float64(len(n.lines)) * fallLead }
