package bath

import (
	"time"

	"seatboard/internal/craft/clean"
)

// Wait is the step that a batch waits for.
type Wait struct {
	Step  clean.Step
	Since time.Time // when the step before it was ticked, or the parts went in
	Late  bool      // it has waited longer than is good for the parts
}

// stepWithin is how long after the one before a step should be done: liquid
// that dries on brass stains it, and what is wet rusts. Common practice, no
// source; the figures are ours, from memory.
func stepWithin(step string) time.Duration {
	switch step {
	case clean.RinseStep:
		return 5 * time.Minute
	case clean.InspectStep:
		return 24 * time.Hour
	}
	return 10 * time.Minute
}

// Waits tells which step is to be ticked next, as of now; false where all are
// or the batch is over. The bath itself is late once its end has come.
func (b *Batch) Waits(now time.Time) (Wait, bool) {
	open := b.Open()
	if b.Began.IsZero() || b.Ended() || len(open) == 0 {
		return Wait{}, false
	}
	w := Wait{Step: open[0], Since: b.last()}
	if b.InLiquid() {
		w.Late = b.Left(now) <= 0
		return w, true
	}
	w.Late = now.Sub(w.Since) > stepWithin(w.Step.Key)
	return w, true
}
