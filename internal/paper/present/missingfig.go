package present

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"seatboard/internal/craft/train/missing"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// mostBars is how many candidates the figure shows.
const mostBars = 8

// pointsFigure draws the points against the first candidates, reason by
// reason, with all of them in its table.
func pointsFigure(g missing.Gap, list []missing.Candidate, at int) doc.Figure {
	name := "points"
	if at > 0 {
		name = fmt.Sprintf("points-%d", at+1)
	}
	numbers := pointsTable(g, list)
	return doc.Figure{Name: name, Caption: "Points against each, by reason; the fewest stand first.", Wide: pointsBars(g, list, 720), Narrow: pointsBars(g, list, 340), Numbers: &numbers}
}

// reasonNames lists the reasons that occur, each once, in order.
func reasonNames(list []missing.Candidate) []string {
	var names []string
	for _, c := range list {
		for _, r := range c.Reasons {
			if !slices.Contains(names, r.Name) {
				names = append(names, r.Name)
			}
		}
	}
	return names
}

// pointsOf is the points of one reason.
func pointsOf(c missing.Candidate, name string) float64 {
	sum := 0.0
	for _, r := range c.Reasons {
		if r.Name == name {
			sum += r.Points
		}
	}
	return sum
}

func pointsTable(g missing.Gap, list []missing.Candidate) doc.Table {
	t := doc.Table{Caption: "Points against each candidate", Columns: []doc.Column{{Head: "Counts"}}}
	names := reasonNames(list)
	for _, n := range names {
		t.Columns = append(t.Columns, doc.Column{Head: upperFirst(n), Number: true})
	}
	t.Columns = append(t.Columns, doc.Column{Head: "In all", Number: true})
	for _, c := range list {
		row := []string{countsWords(g, c)}
		for _, n := range names {
			row = append(row, unit.Number(pointsOf(c, n), 2))
		}
		t.Rows = append(t.Rows, append(row, unit.Number(c.Points, 2)))
	}
	return t
}

// countsWords is the counts of a candidate in short: "56 teeth, 8 leaves".
func countsWords(g missing.Gap, c missing.Candidate) string {
	var wheels, pinions []string
	for i, n := range c.Counts {
		if g.Members[i].Part == "pinion" {
			pinions = append(pinions, n.String())
		} else {
			wheels = append(wheels, n.String())
		}
	}
	switch {
	case len(pinions) == 0:
		return strings.Join(wheels, " · ")
	case len(wheels) == 0:
		return "1/" + strings.Join(pinions, " · ")
	}
	return strings.Join(wheels, " · ") + " / " + strings.Join(pinions, " · ")
}

// pointsFill is how the share of a reason is filled in the bars.
func pointsFill(k int) pic.Fill {
	fills := []pic.Fill{pic.Shaded, pic.Empty, pic.Hatch, pic.Band, pic.Hatch2, pic.Ground}
	return fills[k%len(fills)]
}

// pointsNames writes the reasons over the bars, each with its filling, from
// left to right as in a bar, and answers where the bars begin.
func pointsNames(p *pic.Picture, names []string) float64 {
	const sample, gap, line = 18.0, 22.0, 24.0
	x, y := 0.0, 14.0
	for k, n := range names {
		wide := sample + 6 + pic.TextWidth(n, pic.Label)
		if x > 0 && x+wide > p.W {
			x, y = 0, y+line
		}
		p.Add(pic.Rect{Min: pic.Pt{X: x, Y: y - 11}, W: sample, H: 12, Pen: pic.Hair, Fill: pointsFill(k)},
			pic.Text{P: pic.Pt{X: x + sample + 6, Y: y}, S: n})
		x += wide + gap
	}
	return y + line + 8
}

// pointsBars draws a bar for each candidate, divided by reasons, which are
// named over them.
func pointsBars(g missing.Gap, list []missing.Candidate, width float64) pic.Picture {
	list = list[:min(len(list), mostBars)]
	const row, bar = 40.0, 12.0
	names := reasonNames(list)
	most := 1.0
	for _, c := range list {
		most = max(most, c.Points)
	}
	p := pic.Picture{Title: "Points against each candidate", W: width}
	head := pointsNames(&p, names)
	p.H = head + row*float64(len(list)) - 16
	var says []string
	scale := (width - 70) / most
	for i, c := range list {
		y := head + row*float64(i)
		p.Add(pic.Text{P: pic.Pt{X: 0, Y: y}, S: strconv.Itoa(i + 1)},
			pic.Text{P: pic.Pt{X: 24, Y: y}, S: countsWords(g, c), Style: pic.Plain})
		x := 0.0
		for k, n := range names {
			w := pointsOf(c, n) * scale
			if w > 0.5 {
				p.Add(pic.Rect{Min: pic.Pt{X: x, Y: y + 5}, W: w, H: bar, Pen: pic.Hair, Fill: pointsFill(k)})
			}
			x += w
		}
		p.Add(pic.Text{P: pic.Pt{X: x + 6, Y: y + 16}, S: unit.Number(c.Points, 1)})
		says = append(says, countsWords(g, c)+": "+unit.Number(c.Points, 1))
	}
	p.Desc = "From left to right " + strings.Join(names, ", ") + ". " + strings.Join(says, "; ") + "."
	return p
}
