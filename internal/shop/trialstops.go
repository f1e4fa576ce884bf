package shop

import (
	"context"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/trial"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/craft/regulate/stops"
	"seatboard/internal/craft/train"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// TrialStops is a clock on trial with what its stops have in common.
type TrialStops struct {
	Trial
	Found  []StopFound   // the stops that stand, the first first
	Answer *stops.Answer // nil where there is no stop; shared and not to be changed
	Still  *trial.Stop   // it stands now
	Dial   int           // hours on it
}

// StopFound is a stop with the number of its entry.
type StopFound struct {
	N int
	trial.Stop
}

// keptStops keeps what was said of the stops of trials, by the query of each
// trial that is kept.
type keptStops struct {
	mu   sync.Mutex
	kept map[*regulate.Query]*stops.Answer
}

// TrialStops loads a clock's stops and says what they have in common, by the
// trains and the drive of its survey and what else is written of its trial.
func (s *Shop) TrialStops(ctx context.Context, clock int64) (TrialStops, error) {
	t, err := s.Trial(ctx, clock)
	if err != nil {
		return TrialStops{}, err
	}
	out := TrialStops{Trial: t, Dial: dialOf(s.worked(ctx, t.Survey).Train)}
	for _, e := range t.Book.Standing() {
		if e.Kind == trial.Stood {
			out.Found = append(out.Found, StopFound{e.N, *e.Stop})
		}
	}
	slices.SortStableFunc(out.Found, func(a, b StopFound) int { return a.Stop.Found.Compare(b.Stop.Found) })
	if last, ok := t.Book.Still(); ok {
		out.Still = &last
	}
	if len(out.Found) == 0 {
		return out, nil
	}
	out.Answer, err = s.stops.of(t.Query, func() (stops.Answer, error) { return stops.Solve(s.stopsQuery(ctx, out)) })
	return out, explain(err)
}

// of gives what is kept, or works it out.
func (k *keptStops) of(q *regulate.Query, solve func() (stops.Answer, error)) (*stops.Answer, error) {
	k.mu.Lock()
	have := k.kept[q]
	k.mu.Unlock()
	if have != nil {
		return have, nil
	}
	a, err := solve()
	if err != nil {
		return nil, err
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.kept == nil || len(k.kept) >= mostTrials {
		k.kept = map[*regulate.Query]*stops.Answer{}
	}
	k.kept[q] = &a
	return &a, nil
}

// stopsQuery puts together what is known of a clock and its stops. Parts of
// the survey that cannot be reckoned are left out.
func (s *Shop) stopsQuery(ctx context.Context, t TrialStops) stops.Query {
	q := stops.Query{Touches: t.Query.Touches, Readings: t.Query.Readings, Air: t.Query.Air, Dial: t.Dial}
	q.Touches = slices.DeleteFunc(slices.Clone(q.Touches), func(x regulate.Touch) bool { return x.Kind == regulate.Stopped })
	zone := s.Zone()
	for _, f := range t.Found {
		if f.Dial == 24 { // as it was when it was found
			q.Dial = 24
		}
		if n := len(q.Stops); n > 0 && q.Stops[n-1].Found.Equal(f.Stop.Found) {
			continue // written down twice
		}
		x := stops.Stop{ID: f.N, Hands: stops.Hands{Hour: f.Hour, Minute: f.Minute, Second: f.Second}, U: f.U, Found: f.Stop.Found.In(zone),
			Weight: f.Weight, Strike: f.Strike, Room: f.Room, Pendulum: f.Pendulum, Words: f.Words}
		if !f.Wound.IsZero() {
			x.Wound = f.Wound.In(zone)
		}
		if at := lastSeen(t.Query.Readings, x.Found); !at.IsZero() {
			x.Going = at.In(zone)
		}
		q.Stops = append(q.Stops, x)
	}
	q.Stops = q.Stops[max(0, len(q.Stops)-stops.MaxStops):]
	for i := range q.Stops {
		q.Stops[i].ID = i + 1
	}
	s.stopsSurvey(ctx, t.Survey, &q)
	if aim, ok := t.Book.Aim(); ok && aim.Strikes && q.Strikes == "" {
		q.Strikes = stops.StrikesHours
	}
	return q
}

// lastSeen is when a clock was last read before it was found standing.
func lastSeen(readings []regulate.Reading, found time.Time) (last time.Time) {
	for _, r := range readings {
		if !r.Out && r.At.Before(found) && r.At.After(last) {
			last = r.At
		}
	}
	return last
}

// stopsSurvey takes train and drive from the survey.
func (s *Shop) stopsSurvey(ctx context.Context, survey job.Survey, q *stops.Query) {
	a := s.worked(ctx, survey)
	if a.Drive != nil {
		q.Drive = &a.Drive.Query
	}
	if a.Train == nil || a.Train.Query.DialHours != 0 && a.Train.Query.DialHours != 12 && a.Train.Query.DialHours != 24 {
		return
	}
	q.Train = &a.Train.Query
	for _, t := range a.Train.Trains {
		if t.Name == train.Strike {
			q.Strikes = stops.StrikesHours
			if t.BlowsPer12h > 78 {
				q.Strikes = stops.StrikesHalves
			}
		}
	}
	if a.Train.SecondsHand == nil && a.Train.Complete { // what was written of one is no place on this train
		for i := range q.Stops {
			q.Stops[i].Hands.Second = meas.Result[unit.Duration]{}
		}
	}
}

// StopAsk is a clock found standing, as it was typed. What is empty was not
// looked at.
type StopAsk struct {
	Hands        string // "10:47", "10:47:12"
	Hour, Minute string // chosen, where Hands is empty
	Found        string // when; "" for Moment
	Wound        string // when it was wound last
	Weight       string
	Strike       string
	Room         string
	Pendulum     string
	Words        string
	Moment       time.Time
}

// StandTrial writes down that a clock was found standing.
func (s *Shop) StandTrial(ctx context.Context, by string, clock int64, seen int, ask StopAsk) ([]trial.Event, error) {
	var faults meas.Faults
	fail := func(field, text string) { faults = append(faults, meas.Fault{Field: field, Text: text}) }
	found, host := s.momentTyped("found", ask.Found, ask.Moment, true, &faults)
	x := trial.Stop{Found: found, Strike: ask.Strike, Pendulum: strings.TrimSpace(ask.Pendulum), Words: strings.TrimSpace(ask.Words)}
	if x.Strike == "" {
		x.Strike = stops.NotKnown
	}
	hands, wrong := handsTyped(ask)
	if wrong != "" {
		fail("hands", wrong)
	}
	counted := s.trainOf(ctx, clock)
	x.Minute, x.Second = hands.Minute, hands.Second
	if x.Hour = hands.Hour % 12; dialOf(counted) == 24 {
		x.Hour, x.Dial = hands.Hour%24, 24
	}
	airTyped(&x.Weight, "weight", ask.Weight, "mm", &faults)
	airTyped(&x.Room, "room", ask.Room, "°C", &faults)
	wound, wrong := trial.ParseMoment(ask.Wound, s.now(), s.Zone())
	switch {
	case wrong != "":
		fail("wound", wrong)
	case !wound.IsZero() && !wound.Before(found):
		fail("wound", "It was found standing before it was wound; look at both times")
	case !wound.IsZero():
		x.Wound = job.Instant(wound)
	}
	if a := counted; hands.Second.Set && a != nil && a.Complete && a.SecondsHand == nil {
		fail("hands", "By the counts of its survey no arbor of this clock turns once a minute: leave the seconds out, or count the train again")
	}
	if len(faults) > 0 {
		return nil, badInput(faults)
	}
	return s.AddTrial(ctx, by, clock, seen, trial.OfStop(host, x))
}

// handsTyped is where the hands stood, typed or chosen.
func handsTyped(ask StopAsk) (stops.Hands, string) {
	typed, chosen := strings.TrimSpace(ask.Hands), ask.Hour != "" || ask.Minute != ""
	if typed == "" && !chosen {
		return stops.Hands{}, "Enter where the hands stand, like 10:47"
	}
	if typed == "" {
		hour, err1 := strconv.Atoi(ask.Hour)
		minute, err2 := strconv.Atoi(ask.Minute)
		if err1 != nil || err2 != nil || hour < 0 || hour > 24 || minute < 0 || minute > 59 {
			return stops.Hands{}, "Choose both the hour and the minute, or type them, like 10:47"
		}
		return stops.Hands{Hour: hour, Minute: float64(minute)}, ""
	}
	h, err := stops.ParseHands(typed)
	if err != nil {
		return h, sentence(err)
	}
	if hour, _ := strconv.Atoi(ask.Hour); chosen && ((hour-h.Hour)%12 != 0 || ask.Minute != strconv.Itoa(int(h.Minute))) {
		return h, "The hands are typed as " + h.String() + " and chosen otherwise; leave one of the two empty"
	}
	return h, ""
}

// sentence is an error as a sentence beside a field.
func sentence(err error) string {
	text := []rune(err.Error())
	return strings.ToUpper(string(text[:1])) + string(text[1:])
}

// trainOf is the counted train of a clock's survey, nil where there is none.
func (s *Shop) trainOf(ctx context.Context, clock int64) *train.Answer {
	t, err := s.Trial(ctx, clock)
	if err != nil {
		return nil
	}
	return s.worked(ctx, t.Survey).Train
}

// dialOf is how many hours the dial has, 12 where that is not known.
func dialOf(a *train.Answer) int {
	if a != nil && a.Query.DialHours == 24 {
		return 24
	}
	return 12
}
