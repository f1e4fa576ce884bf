package desk

import (
	"context"
	"errors"
	"strings"

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
	fields := map[string]string{"wanted": "band", "known": "per-turn"}
	out := make(meas.Faults, len(faults))
	for i, f := range faults {
		part, _, _ := strings.Cut(f.Field, ".")
		field, ok := fields[part]
		if !ok {
			field = "lines"
		}
		out[i] = meas.Fault{Field: field, Text: f.Text}
	}
	return out
}
