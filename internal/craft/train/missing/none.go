package missing

import (
	"fmt"
	"strings"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// none says why nothing fits, and what comes nearest.
func (s *solver) none(o opening, p *problem, g *Gap) {
	s.a.Complete = false
	if s.sizesClash(o, g) || s.unitMistaken(o, g) {
		return
	}
	text := fmt.Sprintf("No counts in range make %s with %s.", spoken(p.target), g.What)
	next := ""
	wide := s.q
	wide.Wheels, wide.Pinions, wide.Escapes = Range{Low: 12, High: 240}, Range{Low: fewestLeaves, High: 60}, Range{Low: 8, High: 120}
	if h, ok := s.try(wide, o.path.name, o.from, false); ok {
		next = fmt.Sprintf("In a wider range there would be %s.", h)
	}
	near := o.problem(s.q, s.books, false)
	if near.prepare() == nil {
		below, above := near.nearest(s.ctx)
		for _, filled := range [][]int{below, above} {
			if filled != nil {
				g.Nearest = append(g.Nearest, s.candidate(o, near, hit{filled, near.model.cost(filled)}))
			}
		}
	}
	var says []string
	for _, c := range g.Nearest {
		off := unit.Significant(100*(float(c.Product.Rat())/float(p.target.mid)-1), 2)
		says = append(says, fmt.Sprintf("%s, which makes %s (%s %%)", countsText(g.Members, c.Counts), c.Product.Mixed(), off))
	}
	if len(says) > 0 {
		text += " The nearest that can be: " + strings.Join(says, "; ") + "."
	}
	if next == "" {
		next = "Count the others again, and see whether what the product rests on is of this clock: " + o.path.nodes[o.from].why + "; " + o.path.nodes[o.to].why + "."
	}
	s.say(meas.Clash, "impossible", text, next, searchRef)
}

// try searches the same opening for another query and gives the best counts.
func (s *solver) try(q Query, name string, from int, sizes bool) (string, bool) {
	base, err := q.base()
	if err != nil {
		return "", false
	}
	n := newNetwork(q, base)
	p := n.paths[name]
	if p == nil {
		return "", false
	}
	open, _ := p.openings()
	for _, o := range open {
		if o.from != from {
			continue
		}
		x := o.problem(q, s.books, sizes)
		if x.empty() || x.prepare() != nil {
			return "", false
		}
		text := ""
		x.best(s.ctx, 1, watch{}, func(h hit) bool {
			members := make([]Member, len(x.slots))
			counts := make([]train.Teeth, len(x.slots))
			for i, sl := range x.slots {
				members[i], counts[i] = sl.Member, train.Teeth(h.filled[i])
			}
			text = countsText(members, counts)
			return false
		})
		return text, text != ""
	}
	return "", false
}

// countsText is "60 teeth for the wheel of arbor 3 and 8 leaves for …".
func countsText(members []Member, counts []train.Teeth) string {
	words := make([]string, len(counts))
	for i, n := range counts {
		unit := "teeth"
		if members[i].pinion() {
			unit = "leaves"
		}
		words[i] = fmt.Sprintf("%d %s for %s", n, unit, members[i])
	}
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return words[0]
}

// sizesClash tells whether the sizes alone stand in the way, and names them
// with what they clash with.
func (s *solver) sizesClash(o opening, g *Gap) bool {
	sizes := s.sizesText(o)
	if sizes == "" {
		return false
	}
	h, ok := s.try(s.q, o.path.name, o.from, false)
	if !ok {
		return false
	}
	next := "Measure again over the tips and between the centres. By the product alone there would be " + h + "."
	if ask := s.askInches(o); ask != "" {
		next = ask + " " + next
	}
	s.say(meas.Clash, "clash", fmt.Sprintf("About %s: the sizes (%s), and the product they must make, %s (%s; %s). No counts fit both.",
		g.What, sizes, spoken(o.ratio()), o.path.nodes[o.from].why, o.path.nodes[o.to].why), next, searchRef, o.path.name+"-sizes")
	return true
}

// sizesText lists what was measured of the meshes in question.
func (s *solver) sizesText(o opening) string {
	var out []string
	add := func(what string, r meas.Reading[unit.Length]) {
		if r.Set {
			out = append(out, what+" "+r.Written("mm"))
		}
	}
	for i, e := range o.path.edges[o.from:o.to] {
		if e.wheel.Status != train.Missing && e.pinion.Status != train.Missing {
			continue
		}
		at := o.from + i + 1
		add(fmt.Sprintf("wheel of arbor %d", at), e.arbors[0].WheelDiameter)
		add(fmt.Sprintf("pinion of arbor %d", at+1), e.arbors[1].PinionDiameter)
		add(fmt.Sprintf("centres of arbors %d and %d", at, at+1), e.arbors[0].Depth)
	}
	if len(out) > 0 {
		add("module", s.q.Module)
	}
	return strings.Join(out, ", ")
}

// mistakes of units that are looked for.
var mistakes = [...]struct {
	factor float64
	unit   string
}{{25.4, "inches"}, {10, "centimetres"}}

// askInches finds the one size that would fit if it were in another unit.
func (s *solver) askInches(o opening) string {
	t := s.q.of(o.path.name)
	if t == nil {
		return ""
	}
	rows := t.Rows()
	for i := range rows {
		for _, r := range []struct {
			what string
			of   func(*train.Arbor) *meas.Reading[unit.Length]
		}{
			{"wheel of arbor", func(a *train.Arbor) *meas.Reading[unit.Length] { return &a.WheelDiameter }},
			{"pinion of arbor", func(a *train.Arbor) *meas.Reading[unit.Length] { return &a.PinionDiameter }},
			{"centre distance from arbor", func(a *train.Arbor) *meas.Reading[unit.Length] { return &a.Depth }},
		} {
			at := r.of(&rows[i])
			if !at.Set {
				continue
			}
			was := *at
			for _, m := range mistakes {
				at.Value, at.U = was.Value*unit.Length(m.factor), was.U*unit.Length(m.factor)
				if _, ok := s.try(s.q.with(o.path.name, rows), o.path.name, o.from, true); ok {
					return fmt.Sprintf("Was the %s %d, %s, measured in %s? Then counts would fit.", r.what, i+1, was, m.unit)
				}
			}
			*at = was
		}
	}
	return ""
}

// with is the query with other arbors of one train.
func (q Query) with(name string, rows []train.Arbor) Query {
	out := q
	out.Train.Trains = nil
	for _, t := range q.Train.Trains {
		if t.Name == name || (t.Name == "" && name == train.Going) {
			t.Chain, t.Sizes, t.Arbors = train.ChainOf(rows), train.Sizes{}, append([]train.Arbor(nil), rows...)
		}
		out.Train.Trains = append(out.Train.Trains, t)
	}
	return out
}

// unitMistaken asks whether the pendulum was measured in another unit.
func (s *solver) unitMistaken(o opening, g *Gap) bool {
	p := s.q.Train.Pendulum
	if o.path.name != train.Going || !p.Set {
		return false
	}
	for _, m := range mistakes {
		q := s.q
		q.Train.Pendulum = meas.OfU(p.Value*unit.Length(m.factor), p.U*unit.Length(m.factor))
		q.Train.Pendulum.HasU = p.HasU
		if h, ok := s.try(q, o.path.name, o.from, true); ok {
			s.say(meas.Clash, "unit", fmt.Sprintf("No counts in range fit a pendulum of %s mm. Was it measured in %s? Then there would be %s.", unit.Significant(p.Value.MM(), 4), m.unit, h),
				"Write the unit behind the length, like 39.14 in.", searchRef, "pendulum")
			return true
		}
	}
	return false
}
