package meas

import (
	"math"
	"slices"

	"seatboard/internal/kit/cite"
	"seatboard/internal/kit/unit"
)

// Bench is one calculation under way over the numbers N: a struct of float64
// in SI, NaN where nothing was stated, so that what cannot be worked out
// comes out NaN by itself. [Take] and [Bench.Set] put readings into it,
// [Find] takes results out with their doubt and its budget; Steps and
// Findings gather what is to be said.
type Bench[N any] struct {
	N        N
	Steps    []cite.Step
	Findings []Finding
	knobs    []knob[N]
}

// knob is a number that has an uncertainty.
type knob[N any] struct {
	name string
	at   func(*N) *float64
	u    float64
}

// Set puts a value into its number; a doubt u above nought makes it an input
// of every result that depends on it.
func (b *Bench[N]) Set(name string, v, u float64, at func(*N) *float64) {
	*at(&b.N) = v
	if u > 0 {
		b.knobs = append(b.knobs, knob[N]{name, at, u})
	}
}

// Take puts a reading into its number, NaN where it was not stated.
func Take[Q unit.Quantity, N any](b *Bench[N], name string, r Reading[Q], at func(*N) *float64) {
	*at(&b.N) = math.NaN()
	if r.Set {
		b.Set(name, float64(r.Value), float64(r.U), at)
	}
}

// Find works out a result and what its doubt comes from. Inputs that play no
// part are left out of the budget.
func Find[Q unit.Quantity, N any](b *Bench[N], f func(N) float64) Result[Q] {
	inputs := make([]Input, len(b.knobs))
	for i, k := range b.knobs {
		inputs[i] = Input{Name: k.name, Value: *k.at(&b.N), U: k.u}
	}
	var n N // one for all the evaluations: knobs point into it, so it is on the heap
	r := Propagate(func(x []float64) Q {
		n = b.N
		for i, k := range b.knobs {
			*k.at(&n) = x[i]
		}
		return Q(f(n))
	}, inputs...)
	r.Budget = slices.DeleteFunc(r.Budget, func(s Share) bool { return !(s.Part > 0) })
	if len(r.Budget) == 0 {
		r.HasU, r.U, r.Budget = false, 0, nil
	}
	return r
}

// Step writes a line of working.
func (b *Bench[N]) Step(name, formula, sums, result string, ref cite.Ref) {
	b.Steps = append(b.Steps, cite.Step{Name: name, Formula: formula, Numbers: sums, Result: result, Ref: ref})
}

// Say adds a finding about some fields.
func (b *Bench[N]) Say(level Level, code, text, next string, ref cite.Ref, about ...string) {
	b.Findings = append(b.Findings, Finding{Level: level, Code: code, Text: text, Next: next, About: about, Ref: ref})
}

// AskInches asks whether inches were meant by a length that was typed without
// a unit and taken in mm, where its part is never so small and would not be in
// inches; least is what is seldom gone under.
func (b *Bench[N]) AskInches(field, what string, r Reading[unit.Length], least unit.Length) {
	if r.Set && r.Value < least && unit.Inches(r.Value.MM()) >= least && r.Bare() {
		b.Say(Clash, "unit", what+" was taken in millimetres, "+r.Written("mm")+", which is less than such a part has.", "Were inches meant? Then write in behind the number.", cite.Ref{Grade: cite.CommonPractice}, field)
	}
}

// ByLevel gives the findings, dangers first, then clashes, doubts and notes.
func (b *Bench[N]) ByLevel() []Finding {
	slices.SortStableFunc(b.Findings, func(x, y Finding) int { return int(y.Level) - int(x.Level) })
	return b.Findings
}
