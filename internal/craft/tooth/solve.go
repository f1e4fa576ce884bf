package tooth

import (
	"errors"
	"fmt"
	"math"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Solve works out everything that follows from the query. The error is a
// meas.Faults with every mistake in the inputs.
func Solve(q Query) (Answer, error) {
	a := Answer{Query: q, Form: q.design(1).Form}
	if faults := q.Check(); len(faults) > 0 {
		return a, faults
	}
	b := lay(q)
	a.Module = meas.Find[unit.Length](&b.Bench, b.module)
	if faults := q.checkModule(b, a.Module.Value); len(faults) > 0 {
		return a, faults
	}
	pair, err := q.design(a.Module.Value.MM()).Pair()
	if err != nil {
		return a, q.refused(err)
	}
	a.Pair = pair
	a.Body, err = q.body(pair.Wheel)
	if err != nil {
		return a, err
	}
	b.solveModule(&a)
	a.Wheel, a.Pinion = b.sizes(true), b.sizes(false)
	a.Distance = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return b.module(n) * float64(q.Wheel+q.Leaves) / 2 })
	a.Action = q.design(a.Module.Value.MM()).action()
	b.stepSizes(&a)
	b.sayAction(&a)
	b.sayShape(&a)
	b.sayRounds(&a)
	b.sayCare(&a)
	a.Working, a.Findings = b.Steps, b.ByLevel()
	return a, nil
}

// checkModule refuses a module that no clock has.
func (q Query) checkModule(b *bench, module unit.Length) meas.Faults {
	if m := module.MM(); m >= 0.02 && m <= 20 {
		return nil
	}
	s := b.sizings[0]
	text := fmt.Sprintf("The %s of %s makes the module %s, which no clock has; count again, and say the unit", s.what, s.size, unit.Text(module, "mm", 4))
	if s.field == "module" {
		text = "A module of " + s.size + " is one that no clock has; with plates it is 0.1 to 3 mm. Look at the unit"
	}
	return meas.Faults{{Field: s.field, Text: text}}
}

// refused says at its field why a pair cannot be laid out.
func (q Query) refused(err error) meas.Faults {
	var round *RoundError
	switch {
	case errors.As(err, &round):
		typed := q.RootRadius
		if round.Tip {
			typed = q.TipRadius
		}
		return meas.Faults{round.Fault(typed.Written("mm"))}
	case errors.Is(err, ErrHeight) && q.Height.Set:
		most := heightRules(q.Wheel, q.Leaves, q.design(1).Form)
		text := fmt.Sprintf("A tooth of this form cannot be %s modules high", unit.Number(float64(q.Height.Value), 3))
		if q.Form != Arcs && len(most) > 0 {
			text += fmt.Sprintf("; on a wheel of %d for %d leaves it comes to its point %s modules over the pitch circle", q.Wheel, q.Leaves, unit.Number(most[len(most)-1].Height, 3))
		}
		return meas.Faults{{Field: "height", Text: text}}
	case errors.Is(err, ErrPins):
		field := "pin"
		if !q.Pin.Set {
			field = "leaves"
		}
		return meas.Faults{{Field: field, Text: "The pins do not fit: they must be thinner than three tenths of the pitch each way and leave something of the tooth between them"}}
	}
	return meas.Faults{{Field: "wheel", Text: fmt.Sprintf("A wheel of %d with a pinion of %d cannot be laid out in this form", q.Wheel, q.Leaves)}}
}

func (b *bench) solveModule(a *Answer) {
	q := b.q
	a.Rules = heightRules(q.Wheel, q.Leaves, a.Form)
	a.DiametralPitch = meas.Find[unit.Ratio](&b.Bench, func(n numbers) float64 { return 0.0254 / b.module(n) })
	a.CircularPitch = meas.Find[unit.Length](&b.Bench, func(n numbers) float64 { return math.Pi * b.module(n) })
	for _, s := range b.sizings {
		m := Measured{Field: s.field, What: s.what, Size: s.size, Module: meas.Find[unit.Length](&b.Bench, s.of), Used: s.weight > 0}
		low, high := b.bracket(s)
		m.Low, m.High = unit.Length(low), unit.Length(high)
		a.Measured = append(a.Measured, m)
		b.stepModule(s, m)
	}
	if used := b.used(); used > 1 {
		b.Step("Module", "m = Σ wᵢ mᵢ / Σ wᵢ", fmt.Sprintf("mean of %d by their doubts", used), a.Module.Text("mm", 4), shapeRule)
	}
	a.Complete = b.compare(a.Measured)
}

func (b *bench) used() int {
	n := 0
	for _, s := range b.sizings {
		if s.weight > 0 {
			n++
		}
	}
	return n
}

// stepModule writes how the module follows from one size.
func (b *bench) stepModule(s sizing, m Measured) {
	formula, ref := "m", shapeRule
	divisor := unit.Number(s.divisor, 3)
	switch s.field {
	case "diametral-pitch":
		formula, divisor = "m = 25.4 mm / P", ""
	case "circular-pitch":
		formula, divisor = "m = p / π", "π"
	case "wheel-outside":
		formula, divisor = "m = D / (N + 2h)", fmt.Sprintf("(%d + 2 · %s)", b.q.Wheel, unit.Number(b.N.wheelTip, 3))
		ref = cycloidRule
	case "pinion-outside":
		formula, divisor = "m = d / (n + 2h)", fmt.Sprintf("(%d + 2 · %s)", b.q.Leaves, unit.Number(b.N.pinionTip, 3))
		ref = leafRule
		if b.q.Pin.Set {
			formula, divisor = "m = (d − pin) / n", fmt.Sprintf("%d, less the pin", b.q.Leaves)
		}
	case "wheel-pitch-diameter", "pinion-pitch-diameter":
		formula = "m = d₀ / n"
	case "distance":
		formula = "m = 2a / (N + n)"
		divisor = fmt.Sprintf("%d, twice", b.q.Wheel+b.q.Leaves)
	}
	sum := s.size
	switch {
	case s.field == "diametral-pitch":
		sum = "25.4 mm / " + b.q.DiametralPitch.Written("")
	case s.field == "distance":
		sum = fmt.Sprintf("2 · %s / %d", s.size, b.q.Wheel+b.q.Leaves)
	case s.field == "module":
		sum = "as stated"
	default:
		sum += " / " + divisor
	}
	b.Step("Module by the "+s.what, formula, sum, m.Module.Text("mm", 4), ref)
}

// compare says which sizes do not agree; it tells whether all do.
func (b *bench) compare(all []Measured) bool {
	agree := true
	for i, x := range all {
		agree = b.askUnit(x, all) && agree
		for _, y := range all[i+1:] {
			if x.Low <= y.High && y.Low <= x.High {
				continue
			}
			if r := float64(x.Module.Value / y.Module.Value); inches(r) || inches(1/r) {
				continue // asked by askUnit
			}
			agree = false
			b.Say(meas.Clash, "sizes", fmt.Sprintf("The %s (%s) makes the module %s, the %s (%s) %s: they are not of one pair, or one was measured or counted wrongly.",
				x.What, x.Size, between(x), y.What, y.Size, between(y)), "Measure both again, and count again.", shapeRule, x.Field, y.Field)
		}
	}
	return agree
}

// between is the range of a module.
func between(m Measured) string {
	return unit.Number(m.Low.MM(), 3) + " to " + unit.Number(m.High.MM(), 3) + "\u00a0mm"
}

// inches tells whether two modules are apart as inches and millimetres.
func inches(ratio float64) bool { return math.Abs(ratio/25.4-1) < 0.15 }

// askUnit asks where a size looks as if its unit was not the one meant: it is
// 25.4 times off another, or alone makes a module that no clock has and the
// other unit makes one that it may have.
func (b *bench) askUnit(m Measured, all []Measured) bool {
	v := m.Module.Value.MM()
	small, large := v < 0.1 && v*25.4 >= 0.1 && v*25.4 <= 3, v > 3 && v/25.4 >= 0.1 && v/25.4 <= 3
	beside := ""
	for _, o := range all {
		if o.Field == m.Field {
			continue
		}
		beside = " the " + o.What + " (" + o.Size + ") makes it " + unit.Text(o.Module.Value, "mm", 3) + "."
		r := float64(o.Module.Value / m.Module.Value)
		small, large = small || inches(r) && v < 0.1, large || inches(1/r) && v > 3
		if inches(r) && !small {
			small = o.Module.Value.MM() <= 3
		}
	}
	if !small && !large {
		return true
	}
	asked := "Were inches meant? Then write in behind the number."
	if large {
		asked = "Were millimetres meant? Then write mm behind the number."
	}
	text := fmt.Sprintf("The %s (%s) makes the module %s.", m.What, m.Size, unit.Text(m.Module.Value, "mm", 4))
	if beside != "" {
		text = text[:len(text)-1] + ";" + beside
	}
	b.Say(meas.Clash, "unit", text, asked, cite.Ref{Grade: cite.Exact, Note: "an inch is 25.4 mm"}, m.Field)
	return false
}
