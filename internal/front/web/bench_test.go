package web

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"testing"
	"time"

	"seatboard/internal/book/job"
	"seatboard/internal/book/ledger"
	"seatboard/internal/book/parts"
	"seatboard/internal/book/picture"
	"seatboard/internal/book/trial"
	"seatboard/internal/craft/clean"
	"seatboard/internal/craft/regulate"
	"seatboard/internal/io/store"
	"seatboard/internal/io/store/storetest"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
	"seatboard/internal/shop"
)

// BenchmarkBenchPages measures pages of a shop of 10,000 clocks, one of them
// with 500 parts, 1,000 photographs and four baths under way, forty of them
// read for three weeks on trial. The goal is
// 30 ms at the 95th percentile; a write in between makes nothing slow.
//
//	go test ./internal/front/web -run '^$' -bench BenchPages -benchtime 200x
func BenchmarkBenchPages(b *testing.B) {
	sh, v := benchShop(b)
	pages := []string{"/", "/clocks/1", "/clocks/1/parts", "/clocks/1/photos", "/clocks/1/baths", "/clocks/1/close-out", "/clocks?stage=work", "/alarm.json"}
	for _, written := range []bool{false, true} {
		for _, path := range pages {
			name := path
			if written {
				name += "/after-a-write"
			}
			b.Run(name, func(b *testing.B) {
				var took []time.Duration
				for b.Loop() {
					if written {
						if err := sh.ExplainParts(b.Context(), "bench", 1, map[parts.Number]string{"499": "look " + strconv.Itoa(len(took)) + time.Now().String()}); err != nil {
							b.Fatal(err)
						}
					}
					begin := time.Now()
					if v.get(path); v.status != 200 {
						b.Fatal(path, v.status)
					}
					took = append(took, time.Since(begin))
				}
				slices.Sort(took)
				b.ReportMetric(float64(took[len(took)/2].Microseconds())/1000, "median-ms")
				b.ReportMetric(float64(took[len(took)*95/100].Microseconds())/1000, "p95-ms")
			})
		}
	}
}

// benchShop makes the shop and a visitor.
func benchShop(b *testing.B) (*shop.Shop, *visit) {
	b.Helper()
	dir := b.TempDir()
	st, err := store.Open(b.Context(), dir, store.Options{})
	if err != nil {
		b.Fatal(err)
	}
	err = storetest.Fill(b.Context(), st, 10_000, 1)
	if err == nil {
		err = st.Update(b.Context(), "bench", func(tx *store.Tx) error {
			for i := 1; i <= 1000; i++ {
				p := picture.Photo{UID: fmt.Sprintf("%016x", i), SHA256: fmt.Sprintf("%064x", i), Size: 4e6, Kind: picture.JPEG, Name: "x.jpg",
					Width: 4000, Height: 3000, Small: picture.Made, ClockID: 1, Parts: []parts.Number{parts.Number(strconv.Itoa(1 + i/2))}}
				if _, err := tx.AddPhoto(p); err != nil {
					return err
				}
			}
			return nil
		})
	}
	if err := errors.Join(err, st.Close()); err != nil {
		b.Fatal(err)
	}
	sh, err := shop.Open(b.Context(), dir, time.Now)
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { sh.Close() })
	_, err = sh.ChangeParts(b.Context(), "bench", 1, "", func(l *parts.Ledger, head ledger.Entry) ([]parts.Event, meas.Faults) {
		var out []parts.Event
		for i := range 500 {
			d := parts.Detail{Name: fmt.Sprintf("piece %d", i), Place: "tray 1", Made: []clean.Material{clean.Brass}}
			e, f := l.Add(parts.Event{Entry: head, Kind: parts.Recorded, To: parts.Off, Count: 1, Detail: &d})
			if len(f) > 0 {
				return nil, f
			}
			out = append(out, e)
		}
		return out, nil
	})
	if err != nil {
		b.Fatal(err)
	}
	for i := range 4 {
		if _, _, err := sh.BeginBath(b.Context(), "bench", 1, shop.BathAsk{Jar: strconv.Itoa(i), Parts: []parts.Number{parts.Number(strconv.Itoa(i + 1))}, Query: clean.Query{Liquid: clean.WaterBath}}); err != nil {
			b.Fatal(err)
		}
	}
	putOnTrial(b, sh, 40)
	return sh, visitShop(b, sh, false)
}

// putOnTrial has n of the clocks at that stage read morning and evening for
// three weeks, in the second week of their first gate.
func putOnTrial(b *testing.B, sh *shop.Shop, n int) {
	b.Helper()
	l, err := sh.FindStage(b.Context(), job.Trial, "")
	if err != nil || len(l.Clocks) < n {
		b.Fatalf("%d clocks on trial: %v", len(l.Clocks), err)
	}
	for i, c := range l.Clocks[:n] {
		events := []trial.Event{trial.OfAim(trial.DefaultAim()), trial.OfGate(trial.Began, "stand", "")}
		events[1].At = time.Now().AddDate(0, 0, -9)
		for half := range 42 {
			fast := float64(half) * (float64(i)/4 - 5)
			events = append(events, trial.OfReadings(nil, "", regulate.Reading{At: time.Now().Add(time.Duration(half-42) * 12 * time.Hour), How: regulate.ByHand, Error: unit.Duration(fast), U: 0.5}))
		}
		if _, err := sh.AddTrial(b.Context(), "bench", c.ID, 0, events...); err != nil {
			b.Fatal(err)
		}
	}
}
