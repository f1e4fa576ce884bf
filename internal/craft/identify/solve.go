package identify

import (
	"fmt"
	"math"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Solve ranks what a thing may be. The error is a meas.Faults with every
// mistake in the inputs.
func Solve(q Query) (Answer, error) {
	a := Answer{Query: q}
	if f := q.Check(); len(f) > 0 {
		return a, f
	}
	if p, ok := q.pitch(); ok {
		a.Pitch = meas.Result[unit.Pitch]{Value: p.Value, U: p.U, HasU: q.Over.HasU || q.Pitch.HasU, Set: true}
	}
	a.Candidates, a.None = q.weigh()
	best := 0.0
	if len(a.Candidates) > 0 {
		best = a.Candidates[0].Chance
	}
	for i := range a.Candidates {
		c := &a.Candidates[i]
		if c.Chance > 0 && c.Chance*tieOdds >= best {
			a.Tied++
		}
		if c.Thread != nil && i < shown {
			c.Make = q.making(*c.Thread)
		}
		if c.Gauge != nil && i < shown {
			c.Fits = fitsOf(*c.Gauge)
		}
	}
	a.work()
	a.find()
	a.Complete = a.none() || a.Tied == 1 || (a.Tied > 1 && !a.differ())
	return a, nil
}

// shown is for how many candidates the making is worked out.
const shown = 4

// none tells whether it is more likely of no standard than of one.
func (a Answer) none() bool { return a.None > .5 }

// engagement is the part of the depth that screw and nut share.
func (q Query) engagement() unit.Ratio {
	if q.Engagement.Set {
		return q.Engagement.Value
	}
	return usualEngagement
}

const usualEngagement = .75

// making works out how a thread is made.
func (q Query) making(t Thread) *Making {
	if t.Series == "Wood screw" {
		return nil
	}
	m := &Making{Shape: ShapeOf(t), Engagement: q.engagement()}
	m.Tapping = t.Major - unit.Length(2*float64(m.Depth)*float64(m.Engagement))
	for _, of := range []string{"Metric drill", "Number drill", "Letter drill", "Inch drill"} {
		if g, ok := nearestDrill(m.Tapping, false, of); ok && math.Abs(float64(g.D-m.Tapping)) < 60e-6+.01*float64(m.Tapping) {
			m.Drills = append(m.Drills, g)
		}
	}
	m.Clearance, _ = nearestDrill(t.Major*1.05, true, "Metric drill")
	return m
}

// Engaged is the part of the depth of a thread that a hole of a diameter
// leaves.
func Engaged(t Thread, hole unit.Length) unit.Ratio {
	return unit.Ratio((t.Major - hole) / (2 * ShapeOf(t).Depth))
}

func (a *Answer) step(name, formula, numbers, result string, ref cite.Ref) {
	a.Working = append(a.Working, cite.Step{Name: name, Formula: formula, Numbers: numbers, Result: result, Ref: ref})
}

func mm[Q unit.Quantity](x Q, places int) string { return unit.Number(float64(x)*1000, places) }

func (a *Answer) work() {
	q := a.Query
	if q.Threads > 0 {
		a.step("Pitch", "length / threads", fmt.Sprintf("%s / %d", q.Over.Written("mm"), q.Threads), a.Pitch.Text("mm", 4)+", "+a.Pitch.Text("tpi", 1), cite.Ref{Grade: cite.Exact})
	}
	if len(a.Candidates) == 0 {
		return
	}
	c := a.Candidates[0]
	ref := wireAllowance
	switch {
	case q.What == Hole:
		ref = holeAllowance
	case q.What == WoodScrew:
		ref = woodAllowance
	case q.What == Screw && q.Worn:
		ref = wornAllowance
	case q.What == Screw:
		ref = screwAllowance
	case q.What == Drill:
		ref = drillAllowance
	case q.What == Pin:
		ref = pinAllowance
	}
	a.step("What a genuine "+c.Name+" may measure", "from … to", mm(c.Low, 3)+" to "+mm(c.High, 3)+" mm", q.Diameter.Written("mm")+" measured", ref)
	if c.Thread != nil && a.Pitch.Set {
		p := c.Thread.Pitch
		off := float64(a.Pitch.Value/p) - 1
		a.step("Its pitch", "measured / standard − 1", mm(a.Pitch.Value, 4)+" / "+mm(p, 4)+" − 1", unit.Number(100*off, 1)+" %", c.Thread.Ref)
	}
	a.step("Chance of none of them", "by likelihood, none before it was measured", unit.Number(100*q.noneBefore(), 0)+" % before", unit.Number(100*a.None, 0)+" %", noneChance)
	a.workMaking(c)
}

func (a *Answer) workMaking(c Candidate) {
	m := c.Make
	if m == nil {
		return
	}
	t := *c.Thread
	f := familyOf(t.Series).form
	a.step("Depth of thread, on one side", fmt.Sprintf("h = %s p", unit.Significant(f.depth, 5)), fmt.Sprintf("%s · %s", unit.Significant(f.depth, 5), mm(t.Pitch, 4)), mm(m.Depth, 3)+" mm", m.Ref)
	a.step("Core", "d − 2 h", mm(t.Major, 3)+" − 2 · "+mm(m.Depth, 3), mm(m.Core, 3)+" mm", m.Ref)
	a.step("Tapping hole", "d − 2 h e", fmt.Sprintf("%s − 2 · %s · %s", mm(t.Major, 3), mm(m.Depth, 3), unit.Number(float64(m.Engagement), 2)), mm(m.Tapping, 2)+" mm", cite.Ref{Grade: cite.CommonPractice, Note: "e is the part of the depth that engages"})
}
