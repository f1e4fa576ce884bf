package desk

import (
	"context"

	"seatboard/internal/craft/clean"
	"seatboard/internal/craft/drive"
	"seatboard/internal/craft/pendulum"
	"seatboard/internal/craft/regulate/home"
	"seatboard/internal/craft/regulate/stops"
	"seatboard/internal/craft/train"
	"seatboard/internal/front/form"
	"seatboard/internal/kit/doc"
	"seatboard/internal/paper/present"
)

// listed lists the calculations of a survey and those of a clock that goes;
// the rest is in toMake and toothed.
func listed() []Calculation {
	return append([]Calculation{
		{
			Name: "train", Job: survey, Title: "Wheel trains", Arg: "COUNTS",
			Lead: "From the counts of wheels and pinions: turns of every arbor, beats an hour, running time, and what does not fit.",
			Examples: []Example{
				{`'96/8 60/8 56/7 30' --going-barrel-turns 16`, "an eight-day train with a seconds pendulum"},
				{`'96/8 60/8 ?/7 30' --hour-arbor 2 --pendulum '994 mm'`, "what a lost third wheel must have been"},
			},
			Begin: begin(form.Train, train.Solve, present.Train),
			Tidy:  form.LayOutTrains,
			Chosen: func(answer any, choice string) doc.Doc {
				return present.TrainWith(answer.(train.Answer), choice)
			},
		},
		{
			Name: "pendulum", Job: survey, Title: "Pendulum",
			Lead: "From beat to length and back, for the place the clock stands in; rod, bob and nut; arc, warmth and air.",
			Examples: []Example{
				{`--beats 3600 --latitude '51° 28′ N'`, "the length of a seconds pendulum at that latitude"},
				{`--length '994 mm' --nut-pitch '40 tpi' --rod steel`, "what a turn of the nut and a degree of warmth are worth"},
			},
			Begin: begin(form.Pendulum, pendulum.Solve, present.Pendulum),
		},
		{
			Name: "drive", Job: survey, Title: "Drive",
			Lead: "Weight, line, barrel and fall: how long it runs, where the weight hangs each day, what the line bears; mainspring and fusee.",
			Examples: []Example{
				{`--weight '5.5 kg' --barrel-diameter '50 mm' --line-diameter '1.4 mm' --turns 16 --turn-time '12 h' --falls 2`, "the fall, day by day"},
				{`--weight-diameter '3 in' --weight-height '9 in' --weight-material lead`, "the mass of a weight from its size"},
			},
			Begin: begin(form.Drive, drive.Solve, present.Drive),
		},
		{
			Name: "regulate", Job: trial, Title: "Regulation", Arg: "FILE", Apart: true,
			Lead: "From readings over hours or weeks: how the clock goes, what makes it go so, and what to do at the nut, or how long to wait.",
			Examples: []Example{
				{`trial.txt --per-turn '30 ± 3 s/d' --divisions 60`, "what to do at the nut, from a file with a reading or touch on each line"},
				{`--lines '2026-11-03 09:14 +12 s' --lines '2026-11-05 09:10 +31 s' --rod deal`, "the rate from two readings, and what it cannot tell yet"},
			},
			Begin: sitRegulate,
		},
		{
			Name: "stops", Job: trial, Title: "Why it stops", Arg: "HANDS", Apart: true,
			Lead: "From where the hands stood each time: which wheel stood at the same tooth, whether it is the strike, the weight, cold or a touch, and the chance that it is nothing.",
			Examples: []Example{
				{`10:49 2:25 6:01 9:13 11:37 --going '96/8 60/8 56/7 30'`, "five stops of an eight-day train"},
				{`'3:56 hands left; 7:58; 11:55 strike warned' --strikes hours`, "three stops near the hour"},
			},
			Begin: begin(form.Stops, stops.Solve, present.Stops),
			Lend:  map[string]string{"going": "train/going", "hour-arbor": "train/hour-arbor", "motion": "train/motion", "beats-per-hour": "train/beats-per-hour"},
		},
		{
			Name: "home", Job: trial, Title: "A new home", Apart: true,
			Lead: "What gravity and warmth of another house do to the rate, how to set the clock before it leaves so that it is right there, and what to look at on the first days.",
			Examples: []Example{
				{`--latitude 51.5° --to-latitude 55.95° --temperature '20 °C' --to-temperature '14 ± 2 °C' --rod steel`, "what a regulator with a steel rod does further north, in a cool hall"},
				{`--latitude 51.5° --to-latitude 55.95° --rate '+1 ± 0.5 s/d' --per-turn '30 ± 2 s/d' --divisions 60`, "how to set its nut before it leaves"},
			},
			Begin: begin(form.Home, home.Solve, present.Home),
			Lend:  map[string]string{"latitude": "pendulum/latitude", "height": "pendulum/height", "gravity": "pendulum/gravity", "rod": "pendulum/rod", "divisions": "pendulum/nut-divisions"},
		},
		{
			Name: "clean", Job: work, Title: "Cleaning batch", Arg: "PARTS", Apart: true,
			Lead: "Whether parts may go into a liquid: what refuses it and on whose authority, how long, what can hurt.",
			Examples: []Example{
				{`'third wheel: brass-worked, steel' --liquid brass-liquid --no-flash yes`, "a bushed wheel on its arbor in a liquid for brass"},
				{`'plate: brass' --liquid white-spirit --ultrasound yes`, "a liquid that burns and ultrasound"},
			},
			Begin: begin(form.Clean, clean.Solve, present.Clean),
		},
	}, append(toMake(), toothed()...)...)
}

// begin makes a calculation of its declaration, its sums and its document.
func begin[Q, A any](declare func(*Q) form.Form, solve func(Q) (A, error), show func(A) doc.Doc) func() Sitting {
	return func() Sitting {
		q := new(Q)
		return Sitting{
			Form: declare(q),
			Solve: func(context.Context) (Outcome, error) {
				a, err := solve(*q)
				if err != nil {
					return Outcome{}, err
				}
				return Outcome{Answer: a, Doc: show(a)}, nil
			},
		}
	}
}
