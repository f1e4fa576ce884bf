package present

import (
	"fmt"
	"math"
	"strings"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/pic"
)

// TrainMesh draws one mesh of a train from the face: wheel and pinion about
// their line of centres with their true counts and pitch circles, a tooth
// driving a leaf on that line, and its ratio and periods in words. Of a large
// wheel the sector in mesh is drawn; its centre then stands beyond a break.
func TrainMesh(t train.Turned, mesh int, width float64) pic.Picture {
	p := pic.Picture{W: width, Title: meshTitle(t, mesh)}
	if mesh < 0 || mesh >= len(t.Meshes) {
		p.H = 40
		return p
	}
	words := meshWords(t, mesh)
	p.Desc = strings.Join(words, ". ")
	v := newMeshView(t, mesh, &p)
	v.draw()
	if v.wide {
		v.wordsAt(words, v.pitch.X+2*v.r+1.5*v.m+34, math.Max(40, v.height/2-float64(len(words))*11), &p)
		p.H = math.Max(v.height, p.H)
		return p
	}
	v.wordsAt(words, 8, v.height+20, &p)
	return p
}

func meshTitle(t train.Turned, mesh int) string {
	if mesh < 0 || mesh >= len(t.Meshes) {
		return "No mesh is chosen"
	}
	return fmt.Sprintf("%s wheel and %s pinion in mesh", t.Arbors[mesh].Name, lowerFirst(t.Arbors[mesh+1].Name))
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

// meshWords says ratio and periods, in lines short enough for a phone.
func meshWords(t train.Turned, i int) []string {
	m, a, b := t.Meshes[i], t.Arbors[i], t.Arbors[i+1]
	lines := []string{
		fit(fmt.Sprintf("%s: wheel of %s", a.Name, a.Wheel), pic.Name, 240),
		fit(fmt.Sprintf("%s: %s", b.Name, pinionWords(b.Pinion)), pic.Name, 240),
	}
	if m.Ratio.Known() {
		lines = append(lines, fmt.Sprintf("ratio %s to 1", m.Ratio.Mixed()))
	} else {
		lines = append(lines, "ratio not known")
	}
	if m.ContactPeriod.Known() {
		lines = append(lines, "tooth to tooth "+train.Interval(m.ContactPeriod))
	}
	if m.Ratio.Known() {
		if m.RepeatPeriod.Known() {
			lines = append(lines, "same two teeth again in "+train.Interval(m.RepeatPeriod))
		} else {
			lines = append(lines, "same two teeth meet again in")
		}
		lines = append(lines, fmt.Sprintf("wheel %s, pinion %d", turnsWord(m.RepeatWheel), m.RepeatPinion))
		if m.Hunting {
			lines = append(lines, "a hunting pair: all meet all")
		} else {
			lines = append(lines, "not a hunting pair")
		}
	}
	return lines
}

// pinionWords is "pinion of 8" or "lantern of 8".
func pinionWords(c train.Count) string {
	if c.Lantern {
		return "lantern of " + strings.ReplaceAll(c.String(), "L", "")
	}
	return "pinion of " + c.String()
}

func turnsWord(n int) string {
	if n == 1 {
		return "1 turn"
	}
	return fmt.Sprintf("%d turns", n)
}

// wordsAt sets the lines of words below each other; the first two are names.
func (v *meshView) wordsAt(words []string, x, y float64, p *pic.Picture) {
	for i, s := range words {
		style := pic.Label
		if i < 2 {
			style = pic.Name
		}
		p.Add(pic.Text{P: pic.Pt{X: x, Y: y}, S: fit(s, style, p.W-x-4), Anchor: pic.Start, Style: style})
		y += 22
	}
	p.H = y
}
