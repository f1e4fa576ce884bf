package mesh

import (
	"fmt"
	"math"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// steps writes the working of the turn.
func (b *bench) steps(a *Answer) {
	s, t := b.sizes, a.Turn
	size := func(name string, m float64, from string, outside meas.Reading[unit.Length], tip unit.Length) {
		switch from {
		case "outside":
			b.Step("Module of the "+name, "m = diameter over the tips / that of a pair of 1 mm module", outside.Written("mm")+" / "+unit.Number(2*tip.MM()/m, 3), millimetres(m), method)
		case "distance":
			b.Step("Module", "m = 2 C / (N + n)", fmt.Sprintf("2 · %s / (%d + %d)", b.q.Distance.Written("mm"), b.q.Wheel, b.q.Leaves), millimetres(m), cite.Ref{Grade: cite.Exact})
		}
	}
	size("wheel", s.wheel, s.wheelFrom, b.q.WheelOutside, s.pair.Wheel.Tip)
	if s.wheelFrom != "distance" {
		size("pinion", s.pinion, s.pinionFrom, b.q.PinionOutside, s.pair.Pinion.Tip)
	}
	b.Step("Pitch circles touch at", "R + r", unit.Number(s.pair.Wheel.Pitch.MM(), 3)+" + "+unit.Number(s.pair.Pinion.Pitch.MM(), 3), millimetres(s.touching), cite.Ref{Grade: cite.Exact})
	if t.Apart || len(t.Moments) == 0 {
		return
	}
	m := t.Moments[0]
	for _, x := range t.Moments {
		if x.Ratio > 0 && (m.Ratio == 0 || x.Passed < m.Passed) {
			m = x
		}
	}
	b.Step("A tooth takes over", "where the leaf that it asks for is as far on as the last", fmt.Sprintf("tooth at %s, leaf at %s past the line", degrees(t.In.Wheel), degrees(t.In.Pinion)),
		degrees(t.Lead())+" of the pinion before the line of centres", method)
	b.Step("Least torque passed on", "(N/n) · ((C − P) × F) / (P × F), F along the normal and µ across it", fmt.Sprintf("P = (%.3f, %.3f) mm, µ = %.2f", m.Touch.X, m.Touch.Y, b.mu), unit.Number(100*m.Passed, 1)+" %", statics)
}

// statics is what the torques rest on.
var statics = cite.Ref{Grade: cite.Exact, Note: "two levers and friction after Coulomb"}

func degrees(x float64) string { return unit.Text(unit.Angle(x), "°", 2) }

// say tells what the figures mean.
func (b *bench) say(a *Answer) {
	b.saySizes(a)
	b.sayWidths()
	b.sayState(a)
	b.sayPairs(a)
	b.sayDepth(a)
	b.sayRoots(a)
	b.sayWorn(a)
	b.sayOdd(a)
	if b.q.Form == "" {
		b.Say(meas.Doubt, "form", "The form of the teeth was not stated; rounded cycloidal teeth are supposed.", "Look at a tooth under a glass and choose the form that is nearest.", cite.Ref{Grade: cite.CommonPractice}, "form")
	}
	if a.State != Works || a.Best.Set && (a.Distance.Value < a.BestLow.Value || a.Distance.Value > a.BestHigh.Value) {
		b.Say(meas.Danger, "power", "A train under power can strip its teeth and cut a finger the moment a plate, a bridge or a pivot is freed.",
			"Let the mainspring down with its own key, or take the weight off, before the depth is altered. Where you are not used to it, leave it to somebody who is.", cite.Ref{Grade: cite.CommonPractice})
	}
}

func (b *bench) saySizes(a *Answer) {
	s := b.sizes
	if r := s.wheel/s.pinion - 1; math.Abs(r) > 0.02 {
		b.Say(meas.Clash, "modules", fmt.Sprintf("Wheel and pinion are not of one module: %s and %s.", millimetres(s.wheel), millimetres(s.pinion)),
			"One of them may not be the original; measure both again. They are turned here as they are.", cite.Ref{}, "wheel-outside", "pinion-outside")
	}
	if m := b.q.Module; m.Set {
		for _, x := range []struct {
			field, what string
			r           meas.Reading[unit.Length]
			is          float64
		}{{"wheel-outside", "the wheel", b.q.WheelOutside, s.wheel}, {"pinion-outside", "the pinion", b.q.PinionOutside, s.pinion}} {
			if x.r.Set && math.Abs(x.is/m.Value.MM()-1) > 0.01 {
				b.Say(meas.Clash, "module-"+x.field, fmt.Sprintf("The module was stated as %s, and %s over the tips of %s makes it %s.", m.Written("mm"), x.r.Written("mm"), x.what, millimetres(x.is)),
					"The diameter counts here. Look at the height of the teeth: they may have been topped or stretched.", cite.Ref{}, "module", x.field)
			}
		}
	}
}

// sayWidths compares tooth and space with the pitch, where both were measured.
func (b *bench) sayWidths() {
	for _, x := range []struct {
		what string
		widths
		module float64
	}{{"tooth", b.q.teeth(), b.sizes.wheel}, {"leaf", b.q.leaves(), b.sizes.pinion}} {
		off := x.stretch(x.module)
		fair := max(2*math.Hypot(x.tooth.U.MM(), x.space.U.MM()), 0.03*math.Pi*x.module)
		if math.Abs(off) <= fair {
			continue
		}
		more := "more"
		if off < 0 {
			more = "less"
		}
		b.Say(meas.Clash, x.what+"-pitch", fmt.Sprintf("A %s of %s and a space of %s come to %s %s than the pitch of %s.", x.what, x.tooth.Written("mm"), x.space.Written("mm"), millimetres(math.Abs(off)), more, millimetres(math.Pi*x.module)),
			"The "+x.what+" counts here. Measure both at the same distance from the centre, and over several teeth.", cite.Ref{Grade: cite.Exact}, x.what+"-width", x.what+"-space")
	}
}

// sayPairs says which of two pairs carries.
func (b *bench) sayPairs(a *Answer) {
	if a.State != Works && a.State != Locks {
		return
	}
	text := fmt.Sprintf("A tooth carries from %s.", spans(a.Turn))
	if len(a.Carries) > 1 {
		text = fmt.Sprintf("A tooth takes its leaf, stands back while the one in front of it carries again, and takes it once more: it carries from %s.", spans(a.Turn))
	}
	if w := a.Two; w != nil && w.To-w.From > 1e-6 {
		text += fmt.Sprintf(" Through %s of the %s from tooth to tooth the next pair is less than %s behind or before, and teeth that are unlike by as much may carry in its place.",
			degrees(min(w.To-w.From, a.Turn.Pitch())), degrees(a.Turn.Pitch()), unit.Text(unit.Millimetres(close*b.sizes.pinion), "mm", 3))
	} else if w == nil {
		text += " It lets go before the next one comes: there is one pair at a time."
	}
	b.Say(meas.Note, "pairs", text, "", method)
}

// spans are the angles over which a tooth carries, past the line of centres.
func spans(t Turn) string {
	out := ""
	for i, s := range t.Carries {
		if i > 0 {
			out += ", and from "
		}
		out += degrees(s.From-t.Line) + " to " + degrees(s.To-t.Line)
	}
	return out + " of the wheel past the line of centres"
}

func (b *bench) sayState(a *Answer) {
	c := millimetres(b.sizes.distance)
	say := func(code, text, next string) {
		b.Say(meas.Clash, code, text, next, cite.Ref{}, "distance")
	}
	near := "Bring the centres nearer together"
	apart := "Bring the centres farther apart"
	if a.AtBest == nil {
		near, apart = "Measure again; at no distance that was tried does the pair run", "Measure again; at no distance that was tried does the pair run"
	}
	t := a.Turn
	switch a.State {
	case Apart:
		say("apart", "At "+c+" the teeth do not reach one another.", near+".")
	case Butts:
		say("butts", fmt.Sprintf("At %s a tooth comes against the end of its leaf: the leaf would have to be %s farther on.", c, degrees(t.Butts)), near+", or look for a tooth that is bent or a pinion that is too large.")
	case Binds:
		if t.Bottom <= 0 {
			say("bottoms", fmt.Sprintf("At %s tips stand on bottoms: %s of room.", c, unit.Text(unit.Millimetres(t.Bottom), "mm", 3)), apart+".")
		}
		if t.Play <= 0 {
			say("binds", fmt.Sprintf("At %s the teeth bind: a leaf is held between two teeth, by %s of the pinion.", c, degrees(-t.Play)), apart+", or look whether the teeth are too thick.")
		}
	case Locks:
		say("locks", fmt.Sprintf("At %s friction before the line of centres can hold the leaf fast.", c), "Clean and polish the leaves; look at the depth.")
	}
}

// sayDepth says in words what standing shallow or deep does.
func (b *bench) sayDepth(a *Answer) {
	if a.AtBest == nil || a.State == Apart {
		return
	}
	off := b.sizes.distance - a.AtBest.Distance
	words := fmt.Sprintf("The best distance is %s; it stands %s ", a.Best.Text("mm", 3), unit.Text(unit.Millimetres(math.Abs(off)), "mm", 3))
	switch {
	case a.Distance.Value > a.BestHigh.Value && a.State == Works:
		b.Say(meas.Clash, "shallow", words+fmt.Sprintf("shallow. A tooth takes its leaf %s before the line of centres, on the end of the leaf, and throws the pinion on at %s times the even speed; the torque goes from %s to %s of the even one, where the best depth would have %s to %s.",
			degrees(a.Turn.Lead()), unit.Number(float64(a.Fastest.Value), 2), percent(float64(a.Weakest.Value)), percent(float64(a.Strongest.Value)), percent(a.AtBest.Weakest), percent(a.AtBest.Strongest)),
			"Bring the centres nearer by "+unit.Text(unit.Millimetres(off), "mm", 2)+".", cite.Ref{}, "distance")
	case a.Distance.Value < a.BestLow.Value && a.State == Works:
		b.Say(meas.Clash, "deep", words+fmt.Sprintf("deep. A tooth drives long after the line of centres, with its corner at the last; the pinion slows to %s of the even speed, and the torque goes from %s to %s of the even one, where the best depth would have %s to %s.",
			unit.Number(float64(a.Slowest.Value), 2), percent(float64(a.Weakest.Value)), percent(float64(a.Strongest.Value)), percent(a.AtBest.Weakest), percent(a.AtBest.Strongest)),
			"Bring the centres farther apart by "+unit.Text(unit.Millimetres(-off), "mm", 2)+".", cite.Ref{}, "distance")
	case a.State == Works:
		b.Say(meas.Note, "depth", fmt.Sprintf("The depth is right: between %s and %s the torque is as even as it can be, to a tenth.", unit.Text(a.BestLow.Value, "mm", 3), unit.Text(a.BestHigh.Value, "mm", 3)), "", cite.Ref{})
	}
	b.Say(meas.Note, "criterion", "The best distance is that at which the weakest moment of a pitch comes nearest to the strongest: friction before the line of centres, an uneven ratio and a late tooth all count in it. That is a rule of this program; the books depth by feel and by ear.", "", cite.Ref{})
}

func percent(x float64) string { return unit.Number(100*x, 0) + "\u00a0%" }

func (b *bench) sayWorn(a *Answer) {
	if a.Unworn == nil || a.Unworn.State != Works || a.State != Works {
		return
	}
	b.Say(meas.Note, "worn", fmt.Sprintf("Worn as stated, the ratio goes from %s to %s of the even one, where it was %s to %s; the weakest moment passes on %s of the torque, where it was %s.",
		unit.Number(float64(a.Slowest.Value), 3), unit.Number(float64(a.Fastest.Value), 3), unit.Number(a.Unworn.Slowest, 3), unit.Number(a.Unworn.Fastest, 3), percent(float64(a.Weakest.Value)), percent(a.Unworn.Weakest)),
		"Pits in the leaves can be moved out of the way: shift the wheel along its arbor, or the pinion, to a part that is whole.", cite.Ref{Grade: cite.CommonPractice}, "pit", "worn")
}

func (b *bench) sayOdd(a *Answer) {
	o := a.Odd
	if o == nil {
		return
	}
	switch {
	case o.Binds:
		b.Say(meas.Clash, "odd-binds", "The bent tooth leaves no play: it holds a leaf fast.", "Set it upright before the wheel is put in.", cite.Ref{}, "bent")
	case o.Butts > 0:
		b.Say(meas.Clash, "odd-butts", fmt.Sprintf("At this tooth a leaf is %s too far back and is met on its end: the clock stops there, once a turn of the wheel.", degrees(o.Butts)), "Set the tooth upright, or let a new one in.", cite.Ref{}, "bent", "short")
	}
}
