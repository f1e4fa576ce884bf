package drive

import (
	"fmt"
	"math"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// pull is the part of the weight's force that reaches the train.
func (n numbers) pull() float64 { return n.weight() * n.gravity * (1 - n.friction) }

// rate is the mean speed of the fall.
func (n numbers) rate() float64 { return n.total() / n.runs() }

// strokes is beats an hour: counted, else by the pendulum.
func (n numbers) strokes() float64 {
	return or(n.beats, 3600/(math.Pi*math.Sqrt(n.pendulum/n.gravity)))
}

// work is the energy of one beat.
func (n numbers) work() float64 { return n.pull() * n.rate() * 3600 / n.strokes() }

// grainInch is the old unit of the work of a beat: a grain falling an inch.
const grainInch = 0.45359237 / 7000 * float64(unit.StandardGravity) * inch

// solvePower computes the work of the weight.
func (b *bench) solvePower(a *Answer) {
	p := &a.Power
	p.Power = meas.Find[unit.Power](&b.Bench, func(n numbers) float64 { return n.pull() * n.rate() })
	p.PerDay = meas.Find[unit.Energy](&b.Bench, func(n numbers) float64 { return n.pull() * n.rate() * float64(unit.Day) })
	p.Beats = meas.Find[unit.Ratio](&b.Bench, numbers.strokes)
	p.PerBeat = meas.Find[unit.Energy](&b.Bench, numbers.work)
	p.FallPerBeat = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return n.rate() * 3600 / n.strokes() })
	p.Q = meas.Find[unit.Ratio](&b.Bench, func(n numbers) float64 {
		stored := n.bobMass * n.gravity * n.length() * (1 - math.Cos(n.arc))
		return 2 * math.Pi * stored / (2 * n.work())
	})
	b.powerSteps(*p, a.Fall)
}

func (b *bench) powerSteps(p Power, f Fall) {
	n, exact := b.N, cite.Ref{Grade: cite.Exact}
	if p.Power.Set {
		b.Step("Power into the train", "P = m g · fall / time · (1 − loss)",
			fmt.Sprintf("%s · %s · %s / %s · %s", unit.Text(unit.Mass(n.weight()), "kg", 3), unit.Text(unit.Acceleration(n.gravity), "m/s²", 5), unit.Text(unit.Length(n.total()), "m", 3), unit.Text(unit.Duration(n.runs()), "h", 1), num(1-n.friction, 2)),
			p.Power.Text("µW", 1), exact)
		b.Step("Work in a day", "P · 86 400 s", unit.Text(p.Power.Value, "µW", 1)+" · 86 400 s", p.PerDay.Text("J", 2), exact)
	}
	if p.FallPerBeat.Set {
		b.Step("Fall of the weight in one beat", "fall a day / beats a day", unit.Text(f.PerDay.Value, "m", 4)+" / "+num(24*n.strokes(), 0),
			p.FallPerBeat.Text("µm", 3)+" = 1/"+num(inch/float64(p.FallPerBeat.Value), 0)+" in", exact)
	}
	if p.PerBeat.Set {
		b.Step("Work of one beat", "P · 3600 s / beats an hour", unit.Text(p.Power.Value, "µW", 1)+" · 3600 s / "+num(n.strokes(), 1),
			p.PerBeat.Text("µJ", 1)+" = "+num(float64(p.PerBeat.Value)/grainInch, 2)+" grain-inches", exact)
	}
	if p.Q.Set {
		b.Step("Q of the pendulum with the whole train", "Q = 2π E / loss in a period, E = m g l (1 − cos a)",
			fmt.Sprintf("2π · %s / (2 · %s)", unit.Text(unit.Energy(n.bobMass*n.gravity*n.length()*(1-math.Cos(n.arc))), "mJ", 3), unit.Text(p.PerBeat.Value, "µJ", 1)),
			p.Q.Text("", 1), exact)
	}
}
