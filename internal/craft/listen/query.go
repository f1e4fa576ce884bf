package listen

import (
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// Check lists every mistake of the query at once.
func (q Query) Check() meas.Faults {
	var f meas.Faults
	if q.hasTrain() {
		f = append(f, q.Train.Check()...)
	}
	if b := q.BeatsPerHour; b.Set && !(b.Value >= 1000 && b.Value <= 40000) {
		f = append(f, meas.Fault{Field: "beats-per-hour", Text: "Beats an hour must lie between 1,000 and 40,000."})
	}
	if q.Clock.Limit < 0 || q.Clock.Limit > 0.01 || q.Clock.Error > 0.01 || q.Clock.Error < -0.01 {
		f = append(f, meas.Fault{Field: "recorder-error", Text: "A recorder's clock is wrong by less than 10,000 ppm: write its error and its limit in ppm, as in 12 ± 3."})
	}
	return f
}

func (q Query) hasTrain() bool { return len(q.Train.Trains) > 0 }

// speed is what a beat should last, and the train where it is known.
func (q Query) speed() (*train.Answer, meas.Result[unit.Duration]) {
	var nominal meas.Result[unit.Duration]
	var known *train.Answer
	if q.hasTrain() {
		if a, err := train.Solve(q.Train); err == nil {
			known = &a
			if s := a.SecondsPerBeat; s.Known() {
				nominal = meas.Exactly(unit.Duration(s.Float()))
			}
		}
	}
	if b := q.BeatsPerHour; b.Set {
		nominal = meas.Propagate(func(x []float64) unit.Duration { return unit.Duration(3600 / x[0]) }, meas.From("beats an hour", b))
	}
	return known, nominal
}
