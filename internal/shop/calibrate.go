package shop

import (
	"context"
	"slices"
	"sync"
	"time"

	"seatboard/internal/book/readings"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/io/hostclock"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// calibrator compares a recorder's clock with the computer's while it is
// listened to: by the count of its samples and when they came.
type calibrator struct {
	rate float64
	host sampleclock.Host

	mu      sync.Mutex
	fitter  *sampleclock.Fitter
	capture int
	first   time.Time
	fit     sampleclock.Fit
	steps   []stepOf   // in all captures; those of this one from own on
	changes []changeOf //
	own     [2]int
}

// stepOf and changeOf say in which capture they are.
type stepOf struct {
	capture int
	sampleclock.Step
}

type changeOf struct {
	capture int
	sampleclock.Change
}

func (c *calibrator) begin(rate float64, host sampleclock.Host) {
	if host.Kind == "" {
		host = hostclock.Disciplined(context.Background()).Host()
	}
	c.rate, c.host = rate, host
	c.fit.Clock = sampleclock.Unknown()
}

// take notes a block. It does not wait: one that comes while the fit is
// worked out is passed over, for any block will do.
func (c *calibrator) take(at Stamp, n int) {
	if !c.mu.TryLock() {
		return
	}
	defer c.mu.Unlock()
	if c.fitter == nil || at.Capture != c.capture {
		c.fitter, c.capture, c.first = sampleclock.NewFitter(c.rate, c.host), at.Capture, at.Came
		c.own = [2]int{len(c.steps), len(c.changes)}
	}
	c.fitter.Add(sampleclock.Arrival{Frame: at.First + int64(n), At: unit.Duration(at.Came.Sub(c.first).Seconds())})
}

// work works the fit out. That of an earlier capture stands until the new
// one says more.
func (c *calibrator) work() {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.fitter == nil {
		return
	}
	f := c.fitter.Fit()
	c.steps, c.changes = c.steps[:c.own[0]], c.changes[:c.own[1]]
	for _, s := range f.Steps {
		c.steps = append(c.steps, stepOf{c.capture, s})
	}
	for _, x := range f.Changes {
		c.changes = append(c.changes, changeOf{c.capture, x})
	}
	if f.Clock.How != sampleclock.Supposed || c.fit.Clock.How == sampleclock.Supposed {
		c.fit = f
	}
}

// breaks is where samples were lost or put in, and where their rate changed,
// by when the blocks came.
func (c *calibrator) breaks() ([]stepOf, []changeOf) {
	c.mu.Lock()
	defer c.mu.Unlock()
	return slices.Clone(c.steps), slices.Clone(c.changes)
}

func (c *calibrator) last() sampleclock.Fit {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.fit
}

// CalibrateLive keeps what a live run has found of its recorder's clock, for
// all that is heard with that recorder from now on. warm is how warm the room
// is, unset where nobody says.
func (s *Shop) CalibrateLive(ctx context.Context, by, id string, warm meas.Reading[unit.Temperature]) (readings.Calibration, error) {
	l, err := s.Live(id)
	if err != nil {
		return readings.Calibration{}, err
	}
	f := l.fitter.last()
	clock := l.clockOf(f)
	switch {
	case clock.How == sampleclock.Compared && l.fitter.host.Kind == sampleclock.Undisciplined:
		return readings.Calibration{}, &Problem{Code: BadInput, Message: "Nothing keeps this computer's clock right, so that it cannot judge a recorder.",
			Hint: "Switch on the setting of the time by the network and listen again an hour later; or ask a time server at the beginning and the end of the run."}
	case clock.How == sampleclock.Compared:
		return readings.Calibration{}, &Problem{Code: BadInput, Message: "The recorder does not make the samples a second that it states.", Hint: "Nothing was kept. Choose another rate or another recorder."}
	case clock.How != sampleclock.Calibrated:
		return readings.Calibration{}, &Problem{Code: BadInput, Message: "Nothing better than ±50 ppm is known of this recorder yet.",
			Hint: "Listen for ten minutes or more."}
	case l.asked.Device == "":
		return readings.Calibration{}, &Problem{Code: BadInput, Message: "The recorder has no name by which it would be known again.", Hint: "Allow the browser to tell its name, or state its error by hand."}
	}
	c := readings.Calibration{Device: l.asked.Device, Clock: clock, Length: f.Length, Against: string(l.fitter.host.Kind), Warm: warm}
	if l.fitter.host.Kind == sampleclock.Undisciplined {
		c.Against = "two answers of a time server"
	}
	return s.Calibrate(ctx, by, c)
}

// StateRecorder keeps an error of a recorder's clock that somebody states.
func (s *Shop) StateRecorder(ctx context.Context, by, device string, c sampleclock.Clock) (readings.Calibration, error) {
	c.How = sampleclock.Stated
	return s.Calibrate(ctx, by, readings.Calibration{Device: device, Clock: c})
}

// ForgetRecorder lets nothing be known of a recorder's clock from now on: it
// is within ±50 ppm. What was reckoned with before stays as it was.
func (s *Shop) ForgetRecorder(ctx context.Context, by, device string) error {
	_, err := s.Calibrate(ctx, by, readings.Calibration{Device: device, Clock: sampleclock.Unknown()})
	return err
}

// UseCalibration lets the nth kept of a recorder, counted from the last (0),
// count again: the recorder is back in the room it was compared in, or the
// last comparison was a bad one.
func (s *Shop) UseCalibration(ctx context.Context, by, device string, n int) error {
	err := s.store.Update(ctx, by, func(tx *store.Tx) error {
		all, err := tx.CalibrationsOf(device)
		if err != nil {
			return err
		}
		if n < 0 || n >= len(all) {
			return &Problem{Code: NotFound, Message: "There is no such comparison of this recorder.", Hint: "Choose one from the list."}
		}
		c := all[n]
		c.By = by
		_, err = tx.SetCalibration(c)
		return err
	})
	return explain(err)
}

// Recorder is a recorder of which something is known, or which is listened by.
type Recorder struct {
	Device string
	Kept   readings.Calibration   // the last; zero where none was kept
	Before []readings.Calibration // what was kept before it, the last first
	Used   sampleclock.Clock      // what is reckoned with, with the doubt of another day
	Age    time.Duration          // of Kept
	Runs   []LiveState            // that listen by it now
}

// Calibrated tells whether its clock was compared, or its error stated.
func (r Recorder) Calibrated() bool {
	return r.Kept.Clock.How == sampleclock.Calibrated || r.Kept.Clock.How == sampleclock.Stated
}

// Old tells whether it was compared so long ago that it is to be compared
// again: crystals age by a few ppm in their first years (common practice).
func (r Recorder) Old() bool { return r.Calibrated() && r.Age > 180*24*time.Hour }

// Recorders lists the recorders of which something was kept, by their names,
// and those that are listened by now.
func (s *Shop) Recorders(ctx context.Context) ([]Recorder, error) {
	kept, err := s.Calibrations(ctx)
	if err != nil {
		return nil, err
	}
	var out []Recorder
	for _, c := range kept {
		r := Recorder{Device: c.Device, Kept: c, Age: max(s.now().Sub(c.When), 0)}
		err := s.store.View(ctx, func(tx *store.Tx) error {
			all, err := tx.CalibrationsOf(c.Device)
			r.Before = all[min(1, len(all)):]
			return err
		})
		if err != nil {
			return nil, explain(err)
		}
		out = append(out, r)
	}
	for _, st := range s.Lives() {
		if !st.Running || st.Query.Device == "" {
			continue
		}
		i := slices.IndexFunc(out, func(r Recorder) bool { return r.Device == st.Query.Device })
		if i < 0 {
			i = len(out)
			out = append(out, Recorder{Device: st.Query.Device})
		}
		out[i].Runs = append(out[i].Runs, st)
	}
	for i := range out {
		out[i].Used = s.sampleClock(out[i].Device)
	}
	return out, nil
}
