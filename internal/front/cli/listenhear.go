package cli

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"seatboard/internal/craft/listen"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/craft/train"
	"seatboard/internal/front/desk"
	"seatboard/internal/io/audio"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/progress"
	"seatboard/internal/kit/unit"
	"seatboard/internal/shop"
)

// query reads what is known of the clock and the recorder.
func (l *listening) query(cmd *cobra.Command) (listen.Query, error) {
	q := listen.Query{Clock: sampleclock.Unknown()}
	var faults meas.Faults
	fault := func(field string, err error) {
		var named meas.Faults
		switch {
		case err == nil:
		case errors.As(err, &named):
			for i := range named {
				named[i].Field = field
			}
			faults = append(faults, named...)
		default:
			faults = append(faults, meas.Fault{Field: field, Text: err.Error()})
		}
	}
	var err error
	switch {
	case l.train != "" && l.clock != "":
		return q, usagef("give --train or --clock, not both")
	case l.train != "":
		q.Train, err = train.Parse(l.train)
		fault("train", err)
	case l.clock != "":
		if q.Train, err = l.trainOf(cmd); err != nil {
			return q, err
		}
	}
	q.BeatsPerHour, err = meas.Parse[unit.Ratio](l.perHour, "")
	fault("beats-per-hour", err)
	if l.recorder != "" {
		q.Clock, err = recorderClock(l.recorder)
		fault("recorder-error", err)
	}
	if len(faults) == 0 {
		faults = q.Check()
	}
	if len(faults) > 0 {
		return q, faults
	}
	return q, nil
}

var errNoLimit = errors.New("say how well it is known, as in 12 ± 3 ppm")

// recorderClock reads "12 ± 3 ppm": the error of a recorder's clock and its
// 95 % limit.
func recorderClock(s string) (sampleclock.Clock, error) {
	r, err := meas.Parse[unit.Rate](s, "ppm")
	if err == nil && !(r.U > 0) {
		err = errNoLimit
	}
	return sampleclock.Clock{Error: r.Value, Limit: r.U, How: sampleclock.Stated}, err
}

// trainOf is the train of a clock in the book, with what the other parts of
// its survey lend it.
func (l *listening) trainOf(cmd *cobra.Command) (q train.Query, err error) {
	err = openAnd(cmd, l.env, func(ctx context.Context, s *shop.Shop) error {
		c, err := byNumber(ctx, s, l.clock)
		if err != nil {
			return err
		}
		f, err := s.File(ctx, c.ID)
		if err != nil {
			return err
		}
		typed := map[string]map[string][]string{}
		for key, p := range f.Survey {
			if p.Removed.IsZero() {
				typed[key] = p.Values
			}
		}
		for _, p := range desk.WorkSurvey(ctx, typed).Parts {
			if p.Outcome == nil {
				continue
			}
			if a, ok := p.Outcome.Answer.(train.Answer); ok {
				q = a.Query
				return nil
			}
		}
		return &shop.Problem{Code: shop.NotFound, Message: fmt.Sprintf("The survey of clock %s has no train that can be worked out.", c.Number), Hint: "Give its counts with --train, or leave --clock out."}
	})
	return q, err
}

// about is what a beat should last, 0 where that is not known.
func about(q listen.Query) unit.Duration {
	if q.BeatsPerHour.Set {
		return unit.Duration(3600 / float64(q.BeatsPerHour.Value))
	}
	if len(q.Train.Trains) == 0 {
		return 0
	}
	a, err := train.Solve(q.Train)
	if err != nil || !a.SecondsPerBeat.Known() {
		return 0
	}
	return unit.Duration(a.SecondsPerBeat.Float())
}

// hear fills in what is heard, and what is odd of the recording.
func (l *listening) hear(ctx context.Context, name string, q *listen.Query) (err error) {
	if l.times {
		q.Hearing, err = l.readTimes(name)
		return err
	}
	s, err := l.opened(ctx, name)
	if err != nil {
		return soundProblem(name, err)
	}
	defer s.Close()
	counter := &progress.Counter{}
	ear := beat.NewEar(s, beat.Options{Beat: about(*q), Progress: counter})
	counter.Expect(max(0, s.Info().Frames))
	err = watchedAs(l.env, func() string { return heardSoFar(counter, s.Rate()) }, func() error { return untilStopped(ctx, ear) })
	q.Hearing = ear.Heard()
	if err != nil && ctx.Err() == nil {
		return soundProblem(name, err)
	}
	q.Hearing.Complete = q.Hearing.Complete && ctx.Err() == nil
	q.Notes = s.Notes()
	return nil
}

// graceToStop is how long an ear may take to come to its end after Ctrl-C: one
// that waits for a recorder that says nothing would wait for ever.
const graceToStop = 2 * time.Second

func untilStopped(ctx context.Context, ear *beat.Ear) error {
	done := make(chan error, 1)
	go func() { done <- ear.Run(ctx) }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	select {
	case err := <-done:
		return err
	case <-time.After(graceToStop):
		return ctx.Err()
	}
}

// heardSoFar is "Listening, 12 min 3 s of 1 h 0 min".
func heardSoFar(c *progress.Counter, rate float64) string {
	at, of := c.Sample()
	clock := func(n int64) string {
		s := int64(float64(n) / rate)
		if s < 3600 {
			return fmt.Sprintf("%d min %02d s", s/60, s%60)
		}
		return fmt.Sprintf("%d h %02d min", s/3600, s/60%60)
	}
	if of <= 0 {
		return "Listening, " + clock(at)
	}
	return "Listening, " + clock(at) + " of " + clock(of)
}

var errNoSound = &shop.Problem{Code: shop.BadInput, Message: "It was stopped before any sound came.", Hint: "Look whether the recorder is running."}

// opened is open that can be stopped while a recorder says nothing yet.
func (l *listening) opened(ctx context.Context, name string) (audio.Sound, error) {
	type sound struct {
		audio.Sound
		err error
	}
	done := make(chan sound, 1)
	go func() {
		s, err := l.open(ctx, name)
		done <- sound{s, err}
	}()
	select {
	case s := <-done:
		return s.Sound, s.err
	case <-ctx.Done():
		return nil, errNoSound
	}
}

func (l *listening) open(ctx context.Context, name string) (audio.Sound, error) {
	o := audio.Options{Channel: l.channel}
	if l.channel < 0 {
		return nil, usagef("--channel is 1 or more, or 0 for the mean of all")
	}
	if l.raw != "" {
		f, err := rawFormat(l.raw)
		if err != nil {
			return nil, err
		}
		o.Raw = &f
	}
	if name == "-" {
		return audio.OpenReader(ctx, l.env.In, o)
	}
	return audio.Open(ctx, name, o)
}

// rawFormat reads "s16 48000 1".
func rawFormat(s string) (audio.RawFormat, error) {
	kinds := map[string]audio.RawFormat{"u8": {Bits: 8}, "s16": {Bits: 16}, "s24": {Bits: 24}, "s32": {Bits: 32}, "f32": {Bits: 32, Float: true}, "f64": {Bits: 64, Float: true}}
	words := strings.Fields(s)
	if len(words) < 2 || len(words) > 3 {
		return audio.RawFormat{}, usagef("write --raw as kind, samples a second and channels: 's16 48000 1'")
	}
	f, ok := kinds[strings.ToLower(words[0])]
	if !ok {
		return f, usagef("--raw kind %q is none of u8, s16, s24, s32, f32, f64 (little end first)", words[0])
	}
	var err error
	if f.Rate, err = strconv.ParseFloat(words[1], 64); err != nil {
		return f, usagef("--raw %q is not a number of samples a second", words[1])
	}
	f.Channels = 1
	if len(words) == 3 {
		if f.Channels, err = strconv.Atoi(words[2]); err != nil || f.Channels < 1 {
			return f, usagef("--raw %q is not a number of channels", words[2])
		}
	}
	return f, nil
}

// soundProblem says what is the matter with a recording.
func soundProblem(name string, err error) error {
	if p, ok := timesProblem(err); ok {
		return p
	}
	var format *audio.FormatError
	var path *fs.PathError
	switch {
	case errors.As(err, &format):
		return &shop.Problem{Code: shop.BadInput, Message: err.Error()}
	case errors.As(err, &path):
		return &shop.Problem{Code: shop.NotFound, Message: fmt.Sprintf("The file %q cannot be read.", name), Hint: "Check its name."}
	}
	return err
}
