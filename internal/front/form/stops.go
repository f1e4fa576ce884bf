package form

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"seatboard/internal/craft/regulate/stops"
	"seatboard/internal/craft/train"
)

// Stops declares the inputs of what a clock's stops have in common: the stops
// as text, and of train and drive what bears on them.
func Stops(q *stops.Query) Form {
	q.Train, q.Drive = nil, nil
	told := Field{Name: "stops", Label: "The stops", Kind: Area, Arg: true, set: func(s string) error {
		t, err := stops.ParseTold(s)
		q.Stops = t.Stops
		return err
	}}
	told.Hint = "Where the hands stood, one stop on a line: 10:47, or 10:47:12 with the seconds hand; behind it found 2026-11-20 08:15, going, wound, weight 310 mm, strike warned, room 12 °C, hands left, +12 min or unknown"
	counts := []Field{
		onTrain("going", "Counts of the going train", q, func(t *train.Query, s string) error {
			c, err := train.ParseChain(s)
			t.Trains = append(t.Trains, train.Train{Name: train.Going, Chain: c})
			return err
		}).Hinted("As handbooks print them: 96/8 60/8 56/7 30"),
		onTrain("hour-arbor", "Arbor that turns once an hour", q, func(t *train.Query, s string) error { t.HourArbor = s; return nil }).Hinted("Its number from the barrel, or its name; empty to be found").Sized(12),
		onTrain("motion", "Motion work", q, func(t *train.Query, s string) error { return t.Motion.UnmarshalText([]byte(s)) }).Hinted("To the hour hand: 36/12 40/10").Sized(16),
		onTrain("beats-per-hour", "Beats an hour", q, func(t *train.Query, s string) error { return t.Beats.UnmarshalText([]byte(s)) }).Sized(8),
	}
	return Form{Name: "stops", Groups: []Group{
		{Legend: "The stops", Fields: []Field{told}},
		{Legend: "The clock", Fields: append(counts,
			Choice("strikes", "It strikes", &q.Strikes, Option{string(stops.StrikesNothing), "Nothing"}, Option{string(stops.StrikesHours), "Hours"}, Option{string(stops.StrikesHalves), "Hours and halves"}),
			Choice("counts", "The blows are counted by", &q.Counts, countings()...),
			Quantity("run", "Run from wound to down", "d", &q.Run).Sized(8),
			Whole("dial", "Hours on the dial", &q.Dial, 12, 24).Hinted("12 where empty, or 24"))},
		{Legend: "A strike that counts by a wheel", Folded: true, Fields: []Field{
			onStrike("strike", "Counts of the strike train", q, func(t *train.Train, s string) (err error) { t.Chain, err = train.ParseChain(s); return err }).Hinted("Ends in the fly’s pinion: 78/8 56/7 48/6"),
			onStrike("strike-pins", "Pins that lift the hammer", q, func(t *train.Train, s string) (err error) {
				if t.Pins, err = strconv.Atoi(s); err != nil {
					err = errors.New("write how many pins there are, like 8")
				}
				return err
			}).Sized(6),
			onStrike("strike-pin-arbor", "Arbor that has them", q, func(t *train.Train, s string) error { t.PinArbor = s; return nil }).Hinted("Its number or name; empty for the second, or the first with ten pins or more").Sized(12),
			onStrike("strike-report", "From there to the count wheel", q, func(t *train.Train, s string) (err error) { t.Report, err = train.ParseChain(s); return err }).Hinted("78/8; it goes round once in 78 blows, or 90 with the halves").Sized(12),
		}},
	}}
}

// onStrike is a field of the strike train, which there is once one of them is
// filled in.
func onStrike(name, label string, q *stops.Query, set func(*train.Train, string) error) Field {
	return onTrain(name, label, q, func(t *train.Query, s string) error {
		i := slices.IndexFunc(t.Trains, func(x train.Train) bool { return x.Name == train.Strike })
		if i < 0 {
			i = len(t.Trains)
			t.Trains = append(t.Trains, train.Train{Name: train.Strike})
		}
		return set(&t.Trains[i], s)
	})
}

// onTrain is a field of the train, which there is once one of them is filled
// in.
func onTrain(name, label string, q *stops.Query, set func(*train.Query, string) error) Field {
	return Field{Name: name, Label: label, Size: 30, set: func(s string) error {
		if q.Train == nil {
			q.Train = &train.Query{}
		}
		return set(q.Train, strings.TrimSpace(s))
	}}
}
