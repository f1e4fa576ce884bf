// Package storetest invents clocks for tests and measurements. Only tests
// import it. The names are made of parts and belong to nobody.
package storetest

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/readings"
	"seatboard/internal/craft/listen/beat"
	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// File is one invented clock with its survey.
type File struct {
	Clock  job.Clock
	Survey job.Survey
}

// The parts that names and texts are made of.
var (
	heads      = [...]string{"Ald", "Brom", "Cask", "Dun", "Ebb", "Farn", "Gris", "Hol", "Ivel", "Jarn", "Kel", "Lorm", "Møg", "Nar", "Orr", "Pryl", "Quen", "Rösk", "Stav", "Tarn"}
	tails      = [...]string{"bury", "cott", "dale", "engård", "fold", "garth", "hythe", "low", "mere", "ness", "pool", "rigg", "sund", "thwaite", "wick"}
	firsts     = [...]string{"Ada", "Bram", "Cilla", "Dirk", "Édith", "Finn", "Gerda", "Hal", "Ilse", "Jörn", "Kit", "Lotte"}
	kinds      = [...]string{"Longcase clock, eight-day", "Longcase clock, thirty-hour", "Wall regulator, month-going", "Bracket clock with fusee", "Lantern clock", "Mantel clock", "Turret clock movement"}
	woods      = [...]string{"oak", "mahogany on oak", "walnut veneer", "pine, grained", "ebonised pear"}
	damage     = [...]string{"plinth cut down by about 40 mm", "hood door glass replaced", "third wheel lost", "backboard new", "seatboard packed with card", "feet missing", "dial repainted in part"}
	trains     = [...]string{"96/8 60/8 56/7 30", "84/8 80/8 32", "78/8 64/8 60/7 30", "144/12 90/10 75/8 40"}
	pieces     = [...]string{"weights", "pendulum", "crank key", "finials", "case key", "pulleys"}
	readingsOf = [...]string{"as on the old label", "told by the owner", "bill in the trunk", "scratched on the backplate"}
)

// Invented gives n clocks that differ, the same ones for the same seed. The
// record of each says that it is invented.
func Invented(n int, seed uint64) []File {
	r := rand.New(rand.NewPCG(seed, 1))
	out := make([]File, n)
	for i := range out {
		out[i] = invent(r, i)
	}
	return out
}

func pick(r *rand.Rand, from []string) string { return from[r.IntN(len(from))] }

func surname(r *rand.Rand) string { return pick(r, heads[:]) + pick(r, tails[:]) }

func person(r *rand.Rand) string { return pick(r, firsts[:]) + " " + surname(r) }

func invent(r *rand.Rand, i int) File {
	year := 1680 + r.IntN(220)
	town := surname(r)
	maker := person(r)
	c := job.Clock{
		UID: fmt.Sprintf("%016x", r.Uint64()), Number: fmt.Sprintf("%d-%03d", 2000+i/400, 1+i%400),
		Title: pick(r, kinds[:]), Stage: job.Stages()[r.IntN(len(job.Stages()))], Invented: true,
		Owner: job.Owner{Name: person(r), Contact: fmt.Sprintf("%d Quay Lane\n%s\n+00 %06d", 1+r.IntN(90), town, r.IntN(1e6)), Note: "invented"},
		Object: job.Object{
			Type: "clock", Materials: pick(r, woods[:]) + "; brass plates, steel pinions", Measurements: fmt.Sprintf("H %d mm, W %d mm, D %d mm", 1800+r.IntN(500), 400+r.IntN(150), 200+r.IntN(80)),
			Inscriptions: maker + " | " + strings.ToUpper(town) + " □" + fmt.Sprint(r.IntN(900)),
			Made:         job.Made{Text: fmt.Sprintf("about %d", year), From: fmt.Sprint(year - 10), To: fmt.Sprint(year + 10), Certainty: "likely"},
			Maker:        job.Maker{AsRead: maker, Role: "maker"},
			Features:     pick(r, damage[:]) + "; " + pick(r, damage[:]),
			Description:  fmt.Sprintf("An invented clock with a %d inch dial from a house in %s. %s. It came with its %s and has not run since it was moved.", 10+r.IntN(4), town, pick(r, damage[:]), pick(r, pieces[:])),
			Place:        town, Documented: "2026-02-03",
		},
	}
	if r.IntN(4) == 0 {
		c.Promise = time.Date(2026, 1, 1+r.IntN(500), 0, 0, 0, 0, time.UTC).Format(time.DateOnly)
	}
	for range r.IntN(3) {
		from := year + r.IntN(60)
		c.Holders = append(c.Holders, job.Holder{Name: person(r), From: fmt.Sprint(from), To: fmt.Sprint(from + 30), How: pick(r, readingsOf[:])})
	}
	for range 1 + r.IntN(3) {
		c.Pieces = append(c.Pieces, job.Piece{What: pick(r, pieces[:]), Count: fmt.Sprint(1 + r.IntN(3)), Received: r.IntN(2) == 0})
	}
	return File{Clock: c, Survey: job.Survey{
		job.TrainPart: {Values: map[string][]string{"train": {pick(r, trains[:])}, "note": {pick(r, damage[:])}}},
		job.DrivePart: {Values: map[string][]string{"mass": {fmt.Sprintf("%.1f kg", 3+8*r.Float64())}, "fall": {"1,45 m"}}},
	}}
}

// Fill puts n invented clocks into a store, some hundred in one change.
func Fill(ctx context.Context, s *store.Store, n int, seed uint64) error {
	const batch = 500
	files := Invented(n, seed)
	for len(files) > 0 {
		now := files[:min(batch, len(files))]
		files = files[len(now):]
		err := s.Update(ctx, "generator", func(tx *store.Tx) error {
			for _, f := range now {
				if err := add(tx, f); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}

func add(tx *store.Tx, f File) error {
	c, err := tx.AddClock(f.Clock)
	if err != nil {
		return err
	}
	for _, key := range f.Survey.Keys() {
		if _, err := tx.SavePart(c.ID, key, f.Survey[key]); err != nil {
			return err
		}
	}
	return nil
}

// Listening invents a stretch of listening of n beats, the same one for the
// same seed. It belongs to no clock yet.
func Listening(n int, seed uint64) readings.Listening {
	r := rand.New(rand.NewPCG(seed, 2))
	l := readings.Listening{
		UID: fmt.Sprintf("%016x", r.Uint64()), Started: time.Date(2026, 11, 25, 10, 31, 0, 0, time.UTC), How: readings.ByHost,
		Length: unit.Duration(n + 1), Source: pick(r, heads[:]) + ".wav", Path: readings.File, Settings: `{"sampleRate":48000}`, Rate: 48000,
		Clock: sampleclock.Unknown(), Verdict: beat.Regular, Answer: `{"complete":true}`, Program: "invented", Note: pick(r, readingsOf[:]), By: person(r),
		Gist:  readings.Gist{Mean: meas.Around(unit.Rate(1e-4*r.NormFloat64()), 1e-6, 2), First: "invented"},
		Count: n, Finished: true, Beats: []beat.Beat{},
	}
	for i := range n {
		at := math.Round((float64(i)+0.004*float64(i%2)+1e-4*r.NormFloat64())*1e9) / 1e9
		l.Beats = append(l.Beats, beat.Beat{At: unit.Duration(at), U: unit.Duration(math.Round(500+50*r.NormFloat64()) / 1e9), N: int64(i)})
	}
	return l
}

// FillListenings keeps an invented listening with each of the first n clocks
// of Fill, the i-th made with seed + i, and a calibration of the device
// "invented".
func FillListenings(ctx context.Context, s *store.Store, n int, seed uint64) error {
	return s.Update(ctx, "generator", func(tx *store.Tx) error {
		for i, f := range Invented(n, seed) {
			c, err := tx.ClockByUID(f.Clock.UID)
			if err != nil {
				return err
			}
			l := Listening(100, seed+uint64(i))
			l.ClockID = c.ID
			if _, err := tx.AddListening(l); err != nil {
				return err
			}
		}
		_, err := tx.SetCalibration(readings.Calibration{Device: "invented", Clock: sampleclock.Clock{Error: 12e-6, Limit: 1e-6, How: sampleclock.Calibrated}, Length: 3600, By: "generator"})
		return err
	})
}
