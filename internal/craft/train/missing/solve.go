package missing

import (
	"context"
	"fmt"
	"math/big"
	"slices"
	"strings"

	"seatboard/internal/craft/train"
	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/progress"
	"seatboard/internal/kit/unit"
)

// usualMost is how many candidates of a gap are listed.
const usualMost = 12

// Progress is how far a search is: the share that is done, how many sets of
// counts were found, and, for who looks, the answer so far.
type Progress struct {
	Counter progress.Counter
	SoFar   progress.Glimpse[SoFar]
}

// SoFar is the answer of a search under way.
type SoFar struct {
	Answer Answer // without what is said at its end; the last gap is the one that is searched
	Sure   int    // candidates of that gap that keep their places, the first
}

// Solve finds what is missing. The error is meas.Faults with every mistake of
// the query. Cancelled, it answers with what it has and Complete false. p may
// be nil.
func Solve(ctx context.Context, q Query, p *Progress) (Answer, error) {
	return solveWith(ctx, q, p, newPractices(train.GoodrichTrains()))
}

func solveWith(ctx context.Context, q Query, p *Progress, books practices) (Answer, error) {
	if f := q.Check(); len(f) > 0 {
		return Answer{}, f
	}
	base, err := q.base()
	if err != nil {
		return Answer{}, err
	}
	if p == nil {
		p = &Progress{} // nobody looks
	}
	s := solver{ctx: ctx, q: q, books: books, watched: p, n: newNetwork(q, base)}
	s.a = Answer{Query: q, Supposed: s.n.supposed, Complete: true}
	if s.n.hour >= 0 {
		at := s.n.hour
		s.a.HourArbor = &at
	}
	s.carry(base)
	s.sayClashes()
	var all []opening
	for _, name := range s.n.names {
		open, loose := s.n.paths[name].openings()
		all, s.a.Unfixed = append(all, open...), append(s.a.Unfixed, loose...)
	}
	p.Counter.Expect(gapSteps * int64(len(all)))
	for _, o := range all {
		if err := s.gap(o); err != nil {
			return Answer{}, err
		}
	}
	s.sayUnfixed()
	slices.SortStableFunc(s.a.Findings, func(a, b meas.Finding) int { return int(b.Level) - int(a.Level) })
	return s.a, nil
}

// base is what the trains alone come to.
func (q Query) base() (train.Answer, error) {
	if q.alone() {
		return train.Answer{}, nil
	}
	return train.Solve(q.trains())
}

// solver fills an answer.
type solver struct {
	ctx     context.Context
	q       Query
	books   practices
	watched *Progress
	n       *network
	a       Answer
}

func (s *solver) say(l meas.Level, code, text, next string, ref cite.Ref, about ...string) {
	s.a.Findings = append(s.a.Findings, meas.Finding{Level: l, Code: code, Text: text, Next: next, About: about, Ref: ref})
}

func (s *solver) work(name, formula, numbers, result string, ref cite.Ref) {
	s.a.Working = append(s.a.Working, cite.Step{Name: name, Formula: formula, Numbers: numbers, Result: result, Ref: ref})
}

// carry takes over what the sums of the trains say that matters here.
func (s *solver) carry(base train.Answer) {
	for _, f := range base.Findings {
		switch f.Code {
		case "power", "count", "reversed", "module":
			s.a.Findings = append(s.a.Findings, f)
		}
	}
	if s.n.supposed && s.n.hour >= 0 {
		s.say(meas.Note, "hour-arbor", fmt.Sprintf("Arbor %d is supposed to turn once an hour.", s.n.hour+1),
			"If another arbor carries the minute hand, state it by its number from the barrel; where none does, write none.", practiceRef, "hour-arbor")
	}
	if p := s.q.Train.Pendulum; p.Set && p.Value.MM() < 60 && p.Bare() {
		s.say(meas.Doubt, "unit", fmt.Sprintf("A pendulum of %s mm is very short: %s was read in millimetres.", unit.Significant(p.Value.MM(), 4), p), "If inches or centimetres were meant, write in or cm behind it.", practiceRef, "pendulum")
	}
}

// gap searches one opening.
func (s *solver) gap(o opening) error {
	p := o.problem(s.q, s.books, true)
	g := Gap{Train: o.path.name, What: listed(p.slots), Wanted: about(p.target, p.target.mid)}
	for _, x := range p.slots {
		g.Members = append(g.Members, x.Member)
	}
	from, to := o.path.nodes[o.from], o.path.nodes[o.to]
	g.From, g.To = from.why, to.why
	if p.target.rel > 0 {
		g.Low, g.High = train.ExactOf(p.target.low), train.ExactOf(p.target.high)
		g.U = p.target.rel * float(p.target.mid)
	}
	s.workGap(o, p)
	if !p.empty() {
		if err := p.prepare(); err != nil {
			return meas.Faults{{Field: "pinions", Text: fmt.Sprintf("To find %s there are too many sets of counts to try; narrow the range of the pinions or enter one more count", g.What)}}
		}
		w := watch{count: &s.watched.Counter, asked: s.watched.SoFar.Asked, give: func(best []hit, sure, found int) { s.show(o, p, g, best, sure, found) }}
		g.Found, g.FoundAll = p.best(s.ctx, s.most(), w, func(h hit) bool {
			g.Candidates = append(g.Candidates, s.candidate(o, p, h))
			return true
		})
	} else {
		g.FoundAll = true
	}
	if s.ctx.Err() != nil {
		s.a.Complete = false
		s.say(meas.Doubt, "stopped", fmt.Sprintf("The search for %s was stopped at %.0f %% of it; the best so far are listed.", g.What, 100*s.share()), "Narrow the ranges, or work it out again and let it run on.", searchRef)
	}
	if g.Found == 0 && s.ctx.Err() == nil {
		s.none(o, p, &g)
	}
	s.workFound(p, g)
	s.a.Gaps = append(s.a.Gaps, g)
	return nil
}

// share is how much of the gap that is searched was done.
func (s *solver) share() float64 {
	done, _ := s.watched.Counter.Sample()
	return float64(done-gapSteps*int64(len(s.a.Gaps))) / gapSteps
}

// shownSoFar bounds the candidates of a search under way.
const shownSoFar = usualMost

// show hands over the best so far of a gap that is being searched.
func (s *solver) show(o opening, p *problem, g Gap, best []hit, sure, found int) {
	g.Found, g.Candidates = found, nil
	for _, h := range best[:min(len(best), shownSoFar)] {
		g.Candidates = append(g.Candidates, s.candidate(o, p, h))
	}
	a := s.a
	a.Complete, a.Gaps = false, append(slices.Clone(s.a.Gaps), g)
	a.Working, a.Findings = nil, nil
	s.watched.SoFar.Give(SoFar{a, min(sure, len(g.Candidates))})
}

func (s *solver) most() int {
	if s.q.Most > 0 {
		return s.q.Most
	}
	return usualMost
}

// empty tells that what was measured leaves a slot no count.
func (p *problem) empty() bool {
	return slices.ContainsFunc(p.slots, func(x slot) bool { return len(x.counts) == 0 })
}

// about is a ratio, marked where it rests on a measurement.
func about(s span, r *big.Rat) train.Exact {
	e := train.ExactOf(r)
	e.About = s.rel > 0
	return e
}

func listed(slots []slot) string {
	words := make([]string, len(slots))
	for i, x := range slots {
		words[i] = x.Member.String()
	}
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return words[0]
}

// candidate is a hit with its reasons and what it does.
func (s *solver) candidate(o opening, p *problem, h hit) Candidate {
	c := Candidate{Points: h.cost, Reasons: p.model.reasons(h.filled)}
	r := big.NewRat(1, 1)
	for i, n := range h.filled {
		c.Counts = append(c.Counts, train.Teeth(n))
		if p.slots[i].pinion() {
			r.Quo(r, big.NewRat(int64(n), 1))
			continue
		}
		r.Mul(r, big.NewRat(int64(n), 1))
		if len(s.q.Circles.Holes) > 0 {
			c.Circles = append(c.Circles, s.q.Circles.Of(n))
		}
	}
	c.Product = train.ExactOf(r)
	s.effect(o, p, h, &c)
	return c
}

// effect reckons what the counts do to the clock.
func (s *solver) effect(o opening, p *problem, h hit, c *Candidate) {
	fill := map[Member]train.Count{}
	for i, n := range h.filled {
		fill[p.slots[i].Member] = train.Count{Teeth: train.Teeth(n), Status: train.Inferred}
	}
	switch name := o.path.name; name {
	case motionWork:
		c.Chain = filledPairs(s.q.Train.Motion, name, fill).String()
	case countWheel:
		c.Chain = filledPairs(s.q.of(train.Strike).Report, name, fill).String()
	case slowDial:
		c.Chain = filledPairs(s.q.Slow, name, fill).String()
		got := float(c.Product.Rat())/float(p.target.mid) - 1
		period := 3600 / float(o.path.nodes[o.from].speed.mid)
		c.Error = meas.Exactly(unit.Duration(got * period))
	default:
		s.trainEffect(name, fill, c)
	}
}

func filledPairs(chain train.Chain, name string, fill map[Member]train.Count) train.Chain {
	rows := chain.Arbors()
	for i := range rows {
		put(&rows[i].Wheel, fill, Member{name, i, wheelPart})
		put(&rows[i].Pinion, fill, Member{name, i, pinionPart})
	}
	return train.ChainOf(rows)
}

// put keeps the lantern mark of what was missing.
func put(c *train.Count, fill map[Member]train.Count, m Member) {
	if n, ok := fill[m]; ok {
		n.Lantern = c.Lantern
		*c = n
	}
}

func (s *solver) trainEffect(name string, fill map[Member]train.Count, c *Candidate) {
	t := *s.q.of(name)
	rows := t.Rows()
	for i := range rows {
		put(&rows[i].Wheel, fill, Member{name, i, wheelPart})
		put(&rows[i].Wheel, fill, Member{name, i, escapePart})
		put(&rows[i].Pinion, fill, Member{name, i, pinionPart})
	}
	t.Chain, t.Sizes, t.Arbors = train.ChainOf(rows), train.Sizes{}, nil
	c.Chain = t.Chain.String()
	q := s.q.trains()
	q.Trains = []train.Train{t}
	if name == train.Going && s.n.hour >= 0 && !q.ArborTurn.Set {
		q.HourArbor = fmt.Sprint(s.n.hour + 1)
	}
	q.Motion, q.MotionArbor = train.Chain{}, ""
	a, err := train.Solve(q)
	if err != nil {
		return // counts of this gap alone do not make a train that can be reckoned
	}
	c.Beats, c.Rate = a.BeatsPerHour, a.Rate
	if name == train.Going && a.BeatsPerHour.Known() && !a.BeatsPerHour.About {
		c.Pendulum = a.Pendulum
	}
	c.Runs = a.Trains[0].RunningHours
}

// workGap writes the sums of what is wanted.
func (s *solver) workGap(o opening, p *problem) {
	from, to := o.path.nodes[o.from], o.path.nodes[o.to]
	_, text := o.known()
	s.work(fmt.Sprintf("From %s to %s the wheels over the pinions must make", from.name, to.name), "turns of the last / turns of the first",
		spoken(*to.speed)+" / "+spoken(*from.speed), spoken(o.ratio()), ruleRef)
	if text == "" {
		return
	}
	s.work("So "+listed(p.slots)+" must make", "what all must make / what is known", spoken(o.ratio())+" / ("+text+")", spoken(p.target), ruleRef)
}

// spoken writes a span as a number, with its doubt.
func spoken(s span) string {
	if s.rel == 0 {
		return train.ExactOf(s.mid).Mixed()
	}
	mid := float(s.mid)
	return meas.WithU(unit.Ratio(mid), unit.Ratio(mid*s.rel), "")
}

func (s *solver) workFound(p *problem, g Gap) {
	if p.index == nil {
		return
	}
	tried := fmt.Sprintf("%d sets of counts looked up among %d", p.tuples()*len(p.extraSets()), len(p.index.entries))
	found := fmt.Sprintf("%d found", g.Found)
	if !g.FoundAll {
		found = fmt.Sprintf("%d and more found", g.Found)
	}
	limits := "the product exactly"
	if p.target.rel > 0 {
		limits = fmt.Sprintf("%s to %s, %d doubts each way", unit.Significant(float(p.target.low), 6), unit.Significant(float(p.target.high), 6), widths)
	}
	s.work("Search for "+g.What, "all whole counts in range", tried+"; "+limits, found, searchRef)
	if len(g.Candidates) == 0 {
		return
	}
	var sum []string
	for _, r := range g.Candidates[0].Reasons {
		sum = append(sum, unit.Number(r.Points, 1))
	}
	s.work("Points against the first", "Σ −log₂((n + √N q)/(N + √N))", strings.Join(sum, " + "), unit.Number(g.Candidates[0].Points, 1), pointsRef)
}

// sayClashes names both facts where two do not agree.
func (s *solver) sayClashes() {
	for _, c := range s.n.clashes {
		n := c.path.nodes[c.at]
		s.say(meas.Clash, "clash", fmt.Sprintf("About %s of the %s: %s, which makes %s turns an hour, and %s, which makes %s.",
			n.name, nameOf(c.path), c.why[0], spoken(c.has), c.why[1], spoken(c.want)),
			"Count and measure again what the two rest on; the first of them was used.", searchRef)
		s.a.Complete = false
	}
}

func nameOf(p *path) string {
	switch p.name {
	case train.Going, train.Strike, train.Quarter:
		return p.name + " train"
	}
	return p.name
}

func (s *solver) sayUnfixed() {
	if len(s.a.Unfixed) == 0 {
		return
	}
	s.a.Complete = false
	words := make([]string, len(s.a.Unfixed))
	for i, m := range s.a.Unfixed {
		words[i] = m.String()
	}
	s.say(meas.Doubt, "unfixed", "Nothing that was stated says what these must make: "+strings.Join(words, ", ")+".", s.wants(), ruleRef)
}

// wants says what would fix the members that are not fixed.
func (s *solver) wants() string {
	var out []string
	seen := map[string]bool{}
	for _, m := range s.a.Unfixed {
		if seen[m.Train] {
			continue
		}
		seen[m.Train] = true
		switch m.Train {
		case train.Going:
			out = append(out, "for the going train the pendulum or the beats an hour, or the turns of the barrel with the time it runs")
		case train.Strike:
			out = append(out, "for the strike its pins, the arbor that turns once a blow, or the turns of its barrel with the time it runs; a fly's train need not be exact")
		case train.Quarter:
			out = append(out, "for the quarters how many turns one arbor makes for one of another")
		default:
			out = append(out, "for the "+m.Train+" the speed of the arbor that drives it")
		}
	}
	return "State " + strings.Join(out, "; ") + "."
}
