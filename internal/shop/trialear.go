package shop

import (
	"context"
	"fmt"
	"math"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/readings"
	"seatboard/internal/book/trial"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/unit"
)

// EarReading is the rate that was heard as a reading of a clock on trial; a
// sentence says why there is none. The doubt of the recorder's clock, which is
// the same in all that it heard, is told apart from the rest.
func EarReading(l readings.Listening) (regulate.Reading, string) {
	mean := l.Gist.Mean
	switch {
	case !l.Removed.IsZero():
		return regulate.Reading{}, "It was removed."
	case !mean.Set:
		return regulate.Reading{}, "It tells no rate: the beats an hour that the clock should make are not known, or too few were heard."
	case l.Started.IsZero():
		return regulate.Reading{}, "It is not known when it was heard."
	case !(l.Length > 0):
		return regulate.Reading{}, "It is not known how long was listened."
	}
	recorder := float64(l.Clock.Limit) / normal95
	own := math.Sqrt(max(0, float64(mean.U)*float64(mean.U)-recorder*recorder))
	own = max(own, float64(mean.U)/100) // the two cannot be told apart to the last figure
	end := l.Started.Add(time.Duration(float64(l.Length) * 1e9))
	return regulate.Reading{At: job.Instant(end), From: job.Instant(l.Started), How: regulate.ByEar, Rate: mean.Value, U: own, Clock: unit.Rate(recorder)}, ""
}

// normal95 is half the width of the middle 95 of 100 of a normal.
const normal95 = 1.96

// Heard is the entry of a trial that uses a listening, by its UID; 0 where none
// that stands does.
func (t Trial) Heard(uid string) int {
	for _, e := range t.Book.Standing() {
		if e.Kind == trial.Read && e.Source == uid {
			return e.N
		}
	}
	return 0
}

// ReadByEar writes the rate of a kept listening down as a reading of its
// clock's trial, once.
func (s *Shop) ReadByEar(ctx context.Context, by string, id int64) ([]trial.Event, error) {
	l, err := s.Listening(ctx, id)
	if err != nil {
		return nil, err
	}
	r, why := EarReading(l)
	if why != "" {
		return nil, &Problem{Code: Conflict, Message: "This listening is no reading of the trial.", Hint: why}
	}
	t, err := s.Trial(ctx, l.ClockID)
	if err != nil {
		return nil, err
	}
	if n := t.Heard(l.UID); n > 0 {
		return nil, &Problem{Code: Conflict, Message: fmt.Sprintf("This listening is a reading of the trial already: entry %d.", n), Hint: "It can be taken back there."}
	}
	return s.AddTrial(ctx, by, l.ClockID, t.Book.Len(), trial.OfReadings(nil, l.UID, r))
}
