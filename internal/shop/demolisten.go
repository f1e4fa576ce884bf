package shop

import (
	"context"
	"time"

	"seatboard/internal/book/readings"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/craft/listen/synth"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/unit"
)

// demoRecipe is the sound of the regulator: the wheel of 60 before the escape
// wheel runs out of true, so that the beats come early and late by 140 µs
// once in its 450 beats, and one tooth lets go 120 µs late on both pallets. The
// program has to find that out from the sound.
func demoRecipe() synth.Recipe {
	return synth.Recipe{
		Seed: 1868, Shape: 7, SampleRate: 8000, Length: 2400,
		Clock: synth.Clock{
			Beat: 1, Rate: unit.RatePerDay(1.7), BeatError: 11e-3, Teeth: 30, ToothErrors: []synth.ToothError{{Beat: 22, Late: 120e-6}, {Beat: 37, Late: 120e-6}},
			Arbors: []synth.Arbor{{Amplitude: 140e-6, Beats: 450, Phase: 2}}, ScatterPM: 60e-6, Silent: 0.001,
		},
		Noise:    synth.Noise{SNR: synth.DB(22)},
		Recorder: synth.Recorder{ClockError: 11e-6},
	}
}

// demoListening makes the recording of the regulator, listens to it as to any
// other, and keeps what was heard.
func (s *Shop) demoListening(ctx context.Context, clock int64, counts string) error {
	q, err := s.ask(ListenQuery{
		Clock: clock, Train: counts, Source: "boathouse.wav (made by Seatboard's own generator)", Path: readings.File, By: DemoName,
		Started: s.now().Add(-50 * time.Hour), How: readings.ByHand,
		SampleClock: sampleclock.Clock{Error: 11e-6, Limit: 0.5e-6, How: sampleclock.Calibrated, When: s.now().Add(-74 * time.Hour), Device: "bench recorder"},
	})
	if err != nil {
		return err
	}
	sound, err := synth.New(demoRecipe())
	if err != nil {
		return err
	}
	ear := beat.NewEar(sound, beat.Options{Beat: q.hint})
	if err := ear.Run(ctx); err != nil {
		return err
	}
	q.listen.Hearing = ear.Heard()
	a, err := s.ears.solve(q.listen)
	if err != nil {
		return err
	}
	l := q.record(a.Hearing, &a)
	if l.UID, err = newUID(); err != nil {
		return err
	}
	l.Finished = true
	l.Note = "Heard from the seat board, before the third arbor was taken out."
	return explain(s.store.Update(ctx, DemoName, func(tx *store.Tx) error {
		_, err := tx.AddListening(l)
		return err
	}))
}
