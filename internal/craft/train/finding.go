package train

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

func (s *solver) find(l meas.Level, code, text, next string, ref cite.Ref, about ...string) {
	s.a.Findings = append(s.a.Findings, meas.Finding{Level: l, Code: code, Text: text, Next: next, About: about, Ref: ref})
}

func (s *solver) work(name, formula, numbers, result string, ref cite.Ref) {
	s.a.Working = append(s.a.Working, cite.Step{Name: name, Formula: formula, Numbers: numbers, Result: result, Ref: ref})
}

// order puts what can hurt and what does not agree first.
func (s *solver) order() {
	sort.SliceStable(s.a.Findings, func(i, j int) bool { return s.a.Findings[i].Level > s.a.Findings[j].Level })
}

// workBeats writes the sums of beats and pendulum.
func (s *solver) workBeats(c *turning) {
	b := s.a.BeatsPerHour
	i, from := 0, "for one turn of arbor 1 in %s h"
	if a := s.a.Anchor; a.Arbor != nil && (a.Kind == ByHourArbor || a.Kind == ByMotion) {
		i, from = *a.Arbor, fmt.Sprintf("for one turn of arbor %d", *a.Arbor+1)+" in %s h"
	}
	if c.turns[i] == nil || c.beatsAt(i) == nil {
		return
	}
	period := Exact{r: one, About: c.about[i]}
	if c.turns[i].Cmp(one) != 0 {
		period.r = invert(c.turns[i])
	}
	escape := fmt.Sprintf("%d · %d", s.perTooth(), c.rows[c.last()].Wheel.Teeth)
	if s.q.PerTurn.Known() {
		escape = s.q.PerTurn.String()
	}
	formula := "n = " + fmt.Sprint(s.perTooth()) + " e · Π wheels / Π pinions"
	numbers := escape + " · " + c.sumText(i)
	if period.r.Cmp(one) != 0 || period.About {
		formula += " / hours of one turn"
		numbers += " / " + period.Mixed()
	}
	s.work("Beats an hour, "+fmt.Sprintf(from, period.Mixed()), formula, numbers, b.Mixed()+" an hour", productRef)
	ref := pendulumRef
	ref.Note = "gravity as stated"
	if s.a.Standard {
		ref.Note = "standard gravity, as none was stated"
	}
	s.work("Pendulum for these beats", "L = g (3600/(π n))²",
		fmt.Sprintf("%s · (3600/(π · %s))²", unit.Significant(float64(s.a.Gravity.Value), 6), b.Mixed()),
		s.a.Pendulum.Text("mm", 1), ref)
}

func (s *solver) workMotion(m Motion, carrier interface{ RatString() string }) {
	s.work("Hours in one turn of the hour hand", "Π wheels / Π pinions / turns an hour of the arbor that carries them",
		fmt.Sprintf("%s / %s", s.q.Motion, carrier.RatString()), m.HoursPerTurn.Mixed()+" h", productRef)
}

// plausible asks for a second count where one is seldom met.
func (s *solver) plausible(c *turning) {
	for i, a := range c.rows {
		w, p := a.Wheel, a.Pinion
		doubt := func(format string, args ...any) {
			s.find(meas.Doubt, "count", fmt.Sprintf(format, args...), "Count it again.", plausibleRef, c.field())
		}
		if w.Known() && (w.Teeth < fewestWheel || w.Teeth > usualWheel) {
			doubt("A wheel of %d teeth (arbor %d of the %s train) is seldom met.", w.Teeth, i+1, c.field())
		}
		if p.Known() && (p.Teeth <= fewLeaves || p.Teeth > usualPinion) {
			doubt("A pinion of %d leaves (arbor %d of the %s train) is seldom met.", p.Teeth, i+1, c.field())
		}
		if i+1 < len(c.rows) && c.ratios[i] != nil && c.ratios[i].Cmp(one) < 0 {
			n := c.rows[i+1].Pinion.Teeth
			s.find(meas.Doubt, "reversed", fmt.Sprintf("%d/%d in the %s train was read as a wheel of %d that drives a pinion of %d.", w.Teeth, n, c.field(), w.Teeth, n),
				fmt.Sprintf("If the pinion was written first, write %d/%d or %d)%d.", n, w.Teeth, w.Teeth, n), plausibleRef, c.field())
		}
	}
}

// modules reckons the module of each mesh from what was measured and finds
// pairs that cannot have been made for each other. The pitch diameter cannot
// be measured; that over the tips is module · (count + k), where k has the
// range of [wheelTip] and [pinionTip].
func (s *solver) modules(t *Turned) {
	for i := range t.Meshes {
		m := &t.Meshes[i]
		a, b := t.Arbors[i], t.Arbors[i+1]
		if a.Wheel.Known() {
			m.ModuleWheel = a.WheelModule(a.Wheel.Teeth)
		}
		if b.Pinion.Known() {
			m.ModulePinion = b.PinionModule(b.Pinion.Teeth)
		}
		if a.Wheel.Known() && b.Pinion.Known() {
			m.ModuleDepth = a.DepthModule(a.Wheel.Teeth, b.Pinion.Teeth)
		}
		s.sayModules(t.Name, i, *m)
	}
}

// tipModule is the module in mm of a diameter over the tips; nil where it was
// not measured.
func tipModule(d meas.Reading[unit.Length], n Teeth, k Bracket) *Bracket {
	if !d.Set {
		return nil
	}
	mm, u := d.Value.MM(), 2*d.U.MM()
	return &Bracket{math.Max(mm-u, 0) / (float64(n) + k.High), (mm + u) / (float64(n) + k.Low)}
}

func (s *solver) sayModules(train string, i int, m Mesh) {
	type named struct {
		what string
		b    *Bracket
	}
	all := []named{{fmt.Sprintf("wheel of arbor %d", i+1), m.ModuleWheel}, {fmt.Sprintf("pinion of arbor %d", i+2), m.ModulePinion}, {fmt.Sprintf("depth of arbors %d and %d", i+1, i+2), m.ModuleDepth}}
	for k, x := range all {
		for _, y := range all[k+1:] {
			if x.b == nil || y.b == nil || (x.b.Low <= y.b.High && y.b.Low <= x.b.High) {
				continue
			}
			s.find(meas.Clash, "module", fmt.Sprintf("In the %s train the %s has a module of %s and the %s of %s: they were not made for each other, or one was measured or counted wrongly.",
				train, x.what, x.b, y.what, y.b), "Measure both again over the tips, and look for a replaced part.", moduleRef, train+"-sizes")
		}
	}
}

// String is "0.97–1.02 mm".
func (b Bracket) String() string {
	return unit.Significant(b.Low, 3) + "–" + unit.Significant(b.High, 3) + "\u00a0mm"
}

// power warns of a train under power where somebody works on the movement:
// sizes, barrel turns and missing wheels are not known from the outside.
func (s *solver) power() {
	for _, t := range s.q.Trains {
		if t.empty() {
			continue
		}
		for _, a := range t.Rows() {
			if a.WheelDiameter.Set || a.PinionDiameter.Set || a.Depth.Set || a.Wheel.Status == Missing || a.Pinion.Status == Missing || t.BarrelTurns.Set {
				s.find(meas.Danger, "power", "A train under power runs off when an arbor or the pallets are lifted, and the wheels cut; take off the weights or let down the mainspring before fingers or callipers go between the plates.",
					"Local law and licensed practice decide.", powerRef)
				return
			}
		}
	}
}

// figures writes x with so many significant digits at most.
func figures(x float64, digits int) string {
	s := unit.Significant(x, digits)
	if strings.Contains(s, ".") && !strings.Contains(s, "e") {
		s = strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
	}
	return s
}
