package present

import (
	"fmt"
	"math"
	"slices"
	"time"

	"seatboard/internal/book/estimate"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/pic"
	"seatboard/internal/kit/unit"
)

// jobsFigure draws twenty such jobs over the hours they take: each is as
// likely as the next, so that they can be counted.
func jobsFigure(a estimate.Answer, w Worked) doc.Figure {
	t := doc.Table{Caption: "Twenty such jobs in order, hours", Columns: []doc.Column{{Head: "Jobs"}}}
	for _, head := range []string{"1st", "2nd", "3rd", "4th", "5th"} {
		t.Columns = append(t.Columns, doc.Column{Head: head, Unit: "h", Number: true})
	}
	for i := 0; i+5 <= len(a.Jobs); i += 5 {
		row := []string{fmt.Sprintf("%d to %d", i+1, i+5)}
		for _, j := range a.Jobs[i : i+5] {
			row = append(row, inHours(j))
		}
		t.Rows = append(t.Rows, row)
	}
	return doc.Figure{Name: "twenty-jobs", Numbers: &t,
		Caption: "Twenty jobs like this one, each as likely as the next, over the hours they take. The band is the range to quote; the jobs outside it are hollow.",
		Wide:    jobsPicture(a, w, wideFigure), Narrow: jobsPicture(a, w, narrowFigure)}
}

const (
	jobsHead  = 66.0 // room for three lines of words
	jobsFoot  = 46.0
	jobsSide  = 16.0
	jobRadius = 8.0
)

// jobsPicture stacks the jobs that fall into the same stretch of hours.
func jobsPicture(a estimate.Answer, w Worked, width float64) pic.Picture {
	hours := func(d unit.Duration) float64 { return unit.In(d, "h") }
	most := math.Max(hours(a.Jobs[len(a.Jobs)-1]), math.Max(hours(a.Range.High), w.Total.Hours()))
	f := frame{left: jobsSide, right: width - jobsSide, top: jobsHead, x1: most * 1.04, y1: 1}
	columns, tallest := jobColumns(a.Jobs, f)
	f.foot = f.top + 2*jobRadius*float64(max(tallest, 3)) + 8
	p := pic.Picture{W: width, H: f.foot + jobsFoot, Title: "Twenty jobs like this one over the hours they take",
		Desc: fmt.Sprintf("The range to quote is %s to %s hours, the middle %s.", inHours(a.Range.Low), inHours(a.Range.High), inHours(a.Range.Value))}
	low, high := f.x(hours(a.Range.Low)), f.x(hours(a.Range.High))
	p.Add(pic.Rect{Min: pic.Pt{X: low, Y: f.top - 4}, W: high - low, H: f.foot - f.top + 4, Pen: pic.NoLine, Fill: pic.Band})
	f.flag(&p, hours(a.Range.Value), 15, pic.Steel, pic.Name, "middle "+inHours(a.Range.Value))
	f.flag(&p, hours(a.Likely), 35, pic.Dashed, pic.Label, "likely hours added up "+inHours(a.Likely))
	if w.Total > 0 {
		f.flag(&p, w.Total.Hours(), 55, pic.Chosen, pic.Mark, "worked "+unit.Number(w.Total.Hours(), 1))
	}
	stacked := map[int]int{}
	for i, j := range a.Jobs {
		fill := pic.Solid
		if j < a.Range.Low || j > a.Range.High {
			fill = pic.Ground
		}
		c := columns[i]
		p.Add(pic.Circle{C: pic.Pt{X: f.left + (2*float64(c)+1)*jobRadius, Y: f.foot - jobRadius*(2*float64(stacked[c])+1)}, R: jobRadius - 1.5, Pen: pic.Ink, Fill: fill})
		stacked[c]++
	}
	f.hourAxis(&p)
	return p
}

// jobColumns is the column of each job, and how many stand in the fullest.
func jobColumns(jobs []unit.Duration, f frame) (columns []int, tallest int) {
	count := map[int]int{}
	for _, j := range jobs {
		c := int((f.x(unit.In(j, "h")) - f.left) / (2 * jobRadius))
		columns = append(columns, c)
		count[c]++
		tallest = max(tallest, count[c])
	}
	return columns, tallest
}

// flag draws a line of one value of x with its words at a height above the
// field, on the left side where there is room.
func (f frame) flag(p *pic.Picture, v, y float64, pen pic.Pen, style pic.Lettering, words string) {
	x := f.x(v)
	t := pic.Text{P: pic.Pt{X: x - 6, Y: y}, S: words, Style: style, Anchor: pic.End}
	if x-6-pic.TextWidth(words, style) < f.left {
		t.P.X, t.Anchor = x+6, pic.Start
	}
	p.Add(pic.Line{A: pic.Pt{X: x, Y: y - 11}, B: pic.Pt{X: x, Y: f.foot}, Pen: pen}, t)
}

// hourAxis draws figures of hours under a field.
func (f frame) hourAxis(p *pic.Picture) {
	p.Add(f.across(0, pic.Ink))
	step := roundStep(f.x1-f.x0, int((f.right-f.left)/70))
	for _, v := range graduations(f.x0, f.x1, step) {
		p.Add(pic.Line{A: pic.Pt{X: f.x(v), Y: f.foot}, B: pic.Pt{X: f.x(v), Y: f.foot + 5}, Pen: pic.Hair},
			pic.Text{P: pic.Pt{X: f.x(v), Y: f.foot + 22}, S: unit.Number(v, placesOf(step)), Anchor: pic.Middle})
	}
	p.Add(pic.Text{P: pic.Pt{X: f.right, Y: f.foot + 42}, S: "hours", Anchor: pic.End})
}

// tasksDrawn is how many tasks a figure has room for; the table has all.
const tasksDrawn = 30

// tasksFigure draws each task from low to high, and what was worked on it.
func tasksFigure(tasks []estimate.Task, w Worked) doc.Figure {
	drawn := slices.DeleteFunc(slices.Clone(tasks), func(t estimate.Task) bool { return t.LeftOut })
	drawn = drawn[:min(len(drawn), tasksDrawn)]
	t := taskTable(tasks, w)
	caption := "Each task from its low to its high hours, with a stroke at the likely."
	if w.On != nil {
		caption += " The brass line is what was worked on it."
	}
	return doc.Figure{Name: "tasks", Caption: caption, Numbers: &t, Wide: tasksPicture(drawn, w, wideFigure), Narrow: tasksPicture(drawn, w, narrowFigure)}
}

const taskHigh = 46.0 // of a task's row

func tasksPicture(tasks []estimate.Task, w Worked, width float64) pic.Picture {
	most := 1.0
	for _, x := range tasks {
		most = math.Max(most, math.Max(unit.In(x.High.Value, "h"), w.on(x.What).Hours()))
	}
	f := frame{left: jobsSide, right: width - jobsSide - 44, top: 4, foot: 4 + taskHigh*float64(len(tasks)), x1: most, y1: 1}
	p := pic.Picture{W: width, H: f.foot + jobsFoot, Title: "The tasks, each from low to high hours", Desc: fmt.Sprintf("%d tasks; the table has the same figures.", len(tasks))}
	for i, x := range tasks {
		f.task(&p, f.top+taskHigh*float64(i), x, w.on(x.What))
	}
	f.hourAxis(&p)
	return p
}

// task draws one task under its name.
func (f frame) task(p *pic.Picture, y float64, x estimate.Task, worked time.Duration) {
	low, likely, high := f.x(unit.In(x.Low.Value, "h")), f.x(unit.In(x.Likely.Value, "h")), f.x(unit.In(x.High.Value, "h"))
	p.Add(pic.Text{P: pic.Pt{X: f.left, Y: y + 15}, S: fit(x.What, pic.Name, f.right-f.left), Style: pic.Name},
		pic.Rect{Min: pic.Pt{X: low, Y: y + 22}, W: math.Max(high-low, 1), H: 12, Pen: pic.Ink, Fill: pic.Band},
		pic.Line{A: pic.Pt{X: likely, Y: y + 20}, B: pic.Pt{X: likely, Y: y + 36}, Pen: pic.Heavy},
		pic.Text{P: pic.Pt{X: high + 8, Y: y + 33}, S: inHours(x.High.Value)})
	if worked > 0 {
		p.Add(pic.Line{A: pic.Pt{X: f.left, Y: y + 39}, B: pic.Pt{X: f.x(worked.Hours()), Y: y + 39}, Pen: pic.Chosen})
	}
}
