package shop

import (
	"context"
	"strings"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/trial"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// TrialAsk is a look at a clock on trial as it was typed, with the air beside
// it. What is empty was not looked at.
type TrialAsk struct {
	Seen string // "12 s fast", "9:14:12": trial.ParseSeen
	At   string // when; "" for Moment
	Air  AirAsk

	Moment time.Time // when it was looked at where nothing is typed; now where zero
	Shown  bool      // this program showed the time of day that the clock was held against
}

// AirAsk is the air as it was typed.
type AirAsk struct{ Temperature, Pressure, Humidity, Arc, Weight string }

// TouchAsk is something done to a clock on trial as it was typed.
type TouchAsk struct {
	What   string // "nut up 1/2": trial.ParseTouch
	At     string // when; "" for Moment
	Words  string // a remark
	Moment time.Time
}

// ReadTrial writes a look at a clock on trial down, and the air.
func (s *Shop) ReadTrial(ctx context.Context, by string, clock int64, seen int, ask TrialAsk) ([]trial.Event, error) {
	events, faults := s.lookTyped(ask)
	if len(faults) > 0 {
		return nil, badInput(faults)
	}
	return s.AddTrial(ctx, by, clock, seen, events...)
}

// TouchTrial writes down what was done to a clock on trial.
func (s *Shop) TouchTrial(ctx context.Context, by string, clock int64, seen int, ask TouchAsk) ([]trial.Event, error) {
	t, err := s.Trial(ctx, clock)
	if err != nil {
		return nil, err
	}
	var faults meas.Faults
	at, host := s.momentTyped("at", ask.At, ask.Moment, true, &faults)
	touch, wrong := trial.ParseTouch(ask.What, t.Query.Known.Divisions)
	if wrong != "" {
		faults = append(faults, meas.Fault{Field: "what", Text: wrong})
	}
	if len(faults) > 0 {
		return nil, badInput(faults)
	}
	touch.At = at
	touch.Words = strings.TrimSpace(touch.Words + " " + strings.TrimSpace(ask.Words))
	return s.AddTrial(ctx, by, clock, seen, trial.OfTouch(host, touch))
}

// momentTyped is the instant that was typed in a field, or the moment where
// nothing was. shown tells that what was looked at was held against a time of
// day that this program showed.
func (s *Shop) momentTyped(field, text string, moment time.Time, shown bool, faults *meas.Faults) (time.Time, *trial.Host) {
	now := s.now()
	at, wrong := trial.ParseMoment(text, now, s.Zone())
	if wrong != "" {
		*faults = append(*faults, meas.Fault{Field: field, Text: wrong})
	}
	host := &trial.Host{From: trial.ByComputer}
	if !at.IsZero() || !shown {
		host.From = trial.ByTyping
	}
	switch {
	case !at.IsZero():
	case moment.IsZero() || moment.After(now):
		at = now
	default:
		at = moment
	}
	return job.Instant(at), host
}

// lookTyped reads what was typed of a look.
func (s *Shop) lookTyped(ask TrialAsk) ([]trial.Event, meas.Faults) {
	var faults meas.Faults
	var out []trial.Event
	seen, wrong := trial.ParseSeen(ask.Seen)
	at, host := s.momentTyped("at", ask.At, ask.Moment, ask.Shown || seen.Shown != nil, &faults)
	air, some := ask.Air.read(at, &faults)
	if strings.TrimSpace(ask.Seen) != "" || !some {
		if wrong != "" {
			faults = append(faults, meas.Fault{Field: "seen", Text: wrong})
		}
		r := regulate.Reading{At: at, How: regulate.ByHand, Error: seen.At(at, s.Zone()), U: float64(seen.U)}
		out = append(out, trial.OfReadings(host, "", r))
	}
	if some {
		out = append(out, trial.OfAir(host, "", air))
	}
	return out, faults
}

// read gives the air, and whether any of it was typed.
func (a AirAsk) read(at time.Time, faults *meas.Faults) (regulate.Air, bool) {
	air := regulate.Air{At: at}
	airTyped(&air.Temperature, "temperature", a.Temperature, "°C", faults)
	airTyped(&air.Pressure, "pressure", a.Pressure, "hPa", faults)
	airTyped(&air.Humidity, "humidity", a.Humidity, "%", faults)
	airTyped(&air.Arc, "arc", a.Arc, "°", faults)
	airTyped(&air.Weight, "weight", a.Weight, "mm", faults)
	return air, a != (AirAsk{})
}

// airTyped reads one figure; a bare number is in the assumed unit.
func airTyped[Q unit.Quantity](to *meas.Result[Q], field, text, assumed string, faults *meas.Faults) {
	r, err := meas.Parse[Q](text, assumed)
	if err != nil {
		*faults = append(*faults, meas.Fault{Field: field, Text: err.Error()})
		return
	}
	*to = meas.Result[Q]{Value: r.Value, U: r.U, HasU: r.HasU, Set: r.Set}
}
