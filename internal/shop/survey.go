package shop

import (
	"context"

	"seatboard/internal/book/estimate"
	"seatboard/internal/craft/clean"
	"seatboard/internal/craft/divide"
	"seatboard/internal/craft/drive"
	"seatboard/internal/craft/identify"
	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/mesh"
	"seatboard/internal/craft/pendulum"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/craft/regulate/home"
	"seatboard/internal/craft/regulate/stops"
	"seatboard/internal/craft/regulate/tap"
	"seatboard/internal/craft/strikework"
	"seatboard/internal/craft/tooth"
	"seatboard/internal/craft/tooth/escapewheel"
	"seatboard/internal/craft/tooth/ratchet"
	"seatboard/internal/craft/train"
	"seatboard/internal/craft/train/missing"
	"seatboard/internal/craft/train/ratio"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/paper/present"
)

// Survey is the queries of a clock's survey; a part that was not filled in is
// nil.
type Survey struct {
	Train    *train.Query
	Pendulum *pendulum.Query
	Drive    *drive.Query
}

// Surveyed is the answers of a survey worked out together.
type Surveyed struct {
	Train    *train.Answer
	Pendulum *pendulum.Answer
	Drive    *drive.Answer
	// What each part took from the others, in words.
	TrainLent, PendulumLent, DriveLent []string
	// Why a part has no answer; its fields are the form's.
	TrainErr, PendulumErr, DriveErr error
}

// WorkSurvey answers the parts together: what one part knows and another
// wants is lent, and said. What was typed is never replaced.
func WorkSurvey(_ context.Context, s Survey) Surveyed {
	var out Surveyed
	if s.Pendulum != nil {
		if faults := s.Pendulum.Check(); len(faults) > 0 { // nothing wrong is lent
			out.PendulumErr, s.Pendulum = faults, nil
		}
	}
	if s.Train != nil {
		out.solveTrain(*s.Train, s.Pendulum)
	}
	if s.Pendulum != nil {
		out.solvePendulum(*s.Pendulum)
	}
	if s.Drive != nil {
		out.solveDrive(*s.Drive, s.Train, s.Pendulum)
	}
	return out
}

func (o *Surveyed) solveTrain(q train.Query, p *pendulum.Query) {
	if p != nil {
		lend(&q.Pendulum, p.Length, &o.TrainLent, "the length of the pendulum", "the pendulum")
		lend(&q.Gravity, gravityOf(*p), &o.TrainLent, "gravity", "the pendulum")
	}
	a, err := train.Solve(q)
	if err != nil {
		o.TrainErr = err
		return
	}
	o.Train = &a
}

// gravityOf is the gravity of the pendulum's place, typed or worked out.
func gravityOf(p pendulum.Query) meas.Reading[unit.Acceleration] {
	if p.Gravity.Set {
		return p.Gravity
	}
	a, err := pendulum.Solve(pendulum.Query{Latitude: p.Latitude, Height: p.Height, Ellipsoid: p.Ellipsoid})
	if err != nil || !p.Latitude.Set {
		return meas.Reading[unit.Acceleration]{}
	}
	return reading(a.Gravity)
}

func (o *Surveyed) solvePendulum(q pendulum.Query) {
	if o.Train != nil && o.Train.Anchor.Kind != train.ByPendulum && o.Train.BeatsPerHour.Known() && !q.Beat.Set {
		lend(&q.Beats, meas.Of(unit.Ratio(o.Train.BeatsPerHour.Float())), &o.PendulumLent, "beats an hour", "the train")
	}
	a, err := pendulum.Solve(q)
	if err != nil {
		o.PendulumErr = err
		return
	}
	o.Pendulum = &a
}

func (o *Surveyed) solveDrive(q drive.Query, t *train.Query, p *pendulum.Query) {
	if o.Train != nil {
		lend(&q.BeatsPerHour, exactly[unit.Ratio](o.Train.BeatsPerHour), &o.DriveLent, "beats an hour", "the train")
		if g := goingOf(o.Train); g != nil && len(g.Arbors) > 0 && !q.TurnsPerHour.Set && !q.RunningTime.Set {
			lend(&q.TurnTime, exactly[unit.Duration](g.Arbors[0].Period), &o.DriveLent, "one turn of the great wheel", "the train")
		}
		if g := goingQuery(t); g != nil { // the train was solved, so its turns make sense
			lend(&q.Turns, g.BarrelTurns, &o.DriveLent, "turns of the barrel", "the train")
		}
	}
	if p != nil {
		lend(&q.PendulumLength, p.Length, &o.DriveLent, "the length of the pendulum", "the pendulum")
		lend(&q.Gravity, gravityOf(*p), &o.DriveLent, "gravity", "the pendulum")
	}
	if o.Pendulum != nil {
		lend(&q.PendulumLength, reading(o.Pendulum.Length), &o.DriveLent, "the length of the pendulum", "the pendulum")
	}
	a, err := drive.Solve(q)
	if err != nil {
		o.DriveErr = err
		return
	}
	o.Drive = &a
}

func goingOf(a *train.Answer) *train.Turned {
	for i := range a.Trains {
		if a.Trains[i].Name == train.Going {
			return &a.Trains[i]
		}
	}
	return nil
}

func goingQuery(q *train.Query) *train.Train {
	if q == nil {
		return nil
	}
	for i := range q.Trains {
		if q.Trains[i].Name == train.Going {
			return &q.Trains[i]
		}
	}
	return nil
}

// lend fills a reading that was not typed and says from where.
func lend[Q unit.Quantity](to *meas.Reading[Q], from meas.Reading[Q], said *[]string, what, part string) {
	if to.Set || !from.Set {
		return
	}
	*to = from
	*said = append(*said, what+" from "+part)
}

// reading is a result as a reading.
func reading[Q unit.Quantity](r meas.Result[Q]) meas.Reading[Q] {
	return meas.Reading[Q]{Value: r.Value, U: r.U, HasU: r.HasU, Set: r.Set}
}

// exactly is an exact number as a reading without doubt.
func exactly[Q unit.Quantity](e train.Exact) meas.Reading[Q] {
	if !e.Known() {
		return meas.Reading[Q]{}
	}
	return meas.Of(Q(e.Float()))
}

// Chapters lists what each part of the craft leans on and how it proves
// itself.
func Chapters() []present.Chapter {
	return []present.Chapter{
		{Title: "Wheel trains", Entries: train.Sources(), Checks: train.Checks()},
		{Title: "Ratios", Entries: ratio.Sources(), Checks: ratio.Checks()},
		{Title: "Screws, wire, drills and pins", Entries: identify.Sources(), Checks: identify.Checks()},
		{Title: "Missing wheels", Entries: missing.Sources(), Checks: missing.Checks()},
		{Title: "Pendulum", Entries: pendulum.Sources(), Checks: pendulum.Checks()},
		{Title: "Depthing", Entries: mesh.Sources(), Checks: mesh.Checks()},
		{Title: "Drive", Entries: drive.Sources(), Checks: drive.Checks()},
		{Title: "Cleaning", Entries: clean.Sources(), Checks: clean.Checks()},
		{Title: "Estimates", Entries: estimate.Sources(), Checks: estimate.Checks()},
		{Title: "Why a clock stops", Entries: stops.Sources(), Checks: stops.Checks()},
		{Title: "Teeth", Entries: tooth.Sources(), Checks: tooth.Checks()},
		{Title: "Dividing", Entries: divide.Sources(), Checks: divide.Checks()},
		{Title: "Escape wheels and ratchets", Entries: append(escapewheel.Sources(), ratchet.Sources()...), Checks: escapewheel.Checks()},
		{Title: "Strike work", Entries: strikework.Sources(), Checks: strikework.Checks()},
		{Title: "Readings by taps", Entries: tap.Sources(), Checks: tap.Checks()},
		{Title: "Listening", Entries: listen.Sources(), Checks: listen.Checks()},
		{Title: "On trial", Entries: regulate.Sources(), Checks: regulate.Checks()},
		{Title: "A new home", Entries: home.Sources(), Checks: home.Checks()},
	}
}
