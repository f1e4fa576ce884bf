package clean

import (
	"fmt"
	"strings"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Solve judges the batch. The error is a meas.Faults with every mistake in
// the inputs; the answer then holds the query alone.
func Solve(q Query) (Answer, error) {
	a := Answer{Query: q}
	if faults := q.Check(); len(faults) > 0 {
		return a, faults
	}
	w := lay(q)
	w.radium()
	w.fire()
	w.roomFire()
	w.assembled()
	w.judgeCells()
	w.unstated()
	w.galvanic()
	w.soak()
	w.warmth()
	w.bathAge()
	a.Liquid, a.Cells, a.Refusals, a.Questions = w.liquid, w.judged, w.refusals, w.questions
	a.Flash, a.FlashFrom = w.flash, w.flashFrom
	a.Limit, a.Steps, a.Hazards = meas.Exactly(w.limit), Steps(), w.hazards()
	a.Working, a.Findings = w.steps, w.findings
	a.Verdict, a.Complete = w.verdict(), len(w.questions) == 0
	return a, nil
}

// work is a batch while it is judged.
type work struct {
	q          Query
	liquid     Liquid
	cells      cellTable
	substances []Substance
	flash      meas.Result[unit.Temperature]
	flashFrom  string
	limit      unit.Duration

	judged    []Judged
	refusals  []Refusal
	questions []meas.Finding
	findings  []meas.Finding
	steps     []cite.Step
}

func lay(q Query) *work {
	w := &work{q: q, cells: newCellTable(), limit: usualLimit.V}
	w.liquid, _ = FindLiquid(q.Liquid)
	names := q.Substances
	if len(names) == 0 {
		names = w.liquid.Substances
	}
	for _, n := range names {
		s, _ := FindSubstance(n)
		w.substances = append(w.substances, s)
	}
	w.findFlash()
	return w
}

// refuse adds a refusal; a hard one is a danger to people.
func (w *work) refuse(hard bool, code, text, next string, ref cite.Ref, about ...string) {
	level := meas.Clash
	if hard {
		level = meas.Danger
	}
	w.refusals = append(w.refusals, Refusal{hard, meas.Finding{Level: level, Code: code, Text: text, Next: next, About: about, Ref: ref}})
}

func (w *work) ask(code, text, next string, ref cite.Ref, about ...string) {
	w.questions = append(w.questions, meas.Finding{Level: meas.Doubt, Code: code, Text: text, Next: next, About: about, Ref: ref})
}

func (w *work) say(level meas.Level, code, text, next string, ref cite.Ref, about ...string) {
	w.findings = append(w.findings, meas.Finding{Level: level, Code: code, Text: text, Next: next, About: about, Ref: ref})
}

// verdict is the worst of what was found.
func (w *work) verdict() Verdict {
	switch {
	case len(w.refusals) > 0:
		return MustNot
	case len(w.questions) > 0 || len(w.q.Pieces) == 0:
		return Ask
	}
	for _, f := range w.findings {
		if f.Level > meas.Note {
			return WithCare
		}
	}
	return Go
}

// which lists the pieces that a rule is about: their numbers, and their names
// in a sentence.
func (w *work) which(rule func(Piece) bool) (numbers []string, sentence string) {
	var called []string
	for _, p := range w.q.Pieces {
		if rule(p) {
			numbers = append(numbers, p.Number)
			called = append(called, p.called())
		}
	}
	const most = 6
	if n := len(called); n > most {
		called = append(called[:most:most], fmt.Sprintf("%d more", n-most))
	}
	return numbers, strings.Join(called, ", ")
}
