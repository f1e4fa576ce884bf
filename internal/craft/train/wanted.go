package train

import (
	"fmt"
	"math"
	"math/big"
	"strings"

	"seatboard/internal/kit/meas"
)

// Lacks tells whether a count of a train or of the motion work is missing.
func (a Answer) Lacks() bool {
	for _, f := range a.Findings {
		if f.Code == "missing" || (f.Code == "motion-work" && a.Motion != nil && !a.Motion.Product.Known()) {
			return true
		}
	}
	return false
}

// missing says which counts are not known and what they must make.
func (s *solver) missing(c *turning) {
	var lost, thought []string
	for i, a := range c.rows {
		for _, p := range []struct {
			part  string
			count Count
		}{{"pinion", a.Pinion}, {"wheel", a.Wheel}} {
			what := fmt.Sprintf("the %s of arbor %d", p.part, i+1)
			switch p.count.Status {
			case Missing:
				lost = append(lost, what)
			case Inferred:
				thought = append(thought, fmt.Sprintf("%s (%d)", what, p.count.Teeth))
			}
		}
	}
	if len(thought) > 0 {
		s.find(meas.Note, "inferred", fmt.Sprintf("Inferred, not counted, in the %s train: %s.", c.field(), strings.Join(thought, ", ")), "", ruleRef, c.field())
	}
	if c.isGoing() && s.a.Anchor.Kind == ByNothing {
		s.a.Complete = false
	}
	if c.isGoing() && c.beats == nil && c.rows[c.last()].Wheel.Status == None {
		s.a.Complete = false
		s.find(meas.Doubt, "escape-wheel", "The going train ends in a pinion, so its beats cannot be told.", "Add the teeth of the escape wheel at the end, or state the beats in one turn of the last arbor.", ruleRef, c.field())
	}
	if len(lost) == 0 {
		return
	}
	s.a.Complete = false
	next := s.wanted(c)
	if next == "" && c.isGoing() {
		next = "State which arbor turns once an hour and how long the pendulum is; then what the lost counts must make can be told."
	}
	s.find(meas.Doubt, "missing", fmt.Sprintf("Not known in the %s train: %s. What does not hang on them is given.", c.field(), strings.Join(lost, ", ")), next, ruleRef, c.field())
}

// wanted works out the product of each gap whose two sides are known, and
// the escape wheel; the answer is a sentence.
func (s *solver) wanted(c *turning) string {
	from := len(s.a.Wanted)
	for i := 0; i < len(c.ratios); i++ {
		if c.ratios[i] != nil || c.turns[i] == nil {
			continue
		}
		to := i + 1
		for to < len(c.rows) && c.turns[to] == nil {
			to++
		}
		if to < len(c.rows) {
			s.a.Wanted = append(s.a.Wanted, s.gap(c, i, to))
			i = to - 1
		}
	}
	if w := c.rows[c.last()].Wheel; c.isGoing() && w.Status == Missing && c.turns[c.last()] != nil {
		s.wantedEscape(c)
	}
	var says []string
	for _, w := range s.a.Wanted[from:] {
		says = append(says, w.sentence())
	}
	return strings.Join(says, " ")
}

// gap is what the meshes between arbors i and to must make together.
func (s *solver) gap(c *turning, i, to int) Wanted {
	p := new(big.Rat).Quo(c.turns[to], c.turns[i])
	w := Wanted{Train: c.field(), From: i, To: to, Product: Exact{r: p, About: c.about[i] || c.about[to]}}
	if w.Product.About {
		n := s.pendulumBeats()
		w.U = w.Product.Float() * float64(n.U/n.Value)
	}
	var parts []string
	for k := i; k < to; k++ {
		if x := c.rows[k].Wheel; x.Status == Missing {
			parts = append(parts, fmt.Sprintf("the wheel of arbor %d", k+1))
		}
		if x := c.rows[k+1].Pinion; x.Status == Missing {
			parts = append(parts, fmt.Sprintf("the pinion of arbor %d", k+2))
		}
	}
	w.What = strings.Join(parts, " and ")
	if to == i+1 {
		w.Example = c.example(i, w)
	}
	return w
}

// example finds counts of usual size that make the product: exactly, or
// within its doubt where it rests on a pendulum.
func (c *turning) example(i int, w Wanted) string {
	wheel, pinion := c.rows[i].Wheel, c.rows[i+1].Pinion
	ratio := w.Product.Float()
	doubt := 1e-9
	if w.Product.About {
		doubt = math.Max(2*w.U, ratio*unstatedLength.V/2)
	}
	best, text := math.Inf(1), ""
	try := func(n, p int) {
		off := math.Abs(float64(n)/float64(p) - ratio)
		if n >= int(fewestWheel) && n <= int(usualWheel) && off <= doubt && off < best-1e-12 {
			best, text = off, fmt.Sprintf("%d/%d", n, p)
		}
	}
	for _, p := range [...]int{8, 7, 6, 10, 12, 9, 14, 16, 11, 5, 15, 18, 20} {
		if pinion.Known() {
			p = int(pinion.Teeth)
		}
		if wheel.Known() {
			p = int(math.Round(float64(wheel.Teeth) / ratio))
			if p < 1 {
				continue
			}
			try(int(wheel.Teeth), p)
			continue
		}
		try(int(math.Round(ratio*float64(p))), p)
	}
	return text
}

// wantedEscape is the teeth that a lost escape wheel must have.
func (s *solver) wantedEscape(c *turning) {
	n, about, u := s.q.Beats.Rat(), false, 0.0
	if n == nil {
		p := s.pendulumBeats()
		if !p.Set {
			return
		}
		n, about, u = decimalRat(float64(p.Value)), true, float64(p.U/p.Value)
	}
	n.Quo(n, c.turns[c.last()])
	n.Quo(n, big.NewRat(int64(s.perTooth()), 1))
	w := Wanted{Train: c.field(), From: c.last(), To: c.last(), Product: Exact{r: n, About: about}, What: "the escape wheel"}
	w.U = u * w.Product.Float()
	if teeth := math.Round(w.Product.Float()); n.IsInt() || (about && math.Abs(teeth-w.Product.Float()) < math.Max(2*w.U, teeth*unstatedLength.V/2)) {
		w.Example = fmt.Sprintf("%.0f", teeth)
	}
	s.a.Wanted = append(s.a.Wanted, w)
}

func (w Wanted) sentence() string {
	product := w.Product.Mixed()
	if w.U > 0 {
		product = fmt.Sprintf("%.2f ± %.2f", w.Product.Float(), w.U)
	}
	if w.From == w.To {
		if w.Example == "" {
			return fmt.Sprintf("For the escape wheel %s teeth would be needed.", product)
		}
		return fmt.Sprintf("For the escape wheel %s teeth are wanted: %s would do.", product, w.Example)
	}
	text := fmt.Sprintf("From arbor %d to arbor %d the wheels over the pinions must make %s", w.From+1, w.To+1, product)
	if w.Example == "" {
		return text + "."
	}
	return text + ": " + w.Example + " would do."
}
