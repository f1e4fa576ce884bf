package shop

import (
	"context"
	"fmt"

	"seatboard/internal/book/job"
)

// DemoName is the invented shop of the demonstration.
const DemoName = "Quay Lane Clockroom"

// demoClock is one invented clock with what was typed in its survey.
type demoClock struct {
	clock  job.Clock
	survey map[string]map[string][]string
}

// FillDemo puts the four clocks of the demonstration into an empty shop. All
// names, makers, places and figures in it are invented. tidy lays typed
// values out as the forms do, sheet works them out as they are kept.
func (s *Shop) FillDemo(ctx context.Context, tidy func(part string, values map[string][]string) map[string][]string, sheet Worked) error {
	now := s.now().Local()
	day := func(n int) string { return now.AddDate(0, 0, n).Format("2006-01-02") }
	for i, d := range demoClocks() {
		d.clock.Number = fmt.Sprintf("%d-%03d", now.Year(), 11+i)
		d.clock.Invented = true
		if promised := []int{9, 23, 41, 3}[i]; d.clock.Promise == "" {
			d.clock.Promise = day(promised)
		}
		kept, err := s.AddClock(ctx, DemoName, d.clock)
		if err != nil {
			return err
		}
		for _, key := range []string{job.TrainPart, job.PendulumPart, job.DrivePart} {
			if values := d.survey[key]; values != nil {
				if _, err := s.SavePart(ctx, DemoName, kept.ID, key, job.Part{Values: tidy(key, values)}); err != nil {
					return err
				}
			}
		}
		if err := s.demoCondition(ctx, i, kept.ID); err != nil {
			return err
		}
		if i == 1 {
			if err := s.demoParts(ctx, kept.ID); err != nil {
				return err
			}
			if err := s.demoPhotos(ctx, kept.ID); err != nil {
				return err
			}
			if err := s.demoMaking(ctx, kept.ID, sheet); err != nil {
				return err
			}
		}
		if i == 3 {
			if err := s.demoStops(ctx, kept.ID); err != nil {
				return err
			}
			if err := s.demoOriginality(ctx, kept.ID); err != nil {
				return err
			}
			if err := s.demoStores(ctx, kept.Number); err != nil {
				return err
			}
			if err := s.demoHours(ctx, kept.Number); err != nil {
				return err
			}
			if err := s.demoEstimate(ctx, kept.ID); err != nil {
				return err
			}
		}
		if i == 0 {
			if err := s.demoTrial(ctx, kept.ID); err != nil {
				return err
			}
			if err := s.demoListening(ctx, kept.ID, d.survey[job.TrainPart]["going"][0]); err != nil {
				return err
			}
		}
	}
	return nil
}

// values makes typed values of pairs of name and text.
func values(pairs ...string) map[string][]string {
	out := map[string][]string{}
	for i := 0; i+1 < len(pairs); i += 2 {
		out[pairs[i]] = []string{pairs[i+1]}
	}
	return out
}

func demoClocks() []demoClock {
	return []demoClock{regulator(), longcase(), thirtyHour(), bracket()}
}

// regulator is the month-going wall regulator of a lifeboat station.
func regulator() demoClock {
	return demoClock{
		clock: job.Clock{
			Title: "Wall regulator, month-going", Stage: job.Trial,
			Owner: job.Owner{Name: "Skerrow Sound Lifeboat Station", Contact: "The Slip\nSkerrow Sound", Note: "Hung in the boathouse; must be right to ten seconds a week for the tide table."},
			Object: job.Object{
				Type: "clock, wall regulator", Materials: "Brass and steel movement; oak case; wood-rod pendulum with lead-filled brass bob",
				Measurements: "height 1420 mm, width 340 mm, depth 190 mm; dial 12 in", Inscriptions: "on the dial: Obed Marrable | SKERROW S[...]",
				Features: "Screw hole of an earlier seconds bit filled with lead", Place: "Skerrow Sound",
				Made:  job.Made{Text: "about 1868", From: "1860", To: "1875", Certainty: "likely"},
				Maker: job.Maker{AsRead: "Obed Marrable", Role: "maker"},
			},
			Holders: []job.Holder{{Name: "the pilots' house of Skerrow Sound", To: "1907", How: "brass plate inside the door"}},
			Pieces:  []job.Piece{{What: "weight", Count: "1", Received: true}, {What: "pendulum", Count: "1", Received: true}, {What: "crank", Count: "1", Received: true}},
		},
		survey: map[string]map[string][]string{
			job.TrainPart: values("going", "120/15 72/12 64/8 60/8 30", "going-barrel-turns", "16", "motion", "36/12 40/10"),
			job.PendulumPart: values("length", "993.9 mm ± 0.5 mm", "latitude", "54.2° N", "height", "12 m", "rod", "deal", "rod-diameter", "13 mm", "rod-length", "1060 mm",
				"bob", "lens", "bob-diameter", "180 mm", "bob-height", "42 mm", "bob-mass", "5.2 kg", "nut-pitch", "0.8 mm ± 0.01 mm", "nut-divisions", "60", "arc", "1.6°"),
			job.DrivePart: values("weight", "3.4 kg", "barrel-diameter", "38 mm", "line-diameter", "1.2 mm", "falls", "2", "line-material", "gut",
				"seat-to-floor", "1180 mm", "weight-length", "190 mm", "top-gap", "60 mm", "wound-on", "sunday"),
		},
	}
}

// longcase is the eight-day longcase clock with a lost third wheel.
func longcase() demoClock {
	return demoClock{
		clock: job.Clock{
			Title: "Longcase clock, eight-day, third wheel lost", Stage: job.Surveying,
			Owner: job.Owner{Name: "Hexmere Village Reading Room", Contact: "The Green\nHexmere", Note: "Stopped since the case was moved; the plinth moulding is in pieces in a bag."},
			Object: job.Object{
				Type: "clock, longcase", Materials: "Brass movement; painted iron dial; oak case crossbanded in mahogany",
				Measurements: "height 2110 mm, width 480 mm, depth 240 mm; dial 12 in", Inscriptions: "on the dial: E. Quillfeather | H□xmere",
				Features: "Front plinth moulding broken, two pieces wanting; replaced hood glass", Place: "Hexmere",
				Made:  job.Made{Text: "about 1795", From: "1785", To: "1805", Certainty: "likely"},
				Maker: job.Maker{AsRead: "E. Quillfeather", Role: "retailer"},
			},
			Pieces: []job.Piece{{What: "weights", Count: "2", Note: "one has a new hook", Received: true}, {What: "pendulum", Count: "1", Received: true}, {What: "crank", Count: "1", Note: "to follow"}, {What: "plinth moulding, pieces", Count: "3", Received: true}},
		},
		survey: map[string]map[string][]string{
			job.TrainPart: values("going", "96/8 60/8 ?/7 30", "going-barrel-turns", "16", "hour-arbor", "2", "strike", "78/8 56/7 48/6", "motion", "36/36 72/6"),
			job.PendulumPart: values("length", "994 mm ± 2 mm", "latitude", "52.6° N", "height", "80 m", "rod", "iron", "rod-diameter", "4 mm", "rod-length", "1080 mm",
				"bob", "lens", "bob-diameter", "110 mm", "bob-height", "30 mm", "bob-mass", "0.95 kg", "nut-pitch", "32 tpi", "arc", "2.5°"),
			job.DrivePart: values("weight", "5.4 kg ± 0.05 kg", "barrel-diameter", "50 mm", "line-diameter", "1.4 mm", "falls", "2", "line-material", "steel", "line-construction", "7x7", "barrel-material", "brass",
				"seat-to-floor", "1690 mm", "weight-length", "260 mm", "top-gap", "90 mm", "wound-on", "saturday"),
		},
	}
}

// thirtyHour is the count-wheel clock on a rope.
func thirtyHour() demoClock {
	return demoClock{
		clock: job.Clock{
			Title: "Longcase clock, thirty-hour, count wheel", Stage: job.TakingIn,
			Owner: job.Owner{Name: "A. Threlkeeld", Note: "Bought at the sale of a mill; wants it plain and honest."},
			Object: job.Object{
				Type: "clock, longcase", Inscriptions: "none seen", Measurements: "height 1980 mm, width 430 mm, depth 230 mm; dial 10 in",
				Made: job.Made{Text: "second quarter of the 18th century", From: "1725", To: "1750", Certainty: "a guess"},
			},
			Pieces: []job.Piece{{What: "weight", Count: "1", Received: true}, {What: "lead ring", Count: "1", Received: true}},
		},
		survey: map[string]map[string][]string{
			job.TrainPart: values("going", "72/6 60/6 30", "going-barrel-turns", "15", "hour-arbor", "1", "arbor-turn", "2 h", "motion", "72/12", "motion-arbor", "1"),
			job.DrivePart: values("weight", "4.1 kg", "barrel", "endless", "barrel-diameter", "42 mm", "line-diameter", "5 mm", "falls", "2",
				"seat-to-floor", "1560 mm", "weight-length", "210 mm", "top-gap", "120 mm"),
		},
	}
}

// bracket is the spring clock with a fusee.
func bracket() demoClock {
	return demoClock{
		clock: job.Clock{
			Title: "Bracket clock, fusee, verge altered to anchor", Stage: job.Work,
			Owner: job.Owner{Name: "Mrs I. Vanterpole", Contact: "by the ferry steps"},
			Object: job.Object{
				Type: "clock, bracket", Materials: "Brass movement with fusee and gut; ebonised pearwood case", Measurements: "height 395 mm, width 265 mm, depth 170 mm",
				Inscriptions: "on the back plate: Thos. Wexcombe", Features: "Back cock filled and re-cut for an anchor", Place: "unknown",
				Made:  job.Made{Text: "about 1770, altered in the 19th century", From: "1760", To: "1780", Certainty: "likely"},
				Maker: job.Maker{AsRead: "Thos. Wexcombe", Role: "maker"},
			},
			Pieces: []job.Piece{{What: "winding key", Count: "1", Received: true}},
		},
		survey: map[string]map[string][]string{
			job.TrainPart:    values("going", "96/8 84/7 78/7 30", "going-barrel-turns", "16", "motion", "40/40 72/6"),
			job.PendulumPart: values("length", "200.4 mm ± 0.5 mm", "latitude", "52.6° N", "rod", "brass", "bob", "disc", "bob-diameter", "48 mm", "bob-height", "14 mm", "bob-material", "brass", "nut-pitch", "0.5 mm", "arc", "3.5°"),
			job.DrivePart: values("spring-barrel", "52 mm", "spring-arbor", "17 mm", "spring-thickness", "0.45 mm", "spring-height", "38 mm", "spring-length", "1750 mm",
				"fusee-torque", "0 1250 N mm\n4 1130 N mm\n8 1000 N mm\n12 860 N mm\n16 720 N mm", "fusee-largest", "19 mm"),
		},
	}
}
