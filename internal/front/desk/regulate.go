package desk

import (
	"context"
	"errors"

	"seatboard/internal/craft/regulate"
	"seatboard/internal/front/form"
	"seatboard/internal/kit/doc"
	"seatboard/internal/kit/meas"
	"seatboard/internal/paper/present"
)

// sitRegulate is one use of the regulation: the lines are read when all
// fields are, since zone and divisions tell how.
func sitRegulate() Sitting {
	t := new(form.Trial)
	return Sitting{Form: form.Regulate(t), Solve: func(ctx context.Context) (Outcome, error) {
		q, said, err := t.Query(ctx)
		if err != nil {
			return Outcome{}, err
		}
		a, err := regulate.Solve(ctx, q)
		var faults meas.Faults
		if errors.As(err, &faults) {
			return Outcome{}, inForm(faults)
		}
		if err != nil {
			return Outcome{}, err
		}
		a.Findings = append(a.Findings, said...)
		return Outcome{Answer: a, Doc: present.Regulate(a), Log: func() doc.Table { return present.RegulationLog(a) }}, nil
	}}
}

// inForm gives the mistakes of a query the fields of the form.
func inForm(faults meas.Faults) meas.Faults {
	fields := map[string]string{"wanted": "band", "wanted.move": "move", "known.per_turn": "per-turn", "known.per_gram": "per-gram", "known.per_kelvin": "per-kelvin", "known.lost": "lost", "known.divisions": "divisions"}
	out := make(meas.Faults, len(faults))
	for i, f := range faults {
		field, ok := fields[f.Field]
		if !ok {
			field = "lines"
		}
		out[i] = meas.Fault{Field: field, Text: f.Text}
	}
	return out
}
